//! Profiles and their covers.

use super::general::{above_zero, not_negative, price, within};
use super::names::check_text;
use crate::exact::ExactLength;
use crate::job::fault::{FaultKind, Faults};
use crate::job::spec::{ProfileSpec, StockLength};
use std::collections::BTreeSet;

/// Profiles.
pub(super) fn profiles(profiles: &[(String, &ProfileSpec)], faults: &mut Faults) {
    for (subject, profile) in profiles {
        bars(subject, "", &profile.bars, profile.kerf, faults);
        let figures = [("width", profile.width), ("keep_from", profile.keep_from)];
        for (field, length) in figures {
            if let Some(length) = length {
                above_zero(faults, subject, field, length);
            }
        }
        if let Some(cover) = &profile.cover {
            check_text(subject, "cover: description", &cover.description, faults);
            bars(subject, "cover: ", &cover.bars, cover.kerf, faults);
        }
    }
}

fn bars(subject: &str, prefix: &str, bars: &[StockLength], kerf: ExactLength, faults: &mut Faults) {
    not_negative(faults, subject, &format!("{prefix}kerf"), kerf);
    let list = format!("{prefix}bars");
    if bars.is_empty() && faults.sound(subject, &[&list]) {
        faults.say(
            FaultKind::Missing,
            (subject, &list),
            "is empty",
            "Write the lengths it is sold in, like [{ length = \"2 m\" }]",
        );
    }
    if let Some(shortest) = bars.iter().map(|bar| bar.length).min() {
        within(
            faults,
            subject,
            &format!("{prefix}kerf"),
            kerf < shortest || shortest <= ExactLength::ZERO,
            format!("is {kerf}, and the shortest bar is {shortest}"),
            "It must be less than the bar: it is what one cut of the saw takes".to_string(),
        );
    }
    let mut seen = BTreeSet::new();
    for (index, bar) in bars.iter().enumerate() {
        let here = format!("{list} {}", index + 1);
        above_zero(faults, subject, &format!("{here}: length"), bar.length);
        price(faults, subject, &format!("{here}: price_minor"), bar.price);
        if !seen.insert(bar.length) && faults.sound(subject, &[&here]) {
            faults.say(
                FaultKind::Duplicate,
                (subject, &here),
                format!("is a second bar of {}", bar.length),
                "Write each length once",
            );
        }
    }
}
