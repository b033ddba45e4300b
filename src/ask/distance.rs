//! How far a decoder, or any other start of a feeder, may be.

use super::error::AskError;
use super::sheet::Sheet;
use super::wire::{Sized, both, checked, size_list};
use crate::cable::{ConductorSize, SizeSystem};
use crate::job::spec::{LimitKey, Limits};
use crate::protect::longest_for_drop;
use crate::quantity::{
    ElectricCurrent, ElectricPotential, Metres, Ratio, ThermodynamicTemperature, celsius, show,
    show_in,
};
use crate::source::Source;
use serde::Serialize;

/// Sizes shown of each system: what is sold for feeders of tape.
const AMERICAN: [&str; 5] = ["18 AWG", "16 AWG", "14 AWG", "12 AWG", "10 AWG"];
const METRIC: [&str; 5] = ["0.75 mm2", "1 mm2", "1.5 mm2", "2.5 mm2", "4 mm2"];
/// Sizes of the first line.
const USUAL: [&str; 2] = ["16 AWG", "1.5 mm²"];

/// How far may the decoder be from its tape, by wire: `L = ΔV / (2 · R′ · I)`.
#[derive(Debug, Clone, PartialEq)]
pub struct Distance {
    /// Current of the feeder.
    pub current: ElectricCurrent,
    /// Voltage at its start.
    pub volts: ElectricPotential,
    /// Drop allowed, there and back, as a share of the voltage.
    pub drop: Ratio,
    /// Whether what it carries is chopped.
    pub chopped: bool,
    /// Temperature of the conductor.
    pub conductor: ThermodynamicTemperature,
}

/// The longest route on one wire.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WireRoute {
    /// Size.
    pub size: ConductorSize,
    /// Longest route, one way.
    pub route: Metres,
}

/// How far it may be.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DistanceAnswer {
    /// By wire, thinnest first, American sizes and then metric ones.
    pub wires: Vec<WireRoute>,
    /// The habit for chopped feeders, where what it carries is chopped.
    pub habit: Option<Metres>,
    #[serde(skip)]
    asked: Distance,
    #[serde(skip)]
    sources: Vec<Source>,
}

impl Distance {
    /// With copper at 75 °C, chopped.
    #[must_use]
    pub fn new(current: ElectricCurrent, volts: ElectricPotential, drop: Ratio) -> Self {
        Self {
            current,
            volts,
            drop,
            chopped: true,
            conductor: celsius(75.0),
        }
    }

    /// The longest route on each wire.
    ///
    /// # Errors
    /// [`AskError::Figure`]: a figure that is not above zero, a drop of all the voltage or more.
    pub fn answer(&self) -> Result<DistanceAnswer, AskError> {
        checked(self.current, self.volts, self.drop)?;
        let mut sources: Vec<Source> = Vec::new();
        let mut wires = Vec::new();
        for (system, sold) in [
            (SizeSystem::American, AMERICAN),
            (SizeSystem::Metric, METRIC),
        ] {
            let sold: Vec<ConductorSize> = sold.iter().filter_map(|s| s.parse().ok()).collect();
            for size in size_list(system).filter(|size| sold.contains(size)) {
                let Some(sized) = Sized::new(size, self.conductor) else {
                    continue;
                };
                let drop = self.volts * self.drop;
                if let Some(route) = longest_for_drop(drop, sized.per_metre, self.current) {
                    let route = route.length().into();
                    wires.push(WireRoute { size, route });
                    if !sources.contains(&sized.source) {
                        sources.push(sized.source);
                    }
                }
            }
        }
        let habit = Limits::default().chopped_feeder;
        Ok(DistanceAnswer {
            wires,
            habit: habit.filter(|_| self.chopped).map(|l| l.to_length().into()),
            asked: self.clone(),
            sources,
        })
    }
}

impl DistanceAnswer {
    /// The answer as a person reads it.
    #[must_use]
    pub fn sheet(&self) -> Sheet {
        let row = |system: SizeSystem| {
            let own = self.wires.iter().filter(|w| w.size.system() == system);
            let all: Vec<String> = own
                .map(|w| format!("{} {}", w.size, show_in(w.route.0, "m", 1)))
                .collect();
            format!("{}.", all.join(", "))
        };
        let usual = |w: &&WireRoute| USUAL.contains(&w.size.to_string().as_str());
        let first: Vec<String> = self
            .wires
            .iter()
            .filter(usual)
            .map(|w| format!("{} on {}", both(w.route.0), w.size))
            .collect();
        let answer = format!("{}, by the drop.", first.join(", "));
        let mut sheet = Sheet::new(answer)
            .because(format!(
                "{} at {}, {} of drop there and back; twice the current, half the way.",
                show(self.asked.current),
                show(self.asked.volts),
                show(self.asked.drop)
            ))
            .because(row(SizeSystem::American))
            .because(row(SizeSystem::Metric));
        if let Some(habit) = self.habit {
            sheet = sheet
                .because(format!(
                    "Chopped: good practice keeps the feeder to {}; rise and ringing are not computed here.",
                    both(habit.0)
                ))
                .source(LimitKey::ChoppedFeeder.source());
        }
        for source in &self.sources {
            sheet = sheet.source(source.clone());
        }
        sheet
            .because("The wire must carry the current as well: ask for the wire.")
            .assumed(&[format!("plain copper at {}", show(self.asked.conductor))])
    }
}
