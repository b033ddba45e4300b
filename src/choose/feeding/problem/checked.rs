//! A checked run as plain numbers in SI units: what the kernels work on.

use super::accelerations::Acceleration;
use super::cell_limits::CellLimits;
use super::reels::Reels;
use super::spec::{FeedLimits, Pattern, RunProblem};
use crate::load::{Form, Law};

/// Low, nominal and high corner, as indices.
pub(crate) const LOW: usize = 0;
pub(crate) const NOMINAL: usize = 1;
pub(crate) const HIGH: usize = 2;

/// Marks of a stretch: what is known of the segments that begin in one is known of all together.
pub(crate) const STRETCH: usize = 32;

/// Relative width of the band around a limit that counts as "at the limit".
pub(crate) const BAND: f64 = 1e-9;

/// Copper and cells at one corner.
#[derive(Debug, Clone)]
pub(crate) struct CornerModel {
    /// Common rail of one increment, ohm.
    pub common: f64,
    /// Return rails of one increment, ohm.
    pub rails: Vec<f64>,
    pub laws: Vec<Law>,
}

impl CornerModel {
    #[inline]
    pub fn amps(&self, emitter: usize, volts: f64) -> f64 {
        let form: &Form = &self.laws[emitter].0;
        form.amps(volts)
    }
}

/// A source at the three corners, ohm and volt.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct SourceNumbers {
    /// Set point less the reserve.
    pub volts: [f64; 3],
    /// Set point.
    pub set_point: [f64; 3],
    /// Output and lead, carrying the sum.
    pub output: f64,
    pub lead: f64,
    /// Switch of each return.
    pub switch: f64,
}

impl SourceNumbers {
    pub fn shared(&self) -> f64 {
        self.output + self.lead
    }
}

/// A feeder to one mark: a place and a wire.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct FeedOption {
    /// Index of the place in `places`, of the wire in `wires`.
    pub place: usize,
    pub wire: usize,
    /// One core at the three corners, ohm.
    pub core: [f64; 3],
    /// Copper and labour, minor units.
    pub cost: i64,
    /// Route one way, nanometres.
    pub route: i64,
}

/// A checked run problem: nothing can be changed any more, so nothing can be spoiled.
#[derive(Debug, Clone)]
pub struct CheckedRun {
    pub(in crate::choose::feeding) spec: RunProblem,
    /// Increments.
    pub(in crate::choose::feeding) n: usize,
    pub(in crate::choose::feeding) corners: [CornerModel; 3],
    /// Nominal current of each emitter, A.
    pub(in crate::choose::feeding) nominal: Vec<f64>,
    /// Least cell voltage and current that keep the light limit, low corner.
    pub(in crate::choose::feeding) least_volts: Vec<f64>,
    pub(in crate::choose::feeding) least_amps: Vec<f64>,
    /// How many increments the limits of current leave.
    pub(in crate::choose::feeding) most: CellLimits,
    /// Sets of lit emitters as lists, without repeats.
    pub(in crate::choose::feeding) states: Vec<Vec<usize>>,
    /// Joints by mark: common, returns (ohm), price summed over the marks before.
    pub(in crate::choose::feeding) joint_common: Vec<f64>,
    pub(in crate::choose::feeding) joint_returns: Vec<f64>,
    pub(in crate::choose::feeding) joint_price_before: Vec<i64>,
    /// As many marks without a joint.
    pub(in crate::choose::feeding) no_joints: Vec<f64>,
    pub(in crate::choose::feeding) visible: Vec<bool>,
    /// Visible marks with a joint that adds resistance: on plain tape neighbours hardly differ.
    pub(in crate::choose::feeding) seen_inside: Vec<bool>,
    /// Marks with a joint that adds resistance, in order.
    pub(in crate::choose::feeding) resistive: Vec<usize>,
    /// No joint of the path adds resistance.
    pub(in crate::choose::feeding) uniform: bool,
    pub(in crate::choose::feeding) reels: Reels,
    /// Rails and feeders fold to one loop wherever all conductors are fed at the same marks: one emitter, and
    /// every part of the return path alike to its part of the common path.
    pub(in crate::choose::feeding) one_loop: bool,
    /// The high corner has no less voltage than the low one, no more resistance and the same loads, of one emitter.
    pub(in crate::choose::feeding) high_is_stronger: bool,
    /// Whether a segment may begin or end at a mark; the ends of the run always.
    pub(in crate::choose::feeding) can_break: Vec<bool>,
    /// First mark at or after each mark at which the run must be broken (exclusive of itself).
    pub(in crate::choose::feeding) next_forced: Vec<usize>,
    /// What a break at each mark costs.
    pub(in crate::choose::feeding) break_cost: Vec<i64>,
    /// Feeders for segments that begin at a mark or contain it, and for those that end there.
    pub(in crate::choose::feeding) options: Vec<Vec<FeedOption>>,
    pub(in crate::choose::feeding) end_options: Vec<Vec<FeedOption>>,
    /// Marks with a fixed feed, sorted.
    pub(in crate::choose::feeding) fixed_feeds: Vec<usize>,
    /// Fixed segments: from, to, pattern.
    pub(in crate::choose::feeding) fixed_segments: Vec<(usize, usize, Option<Pattern>)>,
    /// Sources by place.
    pub(in crate::choose::feeding) sources: Vec<SourceNumbers>,
    /// Places and wires in the order of their names.
    pub(in crate::choose::feeding) place_names: Vec<String>,
    pub(in crate::choose::feeding) wire_names: Vec<String>,
    /// One metre of one core of each wire at the three corners, ohm.
    pub(in crate::choose::feeding) wire_core: Vec<[f64; 3]>,
    /// Core current limit of each wire, A.
    pub(in crate::choose::feeding) core_limit: Vec<f64>,
    pub(in crate::choose::feeding) branch: usize,
    pub(in crate::choose::feeding) limits: FeedLimits,
    pub(in crate::choose::feeding) patterns: Vec<Pattern>,
    pub(in crate::choose::feeding) switched_off: Option<Acceleration>,
    /// Marks listed for feeds inside a segment, if they are few enough to try every pair and triple.
    pub(in crate::choose::feeding) listed_inside: Option<Vec<usize>>,
}

