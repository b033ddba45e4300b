//! What the opening of the document counts.

use super::printed::Printed;
use super::schedules::{reels_of, share, solved};
use super::words::many;
use super::wrap::clean;
use crate::design::Design;
use crate::exact::ExactLength;
use std::collections::BTreeSet;

fn distinct<'a>(names: impl Iterator<Item = &'a str>) -> usize {
    names.collect::<BTreeSet<_>>().len()
}

fn in_metres(lengths: impl Iterator<Item = ExactLength>) -> String {
    let total: ExactLength = lengths.sum();
    format!("{:.3} m", total.to_length().value)
}

/// A line for each part of the design.
pub(super) fn summary(printed: &Printed<'_>) -> Vec<(&'static str, String)> {
    let design = printed.design;
    let pairs = [
        ("Runs", runs(design)),
        (
            "Tape",
            format!(
                "{}, {} to cut, from {}",
                many(solved(design).count(), "segment", "segments"),
                many(design.pieces.len(), "piece", "pieces"),
                many(reels_of(design).count(), "reel", "reels"),
            ),
        ),
        ("Feeding", feeding(design)),
        (
            "Supplies",
            format!(
                "{}{}",
                many(design.supplies.len(), "supply", "supplies"),
                loads(design)
            ),
        ),
        ("Control", control(design)),
        ("Findings", printed.tally.words()),
    ];
    pairs
        .into_iter()
        .map(|(word, text)| (word, clean(&text)))
        .collect()
}

fn runs(design: &Design) -> String {
    let zones = distinct(design.runs.iter().map(|run| run.zone.as_str()));
    format!(
        "{} in {}; {} drawn, {} lit",
        many(design.runs.len(), "run", "runs"),
        many(zones, "zone", "zones"),
        in_metres(design.runs.iter().map(|run| run.drawn)),
        in_metres(design.runs.iter().map(|run| run.lit)),
    )
}

fn feeding(design: &Design) -> String {
    let copper: f64 = design.cables.iter().map(|cable| cable.copper.si()).sum();
    format!(
        "{} through {}, {copper:.2} kg of copper",
        many(design.feeds.len(), "feed", "feeds"),
        many(design.cables.len(), "cable", "cables"),
    )
}

/// What the supplies carry, and which carries most of what it may.
fn loads(design: &Design) -> String {
    let each = design.supplies.iter();
    let nominal = each.map(|supply| supply.load.power().map(|power| power.nominal.si()));
    let Some(nominal) = nominal.sum::<Option<f64>>() else {
        return "; not every one was solved".to_string();
    };
    let shares = design.supplies.iter();
    let shares = shares.filter_map(|supply| Some((supply, share(supply)?.si())));
    let busiest = shares.max_by(|a, b| a.1.total_cmp(&b.1));
    busiest.map_or_else(String::new, |(supply, share)| {
        format!(
            "; {nominal:.1} W at nominal; busiest is {}, {:.1} % of its derated rating",
            supply.id,
            share * 100.0
        )
    })
}

fn control(design: &Design) -> String {
    let universes: BTreeSet<u32> = design.slots.iter().map(|slot| slot.universe).collect();
    let chains = design.chains.iter();
    let chains = chains.filter(|chain| !chain.devices.is_empty());
    format!(
        "{} with {} in use; {} in {}; {}",
        many(design.decoders.len(), "decoder", "decoders"),
        many(design.decoder_outputs.len(), "output", "outputs"),
        many(design.slots.len(), "slot", "slots"),
        many(universes.len(), "universe", "universes"),
        many(
            distinct(chains.map(|chain| chain.id.as_str())),
            "chain",
            "chains"
        ),
    )
}
