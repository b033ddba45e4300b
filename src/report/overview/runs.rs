//! Runs: each to scale, with cuts, feeds, wire and source.

use super::MOST_RUNS;
use crate::design::{Cable, Design, Feed, LengthUnits, Run, Segment, Terminals};
use crate::exact::ExactLength;
use crate::id::{CableId, RunId, SegmentId};
use crate::report::drawing::drawing;
use crate::report::lengths::length;
use crate::report::page::Page;
use crate::report::words::{joined, listed};
use std::collections::BTreeMap;

/// Columns that the longest run takes, of those that a line has.
const INDENT: usize = 4;

pub(super) fn runs(design: &Design, page: &mut Page) {
    let units = design.job.units;
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
                page.line("  ", &heading(units, run, own));
                if !own.is_empty() {
                    let columns = (run.lit.metres() * scale).round() as usize;
                    page.line("    ", &drawing(own, &fed, columns));
                }
                for line in feeders(units, &fed, &cables) {
                    page.line("    ", &line);
                }
            }
        },
    );
}

/// `S1  9.80 m lit, white 24 V, shelf: cut 4.90 + 4.90 m`.
fn heading(units: LengthUnits, run: &Run, segments: &[&Segment]) -> String {
    let pieces = match segments {
        [] => "not planned".to_string(),
        [_] => "in one piece".to_string(),
        several => format!("cut {}", sum(units, several)),
    };
    let limits = if run.fed { "" } else { "; a limit is not kept" };
    format!(
        "{}  {} lit, {}, {}: {pieces}{limits}",
        run.id,
        length(units, run.lit),
        run.strip,
        run.zone
    )
}

/// `4.90 + 4.90 m`; feet each with their unit.
fn sum(units: LengthUnits, segments: &[&Segment]) -> String {
    match units {
        LengthUnits::Us => joined(segments.iter().map(|s| length(units, s.length)), " + "),
        _ => {
            let each = segments.iter().map(|s| format!("{:.2}", s.length.metres()));
            format!("{} m", joined(each, " + "))
        }
    }
}

/// One line a wire: `fed through 2 x 1.5 mm² at 2.10 m (D-S1.1, 9.6 m), 7.30 m (D-S1.2, 11.0 m)`.
fn feeders(
    units: LengthUnits,
    feeds: &[&Feed],
    cables: &BTreeMap<&CableId, &Cable>,
) -> Vec<String> {
    // By wire, in the order in which they come along the run.
    let mut groups: Vec<(&str, Vec<String>)> = Vec::new();
    for feed in feeds {
        let route = cables
            .get(&feed.cable)
            .map_or_else(String::new, |c| format!(", {}", route(units, c.route)));
        let at = format!(
            "{} ({}{route})",
            length(units, feed.position),
            source(&feed.from)
        );
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

/// A route, to the decimetre or the inch.
fn route(units: LengthUnits, route: ExactLength) -> String {
    match units {
        LengthUnits::Us => length(units, route),
        _ => format!("{:.1} m", route.metres()),
    }
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
