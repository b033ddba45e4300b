//! What was chosen, and what was proven about it.

use crate::design::{Alternative, Binding, Choice, Chosen, Counted, Design, Problem, Proof};
use crate::finding::Limit;
use crate::quantity::{Bodies, Cost, Currency, Money};
use crate::report::schedule::{Draft, Schedule};
use crate::report::words::{joined, listed, many};

pub(in crate::report) fn choices(design: &Design) -> Schedule {
    let code = design.job.currency.as_ref().map(|code| code.as_str());
    let currency = &Currency::of(code);
    Draft::<&Choice>::new(
        "choices",
        "Choices",
        "What was chosen, what it costs and what was proven. Bound: nothing that solves the named problem costs less; where \
         cost and bound are equal, nothing cheaper exists. A gap is what a better answer could save at most. With the whole: something cheaper by itself makes the whole job dearer. Costs count \
         what the job prices: cable, feeds, segments, breaks and joints between reels of a run, devices of a place; not tape, profile or labour beside \
         it. What is fixed costs nothing.",
    )
    .name("choice", "For", |r| about(r))
    .words("chosen", "Chosen", |r| chosen(r, currency))
    .amount("cost", "Cost", |r| cost(r, r.cost).printed(currency))
    .amount("lower_bound", "Bound", |r| {
        cost(r, r.lower_bound).printed(currency)
    })
    .amount("gap", "Gap", |r| cost(r, r.gap()).printed(currency))
    .words("counted", "Counted in", |r| cost(r, r.cost).unit(currency))
    .words("proven", "Cheapest", |r| match r.proof {
        Proof::Cheapest => "proven",
        Proof::WithTheWhole => "with the whole",
        Proof::Gap => "not proven",
    })
    .beneath("binding", "Binding limit", |r| binding(r, currency))
    .beneath("runner_up", "Next best", |r| others(r, currency))
    .beneath("reason", "Bound rests on", |r| &r.reason)
    .beneath("problem", "Problem", |r| match &r.problem {
        Problem::Feeding(problem) => problem.to_string(),
        Problem::Stated(problem) => problem.to_string(),
    })
    .fill(&design.choices)
}

/// What was chosen for: `run S1`, `supplies at riser cupboard, emergency service`.
fn about(choice: &Choice) -> String {
    if choice.called.as_str().is_empty() {
        choice.about.to_string()
    } else {
        format!("{}, {}", choice.about, choice.called)
    }
}

/// An amount of this choice: money, or bodies.
fn cost(choice: &Choice, amount: i64) -> Cost {
    match choice.counted {
        Counted::Money => Cost::Priced(Money::from_minor_units(amount)),
        Counted::Bodies => Cost::Counted(Bodies { bodies: amount }),
    }
}

fn chosen(choice: &Choice, currency: &Currency) -> String {
    let money = |amount| currency.words(Money::from_minor_units(amount));
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
            format!("feeding {}, devices {}", money(*feeding), money(*devices))
        }
    }
}

/// The limits that bind, or why none is named.
fn binding(choice: &Choice, currency: &Currency) -> String {
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
            permitted:
                Limit::AtMost(permitted) | Limit::AtLeast(permitted) | Limit::Within(_, permitted),
            at,
            used,
        } => format!(
            "{}: {figure} of {permitted} at {at}, {:.1} % used",
            limit.words(),
            used.si() * 100.0
        ),
        Binding::Costs { limit, without } => {
            format!(
                "{limit} ({} without it)",
                cost(choice, *without).words(currency)
            )
        }
    });
    joined(each, "; ")
}

/// The next best, and of a run what is cheaper and refused.
fn others(choice: &Choice, currency: &Currency) -> String {
    let words = |other: &Alternative| {
        let own = cost(choice, other.cost).words(currency);
        if !matches!(choice.chosen, Chosen::Feeding { .. }) {
            return format!("{}: {own}", other.what);
        }
        let why_not = match other.cost.saturating_sub(choice.cost) {
            more if more > 0 => format!("dearer by {}", cost(choice, more).words(currency)),
            _ => other.why_not.to_string(),
        };
        format!("{} for {own}: {why_not}", other.what)
    };
    let next = choice.runner_up.as_ref().map(words);
    let refused = choice.refused.as_ref();
    let refused = refused.map(|other| format!("cheaper, and refused: {}", words(other)));
    joined(next.into_iter().chain(refused), "; ")
}
