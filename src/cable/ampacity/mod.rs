//! What a conductor may carry, or that no table says.
//!
//! `Iz = table · ambient factor · grouping factor`; every factor is listed with its
//! source. Ampacity tables do not reach small wire: for ordinary 22 to 18 AWG
//! Class 2 cable no code table exists, and the limit of the source governs. So
//! [`NoTable`] is an answer here, not a failure to look: nothing is extrapolated,
//! no size is translated into another system.

mod factors;
mod iec;
mod look_up;
mod us;

pub use factors::{ambient_factor_by_formula, factor_for_ambient, factor_for_group};
pub(super) use look_up::{Asked, look_up};

use crate::quantity::{ElectricCurrent, ThermodynamicTemperature, amps, celsius, in_celsius};
use crate::source::Source;
use serde::Serialize;
use thiserror::Error;

/// What a factor corrects for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum CorrectionKind {
    /// Another ambient temperature than the table's.
    Ambient,
    /// Other loaded conductors close by.
    Grouping,
}

/// A factor that was applied to the figure of the table.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Correction {
    /// What it corrects for.
    pub kind: CorrectionKind,
    /// What for: `ambient 45 °C`.
    pub what: String,
    /// The factor.
    pub factor: f64,
    /// Where it comes from.
    pub source: Source,
}

/// What a conductor may carry, with everything that was applied.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Ampacity {
    /// Continuous current under the stated conditions: table times corrections.
    #[serde(with = "crate::quantity::valued")]
    pub current: ElectricCurrent,
    /// The figure of the table before corrections.
    #[serde(with = "crate::quantity::valued")]
    pub tabulated: ElectricCurrent,
    /// The table.
    pub source: Source,
    /// Id of the table in [`super::tables`]; empty for a stated figure.
    pub table: &'static str,
    /// Factors applied.
    pub corrections: Vec<Correction>,
    /// Greatest overcurrent device that a rule allows for this size, with the rule.
    pub largest_device: Option<DeviceLimit>,
    /// What was assumed or should be known about the figure.
    pub notes: Vec<String>,
    /// Conductor and ambient temperature at the tabulated current, where the table has them.
    #[serde(skip)]
    pub reference: Option<Reference>,
}

/// The temperatures that a table is made for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reference {
    /// Of the conductor at the tabulated current.
    pub conductor: ThermodynamicTemperature,
    /// Of the surroundings.
    pub ambient: ThermodynamicTemperature,
}

impl Ampacity {
    /// Temperature of the conductor at a load: ambient + (T_rated − T_reference) · (I / I_table)².
    ///
    /// The other corrections (grouping) lower `I_table`; the ambient factor does not,
    /// since the ambient is counted here. `None` for a table without temperatures, or
    /// a current that is no number. Slightly high below full load, where the copper is
    /// cooler than at its rating.
    ///
    /// # Source
    /// The heat balance behind NFPA 70-2023, 310.15(B)(1), solved for the conductor.
    #[must_use]
    pub fn conductor_temperature(
        &self,
        load: ElectricCurrent,
        ambient: ThermodynamicTemperature,
    ) -> Option<ThermodynamicTemperature> {
        let reference = self.reference?;
        let grouped: f64 = self
            .corrections
            .iter()
            .filter(|correction| correction.kind == CorrectionKind::Grouping)
            .map(|correction| correction.factor)
            .product();
        let share = load.value / (self.tabulated.value * grouped);
        let rise = (reference.conductor.value - reference.ambient.value) * share * share;
        let hot = in_celsius(ambient) + rise;
        hot.is_finite().then(|| celsius(hot))
    }
}

/// A limit on the overcurrent device of a small conductor.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DeviceLimit {
    /// Greatest rating.
    #[serde(with = "crate::quantity::valued")]
    pub rating: ElectricCurrent,
    /// The rule.
    pub source: Source,
}

/// No table covers this cable, used so: an answer, with the table and its range.
#[derive(Debug, Clone, PartialEq, Eq, Error, Serialize)]
#[error("no table covers {what}: {because}; asked: {table}, which covers {covers}")]
#[non_exhaustive]
pub struct NoTable {
    /// What was looked for.
    pub what: String,
    /// Why not.
    pub because: String,
    /// The table asked.
    pub table: String,
    /// What it covers.
    pub covers: String,
}

/// The note for a rating between two columns.
fn column_taken(rating: f64, column: f64) -> String {
    format!("insulation rated {rating:.0} °C: the {column:.0} °C figures are taken")
}

/// The figure of a table with nothing applied yet.
fn tabulated(current: f64, source: Source, table: &'static str) -> Ampacity {
    Ampacity {
        current: amps(current),
        tabulated: amps(current),
        source,
        table,
        corrections: Vec::new(),
        largest_device: None,
        notes: Vec::new(),
        reference: None,
    }
}

impl Ampacity {
    pub(super) fn between(mut self, conductor: f64, ambient: f64) -> Self {
        self.reference = Some(Reference {
            conductor: celsius(conductor),
            ambient: celsius(ambient),
        });
        self
    }

    pub(super) fn corrected(mut self, mut corrections: Vec<Correction>) -> Self {
        corrections.retain(|correction| correction.factor != 1.0);
        let factor: f64 = corrections
            .iter()
            .map(|correction| correction.factor)
            .product();
        self.current = amps(self.tabulated.value * factor);
        self.corrections = corrections;
        self
    }

    fn noting(mut self, notes: Vec<String>) -> Self {
        self.notes = notes;
        self
    }
}
