//! Whether a candidate keeps every limit: what is known of its shape, or else a full evaluation.
//!
//! ```text
//!  necessary conditions ─► facts about spans of feeder lengths ─► a verdict for the whole span,
//!  for a piece of it, and at last for the candidate alone
//! ```
//! Facts are proven: by enclosure for spans ([`spans`](super::spans)); and where the loads of one emitter
//! fold to one loop also by monotony: a longer feeder lowers every cell.

use super::bound::Bounds;
use super::candidate::Candidate;
use super::currents::currents_surely_hold;
use super::judge::Judge;
use super::march::{Need, SLACK, Side, drawn_at, volts_needed};
use super::measure::LimitKind;
use super::model::{CheckedRun, LOW};
use super::shape::{Copper, Routes, Shape, Span};
use super::spans::Ends;
use super::spec::Pattern;
use std::collections::HashMap;

/// What is known of spans of one shape: `None` where a span was tried and gave no verdict.
type Known = Vec<(Span, Option<bool>)>;

#[derive(Debug, Default)]
struct Facts {
    light: Known,
    currents: Known,
}

/// Verdicts on candidates. The maps are only ever asked for one key, so their order does not matter.
#[derive(Debug)]
pub(super) struct Oracle {
    pub bounds: Bounds,
    pub judge: Judge,
    /// Only the necessary conditions count.
    pub relaxed: bool,
    facts: HashMap<Shape, Facts>,
    /// Price of the watts that evaluated candidates lose, or none where a limit breaks.
    known: HashMap<Candidate, Option<i64>>,
    /// What the shorter of two branches on one feed draws, A, while the longer just holds; none where that is
    /// not known.
    shorter: HashMap<(usize, usize), Option<f64>>,
}

impl Oracle {
    pub fn new(m: &CheckedRun) -> Self {
        Self {
            bounds: Bounds::new(m),
            judge: Judge::default(),
            relaxed: false,
            facts: HashMap::new(),
            known: HashMap::new(),
            shorter: HashMap::new(),
        }
    }

    /// Whether the permitted number of evaluations is spent.
    pub fn is_exhausted(&self, m: &CheckedRun) -> bool {
        self.judge.evaluated >= m.spec.effort
    }

    /// Price of the watts a candidate loses, minor units, or none where it breaks a limit.
    pub fn price(&mut self, m: &CheckedRun, c: &Candidate) -> Option<i64> {
        if self.relaxed {
            return self.bounds.may_hold(m, c, &mut self.judge).then_some(0);
        }
        let remembered = m.spec.costs.energy.is_some() || !m.is_plain(c.from, c.to);
        if remembered && let Some(known) = self.known.get(c) {
            return *known;
        }
        let price = self.holds(m, c).then(|| {
            m.spec.costs.energy.as_ref().map_or(0, |energy| {
                let kilowatt_hours = self.judge.lost(m, c) * energy.time.value / 3.6e6;
                (kilowatt_hours * energy.per_kilowatt_hour as f64).round() as i64
            })
        });
        if remembered {
            self.known.insert(*c, price);
        }
        price
    }

    fn holds(&mut self, m: &CheckedRun, c: &Candidate) -> bool {
        let plain = m.is_plain(c.from, c.to);
        let (shape, routes, reversed) = Shape::of(m, c);
        let facts = self.facts.entry(shape).or_default();
        let light = verdict(&facts.light, &routes);
        let currents = verdict(&facts.currents, &routes);
        // A step of light at a joint inside is the candidate's own matter.
        let settled = plain || m.limits.visible_step.is_none();
        match (light, currents) {
            (Some(false), _) | (_, Some(false)) => return false,
            (Some(true), Some(true)) if settled => return true,
            _ => {}
        }
        if !self.bounds.may_hold(m, c, &mut self.judge) {
            return false;
        }
        let light = light.or_else(|| plain.then(|| self.light_by_march(m, c)).flatten());
        let currents = currents.or_else(|| {
            let cores = c.cores(m);
            let corners = c.current_corners(m);
            let hold = corners
                .iter()
                .all(|k| currents_surely_hold(m, c, *k, &cores));
            hold.then_some(true)
        });
        match (light, currents) {
            (Some(false), _) => return false,
            (Some(true), Some(true)) if settled => return true,
            _ => {}
        }
        if self.is_exhausted(m) {
            return false;
        }
        let folds = c.folds(m);
        let known = self.over(m, c, &shape, reversed, folds, (light, currents));
        match known {
            (Some(false), _) | (_, Some(false)) => {
                self.bounds.most.refused(m, c);
                return false;
            }
            (Some(true), Some(true)) if settled => return true,
            _ => {}
        }
        if !plain {
            return self.judge.holds(m, c);
        }
        self.alone(m, c, shape, routes, folds, known)
    }

