//! Which runs a thing of the design serves, by its id.
//!
//! ```text
//! run ◄─ segment ◄─ feed, piece, jumper ◄─ feeder
//!            ▲
//!            └─ decoder output ◄─ decoder ◄─ lead, slot, device of a chain ◄─ output, supply
//! ```

use crate::design::{Cable, Design, Fed, Probe, Terminals};
use crate::finding::Subject;
use crate::id::{CableId, ChainId, DecoderId, FeedId, PieceId, RunId, SegmentId, SupplyId};
use std::collections::{BTreeMap, BTreeSet};

type Runs<'a> = BTreeSet<&'a RunId>;

/// The runs of each thing.
pub(super) struct OfRuns<'a> {
    known: BTreeSet<&'a RunId>,
    segments: BTreeMap<&'a SegmentId, &'a RunId>,
    feeds: BTreeMap<&'a FeedId, &'a RunId>,
    pieces: BTreeMap<&'a PieceId, &'a RunId>,
    decoders: BTreeMap<&'a DecoderId, Runs<'a>>,
    outputs: BTreeMap<(&'a SupplyId, u64), Runs<'a>>,
    supplies: BTreeMap<&'a SupplyId, Runs<'a>>,
    cables: BTreeMap<&'a CableId, Runs<'a>>,
    chains: BTreeMap<&'a ChainId, Runs<'a>>,
}

impl<'a> OfRuns<'a> {
    pub(super) fn of(design: &'a Design) -> Self {
        let mut all = Self {
            known: design.runs.iter().map(|run| &run.id).collect(),
            segments: design.segments.iter().map(|s| (&s.id, &s.run)).collect(),
            feeds: BTreeMap::new(),
            pieces: design.pieces.iter().map(|p| (&p.id, &p.run)).collect(),
            decoders: BTreeMap::new(),
            outputs: BTreeMap::new(),
            supplies: BTreeMap::new(),
            cables: BTreeMap::new(),
            chains: BTreeMap::new(),
        };
        for feed in &design.feeds {
            if let Some(run) = all.segments.get(&feed.segment) {
                all.feeds.insert(&feed.id, run);
            }
        }
        for output in &design.decoder_outputs {
            let runs = output.segments.iter().filter_map(|s| all.segments.get(s));
            let of_decoder = all.decoders.entry(&output.decoder).or_default();
            of_decoder.extend(runs.copied());
        }
        for output in &design.outputs {
            let mut runs = Runs::new();
            for fed in &output.feeds {
                match fed {
                    Fed::Decoder(id) => runs.extend(all.decoders.get(id).into_iter().flatten()),
                    Fed::Switched { segments, .. } => {
                        runs.extend(segments.iter().filter_map(|s| all.segments.get(s)));
                    }
                }
            }
            let of_supply = all.supplies.entry(&output.supply).or_default();
            of_supply.extend(&runs);
            all.outputs.insert((&output.supply, output.output), runs);
        }
        for cable in &design.cables {
            let runs = all.of_cable(cable);
            all.cables.insert(&cable.id, runs);
        }
        for chain in &design.chains {
            let devices = chain.devices.iter().filter_map(|d| d.decoder.as_ref());
            let runs = devices.filter_map(|id| all.decoders.get(id));
            all.chains
                .insert(&chain.id, runs.flatten().copied().collect());
        }
        all
    }

    /// A feeder or a jumper ends on tape; a lead ends on a decoder.
    fn of_cable(&self, cable: &'a Cable) -> Runs<'a> {
        match &cable.to {
            Terminals::Segment { segment, .. } => {
                self.segments.get(segment).copied().into_iter().collect()
            }
            Terminals::DecoderSupply(id) | Terminals::Decoder { decoder: id, .. } => {
                self.decoders.get(id).cloned().unwrap_or_default()
            }
            Terminals::Supply { .. } | Terminals::Nothing => Runs::new(),
        }
    }

    pub(super) fn segment(&self, id: &SegmentId) -> Vec<RunId> {
        one(self.segments.get(id))
    }

    pub(super) fn feed(&self, id: &FeedId) -> Vec<RunId> {
        one(self.feeds.get(id))
    }

    /// A piece of tape, or a straight of a run: `S1 straight 2`.
    pub(super) fn piece(&self, id: &PieceId) -> Vec<RunId> {
        if let Some(run) = self.pieces.get(id) {
            return vec![(*run).clone()];
        }
        let straight = id.as_str().rsplit_once(" straight ");
        let run = straight.map(|(run, _)| RunId::new(run));
        run.into_iter()
            .filter(|run| self.known.contains(run))
            .collect()
    }

    pub(super) fn decoder(&self, id: &DecoderId) -> Vec<RunId> {
        several(self.decoders.get(id))
    }

    pub(super) fn supply(&self, id: &SupplyId) -> Vec<RunId> {
        several(self.supplies.get(id))
    }

    pub(super) fn cable(&self, id: &CableId) -> Vec<RunId> {
        several(self.cables.get(id))
    }

    pub(super) fn probe(&self, at: &Probe) -> Vec<RunId> {
        match at {
            Probe::Output { supply, output } => several(self.outputs.get(&(supply, *output))),
            Probe::Decoder(decoder) => self.decoder(decoder),
            Probe::Feed { feed, .. } => self.feed(feed),
        }
    }

    /// The runs that a subject of a finding belongs to; none where it is of a product, a place or the whole job.
    pub(super) fn subject(&self, of: &Subject) -> Vec<RunId> {
        match of {
            Subject::Run(run)
            | Subject::Corner { run, .. }
            | Subject::Leg { run, .. }
            | Subject::Mark { run, .. } => vec![run.clone()],
            Subject::Segment(id) | Subject::Rail(id) | Subject::Break { before: id, .. } => {
                self.segment(id)
            }
            Subject::Feed(feed) | Subject::Feeder { feed, .. } => self.feed(feed),
            Subject::Jumper { jumper, .. } => self.cable(jumper),
            Subject::Lead { decoder, .. } | Subject::Decoder(decoder) => self.decoder(decoder),
            Subject::Supply(supply) => self.supply(supply),
            Subject::Output { supply, output } => several(self.outputs.get(&(supply, *output))),
            Subject::Chain(chain) => several(self.chains.get(chain)),
            Subject::Link(link)
            | Subject::Part { link, .. }
            | Subject::Point { link, .. }
            | Subject::DataCable { link, .. } => several(self.chains.get(&link.chain)),
            Subject::Address { device, .. } => self.decoder(&DecoderId::new(device.as_str())),
            _ => Vec::new(),
        }
    }
}

fn one(run: Option<&&RunId>) -> Vec<RunId> {
    run.map(|run| (*run).clone()).into_iter().collect()
}

fn several(runs: Option<&Runs<'_>>) -> Vec<RunId> {
    runs.into_iter()
        .flatten()
        .map(|run| (*run).clone())
        .collect()
}
