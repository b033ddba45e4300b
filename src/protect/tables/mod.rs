//! The tables of protection, each with id, source, range and content hash.

pub mod extra_low_voltage;
pub mod power_limits;
pub mod voltage_conditions;

use crate::cable::tables::Table;

/// Every table of this room, in order of id.
#[must_use]
pub fn all() -> Vec<Table> {
    vec![
        extra_low_voltage::TABLE,
        power_limits::TABLE,
        voltage_conditions::TABLE,
    ]
}
