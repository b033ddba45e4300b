//! Limits as a job states them.

use super::{LimitKey, Limits};
use crate::exact::ExactLength;
use crate::quantity::{ElectricCurrent, Ratio, ThermodynamicTemperature};

/// A limit that a job may lift.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bound<T> {
    /// Not judged: `"none"` in a job file.
    None,
    /// At most so much.
    AtMost(T),
}

impl<T> Bound<T> {
    /// The greatest figure that is permitted, if any is.
    pub fn most(self) -> Option<T> {
        match self {
            Self::None => None,
            Self::AtMost(most) => Some(most),
        }
    }
}

/// Limits as a job states them; none: the job is silent, and [`Limits::default`] says what is taken.
///
/// ```
/// use evenrun::job::spec::{LimitKey, LimitsSpec};
/// use evenrun::quantity::percent;
///
/// let silent = LimitsSpec::default().resolve();
/// let stated = LimitsSpec { load_factor: Some(percent(80.0)), ..LimitsSpec::default() }.resolve();
/// assert_eq!(silent.load_factor, stated.load_factor);
/// assert!(silent.is_assumed(LimitKey::LoadFactor));
/// assert!(!stated.is_assumed(LimitKey::LoadFactor));
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct LimitsSpec {
    /// Least current of any lit cell at the low corner, relative to its nominal at rated voltage.
    pub least_current: Option<Ratio>,
    /// Greatest step of relative current beside a joint that is seen.
    pub visible_step: Option<Bound<Ratio>>,
    /// Greatest departure from even balance between emitters lit together.
    pub balance: Option<Bound<Ratio>>,
    /// Greatest drop from the terminals of the supply to any cell, as a share of the rated voltage.
    pub voltage_drop: Option<Bound<Ratio>>,
    /// Greatest current through one connection to the tape.
    pub connector_current: Option<Bound<ElectricCurrent>>,
    /// Greatest current of any cable core beside its ampacity.
    pub core_current: Option<Bound<ElectricCurrent>>,
    /// Greatest share of a supply's rated power, derated for its ambient, that is planned onto it.
    pub load_factor: Option<Ratio>,
    /// Conductors at the low corner.
    pub conductor_hot: Option<ThermodynamicTemperature>,
    /// Conductors as a rule.
    pub conductor_nominal: Option<ThermodynamicTemperature>,
    /// Conductors at the high corner.
    pub conductor_cold: Option<ThermodynamicTemperature>,
    /// Cells at the low corner.
    pub cell_cold: Option<ThermodynamicTemperature>,
    /// Cells as a rule.
    pub cell_nominal: Option<ThermodynamicTemperature>,
    /// Cells at the high corner.
    pub cell_hot: Option<ThermodynamicTemperature>,
    /// Tolerance of the resistance of rails, either way.
    pub rail_tolerance: Option<Ratio>,
    /// Tolerance of the current of cells, either way.
    pub current_tolerance: Option<Ratio>,
    /// How far below the greatest resistance of its size a cable may lie.
    pub cable_tolerance: Option<Ratio>,
    /// What cells draw beyond their tolerance at the high corner.
    pub current_margin: Option<Ratio>,
    /// Taken off every straight of every run that states none of its own.
    pub site_tolerance: Option<ExactLength>,
    /// Added to every cable route that states none of its own.
    pub slack: Option<ExactLength>,
    /// Longest chopped feeder that the trade's rule of thumb lets pass.
    pub chopped_feeder: Option<Bound<ExactLength>>,
    /// Devices on one chain that a careful plan keeps to.
    pub chain_devices: Option<u32>,
    /// Cable of one chain that a careful plan keeps to.
    pub chain_length: Option<ExactLength>,
    /// Tape bought beyond what is cut.
    pub spare_tape: Option<Ratio>,
}

