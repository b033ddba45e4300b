//! The network room.
