//! Whether a candidate keeps every limit: what is known of its shape, or else a full evaluation.
//!
//! ```text
//!  necessary conditions ─► facts about spans of feeder lengths ─► a verdict for the whole span,
//!  or for the candidate alone
//! ```
//! Facts are proven: by enclosure for spans ([`span`](super::span)); and where the loads of one emitter
//! fold to one loop also by monotony: a longer feeder lowers every cell and takes from what all draw.

use super::solver::SegmentSolver;
use super::span::FeederEnds;
use crate::choose::feeding::bound::conditions::Conditions;
use crate::choose::feeding::bound::lengths::LengthBounds;
use crate::choose::feeding::circuit::candidate::Candidate;
use crate::choose::feeding::circuit::shape::{Copper, Routes, Shape, Span};
use crate::choose::feeding::problem::accelerations::Acceleration;
use crate::choose::feeding::problem::checked::CheckedRun;
use crate::choose::feeding::result::limit::LimitKind;
use rustc_hash::FxHashMap;

/// What is known of spans of one shape: `None` where a span was tried and gave no verdict.
type SpanVerdicts = Vec<(Span, Option<bool>)>;

#[derive(Debug, Default)]
struct ShapeVerdicts {
    light: SpanVerdicts,
    currents: SpanVerdicts,
}

/// Verdicts on candidates. The maps are only ever asked for one key, so their order does not matter.
#[derive(Debug)]
pub(crate) struct SegmentVerdicts {
    pub bounds: Conditions,
    pub solver: SegmentSolver,
    /// Only the necessary conditions count.
    pub relaxed: bool,
    /// Most evaluations of what is looked for now, where that is less than the run permits.
    pub most: u64,
    facts: FxHashMap<Shape, ShapeVerdicts>,
    /// Price of the watts that evaluated candidates lose, none where a limit breaks.
    known: FxHashMap<Candidate, Option<i64>>,
}

impl SegmentVerdicts {
    pub fn new(m: &CheckedRun) -> Self {
        Self {
            bounds: Conditions::new(m),
            solver: SegmentSolver::default(),
            relaxed: false,
            most: u64::MAX,
            facts: FxHashMap::default(),
            known: FxHashMap::default(),
        }
    }

    /// Whether the permitted number of evaluations is spent.
    pub fn is_exhausted(&self, m: &CheckedRun) -> bool {
        self.solver.evaluated >= m.spec.effort.min(self.most)
    }

    /// Price of the watts a candidate loses, minor units, or none where it breaks a limit.
    pub fn price(&mut self, m: &CheckedRun, c: &Candidate) -> Option<i64> {
        if self.relaxed {
            return self.bounds.may_hold(m, c).then_some(0);
        }
        let joined = m.spec.costs.energy.is_some() || !m.is_plain(c.from, c.to);
        let remembered = joined && m.uses(Acceleration::KeptVerdicts);
        if remembered && let Some(known) = self.known.get(c) {
            return *known;
        }
        let price = self.holds(m, c).then(|| {
            m.spec.costs.energy.as_ref().map_or(0, |energy| {
                let kilowatt_hours = self.solver.lost(m, c) * energy.time.value / 3.6e6;
                (kilowatt_hours * energy.per_kilowatt_hour as f64).round() as i64
            })
        });
        if remembered && !self.is_exhausted(m) {
            self.known.insert(*c, price);
        }
        price
    }

    fn holds(&mut self, m: &CheckedRun, c: &Candidate) -> bool {
        let plain = m.is_plain(c.from, c.to);
        // A step of light at a joint inside is the candidate's own matter.
        let settled = plain || m.limits.visible_step.is_none();
        let decided = |known: (Option<bool>, Option<bool>)| match known {
            (Some(false), _) | (_, Some(false)) => Some(false),
            (Some(true), Some(true)) if settled => Some(true),
            _ => None,
        };
        if !self.bounds.may_hold(m, c) {
            return false;
        }
        let asked = ShapeQuery::new(m, c, plain);
        let facts = self.facts.entry(asked.shape).or_default();
        let known = if m.uses(Acceleration::SharedVerdicts) {
            let of = |known: &SpanVerdicts| verdict(known, &asked.routes);
            (of(&facts.light), of(&facts.currents))
        } else {
            (None, None)
        };
        if let Some(holds) = decided(known) {
            return holds;
        }
        if self.is_exhausted(m) {
            return false;
        }
        // With several emitters the limits of current refuse more. What they refuse where the light limit is kept is refused
        // in any case.
        let mut currents = known.1;
        if !asked.folds && m.emitters() > 1 {
            currents = currents.or_else(|| self.currents(m, c, &asked));
            if currents == Some(false) {
                return false;
            }
        }
        let light = known.0.or_else(|| self.light(m, c, &asked));
        if light == Some(false) {
            return false;
        }
        if asked.folds || m.emitters() == 1 {
            currents = currents.or_else(|| self.currents(m, c, &asked));
        }
        if let Some(holds) = decided((light, currents)) {
            return holds;
        }
        self.solver.broken(m, c).is_none()
    }

