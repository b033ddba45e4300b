//! The electrical side of a DMX512 line: what EIA-485 asks of drivers, receivers and their loads.
//!
//! ```text
//! unit load        12 kΩ from each line to common: 24 kΩ across the pair
//! load of a pair   Rt1 || Rt2 || 24 kΩ/n                 60 || 750 = 55.6 Ω, which the 54 Ω test stands for
//! driver           Rs = 54 Ω (V_open/V_54 − 1)           Thevenin through its two published points
//! margin           |V| − 0.2 V, or 20 lg(|V|/0.2 V)
//! ```
//!
//! Figures of TIA-485-A as quoted by application notes and data sheets; where two of
//! them differ on the loaded driver (5 V, 6 V) the lower stands here.

use super::sources::{EIA485_DRIVER, EIA485_EDGE};
use crate::device::UnitLoads;
use crate::finding::{Case, Finding, Rule, Subject};
use crate::quantity::{ElectricPotential, ElectricalResistance, Time, ohms, seconds, volts};

/// Output of a driver without load, magnitude, V (TIA-485-A 4.2.1).
pub const OPEN_VOLTS: [f64; 2] = [1.5, 6.0];
/// Output of a driver on [`TEST_LOAD_OHMS`], magnitude, V (TIA-485-A 4.2.2).
pub const LOADED_VOLTS: [f64; 2] = [1.5, 5.0];
/// Load of that test, Ω; it stands for 32 unit loads and two terminators, 55.6 Ω.
pub const TEST_LOAD_OHMS: f64 = 54.0;
/// Common-mode volts of a driver on the test load (TIA-485-A 4.2.2).
pub const OFFSET_VOLTS: [f64; 2] = [-1.0, 3.0];
/// Most current of a driver into −7 to +12 V, A (TIA-485-A 4.2.5).
pub const SHORT_CIRCUIT_AMPS: f64 = 0.25;
/// Longest edge of a driver, as a share of a bit (TIA-485-A 4.2.7).
pub const EDGE_SHARE: f64 = 0.3;
/// Volts from which on a receiver decides: above a mark, below the negative a space (TIA-485-A 4.3.2).
pub const THRESHOLD_VOLTS: f64 = 0.2;
/// Common-mode volts that a receiver takes (TIA-485-A 4.3.1).
pub const COMMON_MODE_VOLTS: [f64; 2] = [-7.0, 12.0];
/// Resistance of one unit load from each line to common, Ω (TIA-485-A 4.1.1).
pub const UNIT_LOAD_OHMS: f64 = 12_000.0;
/// Current of one unit load at −7 V and at +12 V, A (TIA-485-A 4.1.1).
pub const UNIT_LOAD_AMPS: [f64; 2] = [-0.8e-3, 1.0e-3];
/// Unit loads of one driver (TIA-485-A 4.5.3).
pub const MOST_UNIT_LOADS: u64 = 32;
/// Terminator of a DMX512 line, Ω (ANSI E1.11, data link termination).
pub const TERMINATOR_OHMS: f64 = 120.0;
/// Wave impedance of a cable for it, Ω; the upper one is preferred.
pub const CABLE_OHMS: [f64; 2] = [100.0, 120.0];
/// Most capacitance of such a cable between the conductors of a pair, and from one to the shield, F/m.
pub const CABLE_FARADS_PER_METRE: [f64; 2] = [65e-12, 115e-12];
/// Least idle volts of the port of an RDM controller (ANSI E1.20, quoted).
pub const RDM_IDLE_VOLTS: f64 = 0.245;

/// What a receiver is to the line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Input {
    /// Resistance from each line to common.
    pub resistance: ElectricalResistance,
    /// Resistance across the pair.
    pub across: ElectricalResistance,
    /// Most current into a line at −7 V and at +12 V, A.
    pub amps: [f64; 2],
    /// How many of it are 32 unit loads.
    pub most: u32,
}

/// The input of a receiver of some unit loads.
///
/// ```
/// let eighth = evenrun::dmx::electrical::input("1/8".parse().unwrap());
/// assert_eq!((eighth.resistance.value, eighth.most), (96_000.0, 256));
/// ```
#[must_use]
pub fn input(load: UnitLoads) -> Input {
    let whole = u64::from(UnitLoads::ONE.ten_thousandths());
    let own = u64::from(load.ten_thousandths());
    let share = own as f64 / whole as f64;
    Input {
        resistance: ohms(UNIT_LOAD_OHMS / share),
        across: ohms(2.0 * UNIT_LOAD_OHMS / share),
        amps: UNIT_LOAD_AMPS.map(|amps| amps * share),
        most: u32::try_from(MOST_UNIT_LOADS * whole / own.max(1)).unwrap_or(u32::MAX),
    }
}

