//! Runs solved with all that shares their copper, and planned again where that takes too much.
//!
//! ```text
//!  feed each run ─► join ─► a limit is broken: its reserve is raised, or its aim tightened; fed and joined again
//!                     │     (at most ROUNDS times; what can then not be fed stays as it was)
//!                     ├───► still broken, and fed from several places: from one of them alone
//!                     └───► still broken: all runs that share a place with it aim at the least current one per cent
//!                           higher, then at a step one per cent smaller, as far as they can be fed
//! ```
//! The last is why no plan is lost by a limit that is relaxed: what a job finds with a limit of so many whole per cent, a job
//! with a wider one finds too, for it tries that limit before it gives up. It is tried for runs that hold by themselves only,
//! for others no tighter limit helps; in jobs of up to [`MOST_APART`](kept::MOST_APART) runs, and for at most [`MOST_FED`] runs fed anew.
//! An aim that every plan made on the way keeps anyway ([`Mending::same_up_to`]) would give the same plans again and is passed over.

use super::aim::{Aim, Kept};
use super::facts::TapeModels;
use super::joined::{self, Joint};
use super::laid::RunWork;
use super::phases::{self, Phase};
use super::together::{self, Whole};
use super::{ROUNDS, decoders, feeding, kept};
use crate::job::Job;
use crate::network::Workspace;
use crate::progress::{Progress, Step};
use std::collections::{BTreeMap, BTreeSet};

/// Most runs that are fed anew at tighter aims, over all groups of a job: so a job with much that cannot be mended takes
/// little longer, and one of up to six runs tries every whole per cent.
const MOST_FED: usize = 300;

/// What runs are planned with.
pub(super) struct Mending<'a, 'j> {
    pub job: &'j Job,
    pub tapes: &'a TapeModels,
    pub work: Workspace,
    /// Least relative current up to which a higher aim would have changed nothing of what was fed and joined since this was set.
    pub same_up_to: f64,
}

