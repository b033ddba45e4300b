//! What a careful plan keeps to beside the published rules.

use super::super::sources as from;
use super::judge::LinkContext;
use crate::finding::{Case, Figure, Finding, Rule};
use crate::quantity::{Length, metres};
use crate::source::Source;
use serde::{Deserialize, Serialize};

/// Most devices of one chain, by habit.
const MOST_DEVICES: usize = 20;
/// 300 ft, m.
const HABIT_LENGTH: f64 = 300.0 * 0.3048;

/// Limits beside the published ones. [`Habits::default`] is common practice: 20 devices, 300 ft of category cable.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Habits {
    /// Devices on one chain.
    pub devices: usize,
    /// Category cable from the driver to the farthest device.
    #[serde(with = "crate::quantity::valued")]
    pub category_length: Length,
    /// Cable of any kind from the driver to the farthest device; none: only the published lengths hold.
    #[serde(with = "crate::quantity::valued::optional")]
    pub length: Option<Length>,
}

impl Default for Habits {
    fn default() -> Self {
        Self {
            devices: MOST_DEVICES,
            category_length: metres(HABIT_LENGTH),
            length: None,
        }
    }
}

/// The source of a limit that the job states instead of the habit.
fn stated() -> Source {
    Source::stated("limits of the job")
}

/// Words of the number of devices.
const fn many(key: &'static str, says: &'static str) -> Case {
    Case::judged(key, says)
        .figure("{figure:|device|devices}")
        .limit("at most {limit:|device|devices}")
        .remedy("start a new chain after a splitter")
}
const HABIT_DEVICES: Case = many(
    "habit",
    "{figure:|device|devices} on one chain; good practice: {limit} at most",
);
const JOB_DEVICES: Case = many(
    "job",
    "{figure:|device|devices} on one chain; the job allows {limit} at most",
);

pub(in crate::dmx) const DEVICES_HABIT: Rule = Rule {
    id: "chain-devices-habit",
    title: "Devices on one chain, good practice",
    asks: "Does each driver serve no more devices than good practice, or the job, allows?",
    source: from::TWENTY,
    needs: &[],
    cases: &[&HABIT_DEVICES, &JOB_DEVICES],
};

pub(super) fn devices(on: &LinkContext<'_>) -> Finding {
    let limit = on.chain.spec.habits.devices;
    let of = |case| {
        let (devices, limit) = (on.link.devices as u64, limit as u64);
        let (devices, limit) = (Figure::count(devices), Figure::count(limit));
        DEVICES_HABIT.at_most(case, on.subject(), devices, limit)
    };
    if limit == MOST_DEVICES {
        of(&HABIT_DEVICES)
    } else {
        of(&JOB_DEVICES).source(stated())
    }
}

/// Words of a length, with the habit's own limit.
const fn by_habit(key: &'static str, says: &'static str) -> Case {
    Case::judged(key, says)
        .figure("{figure:.1 m}")
        .limit("at most 91.44 m (300 ft)")
        .remedy("shorten the chain, or start a new one after a splitter")
}
const CATEGORY_HABIT: Case = by_habit(
    "category_habit",
    "{figure:.1 m} of category cable; good practice: 91.44 m (300 ft) at most",
);
const HABIT: Case = by_habit(
    "habit",
    "{figure:.1 m} of cable; good practice: 91.44 m (300 ft) at most",
);
const CATEGORY_JOB: Case = by_habit(
    "category_job",
    "{figure:.1 m} of category cable; the job allows {limit:.1 m} at most",
)
.limit("at most {limit:.1 m}");
const JOB: Case = by_habit(
    "job",
    "{figure:.1 m} of cable; the job allows {limit:.1 m} at most",
)
.limit("at most {limit:.1 m}");

pub(in crate::dmx) const LENGTH_HABIT: Rule = Rule {
    id: "chain-length-habit",
    title: "Length of a chain, good practice",
    asks: "Is the cable from the driver to the farthest device no longer than good practice, or the job, allows?",
    source: from::THREE_HUNDRED_FEET,
    needs: &[],
    cases: &[&CATEGORY_HABIT, &HABIT, &CATEGORY_JOB, &JOB],
};

pub(super) fn length(on: &LinkContext<'_>) -> Option<Finding> {
    let habits = &on.chain.spec.habits;
    let category = on.cables().iter().any(|cable| cable.kind.is_category());
    let by_kind = category.then_some(habits.category_length.value);
    let all = habits.length.map(|length| length.value).into_iter();
    let limit = all.chain(by_kind).reduce(f64::min)?;
    let own = (limit - HABIT_LENGTH).abs() > 1e-9;
    let case = match (category, own) {
        (true, false) => &CATEGORY_HABIT,
        (false, false) => &HABIT,
        (true, true) => &CATEGORY_JOB,
        (false, true) => &JOB,
    };
    let length = metres(on.link.length());
    let finding = LENGTH_HABIT.at_most(case, on.subject(), length, metres(limit));
    Some(if own {
        finding.source(stated())
    } else {
        finding
    })
}
