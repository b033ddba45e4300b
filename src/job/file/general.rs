//! Limits and costs of the whole job.

use super::table::Table;
use crate::job::spec::{Costs, LimitsSpec};

/// `[limits]`: what is stated.
pub(super) fn limits(table: Option<Table<'_>>) -> LimitsSpec {
    let Some(table) = table else {
        return LimitsSpec::default();
    };
    let limits = LimitsSpec {
        least_current: table.maybe_measured("least_current"),
        visible_step: table.maybe_bound("visible_step"),
        balance: table.maybe_bound("balance"),
        voltage_drop: table.maybe_bound("voltage_drop"),
        connector_current: table.maybe_bound("connector_current"),
        core_current: table.maybe_bound("core_current"),
        load_factor: table.maybe_measured("load_factor"),
        conductor_hot: table.maybe_measured("conductor_hot"),
        conductor_nominal: table.maybe_measured("conductor_nominal"),
        conductor_cold: table.maybe_measured("conductor_cold"),
        cell_cold: table.maybe_measured("cell_cold"),
        cell_nominal: table.maybe_measured("cell_nominal"),
        cell_hot: table.maybe_measured("cell_hot"),
        rail_tolerance: table.maybe_measured("rail_tolerance"),
        current_tolerance: table.maybe_measured("current_tolerance"),
        cable_tolerance: table.maybe_measured("cable_tolerance"),
        current_margin: table.maybe_measured("current_margin"),
        site_tolerance: table.maybe_length("site_tolerance"),
        slack: table.maybe_length("slack"),
        chopped_feeder: table.maybe_length_bound("chopped_feeder"),
        chain_devices: table
            .maybe_count("chain_devices", 1..=512)
            .map(|count| count as u32),
        chain_length: table.maybe_length("chain_length"),
        spare_tape: table.maybe_measured("spare_tape"),
    };
    table.done();
    limits
}

/// `[costs]`.
pub(super) fn costs(table: Option<Table<'_>>) -> Costs {
    let Some(table) = table else {
        return Costs::default();
    };
    let costs = Costs {
        segment: table.price("segment_minor").unwrap_or(0),
        feed: table.price("feed_minor").unwrap_or(0),
        cut: table.price("break_minor").unwrap_or(0),
    };
    table.done();
    costs
}
