//! What tapes and wires are at the corners of a job.

use crate::cable::{
    Ampacity, CableSpec, Conductor, CoreFunction, CoreSpec, Installation, SizeSystem,
    StatedAmpacity,
};
use crate::design::Grouping;
use crate::finding::Finding;
use crate::job::Job;
use crate::job::spec::{CableItem, Limits};
use crate::quantity::{
    Corners, ElectricCurrent, LinearMass, LinearResistance, ThermodynamicTemperature, amps, celsius,
};
use crate::rules::strip as strip_rules;
use crate::source::Source;
use crate::strip::{CornerSet, StripSpec, TapeModel};

/// Temperatures and tolerances of the tapes of a job at its corners. Rails lie within the temperatures of their cells:
/// hot while the cells are cold at the low corner, the other way round at the high one, so that both are bounds.
pub(crate) fn corner_set(limits: &Limits) -> CornerSet {
    CornerSet {
        conductor: Corners {
            low: limits.cell.high,
            nominal: limits.cell.nominal,
            high: limits.cell.low,
        },
        cell: limits.cell,
        rail_tolerance: limits.rail_tolerance,
        current_tolerance: limits.current_tolerance,
        current_margin: limits.current_margin,
    }
}

/// The model of every strip of the job, by the strip's place in the job; a strip may have none.
pub(super) struct TapeModels(Vec<Option<TapeModel>>);

impl TapeModels {
    /// The model of a strip, none where its figures give none.
    pub fn get(&self, strip: usize) -> Option<&TapeModel> {
        self.0.get(strip)?.as_ref()
    }
}

/// The models of the strips of a job; a strip that has none is a finding.
pub(super) fn tapes(job: &Job, findings: &mut Vec<Finding>) -> TapeModels {
    let corners = corner_set(job.limits());
    let models = job
        .strips()
        .iter()
        .map(|strip| match strip.model(&corners) {
            Ok(model) => Some(model),
            Err(errors) => {
                let none = |error| strip_rules::no_model(&strip.name, error);
                findings.extend(errors.0.iter().map(none));
                None
            }
        })
        .collect();
    TapeModels(models)
}

/// Ambient that a stated ampacity is for where the job does not say, °C: IEC 60364-5-52, table B.52.14, factor 1 in air.
const STATED_FOR: f64 = 30.0;

/// What a cable is here.
#[derive(Debug, Clone)]
pub(super) struct WireFacts {
    /// Of one core: at the low corner the greatest of its size, as hot as it gets; at the high one the least, cold.
    pub per_metre: Corners<LinearResistance>,
    /// Of one core at the temperature that its insulation is rated for.
    pub hottest: LinearResistance,
    /// Its ampacity as looked up, with the temperatures that it is made for.
    looked_up: Option<Ampacity>,
    ambient: ThermodynamicTemperature,
    pub ampacity: Result<ElectricCurrent, String>,
    pub ampacity_source: Source,
    /// How it counts among others that lie together; none where the job states how many do.
    pub grouping: Option<Grouping>,
    /// Greatest overcurrent device that a rule allows.
    pub largest_device: Option<(ElectricCurrent, Source)>,
    pub copper: LinearMass,
    pub resistance_source: Source,
    pub assumed: Vec<String>,
}

