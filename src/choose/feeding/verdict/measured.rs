//! Limits, and the figures that are put beside them.

use crate::choose::feeding::circuit::candidate::Candidate;
use crate::choose::feeding::circuit::rails::RailFlow;
use crate::choose::feeding::problem::checked::{BAND, CheckedRun, LOW};
use crate::choose::feeding::result::limit::LimitKind;

/// A figure beside its limit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Measured {
    pub kind: LimitKind,
    pub figure: f64,
    pub limit: f64,
    /// Emitter, or none for the common or all.
    pub emitter: Option<usize>,
    /// Increment or mark of the run.
    pub at: usize,
}

impl Measured {
    /// Used share of the limit: above 1 it is broken. NaN counts as broken.
    pub fn used(&self) -> f64 {
        let used = match self.kind {
            LimitKind::LeastCurrent => self.limit / self.figure,
            _ => self.figure / self.limit,
        };
        if self.figure == self.limit {
            1.0
        } else if used.is_nan() {
            f64::INFINITY
        } else {
            used
        }
    }

    /// Holds, with the band around the limit.
    pub fn holds(&self) -> bool {
        self.holds_within(BAND)
    }

    pub fn holds_within(&self, band: f64) -> bool {
        match self.kind {
            LimitKind::LeastCurrent => self.figure >= self.limit * (1.0 - band),
            _ => self.figure <= self.limit * (1.0 + band) + band * 1e-3,
        }
    }
}

pub(crate) fn branch(m: &CheckedRun, c: &Candidate) -> Measured {
    Measured {
        kind: LimitKind::Branch,
        figure: c.longest_branch() as f64,
        limit: m.branch as f64,
        emitter: None,
        at: c.from,
    }
}

pub(crate) fn light_figure(
    m: &CheckedRun,
    c: &Candidate,
    emitter: usize,
    cell: usize,
    amps: f64,
) -> Measured {
    Measured {
        kind: LimitKind::LeastCurrent,
        figure: amps / m.nominal[emitter],
        limit: m.limits.least_current.value,
        emitter: Some(emitter),
        at: c.from + cell,
    }
}

/// The light limits of one state at the low corner, worst place of each.
pub(crate) fn light_figures(
    m: &CheckedRun,
    c: &Candidate,
    state: usize,
    volts: &[f64],
) -> Vec<Measured> {
    let lit = &m.states[state];
    let n = c.cells();
    let corner = &m.corners[LOW];
    let relative = |q: usize, k: usize| corner.amps(lit[q], volts[q * n + k]) / m.nominal[lit[q]];
    let l = &m.limits;
    let mut found: Vec<Measured> = Vec::new();
    let mut worst = |f: Measured| match found.iter_mut().find(|g| g.kind == f.kind) {
        Some(g) if f.used() > g.used() => *g = f,
        Some(_) => {}
        None => found.push(f),
    };
    for (q, &e) in lit.iter().enumerate() {
        let mut least = (f64::INFINITY, 0);
        let mut volts_least = f64::INFINITY;
        for k in 0..n {
            let r = relative(q, k);
            if !(r >= least.0) {
                least = (r, k);
            }
            volts_least = volts_least.min(volts[q * n + k]);
        }
        worst(light_figure(m, c, e, least.1, least.0 * m.nominal[e]));
        if let Some(most) = l.voltage_drop {
            let set_point = m.sources[c.place(m)].set_point[LOW];
            worst(Measured {
                kind: LimitKind::VoltageDrop,
                figure: (set_point - volts_least) / m.spec.tape.rated.value,
                limit: most.value,
                emitter: Some(e),
                at: c.from + least.1,
            });
        }
        if let Some(most) = l.visible_step {
            for mark in c.from + 1..c.to {
                if m.seen_inside[mark] {
                    let k = mark - c.from;
                    worst(Measured {
                        kind: LimitKind::VisibleStep,
                        figure: step(relative(q, k - 1), relative(q, k)),
                        limit: most.value,
                        emitter: Some(e),
                        at: mark,
                    });
                }
            }
        }
    }
    if let Some(most) = l.balance {
        for k in 0..n {
            let all = (0..lit.len()).map(|q| relative(q, k));
            let low = all.clone().fold(f64::INFINITY, f64::min);
            let high = all.fold(0.0, f64::max);
            worst(Measured {
                kind: LimitKind::Balance,
                figure: step(low, high),
                limit: most.value,
                emitter: None,
                at: c.from + k,
            });
        }
    }
    found
}

/// Step between two relative currents as a share of the brighter one.
pub(crate) fn step(a: f64, b: f64) -> f64 {
    let most = a.max(b);
    if most > 0.0 {
        (a - b).abs() / most
    } else {
        0.0
    }
}

/// The current limits of one state at one corner, worst place of each.
pub(crate) fn current_figures(
    m: &CheckedRun,
    c: &Candidate,
    state: usize,
    flows: &[RailFlow],
) -> Vec<Measured> {
    let l = &m.limits;
    let mut found: Vec<Measured> = Vec::new();
    let mut worst = |kind, figure: f64, limit: f64, emitter, at| {
        let f = Measured {
            kind,
            figure,
            limit,
            emitter,
            at,
        };
        match found.iter_mut().find(|g| g.kind == kind) {
            Some(g) if f.used() > g.used() => *g = f,
            Some(_) => {}
            None => found.push(f),
        }
    };
    for (r, flow) in flows.iter().enumerate() {
        let emitter = r.checked_sub(1).map(|q| m.states[state][q]);
        if let Some(limit) = l.rail_current {
            worst(
                LimitKind::RailCurrent,
                flow.most_link,
                limit.value,
                emitter,
                c.from,
            );
        }
        for (slot, feed) in c.entered_by(r == 0).enumerate() {
            let amps = flow.feeders[slot].abs();
            let limit = m.core_limit[c.option(m, feed).wire];
            if limit < f64::INFINITY {
                worst(
                    LimitKind::CoreCurrent,
                    amps,
                    limit,
                    emitter,
                    c.feeds[feed].0,
                );
            }
            if let Some(limit) = l.connector_current {
                worst(
                    LimitKind::ConnectorCurrent,
                    amps,
                    limit.value,
                    emitter,
                    c.feeds[feed].0,
                );
            }
        }
        match (emitter, l.output_current, l.segment_current) {
            (Some(_), Some(limit), _) => worst(
                LimitKind::OutputCurrent,
                flow.total,
                limit.value,
                emitter,
                c.from,
            ),
            (None, _, Some(limit)) => worst(
                LimitKind::SegmentCurrent,
                flow.total,
                limit.value,
                None,
                c.from,
            ),
            _ => {}
        }
    }
    found
}
