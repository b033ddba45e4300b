//! One candidate segment: where it lies, how and through what it is fed, what it costs.

use super::placements::{even, listed};
use super::rails::{MOST_FEEDS, Rail};
use super::shape::Copper;
use crate::choose::feeding::problem::checked::{CheckedRun, FeedOption, HIGH, LOW};
use crate::choose::feeding::problem::spec::Pattern;

/// A candidate segment. Its order is the tie-break among equal prices.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) struct Candidate {
    pub from: usize,
    pub to: usize,
    pub pattern: Pattern,
    pub count: usize,
    /// Mark and index among the options there.
    pub feeds: [(usize, usize); MOST_FEEDS],
}

/// What is minimised, in this order: money, feeds, unevenness of the branches.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub(crate) struct Rank {
    pub cost: i64,
    pub feeds: u64,
    pub uneven: u64,
}

impl std::ops::Add for Rank {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self {
            cost: self.cost.saturating_add(other.cost),
            feeds: self.feeds + other.feeds,
            uneven: self.uneven + other.uneven,
        }
    }
}

/// Two branches that meet: the sum of the squares of two halves.
pub(crate) fn shared(length: usize) -> u64 {
    let a = (length / 2) as u64;
    let b = length as u64 - a;
    a * a + b * b
}

pub(crate) fn square(length: usize) -> u64 {
    (length as u64) * (length as u64)
}

impl Candidate {
    pub fn new(from: usize, to: usize, pattern: Pattern, feeds: &[(usize, usize)]) -> Self {
        let mut all = [(0, 0); MOST_FEEDS];
        let count = feeds.len().min(MOST_FEEDS);
        all[..count].copy_from_slice(&feeds[..count]);
        Self {
            from,
            to,
            pattern,
            count,
            feeds: all,
        }
    }

    pub fn cells(&self) -> usize {
        self.to - self.from
    }

    pub fn marks(&self) -> &[(usize, usize)] {
        &self.feeds[..self.count]
    }

