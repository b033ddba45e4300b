//! Readings to expect on site.

use crate::design::{Design, Probe, Reading};
use crate::report::of_runs::OfRuns;
use crate::report::schedule::{AMPERE, Draft, Schedule, VOLT};

pub(in crate::report) fn readings(design: &Design, runs: &OfRuns<'_>) -> Schedule {
    Draft::<&Reading>::new(
        "readings",
        "Readings to expect on site",
        "Measure as the condition says. A reading between low and high passes; mark it, or mark it out and look at the \
         likely causes. A meter averages chopped volts: readings are valid at full level only.",
    )
    .name("point", "Point", |r| point(&r.at))
    .corners(
        "volts",
        ["Volts low", "Volts nom.", "Volts high"],
        VOLT,
        2,
        |r| r.volts,
    )
    .corners(
        "amps",
        ["Amps low", "Amps nom.", "Amps high"],
        AMPERE,
        2,
        |r| r.amps,
    )
    .filling("reading", "Reading")
    .filling("pass_or_out", "Pass / out")
    .beneath("condition", "Condition", |_| {
        "every emitter on this output at full, 10 minutes warm"
    })
    .beneath("instrument", "Instrument", |r| match r.at {
        Probe::Output { .. } => "DC clamp or ammeter in the plus lead",
        Probe::Decoder(_) => "DC voltmeter",
        Probe::Feed { .. } => "DC voltmeter; at full level nothing is chopped",
    })
    .beneath("likely", "If out, likely", |r| match r.at {
        Probe::Output { .. } => {
            "low: a run dark or a lead open; high: a short or another tape than planned"
        }
        Probe::Decoder(_) => "low: a thin or long lead, a loose terminal, a set point too low",
        Probe::Feed { .. } => {
            "low: thinner or longer cable, a bad joint; high: a segment not connected"
        }
    })
    .of(|r| runs.probe(&r.at))
    .fill(&design.readings)
}

/// Where to probe.
fn point(at: &Probe) -> String {
    match at {
        Probe::Output { supply, output } => format!("supply {supply}, output {output}"),
        Probe::Decoder(decoder) => format!("decoder {decoder}, supply terminals"),
        Probe::Feed { feed, .. } => {
            format!("feed {feed}, at the tape, plus to the weakest return")
        }
    }
}
