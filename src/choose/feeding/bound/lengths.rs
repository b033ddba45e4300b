//! Most increments of segments with feeds at both ends, or at several even places, by stretch of the run.
//!
//! A stretch is a row of marks where such segments may begin. The least resistances that feeders of a wire
//! have from there on bound all of them at once, and what is found out later lowers the bound.

use super::branch_needs::SLACK;
use super::conditions::average;
use super::currents::CurrentBounds;
use super::longest::longest_from;
use super::uniform_load::margin_at_least;
use crate::choose::feeding::circuit::candidate::Candidate;
use crate::choose::feeding::circuit::placements::even;
use crate::choose::feeding::circuit::rails::MOST_FEEDS;
use crate::choose::feeding::circuit::shape::Span;
use crate::choose::feeding::problem::accelerations::Acceleration;
use crate::choose::feeding::problem::checked::{CheckedRun, LOW, STRETCH};
use crate::choose::feeding::problem::spec::Pattern;

/// The patterns with one feed at each end.
pub(crate) const TWO_ENDED: [Pattern; 3] = [
    Pattern::CommonAtStart,
    Pattern::CommonAtEnd,
    Pattern::BothEnds,
];

/// The patterns with several feeds through one wire, their feeds, and the branches the tape is in.
pub(crate) const SEVERAL: [(Pattern, usize, usize); 3] = [
    (Pattern::TwoInside, 2, 4),
    (Pattern::BothEndsAndInside, 3, 4),
    (Pattern::ThreeInside, 3, 6),
];

/// A bound on increments.
#[derive(Debug, Clone, Copy)]
struct Bound {
    most: usize,
    /// All necessary conditions were asked.
    asked: bool,
}

/// Bounds by pattern, wires and stretch, each made when it is first asked for.
#[derive(Debug)]
pub(crate) struct LengthBounds {
    stretches: usize,
    places: usize,
    wires: usize,
    /// Route by place and mark, nanometres, and the least at or after the mark.
    routes: Vec<Option<i64>>,
    least_on: Vec<Option<i64>>,
    /// The least by place and stretch, and the most of as many marks as a stretch has, from each on.
    nearest: Vec<Option<i64>>,
    furthest: Vec<Option<i64>>,
    two: Vec<Bound>,
    several: Vec<Bound>,
    pub totals: CurrentBounds,
    /// Bounds whatever the pattern.
    all: usize,
}

impl LengthBounds {
    pub fn new(m: &CheckedRun) -> Self {
        let (places, wires) = (m.sources.len(), m.wire_names.len());
        let each = m.n + 1;
        let mut routes = vec![None; places * each];
        for lists in [&m.options, &m.end_options] {
            for (mark, list) in lists.iter().enumerate() {
                for o in list {
                    routes[o.place * each + mark] = Some(o.route);
                }
            }
        }
        let mut least_on = routes.clone();
        for place in least_on.chunks_mut(each) {
            for mark in (0..m.n).rev() {
                place[mark] = match (place[mark], place[mark + 1]) {
                    (Some(a), Some(b)) => Some(a.min(b)),
                    (a, b) => a.or(b),
                };
            }
        }
        let stretches = m.n.div_ceil(STRETCH);
        let (mut nearest, mut furthest) = (Vec::new(), Vec::new());
        for place in routes.chunks(each) {
            let parts = place[..m.n].chunks(STRETCH);
            nearest.extend(parts.map(|part| part.iter().flatten().copied().min()));
            // The most of twice as many, until there are enough.
            let mut most = place.to_vec();
            let mut count = 1;
            while count < STRETCH {
                let more = count.min(STRETCH - count);
                for mark in 0..each.saturating_sub(more) {
                    most[mark] = most[mark].max(most[mark + more]);
                }
                count += more;
            }
            furthest.extend(most);
        }
        let unknown = Bound {
            most: m.most_in_any().min(m.n),
            asked: false,
        };
        Self {
            stretches,
            places,
            wires,
            routes,
            least_on,
            nearest,
            furthest,
            two: vec![unknown; TWO_ENDED.len() * places * wires * wires * stretches],
            several: vec![unknown; SEVERAL.len() * places * wires * stretches],
            totals: CurrentBounds::new(m),
            all: unknown.most,
        }
    }

