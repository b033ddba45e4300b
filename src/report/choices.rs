//! The schedule of choices: what was chosen, and what was proven about it.

use super::schedule::{Draft, Schedule};
use crate::plan::model::{ChoiceRow, Plan};

pub(super) fn choices(plan: &Plan) -> Schedule {
    Draft::<ChoiceRow>::new(
        "choices",
        "Choices",
        "What was chosen, what it costs and what was proven. Bound: nothing that solves the named problem costs less; where \
         cost and bound are equal, nothing cheaper exists. A gap is what a better answer could save at most. With the whole: something cheaper by itself makes the whole job dearer. Costs count \
         what the job prices: cable, feeds, segments, breaks and joints between reels of a run, devices of a place; not tape, profile or labour beside \
         it. What is fixed costs nothing.",
    )
    .name("choice", "For", |r| r.what.clone())
    .words("chosen", "Chosen", |r| r.chosen.clone())
    .amount("cost", "Cost", |r| r.cost.printed(&r.currency))
    .amount("lower_bound", "Bound", |r| r.lower_bound.printed(&r.currency))
    .amount("gap", "Gap", |r| r.gap().printed(&r.currency))
    .words("counted", "Counted in", |r| r.cost.unit(&r.currency))
    .words("proven", "Cheapest", |r| {
        let words = match (r.proven, r.with_the_whole) {
            (true, _) => "proven",
            (false, true) => "with the whole",
            (false, false) => "not proven",
        };
        words.to_string()
    })
    .beneath("binding", "Binding limit", |r| r.binding.clone())
    .beneath("runner_up", "Next best", |r| r.runner_up.clone())
    .beneath("reason", "Bound rests on", |r| r.reason.clone())
    .beneath("problem", "Problem", |r| r.problem.clone())
    .fill(&plan.choices)
}
