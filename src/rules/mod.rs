//! Every rule of this crate, registered once; most are functions of the design.
//!
//! ```text
//!            one file a subject, `supply_load.rs`            this page
//!  ┌──────────────────────────────────────────────────┐    ┌──────────────────────────────┐
//!  │ const LOADED: Case    the words of an answer     │    │ TOPICS: one line a rule      │
//!  │ static LOAD: Rule     id, title, question,       │◄───│   LOAD => load,              │
//!  │                       source, needs, cases       │    │   CUT,    answered on the way│
//!  │ fn load(&View) -> Vec<Finding>                   │    │   room(…) its own RULES      │
//!  └────────▲─────────────────────────────────────────┘    └──────────────────────────────┘
//!           │ reads only
//!        View = &Design + things by id + what the rooms of protection and of the data line answer, once
//! ```
//!
//! A rule that is *judged* reads nothing but the design: [`judge`] gives the same findings of a design that was
//! written to a file and read again. Some are answered *on the way*, by the search or the planner, since what they
//! speak of does not come into a design: a tape without a model, a run that no arrangement feeds. The
//! rules of a *room* (protection, the data line, a path) stand in that room, which judges them together.
//!
//! To add a rule: a file with its cases, its [`Rule`] and its function, or a further one in the file of its subject;
//! and one line in [`TOPICS`]. The page of all rules (`cargo run --example rules`), "not evaluated", sources and words
//! follow from it. A datum that the rule needs and the design lacks is a field of the design, filled by the plan.
//!
//! ```
//! let load = evenrun::rules::find("supply-load").ok_or("no such rule")?;
//! assert_eq!(load.title, "Load of a supply");
//! # Ok::<(), &str>(())
//! ```

pub(crate) mod address;
mod ambient;
mod breaker;
mod bundle;
mod cable;
pub(crate) mod data_line;
mod decoder;
mod decoder_overvoltage;
pub(crate) mod devices;
mod drop;
pub(crate) mod feed_problem;
mod feeding;
mod merged;
pub(crate) mod path;
mod place;
mod port;
mod protection;
mod scope;
mod segment_light;
mod service;
mod shock;
mod signal_lost;
mod steps;
pub(crate) mod stock;
pub(crate) mod strip;
pub(crate) mod strip_overvoltage;
mod supply_load;
mod surroundings;
mod view;

pub use merged::{Merged, merged};
pub use protection::protection;
pub use view::View;

use crate::design::Design;
use crate::finding::{Finding, Rule, Words};
use crate::order::Order as _;
use crate::source::Source;
use crate::{choose, dmx, layout, protect};
use std::collections::BTreeMap;

/// Judges a design by one rule, or by the rules of one room.
pub type Judge = fn(&View<'_>) -> Vec<Finding>;

/// A rule, and how it is answered.
#[derive(Debug, Clone, Copy)]
pub struct Entry {
    /// The rule.
    pub rule: &'static Rule,
    /// Judges a design; none: answered on the way.
    pub judge: Option<Judge>,
}

/// Rules on one subject.
#[derive(Debug, Clone, Copy)]
pub enum Topic {
    /// Rules that are answered one by one.
    Rules {
        /// Subject.
        title: &'static str,
        /// The rules, in order.
        entries: &'static [Entry],
    },
    /// Rules that a room answers together.
    Room {
        /// Subject.
        title: &'static str,
        /// The rules, in order.
        rules: &'static [&'static Rule],
        /// Judges a design by all of them; none: the planner or a caller asks the room.
        judge: Option<Judge>,
    },
}

/// A subject with its rules, one a line: `RULE => judge` where it is judged from the design, `RULE` where it is
/// answered on the way.
macro_rules! subject {
    ($title:literal: $($rule:path $(=> $judge:path)?,)*) => {
        Topic::Rules {
            title: $title,
            entries: &[$(Entry { rule: &$rule, judge: subject!(@ $($judge)?) },)*],
        }
    };
    (@) => { None };
    (@ $judge:path) => { Some($judge) };
}

