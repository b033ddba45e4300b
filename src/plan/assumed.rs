//! What was taken where the job is silent.

use super::costing;
use crate::design::{Assumed, Assumption};
use crate::finding::Figure;
use crate::job::Job;
use crate::job::spec::{Control, LimitKey, Limits, PlaceSpec};
use crate::source::Source;
use crate::strip::cells::diode_source;

/// Temperatures of cells, one assumption where the job is silent about all of them.
const CELLS: [LimitKey; 3] = [LimitKey::CellCold, LimitKey::CellNominal, LimitKey::CellHot];

/// What was taken where the job is silent.
pub(super) fn assumptions(job: &Job) -> Vec<Assumption> {
    let limits = job.limits();
    let assumed = |key: &LimitKey| limits.is_assumed(*key);
    let mut keys: Vec<LimitKey> = LimitKey::ALL.into_iter().filter(assumed).collect();
    let cells = CELLS.iter().all(assumed);
    if cells {
        keys.retain(|key| !CELLS[1..].contains(key));
    }
    let mut out: Vec<Assumption> = keys
        .into_iter()
        .map(|key| {
            let all = cells && key == CELLS[0];
            Assumption {
                what: if all {
                    Assumed::Cells
                } else {
                    Assumed::Limit(key)
                },
                values: if all {
                    CELLS
                        .into_iter()
                        .filter_map(|key| value(limits, key))
                        .collect()
                } else {
                    value(limits, key).into_iter().collect()
                },
                source: key.source(),
            }
        })
        .collect();
    out.push(Assumption {
        what: Assumed::Diodes,
        values: Vec::new(),
        source: diode_source(),
    });
    out.extend(lead(job));
    out.extend(costing::assumptions(job));
    out
}

/// The lead of a place that states none, where a zone with decoders may use that place.
fn lead(job: &Job) -> Option<Assumption> {
    let dimmed = job
        .zones()
        .iter()
        .filter(|zone| matches!(zone.control, Control::Dmx { .. }));
    let mut places = dimmed.flat_map(|zone| &zone.places);
    let silent = |name: &String| job.place(name).is_some_and(|place| place.lead.is_none());
    places.any(silent).then(|| Assumption {
        what: Assumed::Lead,
        values: vec![PlaceSpec::USUAL_LEAD.into()],
        source: Source::assumption("supply and decoder side by side in one box: a lead of 500 mm"),
    })
}

/// What a limit is; none where it is lifted.
fn value(limits: &Limits, key: LimitKey) -> Option<Figure> {
    Some(match key {
        LimitKey::LeastCurrent => limits.least_current.into(),
        LimitKey::VisibleStep => limits.visible_step?.into(),
        LimitKey::LoadFactor => limits.load_factor.into(),
        LimitKey::ConductorHot => limits.conductor.low.into(),
        LimitKey::ConductorNominal => limits.conductor.nominal.into(),
        LimitKey::ConductorCold => limits.conductor.high.into(),
        LimitKey::CellCold => limits.cell.low.into(),
        LimitKey::CellNominal => limits.cell.nominal.into(),
        LimitKey::CellHot => limits.cell.high.into(),
        LimitKey::RailTolerance => limits.rail_tolerance.into(),
        LimitKey::CurrentTolerance => limits.current_tolerance.into(),
        LimitKey::CableTolerance => limits.cable_tolerance.into(),
        LimitKey::CurrentMargin => limits.current_margin.into(),
        LimitKey::Slack => limits.slack.into(),
        LimitKey::ChoppedFeeder => limits.chopped_feeder?.into(),
        LimitKey::ChainDevices => Figure::count(u64::from(limits.chain_devices)),
        LimitKey::ChainLength => limits.chain_length.into(),
        LimitKey::SpareTape => limits.spare_tape.into(),
    })
}
