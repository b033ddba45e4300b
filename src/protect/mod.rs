//! The protect room.
