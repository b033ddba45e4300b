//! Joints of reels along a run: where they lie in a segment, what they add and cost.
//!
//! ```text
//!  from ├─ reel ─┼─ reel ─┼── ┤ parted ├─ reel ─┼── to
//!        own: counted from the segment    legs: counted from where the tape was parted
//! ```

use super::spec::RunProblem;

/// Joints of the reels that a run's tape comes on.
#[derive(Debug, Clone)]
pub(crate) struct Reels {
    /// Increments on a reel.
    each: usize,
    /// What a joint adds to each rail, ohm, and its price.
    pub ohms: f64,
    pub price: i64,
    /// What joints add, ohm: by mark from the start of a segment, up to where the tape is parted; and beyond by
    /// mark of the run.
    pub own: Vec<f64>,
    pub legs: Vec<f64>,
    /// How many joints of the second kind lie before each mark.
    before: Vec<usize>,
    /// First mark after each at which the tape is parted, or the end.
    pub next_part: Vec<usize>,
}

impl Reels {
    pub fn new(p: &RunProblem, n: usize) -> Self {
        let each = p.reel.map_or(usize::MAX, |reel| {
            usize::try_from(reel.increments)
                .unwrap_or(usize::MAX)
                .max(1)
        });
        let ohms = p.reel.map_or(0.0, |reel| reel.resistance.value);
        let mut parts = vec![false; n + 1];
        for joint in p.joints.iter().filter(|j| j.parts_tape) {
            parts[joint.at as usize] = true;
        }
        let joined = |k: usize| k > 0 && k.is_multiple_of(each);
        let add = |k: usize| if joined(k) { ohms } else { 0.0 };
        let (mut legs, mut before) = (vec![0.0; n + 1], vec![0; n + 1]);
        let mut leg = 0;
        for mark in 0..n {
            if parts[mark] {
                leg = mark;
            }
            legs[mark] = add(mark - leg);
            before[mark + 1] = before[mark] + usize::from(joined(mark - leg));
        }
        let mut next_part = vec![n; n + 1];
        for mark in (0..n).rev() {
            next_part[mark] = if parts[mark + 1] {
                mark + 1
            } else {
                next_part[mark + 1]
            };
        }
        Self {
            each,
            ohms,
            price: p.reel.map_or(0, |reel| reel.price),
            own: (0..=n).map(add).collect(),
            legs,
            before,
            next_part,
        }
    }

    /// How many joints a segment has.
    pub fn count(&self, from: usize, to: usize) -> usize {
        let part = self.next_part[from].min(to);
        (part - from - 1) / self.each + self.before[to] - self.before[part]
    }

    /// Last end of a segment from `from` with as many joints as one that ends at `to`.
    pub fn alike_up_to(&self, from: usize, to: usize) -> usize {
        if self.each == usize::MAX {
            return usize::MAX;
        }
        let part = self.next_part[from];
        if to <= part {
            // The next joint lies at the first whole reel not before `to`, unless the tape is parted there.
            let next = from + (to - from).div_ceil(self.each) * self.each;
            if next < part {
                return next;
            }
        }
        let beyond = part.max(to);
        let legs = self.before[beyond];
        let more = self.before[beyond..].partition_point(|count| *count <= legs);
        let own = |mark: usize| (part.min(mark) - from - 1) / self.each;
        if own(beyond) == own(to) {
            beyond + more - 1
        } else {
            from + (own(to) + 1) * self.each
        }
    }

    /// What they cost.
    pub fn price(&self, from: usize, to: usize) -> i64 {
        self.price.saturating_mul(self.count(from, to) as i64)
    }

    /// What a joint at a mark inside a segment adds to each rail, ohm.
    pub fn at(&self, from: usize, mark: usize) -> f64 {
        if mark < self.next_part[from] {
            self.own[mark - from]
        } else {
            self.legs[mark]
        }
    }
}
