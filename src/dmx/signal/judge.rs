//! Watching what a receiver samples.

use super::super::timing::BIT_SECONDS;
use super::line_net::Node;
use super::packet::Levels;
use std::collections::BTreeMap;

/// Part of a bit in which a receiver may sample, from the arrival of the bit's edge.
const WINDOW: (f64, f64) = (0.25, 0.75);

/// What one place saw. Volts are counted in the sense of the level sent.
#[derive(Debug, Clone, Copy)]
pub(super) struct Seen {
    pub(super) least_at_middle: f64,
    pub(super) least_in_window: f64,
    pub(super) peak: f64,
}

impl Seen {
    pub(super) const NOTHING: Self = Self {
        least_at_middle: f64::INFINITY,
        least_in_window: f64::INFINITY,
        peak: 0.0,
    };
}

/// Steps of a bit, a whole number where they divide it but for rounding.
pub(super) fn bit_steps(step: f64) -> f64 {
    let (bit, whole) = (BIT_SECONDS / step, libm::round(BIT_SECONDS / step));
    if (bit - whole).abs() <= 1e-9 * bit {
        whole
    } else {
        bit
    }
}

/// Steps after the arrival of a bit of `bit` steps at which it may be sampled.
pub(super) fn window(bit: f64) -> std::ops::Range<usize> {
    let (from, to) = (libm::ceil(WINDOW.0 * bit), libm::floor(WINDOW.1 * bit));
    from as usize..to as usize + 1
}

/// The places that are watched. Parts on one node arrive at one time.
pub(super) struct Watch<'a> {
    levels: &'a Levels,
    /// Steps of a bit.
    bit: f64,
    places: Vec<Option<(usize, Seen)>>,
    index: BTreeMap<Node, usize>,
    order: Vec<Option<usize>>,
}

impl<'a> Watch<'a> {
    pub(super) fn new(levels: &'a Levels, step: f64) -> Self {
        let (places, order) = (Vec::new(), Vec::new());
        Self {
            levels,
            bit: bit_steps(step),
            places,
            index: BTreeMap::new(),
            order,
        }
    }

    pub(super) fn add(&mut self, node: Node, arrival: usize) {
        let next = self.places.len();
        if *self.index.entry(node).or_insert(next) == next {
            self.places.push(Some((arrival, Seen::NOTHING)));
            if self.order.len() <= node.index() {
                self.order.resize(node.index() + 1, None);
            }
            if let Some(order) = self.order.get_mut(node.index()) {
                *order = Some(next);
            }
        }
    }

    pub(super) fn seen(&self, node: Node) -> Seen {
        let place = self.index.get(&node).and_then(|&at| self.places.get(at));
        place
            .and_then(|place| *place)
            .map_or(Seen::NOTHING, |(_, seen)| seen)
    }

    /// Takes the volts of a node from step `first` on.
    pub(super) fn see(&mut self, node: Node, first: usize, volts: &[f64]) {
        let Some(at) = self.order.get(node.index()).copied().flatten() else {
            return;
        };
        let Some(Some((arrival, seen))) = self.places.get_mut(at) else {
            return;
        };
        // Steps since the first bit arrived, at the start and behind the end of `volts`.
        let start = first as f64 - *arrival as f64;
        let left = self.levels.bits().len() as f64 * self.bit - start;
        let volts = volts
            .get(..volts.len().min(libm::ceil(left.max(0.0)) as usize))
            .unwrap_or(volts);
        let end = start + volts.len() as f64;
        seen.peak = seen.peak.max(extreme(volts, 1.0)).max(extreme(volts, -1.0));
        let mut bit = (start / self.bit).max(0.0) as usize;
        while (bit as f64) * self.bit < end {
            if bit >= self.levels.first_judged()
                && let Some(&mark) = self.levels.bits().get(bit)
            {
                let sign = if mark { 1.0 } else { -1.0 };
                let place = |part: f64| ((bit as f64 + part) * self.bit - start).max(0.0);
                let (from, to) = (
                    libm::ceil(place(WINDOW.0)) as usize,
                    libm::floor((bit as f64 + WINDOW.1) * self.bit - start + 1.0).max(0.0) as usize,
                );
                if let Some(window) =
                    volts.get(from.min(volts.len())..to.min(volts.len()).max(from.min(volts.len())))
                {
                    // The least of sign · v is minus the greatest of −sign · v.
                    seen.least_in_window = seen.least_in_window.min(-extreme(window, -sign));
                }
                let middle = libm::floor((bit as f64 + 0.5) * self.bit - start + 0.5);
                if middle >= 0.0
                    && let Some(volts) = volts.get(middle as usize)
                {
                    seen.least_at_middle = seen.least_at_middle.min(sign * volts);
                }
            }
            bit += 1;
        }
    }
}

/// The greatest of `sign · v`, in four lanes.
fn extreme(volts: &[f64], sign: f64) -> f64 {
    let greater = |a: f64, b: f64| if b > a { b } else { a };
    let mut lanes = [f64::NEG_INFINITY; 4];
    let chunks = volts.chunks_exact(4);
    let mut rest = f64::NEG_INFINITY;
    for &volt in chunks.remainder() {
        rest = greater(rest, sign * volt);
    }
    for chunk in chunks {
        for (lane, volt) in lanes.iter_mut().zip(chunk) {
            *lane = greater(*lane, sign * volt);
        }
    }
    lanes.into_iter().fold(rest, greater)
}
