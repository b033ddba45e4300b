//! The design with what several rules need of it, computed once.

use super::{data_line, protection};
use crate::design::{
    Cable, CableKind, Decoder, DecoderKind, DecoderOutput, Design, Feed, Place, Run, Segment,
    SegmentFigures, Solved, Strip, Supply, SupplyKind, Terminals, Zone,
};
use crate::finding::Finding;
use crate::id::{CableId, DecoderId, PlaceId, ProductId, RunId, SegmentId, SupplyId, ZoneId};
use std::cell::OnceCell;
use std::collections::BTreeMap;

type Index<'d, K, T> = BTreeMap<&'d K, &'d T>;

fn index<'d, K: Ord, T>(all: &'d [T], id: impl Fn(&'d T) -> &'d K) -> Index<'d, K, T> {
    all.iter().map(|one| (id(one), one)).collect()
}

fn groups<'d, K: Ord, T>(all: &'d [T], of: impl Fn(&'d T) -> &'d K) -> BTreeMap<&'d K, Vec<&'d T>> {
    let mut out: BTreeMap<&K, Vec<&T>> = BTreeMap::new();
    for one in all {
        out.entry(of(one)).or_default().push(one);
    }
    out
}

/// What a rule reads: a design, its things by their ids, and what whole rooms find of it.
pub struct View<'d> {
    /// The design.
    pub design: &'d Design,
    strips: Index<'d, ProductId, Strip>,
    cable_kinds: Index<'d, ProductId, CableKind>,
    supply_kinds: Index<'d, ProductId, SupplyKind>,
    decoder_kinds: Index<'d, ProductId, DecoderKind>,
    zones: Index<'d, ZoneId, Zone>,
    runs: Index<'d, RunId, Run>,
    segments: BTreeMap<&'d SegmentId, (usize, &'d Segment)>,
    feeds: BTreeMap<&'d SegmentId, Vec<&'d Feed>>,
    cables: Index<'d, CableId, Cable>,
    leads: Index<'d, DecoderId, Cable>,
    places: Index<'d, PlaceId, Place>,
    jumpers: BTreeMap<&'d SegmentId, Vec<&'d Cable>>,
    supplies: Index<'d, SupplyId, Supply>,
    decoders: Index<'d, DecoderId, Decoder>,
    outputs: BTreeMap<&'d DecoderId, Vec<&'d DecoderOutput>>,
    protection: OnceCell<protection::Judged>,
    data_line: OnceCell<Vec<Finding>>,
}

impl<'d> View<'d> {
    /// The view of a design.
    #[must_use]
    pub fn of(design: &'d Design) -> Self {
        let segments = design.segments.iter().enumerate();
        let leads = design.cables.iter().filter_map(|cable| match &cable.to {
            Terminals::DecoderSupply(decoder) => Some((decoder, cable)),
            _ => None,
        });
        let mut jumpers: BTreeMap<&SegmentId, Vec<&Cable>> = BTreeMap::new();
        for cable in &design.cables {
            if let Terminals::Segment { segment, .. } = &cable.from {
                jumpers.entry(segment).or_default().push(cable);
            }
        }
        Self {
            design,
            strips: index(&design.strips, |one| &one.id),
            cable_kinds: index(&design.cable_kinds, |one| &one.id),
            supply_kinds: index(&design.supply_kinds, |one| &one.id),
            decoder_kinds: index(&design.decoder_kinds, |one| &one.id),
            zones: index(&design.zones, |one| &one.id),
            runs: index(&design.runs, |one| &one.id),
            segments: segments.map(|(at, one)| (&one.id, (at, one))).collect(),
            feeds: groups(&design.feeds, |one| &one.segment),
            cables: index(&design.cables, |one| &one.id),
            leads: leads.collect(),
            places: index(&design.places, |one| &one.id),
            jumpers,
            supplies: index(&design.supplies, |one| &one.id),
            decoders: index(&design.decoders, |one| &one.id),
            outputs: groups(&design.decoder_outputs, |one| &one.decoder),
            protection: OnceCell::new(),
            data_line: OnceCell::new(),
        }
    }

