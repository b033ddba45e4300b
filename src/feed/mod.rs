//! The feed room.