impl CheckedRun {
    pub(crate) fn emitters(&self) -> usize {
        self.nominal.len()
    }

    pub(crate) fn folds_to_one_loop(&self) -> bool {
        self.emitters() == 1
            && self.corners.iter().all(|c| same(c.common, c.rails[0]))
            && self
                .joint_common
                .iter()
                .zip(&self.joint_returns)
                .all(|(a, b)| same(*a, *b))
    }

    pub(crate) fn is_stronger_at_high(&self) -> bool {
        let [low, _, high] = &self.corners;
        let no_more = |low: f64, high: f64| high <= low;
        self.emitters() == 1
            && no_more(low.common, high.common)
            && no_more(low.rails[0], high.rails[0])
            && self.wire_core.iter().all(|r| no_more(r[LOW], r[HIGH]))
            && low.laws[0].is_same(&high.laws[0])
    }

    /// Core resistance of a route of `wire`, ohm, at the three corners.
    pub(crate) fn core(&self, wire: usize, route: i64) -> [f64; 3] {
        let metres = route as f64 * 1e-9;
        self.wire_core[wire].map(|r| r * metres)
    }

    /// Whether the joint at a mark adds resistance.
    pub(crate) fn adds_resistance(&self, mark: usize) -> bool {
        self.joint_common[mark] > 0.0 || self.joint_returns[mark] > 0.0
    }

    /// What joints of reels in a segment cost.
    pub(crate) fn joined_price(&self, from: usize, to: usize) -> i64 {
        if self.fixed_segment(from, to).is_some() {
            return 0;
        }
        self.reels.price(from, to)
    }

    /// Whether joints of reels inside add resistance.
    pub(crate) fn joins(&self, from: usize, to: usize) -> bool {
        self.reels.ohms > 0.0 && self.reels.count(from, to) > 0
    }

    /// No segment has a joint that adds resistance.
    pub(crate) fn is_all_plain(&self) -> bool {
        self.uniform && !self.joins(0, self.n)
    }

    /// What the joints at a mark inside a segment add to the common or to a return, ohm.
    pub(crate) fn joint(&self, common: bool, from: usize, mark: usize) -> f64 {
        let own = if common {
            self.joint_common[mark]
        } else {
            self.joint_returns[mark]
        };
        own + self.reels.at(from, mark)
    }

    /// Whether no joint strictly inside adds resistance.
    pub(crate) fn is_plain(&self, from: usize, to: usize) -> bool {
        if self.joins(from, to) {
            return false;
        }
        let first = self.resistive.partition_point(|k| *k <= from);
        self.resistive.get(first).is_none_or(|k| *k >= to)
    }

    /// Resistance that the joints strictly inside add, common and return, ohm.
    pub(crate) fn joint_sums(&self, from: usize, to: usize) -> [f64; 2] {
        let first = self.resistive.partition_point(|k| *k <= from);
        let inside = self.resistive[first..].iter().take_while(|k| **k < to);
        let reels = self.reels.ohms * self.reels.count(from, to) as f64;
        inside.fold([reels; 2], |[common, returns], k| {
            [
                common + self.joint_common[*k],
                returns + self.joint_returns[*k],
            ]
        })
    }

    /// What joints inside add at most to a segment of so many cells that begins in the stretch of marks from `start` on.
    pub(crate) fn most_joints(&self, start: usize, cells: usize) -> [f64; 2] {
        if self.is_all_plain() {
            return [0.0; 2];
        }
        let begins = start..self.n.min(start + STRETCH);
        let each = begins.map(|from| self.joint_sums(from, self.n.min(from + cells)));
        each.fold([0.0; 2], |a, b| [a[0].max(b[0]), a[1].max(b[1])])
    }

    /// Price of the joints strictly inside a segment.
    pub(crate) fn joints_inside(&self, from: usize, to: usize) -> i64 {
        self.joint_price_before[to] - self.joint_price_before[from + 1]
    }

    pub(crate) fn fixed_segment(&self, from: usize, to: usize) -> Option<Option<Pattern>> {
        self.fixed_segments
            .iter()
            .find(|(a, b, _)| *a == from && *b == to)
            .map(|s| s.2)
    }

    /// Options of a feed at `mark` of the segment that ends at `to`.
    pub(crate) fn options_at(&self, mark: usize, to: usize) -> &[FeedOption] {
        if mark == to {
            &self.end_options[mark]
        } else {
            &self.options[mark]
        }
    }

    /// The problem as given.
    #[must_use]
    pub fn problem(&self) -> &RunProblem {
        &self.spec
    }
}

fn same(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-12 * a.abs().max(b.abs())
}