    /// A tape.
    #[must_use]
    pub fn strip(&self, id: &ProductId) -> Option<&'d Strip> {
        self.strips.get(id).copied()
    }

    /// A kind of cable.
    #[must_use]
    pub fn cable_kind(&self, id: &ProductId) -> Option<&'d CableKind> {
        self.cable_kinds.get(id).copied()
    }

    /// The kind of a supply.
    #[must_use]
    pub fn supply_kind(&self, of: &SupplyId) -> Option<&'d SupplyKind> {
        let supply = self.supplies.get(of)?;
        self.supply_kinds.get(&supply.kind).copied()
    }

    /// The kind of a decoder.
    #[must_use]
    pub fn decoder_kind(&self, of: &DecoderId) -> Option<&'d DecoderKind> {
        let decoder = self.decoder(of)?;
        self.decoder_kinds.get(&decoder.kind).copied()
    }

    /// A supply.
    #[must_use]
    pub fn supply(&self, id: &SupplyId) -> Option<&'d Supply> {
        self.supplies.get(id).copied()
    }

    /// A zone.
    #[must_use]
    pub fn zone(&self, id: &ZoneId) -> Option<&'d Zone> {
        self.zones.get(id).copied()
    }

    /// A run.
    #[must_use]
    pub fn run(&self, id: &RunId) -> Option<&'d Run> {
        self.runs.get(id).copied()
    }

    /// A segment.
    #[must_use]
    pub fn segment(&self, id: &SegmentId) -> Option<&'d Segment> {
        self.segments.get(id).map(|(_, segment)| *segment)
    }

    /// Every segment that was solved, with its figures, in order.
    pub fn solved_segments(&self) -> impl Iterator<Item = (&'d Segment, &'d SegmentFigures)> {
        self.design
            .segments
            .iter()
            .filter_map(|segment| Some((segment, segment.solved.figures()?)))
    }

    /// The feeds of a segment, in order.
    #[must_use]
    pub fn feeds_of(&self, segment: &SegmentId) -> &[&'d Feed] {
        self.feeds.get(segment).map_or(&[], Vec::as_slice)
    }

    /// A cable.
    #[must_use]
    pub fn cable(&self, id: &CableId) -> Option<&'d Cable> {
        self.cables.get(id).copied()
    }

    /// A place.
    #[must_use]
    pub fn place(&self, id: &PlaceId) -> Option<&'d Place> {
        self.places.get(id).copied()
    }

    /// The lead of a decoder.
    #[must_use]
    pub fn lead_of(&self, decoder: &DecoderId) -> Option<&'d Cable> {
        self.leads.get(decoder).copied()
    }

    /// The jumpers of a segment, in order.
    #[must_use]
    pub fn jumpers_of(&self, segment: &SegmentId) -> &[&'d Cable] {
        self.jumpers.get(segment).map_or(&[], Vec::as_slice)
    }

    /// A decoder.
    #[must_use]
    pub fn decoder(&self, id: &DecoderId) -> Option<&'d Decoder> {
        self.decoders.get(id).copied()
    }

    /// The outputs of a decoder in use, in order.
    #[must_use]
    pub fn outputs_of(&self, decoder: &DecoderId) -> &[&'d DecoderOutput] {
        self.outputs.get(decoder).map_or(&[], Vec::as_slice)
    }

    /// The segments on a decoder, each once, in order.
    #[must_use]
    pub fn segments_of(&self, decoder: &DecoderId) -> Vec<&'d Segment> {
        let outputs = self.outputs_of(decoder).iter();
        let named = outputs.flat_map(|output| &output.segments);
        let found: BTreeMap<usize, &'d Segment> = named
            .filter_map(|id| self.segments.get(id).copied())
            .collect();
        found.into_values().collect()
    }

    /// The protection room's answer for the whole design.
    pub(super) fn protection(&self) -> &protection::Judged {
        self.protection.get_or_init(|| protection::all(self))
    }

    /// What the rules of the data line say of every chain.
    pub(super) fn data_line(&self) -> &[Finding] {
        self.data_line.get_or_init(|| data_line::all(self.design))
    }
}

/// Whether something was solved, or why not.
pub(super) fn why_not<F>(solved: &Solved<F>) -> Option<&str> {
    match solved {
        Solved::Figures(_) => None,
        Solved::Not(why) => Some(why.as_str()),
    }
}
