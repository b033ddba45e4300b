//! The supply room.