const fn room(title: &'static str, rules: &'static [&'static Rule], judge: Option<Judge>) -> Topic {
    Topic::Room {
        title,
        rules,
        judge,
    }
}

/// Every rule, in the order in which findings stand in a design.
pub const TOPICS: &[Topic] = &[
    subject! {
        "Tape":
        strip::MODEL,
    },
    subject! {
        "Runs on their paths":
        path::LAYOUT,
        path::JUMPER,
    },
    room("Corners and ends", layout::RULES, None),
    subject! {
        "Surroundings":
        surroundings::INGRESS => surroundings::ingress,
        surroundings::CUT_ENDS => surroundings::cut_ends,
        surroundings::JACKET => surroundings::jackets,
        surroundings::HOUSING => surroundings::housings,
        ambient::STRIP => ambient::strips,
        ambient::CABLE => ambient::cables,
        service::RULE => service::judge,
    },
    subject! {
        "Stock lengths":
        strip::REEL_JOINT,
        stock::CUT,
        stock::PROOF,
    },
    subject! {
        "Addresses":
        address::SPACE,
    },
    room("Start addresses", dmx::ADDRESS_RULES, None),
    room("Data line", dmx::CHAIN_RULES, Some(data_line::lines)),
    subject! {
        "Chains":
        data_line::CHAIN => data_line::faults,
        data_line::REACHED => data_line::reached,
        port::RULE => port::judge,
    },
    room(
        "Signal on a line",
        dmx::SIGNAL_RULES,
        Some(data_line::signals),
    ),
    subject! {
        "Feeding":
        feed_problem::RULE,
        feeding::PROOF => feeding::proof,
    },
    room("Break and feed", choose::feeding::RULES, None),
    subject! {
        "Devices":
        devices::ASSIGNED,
        devices::FIXED,
    },
    subject! {
        "Light of segments":
        segment_light::LIGHT => segment_light::light,
        segment_light::BALANCE => segment_light::balance,
        segment_light::PADS => segment_light::pads,
        steps::RULE => steps::judge,
        drop::RULE => drop::judge,
    },
    subject! {
        "Supplies":
        supply_load::CIRCUIT => supply_load::circuit,
        supply_load::LOAD => supply_load::load,
        supply_load::DERATING => supply_load::derating,
        supply_load::OUTPUT => supply_load::output,
        breaker::RULE => breaker::judge,
    },
    subject! {
        "Decoders":
        decoder::OUTPUT => decoder::output,
        decoder::TOTAL => decoder::total,
        decoder::VOLTS => decoder::volts,
        decoder::CHOPPED => decoder::chopped,
        decoder_overvoltage::RULE => decoder_overvoltage::judge,
        signal_lost::RULE => signal_lost::judge,
        strip_overvoltage::RULE => strip_overvoltage::judge,
    },
    subject! {
        "Cables":
        cable::INSULATION => cable::insulation,
        cable::RESISTANCE => cable::resistance,
        bundle::CORES => bundle::cores,
        bundle::GROUPS => bundle::groups,
    },
    subject! {
        "Places":
        place::ROOM => place::room,
    },
    subject! {
        "Power of tape":
        strip::POWER => strip::power,
    },
    subject! {
        "What this version leaves out":
        scope::HEAT => scope::heat,
        scope::LIGHT => scope::light,
        scope::DIMMING => scope::dimming,
        scope::MAINS => scope::mains,
        scope::WAYS => scope::ways,
        scope::EMERGENCY => scope::emergency,
    },
    subject! {
        "Shock protection":
        protect::EXTRA_LOW => shock::upper_limit,
        protect::TOUCHABLE => shock::touchable,
        protect::LIGHTING_VOLTAGE => shock::lighting_voltage,
        protect::LIGHTING_OUTPUT => shock::lighting_output,
        protect::LIGHTING_BRANCH => shock::lighting_branch,
    },
    subject! {
        "Conductors":
        protection::RULE => protection::fault,
    },
    room("Protection", protect::RULES, Some(protection::conductors)),
    room("Protection, on request", protect::RULES_ON_REQUEST, None),
    room("Stubs and drivers", dmx::LINE_RULES, None),
    room("Packets", dmx::PACKET_RULES, None),
    room("Pixel data", dmx::PIXEL_RULES, None),
];

/// Where figures come from that no table holds.
const SOLVE: Source = Source::computed("solve of one supply output with all its copper and tape");

impl Topic {
    /// Its subject.
    #[must_use]
    pub fn title(&self) -> &'static str {
        match self {
            Self::Rules { title, .. } | Self::Room { title, .. } => title,
        }
    }

    /// Its rules, in order.
    pub fn rules(&self) -> impl Iterator<Item = &'static Rule> + use<> {
        let (entries, rules): (&'static [Entry], &'static [&'static Rule]) = match *self {
            Self::Rules { entries, .. } => (entries, &[]),
            Self::Room { rules, .. } => (&[], rules),
        };
        let own = entries.iter().map(|entry| entry.rule);
        own.chain(rules.iter().copied())
    }

    /// What its rules say of a design.
    fn judge(&self, view: &View<'_>) -> Vec<Finding> {
        match self {
            Self::Rules { entries, .. } => entries
                .iter()
                .filter_map(|entry| entry.judge)
                .flat_map(|judge| judge(view))
                .collect(),
            Self::Room { judge, .. } => judge.map_or_else(Vec::new, |judge| judge(view)),
        }
    }
}

