//! The source room.
