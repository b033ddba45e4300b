//! Power-limited sources: Class 2 and the limited power source, at the highest voltage they can be trimmed to.
//!
//! The label decides; these limits only show a label that cannot be right as the
//! supply is set, or a trimmer that leads out of the class.

use super::tables::power_limits::{self, Limited, Row, Rule};
use crate::quantity::{ElectricCurrent, ElectricPotential, Power, amps, watts};
use crate::source::{Source, Standing};
use serde::Serialize;
use thiserror::Error;

/// The limits at one voltage.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PowerLimits {
    /// Greatest apparent power delivered, where limited.
    pub power: Option<f64>,
    /// Greatest current with any load, short circuit included, A; judged after 5 s (impedance with stored energy) or 60 s (transformer).
    pub current: Option<f64>,
    /// Greatest overcurrent device, A.
    pub device: Option<f64>,
    /// Greatest apparent power on the nameplate, VA.
    pub nameplate_power: Option<f64>,
    /// Greatest current on the nameplate, A.
    pub nameplate_current: Option<f64>,
    /// Where from.
    pub source: Source,
}

impl PowerLimits {
    /// Greatest current on the nameplate.
    #[must_use]
    pub fn nameplate(&self) -> Option<ElectricCurrent> {
        self.nameplate_current.map(amps)
    }

    /// Greatest power on the nameplate.
    #[must_use]
    pub fn nameplate_watts(&self) -> Option<Power> {
        self.nameplate_power.map(watts)
    }
}

/// A voltage that no row of the rule covers.
#[derive(Debug, Clone, PartialEq, Error)]
#[error("{volts} V is outside the rows of {source_line}, which cover {covers}")]
#[non_exhaustive]
pub struct OutsideRule {
    /// The voltage.
    pub volts: f64,
    /// The rule.
    pub source_line: String,
    /// What it covers.
    pub covers: String,
}

fn source_of(rule: Rule) -> Source {
    match rule {
        Rule::Class2Dc => power_limits::CLASS_2_DC,
        Rule::Class2Ac => power_limits::CLASS_2_AC,
        Rule::LimitedPowerDc => power_limits::LIMITED_POWER,
        Rule::LimitedVoltageCurrent => power_limits::LIMITED_VOLTAGE_CURRENT,
    }
}

/// The limits of a rule at the highest output voltage.
///
/// # Errors
/// [`OutsideRule`]: the voltage is not above zero, or beyond the last row.
///
/// # Example
/// ```
/// use evenrun::protect::{Limited, Rule, power_limits};
/// use evenrun::quantity::volts;
/// let at = |v| power_limits(Rule::Class2Dc, Limited::Inherently, volts(v)).map(|l| l.nameplate_current);
/// assert_eq!(at(20.0), Ok(Some(5.0)));          // up to 20 V: 5 A
/// assert_eq!(at(48.0), Ok(Some(100.0 / 48.0))); // above: 100 VA
/// ```
pub fn power_limits(
    rule: Rule,
    limited: Limited,
    highest: ElectricPotential,
) -> Result<PowerLimits, OutsideRule> {
    let volts = highest.value;
    let rows = || {
        power_limits::ROWS
            .iter()
            .filter(|r| r.rule == rule && r.limited == limited)
    };
    let inside = |row: &&Row| volts > row.above_v && volts <= row.to_v;
    let Some(row) = rows().find(inside) else {
        let most = rows().map(|r| r.to_v).fold(0.0, f64::max);
        return Err(OutsideRule {
            volts,
            source_line: source_of(rule).to_string(),
            covers: format!("above 0 V to {most} V"),
        });
    };
    let mut source = source_of(rule);
    if row.from_memory {
        source.standing = Standing::FromMemory;
    }
    Ok(PowerLimits {
        power: row.va_max.at(volts),
        current: row.i_max.at(volts),
        device: row.device_max.at(volts),
        nameplate_power: row.nameplate_va.at(volts),
        nameplate_current: row.nameplate_a.at(volts),
        source,
    })
}
