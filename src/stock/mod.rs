//! The stock room.
