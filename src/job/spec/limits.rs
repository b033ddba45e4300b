//! What must hold, and the corners of tolerance at which it must.

use super::LimitKey;
use crate::exact::ExactLength;
use crate::quantity::Corners;
use crate::quantity::{ElectricCurrent, Ratio, ThermodynamicTemperature, celsius, percent};
use std::collections::BTreeSet;

/// Limits of the whole job as they hold: what the job states, and [`Limits::default`] where it is silent.
/// [`Limits::is_assumed`] tells which is which, and [`LimitKey::source`] where the value taken then comes from.
///
/// | field | taken when silent | source |
/// | --- | --- | --- |
/// | `least_current` | 65 % | common practice, at its corner: a 24 V tape is held to give its rated light while 23 V reach it. Its ballasted strings then draw about 84 % of nominal; at the low corner, where the limit is judged, the same feeding leaves 65 %, as the tape lies 10 % below its rating, its cells are at 15 °C and its supply 1 % low |
/// | `visible_step` | 10 % | common practice |
/// | `balance`, `voltage_drop`, `connector_current`, `core_current` | no limit | |
/// | `load_factor` | 80 % | common practice |
/// | `conductor` hot, nominal, cold | 75 °C, 30 °C, 20 °C | temperatures to which NFPA 70-2023 chapter 9 table 8, IEC 60364-5-52:2009 table B.52.14 (ambient in air with factor 1) and IEC 60228:2004 refer their figures |
/// | `cell` cold, nominal, hot | 15 °C, 45 °C, 70 °C | assumption of this library: indoor tape in a profile |
/// | `rail_tolerance` | 10 % | assumption of this library |
/// | `current_tolerance` | 10 % | IEC 62717: power of a module at most 10 % above its rating, flux at most 10 % below |
/// | `cable_tolerance` | 10 % | assumption of this library: the maxima of IEC 60228 lie 4 % to 12 % (class 2) and 11 % to 16 % (class 5) above annealed copper of the nominal area |
/// | `current_margin` | 2 % | assumption of this library |
/// | `site_tolerance` | none | |
/// | `slack` | 300 mm a cable | common practice |
/// | `chopped_feeder` | 25 ft | common practice |
/// | `chain_devices`, `chain_length` | 20 devices, 300 ft | common practice, more careful than the standards |
/// | `spare_tape` | 5 % | common practice |
#[derive(Debug, Clone, PartialEq)]
pub struct Limits {
    /// Least current of any lit cell at the low corner, relative to its nominal at rated voltage.
    pub least_current: Ratio,
    /// Greatest step of relative current beside a joint that is seen; none: not judged.
    pub visible_step: Option<Ratio>,
    /// Greatest departure from even balance between emitters lit together; none: not judged.
    pub balance: Option<Ratio>,
    /// Greatest drop from the terminals of the supply to any cell, as a share of the rated voltage; none: brightness decides.
    pub voltage_drop: Option<Ratio>,
    /// Whether the job states it, were it to lift it: else the 5 % of IEC 60364-7-715 are asked about where they are exceeded.
    pub voltage_drop_stated: bool,
    /// Greatest current through one connection to the tape; none: not judged.
    pub connector_current: Option<ElectricCurrent>,
    /// Greatest current of any cable core beside its ampacity; none: ampacity decides.
    pub core_current: Option<ElectricCurrent>,
    /// Greatest share of a supply's rated power, derated for its ambient, that is planned onto it.
    pub load_factor: Ratio,
    /// Copper of cables. A cable is as hot at the low corner as its own load makes it in its ambient; where no table
    /// says how hot that is, `low`, or its insulation rating where that is less. `high`: when it is switched on.
    pub conductor: Corners<ThermodynamicTemperature>,
    /// Cells: cold at the low corner, hot at the high one. The rails of the tape lie within the same temperatures.
    pub cell: Corners<ThermodynamicTemperature>,
    /// Rails: above their stated resistance by this at the low corner, below it at the high one.
    pub rail_tolerance: Ratio,
    /// Cells: below their stated current by this at the low corner, above it at the high one.
    pub current_tolerance: Ratio,
    /// Cable: below the greatest resistance of its size by this at the high corner; at the low corner it has the greatest.
    pub cable_tolerance: Ratio,
    /// Cells draw so much more at the high corner, beside their tolerance: every current that is judged has this margin.
    pub current_margin: Ratio,
    /// Taken off every straight of every run that states none of its own.
    pub site_tolerance: ExactLength,
    /// Added to every cable route that states none of its own: tails in boxes and at terminals.
    pub slack: ExactLength,
    /// Longest chopped feeder that the trade's rule of thumb lets pass; none: not judged.
    pub chopped_feeder: Option<ExactLength>,
    /// Devices on one chain that a careful plan keeps to, beside the standards' limits.
    pub chain_devices: u32,
    /// Cable of one chain on shielded category cable that a careful plan keeps to.
    pub chain_length: ExactLength,
    /// Tape bought beyond what is cut.
    pub spare_tape: Ratio,
    /// What the job is silent about.
    pub(super) assumed: BTreeSet<LimitKey>,
}

impl Default for Limits {
    fn default() -> Self {
        Self {
            least_current: percent(65.0),
            visible_step: Some(percent(10.0)),
            balance: None,
            voltage_drop: None,
            voltage_drop_stated: false,
            connector_current: None,
            core_current: None,
            load_factor: percent(80.0),
            conductor: Corners {
                low: celsius(75.0),
                nominal: celsius(30.0),
                high: celsius(20.0),
            },
            cell: Corners {
                low: celsius(15.0),
                nominal: celsius(45.0),
                high: celsius(70.0),
            },
            rail_tolerance: percent(10.0),
            current_tolerance: percent(10.0),
            cable_tolerance: percent(10.0),
            current_margin: percent(2.0),
            site_tolerance: ExactLength::ZERO,
            slack: ExactLength::from_millimetres(300),
            chopped_feeder: Some(ExactLength::from_millimetres(7620)),
            chain_devices: 20,
            chain_length: ExactLength::from_millimetres(91_440),
            spare_tape: percent(5.0),
            assumed: LimitKey::ALL.into_iter().collect(),
        }
    }
}

impl Limits {
    /// Whether the job is silent about a limit. A job that states the very value that is taken when silent
    /// assumes nothing.
    #[must_use]
    pub fn is_assumed(&self, key: LimitKey) -> bool {
        self.assumed.contains(&key)
    }
}

/// What things cost beside their material, in whole minor units of the currency.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Costs {
    /// Each segment: its share of an output, its end caps.
    pub segment: u64,
    /// Each feed: joint, lead, labour.
    pub feed: u64,
    /// Each break of a run that is not forced.
    pub cut: u64,
}
