//! DMX512-A: packets, addresses, chains, the signal on the line, levels and pixels.
//!
//! Data faults show somewhere other than where they are, so they are sought on
//! paper: [`timing`] says how long a packet lasts, [`address`] who listens to
//! which slots, [`chain`] what the published rules and the trade's habits say
//! about the line, [`signal`] what every device sees, [`mod@line`] the same in closed form,
//! [`electrical`] and [`bias`] what drives and holds it, [`connector`] which contact is
//! which, [`start_code`] and [`rdm`] what else than levels it carries, [`levels`]
//! what a level asks for, [`pixels`] how fast a string of pixels is and [`sacn`] how a
//! universe goes over Ethernet.
//!
//! Nothing here checks levels on their way: a packet of levels carries no check sum, so DMX512 is
//! not for what can hurt (ANSI E1.11-2008, clauses 1.3 and 1.5, quoted by another document).
//!
//! ANSI E1.11, ANSI E1.31 and TIA-485-A are copyrighted texts; the figures here are
//! those that other documents quote from them, and their sources say so.

pub mod address;
pub mod bias;
pub mod chain;
pub mod connector;
pub mod electrical;
pub mod levels;
pub mod line;
pub mod pixels;
pub mod rdm;
mod rules;
pub mod sacn;
pub mod signal;
pub(crate) mod sources;
pub mod start_code;
pub mod timing;

pub use rules::{
    ADDRESS_RULES, CHAIN_RULES, LINE_RULES, PACKET_RULES, PIXEL_RULES, RULES, SIGNAL_RULES,
};