impl<'j> Mending<'_, 'j> {
    /// Every run with all that shares its copper, mended as far as it can be; none when cancelled.
    pub fn settle(
        &mut self,
        runs: &mut Vec<RunWork<'j>>,
        whole: &mut Option<Whole<'j>>,
        progress: &mut Progress<'_>,
    ) -> Option<Joint<'j>> {
        let mut parts = Phase::new(progress, phases::SOLVING, 3 + 2 * ROUNDS);
        let joint = self.rounds(runs, whole, &mut parts)?;
        let few = runs.len() <= kept::MOST_APART;
        let joint = match few {
            true => self.feed_from_one_place(runs, whole, joint, &mut parts)?,
            false => joint,
        };
        let broken = kept::broken(self.job, runs, &joint);
        let mended =
            few && !broken.is_empty() && parts.part(|p| self.climb(runs, &broken, whole, p));
        let joint = if mended {
            parts.part(|p| self.join(runs, whole, p))
        } else {
            joint
        };
        let stopped = parts.is_cancelled();
        parts.end();
        (!stopped).then_some(joint)
    }

    fn join(
        &mut self,
        runs: &[RunWork<'j>],
        whole: &Option<Whole<'j>>,
        progress: &mut Progress<'_>,
    ) -> Joint<'j> {
        let joint = joined::join(
            self.job,
            runs,
            self.tapes,
            decoders(whole),
            &mut self.work,
            progress,
        );
        for (number, segment) in joint.segments.iter().enumerate() {
            let found = joint.figures(number).map(|f| f.low.least_current.value);
            let kept = |found: &f64| *found >= runs[segment.run].aim.least_current;
            self.same_up_to = found.filter(kept).unwrap_or(1.0).min(self.same_up_to);
        }
        joint
    }

    fn feed(&mut self, runs: &mut [RunWork<'j>], which: &[usize], progress: &mut Progress<'_>) {
        feeding::feed(self.job, runs, which, self.tapes, progress);
        for run in which.iter().map(|at| &runs[*at]).filter(|run| run.holds) {
            let segments = run.plan.iter().flat_map(|plan| &plan.segments);
            let found = segments.map(|segment| segment.figures.low.least_current.value);
            self.same_up_to = found.fold(self.same_up_to, f64::min);
        }
    }

    /// Raises reserves, tightens aims and chooses devices again, until every run that held by itself holds.
    fn rounds(
        &mut self,
        runs: &mut [RunWork<'j>],
        whole: &mut Option<Whole<'j>>,
        parts: &mut Phase<'_, '_>,
    ) -> Option<Joint<'j>> {
        let mut joint = parts.part(|p| self.join(runs, whole, p));
        for _ in 0..ROUNDS {
            if parts.is_cancelled() {
                return None;
            }
            let raised = joined::reserves(runs, &joint);
            let drawn = joined::overloads(self.job, runs, &joint);
            let tighter = kept::tighter(self.job, runs, &joint);
            if raised.is_empty() && drawn.is_empty() && tighter.is_empty() {
                break;
            }
            for (run, marks, draw) in drawn {
                runs[run].drawn.insert(marks, draw);
            }
            let mut again: BTreeMap<usize, Kept> = BTreeMap::new();
            for (run, reserve) in raised {
                again.entry(run).or_insert_with(|| runs[run].keep());
                runs[run].reserve = reserve;
            }
            for (run, aim) in tighter {
                again.entry(run).or_insert_with(|| runs[run].keep());
                runs[run].aim = aim;
            }
            joint = parts.part(|progress| {
                let mut round = Phase::new(progress, phases::SOLVING, 3);
                let which: Vec<usize> = again.keys().copied().collect();
                round.part(|p| self.feed(runs, &which, p));
                for (run, kept) in again {
                    // It breaks a limit as it was, and keeps none of the others better in any other way.
                    if !runs[run].holds {
                        runs[run].put_back(kept);
                        runs[run].stuck = true;
                    }
                }
                if let Some(before) = whole.take() {
                    *whole = round
                        .part(|p| together::choose(self.job, runs, self.tapes, Some(before), p));
                }
                round.part(|p| self.join(runs, whole, p))
            });
        }
        (!parts.is_cancelled()).then_some(joint)
    }

    /// Each run that breaks a limit and is fed from several places, from one of them alone where it and all others then break
    /// less: two supplies at two places are never exchanged for one.
    fn feed_from_one_place(
        &mut self,
        runs: &mut [RunWork<'j>],
        whole: &mut Option<Whole<'j>>,
        mut joint: Joint<'j>,
        parts: &mut Phase<'_, '_>,
    ) -> Option<Joint<'j>> {
        let mut broken = kept::broken(self.job, runs, &joint);
        for run in broken.clone() {
            let places = runs[run].places(self.job);
            if places.len() < 2 || !runs[run].holds {
                continue;
            }
            for place in places {
                let before: Vec<Kept> = runs.iter().map(RunWork::keep).collect();
                let own = &mut runs[run];
                (own.aim, own.reserve, own.stuck) = (Aim::of(self.job), 0.0, false);
                own.only_from = Some(place);
                parts.part(|p| self.feed(runs, &[run], p));
                if runs[run].holds {
                    let other = self.rounds(runs, &mut None, parts)?;
                    let left = kept::broken(self.job, runs, &other);
                    if left.len() < broken.len() {
                        (joint, broken) = (other, left);
                        if let Some(chosen) = whole {
                            chosen.decoders = None;
                        }
                        break;
                    }
                }
                for (run, before) in runs.iter_mut().zip(before) {
                    run.put_back(before);
                }
            }
        }
        Some(joint)
    }

    /// Plans each group of runs with one that breaks a limit at tighter aims; whether that mended any.
    fn climb(
        &mut self,
        runs: &mut Vec<RunWork<'j>>,
        broken: &[usize],
        whole: &mut Option<Whole<'j>>,
        progress: &mut Progress<'_>,
    ) -> bool {
        let group_of = groups(self.job, runs);
        let wanting: BTreeSet<usize> = broken.iter().map(|run| group_of[*run]).collect();
        let mut groups: BTreeMap<usize, Vec<(usize, RunWork<'j>)>> = BTreeMap::new();
        for (at, run) in std::mem::take(runs).into_iter().enumerate() {
            groups.entry(group_of[at]).or_default().push((at, run));
        }
        let mut mended = false;
        let mut left = MOST_FED;
        let mut all = Vec::new();
        for (group, own) in groups {
            let (at, mut own): (Vec<usize>, Vec<RunWork<'j>>) = own.into_iter().unzip();
            if wanting.contains(&group) && own.iter().all(|run| run.may_hold) {
                mended |= self.climb_one(&mut own, &mut left, progress);
            }
            all.extend(at.into_iter().zip(own));
        }
        // What was chosen as a whole, for other segments, no longer is; its bound stays.
        if let (true, Some(chosen)) = (mended, whole) {
            chosen.decoders = None;
        }
        all.sort_by_key(|(at, _)| *at);
        runs.extend(all.into_iter().map(|(_, run)| run));
        mended
    }

    /// Run by run, as trying all whole plans for each aim would take too long.
    fn climb_one(
        &mut self,
        runs: &mut [RunWork<'j>],
        left: &mut usize,
        progress: &mut Progress<'_>,
    ) -> bool {
        let before: Vec<Kept> = runs.iter().map(RunWork::keep).collect();
        let which: Vec<usize> = (0..runs.len()).collect();
        let own = Aim::of(self.job);
        for aims in Aim::ladder(self.job) {
            self.same_up_to = 0.0;
            for aim in aims {
                if aim.least_current <= self.same_up_to && aim.least_current > own.least_current {
                    continue;
                }
                self.same_up_to = 1.0;
                if *left < runs.len() || progress.is_cancelled() {
                    break;
                }
                *left -= runs.len();
                for run in runs.iter_mut() {
                    (run.aim, run.reserve, run.stuck) = (aim, 0.0, false);
                }
                let mut quiet = |_: Step| progress.step(phases::SOLVING, 0, 1);
                let mut quiet = Progress::every(&mut quiet);
                self.feed(runs, &which, &mut quiet);
                if !runs.iter().all(|run| run.holds || run.gave_up) {
                    break;
                }
                if !runs.iter().all(|run| run.holds) {
                    continue;
                }
                let mut parts = Phase::new(&mut quiet, phases::SOLVING, 1 + ROUNDS);
                let Some(joint) = self.rounds(runs, &mut None, &mut parts) else {
                    break;
                };
                if kept::broken(self.job, runs, &joint).is_empty() {
                    return true;
                }
            }
        }
        for (run, before) in runs.iter_mut().zip(before) {
            run.put_back(before);
        }
        false
    }
}

/// Groups of runs that may share a device, by the number of one of each: runs with a place in common.
fn groups(job: &Job, runs: &[RunWork<'_>]) -> Vec<usize> {
    let mut parent: Vec<usize> = (0..runs.len()).collect();
    let mut at_place: BTreeMap<&str, usize> = BTreeMap::new();
    let root = |parent: &mut Vec<usize>, mut at: usize| {
        while parent[at] != at {
            parent[at] = parent[parent[at]];
            at = parent[at];
        }
        at
    };
    for (run, work) in runs.iter().enumerate() {
        let routes = work.spec.routes.iter().map(|route| &route.place);
        for place in routes.filter(|place| job.place(place).is_some()) {
            let first = *at_place.entry(place).or_insert(run);
            let (a, b) = (root(&mut parent, first), root(&mut parent, run));
            parent[b.max(a)] = a.min(b);
        }
    }
    (0..runs.len()).map(|run| root(&mut parent, run)).collect()
}
