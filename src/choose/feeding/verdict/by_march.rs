//! Verdicts by marches alone: plain tape of one emitter on one feed.
//!
//! ```text
//!           feed at V
//!  a cells ◄────┴────► b cells       each branch draws what its length draws at V
//! ```
//! What the branches draw comes enclosed ([`draws`](super::draws)); where that leaves a limit open, no verdict is given.

use super::draws::Draws;
use super::measure::LimitKind;
use super::oracle::Oracle;
use crate::choose::feeding::bound::march::{Need, SLACK, Side, volts_needed};
use crate::choose::feeding::circuit::candidate::Candidate;
use crate::choose::feeding::problem::checked::{BAND, CheckedRun, HIGH, LOW};
use crate::choose::feeding::problem::least::cap;
use crate::choose::feeding::problem::spec::Pattern;

impl Oracle {
    /// What branches of up to `longest` increments draw at a corner.
    fn draws(&mut self, m: &CheckedRun, corner: usize, longest: usize) -> &mut Draws {
        let draws = self.draws[usize::from(corner != LOW)].get_or_insert_with(|| {
            let top = m.sources.iter().map(|s| s.volts[corner]);
            let top = top.fold(0.0, f64::max);
            Draws::new(corner, m.least_volts[0].min(top), top)
        });
        draws.reach(m, longest);
        draws
    }

    /// Whether the limits of light hold.
    ///
    /// The longer branch at its limit needs its volts at the feed; at these volts the shorter one draws what
    /// it draws; what both draw together decides how much the feeder may take.
    pub(crate) fn light_by_march(&mut self, m: &CheckedRun, c: &Candidate) -> Option<bool> {
        if m.emitters() > 1
            || c.count > 1
            || m.limits.voltage_drop.is_some()
            || !m.is_plain(c.from, c.to)
        {
            return None;
        }
        if c.pattern != Pattern::Inside {
            // The necessary conditions are sufficient here.
            return Some(true);
        }
        let f = c.feeds[0].0;
        let (left, right) = (f - c.from, c.to - f);
        let (long, short) = (left.max(right), left.min(right));
        let side = if left > right {
            Side::Left
        } else {
            Side::Right
        };
        let own = *self.bounds.branches.needs(side, f, long)?.first()?;
        let option = c.option(m, 0);
        let source = &m.sources[option.place];
        let holds = |shorter: f64| {
            let both = own.own + shorter;
            let need = Need {
                volts: own.volts,
                own: both,
                sum: both,
            };
            volts_needed(&need, option.core[LOW], source) <= source.volts[LOW] + SLACK
        };
        if long == short {
            return Some(holds(own.own));
        }
        let draws = self.draws(m, LOW, short);
        draws.decided(m, short, own.volts, holds)
    }

    /// Whether the limits of current hold, where the light limit does.
    ///
    /// ```text
    ///  V = E − r·I    I ≤ limit  ⟺  a and b draw no more than the limit at E − r·limit
    /// ```
    /// A branch keeps the limit of its rail where the feed has no more than the voltage at which it would reach it.
    /// A joint only takes from what its branch and both together draw.
    pub(crate) fn currents_by_march(&mut self, m: &CheckedRun, c: &Candidate) -> Option<bool> {
        let total = self.total_by_march(m, c);
        let rail = cap(m.limits.rail_current);
        if total == Some(false) || rail == f64::INFINITY {
            return total;
        }
        let feed = OneFeed::of(m, c)?;
        let [a, b] = feed.branches;
        let longer = a.max(b);
        let draws = self.draws(m, HIGH, longer);
        if feed.plain {
            let [_, above] = draws.volts_about(longer, just_above(rail))?;
            let most = feed.draw(draws, above);
            if most.is_some_and(|[_, most]| above + feed.ohms * most <= feed.volts) {
                return Some(false);
            }
        }
        let keeps = |own: usize, other: usize| {
            let Some([below, _]) = draws.volts_about(own, rail) else {
                return false;
            };
            let beside = if feed.plain {
                draws.enclosed(other, below)
            } else {
                Some([other as f64 * m.least_amps[0]; 2])
            };
            let (own, beside) = (draws.enclosed(own, below), beside);
            let least = own.zip(beside).map(|(own, beside)| own[0] + beside[0]);
            least.is_some_and(|least| below + feed.ohms * least >= feed.volts)
        };
        // On plain tape the longer branch draws more.
        let all =
            keeps(longer, a.min(b)) && (feed.plain || a.min(b) == 0 || keeps(a.min(b), longer));
        total.filter(|_| all)
    }

