//! What tapes and wires are at the corners of a job.

use crate::cable::{CableSpec, Conductor, CoreFunction, CoreSpec, Installation, StatedAmpacity};
use crate::finding::Finding;
use crate::job::Job;
use crate::job::spec::{CableItem, Limits};
use crate::quantity::{
    Corners, ElectricCurrent, LinearMass, LinearResistance, ThermodynamicTemperature,
};
use crate::rules::strip as strip_rules;
use crate::source::Source;
use crate::strip::{CornerSet, TapeModel};

/// Temperatures and tolerances of a job's corners.
pub(super) fn corner_set(limits: &Limits) -> CornerSet {
    CornerSet {
        conductor: limits.conductor,
        cell: limits.cell,
        rail_tolerance: limits.rail_tolerance,
        current_tolerance: limits.current_tolerance,
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

/// What a cable is here.
#[derive(Debug, Clone)]
pub(super) struct WireFacts {
    pub per_metre: Corners<LinearResistance>,
    pub ampacity: Result<ElectricCurrent, String>,
    pub ampacity_source: Source,
    /// Greatest overcurrent device that a rule allows.
    pub largest_device: Option<(ElectricCurrent, Source)>,
    pub copper: LinearMass,
    pub resistance_source: Source,
    pub assumed: Vec<String>,
}

/// The facts of a cable in an ambient.
pub(super) fn wire(
    item: &CableItem,
    limits: &Limits,
    ambient: ThermodynamicTemperature,
) -> Result<WireFacts, String> {
    let conductor = Conductor {
        size: item.size,
        metal: item.metal,
        construction: item.construction,
    };
    let at = |t: ThermodynamicTemperature| conductor.resistance(t).map_err(|e| e.to_string());
    let (low, nominal, high) = (
        at(limits.conductor.low)?,
        at(limits.conductor.nominal)?,
        at(limits.conductor.high)?,
    );
    let stated = Source::stated(format!("ampacity of cable \"{}\", in the job", item.name));
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
            ambient: item.insulation,
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
    let (ampacity, ampacity_source, largest_device) = match way {
        None => (
            Err("the job does not say how it is installed".to_string()),
            Source::stated("the job"),
            None,
        ),
        Some(way) => match cable.core_ampacity(0, ambient, item.cores as usize, way) {
            Ok(found) => (
                Ok(found.current),
                found.source,
                found.largest_device.map(|d| (d.rating, d.source)),
            ),
            Err(none) => (
                Err(none.to_string()),
                Source::computed("ampacity tables of this crate"),
                None,
            ),
        },
    };
    Ok(WireFacts {
        per_metre: Corners {
            low: low.per_length,
            nominal: nominal.per_length,
            high: high.per_length,
        },
        ampacity,
        ampacity_source,
        largest_device,
        copper: cable.copper_per_length(),
        resistance_source: nominal.source,
        assumed: nominal.assumed,
    })
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
