//! Runs: each to scale, with cuts, feeds, wire and source.

use super::drawing::drawing;
use super::{MOST_RUNS, Page};
use crate::design::{Cable, Design, Feed, Run, Segment, Terminals};
use crate::exact::ExactLength;
use crate::id::{CableId, RunId, SegmentId};
use crate::report::words::{joined, listed};
use std::collections::BTreeMap;

/// Columns that the longest run takes, of those that a line has.
const INDENT: usize = 4;

pub(super) fn runs(design: &Design, page: &mut Page) {
    let mut segments: BTreeMap<&RunId, Vec<&Segment>> = BTreeMap::new();
    for segment in &design.segments {
        segments.entry(&segment.run).or_default().push(segment);
    }
    let mut feeds: BTreeMap<&SegmentId, Vec<&Feed>> = BTreeMap::new();
    for feed in &design.feeds {
        feeds.entry(&feed.segment).or_default().push(feed);
    }
    let cables: BTreeMap<&CableId, &Cable> = design.cables.iter().map(|c| (&c.id, c)).collect();
    let longest = design
        .runs
        .iter()
        .map(|run| run.lit.metres())
        .fold(0.0, f64::max);
    let scale = (page.width - INDENT - 2) as f64 / longest.max(1e-9);
    page.part(
        "Runs, to one scale: ├ ┤ ends, ┼ cut, ● feed",
        design.runs.len(),
        MOST_RUNS,
        |page| {
            for run in design.runs.iter().take(MOST_RUNS) {
                let own = segments.get(&run.id).map_or(&[][..], Vec::as_slice);
                let fed: Vec<&Feed> = own
                    .iter()
                    .flat_map(|s| feeds.get(&s.id).map_or(&[][..], Vec::as_slice))
                    .copied()
                    .collect();
                page.line("  ", &heading(run, own));
                if !own.is_empty() {
                    let columns = (run.lit.metres() * scale).round() as usize;
                    page.line("    ", &drawing(own, &fed, columns));
                }
                for line in feeders(&fed, &cables) {
                    page.line("    ", &line);
                }
            }
        },
    );
}

/// `S1  9.80 m lit, white 24 V, shelf: 4.90 + 4.90 m`.
fn heading(run: &Run, segments: &[&Segment]) -> String {
    let pieces = match segments {
        [] => "not planned".to_string(),
        [_] => "in one piece".to_string(),
        several => format!(
            "cut {} m",
            joined(several.iter().map(|s| two(s.length)), " + ")
        ),
    };
    let limits = if run.fed { "" } else { "; a limit is not kept" };
    format!(
        "{}  {} m lit, {}, {}: {pieces}{limits}",
        run.id,
        two(run.lit),
        run.strip,
        run.zone
    )
}

/// One line a wire and source: `fed at 2.10, 7.30 m through 2 x 1.5 mm², 9.6 m from D-S1.1`.
fn feeders(feeds: &[&Feed], cables: &BTreeMap<&CableId, &Cable>) -> Vec<String> {
    // By wire, in the order in which they come along the run.
    let mut groups: Vec<(&str, Vec<String>)> = Vec::new();
    for feed in feeds {
        let route = cables
            .get(&feed.cable)
            .map_or_else(String::new, |c| format!(", {} m", one(c.route)));
        let at = format!("{} m ({}{route})", two(feed.position), source(&feed.from));
        match groups.iter_mut().find(|g| g.0 == feed.kind.as_str()) {
            Some(group) => group.1.push(at),
            None => groups.push((feed.kind.as_str(), vec![at])),
        }
    }
    let lines = groups.into_iter();
    lines
        .map(|(kind, at)| format!("fed through {kind} at {}", listed(at)))
        .collect()
}

fn source(from: &Terminals) -> String {
    match from {
        Terminals::Supply { supply, output } => format!("{supply} output {output}"),
        Terminals::DecoderSupply(decoder) => decoder.to_string(),
        Terminals::Decoder { decoder, .. } => decoder.to_string(),
        Terminals::Segment { segment, .. } => segment.to_string(),
        Terminals::Nothing => "no device".to_string(),
    }
}

fn two(length: ExactLength) -> String {
    format!("{:.2}", length.metres())
}

fn one(length: ExactLength) -> String {
    format!("{:.1}", length.metres())
}
