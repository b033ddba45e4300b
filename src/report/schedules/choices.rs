//! What was chosen, and what was proven about it.

use crate::design::{
    Alternative, Binding, Choice, Chosen, Design, FeedProblem, Marks, Problem, Proof,
};
use crate::quantity::Currency;
use crate::report::lengths::length;
use crate::report::marks::place;
use crate::report::of_runs::OfRuns;
use crate::report::schedule::{Draft, Schedule};
use crate::report::words::{joined, listed, many};

pub(in crate::report) fn choices(design: &Design, runs: &OfRuns<'_>) -> Schedule {
    let currency = &design.job.currency;
    Draft::<&Choice>::new(
        "choices",
        "Choices",
        "What was chosen, what it costs and what was proven. Bound: nothing that solves the named problem costs less; where \
         cost and bound are equal, nothing cheaper exists. A gap is what a better answer could save at most. With the whole: something cheaper by itself makes the whole job dearer. Costs count \
         what the job prices: cable, feeds, segments, breaks and joints between reels of a run, devices of a place; not tape, profile or labour beside \
         it. What is fixed costs nothing.",
    )
    .name("choice", "For", |r| &r.about)
    .words("chosen", "Chosen", move |r| chosen(r, currency))
    .amount("cost", "Cost", |r| r.cost.printed(currency))
    .amount("lower_bound", "Bound", |r| r.lower_bound.printed(currency))
    .amount("gap", "Gap", |r| r.gap().printed(currency))
    .words("counted", "Counted in", |r| r.cost.unit(currency))
    .words("proven", "Cheapest", |r| match r.proof {
        Proof::Cheapest => "proven",
        Proof::WithTheWhole => "with the whole",
        Proof::Gap => "not proven",
    })
    .beneath("binding", "Binding limit", move |r| binding(design, r, currency))
    .beneath("runner_up", "Next best", move |r| others(r, currency))
    .beneath("reason", "Bound rests on", |r| &r.reason)
    .beneath("problem", "Problem", move |r| match &r.problem {
        Problem::Feeding(problem) => feeding(design, problem),
        Problem::Stated(problem) => problem.to_string(),
    })
    .of(|r| runs.subject(&r.about))
    .fill(&design.choices)
}

/// What the search of a run's feeding was permitted, its lengths as a person reads them.
fn feeding(design: &Design, problem: &FeedProblem) -> String {
    let run = design.runs.iter().find(|run| run.id == problem.run);
    let Some(strip) = run.and_then(|run| design.strip(&run.strip)) else {
        return problem.to_string();
    };
    let of = |increments| length(design.job.units, strip.pitch.length_of(increments));
    let marks = |marks: Marks, what: &str| match marks {
        Marks::Ends => format!("no {what} but at the ends"),
        Marks::Every => format!("{what}s at every cut mark"),
        Marks::Listed(count) => format!("{what}s at {count} listed marks"),
    };
    let reel = problem.reel.map_or_else(String::new, |reel| {
        let reel = of(reel);
        format!(", tape from reels of {reel}, each piece joined at whole reels from its start")
    });
    let even = match problem.even_places_only {
        true => "; two and three feeds inside at even places only",
        false => "",
    };
    let light = problem.light.map_or_else(String::new, |light| {
        format!("; every lit cell at {light} of its nominal current or more")
    });
    format!(
        "run {}, {}{reel}, {}, {}; {}{even}; wires {}; from {}; lit states {}; source with the copper shared between \
         segments as a reserve{light}",
        problem.run,
        of(problem.increments),
        marks(problem.breaks, "break"),
        marks(problem.feeds, "feed"),
        listed(problem.patterns.iter().map(|pattern| pattern.fed())),
        listed(&problem.cables),
        listed(&problem.places),
        problem.states,
    )
}

fn chosen(choice: &Choice, currency: &Currency) -> String {
    match &choice.chosen {
        Chosen::Feeding { segments, feeds } => format!(
            "{}, {}",
            many(*segments as usize, "segment", "segments"),
            many(*feeds as usize, "feed", "feeds")
        ),
        Chosen::Devices(kinds) => listed(
            kinds
                .iter()
                .map(|(kind, count)| format!("{count} × {kind}")),
        ),
        Chosen::Whole { feeding, devices } => {
            format!(
                "feeding {}, devices {}",
                currency.words(*feeding),
                currency.words(*devices)
            )
        }
    }
}

/// The limits that bind, or why none is named.
fn binding(design: &Design, choice: &Choice, currency: &Currency) -> String {
    if let Chosen::Devices(_) = choice.chosen {
        if choice.proof == Proof::WithTheWhole {
            return "not asked of what is chosen with the whole job".to_string();
        }
        if choice.binding.is_empty() {
            return "none found: without any one limit it costs the same".to_string();
        }
    }
    let each = choice.binding.iter().map(|one| match one {
        Binding::Nearest {
            limit,
            figure,
            permitted,
            at,
            used,
        } => format!(
            "{}: {figure} of {} at {}, {:.1} % used",
            limit.words(),
            permitted.figure(),
            place(design, at),
            used.si() * 100.0
        ),
        Binding::Costs { limit, without } => {
            format!("{limit} ({} without it)", without.words(currency))
        }
    });
    joined(each, "; ")
}

/// The next best, and of a run what is cheaper and refused.
fn others(choice: &Choice, currency: &Currency) -> String {
    let words = |other: &Alternative| {
        let Some(cost) = other.cost else {
            return other.what.to_string();
        };
        let said = cost.words(currency);
        if !matches!(choice.chosen, Chosen::Feeding { .. }) {
            return format!("{}: {said}", other.what);
        }
        let more = cost
            .minus(choice.cost)
            .filter(|more| more.printed(currency).0 > 0);
        let why_not = more.map_or_else(
            || other.why_not.to_string(),
            |more| format!("dearer by {}", more.words(currency)),
        );
        format!("{} for {said}: {why_not}", other.what)
    };
    let next = choice.runner_up.as_ref().map(words);
    let refused = choice.refused.as_ref();
    let refused = refused.map(|other| format!("cheaper, and refused: {}", words(other)));
    joined(next.into_iter().chain(refused), "; ")
}
