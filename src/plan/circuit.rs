//! One output of a supply with its decoders, leads, segments and feeders, and the states in which it is solved.

use super::devices::{DecoderUnit, Lead, SegmentWork, SupplyUnit};
use super::facts::{self, TapeModels};
use super::feeding;
use super::kinds;
use super::laid::RunWork;
use crate::job::Job;
use crate::network::Limit;
use crate::quantity::{ohms, volts};
use crate::segment::{Branch, Circuit, Feeder, Joint, Segment, State};

/// What circuits are made of.
#[derive(Clone, Copy)]
pub(super) struct Parts<'a, 'j> {
    pub job: &'j Job,
    pub runs: &'a [RunWork<'j>],
    pub models: &'a TapeModels,
    pub segments: &'a [SegmentWork],
    pub decoder_units: &'a [DecoderUnit<'j>],
    pub leads: &'a [Lead<'j>],
}

impl<'a> Parts<'a, '_> {
    /// The circuit of an output of `unit` with the decoder_units of `list` on it.
    ///
    /// # Errors
    /// A feeder of a cable without known resistance, a tape without a model: in words.
    pub fn circuit(&self, unit: &SupplyUnit<'_>, list: &[usize]) -> Result<Circuit<'a>, String> {
        let branches: Result<Vec<Branch<'a>>, String> = list
            .iter()
            .map(|decoder_unit| self.branch(*decoder_unit))
            .collect();
        Ok(Circuit {
            set_point: kinds::set_point(unit.spec).map(|v| volts(*v)),
            output_resistance: unit.spec.output_resistance,
            limit: Limit::None,
            branches: branches?,
            states: self.states(list),
        })
    }

    fn branch(&self, at: usize) -> Result<Branch<'a>, String> {
        let decoder_unit = &self.decoder_units[at];
        let segments: Result<Vec<Segment<'a>>, String> = decoder_unit
            .segments()
            .into_iter()
            .map(|number| self.segment(decoder_unit, number))
            .collect();
        Ok(Branch {
            lead: self.leads[at].core.map(|r| ohms(*r)),
            switch: decoder_unit.spec.map_or(ohms(0.0), |s| s.switch),
            outputs: decoder_unit.outputs.iter().map(|o| o.emitter).collect(),
            segments: segments?,
        })
    }

    fn segment(
        &self,
        decoder_unit: &DecoderUnit<'_>,
        number: usize,
    ) -> Result<Segment<'a>, String> {
        let segment = &self.segments[number];
        let run = &self.runs[segment.run];
        let (from, to) = (segment.plan.from, segment.plan.to);
        let tape = self.models.get(segment.tape);
        let outputs: Option<Vec<usize>> = (0..segment.draw.outputs.len())
            .map(|e| decoder_unit.output_of(number, e))
            .collect();
        let joints = run
            .joints
            .iter()
            .filter(|j| j.at > from && j.at < to)
            .filter(|j| j.common.value > 0.0 || j.returns.value > 0.0 || j.visible)
            .map(|j| Joint {
                mark: j.at,
                common: j.common,
                returns: j.returns,
            });
        let of_reels = run.reel.iter().flat_map(|reel| {
            let pieces = run.pieces(from, to);
            let marks = pieces.into_iter().flat_map(|(a, b)| reel.joints(a, b));
            marks.map(|mark| Joint {
                mark,
                common: reel.resistance,
                returns: reel.resistance,
            })
        });
        Ok(Segment {
            tape: tape.ok_or_else(|| format!("segment {}: its tape has no model", segment.id))?,
            from,
            to,
            joints: joints.chain(of_reels).collect(),
            outputs: outputs
                .ok_or_else(|| format!("segment {}: an emitter is on no output", segment.id))?,
            feeders: self.feeders(segment)?,
        })
    }

    fn feeders(&self, segment: &SegmentWork) -> Result<Vec<Feeder>, String> {
        let place = &self.job.places()[segment.place];
        let ambient = kinds::feeder_ambient(self.runs[segment.run].spec, place);
        let most = kinds::feeder_current(self.job, &self.job.zones()[segment.zone], place);
        let feeder = |feed: &crate::choose::feeding::FeedPoint| {
            let unknown = |why| format!("segment {}, cable \"{}\": {why}", segment.id, feed.cable);
            let item = self.job.cable(&feed.cable);
            let item = item.ok_or_else(|| unknown("the job has none of this name".to_string()))?;
            let wire = facts::wire(item, self.job.limits(), ambient, most).map_err(unknown)?;
            let metres = feed.route_length.metres();
            Ok(Feeder {
                mark: feed.at,
                core: wire.per_metre.map(|r| ohms(r.value * metres)),
                conductors: feed.conductors.iter().map(|c| c.conductor).collect(),
            })
        };
        segment.plan.feeds.iter().map(feeder).collect()
    }

    /// All zones fully lit; then each zone in each of its sets, the others fully lit.
    fn states(&self, list: &[usize]) -> Vec<State> {
        let mut zones: Vec<(usize, Vec<Vec<usize>>)> = Vec::new();
        let decoder_units = || list.iter().map(|b| &self.decoder_units[*b]);
        for decoder_unit in decoder_units() {
            if zones.iter().any(|z| z.0 == decoder_unit.zone) {
                continue;
            }
            let tape = decoder_unit
                .segments()
                .first()
                .map(|s| self.segments[*s].tape);
            if let Some(model) = tape.and_then(|t| self.models.get(t)) {
                let zone = &self.job.zones()[decoder_unit.zone];
                zones.push((decoder_unit.zone, feeding::lit_sets(zone, model)));
            }
        }
        // The set of one zone by its number, of the others the first one.
        let state = |of: usize, number: usize| State {
            lit: decoder_units()
                .map(|decoder_unit| {
                    let found = zones.iter().find(|z| z.0 == decoder_unit.zone);
                    let set = if decoder_unit.zone == of { number } else { 0 };
                    found
                        .and_then(|z| z.1.get(set))
                        .map_or_else(Vec::new, Clone::clone)
                })
                .collect(),
        };
        let mut states = vec![state(usize::MAX, 0)];
        for (zone, sets) in &zones {
            states.extend((1..sets.len()).map(|number| state(*zone, number)));
        }
        states
    }
}