/// Every rule.
pub fn all() -> impl Iterator<Item = &'static Rule> {
    TOPICS.iter().flat_map(Topic::rules)
}

/// The rule with this id.
#[must_use]
pub fn find(id: &str) -> Option<&'static Rule> {
    all().find(|rule| rule.id == id)
}

/// A finding in the words of its rule.
#[must_use]
pub fn words(finding: &Finding) -> Words {
    finding.words(find(finding.rule.as_str()))
}

/// A finding as one line: verdict, place, rule, sentence, and why it was not evaluated.
#[must_use]
pub fn line(finding: &Finding) -> String {
    let words = words(finding);
    let (verdict, rule) = (finding.verdict, &finding.rule);
    let line = format!("{verdict}: {} [{rule}]: {}", words.place, words.says);
    if finding.is_not_evaluated() {
        format!("{line} ({})", words.reason)
    } else {
        line
    }
}

/// What the rules say of a design, reading nothing but the design: in the order of [`TOPICS`].
///
/// ```
/// let job = evenrun::job::read(include_str!("../../examples/archive_wing.toml"), "demo.toml").map_err(|f| f.to_string())?;
/// let design = evenrun::plan::plan(&job);
/// // The demo's foyer line has no terminator, on purpose.
/// let findings = evenrun::rules::judge(&design);
/// let failed: Vec<_> = findings.iter().filter(|finding| finding.is_fail()).collect();
/// assert_eq!(failed.len(), 1);
/// assert!(evenrun::rules::line(failed[0]).contains("no terminator at the far end"));
/// # Ok::<(), String>(())
/// ```
#[must_use]
pub fn judge(design: &Design) -> Vec<Finding> {
    in_order(judged(&View::of(design)))
}

fn judged(view: &View<'_>) -> Vec<Finding> {
    TOPICS.iter().flat_map(|topic| topic.judge(view)).collect()
}

/// Findings by their rules, in the order of [`TOPICS`]: those of one rule, and those of one room, stay in theirs; those
/// of no rule come last.
#[must_use]
pub fn in_order(mut findings: Vec<Finding>) -> Vec<Finding> {
    let mut rank: BTreeMap<&str, (usize, usize)> = BTreeMap::new();
    for (at, topic) in TOPICS.iter().enumerate() {
        let in_room = matches!(topic, Topic::Room { .. });
        for (number, rule) in topic.rules().enumerate() {
            rank.insert(rule.id, (at, if in_room { 0 } else { number }));
        }
    }
    findings.order_by_key(|finding| {
        let known = rank.get(finding.rule.as_str()).copied();
        known.unwrap_or((TOPICS.len(), 0))
    });
    findings
}

/// Puts into a design what was answered on the way, what its rules say of it, and what protects each conductor.
pub fn judge_into(design: &mut Design, on_the_way: Vec<Finding>) {
    let view = View::of(design);
    let mut all = on_the_way;
    all.extend(judged(&view));
    let protection = protection::rows(&view);
    design.findings = in_order(all);
    design.protection = protection;
}

/// Whether a rule says what this version leaves to others in every job, so that nothing of the job is missing.
#[must_use]
pub fn is_outside(id: &str) -> bool {
    scope::OUTSIDE.contains(&id)
}

/// Whether a rule is judged from the design alone, and not answered on the way.
#[must_use]
pub fn is_judged(id: &str) -> bool {
    TOPICS.iter().any(|topic| match topic {
        Topic::Rules { entries, .. } => entries
            .iter()
            .any(|entry| entry.rule.id == id && entry.judge.is_some()),
        Topic::Room { rules, judge, .. } => {
            judge.is_some() && rules.iter().any(|rule| rule.id == id)
        }
    })
}
