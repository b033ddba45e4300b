//! The layout room.
