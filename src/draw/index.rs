//! Things of a design by what they belong to, found once for all figures.

use super::lengths::Lengths;
use crate::design::{
    Cable, Decoder, Design, Feed, Piece, Run, Segment, Stock, StockKind, Terminals,
};
use crate::id::{CableId, DecoderId, PieceId, RunId, SegmentId};
use std::collections::BTreeMap;

/// A design with its things by what they belong to.
pub(super) struct Index<'a> {
    pub design: &'a Design,
    pub lengths: Lengths,
    segments: BTreeMap<&'a RunId, Vec<&'a Segment>>,
    segment: BTreeMap<&'a SegmentId, &'a Segment>,
    feeds: BTreeMap<&'a SegmentId, Vec<&'a Feed>>,
    pieces: BTreeMap<&'a RunId, Vec<&'a Piece>>,
    cables: BTreeMap<&'a CableId, &'a Cable>,
    leads: BTreeMap<&'a DecoderId, &'a Cable>,
    decoders: BTreeMap<&'a DecoderId, &'a Decoder>,
    /// Parts of each piece of tape, by their numbers.
    parts: BTreeMap<&'a PieceId, Vec<(u64, &'a Stock, crate::exact::ExactLength)>>,
}

fn of<'m, K: Ord, V>(map: &'m BTreeMap<&K, Vec<V>>, key: &K) -> &'m [V] {
    map.get(key).map_or(&[], Vec::as_slice)
}

impl<'a> Index<'a> {
    pub fn of(design: &'a Design) -> Self {
        let mut out = Self {
            design,
            lengths: Lengths::of(design),
            segments: BTreeMap::new(),
            segment: design.segments.iter().map(|s| (&s.id, s)).collect(),
            feeds: BTreeMap::new(),
            pieces: BTreeMap::new(),
            cables: design.cables.iter().map(|c| (&c.id, c)).collect(),
            leads: BTreeMap::new(),
            decoders: design.decoders.iter().map(|d| (&d.id, d)).collect(),
            parts: BTreeMap::new(),
        };
        for segment in &design.segments {
            out.segments.entry(&segment.run).or_default().push(segment);
        }
        for feed in &design.feeds {
            out.feeds.entry(&feed.segment).or_default().push(feed);
        }
        for piece in &design.pieces {
            out.pieces.entry(&piece.run).or_default().push(piece);
        }
        for cable in &design.cables {
            if let Terminals::DecoderSupply(decoder) = &cable.to {
                out.leads.insert(decoder, cable);
            }
        }
        for stock in design.stock.iter().filter(|s| s.kind == StockKind::Reel) {
            for part in &stock.parts {
                let parts = out.parts.entry(&part.piece).or_default();
                parts.push((part.part, stock, part.length));
            }
        }
        for parts in out.parts.values_mut() {
            parts.sort_by_key(|(number, ..)| *number);
        }
        out
    }

    pub fn segments(&self, run: &Run) -> &[&'a Segment] {
        of(&self.segments, &run.id)
    }

    pub fn segment(&self, id: &SegmentId) -> Option<&'a Segment> {
        self.segment.get(id).copied()
    }

    pub fn feeds(&self, segment: &Segment) -> &[&'a Feed] {
        of(&self.feeds, &segment.id)
    }

    pub fn pieces(&self, run: &Run) -> &[&'a Piece] {
        of(&self.pieces, &run.id)
    }

    pub fn cable(&self, id: &CableId) -> Option<&'a Cable> {
        self.cables.get(id).copied()
    }

    pub fn lead(&self, decoder: &DecoderId) -> Option<&'a Cable> {
        self.leads.get(decoder).copied()
    }

    pub fn decoder(&self, id: &DecoderId) -> Option<&'a Decoder> {
        self.decoders.get(id).copied()
    }

    /// Where reels join inside a piece, from its start.
    pub fn reel_joints(&self, piece: &Piece) -> Vec<crate::exact::ExactLength> {
        let mut at = crate::exact::ExactLength::ZERO;
        let mut out = Vec::new();
        for (.., length) in of(&self.parts, &piece.id) {
            at = at.saturating_add(*length);
            out.push(at);
        }
        out.pop();
        out
    }

    /// First slot of a decoder: `1.005`.
    pub fn address(&self, decoder: &DecoderId) -> Option<String> {
        let address = self.decoder(decoder)?.address.as_ref()?;
        Some(format!("{}.{:03}", address.universe, address.first))
    }
}
