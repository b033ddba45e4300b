//! Every rule of the data line, in the order in which they are judged and printed.

use super::chain::{answers, branches, ends, ground, habits, idle, isolation, length, load, plugs};
use super::line::stub;
use super::pixels::one_wire;
use super::timing::{judge, test_packet};
use super::{address, electrical, rdm, signal};
use crate::finding::Rule;

/// Every rule of this room, by subject.
pub const RULES: [&[&Rule]; 6] = [
    ADDRESS_RULES,
    CHAIN_RULES,
    SIGNAL_RULES,
    LINE_RULES,
    PACKET_RULES,
    PIXEL_RULES,
];

/// Addresses: answered while they are given.
pub const ADDRESS_RULES: &[&Rule] = &[
    &address::judge::OVERRUN,
    &address::judge::CLASH,
    &address::judge::NONE_FREE,
];

/// A chain, link by link: [`Chain::judge`](super::chain::Chain::judge).
pub const CHAIN_RULES: &[&Rule] = &[
    &load::UNIT_LOADS,
    &habits::DEVICES_HABIT,
    &habits::LENGTH_HABIT,
    &length::LENGTH,
    &length::LENGTH_OUTER,
    &length::RESISTANCE,
    &length::CABLE,
    &branches::SPLIT,
    &branches::SPLIT_HABIT,
    &branches::STUB,
    &ends::TERMINATOR,
    &ends::TERMINATOR_EXTRA,
    &ends::TERMINATOR_PORT,
    &isolation::ISOLATION,
    &answers::RDM_SPLITTERS,
    &answers::RDM_PASS,
    &idle::BIAS,
    &idle::BIAS_FAR,
    &idle::BIAS_LOAD,
    &idle::TERMINATOR_NEAR,
    &plugs::CONNECTOR,
    &plugs::CONNECTOR_KIND,
    &ground::GROUND_OFFSET,
    &load::SPLITTER_OUTPUTS,
];

/// The signal at every device: of a design, or of a chain by itself
/// ([`Signal::judge`](super::signal::Signal::judge)).
pub const SIGNAL_RULES: &[&Rule] = &[&signal::result::SIGNAL_MARGIN];

/// The stubs and the driver of a line.
pub const LINE_RULES: &[&Rule] = &[
    &stub::ONE_WAY,
    &stub::ROUND_TRIP,
    &electrical::DRIVER_OPEN,
    &electrical::DRIVER_LOADED,
    &electrical::DRIVER_EDGE,
];

/// Times of packets.
pub const PACKET_RULES: &[&Rule] = &[
    &judge::BREAK,
    &judge::MARK,
    &judge::MARK_BELOW,
    &judge::IDLE,
    &judge::MARK_BEFORE_BREAK,
    &judge::BREAK_TO_BREAK,
    &judge::BIT_RATE_RULE,
    &test_packet::TEST_SLOTS,
    &test_packet::TEST_BREAK,
    &test_packet::TEST_MARK,
    &test_packet::TEST_BEFORE,
    &test_packet::TEST_WHOLE,
    &rdm::timing::RDM_BREAK,
    &rdm::timing::RDM_MARK,
    &rdm::timing::RDM_ANSWER,
];

/// Times of pixel data.
pub const PIXEL_RULES: &[&Rule] = &[
    &one_wire::ZERO,
    &one_wire::ONE,
    &one_wire::WHOLE,
    &one_wire::REST,
];
