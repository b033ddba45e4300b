//! Where each segment and each decoder unit stands in the joint solve, found once.

use super::devices::DecoderUnit;
use super::joined::Joined;

/// Places in the lists of a joint solve.
#[derive(Debug, Default)]
pub(super) struct Served {
    /// By segment: its decoder unit, and its place among the segments of that.
    segments: Vec<Option<(usize, usize)>>,
    /// By decoder unit: the output that was solved, and its branch there.
    decoder_units: Vec<Option<(usize, usize)>>,
}

impl Served {
    /// Of everything that was solved.
    pub fn of(segments: usize, decoder_units: &[DecoderUnit<'_>], joined: &[Joined]) -> Self {
        let mut out = Self {
            segments: vec![None; segments],
            decoder_units: vec![None; decoder_units.len()],
        };
        for (unit, own) in decoder_units.iter().enumerate() {
            for (at, segment) in own.segments().into_iter().enumerate() {
                if let Some(slot) = out.segments.get_mut(segment) {
                    slot.get_or_insert((unit, at));
                }
            }
        }
        for (output, own) in joined.iter().enumerate() {
            for (branch, unit) in own.decoder_units.iter().enumerate() {
                if let Some(slot) = out.decoder_units.get_mut(*unit) {
                    slot.get_or_insert((output, branch));
                }
            }
        }
        out
    }

    /// The decoder unit of a segment, and the segment's place there.
    pub fn segment(&self, segment: usize) -> Option<(usize, usize)> {
        *self.segments.get(segment)?
    }

    /// The output that a decoder unit hangs on, by its place in the list of those solved, and its branch there.
    pub fn decoder_unit(&self, decoder_unit: usize) -> Option<(usize, usize)> {
        *self.decoder_units.get(decoder_unit)?
    }
}
