//! Which wire.

use super::error::AskError;
use super::sheet::Sheet;
use crate::cable::drop::loop_drop;
use crate::cable::{Cable, CableSpec, ConductorSize, Installation, SizeSystem};
use crate::quantity::{
    Amps, ElectricCurrent, ElectricPotential, Length, LinearResistance, Ratio, RouteLength, Share,
    ThermodynamicTemperature, Volts, celsius, show, show_in,
};
use crate::source::Source;
use serde::Serialize;

/// Which wire for this length, current, voltage and drop?
///
/// The thinnest size of each system whose drop `2 · R′ · L · I` keeps the limit and whose ampacity, by the least of the
/// tables that cover it, carries the current; a size that no table covers is passed over. Conductors of copper at 75 °C, insulation rated for it, ambient 30 °C, as [`Wire::new`] takes them.
#[derive(Debug, Clone, PartialEq)]
pub struct Wire {
    /// Route, one way.
    pub route: RouteLength,
    /// Current at its far end.
    pub current: ElectricCurrent,
    /// Voltage at its start.
    pub volts: ElectricPotential,
    /// Drop allowed, there and back, as a share of the voltage.
    pub drop: Ratio,
    /// Ambient.
    pub ambient: ThermodynamicTemperature,
    /// Temperature of the conductor, and rating of its insulation.
    pub conductor: ThermodynamicTemperature,
}

/// A size that keeps drop and ampacity.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WireChoice {
    /// Size.
    pub size: ConductorSize,
    /// Drop there and back.
    pub drop: Volts,
    /// Drop as a share of the voltage.
    pub share: Share,
    /// Least ampacity that a table gives.
    pub ampacity: Amps,
    /// Whether the ampacity, not the drop, asked for this size.
    pub by_ampacity: bool,
    #[serde(skip)]
    sources: Vec<Source>,
}

/// Which wire.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WireAnswer {
    /// Thinnest American size; none: no size listed keeps the limit.
    pub american: Option<WireChoice>,
    /// Thinnest metric size.
    pub metric: Option<WireChoice>,
    /// What was asked.
    #[serde(skip)]
    asked: Wire,
}

impl Wire {
    /// With copper at 75 °C in an ambient of 30 °C.
    #[must_use]
    pub fn new(
        route: RouteLength,
        current: ElectricCurrent,
        volts: ElectricPotential,
        drop: Ratio,
    ) -> Self {
        Self {
            route,
            current,
            volts,
            drop,
            ambient: celsius(30.0),
            conductor: celsius(75.0),
        }
    }

    /// Tries every listed size, thinnest first.
    ///
    /// # Errors
    /// [`AskError::Figure`]: a figure that is not above zero, a drop of all the voltage or more.
    pub fn answer(&self) -> Result<WireAnswer, AskError> {
        above_zero(
            "the route",
            self.route.length().value,
            show(self.route.length()),
        )?;
        checked(self.current, self.volts, self.drop)?;
        let first = |system| {
            let mut by_ampacity = false;
            size_list(system).find_map(|size| {
                let sized = Sized::new(size, self.conductor)?;
                let around = self.route.there_and_back();
                let drop = loop_drop(sized.per_metre, around, self.current);
                if !(drop <= self.volts * self.drop) {
                    return None;
                }
                // A size that no table covers is not known to carry anything.
                let (ampacity, table) = sized.ampacity(self.ambient, system)?;
                if self.current > ampacity {
                    by_ampacity = true;
                    return None;
                }
                Some(WireChoice {
                    size,
                    drop: drop.into(),
                    share: (drop / self.volts).into(),
                    ampacity: ampacity.into(),
                    by_ampacity,
                    sources: vec![sized.source, table],
                })
            })
        };
        Ok(WireAnswer {
            american: first(SizeSystem::American),
            metric: first(SizeSystem::Metric),
            asked: self.clone(),
        })
    }
}

