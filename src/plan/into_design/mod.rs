//! The design from what was worked out: every figure of the last joint solve under the id of its thing.
//!
//! Nothing is decided here, and nothing is patched: each thing is complete when it is put down.

mod choices;
mod control;
mod decoders_to_name;
mod jumpers;
mod power;
mod prices;
mod products;
mod reels;
mod site;
mod stock;
mod tape;

pub(super) use products::limits;

use super::SolvedJob;
use crate::design::{Corners, Design, Name};
use crate::finding::Finding;
use crate::id::{CableId, DecoderId, FeedId, SegmentId};
use crate::progress::Progress;
use crate::quantity::{Measured, Valued};

/// A quantity as data, where it is finite.
fn finite<Q: Measured>(of: Q) -> Option<Valued<Q>> {
    Valued::finite(of.si())
}

/// Three quantities as data, where all are finite.
fn corners<Q: Measured>(of: Corners<Q>) -> Option<Corners<Valued<Q>>> {
    Some(Corners {
        low: finite(of.low)?,
        nominal: finite(of.nominal)?,
        high: finite(of.high)?,
    })
}

/// Letters of feeds: a, b, c.
fn letter(number: usize) -> char {
    (b'a' + (number % 26) as u8) as char
}

/// The id of a feed of a segment, by its place in it.
pub(super) fn feed_id(segment: &str, number: usize) -> FeedId {
    FeedId::new(format!("F-{segment}{}", letter(number)))
}

/// The id of a jumper of a segment, by its place in it.
pub(crate) fn jumper_id(segment: &str, number: usize) -> CableId {
    CableId::new(format!("J-{segment}{}", letter(number)))
}

/// The id of a decoder.
pub(super) fn decoder_id(decoder: &str) -> DecoderId {
    DecoderId::new(decoder)
}

/// The id of the lead to a decoder.
pub(super) fn lead_id(decoder: &str) -> CableId {
    CableId::new(format!("L-{}", decoder.trim_start_matches("D-")))
}

impl SolvedJob<'_> {
    /// Everything but what is assumed and what the rules say.
    pub(super) fn put_into(
        &self,
        design: &mut Design,
        findings: &mut Vec<Finding>,
        progress: &mut Progress<'_>,
    ) {
        design.strips = self.strips();
        design.cable_kinds = self.cable_kinds();
        design.supply_kinds = self.supply_kinds();
        design.decoder_kinds = self.decoder_kinds();
        design.places = self.places();
        design.zones = self.zones();
        self.put_tape(design, progress);
        design.cables = self.cables(progress);
        design.supplies = self.supplies();
        design.outputs = self.outputs();
        self.put_control(design, findings, progress);
        self.put_stock(design, findings, progress);
        self.put_readings(design);
        self.put_energy(design);
        self.put_choices(design);
    }

    fn segment_id(&self, segment: usize) -> SegmentId {
        SegmentId::new(&*self.joint.segments[segment].id)
    }

    fn decoder_id(&self, decoder_unit: usize) -> DecoderId {
        decoder_id(&self.joint.decoder_units[decoder_unit].id)
    }

    /// Name of an emitter of a tape.
    pub(super) fn emitter(&self, tape: usize, emitter: usize) -> Name {
        let strip = &self.job.strips()[tape];
        let name = strip.emitters.get(emitter).map_or("", |e| e.name.as_str());
        Name::from(name)
    }
}
