//! Limits and costs of the whole job.

use super::table::Table;
use crate::job::spec::{Costs, Limits};
use crate::quantity::Corners;
use crate::quantity::ThermodynamicTemperature;

/// `[limits]`: what is stated, the rest as [`Limits::default`].
pub(super) fn limits(table: Option<Table<'_>>) -> Limits {
    let silent = Limits::default();
    let Some(table) = table else {
        return silent;
    };
    let temperature = |key, silent: ThermodynamicTemperature| -> ThermodynamicTemperature {
        table.maybe_measured(key).unwrap_or(silent)
    };
    let limits = Limits {
        least_current: table
            .maybe_measured("least_current")
            .unwrap_or(silent.least_current),
        visible_step: table.limit("visible_step", silent.visible_step),
        balance: table.limit("balance", silent.balance),
        voltage_drop: table.limit("voltage_drop", silent.voltage_drop),
        connector_current: table.limit("connector_current", silent.connector_current),
        core_current: table.limit("core_current", silent.core_current),
        load_factor: table
            .maybe_measured("load_factor")
            .unwrap_or(silent.load_factor),
        conductor: Corners {
            low: temperature("conductor_hot", silent.conductor.low),
            nominal: temperature("conductor_nominal", silent.conductor.nominal),
            high: temperature("conductor_cold", silent.conductor.high),
        },
        cell: Corners {
            low: temperature("cell_cold", silent.cell.low),
            nominal: temperature("cell_nominal", silent.cell.nominal),
            high: temperature("cell_hot", silent.cell.high),
        },
        rail_tolerance: table
            .maybe_measured("rail_tolerance")
            .unwrap_or(silent.rail_tolerance),
        current_tolerance: table
            .maybe_measured("current_tolerance")
            .unwrap_or(silent.current_tolerance),
        site_tolerance: table.length_or("site_tolerance", silent.site_tolerance),
        slack: table.length_or("slack", silent.slack),
        chopped_feeder: table.length_limit("chopped_feeder", silent.chopped_feeder),
        chain_devices: table
            .maybe_count("chain_devices", 1..=512)
            .map_or(silent.chain_devices, |count| count as u32),
        chain_length: table.length_or("chain_length", silent.chain_length),
        spare_tape: table
            .maybe_measured("spare_tape")
            .unwrap_or(silent.spare_tape),
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