    /// No segment is longer than this.
    pub fn any(&self) -> usize {
        self.all
    }

    fn two_at(&self, pattern: usize, place: usize, wires: [usize; 2], x: usize) -> usize {
        let at = (pattern * self.places + place) * self.wires + wires[0];
        (at * self.wires + wires[1]) * self.stretches + x / STRETCH
    }

    fn several_at(&self, pattern: usize, place: usize, wire: usize, x: usize) -> usize {
        ((pattern * self.places + place) * self.wires + wire) * self.stretches + x / STRETCH
    }

    /// What is known without asking.
    pub fn known_two(&self, pattern: usize, place: usize, wires: [usize; 2], x: usize) -> usize {
        self.two[self.two_at(pattern, place, wires, x)].most
    }

    /// What is known without asking.
    pub fn known_several(&self, pattern: usize, place: usize, wire: usize, x: usize) -> usize {
        self.several[self.several_at(pattern, place, wire, x)].most
    }

    fn stretch(m: &CheckedRun, x: usize) -> std::ops::Range<usize> {
        let first = x - x % STRETCH;
        first..(first + STRETCH).min(m.n)
    }

    /// Least route over the marks of a stretch.
    fn least_in(&self, place: usize, x: usize) -> Option<i64> {
        self.nearest[place * self.stretches + x / STRETCH]
    }

    /// Longest route from a place to any of a stretch of marks from the first on, nanometres.
    fn most_in(&self, m: &CheckedRun, place: usize, first: usize) -> Option<i64> {
        self.furthest[place * (m.n + 1) + first]
    }

    /// Least route from a place to a mark or any after it, nanometres.
    pub fn least_from(&self, m: &CheckedRun, place: usize, mark: usize) -> Option<i64> {
        self.least_on[place * (m.n + 1) + mark.min(m.n)]
    }

    /// Most increments of a segment that begins in the stretch of `x` and is fed at both ends; where they are fewer than
    /// `least`, maybe even fewer than stated.
    #[allow(clippy::too_many_arguments)]
    pub fn two(
        &mut self,
        m: &CheckedRun,
        pattern: usize,
        place: usize,
        wires: [usize; 2],
        x: usize,
        least: usize,
    ) -> usize {
        let at = self.two_at(pattern, place, wires, x);
        let known = self.two[at];
        if !m.uses(Acceleration::LengthBounds) || known.asked || known.most < least {
            return known.most;
        }
        let source = &m.sources[place];
        let start = Self::stretch(m, x).start;
        let kind = TWO_ENDED[pattern];
        let core = |wire: usize, route: Option<i64>| {
            route.map_or(f64::INFINITY, |route| m.core(wire, route)[LOW])
        };
        let left = core(wires[0], self.least_in(place, x));
        let may = |n: usize| {
            let right = core(wires[1], self.least_from(m, place, start + n));
            if !(left + right < f64::INFINITY) {
                return false;
            }
            let joints = m.most_joints(start, n);
            let c = Candidate::new(0, n, kind, &[(0, 0), (n, 0)]);
            margin_at_least(m, &c, source, &[[left; 3], [right; 3], [0.0; 3]], joints) >= -SLACK
        };
        let count = if kind == Pattern::BothEnds { 2 } else { 1 };
        let most = known
            .most
            .min(m.most_cells(kind, &wires))
            .min(m.branch.saturating_mul(count))
            .min(m.n - start);
        if most < least || !may(least) {
            self.two[at].most = most.min(least - 1);
            return self.two[at].most;
        }
        let mut most = longest_from(least, most, may);
        let breaks = |n: usize| {
            let c = Candidate::new(0, n, kind, &[(0, 0), (n, 0)]);
            let far = |wire: usize, mark: usize| {
                let route = self.most_in(m, place, start + mark);
                route.map_or([0.0; 3], |route| m.core(wire, route))
            };
            let cores = [far(wires[0], 0), far(wires[1], n), [0.0; 3]];
            self.totals
                .surely_break(m, &c, source, &wires, &cores, m.most_joints(start, n))
        };
        while most >= least && breaks(most) {
            most -= 1;
        }
        let asked = most >= least;
        self.two[at] = Bound { most, asked };
        most
    }

