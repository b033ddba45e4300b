//! The dmx room.
