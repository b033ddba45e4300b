//! What a segment is electrically: on plain tape the same wherever it lies.
//!
//! Two segments of one shape differ only in the lengths of their feeders, that is in one resistance for each
//! feed, and in where the joints lie that add resistance. What is found out for a span of these lengths need not be found out again at other marks.

use super::candidate::Candidate;
use super::rails::MOST_FEEDS;
use crate::choose::feeding::problem::checked::CheckedRun;
use crate::choose::feeding::problem::spec::Pattern;

/// Core resistances of a segment's feeders, feed by feed, at the three corners, ohm.
pub(crate) type Cores = [[f64; 3]; MOST_FEEDS];

/// Copper that a drop is computed with: a segment's own, or what bounds that of many segments.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Copper {
    pub cores: Cores,
    /// Joints inside where they are; else only what they add at most, on the common and on a return, ohm.
    pub joints: Option<[f64; 2]>,
}

impl Copper {
    /// Joints where they are.
    pub const fn own(cores: Cores) -> Self {
        Self {
            cores,
            joints: None,
        }
    }
}

/// How a segment is fed, through which wires, and how long its branches are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(crate) struct Shape {
    pattern: Pattern,
    place: u32,
    cells: u32,
    /// Sums of the joints inside, ohm, as bits: wherever they lie.
    joints: [u64; 2],
    /// Feeds from the start of the segment, in increments, and their wires.
    marks: [u32; MOST_FEEDS],
    wires: [u32; MOST_FEEDS],
}

/// Routes of the feeders, feed by feed, nanometres.
pub(crate) type Routes = [i64; MOST_FEEDS];

impl Shape {
    /// The shape of a candidate and the routes of its feeders. A segment and its mirror image are one
    /// shape: the third answer says whether the order of the feeds was reversed for that.
    pub fn of(m: &CheckedRun, c: &Candidate) -> (Self, Routes, bool) {
        let n = c.cells();
        let mut marks = [0_usize; MOST_FEEDS];
        let mut wires = [0_usize; MOST_FEEDS];
        let mut routes = [0; MOST_FEEDS];
        for feed in 0..c.count {
            let option = c.option(m, feed);
            marks[feed] = c.feeds[feed].0 - c.from;
            wires[feed] = option.wire;
            routes[feed] = option.route;
        }
        let mut pattern = c.pattern;
        let mut reversed = false;
        match c.pattern {
            Pattern::End => {
                pattern = Pattern::Start;
                marks[0] = 0;
            }
            Pattern::Inside => marks[0] = marks[0].max(n - marks[0]),
            Pattern::CommonAtEnd => {
                pattern = Pattern::CommonAtStart;
                reversed = true;
            }
            Pattern::BothEnds => reversed = (wires[0], routes[0]) > (wires[1], routes[1]),
            Pattern::BothEndsAndInside | Pattern::ThreeInside if marks[1] > n - marks[1] => {
                reversed = true;
                marks = [n - marks[2], n - marks[1], n - marks[0]];
            }
            _ => {}
        }
        if reversed {
            let last = c.count - 1;
            wires.swap(0, last);
            routes.swap(0, last);
        }
        let shape = Self {
            pattern,
            place: c.place(m) as u32,
            cells: n as u32,
            joints: m.joint_sums(c.from, c.to).map(f64::to_bits),
            marks: marks.map(|mark| mark as u32),
            wires: wires.map(|wire| wire as u32),
        };
        (shape, routes, reversed)
    }
}

/// Feeder lengths from one to another, feed by feed, both included, nanometres.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Span {
    pub low: Routes,
    pub high: Routes,
}

impl Span {
    pub fn point(routes: Routes) -> Self {
        Self {
            low: routes,
            high: routes,
        }
    }

    /// No feeder longer than these.
    pub fn up_to(routes: Routes) -> Self {
        Self {
            low: [0; MOST_FEEDS],
            high: routes,
        }
    }

    /// No feeder shorter than these.
    pub fn from(routes: Routes) -> Self {
        Self {
            low: routes,
            high: [i64::MAX; MOST_FEEDS],
        }
    }

    pub fn contains(&self, routes: &Routes) -> bool {
        (0..MOST_FEEDS).all(|k| self.low[k] <= routes[k] && routes[k] <= self.high[k])
    }

    pub fn is_point(&self) -> bool {
        self.low == self.high
    }

    /// The same with the order of `count` feeds reversed.
    pub fn reversed(&self, count: usize) -> Self {
        let mut other = *self;
        other.low[..count].reverse();
        other.high[..count].reverse();
        other
    }
}

impl Candidate {
    /// Core resistances of its feeders.
    pub fn cores(&self, m: &CheckedRun) -> Cores {
        let mut cores = [[0.0; 3]; MOST_FEEDS];
        for (feed, core) in cores.iter_mut().enumerate().take(self.count) {
            *core = self.option(m, feed).core;
        }
        cores
    }

    /// Core resistances with other routes.
    pub fn cores_at(&self, m: &CheckedRun, routes: &Routes) -> Cores {
        let mut cores = [[0.0; 3]; MOST_FEEDS];
        for (feed, core) in cores.iter_mut().enumerate().take(self.count) {
            *core = m.core(self.option(m, feed).wire, routes[feed]);
        }
        cores
    }
}
