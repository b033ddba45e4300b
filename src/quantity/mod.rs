//! The quantity room.
