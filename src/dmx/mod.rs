//! DMX512 on paper: how long a packet takes, which addresses a device gets, whether a chain keeps
//! the rules.
//!
//! ```text
//! packet   |— break —|mark| start code | slot 1 | slot 2 | … 11 bits of 4 µs each
//! universe |1 ……………… 512|   a device's slots lie in one universe, one after the other
//! chain    source ══ device ══ device ══ device ═[terminator]
//! ```
//!
//! What the standard asks for and what the trade keeps to are judged apart, each finding with
//! its own source. Cable length is no matter of ANSI E1.11, which leaves cable out of its scope.

pub mod address;
pub mod chain;
pub mod timing;
