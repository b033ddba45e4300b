//! The job room.
