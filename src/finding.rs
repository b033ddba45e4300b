//! The finding room.