impl LimitsSpec {
    /// The limits that hold, and which of them are assumed.
    #[must_use]
    pub fn resolve(&self) -> Limits {
        let mut limits = Limits::default();
        {
            let Limits {
                least_current,
                visible_step,
                balance,
                voltage_drop,
                voltage_drop_stated,
                connector_current,
                core_current,
                load_factor,
                conductor,
                cell,
                rail_tolerance,
                current_tolerance,
                cable_tolerance,
                current_margin,
                site_tolerance,
                slack,
                chopped_feeder,
                chain_devices,
                chain_length,
                spare_tape,
                assumed,
            } = &mut limits;
            let mut key = |key, stated: bool| {
                if stated {
                    assumed.remove(&key);
                }
            };
            use LimitKey as Key;
            key(Key::LeastCurrent, take(least_current, self.least_current));
            key(Key::VisibleStep, bound(visible_step, self.visible_step));
            bound(balance, self.balance);
            *voltage_drop_stated = bound(voltage_drop, self.voltage_drop);
            bound(connector_current, self.connector_current);
            bound(core_current, self.core_current);
            key(Key::LoadFactor, take(load_factor, self.load_factor));
            key(
                Key::ConductorHot,
                take(&mut conductor.low, self.conductor_hot),
            );
            key(
                Key::ConductorNominal,
                take(&mut conductor.nominal, self.conductor_nominal),
            );
            key(
                Key::ConductorCold,
                take(&mut conductor.high, self.conductor_cold),
            );
            key(Key::CellCold, take(&mut cell.low, self.cell_cold));
            key(Key::CellNominal, take(&mut cell.nominal, self.cell_nominal));
            key(Key::CellHot, take(&mut cell.high, self.cell_hot));
            key(
                Key::RailTolerance,
                take(rail_tolerance, self.rail_tolerance),
            );
            key(
                Key::CurrentTolerance,
                take(current_tolerance, self.current_tolerance),
            );
            key(
                Key::CableTolerance,
                take(cable_tolerance, self.cable_tolerance),
            );
            key(
                Key::CurrentMargin,
                take(current_margin, self.current_margin),
            );
            take(site_tolerance, self.site_tolerance);
            key(Key::Slack, take(slack, self.slack));
            key(
                Key::ChoppedFeeder,
                bound(chopped_feeder, self.chopped_feeder),
            );
            key(Key::ChainDevices, take(chain_devices, self.chain_devices));
            key(Key::ChainLength, take(chain_length, self.chain_length));
            key(Key::SpareTape, take(spare_tape, self.spare_tape));
        }
        limits
    }
}

/// Takes what is stated; whether it is.
fn take<T>(held: &mut T, stated: Option<T>) -> bool {
    let is = stated.is_some();
    if let Some(value) = stated {
        *held = value;
    }
    is
}

/// The same for a limit that may be lifted.
fn bound<T>(held: &mut Option<T>, stated: Option<Bound<T>>) -> bool {
    take(held, stated.map(Bound::most))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::percent;

    #[test]
    fn each_key_is_assumed_until_it_is_stated() {
        let silent = LimitsSpec::default().resolve();
        assert_eq!(silent, Limits::default());
        assert!(LimitKey::ALL.iter().all(|key| silent.is_assumed(*key)));
        let own = Limits::default();
        let stated = LimitsSpec {
            least_current: Some(own.least_current),
            visible_step: Some(Bound::AtMost(percent(10.0))),
            balance: Some(Bound::None),
            voltage_drop: Some(Bound::None),
            connector_current: Some(Bound::None),
            core_current: Some(Bound::None),
            load_factor: Some(own.load_factor),
            conductor_hot: Some(own.conductor.low),
            conductor_nominal: Some(own.conductor.nominal),
            conductor_cold: Some(own.conductor.high),
            cell_cold: Some(own.cell.low),
            cell_nominal: Some(own.cell.nominal),
            cell_hot: Some(own.cell.high),
            rail_tolerance: Some(own.rail_tolerance),
            current_tolerance: Some(own.current_tolerance),
            cable_tolerance: Some(own.cable_tolerance),
            current_margin: Some(own.current_margin),
            site_tolerance: Some(own.site_tolerance),
            slack: Some(own.slack),
            chopped_feeder: own.chopped_feeder.map(Bound::AtMost),
            chain_devices: Some(own.chain_devices),
            chain_length: Some(own.chain_length),
            spare_tape: Some(own.spare_tape),
        };
        let mut resolved = stated.resolve();
        assert!(LimitKey::ALL.iter().all(|key| !resolved.is_assumed(*key)));
        // But for what is assumed, the limits are the same.
        resolved.assumed = own.assumed.clone();
        assert!(std::mem::take(&mut resolved.voltage_drop_stated));
        assert_eq!(resolved, own);
        let lifted = LimitsSpec {
            chopped_feeder: Some(Bound::None),
            ..LimitsSpec::default()
        };
        assert_eq!(lifted.resolve().chopped_feeder, None);
        assert!(!lifted.resolve().is_assumed(LimitKey::ChoppedFeeder));
    }
}
