//! DMX512-A: packets, addresses, chains, the signal on the line, levels and pixels.
//!
//! Data faults show somewhere other than where they are, so they are sought on
//! paper: [`timing`] says how long a packet lasts, [`address`] who listens to
//! which slots, [`chain`] what the published rules and the trade's habits say
//! about the line, [`signal`] what every device sees,
//! [`levels`] what a level asks for, [`pixels`] how fast a string of pixels is and
//! [`sacn`] how a universe goes over Ethernet.
//!
//! ANSI E1.11, ANSI E1.31 and TIA-485-A are copyrighted texts; the figures here
//! were taken from documents that quote them, and clause numbers that could not
//! be read say so.

pub mod address;
pub mod chain;
pub mod levels;
pub mod pixels;
pub mod sacn;
pub mod signal;
mod sources;
pub mod timing;
