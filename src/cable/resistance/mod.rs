//! Resistance of one conductor per length, at any conductor temperature.
//!
//! ```text
//! gauge formula   R20 = ρ20 / A (· 1.02 for the lay of strands), ρ20 = 1/58 Ω·mm²/m for copper
//!                 R(T) = R20 (1 + α20 (T − 20 °C)), α20 = 0.003 93 /K copper, 0.004 03 /K aluminium
//! US code table 8 R75 as printed;  R(T) = R75 (1 + a (T − 75 °C)), a = 0.003 23 /K copper, 0.003 30 /K aluminium
//! IEC 60228       R20 as printed, a maximum;  R(T) = R20 (1 + 0.004 (T − 20 °C)), which its printed factors follow
//! below 0.5 mm²   R20 as a maker prints it;  R(T) with α20 of annealed copper
//! stated area     R20 = ρ20 / A (· 1.02 for the lay of strands), any area of metal ([`area_resistance`])
//! ```
//!
//! Each basis keeps its own rule; they differ by up to half a per cent at 75 °C.
//! Nothing is extrapolated: a size that a table lacks is an error with the range.

mod area;
mod basis;

pub use area::area_resistance;
pub use basis::tinned_ratio;

use crate::cable::metal::{Construction, Metal};
use crate::cable::size::{ConductorSize, Kind};
use crate::cable::tables::{iec60228, iec60228_temperature, materials, small_metric, table8};
use crate::quantity::{LinearResistance, ThermodynamicTemperature, in_celsius, ohms_per_kilometre};
use crate::source::Source;
use serde::Serialize;
use thiserror::Error;

/// Coldest conductor temperature that is computed, °C (an assumption of this library: the straight line is not claimed beyond).
pub const COLDEST_CELSIUS: f64 = -50.0;
/// Hottest conductor temperature that is computed, °C.
pub const HOTTEST_CELSIUS: f64 = 200.0;
/// Longer way of the wires of a strand: the factor with which table 8 can be rebuilt.
pub const STRAND_LAY: f64 = 1.02;
/// The temperature coefficient that the printed factors of IEC 60228 follow, 1/K.
pub const IEC_60228_ALPHA_20: f64 = 0.004;
/// Copper of the US code at 75 °C, 1/K (chapter 9, table 8, note 2).
pub const US_COPPER_ALPHA_75: f64 = 0.003_23;
/// Aluminium of the US code at 75 °C, 1/K (chapter 9, table 8, note 2).
pub const US_ALUMINIUM_ALPHA_75: f64 = 0.003_30;

/// Where a resistance is taken from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Basis {
    /// Exact gauge area and resistivity.
    GaugeFormula,
    /// The US code, chapter 9, table 8.
    UsCodeTable8,
    /// The maximum of IEC 60228.
    Iec60228,
    /// A cable maker's maximum below 0.5 mm².
    SmallMetric,
    /// Resistivity over an area of metal that is stated ([`area_resistance`]).
    StatedArea,
}

impl Basis {
    /// What the basis covers, as a refusal says it.
    #[must_use]
    pub fn covers(self) -> &'static str {
        match self {
            Self::GaugeFormula => "gauges 40 AWG to 4/0 AWG and kcmil sizes, solid or stranded",
            Self::UsCodeTable8 => table8::TABLE.covers,
            Self::Iec60228 => iec60228::TABLE.covers,
            Self::SmallMetric => small_metric::TABLE.covers,
            Self::StatedArea => area::COVERS,
        }
    }

    const fn named(self) -> &'static str {
        match self {
            Self::GaugeFormula => "the gauge formula",
            Self::UsCodeTable8 => "US code chapter 9 table 8",
            Self::Iec60228 => "IEC 60228",
            Self::SmallMetric => "the table of sizes below 0.5 mm²",
            Self::StatedArea => "resistivity over a stated area",
        }
    }
}

/// A straight line of resistance over conductor temperature: `R(T) = R_ref (1 + a (T − T_ref))`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct TemperatureRule {
    /// Temperature of the reference resistance, °C.
    pub reference_celsius: f64,
    /// Change per kelvin, relative to the reference.
    pub per_kelvin: f64,
}

impl TemperatureRule {
    /// Annealed copper from 20 °C (IEC 60028).
    pub const COPPER: Self = Self::from(20.0, materials::COPPER_ALPHA_20);
    /// Aluminium from 20 °C (IEC 60287-1-1); used for copper-clad aluminium too, whose own was not found.
    pub const ALUMINIUM: Self = Self::from(20.0, materials::ALUMINIUM_ALPHA_20);
    /// Copper from 75 °C by the US code, table 8 note 2.
    pub const US_COPPER: Self = Self::from(75.0, US_COPPER_ALPHA_75);
    /// Aluminium from 75 °C by the US code, table 8 note 2.
    pub const US_ALUMINIUM: Self = Self::from(75.0, US_ALUMINIUM_ALPHA_75);
    /// Copper from 20 °C as the printed factors of IEC 60228 have it.
    pub const IEC_60228: Self = Self::from(20.0, IEC_60228_ALPHA_20);