    /// Whether the limits of light hold, and what follows for others of its shape; none where the joints inside
    /// leave it open.
    fn light(&mut self, m: &CheckedRun, c: &Candidate, asked: &ShapeQuery) -> Option<bool> {
        let span = asked.span(&self.bounds.most, m, c);
        let (near, far) = asked.ends(m, c, &span);
        let facts = self.facts.entry(asked.shape).or_default();
        let tried =
            !m.uses(Acceleration::SharedVerdicts) || facts.light.iter().any(|(s, _)| *s == span);
        if !asked.folds {
            if !(tried || asked.plain && span.is_point()) {
                let ends = FeederEnds {
                    near: &near,
                    far: &far,
                };
                let holds = self.solver.light_over(m, c, &ends);
                facts.light.push((span, holds));
                if holds.is_some() {
                    return holds;
                }
            }
            if !asked.plain {
                return None;
            }
        }
        let holds = self
            .solver
            .counted(|solver| solver.light_broken(m, c))
            .is_none();
        if !asked.folds {
            facts.light.push((Span::point(asked.routes), Some(holds)));
        } else if holds {
            facts.light.push((Span::up_to(asked.routes), Some(true)));
        } else {
            facts.light.push((Span::from(asked.routes), Some(false)));
            // Nearer ones may hold; if not the nearest, then none.
            if !tried && !span.is_point() {
                let ends = FeederEnds {
                    near: &near,
                    far: &near,
                };
                let refused = self.solver.light_over(m, c, &ends) == Some(false);
                facts.light.push((span, None));
                if refused {
                    facts.light.push((Span::from(span.low), Some(false)));
                }
            }
        }
        Some(holds)
    }

    /// The same for the limits of current, where those of light hold.
    fn currents(&mut self, m: &CheckedRun, c: &Candidate, asked: &ShapeQuery) -> Option<bool> {
        let span = asked.span(&self.bounds.most, m, c);
        let (near, far) = asked.ends(m, c, &span);
        let facts = self.facts.entry(asked.shape).or_default();
        let tried =
            !m.uses(Acceleration::SharedVerdicts) || facts.currents.iter().any(|(s, _)| *s == span);
        if !(tried || asked.plain && span.is_point()) {
            let ends = FeederEnds {
                near: &near,
                far: &far,
            };
            let whole = self.solver.currents_over(m, c, &ends);
            // What all of it carries falls with longer feeders; with several their shares change too. Where the light
            // limit holds was asked of the candidate alone.
            let known = match whole {
                Some(verdict) if asked.folds && verdict.by_total && verdict.holds => {
                    (Span::from(span.low), Some(true))
                }
                Some(verdict) if asked.folds && verdict.by_total && c.count == 1 => {
                    (Span::up_to(span.high), Some(false))
                }
                _ => (span, whole.map(|verdict| verdict.holds)),
            };
            let refused = whole.is_some_and(|v| v.by_total && !v.holds);
            if asked.folds && refused && c.count > 1 {
                facts
                    .currents
                    .push((Span::up_to(asked.routes), Some(false)));
            }
            facts.currents.push(known);
            if known.0 != span {
                facts.currents.push((span, None));
            }
            if known.1.is_some() {
                return known.1;
            }
        }
        if !asked.plain {
            return None;
        }
        let broken = self.solver.counted(|solver| solver.currents_broken(m, c));
        let holds = broken.is_none();
        let by_total = broken.is_some_and(|f| {
            matches!(f.kind, LimitKind::SegmentCurrent | LimitKind::OutputCurrent)
        });
        let span = match holds {
            true if asked.folds && c.count == 1 => Span::from(asked.routes),
            false if asked.folds && (c.count == 1 || by_total) => Span::up_to(asked.routes),
            _ => Span::point(asked.routes),
        };
        facts.currents.push((span, Some(holds)));
        Some(holds)
    }
}

/// A candidate by its shape.
struct ShapeQuery {
    shape: Shape,
    routes: Routes,
    /// The shape has the feeds in the other order.
    reversed: bool,
    plain: bool,
    /// Plain tape that folds to one loop.
    folds: bool,
}

impl ShapeQuery {
    fn new(m: &CheckedRun, c: &Candidate, plain: bool) -> Self {
        let (shape, routes, reversed) = Shape::of(m, c);
        Self {
            shape,
            routes,
            reversed,
            plain,
            folds: plain && c.folds(m),
        }
    }

    /// Feeders of all of the shape that begin in the same stretch.
    fn span(&self, most: &LengthBounds, m: &CheckedRun, c: &Candidate) -> Span {
        let span = most.span(m, c);
        if self.reversed {
            span.reversed(c.count)
        } else {
            span
        }
    }

    /// The shortest and the longest feeders of a span.
    fn ends(&self, m: &CheckedRun, c: &Candidate, span: &Span) -> (Copper, Copper) {
        let own = if self.reversed {
            span.reversed(c.count)
        } else {
            *span
        };
        let joints = (!self.plain).then(|| m.joint_sums(c.from, c.to));
        let copper = |routes| Copper {
            cores: c.cores_at(m, routes),
            joints,
        };
        (copper(&own.low), copper(&own.high))
    }
}

fn verdict(known: &SpanVerdicts, routes: &Routes) -> Option<bool> {
    known
        .iter()
        .find_map(|(span, holds)| holds.filter(|_| span.contains(routes)))
}
