//! Limits of power-limited sources by their highest output voltage.
//!
//! US code, chapter 9, tables 11(B) (dc) and 11(A) (ac); the limited power source
//! of IEC 60950-1 and IEC 62368-1; the limited voltage and current circuit of UL 508.
//! The voltage is the highest that the output can be *trimmed* to, at any load.
//! The edges 20 V and 30 V belong to the lower range. The 350 VA that table 11 allows a
//! transformer up to 15 V is not used: 250 VA stands for it.

use crate::cable::tables::Table;
use crate::source::{Source, documents};
use serde::{Serialize, Serializer};
use std::fmt;

/// US code, dc.
pub const CLASS_2_DC: Source = documents::NEC
    .at("chapter 9, table 11(B), figures of 2017")
    .quoted();
/// US code, ac.
pub const CLASS_2_AC: Source = documents::NEC
    .at("chapter 9, table 11(A), figures of 2017")
    .quoted();
/// Limited power source.
pub const LIMITED_POWER: Source =
    documents::IEC_60950_1.at("tables 2B and 2C (IEC 62368-1, annex Q)");
/// Limited voltage and current.
pub const LIMITED_VOLTAGE_CURRENT: Source =
    documents::UL_508.at("as an equipment manual prints it");

/// All of them.
pub const EVERY: Source = documents::NEC
    .at("chapter 9, tables 11(A) and 11(B), figures of 2017; IEC 60950-1, tables 2B and 2C; UL 508")
    .quoted();

/// The table, for citation.
pub const TABLE: Table = Table {
    id: "power-source-limits",
    covers: "dc to 150 V and ac to 150 V (Class 2), dc to 60 V (limited power source), to 30 V (UL 508)",
    source: EVERY,
    csv: || crate::cable::tables::rows_as_csv(ROWS),
};

/// A limit that may depend on the highest output voltage.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Amount {
    /// No limit of this kind.
    None,
    /// The same at every voltage.
    Fixed(f64),
    /// So many times the voltage.
    TimesV(f64),
    /// So much divided by the voltage.
    OverV(f64),
}

impl Amount {
    /// The limit at a voltage.
    #[must_use]
    pub fn at(self, volts: f64) -> Option<f64> {
        match self {
            Self::None => None,
            Self::Fixed(value) => Some(value),
            Self::TimesV(factor) => Some(factor * volts),
            Self::OverV(over) => Some(over / volts),
        }
    }
}

impl fmt::Display for Amount {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::None => Ok(()),
            Self::Fixed(value) => write!(f, "{value}"),
            Self::TimesV(factor) => write!(f, "{factor} x Vmax"),
            Self::OverV(over) => write!(f, "{over} / Vmax"),
        }
    }
}

impl Serialize for Amount {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

/// Which rule.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub enum Rule {
    /// US code Class 2, dc.
    Class2Dc,
    /// US code Class 2, ac.
    Class2Ac,
    /// Limited power source, dc.
    LimitedPowerDc,
    /// UL 508 limited voltage and current.
    LimitedVoltageCurrent,
}

/// How a source is limited.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub enum Limited {
    /// By itself: the limit holds with any load, short circuit included.
    Inherently,
    /// Together with an overcurrent device.
    ByDevice,
}

/// One row: one rule, kind and range of voltage.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Row {
    /// Rule.
    pub rule: Rule,
    /// How the source is limited.
    pub limited: Limited,
    /// Above this voltage (the first range: from it), V.
    pub above_v: f64,
    /// Up to this voltage, V.
    pub to_v: f64,
    /// Greatest apparent power, VA.
    pub va_max: Amount,
    /// Greatest current with any load, short circuit included, A.
    pub i_max: Amount,
    /// Greatest overcurrent device, A.
    pub device_max: Amount,
    /// Greatest apparent power on the nameplate, VA.
    pub nameplate_va: Amount,
    /// Greatest current on the nameplate, A.
    pub nameplate_a: Amount,
    /// Part of the row is remembered, not read.
    pub from_memory: bool,
}