/// The facts of a cable in an ambient, whose cores carry at most so much each; infinite: their ampacity.
///
/// The copper of the low corner is as hot as that current makes it by the heat balance of its ampacity table
/// ([`Ampacity::conductor_temperature`]), and never hotter than the insulation may get, which is what its ampacity
/// keeps; without a table it is at `conductor_hot` of the limits, or at the insulation rating where that is less.
/// Nominal and cold copper are those of the limits, or as warm as hot copper where that is less.
///
/// [`Ampacity::conductor_temperature`]: crate::cable::Ampacity::conductor_temperature
pub(super) fn wire(
    item: &CableItem,
    limits: &Limits,
    ambient: ThermodynamicTemperature,
    most: ElectricCurrent,
) -> Result<WireFacts, String> {
    let conductor = Conductor {
        size: item.size,
        metal: item.metal,
        construction: item.construction,
    };
    let stated_for = item.ampacity_ambient.unwrap_or(celsius(STATED_FOR));
    let stated = Source::stated(match item.ampacity_ambient {
        Some(_) => format!("ampacity of cable \"{}\", in the job", item.name),
        None => format!(
            "ampacity of cable \"{}\", in the job; its ambient is not stated: 30 °C taken (IEC 60364-5-52, table B.52.14)",
            item.name
        ),
    });
    let cable = CableSpec {
        name: item.name.clone(),
        size: item.size,
        metal: item.metal,
        construction: item.construction,
        cores: (0..item.cores)
            .map(|core| CoreSpec {
                name: (core + 1).to_string(),
                function: match core.checked_sub(1) {
                    None => CoreFunction::Common,
                    Some(emitter) => CoreFunction::Return(emitter as usize),
                },
                size: None,
            })
            .collect(),
        jacket: String::new(),
        insulation_rating: Some(item.insulation),
        stated_ampacity: item.ampacity.map(|current| StatedAmpacity {
            current,
            ambient: stated_for,
            loaded_cores: item.cores as usize,
            source: stated.clone(),
        }),
    }
    .check()
    .map_err(|all| all.first().map_or_else(String::new, ToString::to_string))?;
    let way = match (item.ampacity, item.installed) {
        (Some(_), _) => Some(Installation::Stated),
        (None, installed) => installed,
    };
    let found = way.map(|way| cable.common_ampacity(ambient, item.cores as usize, way));
    let warmed = found.as_ref().and_then(|found| {
        let found = found.as_ref().ok()?;
        let load = if most.value < found.current.value {
            most
        } else {
            found.current
        };
        found.conductor_temperature(load, ambient)
    });
    let hot = least(warmed.unwrap_or(limits.conductor.low), item.insulation);
    let nominal = least(limits.conductor.nominal, hot);
    let cold = least(limits.conductor.high, nominal);
    let at = |t: ThermodynamicTemperature| conductor.resistance(t).map_err(|e| e.to_string());
    let (low, nominal, high) = (at(hot)?, at(nominal)?, at(cold)?);
    let grouping = match item.installed {
        _ if item.ampacity.is_some() => Some(match item.size.system() {
            SizeSystem::American => Grouping::Conductors,
            SizeSystem::Metric => Grouping::Circuits,
        }),
        Some(Installation::Iec { circuits: 1, .. }) => Some(Grouping::Circuits),
        Some(Installation::Iec { .. } | Installation::UsDataCable { .. }) | None => None,
        Some(_) => Some(Grouping::Conductors),
    };
    let looked_up = found
        .as_ref()
        .and_then(|found| found.as_ref().ok())
        .cloned();
    let (ampacity, ampacity_source, largest_device) = match found {
        None => (
            Err("the job does not say how it is installed".to_string()),
            Source::stated("the job"),
            None,
        ),
        Some(Ok(found)) => (
            Ok(found.current),
            found.source,
            found.largest_device.map(|d| (d.rating, d.source)),
        ),
        Some(Err(none)) => (
            Err(none.to_string()),
            Source::computed("ampacity tables of this crate"),
            None,
        ),
    };
    Ok(WireFacts {
        per_metre: Corners {
            low: low.per_length,
            nominal: nominal.per_length,
            high: high.per_length * (1.0 - limits.cable_tolerance.value),
        },
        hottest: at(item.insulation)?.per_length,
        looked_up,
        ambient,
        ampacity,
        ampacity_source,
        grouping,
        largest_device,
        copper: cable.copper_per_length(),
        resistance_source: nominal.source,
        assumed: nominal.assumed,
    })
}

/// The facts of a jumper in the tape: its cores carry at most what the pads of the tape may.
pub(super) fn jumper(
    item: &CableItem,
    limits: &Limits,
    ambient: ThermodynamicTemperature,
    strip: Option<&StripSpec>,
) -> Result<WireFacts, String> {
    let most = strip.and_then(|strip| strip.pad_current);
    wire(item, limits, ambient, most.unwrap_or(amps(f64::INFINITY)))
}

impl WireFacts {
    /// How hot a core gets by a current in the ambient of the cable; none where no table says.
    pub fn hot(&self, current: ElectricCurrent) -> Option<ThermodynamicTemperature> {
        self.looked_up
            .as_ref()?
            .conductor_temperature(current, self.ambient)
    }
}

fn least(a: ThermodynamicTemperature, b: ThermodynamicTemperature) -> ThermodynamicTemperature {
    if b.value < a.value { b } else { a }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_strip_without_a_model_takes_that_of_no_other() {
        let text = include_str!("../../tests/plan/small.toml").replace(
            "[[cable]]",
            "[[strip]]\nname = \"a reading that no rail shows\"\nrated = \"24 V\"\npolarity = \"common plus\"\n\
             cut_pitch = \"50 mm\"\nreel = \"5 m\"\nemitters = [{ name = \"white\", cell = \"series\", diodes = 6, \
             forward = \"3.0 V\", current = \"20 mA\" }]\n\
             rails = { known_from = \"reading\", length = \"5 m\", fed_volts = \"24 V\", far_volts = \"23.999999999 V\" }\n\n[[cable]]",
        );
        let job = crate::job::read(&text, "two.toml").map_err(|f| f.to_string());
        let job = job.expect("sound");
        let mut findings = Vec::new();
        let models = tapes(&job, &mut findings);
        let names: Vec<_> = (0..3)
            .map(|at| models.get(at).map(|m| m.strip.as_str()))
            .collect();
        assert_eq!(names, [None, Some("white"), None]);
        assert_eq!(findings.len(), 1);
        assert_eq!(findings[0].rule.as_str(), "strip-model");
    }
}
