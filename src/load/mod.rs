//! The load room.
