//! Every rule of this room, in the order in which they are judged.

use super::{conductor_rules, fault_rules, fuse, joined_rules, label_rules, profile, voltage};
use crate::finding::Rule;

/// Every rule that [`Protection::judge`](super::Protection::judge) asks.
pub const RULES: &[&Rule] = &[
    &label_rules::NAMEPLATE,
    &label_rules::NAMEPLATE_POWER,
    &label_rules::SHORT_CIRCUIT,
    &joined_rules::ALONE,
    &joined_rules::PARALLELED,
    &joined_rules::STAYS_LIVE,
    &label_rules::SHOCK,
    &label_rules::ENERGY_CLASS,
    &voltage::CLASS_2,
    &conductor_rules::LOAD,
    &conductor_rules::DEVICE_LOAD,
    &conductor_rules::DEVICE_SIZE,
    &conductor_rules::PROTECTED,
    &fault_rules::FAULT,
    &fault_rules::BREAKING,
    &fault_rules::DC_VOLTAGE,
    &conductor_rules::FEED_LOST,
    &profile::PLUS,
    &profile::RETURN,
];

/// A rule that stands on a function of its own: [`propose`](super::propose).
pub const RULES_ON_REQUEST: &[&Rule] = &[&fuse::PROPOSAL];
