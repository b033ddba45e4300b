//! A whole packet from the answer to one bit.
//!
//! A net is linear and begins at rest, and all bits are sent alike: the same volts up or down, the same
//! edge. With `p` what a place sees of one mark of `N` steps sent by itself, counted from its arrival, it sees
//!
//! ```text
//! v(kN + i) = Σ_m L(k − m) · p(mN + i)        L = +1 for a mark, −1 for a space, 0 before the first bit
//! ```
//!
//! of a packet. `p` is carried through time until the energy that is left bounds all that could still come
//! ([`NEGLECTED`]). Bits after the same levels see the same volts, so each such history is summed once, and
//! only where its recent levels leave hope of a new extreme. Lines that ring for long, and steps that do not divide a bit, are stepped through instead.

use super::judge::{Seen, window};
use super::line_net::{LineNet, Node};
use super::packet::{Levels, edge};
use std::collections::BTreeMap;
use std::ops::Range;

/// What is left out of a packet's volts, at most: V.
const NEGLECTED: f64 = 1e-5;
/// Most bits that an answer may last.
const MOST_BITS: usize = 32;
/// Most volts that are stored.
const MOST_STORED: usize = 16_000_000;
/// Steps that are summed together.
const TILE: usize = 64;
/// Levels of a bit's recent past: histories that share them are looked at together.
const RECENT: usize = 4;

type Tile = [f64; TILE];

/// How a packet is sent.
#[derive(Clone, Copy)]
pub(super) struct Sent<'a> {
    pub(super) levels: &'a Levels,
    pub(super) high: f64,
    /// Length of an edge and of a bit, steps.
    pub(super) rise: f64,
    pub(super) bit: usize,
}

/// What each place sees of the packet; none where the net has to be stepped through.
///
/// `places` are nodes and the step at which the first edge arrives there.
pub(super) fn superposed(
    mut net: LineNet,
    places: &[(Node, usize)],
    sent: Sent<'_>,
) -> Option<Vec<Seen>> {
    let answers = answers(&mut net, places, sent)?;
    let histories = Histories::of(sent.levels, answers.bits);
    let window = window(sent.bit as f64);
    Some(
        answers
            .volts
            .iter()
            .map(|volts| histories.seen(volts, sent.bit, &window))
            .collect(),
    )
}

/// What places see of one mark by itself, for so many bits from its arrival.
struct Answers {
    bits: usize,
    volts: Vec<Vec<f64>>,
}

fn answers(net: &mut LineNet, places: &[(Node, usize)], sent: Sent<'_>) -> Option<Answers> {
    let bit = sent.bit;
    let room = (MOST_BITS * bit).min(MOST_STORED / places.len().max(1));
    let mut volts: Vec<Vec<f64>> = places.iter().map(|_| Vec::with_capacity(room)).collect();
    let mut order: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for (place, (node, _)) in places.iter().enumerate() {
        order.entry(node.index()).or_default().push(place);
    }
    let order: Vec<Vec<usize>> = (0..net.count())
        .map(|node| order.remove(&node).unwrap_or_default())
        .collect();
    let sends = sent.levels.bits().len();
    let (mut at, mut bits) = (0, 0);
    while bits == 0 {
        net.run(
            bit,
            |first, out| {
                for (offset, out) in out.iter_mut().enumerate() {
                    let step = (at + first + offset) as f64;
                    let down = edge(step - bit as f64, sent.rise);
                    *out = sent.high * (edge(step, sent.rise) - down);
                }
            },
            |node, first, seen| {
                for &place in order.get(node.index()).map_or(&[][..], Vec::as_slice) {
                    if let (Some(volts), Some(&(_, arrival))) =
                        (volts.get_mut(place), places.get(place))
                    {
                        let early = arrival.saturating_sub(at + first);
                        volts.extend_from_slice(seen.get(early..).unwrap_or(&[]));
                    }
                }
            },
        );
        at += bit;
        // The source rests when the edge back to zero is over.
        let quiet = at >= bit + libm::ceil(sent.rise) as usize
            && net.volts_left() * (sends as f64) <= NEGLECTED;
        let longest = volts.iter().map(Vec::len).max().unwrap_or(0);
        let shortest = volts.iter().map(Vec::len).min().unwrap_or(0);
        if quiet || shortest >= sends * bit {
            bits = longest.div_ceil(bit).clamp(1, sends.max(1));
        } else if at > MOST_BITS * bit || longest * places.len() > MOST_STORED {
            return None;
        }
    }
    if bits > MOST_BITS {
        return None;
    }
    volts
        .iter_mut()
        .for_each(|volts| volts.resize(bits * bit, 0.0));
    Some(Answers { bits, volts })
}

/// Levels that came before a bit, relative to its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct History {
    /// How many levels there are, its own included.
    length: usize,
    /// Bit `m` is set where the level `m` bits ago was the other.
    other: u32,
}

impl History {
    fn signs(self) -> impl Iterator<Item = f64> {
        (0..self.length).map(move |age| {
            if self.other >> age & 1 == 1 {
                -1.0
            } else {
                1.0
            }
        })
    }