    /// Most increments of a segment that begins in the stretch of `x` and has feeds of one wire at even places; where they
    /// are fewer than `least`, maybe even fewer than stated.
    pub fn several(
        &mut self,
        m: &CheckedRun,
        pattern: usize,
        place: usize,
        wire: usize,
        x: usize,
        least: usize,
    ) -> usize {
        let at = self.several_at(pattern, place, wire, x);
        let known = self.several[at];
        if !m.uses(Acceleration::LengthBounds) || known.asked || known.most < least {
            return known.most;
        }
        let (kind, count, branches) = SEVERAL[pattern];
        let source = &m.sources[place];
        let start = Self::stretch(m, x).start;
        let first = self.least_in(place, x);
        let core_at = |mark: usize| {
            let route = if mark == 0 {
                first
            } else {
                self.least_from(m, place, start + mark)
            };
            route.map_or(f64::INFINITY, |route| m.core(wire, route)[LOW])
        };
        let far_at = |mark: usize| {
            let route = self.most_in(m, place, start + mark);
            route.map_or([0.0; 3], |route| m.core(wire, route))
        };
        let share = |marks: &[usize; MOST_FEEDS]| {
            let siemens: f64 = marks[..count].iter().map(|k| 1.0 / core_at(*k)).sum();
            1.0 / siemens
        };
        let may = |n: usize| match even(kind, 0, n)[0] {
            Some(marks) => average(m, n, source, branches, share(&marks)) >= -SLACK,
            None => true,
        };
        let most = known
            .most
            .min(m.most_cells(kind, &[wire; MOST_FEEDS][..count]))
            .min(m.branch.saturating_mul(branches))
            .min(m.n - start);
        if most < least || !may(least) {
            self.several[at].most = most.min(least - 1);
            return self.several[at].most;
        }
        let mut most = longest_from(least, most, may);
        // Each length is asked for, for the feeds do not lie alike in all.
        let may = |n: usize| {
            let joints = m.most_joints(start, n);
            even(kind, 0, n).into_iter().flatten().any(|marks| {
                let feeds = marks.map(|mark| (mark, 0));
                let cores = marks.map(|mark| [core_at(mark); 3]);
                let c = Candidate::new(0, n, kind, &feeds[..count]);
                if margin_at_least(m, &c, source, &cores, joints) < -SLACK {
                    return false;
                }
                let far = marks.map(far_at);
                let wires = [wire; MOST_FEEDS];
                !self
                    .totals
                    .surely_break(m, &c, source, &wires, &far, joints)
            })
        };
        while most >= least && !may(most) {
            most -= 1;
        }
        let asked = most >= least;
        self.several[at] = Bound { most, asked };
        most
    }

    /// Routes of a candidate's feeders when it begins anywhere in its stretch.
    pub fn span(&self, m: &CheckedRun, c: &Candidate) -> Span {
        let mut span = Span::point([0; MOST_FEEDS]);
        let at = c.place(m) * (m.n + 1);
        for feed in 0..c.count {
            let own = c.option(m, feed).route;
            (span.low[feed], span.high[feed]) = (own, own);
            for from in Self::stretch(m, c.from) {
                let mark = c.feeds[feed].0 - c.from + from;
                if let Some(Some(route)) = self.routes.get(at + mark).filter(|_| mark <= m.n) {
                    span.low[feed] = span.low[feed].min(*route);
                    span.high[feed] = span.high[feed].max(*route);
                }
            }
        }
        span
    }
}
