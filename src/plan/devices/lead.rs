//! The lead between a supply and a decoder.

use super::DecoderUnit;
use crate::exact::ExactLength;
use crate::job::Job;
use crate::job::spec::CableItem;
use crate::plan::{facts, kinds};
use crate::quantity::Corners;

/// The lead of a decoder_unit: cable and one core at the corners, ohm.
pub(in crate::plan) struct Lead<'j> {
    pub cable: Option<&'j CableItem>,
    pub facts: Option<facts::WireFacts>,
    pub core: Corners<f64>,
    pub length: ExactLength,
}

/// The thinnest lead cable that carries the current; the thickest where none is known to.
pub(in crate::plan) fn lead<'j>(job: &'j Job, decoder_unit: &DecoderUnit<'_>) -> Lead<'j> {
    let none = Lead {
        cable: None,
        facts: None,
        core: Corners::same(0.0),
        length: ExactLength::ZERO,
    };
    let place = &job.places()[decoder_unit.place];
    if decoder_unit.spec.is_none() {
        return none;
    }
    let wires = kinds::lead_wires(job, &job.zones()[decoder_unit.zone], place);
    let carries = |f: &facts::WireFacts| {
        f.ampacity
            .as_ref()
            .is_ok_and(|a| a.value >= decoder_unit.current)
    };
    let at = wires
        .iter()
        .position(|(_, f)| carries(f))
        .or(wires.len().checked_sub(1));
    match at.and_then(|at| wires.into_iter().nth(at)) {
        Some((cable, facts)) => Lead {
            cable: Some(cable),
            core: facts
                .per_metre
                .map(|r| r.value * place.lead_length().to_length().value),
            facts: Some(facts),
            length: place.lead_length(),
        },
        None => none,
    }
}