/// A current, a voltage and a drop that can be.
pub(super) fn checked(
    current: ElectricCurrent,
    volts: ElectricPotential,
    drop: Ratio,
) -> Result<(), AskError> {
    above_zero("the current", current.value, show(current))?;
    above_zero("the voltage", volts.value, show(volts))?;
    if drop.value > 0.0 && drop.value < 1.0 {
        return Ok(());
    }
    Err(AskError::figure(
        "the drop allowed",
        show(drop),
        "above 0 %, below 100 %",
        "Give a share of the voltage, like 3 %",
    ))
}

fn above_zero(what: &'static str, value: f64, found: String) -> Result<(), AskError> {
    if value > 0.0 && value.is_finite() {
        return Ok(());
    }
    Err(AskError::figure(
        what,
        found,
        "above zero",
        "Give it with its unit",
    ))
}

/// Sizes of a system, thinnest first.
pub(super) fn size_list(system: SizeSystem) -> impl Iterator<Item = ConductorSize> {
    ConductorSize::standard_sizes(system).into_iter()
}

/// A two-core cable of one size.
pub(super) struct Sized {
    pub per_metre: LinearResistance,
    pub source: Source,
    cable: Cable,
}

impl Sized {
    pub fn new(size: ConductorSize, conductor: ThermodynamicTemperature) -> Option<Self> {
        let spec = CableSpec {
            insulation_rating: Some(conductor),
            ..CableSpec::two_core(size.to_string(), size)
        };
        let cable = spec.check().ok()?;
        let resistance = cable.core_resistance_per_length(0, conductor).ok()?;
        Some(Self {
            per_metre: resistance.per_length,
            source: resistance.source,
            cable,
        })
    }

    /// The least ampacity that a table of the system gives, with its source.
    pub fn ampacity(
        &self,
        ambient: ThermodynamicTemperature,
        system: SizeSystem,
    ) -> Option<(ElectricCurrent, Source)> {
        let ways: &[&str] = match system {
            SizeSystem::American => &["us 402.5", "us 400.5", "us 310.16"],
            _ => &["iec B2", "iec C"],
        };
        let ways = ways
            .iter()
            .filter_map(|way| way.parse::<Installation>().ok());
        let found = ways.filter_map(|way| self.cable.ampacity(ambient, 2, way).ok());
        let least = found.reduce(|a, b| if b.current < a.current { b } else { a });
        least.map(|least| (least.current, least.source))
    }
}

/// A length in metres and feet.
pub(super) fn both(length: Length) -> String {
    format!("{} ({})", show_in(length, "m", 2), show_in(length, "ft", 1))
}

impl WireAnswer {
    /// The answer as a person reads it.
    #[must_use]
    pub fn sheet(&self) -> Sheet {
        let found = [&self.american, &self.metric];
        let names: Vec<String> = found
            .iter()
            .filter_map(|choice| choice.as_ref().map(|c| c.size.to_string()))
            .collect();
        let mut sheet = Sheet::new(match names.as_slice() {
            [] => "No listed size keeps the drop: shorten the route, or raise the voltage."
                .to_string(),
            _ => format!("{}.", names.join(" or ")),
        })
        .because(format!(
            "{} one way, {} at {}; at most {} of drop there and back.",
            both(self.asked.route.length()),
            show(self.asked.current),
            show(self.asked.volts),
            show(self.asked.drop)
        ));
        for choice in found.into_iter().flatten() {
            let why = if choice.by_ampacity {
                "; a thinner one keeps the drop and does not carry the current"
            } else {
                ""
            };
            sheet = sheet.because(format!(
                "{}: drop {} ({}), carries {}{why}.",
                choice.size, choice.drop, choice.share, choice.ampacity
            ));
            for source in &choice.sources {
                sheet = sheet.source(source.clone());
            }
        }
        sheet
            .because("Fuse or limit it by its ampacity; joints and terminals are not in the drop.")
            .assumed(&[format!(
                "plain copper at {}, ambient {}, two cores loaded",
                show(self.asked.conductor),
                show(self.asked.ambient)
            )])
    }
}
