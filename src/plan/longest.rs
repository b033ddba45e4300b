//! The longest route of each cable: how much longer it may turn out on site before a cell has too little current, or
//! emitters lit together go out of balance, with everything else as planned.
//!
//! ```text
//!  margin(L) = least over states and segments on the output of  least current / limit − 1,  1 − imbalance / limit
//!  the longest route is the last L with margin(L) ≥ 0, at the low corner
//! ```
//! A longer core only takes volts from the cells: the margin falls as the route grows, and so do the currents.

use super::SolvedJob;
use super::joined::Joined;
use super::phases;
use crate::many;
use crate::network::Workspace;
use crate::progress::{Go, Progress};
use crate::quantity::{Corner, Corners, ElectricalResistance};
use crate::segment::Circuit;
use std::collections::BTreeMap;

/// No route is looked for beyond this, m.
const FURTHEST: f64 = 1_000.0;
/// The end of the search, m: what the schedule prints.
const STEP: f64 = 0.01;
/// Most trials once the limit lies between two lengths.
const TRIALS: usize = 24;

/// Longest routes, m; none where the limit is out of reach or the cable does not hold as planned.
#[derive(Debug, Default)]
pub(super) struct Longest {
    /// By device that is fed through a lead.
    pub leads: BTreeMap<usize, f64>,
    /// By segment and feed.
    pub feeders: BTreeMap<(usize, usize), f64>,
}

impl SolvedJob<'_> {
    pub(super) fn longest_routes(&self, progress: &mut Progress<'_>) -> Longest {
        let joined = self.joint.joined.iter().filter(|j| j.figures.is_ok());
        let outputs: Vec<&Joined> = joined.collect();
        let all = many::each(&outputs, phases::LONGEST, progress, |joined, progress| {
            self.on_output(joined, progress)
        });
        let mut longest = Longest::default();
        for own in all {
            longest.leads.extend(own.leads);
            longest.feeders.extend(own.feeders);
        }
        longest
    }

    /// Of the cables on one output of a supply; those before the caller stops it.
    fn on_output(&self, joined: &Joined, progress: &mut Progress<'_>) -> Longest {
        let mut work = Workspace::new();
        let mut longest = Longest::default();
        let parts = self.joint.parts(self.job, &self.runs, self.models);
        let Ok(circuit) = parts.circuit(&self.joint.units[joined.unit], &joined.decoder_units)
        else {
            return longest;
        };
        let mut try_one = |length: f64, set: &dyn Fn(&mut Circuit<'_>, f64)| {
            if progress.step(phases::LONGEST, 0, 1) == Go::Cancel {
                return None;
            }
            furthest(length, |l| {
                let mut longer = circuit.clone();
                set(&mut longer, l / length);
                self.margin(longer, &mut work)
            })
        };
        for (at, decoder_unit) in joined.decoder_units.iter().copied().enumerate() {
            let length = self.joint.leads[decoder_unit].length.metres();
            let set = |c: &mut Circuit<'_>, share: f64| scale(&mut c.branches[at].lead, share);
            if let Some(most) = try_one(length, &set) {
                longest.leads.insert(decoder_unit, most);
            }
            let numbers = self.joint.decoder_units[decoder_unit].segments();
            for (s, number) in numbers.into_iter().enumerate() {
                let feeds = &self.joint.segments[number].plan.feeds;
                for (f, feed) in feeds.iter().enumerate() {
                    let length = feed.route_length.metres();
                    let set = |c: &mut Circuit<'_>, share: f64| {
                        scale(&mut c.branches[at].segments[s].feeders[f].core, share);
                    };
                    if let Some(most) = try_one(length, &set) {
                        longest.feeders.insert((number, f), most);
                    }
                }
            }
        }
        longest
    }

    /// How far the tightest limit of light is from breaking, as a share; below zero it is broken. None where there is no
    /// operating point.
    fn margin(&self, circuit: Circuit<'_>, work: &mut Workspace) -> Option<f64> {
        let limits = self.job.limits();
        let figures = circuit.check().ok()?.solve_at(Corner::Low, work).ok()?;
        let mut margin = f64::INFINITY;
        for segment in figures.branches.iter().flat_map(|b| &b.segments) {
            let mut keep = |own: f64| margin = if own < margin { own } else { margin };
            keep(segment.least_current.value / limits.least_current.value - 1.0);
            if let Some(limit) = limits.balance {
                keep(1.0 - segment.imbalance.value / limit.value);
            }
        }
        Some(margin)
    }
}

fn scale(core: &mut Corners<ElectricalResistance>, share: f64) {
    *core = core.map(|ohms| *ohms * share);
}

/// Greatest length, at least the one planned and rounded down to a step, at which there is a margin and it is not below
/// zero.
fn furthest(planned: f64, mut margin: impl FnMut(f64) -> Option<f64>) -> Option<f64> {
    let holds = |own: &f64| *own >= 0.0;
    if !(planned > 0.0) {
        return None;
    }
    let (mut low, mut at_low) = (planned, margin(planned).filter(holds)?);
    let (mut high, mut at_high) = (2.0 * planned + 1.0, None);
    while high < FURTHEST {
        at_high = margin(high);
        let Some(own) = at_high.filter(holds) else {
            break;
        };
        (low, at_low, high) = (high, own, 2.0 * high);
    }
    if high >= FURTHEST {
        return None;
    }
    for trial in 0..TRIALS {
        if high - low <= 0.5 * STEP {
            break;
        }
        let secant = at_high.map(|at_high| low + (high - low) * at_low / (at_low - at_high));
        // Every third step halves what the secant may leave on one side.
        let next = secant
            .filter(|secant| *secant > low && *secant < high && trial % 3 != 2)
            .unwrap_or(f64::midpoint(low, high));
        match margin(next) {
            Some(own) if own >= 0.0 => (low, at_low) = (next, own),
            own => (high, at_high) = (next, own),
        }
    }
    Some(((low / STEP).floor() * STEP).max(planned))
}

#[cfg(test)]
mod tests {
    use super::furthest;

    #[test]
    fn the_last_length_with_a_margin_rounded_down() {
        assert_eq!(furthest(4.0, |l| Some(12.345 - l)), Some(12.34));
        assert_eq!(furthest(4.0, |l| Some(1.0 / l - 0.05)), Some(20.0));
        assert_eq!(furthest(4.0, |l| (l < 7.0).then_some(1.0)), Some(6.99));
    }

    #[test]
    fn none_where_nothing_holds_or_nothing_binds() {
        assert_eq!(furthest(4.0, |_| Some(-1e-9)), None);
        assert_eq!(furthest(4.0, |_| Some(1.0)), None);
        assert_eq!(furthest(0.0, |_| Some(1.0)), None);
        assert_eq!(furthest(4.0, |_| None), None);
    }
}