    const fn from(reference_celsius: f64, per_kelvin: f64) -> Self {
        Self {
            reference_celsius,
            per_kelvin,
        }
    }

    /// The factor `R(T) / R_ref`.
    #[must_use]
    pub fn factor(self, at: ThermodynamicTemperature) -> f64 {
        1.0 + self.per_kelvin * (in_celsius(at) - self.reference_celsius)
    }

    /// The coefficient that gives the same line from another reference: `a / (1 + a (T' − T_ref))`.
    #[must_use]
    pub fn rebased(self, reference: ThermodynamicTemperature) -> Self {
        Self {
            reference_celsius: in_celsius(reference),
            per_kelvin: self.per_kelvin / self.factor(reference),
        }
    }
}

/// A conductor: size, metal and construction.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
pub struct Conductor {
    /// Size.
    pub size: ConductorSize,
    /// Metal.
    pub metal: Metal,
    /// Construction.
    pub construction: Construction,
}

/// A resistance per length with where it comes from.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Resistance {
    /// At the temperature asked for.
    #[serde(with = "crate::quantity::valued")]
    pub per_length: LinearResistance,
    /// At the reference temperature of the rule, as printed or computed.
    #[serde(with = "crate::quantity::valued")]
    pub reference: LinearResistance,
    /// The temperature rule used.
    pub rule: TemperatureRule,
    /// The basis used.
    pub basis: Basis,
    /// The source of the reference figure.
    pub source: Source,
    /// What was assumed because it was not known.
    pub assumed: Vec<String>,
}

/// Why there is no resistance.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum ResistanceError {
    /// The basis lacks the conductor.
    #[error("{basis} lists no {what}; it covers {covers}{hint}")]
    NotListed {
        /// Name of the basis.
        basis: &'static str,
        /// What was looked for.
        what: String,
        /// What the basis covers.
        covers: &'static str,
        /// Nearest listed sizes, if any.
        hint: String,
    },
    /// A class of IEC 60228 with a gauge, or the like.
    #[error(
        "{size} cannot be {construction}: the classes of IEC 60228 belong to mm² sizes; write \"solid\" or \"stranded\" for a gauge"
    )]
    WrongSystem {
        /// The size.
        size: ConductorSize,
        /// The construction.
        construction: Construction,
    },
    /// An area of metal that no conductor has.
    #[error("an area of {found} mm²: write an area of metal from 0.000001 mm² to 1000000 mm²")]
    Area {
        /// The area asked for, mm².
        found: f64,
    },
    /// A temperature outside the range of the straight line.
    #[error(
        "a conductor at {celsius} °C is outside {COLDEST_CELSIUS} °C to {HOTTEST_CELSIUS} °C, over which resistance is computed"
    )]
    Temperature {
        /// The temperature asked for, °C.
        celsius: f64,
    },
}

impl Conductor {
    /// Resistance per length at a conductor temperature, by the basis that suits the size.
    ///
    /// Gauges take table 8 where it has the row and the formula elsewhere; mm²
    /// sizes take IEC 60228, below 0.5 mm² the small-size table. Where metal or
    /// construction is unknown, the greatest of the possible figures is taken and
    /// `assumed` says which.
    ///
    /// # Errors
    /// [`ResistanceError`]: nothing covers the conductor, or the temperature is out of range.
    pub fn resistance(&self, at: ThermodynamicTemperature) -> Result<Resistance, ResistanceError> {
        self.worst(None, at)
    }

    /// The same, by a stated basis.
    ///
    /// # Errors
    /// [`ResistanceError`], naming the basis and its range.
    pub fn resistance_by(
        &self,
        basis: Basis,
        at: ThermodynamicTemperature,
    ) -> Result<Resistance, ResistanceError> {
        self.worst(Some(basis), at)
    }

    fn worst(
        &self,
        basis: Option<Basis>,
        at: ThermodynamicTemperature,
    ) -> Result<Resistance, ResistanceError> {
        let celsius = in_celsius(at);
        if !(COLDEST_CELSIUS..=HOTTEST_CELSIUS).contains(&celsius) {
            return Err(ResistanceError::Temperature { celsius });
        }
        let constructions = self.constructions()?;
        let metals = match self.metal {
            Metal::Unknown => Metal::KNOWN,
            ref known => std::slice::from_ref(known),
        };
        let mut worst: Option<(Resistance, Metal, Construction)> = None;
        let mut refused = None;
        for &metal in metals {
            for &construction in constructions {
                let one = Self {
                    size: self.size,
                    metal,
                    construction,
                };
                match one.known(basis, at) {
                    Ok(found) => {
                        let worse = worst
                            .as_ref()
                            .is_none_or(|(w, ..)| found.per_length.value > w.per_length.value);
                        if worse {
                            worst = Some((found, metal, construction));
                        }
                    }
                    Err(error) => refused = refused.or(Some(error)),
                }
            }
        }
        let Some((mut found, metal, construction)) = worst else {
            return Err(refused.unwrap_or_else(|| self.not_listed(Basis::GaugeFormula)));
        };
        if self.metal == Metal::Unknown {
            found.assumed.push(format!(
                "metal not stated: {metal} assumed, the worst figure listed"
            ));
        }
        if constructions.len() > 1 {
            found.assumed.push(format!(
                "construction {}: {construction} assumed, the worst figure listed",
                if self.construction == Construction::Unknown {
                    "not stated"
                } else {
                    "stranded without its class"
                }
            ));
        }
        Ok(found)
    }