    /// Whether the limits of light hold, where the march decides: one emitter on one feed.
    ///
    /// The longer branch at its limit needs its volts at the feed; at these volts the shorter one draws what
    /// it draws; what both draw together decides how much the feeder may take.
    fn light_by_march(&mut self, m: &CheckedRun, c: &Candidate) -> Option<bool> {
        if m.emitters() > 1 || c.count > 1 || m.limits.voltage_drop.is_some() {
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
        let own = self.bounds.branches.needs(side, f, long)?.first()?;
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
        // No cell of the shorter branch has more volts than the feed, and all of it draws no more than the longer;
        // nor less than as many cells of the longer that are nearest to the feed.
        let most = short as f64 * m.corners[LOW].amps(0, own.volts);
        if holds(most.min(own.own)) {
            return Some(true);
        }
        let beyond = self.bounds.branches.needs(side, f, long - short)?.first()?;
        if !holds(own.own - beyond.own) {
            return Some(false);
        }
        let shorter = self.shorter.entry((long, short));
        shorter
            .or_insert_with(|| drawn_at(m, short, own.volts))
            .map(holds)
    }

    /// Tries all that begin in the same stretch for what is not known yet.
    fn over(
        &mut self,
        m: &CheckedRun,
        c: &Candidate,
        shape: &Shape,
        reversed: bool,
        folds: bool,
        (light, currents): (Option<bool>, Option<bool>),
    ) -> (Option<bool>, Option<bool>) {
        let own = self.bounds.most.span(m, c);
        let plain = m.is_plain(c.from, c.to);
        if own.is_point() && plain {
            return (light, currents);
        }
        let span = if reversed { own.reversed(c.count) } else { own };
        let joints = (!plain).then(|| m.joint_sums(c.from, c.to));
        let copper = |cores| Copper { cores, joints };
        let (near, far) = (
            copper(c.cores_at(m, &own.low)),
            copper(c.cores_at(m, &own.high)),
        );
        // Where longer feeders lower every cell, what the ends of the span say goes for all of it.
        let folds = folds && plain;
        let all = Ends {
            near: &near,
            far: &far,
        };
        let (at_near, at_far) = (Ends { far: &near, ..all }, Ends { near: &far, ..all });
        let facts = self.facts.entry(*shape).or_default();
        let tried = |known: &Known| known.iter().any(|(s, _)| *s == span);
        let (mut light, mut currents) = (light, currents);
        if light.is_none() && !tried(&facts.light) {
            light = if folds {
                let holds = self.judge.light_over(m, c, &at_far);
                holds.filter(|holds| *holds).or_else(|| {
                    let breaks = self.judge.light_over(m, c, &at_near);
                    breaks.filter(|holds| !holds)
                })
            } else {
                self.judge.light_over(m, c, &all)
            };
            facts.light.push((span, light));
        }
        if light != Some(false) && currents.is_none() && !tried(&facts.currents) {
            // With several feeds their shares change too.
            currents = if folds && c.count == 1 {
                let holds = self.judge.currents_over(m, c, &at_near);
                holds.filter(|holds| *holds).or_else(|| {
                    let breaks = self.judge.currents_over(m, c, &at_far);
                    breaks.filter(|holds| !holds)
                })
            } else {
                self.judge.currents_over(m, c, &all)
            };
            facts.currents.push((span, currents));
        }
        (light, currents)
    }

    /// Evaluates the candidate alone, and remembers what follows.
    fn alone(
        &mut self,
        m: &CheckedRun,
        c: &Candidate,
        shape: Shape,
        routes: Routes,
        folds: bool,
        known: (Option<bool>, Option<bool>),
    ) -> bool {
        self.judge.evaluated += 1;
        let mut broken = None;
        let (mut light, mut currents) = (None, None);
        if known.0.is_none() {
            broken = self.judge.light_broken(m, c);
            light = Some(broken.is_none());
        }
        if broken.is_none() && known.1.is_none() {
            broken = self.judge.currents_broken(m, c);
            currents = Some(broken.is_none());
        }
        // Feeders shorter, or longer, than those of the candidate.
        let at_most = Span {
            low: [0; 3],
            high: routes,
        };
        let mut at_least = Span::point(routes);
        at_least.high[..c.count].fill(i64::MAX);
        let total = broken.is_some_and(|f| {
            matches!(f.kind, LimitKind::SegmentCurrent | LimitKind::OutputCurrent)
        });
        let facts = self.facts.entry(shape).or_default();
        let spans = |holds: Option<bool>, when_held: Span, when_broken: Span, monotone: bool| {
            holds.map(|holds| {
                let span = match (monotone, holds) {
                    (false, _) => Span::point(routes),
                    (true, true) => when_held,
                    (true, false) => when_broken,
                };
                (span, Some(holds))
            })
        };
        facts.light.extend(spans(light, at_most, at_least, folds));
        let monotone = folds && (c.count == 1 || total);
        facts
            .currents
            .extend(spans(currents, at_least, at_most, monotone));
        broken.is_none()
    }
}

fn verdict(known: &Known, routes: &Routes) -> Option<bool> {
    known
        .iter()
        .find_map(|(span, holds)| holds.filter(|_| span.contains(routes)))
}
