//! What a run is planned to keep: the limits of the job, or tighter ones where copper that it shares takes the rest.

use super::laid::RunWork;
use crate::choose::feeding::RunFeedPlan;
use crate::finding::Finding;
use crate::job::Job;

/// Limits that a run is planned with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Aim {
    pub least_current: f64,
    /// None: not judged.
    pub visible_step: Option<f64>,
    /// None: not judged.
    pub balance: Option<f64>,
    /// Share of what a connection to the tape may carry.
    pub connector: f64,
}

impl Aim {
    /// The limits of the job.
    pub fn of(job: &Job) -> Self {
        let limits = job.limits();
        Self {
            least_current: limits.least_current.value,
            visible_step: limits.visible_step.map(|step| step.value),
            balance: limits.balance.map(|most| most.value),
            connector: 1.0,
        }
    }

    /// The limits of the job with one of them tighter: a whole per cent after the other, the least current first.
    pub fn ladder(job: &Job) -> [Vec<Self>; 2] {
        let own = Self::of(job);
        let share = |percent: i64| percent as f64 / 100.0;
        let above = (own.least_current * 100.0 + 1e-6).floor() as i64 + 1;
        let light = (above..=100).map(|percent| Self {
            least_current: share(percent),
            ..own
        });
        let below = own
            .visible_step
            .map_or(0, |step| (step * 100.0 - 1e-6).ceil() as i64 - 1);
        let steps = (1..=below).rev().map(|percent| Self {
            visible_step: Some(share(percent)),
            ..own
        });
        [light.collect(), steps.collect()]
    }
}

/// How a run is planned, to be put back where what was tried instead is worse.
#[derive(Clone)]
pub(super) struct Kept {
    plan: Option<RunFeedPlan>,
    findings: Vec<Finding>,
    drawn: super::laid::Drawn,
    reserve: f64,
    aim: Aim,
    only_from: Option<usize>,
    holds: bool,
    with_the_whole: bool,
    stuck: bool,
}

impl RunWork<'_> {
    /// How it is planned now.
    pub fn keep(&self) -> Kept {
        Kept {
            plan: self.plan.clone(),
            findings: self.findings.clone(),
            drawn: self.drawn.clone(),
            reserve: self.reserve,
            aim: self.aim,
            only_from: self.only_from,
            holds: self.holds,
            with_the_whole: self.with_the_whole,
            stuck: self.stuck,
        }
    }

    /// As it was planned before.
    pub fn put_back(&mut self, kept: Kept) {
        self.plan = kept.plan;
        self.findings = kept.findings;
        self.drawn = kept.drawn;
        self.reserve = kept.reserve;
        self.aim = kept.aim;
        self.only_from = kept.only_from;
        self.holds = kept.holds;
        self.with_the_whole = kept.with_the_whole;
        self.stuck = kept.stuck;
    }
}
