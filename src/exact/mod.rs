//! The exact room.
