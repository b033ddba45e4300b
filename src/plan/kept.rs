//! Which limits the runs keep with all that shares their copper.

use super::aim::Aim;
use super::devices::SegmentWork;
use super::joined::{Joint, over_rating};
use super::laid::RunWork;
use crate::choose::feeding::step;
use crate::job::Job;
use crate::quantity::Ratio;

/// More than this above a limit is more than rounding.
const BAND: f64 = 1e-9;
/// Of a limit that was missed, what is aimed at instead of what missed it by so much.
const FURTHER: f64 = 0.98;

/// Most runs of a job in which sides are fed more alike where two supplies differ, and tighter limits are tried: that takes
/// many rounds, and a larger job would no longer take time in proportion to its runs.
pub(super) const MOST_APART: usize = 300;

/// How much of its limits a run uses, at worst; above 1 one is broken.
#[derive(Debug, Clone, Copy, Default)]
struct Used {
    light: f64,
    /// Of the step at one corner, and with two supplies apart.
    step: f64,
    apart: f64,
    balance: f64,
    connector: f64,
    /// Something is not solved, or carries more than it is rated for.
    other: bool,
}

impl Used {
    fn is_broken(&self) -> bool {
        let most = 1.0 + BAND;
        let all = [
            self.light,
            self.step,
            self.apart,
            self.balance,
            self.connector,
        ];
        self.other || !all.iter().all(|used| *used <= most)
    }
}

/// The greatest step across the break behind a segment, where it is seen: at the low corner, and on two supplies with
/// either at the top of its tolerance and the other at the bottom.
fn step_behind(runs: &[RunWork<'_>], joint: &Joint<'_>, number: usize) -> Option<[f64; 2]> {
    let (left, right) = (joint.segments.get(number)?, joint.segments.get(number + 1)?);
    if left.run != right.run || !runs[left.run].is_seen(left.plan.to) {
        return None;
    }
    let low = |number: usize, side: usize| Some(&joint.figures(number)?.low.ends[side]);
    let (a, b) = (low(number, 1)?, low(number + 1, 0)?);
    let together = widest(a, b);
    let mut most = together;
    if joint.supply_of(number) != joint.supply_of(number + 1) {
        let raised = |number: usize, side: usize| Some(&joint.raised(number)?.ends[side]);
        most = most.max(widest(a, raised(number + 1, 0)?));
        most = most.max(widest(raised(number, 1)?, b));
    }
    Some([together, most])
}

/// Greatest step between two cells, over their emitters.
fn widest(a: &[Option<Ratio>], b: &[Option<Ratio>]) -> f64 {
    let both = a.iter().zip(b);
    let steps = both.filter_map(|(a, b)| Some(step(a.as_ref()?.value, b.as_ref()?.value)));
    steps.fold(0.0, f64::max)
}

/// What each run uses of its limits.
fn used(job: &Job, runs: &[RunWork<'_>], joint: &Joint<'_>) -> Vec<Used> {
    let mut out = vec![Used::default(); runs.len()];
    let limits = job.limits();
    let worse = |own: &mut f64, used: f64| *own = if used <= *own { *own } else { used };
    for (number, segment) in joint.segments.iter().enumerate() {
        let own = &mut out[segment.run];
        let Some(figures) = joint.figures(number) else {
            own.other = true;
            continue;
        };
        let low = figures.low;
        let least = limits.least_current.value;
        worse(&mut own.light, least / low.least_current.value);
        if let Some(most) = limits.visible_step {
            let seen = low.joint_steps.iter();
            let seen = seen.filter(|joint| runs[segment.run].is_seen(joint.mark));
            let inside = seen.map(|joint| [joint.step.value; 2]);
            for [together, apart] in inside.chain(step_behind(runs, joint, number)) {
                worse(&mut own.step, together / most.value);
                worse(&mut own.apart, apart / most.value);
            }
        }
        if let Some(most) = limits.balance {
            worse(&mut own.balance, low.imbalance.value / most.value);
        }
        if let Some(most) = connector(job, segment) {
            let currents = figures.high.feeders.iter().flat_map(|f| &f.currents);
            for (_, found) in currents {
                worse(&mut own.connector, found.value / most);
            }
        }
    }
    for number in over_rating(job, joint) {
        out[joint.segments[number].run].other = true;
    }
    out
}

/// What a connection to the tape of a segment may carry, where that is stated.
fn connector(job: &Job, segment: &SegmentWork) -> Option<f64> {
    let stated = [
        job.limits().connector_current,
        job.strips()[segment.tape].pad_current,
    ];
    let stated = stated.into_iter().flatten().map(|most| most.value);
    stated.reduce(f64::min)
}

/// Runs that break a limit with all that shares their copper.
pub(super) fn broken(job: &Job, runs: &[RunWork<'_>], joint: &Joint<'_>) -> Vec<usize> {
    let used = used(job, runs, joint);
    let broken = used.iter().enumerate().filter(|(_, used)| used.is_broken());
    broken.map(|(run, _)| run).collect()
}

/// Runs that are to be fed again, with what they are to aim at: what held by itself breaks a limit with what shares its
/// copper. The least current has its own reserve.
pub(super) fn tighter(job: &Job, runs: &[RunWork<'_>], joint: &Joint<'_>) -> Vec<(usize, Aim)> {
    let mut out = Vec::new();
    for (at, used) in used(job, runs, joint).into_iter().enumerate() {
        let run = &runs[at];
        if !run.holds || run.stuck {
            continue;
        }
        let step = if runs.len() <= MOST_APART {
            used.step.max(used.apart)
        } else {
            used.step
        };
        let share = |used: f64| {
            if used > 1.0 + BAND {
                FURTHER / used
            } else {
                1.0
            }
        };
        let aim = Aim {
            least_current: run.aim.least_current,
            visible_step: run.aim.visible_step.map(|aim| aim * share(step)),
            balance: run.aim.balance.map(|most| most * share(used.balance)),
            connector: run.aim.connector * share(used.connector),
        };
        if aim != run.aim {
            out.push((at, aim));
        }
    }
    out
}
