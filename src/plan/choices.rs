//! What was chosen, and what was proven about it: of each run, of decoders and supplies, of all together.

use super::Worked;
use super::bound;
use super::devices::Assigned;
use super::model::{ChoiceRow, Plan};
use super::together;
use crate::choose::feeding::{Alternative, Proof, RunFeedPlan};
use crate::quantity::{Cost, Currency, Money};

/// `1 feed`, `3 feeds`.
fn many(count: usize, one: &str) -> String {
    format!("{count} {one}{}", if count == 1 { "" } else { "s" })
}

impl Worked<'_> {
    pub(super) fn choice_rows(&self, plan: &mut Plan) {
        for run in &self.runs {
            if let Some(own) = &run.plan
                && run.holds
            {
                plan.choices
                    .push(self.run_choice(&run.spec.name, own, run.with_the_whole));
            }
        }
        for (devices, kind_of) in self
            .joint
            .assigned
            .iter()
            .zip([self.kinds_of_decoders(), self.kinds_of_supplies()])
        {
            for (number, told) in devices.iter().enumerate() {
                let chosen = kind_of.get(number).cloned().unwrap_or_default();
                plan.choices
                    .push(device_choice(told, &chosen, self.job.currency()));
            }
        }
        plan.choices.extend(self.whole());
    }

    fn run_choice(&self, name: &str, own: &RunFeedPlan, with_the_whole: bool) -> ChoiceRow {
        let (problem, reason) = match &own.proof {
            Proof::Cheapest { problem } => (
                problem.clone(),
                "every cheaper arrangement breaks a limit".to_string(),
            ),
            Proof::Gap { problem, reason } => (problem.clone(), reason.clone()),
        };
        let feeds = own.segments.iter().map(|s| s.feeds.len()).sum();
        let binding = &own.binding;
        let currency = self.job.currency();
        let other = |a: &Alternative| {
            let why_not = match a.cost - own.cost {
                more if more > 0 => format!("dearer by {}", minor(more, currency)),
                _ => a.why_not.clone(),
            };
            format!("{} for {}: {why_not}", a.what, minor(a.cost, currency))
        };
        let mut next = own.runner_up.as_ref().map_or_else(String::new, other);
        if let Some(refused) = &own.refused {
            let refused = format!("cheaper, and refused: {}", other(refused));
            next = if next.is_empty() {
                refused
            } else {
                format!("{next}; {refused}")
            };
        }
        ChoiceRow {
            what: format!("run {name}"),
            chosen: format!(
                "{}, {}",
                many(own.segments.len(), "segment"),
                many(feeds, "feed")
            ),
            cost: priced(own.cost),
            lower_bound: priced(own.lower_bound),
            currency: currency.clone(),
            proven: matches!(own.proof, Proof::Cheapest { .. }),
            with_the_whole,
            binding: binding.as_ref().map_or_else(String::new, |binding| {
                let (crate::finding::Limit::AtLeast(limit)
                | crate::finding::Limit::AtMost(limit)
                | crate::finding::Limit::Below(limit)
                | crate::finding::Limit::Above(limit)
                | crate::finding::Limit::Within(_, limit)) = binding.permitted;
                format!(
                    "{}: {} of {limit} at {}, {:.1} % used",
                    binding.limit.words(),
                    binding.figure,
                    binding.at,
                    binding.used * 100.0
                )
            }),
            runner_up: next,
            problem: problem.to_string(),
            reason,
        }
    }

    /// Kinds in use, by assignment: `4 × 24 V, 96 W`.
    fn kinds_of_supplies(&self) -> Vec<String> {
        let units = &self.joint.units;
        (0..self.joint.assigned[1].len())
            .map(|at| {
                counted(
                    units
                        .iter()
                        .filter(|u| u.assigned == at)
                        .map(|u| u.spec.name.as_str()),
                )
            })
            .collect()
    }

    fn kinds_of_decoders(&self) -> Vec<String> {
        let bodies = &self.joint.bodies;
        self.joint.assigned[0]
            .iter()
            .map(|told| {
                let own = bodies.iter().filter(|b| told.of == (b.place, b.zone));
                counted(own.filter_map(|b| b.spec).map(|d| d.name.as_str()))
            })
            .collect()
    }

    /// The sum of all, where everything is priced, with a bound that holds whatever the feeding.
    fn whole(&self) -> Option<ChoiceRow> {
        let all: Vec<&Assigned> = self.joint.assigned.iter().flatten().collect();
        let feeding: i64 = self
            .runs
            .iter()
            .map(|r| r.plan.as_ref().map(|p| p.cost))
            .sum::<Option<i64>>()?;
        let least: i64 = self.runs.iter().map(|r| r.least).sum::<Option<i64>>()?;
        let parts: i64 = self
            .runs
            .iter()
            .map(|r| r.plan.as_ref().map(|p| p.lower_bound))
            .sum::<Option<i64>>()?;
        if !all.iter().all(|a| a.is_priced()) || !self.runs.iter().all(|r| r.holds) {
            return None;
        }
        let devices: i64 = all.iter().map(|a| a.priced()[0]).sum();
        let parts = parts + all.iter().map(|a| a.priced()[1]).sum::<i64>();
        let cost = feeding + devices;
        let any = least + bound::devices(self.job, &self.runs, self.models);
        let currency = self.job.currency();
        let (problem, reason, lower_bound) = match &self.whole {
            Some(found) => (
                found.problem.clone(),
                format!(
                    "{}; {}",
                    found.reason,
                    together::afterwards(&self.runs)
                ),
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
                    minor(parts, currency)
                ),
                any,
            ),
        };
        let lower_bound = lower_bound.min(cost);
        Some(ChoiceRow {
            what: "whole job".to_string(),
            chosen: format!(
                "feeding {}, devices {}",
                minor(feeding, currency),
                minor(devices, currency)
            ),
            cost: priced(cost),
            lower_bound: priced(lower_bound),
            currency: currency.clone(),
            proven: lower_bound == cost,
            with_the_whole: false,
            binding: String::new(),
            runner_up: self
                .whole
                .as_ref()
                .map_or_else(String::new, |w| w.runner_up.clone()),
            problem,
            reason,
        })
    }
}

/// Minor units as a cost.
fn priced(units: i64) -> Cost {
    Cost::Priced(Money::from_minor_units(units))
}

fn minor(units: i64, currency: &Currency) -> String {
    priced(units).words(currency)
}

/// `2 × A, 1 × B`.
fn counted<'a>(names: impl Iterator<Item = &'a str>) -> String {
    let mut count: std::collections::BTreeMap<&str, usize> = std::collections::BTreeMap::new();
    for name in names {
        *count.entry(name).or_default() += 1;
    }
    let all: Vec<String> = count
        .iter()
        .map(|(name, n)| format!("{n} × {name}"))
        .collect();
    all.join(", ")
}

fn device_choice(told: &Assigned, chosen: &str, currency: &Currency) -> ChoiceRow {
    let mut reason = told.reason_shown();
    if told.alone > 0 {
        reason = format!(
            "{} loads fit no permitted kind and stand alone on the strongest; {reason}",
            told.alone
        );
    }
    ChoiceRow {
        what: told.what.clone(),
        chosen: chosen.to_string(),
        cost: told.spent(),
        lower_bound: told.least(),
        currency: currency.clone(),
        proven: told.proven(),
        with_the_whole: told.with_the_whole,
        binding: told.binding_words(currency),
        runner_up: told.runner_up_words(currency),
        problem: told.problem.clone(),
        reason,
    }
}
