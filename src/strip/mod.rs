//! The strip room.
