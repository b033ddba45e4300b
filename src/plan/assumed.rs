//! What was taken where the job is silent.

use super::costing;
use crate::design::{Assumed, Assumption};
use crate::finding::Figure;
use crate::job::Job;
use crate::job::spec::{
    CellSpec, Control, LimitKey, Limits, PlaceSpec, RailSpec, StripSpec, Taken, TakenFact,
};
use crate::quantity::metres;
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
                of: None,
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
        of: None,
        values: Vec::new(),
        source: diode_source(),
    });
    out.extend(lead(job));
    out.extend(costing::assumptions(job));
    out.extend(job.taken().iter().map(|taken| Assumption {
        what: Assumed::Fact(taken.fact),
        of: (!taken.of.is_empty()).then(|| (&*taken.of).into()),
        values: fact(job, taken),
        source: taken.fact.source(),
    }));
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
        of: None,
        values: vec![PlaceSpec::USUAL_LEAD.into()],
        source: Source::assumption("supply and decoder side by side in one box: a lead of 500 mm"),
    })
}

/// What was taken for a fact, or both ends of what it may be.
fn fact(job: &Job, taken: &Taken) -> Vec<Figure> {
    let name = &*taken.of;
    let found = match taken.fact {
        TakenFact::Copper => job.strip(name).and_then(copper),
        TakenFact::Strings => job.strip(name).and_then(strings),
        TakenFact::Reel => job.strip(name).map(|strip| vec![strip.reel.into()]),
        TakenFact::Cores => job
            .cable(name)
            .map(|cable| vec![Figure::count(u64::from(cable.cores))]),
        TakenFact::Insulation => job.cable(name).map(|cable| vec![cable.insulation.into()]),
        TakenFact::SupplyTolerance => job.supply(name).map(|one| vec![one.tolerance.into()]),
        TakenFact::OutputCurrent => job.supply(name).map(|one| vec![one.output_current.into()]),
        TakenFact::PlaceAmbient => job.place(name).map(|place| vec![place.ambient.into()]),
        TakenFact::DecoderSwitch => job.decoder(name).map(|one| vec![one.switch.into()]),
        TakenFact::PowerBasis
        | TakenFact::PowerShares
        | TakenFact::Polarity
        | TakenFact::Flexible
        | TakenFact::Installed
        | TakenFact::OnePlace
        | TakenFact::OneZone
        | TakenFact::Universe
        | TakenFact::Feeder
        | TakenFact::FeedAnywhere => None,
    };
    found.unwrap_or_default()
}

/// One metre of common rail, then of a return, each from least to most.
fn copper(strip: &StripSpec) -> Option<Vec<Figure>> {
    let RailSpec::Class { copper } = strip.rails else {
        return None;
    };
    let rails = copper
        .resistance(strip.emitters.len())
        .into_iter()
        .flatten();
    Some(rails.map(|rail| (rail * metres(1.0)).into()).collect())
}

/// A diode, from least to most.
fn strings(strip: &StripSpec) -> Option<Vec<Figure>> {
    strip
        .emitters
        .iter()
        .find_map(|emitter| match emitter.cell {
            CellSpec::Class { strings, .. } => {
                Some(strings.forward().into_iter().map(Into::into).collect())
            }
            _ => None,
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
