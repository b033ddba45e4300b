//! The report room.
