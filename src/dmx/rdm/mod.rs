//! RDM: answers on the pair of the data (ANSI E1.20).
//!
//! A controller asks between two packets of levels, lets go of the line, and waits; one
//! device answers. So both ends are terminated, one bias holds the idle line, and
//! splitters turn round: see [`chain`](super::chain) and [`bias`](super::bias). Here is
//! how long an exchange lasts, what it costs in refresh, and whether an answer that
//! comes through splitters is still waited for.
//!
//! ```
//! use evenrun::dmx::rdm::Exchange;
//! use evenrun::dmx::timing::{PacketSpec, Role};
//! use evenrun::quantity::seconds;
//! let exchange = Exchange { asked: 0, answered: 19, after: seconds(2e-3) };
//! let full = PacketSpec::shortest(512, Role::Transmitter).check().unwrap();
//! let rate = exchange.refresh_beside(&full).unwrap();
//! assert!((rate.value - 35.05328099).abs() < 1e-8);
//! ```
//!
//! Figures as quoted by a public implementation that names pages 9 to 11 of the standard. What an
//! in-line device delays and takes off the break is not: state it.

pub(super) mod timing;
mod uid;

pub use timing::{
    AFTER_DISCOVERY_SECONDS, AFTER_LOST_SECONDS, ANSWER_SECONDS, BREAK_SECONDS, DISCOVERY_SLOTS,
    Exchange, IDLE_SECONDS, MARK_SECONDS, MOST_IN_LINE, MOST_OCTETS, MOST_SUB_DEVICES,
    PacketTooLong, SLOTS, SPACING_SECONDS, SUB_START_CODE, WAIT_SECONDS, discovery_answer,
    judge_answer, judge_packet, packet,
};
pub use uid::{Uid, UidError};