    pub fn option<'a>(&self, m: &'a CheckedRun, feed: usize) -> &'a FeedOption {
        let (mark, option) = self.feeds[feed];
        &m.options_at(mark, self.to)[option]
    }

    pub fn place(&self, m: &CheckedRun) -> usize {
        self.option(m, 0).place
    }

    /// Rails and feeders fold to one loop: one emitter whose return takes every step that its common takes.
    pub fn folds(&self, m: &CheckedRun) -> bool {
        let opposite = self.entered_by(true) != self.entered_by(false);
        m.emitters() == 1 && (self.count == 1 || m.one_loop && !opposite)
    }

    /// The corners at which its currents are judged: where the low one can't draw more, the high one alone.
    pub fn current_corners(&self, m: &CheckedRun) -> &'static [usize] {
        if m.high_is_stronger && self.folds(m) {
            &[HIGH]
        } else {
            &[HIGH, LOW]
        }
    }

    /// Whether the cells of this segment have their least voltages, that of the light limit, at a corner where its
    /// limits of light are kept.
    pub fn keeps_least(&self, m: &CheckedRun, corner: usize) -> bool {
        corner == LOW || corner == HIGH && m.high_is_stronger && self.folds(m)
    }

    /// Indices of the feeds that the common, or the returns, enter by.
    pub fn entered_by(&self, common: bool) -> std::ops::Range<usize> {
        match (self.pattern, common) {
            (Pattern::CommonAtStart, true) | (Pattern::CommonAtEnd, false) => 0..1,
            (Pattern::CommonAtStart, false) | (Pattern::CommonAtEnd, true) => 1..2,
            _ => 0..self.count,
        }
    }

    /// The common rail, or the return rail of an emitter, at a corner, with its feeders and joints in `copper`.
    pub fn rail<'a>(
        &self,
        m: &'a CheckedRun,
        corner: usize,
        emitter: Option<usize>,
        copper: &Copper,
    ) -> Rail<'a> {
        let entered = self.entered_by(emitter.is_none());
        let count = entered.len();
        let mut feeds = [(0, 0.0); MOST_FEEDS];
        for (to, from) in entered.enumerate() {
            feeds[to] = (self.feeds[from].0, copper.cores[from][corner]);
        }
        let tape = &m.corners[corner];
        Rail {
            increment: emitter.map_or(tape.common, |e| tape.rails[e]),
            joints: if copper.joints.is_some() {
                &m.no_joints
            } else if emitter.is_none() {
                &m.joint_common
            } else {
                &m.joint_returns
            },
            reels: if copper.joints.is_some() {
                [&m.no_joints; 2]
            } else {
                [&m.reels.own, &m.reels.legs]
            },
            part: m.reels.next_part[self.from],
            from: self.from,
            feeds,
            count,
        }
    }

    /// Every fixed feed of the segment is among its feeds.
    pub fn keeps_fixed(&self, m: &CheckedRun) -> bool {
        m.fixed_feeds.iter().all(|&f| {
            let mine = (f >= self.from && f < self.to) || (f == self.to && self.to == m.n);
            !mine || self.marks().iter().any(|(mark, _)| *mark == f)
        })
    }

    #[cfg_attr(not(feature = "job"), allow(dead_code))]
    /// Every candidate between two marks that is fed in a way: one place for all its feeds, and one wire for several.
    pub fn every(
        m: &CheckedRun,
        from: usize,
        to: usize,
        pattern: Pattern,
    ) -> impl Iterator<Item = Self> {
        let alone = |mark: usize| ([mark, 0, 0], 1);
        let marks = match pattern {
            Pattern::Start => vec![alone(from)],
            Pattern::End => vec![alone(to)],
            Pattern::Inside => (from + 1..to).map(alone).collect(),
            Pattern::CommonAtStart | Pattern::CommonAtEnd | Pattern::BothEnds => {
                vec![([from, to, 0], 2)]
            }
            _ if m.listed_inside.is_some() => listed(m, pattern, from, to),
            _ => {
                let count = if pattern == Pattern::TwoInside { 2 } else { 3 };
                let even = even(pattern, from, to).into_iter().flatten();
                even.map(|marks| (marks, count)).collect()
            }
        };
        let ends = [
            Pattern::CommonAtStart,
            Pattern::CommonAtEnd,
            Pattern::BothEnds,
        ];
        let each_its_own = ends.contains(&pattern);
        marks.into_iter().flat_map(move |(marks, count)| {
            let mut all: Vec<Self> = Vec::new();
            for (first, own) in m.options_at(marks[0], to).iter().enumerate() {
                let mut ways = vec![vec![(marks[0], first)]];
                for &mark in &marks[1..count] {
                    let alike = |o: &FeedOption| {
                        o.place == own.place && (each_its_own || o.wire == own.wire)
                    };
                    let options = m.options_at(mark, to).iter().enumerate();
                    let next: Vec<_> = options.filter(|(_, o)| alike(o)).map(|o| o.0).collect();
                    let longer = |way: Vec<_>| {
                        let more = next.iter().map(move |o| [&way[..], &[(mark, *o)]].concat());
                        more.collect::<Vec<_>>()
                    };
                    ways = ways.into_iter().flat_map(longer).collect();
                }
                all.extend(ways.iter().map(|feeds| Self::new(from, to, pattern, feeds)));
            }
            all
        })
    }

    /// Sum of the squared branch lengths, increments.
    pub fn uneven(&self) -> u64 {
        let marks = self.marks();
        let n = self.cells();
        match self.pattern {
            Pattern::Start | Pattern::End | Pattern::CommonAtStart | Pattern::CommonAtEnd => {
                square(n)
            }
            _ => {
                let (first, last) = (marks[0].0, marks[self.count - 1].0);
                let gaps: u64 = marks.windows(2).map(|w| shared(w[1].0 - w[0].0)).sum();
                square(first - self.from) + gaps + square(self.to - last)
            }
        }
    }

    /// Price of the segment without the break at its end and without watts lost.
    pub fn price(&self, m: &CheckedRun) -> i64 {
        let segment = if m.fixed_segment(self.from, self.to).is_some() {
            0
        } else {
            m.spec.costs.per_segment
        };
        let feeds: i64 = (0..self.count).map(|f| self.option(m, f).cost).sum();
        let joints = m.joints_inside(self.from, self.to) + m.joined_price(self.from, self.to);
        segment + feeds + joints
    }

    /// Longest branch as its maker counts: two branches that meet halve their span.
    pub fn longest_branch(&self) -> usize {
        let marks = self.marks();
        let n = self.cells();
        match self.pattern {
            Pattern::Start | Pattern::End | Pattern::CommonAtStart | Pattern::CommonAtEnd => n,
            _ => {
                let ends = (marks[0].0 - self.from).max(self.to - marks[self.count - 1].0);
                marks
                    .windows(2)
                    .map(|w| (w[1].0 - w[0].0).div_ceil(2))
                    .fold(ends, usize::max)
            }
        }
    }
}