    /// The constructions that the stated one may be, for this size.
    fn constructions(&self) -> Result<&'static [Construction], ResistanceError> {
        use Construction as C;
        let metric = matches!(self.size.0, Kind::Metric(_));
        Ok(match (self.construction, metric) {
            (C::Solid, true) | (C::Class1, true) => &[C::Class1],
            (C::Stranded, true) => &[C::Class2, C::Class5],
            (C::Class2, true) => &[C::Class2],
            (C::Class5, true) => &[C::Class5],
            (C::Class6, true) => &[C::Class6],
            (C::Unknown, true) => &[C::Class1, C::Class2, C::Class5, C::Class6],
            (C::Solid, false) => &[C::Solid],
            (C::Stranded, false) => &[C::Stranded],
            (C::Unknown, false) => &[C::Solid, C::Stranded],
            (construction, false) => {
                return Err(ResistanceError::WrongSystem {
                    size: self.size,
                    construction,
                });
            }
        })
    }

    fn known(
        &self,
        basis: Option<Basis>,
        at: ThermodynamicTemperature,
    ) -> Result<Resistance, ResistanceError> {
        let (basis, figure) = match basis {
            Some(basis) => (basis, self.figure(basis)),
            None => match self.size.0 {
                Kind::Gauge(_) | Kind::Kcmil(_) => match self.figure(Basis::UsCodeTable8) {
                    Some(figure) => (Basis::UsCodeTable8, Some(figure)),
                    None => (Basis::GaugeFormula, self.figure(Basis::GaugeFormula)),
                },
                Kind::Metric(thousandths) if thousandths < 500 => {
                    (Basis::SmallMetric, self.figure(Basis::SmallMetric))
                }
                Kind::Metric(_) => (Basis::Iec60228, self.figure(Basis::Iec60228)),
            },
        };
        let figure = figure.ok_or_else(|| self.not_listed(basis))?;
        let reference = ohms_per_kilometre(figure.ohm_per_km);
        Ok(Resistance {
            per_length: reference * figure.rule.factor(at),
            reference,
            rule: figure.rule,
            basis,
            source: figure.source,
            assumed: Vec::new(),
        })
    }

    fn not_listed(&self, basis: Basis) -> ResistanceError {
        ResistanceError::NotListed {
            basis: basis.named(),
            what: self.to_string(),
            covers: basis.covers(),
            hint: self.neighbours(),
        }
    }

    /// The standard sizes beside a mm² size that is none itself.
    fn neighbours(&self) -> String {
        let all = ConductorSize::standard_sizes(self.size.system());
        if all.contains(&self.size) {
            return String::new();
        }
        let below = all.iter().rev().find(|size| **size < self.size);
        let above = all.iter().find(|size| **size > self.size);
        match (below, above) {
            (Some(below), Some(above)) => format!("; listed beside it: {below} and {above}"),
            (Some(last), None) => format!("; the largest listed is {last}"),
            (None, Some(first)) => format!("; the smallest listed is {first}"),
            (None, None) => String::new(),
        }
    }
}

/// `18 AWG stranded copper`.
impl std::fmt::Display for Conductor {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let known = |word: &'static str| if word == "unknown" { "" } else { word };
        let parts = [
            self.size.to_string(),
            known(self.construction.word()).to_string(),
            match self.metal {
                Metal::Unknown => "of unknown metal".to_string(),
                metal => metal.word().to_string(),
            },
        ];
        let text: Vec<&str> = parts
            .iter()
            .map(String::as_str)
            .filter(|p| !p.is_empty())
            .collect();
        write!(f, "{}", text.join(" "))
    }
}

/// The factor `kt` that IEC 60228 prints for a conductor temperature (`R20 = R(t) · kt`). `None` off its steps of 5 K.
#[must_use]
pub fn iec60228_printed_factor(at: ThermodynamicTemperature) -> Option<f64> {
    let celsius = in_celsius(at);
    iec60228_temperature::ROWS
        .iter()
        .find(|row| (row.celsius - celsius).abs() < 1e-6)
        .map(|row| row.factor)
}
