//! The device room.
