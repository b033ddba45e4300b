//! What was chosen, and what was proven about it: of each run, of decoders and supplies, of all together.

use crate::choose::feeding::{self, RunFeedPlan};
use crate::design::{Alternative, Binding, Choice, Chosen, Design, Problem, Proof};
use crate::finding::Subject;
use crate::id::{ProductId, RunId};
use crate::plan::devices::Assigned;
use crate::plan::laid::RunWork;
use crate::plan::{SolvedJob, bound, together};
use crate::quantity::{Cost, Money, fraction};
use std::collections::BTreeMap;

impl SolvedJob<'_> {
    /// Choices run by run, then decoders, then supplies, then all together.
    pub(in crate::plan) fn put_choices(&self, design: &mut Design) {
        for run in &self.runs {
            if let Some(own) = run.plan.as_ref().filter(|_| run.holds) {
                design.choices.push(run_choice(run, own));
            }
        }
        let [decoders, supplies] = &self.joint.assigned;
        let mut kinds: BTreeMap<(usize, usize), Vec<&str>> = BTreeMap::new();
        for own in &self.joint.decoder_units {
            let names = own.spec.map(|spec| spec.name.as_str());
            kinds
                .entry((own.place, own.zone))
                .or_default()
                .extend(names);
        }
        for told in decoders {
            let own = kinds.get(&told.of).into_iter().flatten().copied();
            design.choices.push(device_choice(told, own));
        }
        let mut kinds: BTreeMap<usize, Vec<&str>> = BTreeMap::new();
        for own in &self.joint.units {
            kinds.entry(own.assigned).or_default().push(&own.spec.name);
        }
        for (at, told) in supplies.iter().enumerate() {
            let own = kinds.get(&at).into_iter().flatten().copied();
            design.choices.push(device_choice(told, own));
        }
        design.choices.extend(self.whole_choice());
    }

    /// The sum of all, where everything is priced, with a bound that holds whatever the feeding.
    fn whole_choice(&self) -> Option<Choice> {
        let all: Vec<&Assigned> = self.joint.assigned.iter().flatten().collect();
        let plans = || self.runs.iter().map(|r| r.plan.as_ref());
        let feeding: i64 = plans().map(|p| p.map(|p| p.cost)).sum::<Option<i64>>()?;
        let parts: i64 = plans()
            .map(|p| p.map(|p| p.lower_bound))
            .sum::<Option<i64>>()?;
        let least: i64 = self.runs.iter().map(|r| r.least).sum::<Option<i64>>()?;
        if !all.iter().all(|a| a.is_priced()) || !self.runs.iter().all(|r| r.holds) {
            return None;
        }
        let devices: i64 = all.iter().map(|a| a.priced()[0]).sum();
        let parts = parts + all.iter().map(|a| a.priced()[1]).sum::<i64>();
        let cost = feeding + devices;
        let any = least + bound::devices(self.job, &self.runs, self.models);
        let (problem, reason, lower_bound) = match &self.whole {
            Some(found) => (
                found.problem.clone(),
                format!("{}; {}", found.reason, together::afterwards(self.job, &self.runs)),
                found.lower.max(any),
            ),
            None => (
                "feeding of every run, decoders and supplies, each run cut, fed and wired as its own problem says, from the \
                 weakest of the kinds permitted"
                    .to_string(),
                format!(
                    "run by run, then device by device: no plan costs less than the least feeding of every run together \
                     with devices for the least that its cells must draw; with the segments as cut, the bounds of the \
                     parts add up to {}",
                    priced(parts).words(self.job.currency())
                ),
                any,
            ),
        };
        let lower_bound = lower_bound.min(cost);
        let runner_up = self.whole.as_ref().map(|whole| &whole.runner_up);
        Some(Choice {
            about: Subject::Job,
            chosen: Chosen::Whole {
                feeding: Money::from_minor_units(feeding),
                devices: Money::from_minor_units(devices),
            },
            cost: priced(cost),
            lower_bound: priced(lower_bound),
            proof: if lower_bound == cost {
                Proof::Cheapest
            } else {
                Proof::Gap
            },
            binding: Vec::new(),
            runner_up: runner_up
                .filter(|words| !words.is_empty())
                .map(|words| Alternative {
                    what: (&**words).into(),
                    cost: None,
                    why_not: "".into(),
                }),
            refused: None,
            problem: Problem::Stated(problem.into()),
            reason: reason.into(),
        })
    }
}

/// Minor units as a cost.
fn priced(units: i64) -> Cost {
    Cost::Priced(Money::from_minor_units(units))
}

fn run_choice(run: &RunWork<'_>, own: &RunFeedPlan) -> Choice {
    let (problem, reason, proof) = match &own.proof {
        feeding::Proof::Cheapest { problem } => (
            problem,
            "every cheaper arrangement breaks a limit",
            Proof::Cheapest,
        ),
        feeding::Proof::Gap { problem, reason } => (problem, reason.as_str(), Proof::Gap),
    };
    let other = |a: &feeding::Alternative| Alternative {
        what: (&*a.what).into(),
        cost: Some(priced(a.cost)),
        why_not: (&*a.why_not).into(),
    };
    Choice {
        about: Subject::Run(RunId::new(&*run.spec.name)),
        chosen: Chosen::Feeding {
            segments: own.segments.len() as u64,
            feeds: own.segments.iter().map(|s| s.feeds.len() as u64).sum(),
        },
        cost: priced(own.cost),
        lower_bound: priced(own.lower_bound),
        proof: match proof {
            Proof::Gap if run.with_the_whole => Proof::WithTheWhole,
            proof => proof,
        },
        binding: own
            .binding
            .iter()
            .map(|binding| Binding::Nearest {
                limit: binding.limit,
                figure: binding.figure,
                permitted: binding.permitted,
                at: binding.at.clone(),
                used: fraction(binding.used).into(),
            })
            .collect(),
        runner_up: own.runner_up.as_ref().map(other),
        refused: own.refused.as_ref().map(other),
        problem: Problem::Feeding(problem.clone()),
        reason: reason.into(),
    }
}

fn device_choice<'a>(told: &Assigned, kinds: impl Iterator<Item = &'a str>) -> Choice {
    let mut count: BTreeMap<&str, u64> = BTreeMap::new();
    for kind in kinds {
        *count.entry(kind).or_default() += 1;
    }
    let mut reason = told.reason_shown();
    if told.alone > 0 {
        reason = format!(
            "{} loads fit no permitted kind and stand alone on the strongest; {reason}",
            told.alone
        );
    }
    Choice {
        about: told.about.clone(),
        chosen: Chosen::Devices(
            count
                .into_iter()
                .map(|(kind, n)| (ProductId::new(kind), n))
                .collect(),
        ),
        cost: told.spent(),
        lower_bound: told.least(),
        proof: match (told.proven(), told.with_the_whole) {
            (true, _) => Proof::Cheapest,
            (false, true) => Proof::WithTheWhole,
            (false, false) => Proof::Gap,
        },
        binding: told
            .binding
            .iter()
            .map(|(limit, without)| Binding::Costs {
                limit: (*limit).into(),
                without: told.costing.cost(*without),
            })
            .collect(),
        runner_up: told.runner_up.as_ref().map(|(cost, differs)| Alternative {
            what: (&**differs).into(),
            cost: Some(told.costing.cost(*cost)),
            why_not: "".into(),
        }),
        refused: None,
        problem: Problem::Stated((&*told.problem).into()),
        reason: reason.into(),
    }
}