    /// The same for the limits of all its current: its feeder, its output, the segment.
    fn total_by_march(&mut self, m: &CheckedRun, c: &Candidate) -> Option<bool> {
        let feed = OneFeed::of(m, c)?;
        let limit = cap(m.limits.segment_current)
            .min(cap(m.limits.output_current))
            .min(m.through(c.option(m, 0).wire));
        if limit == f64::INFINITY {
            return Some(true);
        }
        let [a, b] = feed.branches;
        let draws = self.draws(m, HIGH, a.max(b));
        let at = |amps: f64| feed.draw(draws, feed.volts - feed.ohms * amps);
        if feed.plain && at(just_above(limit))?[0] > just_above(limit) {
            return Some(false);
        }
        (at(limit)?[1] <= limit).then_some(true)
    }

    /// For which longer ones on the same feed a refused candidate speaks: those are refused with it.
    ///
    /// With one emitter on one feed an increment more lowers every cell and adds to what the feeder and its own
    /// branch carry. It takes from the other branch: where that breaks its rail, a longer one may hold.
    pub(crate) fn speaks_for(&mut self, m: &CheckedRun, c: &Candidate) -> Longer {
        if m.emitters() > 1
            || c.count > 1
            || m.limits.visible_step.is_some()
            || self.is_exhausted(m)
        {
            return Longer::None;
        }
        // Begun elsewhere, a joint of reels lies elsewhere, and one at the feed takes from both sides: what is refused
        // for its current may draw less then. Light it only loses, unless a joint of reels took it.
        if m.reels.ohms > 0.0 || c.pattern == Pattern::Start && m.adds_resistance(c.from) {
            let by_light = match self.refused_by {
                Some(kind) if !m.joins(c.from, c.to) => kind < LimitKind::Branch,
                _ => {
                    !self.bounds.may_hold_at_once(m, c) || self.light_by_march(m, c) == Some(false)
                }
            };
            let beside = c.pattern != Pattern::End && m.limits.rail_current.is_none();
            return match (by_light, beside) {
                (true, _) => Longer::Any,
                (false, true) => Longer::BesideTheSame,
                (false, false) => Longer::None,
            };
        }
        if c.pattern == Pattern::End || m.limits.rail_current.is_none() {
            return Longer::Any;
        }
        let plain = m.is_plain(c.from, c.to);
        let whole = match self.refused_by {
            Some(kind) => kind != LimitKind::RailCurrent,
            None => {
                !self.bounds.may_hold_at_once(m, c)
                    || self.light_by_march(m, c) == Some(false)
                    || self.total_by_march(m, c) == Some(false)
            }
        };
        let f = c.feeds[0].0;
        match (whole, plain && c.to - f >= f - c.from) {
            (true, _) => Longer::Any,
            (false, true) => Longer::BesideTheSame,
            (false, false) => Longer::None,
        }
    }
}

/// Segments that are longer to the right of the same feed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Longer {
    None,
    /// With the same branch to the left.
    BesideTheSame,
    /// With that branch or a longer one to the left.
    Any,
}

/// A feed at the high corner: its branches, and the source's volts behind all that carries its current.
#[derive(Clone, Copy)]
struct OneFeed {
    branches: [usize; 2],
    /// No joint inside adds resistance.
    plain: bool,
    ohms: f64,
    volts: f64,
}

impl OneFeed {
    /// Where one feed carries one emitter, and the high corner draws no less than the low one.
    fn of(m: &CheckedRun, c: &Candidate) -> Option<Self> {
        if m.emitters() > 1 || c.count > 1 || !m.high_is_stronger {
            return None;
        }
        let (f, option) = (c.feeds[0].0, c.option(m, 0));
        let source = &m.sources[option.place];
        Some(Self {
            branches: [f - c.from, c.to - f],
            plain: m.is_plain(c.from, c.to),
            ohms: source.shared() + source.switch + 2.0 * option.core[HIGH],
            volts: source.volts[HIGH],
        })
    }

    /// What both branches draw at least and at most when the feed has `volts`.
    fn draw(&self, draws: &Draws, volts: f64) -> Option<[f64; 2]> {
        let [a, b] = self.branches.map(|length| draws.enclosed(length, volts));
        let (a, b) = (a?, b?);
        Some([a[0] + b[0], a[1] + b[1]])
    }
}

/// A limit with the band within which it counts as kept.
fn just_above(limit: f64) -> f64 {
    limit * (1.0 + 2.0 * BAND) + 2.0 * BAND * 1e-3
}