/// Resistance that a driver sees across the pair: terminators and receivers side by side; infinite without any.
#[must_use]
pub fn pair_load(terminators: &[ElectricalResistance], unit_loads: f64) -> ElectricalResistance {
    ohms(1.0 / pair_conductance(terminators, unit_loads))
}

/// The same as a conductance, S.
pub(super) fn pair_conductance(terminators: &[ElectricalResistance], unit_loads: f64) -> f64 {
    let ends: f64 = terminators.iter().map(|end| 1.0 / end.value).sum();
    ends + unit_loads / (2.0 * UNIT_LOAD_OHMS)
}

/// Volts over the threshold of a receiver, and decibels over it.
#[must_use]
pub fn margin(seen: ElectricPotential) -> (ElectricPotential, f64) {
    let seen = seen.value.abs();
    (
        volts(seen - THRESHOLD_VOLTS),
        20.0 * libm::log10(seen / THRESHOLD_VOLTS),
    )
}

/// The longest edge that suits a bit: 1.2 µs at 250 kbit/s.
#[must_use]
pub fn longest_edge(bit: Time) -> Time {
    seconds(EDGE_SHARE * bit.value)
}

/// The shortest bit that an edge suits.
#[must_use]
pub fn shortest_bit(edge: Time) -> Time {
    seconds(edge.value / EDGE_SHARE)
}

/// A driver by the figures of its sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Driver {
    /// Output without load.
    pub open: ElectricPotential,
    /// Output on 54 Ω.
    pub loaded: ElectricPotential,
    /// Length of an edge, from level to level.
    pub edge: Time,
}

impl Driver {
    /// A driver of these volts without load and on 54 Ω, and an edge of this length.
    #[must_use]
    pub fn new(open: ElectricPotential, loaded: ElectricPotential, edge: Time) -> Self {
        Self { open, loaded, edge }
    }

    /// The resistance behind its output: `54 Ω (V_open/V_54 − 1)`.
    #[must_use]
    pub fn source_resistance(&self) -> ElectricalResistance {
        ohms(TEST_LOAD_OHMS * (self.open.value / self.loaded.value - 1.0))
    }

    /// Its volts on a load.
    #[must_use]
    pub fn volts_on(&self, load: ElectricalResistance) -> ElectricPotential {
        // As a conductance, so that an infinite load leaves the open volts.
        volts(self.open.value / (1.0 + self.source_resistance().value / load.value))
    }

    /// Judges output and edge for a line of 250 kbit/s.
    #[must_use]
    pub fn judge(&self, about: &Subject) -> Vec<Finding> {
        let within = |rule: &Rule, case, found: ElectricPotential, limits: [f64; 2]| {
            let limits = limits.map(|limit| volts(limit).into());
            rule.within(case, about.clone(), volts(found.value.abs()), limits)
        };
        let longest = longest_edge(seconds(super::timing::BIT_SECONDS));
        vec![
            within(&DRIVER_OPEN, &OPEN, self.open, OPEN_VOLTS),
            within(&DRIVER_LOADED, &LOADED, self.loaded, LOADED_VOLTS),
            DRIVER_EDGE.at_most(&EDGE, about.clone(), self.edge, longest),
        ]
    }
}

/// Words of the volts of a driver.
const fn gives(key: &'static str, says: &'static str) -> Case {
    Case::judged(key, says)
        .figure("{figure:.2} V")
        .limit("{least:*} to {most:* V}")
        .remedy("use a driver for EIA-485")
}
const OPEN: Case = gives("open", "a driver of {figure:.2} V without load");
const LOADED: Case = gives("loaded", "a driver of {figure:.2} V into 54 Ω");
const EDGE: Case = Case::judged("edge", "an edge of {figure:.2 µs}")
    .figure("{figure:.2 µs}")
    .limit("at most {limit:.2 µs}, 0.3 of a bit")
    .remedy("use a driver made for 250 kbit/s or faster");

pub(super) const DRIVER_OPEN: Rule = Rule {
    id: "driver-open",
    title: "Driver without load",
    asks: "Does a driver without load give 1.5 to 6 V?",
    source: EIA485_DRIVER,
    needs: &[],
    cases: &[&OPEN],
};
pub(super) const DRIVER_LOADED: Rule = Rule {
    id: "driver-loaded",
    title: "Driver on its test load",
    asks: "Does a driver give 1.5 V to 5 V into 54 Ω?",
    source: EIA485_DRIVER,
    needs: &[],
    cases: &[&LOADED],
};
pub(super) const DRIVER_EDGE: Rule = Rule {
    id: "driver-edge",
    title: "Edge of a driver",
    asks: "Is the edge of a driver within 0.3 of a bit at 250 kbit/s?",
    source: EIA485_EDGE,
    needs: &[],
    cases: &[&EDGE],
};