    fn recent(self) -> Self {
        Self {
            length: self.length.min(RECENT),
            other: self.other & ((1 << RECENT) - 1),
        }
    }
}

/// Every history of a packet, under its recent part; whether a bit after it is judged.
struct Histories {
    bits: usize,
    classes: BTreeMap<History, BTreeMap<History, bool>>,
}

impl Histories {
    fn of(levels: &Levels, bits: usize) -> Self {
        let mut classes: BTreeMap<_, BTreeMap<_, bool>> = BTreeMap::new();
        for (at, own) in levels.bits().iter().enumerate() {
            let until = levels.bits().get(..=at).unwrap_or(&[]);
            let recent = until.iter().rev().take(bits).enumerate();
            let history = History {
                length: bits.min(at + 1),
                other: recent.fold(0, |other, (age, level)| {
                    other | u32::from(level != own) << age
                }),
            };
            let class = classes.entry(history.recent()).or_default();
            *class.entry(history).or_default() |= at >= levels.first_judged();
        }
        Self { bits, classes }
    }

    /// Extremes over all bits of what one place sees.
    ///
    /// A class whose recent part is farther from the extremes found so far than all older levels can
    /// bring it cannot hold a new one.
    fn seen(&self, volts: &[f64], bit: usize, window: &Range<usize>) -> Seen {
        let mut seen = Seen::NOTHING;
        let middle = bit.div_ceil(2);
        let mut ages: Vec<&[f64]> = Vec::with_capacity(self.bits);
        for first in (0..bit).step_by(TILE) {
            let steps = first..bit.min(first + TILE);
            ages.clear();
            ages.extend((0..self.bits).map(|age| {
                let part = age * bit + steps.start..age * bit + steps.end;
                volts.get(part).unwrap_or(&[])
            }));
            let (recent, older) = ages.split_at(RECENT.min(self.bits));
            let mut bound = [0.0; TILE];
            for tile in older {
                bound.iter_mut().zip(*tile).for_each(|(b, v)| *b += v.abs());
            }
            let bound = bound.iter().copied().fold(0.0, f64::max);
            let tile = Sampled {
                judged: window.start.max(steps.start)..window.end.min(steps.end),
                middle: steps.contains(&middle).then_some(middle),
                steps,
            };
            for (class, members) in &self.classes {
                let base = sum([0.0; TILE], recent, class.signs());
                let (low, high) = extremes(&base);
                let hopeful = high.max(-low) + bound > seen.peak
                    || (!tile.judged.is_empty() && low - bound < seen.least_in_window)
                    || tile.middle.is_some();
                if hopeful {
                    for (history, &judged) in members {
                        let whole = sum(base, older, history.signs().skip(RECENT));
                        tile.look(&whole, judged, &mut seen);
                    }
                }
            }
        }
        seen
    }
}

fn sum(mut total: Tile, ages: &[&[f64]], signs: impl Iterator<Item = f64>) -> Tile {
    for (tile, sign) in ages.iter().zip(signs) {
        for (total, volt) in total.iter_mut().zip(*tile) {
            *total += sign * volt;
        }
    }
    total
}

/// Least and greatest, in four lanes.
fn extremes(volts: &[f64]) -> (f64, f64) {
    let less = |a: f64, b: f64| if b < a { b } else { a };
    let more = |a: f64, b: f64| if b > a { b } else { a };
    let (mut low, mut high) = ([f64::INFINITY; 4], [f64::NEG_INFINITY; 4]);
    let chunks = volts.chunks_exact(4);
    let rest = chunks.remainder();
    for chunk in chunks {
        for ((low, high), &volt) in low.iter_mut().zip(&mut high).zip(chunk) {
            (*low, *high) = (less(*low, volt), more(*high, volt));
        }
    }
    let all = rest.iter().copied();
    (
        low.into_iter().chain(all.clone()).fold(f64::INFINITY, less),
        high.into_iter().chain(all).fold(f64::NEG_INFINITY, more),
    )
}

/// Steps of a bit that a tile holds.
struct Sampled {
    steps: Range<usize>,
    /// Those in the sampling window.
    judged: Range<usize>,
    /// The middle of the bit.
    middle: Option<usize>,
}

impl Sampled {
    fn look(&self, volts: &Tile, judged: bool, seen: &mut Seen) {
        let start = self.steps.start;
        let (low, high) = extremes(volts.get(..self.steps.len()).unwrap_or(volts));
        seen.peak = seen.peak.max(high).max(-low);
        if !judged {
            return;
        }
        let inside = self.judged.start.saturating_sub(start)..self.judged.end.saturating_sub(start);
        if let Some(inside) = volts.get(inside).filter(|inside| !inside.is_empty()) {
            seen.least_in_window = seen.least_in_window.min(extremes(inside).0);
        }
        if let Some(volts) = self.middle.and_then(|middle| volts.get(middle - start)) {
            seen.least_at_middle = seen.least_at_middle.min(*volts);
        }
    }
}