/// The rows.
#[rustfmt::skip]
pub const ROWS: &[Row] = &[
    Row { rule: Rule::Class2Dc, limited: Limited::Inherently, above_v: 0.0, to_v: 20.0, va_max: Amount::None, i_max: Amount::Fixed(8.0), device_max: Amount::None, nameplate_va: Amount::TimesV(5.0), nameplate_a: Amount::Fixed(5.0), from_memory: false },
    Row { rule: Rule::Class2Dc, limited: Limited::Inherently, above_v: 20.0, to_v: 30.0, va_max: Amount::None, i_max: Amount::Fixed(8.0), device_max: Amount::None, nameplate_va: Amount::Fixed(100.0), nameplate_a: Amount::OverV(100.0), from_memory: false },
    Row { rule: Rule::Class2Dc, limited: Limited::Inherently, above_v: 30.0, to_v: 60.0, va_max: Amount::None, i_max: Amount::OverV(150.0), device_max: Amount::None, nameplate_va: Amount::Fixed(100.0), nameplate_a: Amount::OverV(100.0), from_memory: false },
    Row { rule: Rule::Class2Dc, limited: Limited::Inherently, above_v: 60.0, to_v: 150.0, va_max: Amount::None, i_max: Amount::Fixed(0.005), device_max: Amount::None, nameplate_va: Amount::TimesV(0.005), nameplate_a: Amount::Fixed(0.005), from_memory: false },
    Row { rule: Rule::Class2Dc, limited: Limited::ByDevice, above_v: 0.0, to_v: 20.0, va_max: Amount::Fixed(250.0), i_max: Amount::OverV(1000.0), device_max: Amount::Fixed(5.0), nameplate_va: Amount::TimesV(5.0), nameplate_a: Amount::Fixed(5.0), from_memory: false },
    Row { rule: Rule::Class2Dc, limited: Limited::ByDevice, above_v: 20.0, to_v: 60.0, va_max: Amount::Fixed(250.0), i_max: Amount::OverV(1000.0), device_max: Amount::OverV(100.0), nameplate_va: Amount::Fixed(100.0), nameplate_a: Amount::OverV(100.0), from_memory: false },
    Row { rule: Rule::Class2Ac, limited: Limited::Inherently, above_v: 0.0, to_v: 20.0, va_max: Amount::None, i_max: Amount::Fixed(8.0), device_max: Amount::None, nameplate_va: Amount::TimesV(5.0), nameplate_a: Amount::Fixed(5.0), from_memory: false },
    Row { rule: Rule::Class2Ac, limited: Limited::Inherently, above_v: 20.0, to_v: 30.0, va_max: Amount::None, i_max: Amount::Fixed(8.0), device_max: Amount::None, nameplate_va: Amount::Fixed(100.0), nameplate_a: Amount::OverV(100.0), from_memory: false },
    Row { rule: Rule::Class2Ac, limited: Limited::Inherently, above_v: 30.0, to_v: 150.0, va_max: Amount::None, i_max: Amount::Fixed(0.005), device_max: Amount::None, nameplate_va: Amount::TimesV(0.005), nameplate_a: Amount::Fixed(0.005), from_memory: false },
    Row { rule: Rule::Class2Ac, limited: Limited::ByDevice, above_v: 0.0, to_v: 20.0, va_max: Amount::Fixed(250.0), i_max: Amount::OverV(1000.0), device_max: Amount::Fixed(5.0), nameplate_va: Amount::TimesV(5.0), nameplate_a: Amount::Fixed(5.0), from_memory: false },
    Row { rule: Rule::Class2Ac, limited: Limited::ByDevice, above_v: 20.0, to_v: 30.0, va_max: Amount::Fixed(250.0), i_max: Amount::OverV(1000.0), device_max: Amount::OverV(100.0), nameplate_va: Amount::Fixed(100.0), nameplate_a: Amount::OverV(100.0), from_memory: false },
    Row { rule: Rule::LimitedPowerDc, limited: Limited::Inherently, above_v: 0.0, to_v: 20.0, va_max: Amount::None, i_max: Amount::Fixed(8.0), device_max: Amount::None, nameplate_va: Amount::TimesV(5.0), nameplate_a: Amount::None, from_memory: false },
    Row { rule: Rule::LimitedPowerDc, limited: Limited::Inherently, above_v: 20.0, to_v: 30.0, va_max: Amount::None, i_max: Amount::Fixed(8.0), device_max: Amount::None, nameplate_va: Amount::Fixed(100.0), nameplate_a: Amount::None, from_memory: false },
    Row { rule: Rule::LimitedPowerDc, limited: Limited::Inherently, above_v: 30.0, to_v: 60.0, va_max: Amount::None, i_max: Amount::OverV(150.0), device_max: Amount::None, nameplate_va: Amount::Fixed(100.0), nameplate_a: Amount::None, from_memory: false },
    Row { rule: Rule::LimitedPowerDc, limited: Limited::ByDevice, above_v: 0.0, to_v: 20.0, va_max: Amount::Fixed(250.0), i_max: Amount::OverV(1000.0), device_max: Amount::Fixed(5.0), nameplate_va: Amount::None, nameplate_a: Amount::None, from_memory: false },
    Row { rule: Rule::LimitedPowerDc, limited: Limited::ByDevice, above_v: 20.0, to_v: 60.0, va_max: Amount::Fixed(250.0), i_max: Amount::OverV(1000.0), device_max: Amount::OverV(100.0), nameplate_va: Amount::None, nameplate_a: Amount::None, from_memory: true },
    Row { rule: Rule::LimitedVoltageCurrent, limited: Limited::ByDevice, above_v: 0.0, to_v: 20.0, va_max: Amount::None, i_max: Amount::Fixed(8.0), device_max: Amount::Fixed(5.0), nameplate_va: Amount::None, nameplate_a: Amount::None, from_memory: false },
    Row { rule: Rule::LimitedVoltageCurrent, limited: Limited::ByDevice, above_v: 20.0, to_v: 30.0, va_max: Amount::None, i_max: Amount::Fixed(8.0), device_max: Amount::OverV(100.0), nameplate_va: Amount::None, nameplate_a: Amount::None, from_memory: false },
];
