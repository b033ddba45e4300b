//! What a run is, and how each of its segments is fed and lit.

use super::{Own, Sheets};
use crate::choose::feeding::Pattern;
use crate::design::{Design, Feed, Segment, Solved, Terminals};
use crate::exact::ExactLength;
use crate::quantity::Share;
use crate::report::lengths::{exact, length};
use crate::report::page::Page;
use crate::report::words::{joined, listed, profile};

/// Tape, lengths, profile, surroundings: a line each.
pub(super) fn lengths(design: &Design, own: &Own<'_>, page: &mut Page) {
    let run = own.run;
    let units = design.job.units;
    let of = |length| exact(units, length);
    page.line(
        "",
        &format!(
            "{}: {} lit of {} drawn; dark {} at the start, {} at the end, {} between",
            run.strip,
            of(run.lit),
            of(run.drawn),
            of(run.dark_start),
            of(run.dark_end),
            of(run.dark_between),
        ),
    );
    let profile = run.profile.as_ref().map_or_else(
        || "in no profile".to_string(),
        |own| format!("in {}", profile(own, run.cover.as_ref())),
    );
    let ambient = crate::report::lengths::figures(units, &run.ambient.to_string());
    page.line(
        "",
        &format!(
            "{profile}; {}, {ambient}; {}",
            run.environment.word(),
            run.service.word()
        ),
    );
    if !run.fed {
        page.line("", "A limit of its feeding is not kept: see below.");
    }
}

/// A line or two each segment: where it lies, how and from where it is fed, the volts and the light.
pub(super) fn segments(sheets: &Sheets<'_>, own: &Own<'_>, page: &mut Page) {
    let design = sheets.design;
    let units = design.job.units;
    let Some(strip) = design.strip(&own.run.strip) else {
        return;
    };
    page.part(
        "Feeding, volts and light",
        own.segments.len(),
        usize::MAX,
        |page| {
            for segment in &own.segments {
                let feeds: Vec<&Feed> = own
                    .feeds
                    .iter()
                    .filter(|feed| feed.segment == segment.id)
                    .copied()
                    .collect();
                let at = |mark| length(units, strip.pitch.length_of(mark));
                page.line(
                    "  ",
                    &format!(
                        "{}, {} to {}: {}",
                        segment.id,
                        at(segment.first),
                        at(segment.last),
                        fed(segment, &feeds, |position| length(units, position)),
                    ),
                );
                for feed in &feeds {
                    page.line("    ", &feeder(sheets, feed));
                }
                page.line("    ", &light(design, segment, &at));
            }
        },
    );
}

/// `mid-fed at 9.10 m`, as the trade says it.
pub(in crate::report) fn fed(
    segment: &Segment,
    feeds: &[&Feed],
    position: impl Fn(ExactLength) -> String,
) -> String {
    let inside: Vec<String> = feeds
        .iter()
        .filter(|feed| segment.first < feed.mark && feed.mark < segment.last)
        .map(|feed| position(feed.position))
        .collect();
    let inside = joined(inside, " and ");
    match segment.pattern {
        Pattern::Start => "fed at its start".to_string(),
        Pattern::End => "fed at its end".to_string(),
        Pattern::CommonAtStart => "common fed at its start, returns at its end".to_string(),
        Pattern::CommonAtEnd => "common fed at its end, returns at its start".to_string(),
        Pattern::BothEnds => "fed at both ends".to_string(),
        Pattern::BothEndsAndInside => format!("fed at both ends and at {inside}"),
        Pattern::Inside => format!("mid-fed at {inside}"),
        _ => format!("fed at {inside}"),
    }
}

/// `9.10 m: 3 x 1.5 mm², 13.90 m from D-C1.3 output 1, 2 (1.025)`.
fn feeder(sheets: &Sheets<'_>, feed: &Feed) -> String {
    let units = sheets.design.job.units;
    let (device, outputs) = match &feed.from {
        Terminals::Decoder { decoder, outputs } => {
            (decoder.to_string(), format!(" output {}", listed(outputs)))
        }
        Terminals::Supply { supply, output } => (supply.to_string(), format!(" output {output}")),
        Terminals::DecoderSupply(decoder) => (decoder.to_string(), String::new()),
        Terminals::Segment { segment, .. } => (segment.to_string(), String::new()),
        Terminals::Nothing => ("no device".to_string(), String::new()),
    };
    let route = sheets
        .cables
        .get(&feed.cable)
        .map_or_else(String::new, |cable| {
            format!(", {} long", length(units, cable.route))
        });
    let mut behind = Vec::new();
    if let Terminals::Decoder { decoder, .. } = &feed.from {
        let own = sheets.decoders.get(decoder);
        if let Some((supply, output)) = own.and_then(|d| d.supply.as_ref()) {
            behind.push(format!("fed by {supply} output {output}"));
        }
        if let Some(address) = own.and_then(|d| d.address) {
            behind.push(format!("address {}.{:03}", address.universe, address.first));
        }
    }
    let behind = match behind.is_empty() {
        true => String::new(),
        false => format!(" ({})", listed(behind)),
    };
    format!(
        "feed {} at {}: {}{route}, from {device}{outputs}{behind}",
        feed.id,
        length(units, feed.position),
        feed.kind,
    )
}

/// The worst place, and the two ends, worst case, low.
fn light(design: &Design, segment: &Segment, at: &dyn Fn(u64) -> String) -> String {
    let figures = match &segment.solved {
        Solved::Figures(figures) => figures,
        Solved::Not(why) => return format!("not solved: {why}"),
    };
    let percent = |share: f64| format!("{:.1} %", share * 100.0);
    let least = |cells: &[Option<Share>]| {
        let lit = cells.iter().flatten().map(|share| share.si());
        lit.reduce(f64::min)
            .map_or_else(|| "never lit".to_string(), percent)
    };
    let current = figures.least_current;
    format!(
        "worst case, low: dimmest cell {} at {}, {} of nominal current (a fall-off of {}), {:.2} V; \
         first cell {}, last cell {}; at nominal {}; limit {}",
        figures.weakest,
        at(figures.weakest_at),
        percent(current.low.si()),
        percent(1.0 - current.low.si()),
        figures.least_volts.low.si(),
        least(&figures.first_cell),
        least(&figures.last_cell),
        percent(current.nominal.si()),
        percent(design.limits.least_current.si()),
    )
}
