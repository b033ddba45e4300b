//! The cable room.
