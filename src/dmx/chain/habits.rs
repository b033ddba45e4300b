//! What a careful plan keeps to beside the published rules.

use super::super::sources as from;
use super::link::Link;
use super::model::Chain;
use crate::finding::plain::Finding;
use crate::quantity::{Length, metres};
use crate::source::Source;

/// Most devices of one chain, by habit.
const MOST_DEVICES: usize = 20;
/// 300 ft, m.
const HABIT_LENGTH: f64 = 300.0 * 0.3048;

/// Limits beside the published ones. [`Habits::default`] is common practice: 20 devices, 300 ft of category cable.
#[derive(Debug, Clone, PartialEq)]
pub struct Habits {
    /// Devices on one chain.
    pub devices: usize,
    /// Category cable from the driver to the farthest device.
    pub category_length: Length,
    /// Cable of any kind from the driver to the farthest device; none: only the published lengths hold.
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

impl Chain {
    /// Judges devices and length against the habits of the trade, or against what the job keeps to instead.
    pub(super) fn habits(&self, findings: &mut Vec<Finding>, link: &Link, place: &str) {
        let habits = &self.spec.habits;
        let stated = || Source::stated("limits of the job");
        let own = habits.devices != MOST_DEVICES;
        findings.push(
            Finding::judged_at_most(
                "chain-devices-habit",
                place,
                link.devices as f64,
                habits.devices as f64,
            )
            .says(format!(
                "{} devices on one chain; {} keeps to {}",
                link.devices,
                who(own),
                habits.devices
            ))
            .figure(format!("{} devices", link.devices))
            .limit(format!("at most {} devices", habits.devices))
            .source(if own { stated() } else { from::TWENTY })
            .remedy("begin a new chain behind a splitter"),
        );
        let category = link
            .parts
            .iter()
            .any(|&part| self.cable_of(part).kind.is_category());
        let by_kind = category.then_some(habits.category_length.value);
        let all = habits.length.map(|length| length.value).into_iter();
        let Some(limit) = all.chain(by_kind).reduce(f64::min) else {
            return;
        };
        let own = (limit - HABIT_LENGTH).abs() > 1e-9;
        let length = link.length();
        let words = if own {
            format!("{limit:.1} m")
        } else {
            "91.44 m (300 ft)".to_string()
        };
        findings.push(
            Finding::judged_at_most("chain-length-habit", place, length, limit)
                .says(format!(
                    "{length:.1} m of {}cable; {} keeps to {words}",
                    if category { "category " } else { "" },
                    who(own)
                ))
                .figure(format!("{length:.1} m"))
                .limit(format!("at most {words}"))
                .source(if own {
                    stated()
                } else {
                    from::THREE_HUNDRED_FEET
                })
                .remedy("shorten the chain, or begin a new one behind a splitter"),
        );
    }
}

fn who(own: bool) -> &'static str {
    if own { "the job" } else { "the habit" }
}
