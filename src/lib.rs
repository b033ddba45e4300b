//! Engineering of linear LED lighting.
#![forbid(unsafe_code)]
#![warn(missing_docs)]

pub mod exact;
pub mod finding;
pub mod quantity;
pub mod source;

pub mod cable;
pub mod device;
pub mod load;
pub mod strip;

pub mod network;

pub mod dmx;
pub mod feed;
pub mod layout;
pub mod protect;
pub mod stock;
pub mod supply;

pub mod job;
pub mod report;
