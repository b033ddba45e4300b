//! One ladder a line as JSON on standard input, one solution a line on standard output.
//!
//! A pipe for any language or cluster engine. A line that cannot be solved gives a line with `error` and its
//! number, and the rest goes on; empty lines are skipped. Every key ends in its unit.
//!
//! ```text
//! {"source_volts":24,"cells":50,"cell":{"string":{"diode_volts":3.0,"diode_amps":0.02,"ideality":2,"diode_ohms":3,"count":6,
//!  "ballast_ohms":300}},"plus":{"link_ohms":0.005,"feeds":[{"cell":0,"ohms":0.1}]},"return":{"link_ohms":0.005,"feeds":[{"cell":0,"ohms":0.1}]}}
//! ```
//!
//! `link_ohms` is one number or a list; `cell` is one of `string`, `line` (`knee_volts`, `ohms`, `limit_amps`), `resistor` (`ohms`),
//! `power` (`watts`, `works_from_volts`). The numbers above are invented.
use evenrun::load::{ConstantPower, Diode, Law, Load, Resistive, SeriesString, StraightLine};
use evenrun::network::*;
use evenrun::quantity::*;
use serde::{Deserialize, Serialize};
use std::io::{BufRead, Write};

/// Longest line read, bytes.
const LONGEST_LINE: usize = 64 * 1024 * 1024;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Ladder {
    #[serde(default)]
    id: Option<String>,
    source_volts: f64,
    cells: usize,
    cell: Cell,
    plus: Track,
    #[serde(rename = "return")]
    back: Track,
}

#[derive(Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
enum Cell {
    String {
        diode_volts: f64,
        diode_amps: f64,
        ideality: f64,
        diode_ohms: f64,
        count: u32,
        ballast_ohms: f64,
    },
    Line {
        knee_volts: f64,
        ohms: f64,
        limit_amps: Option<f64>,
    },
    Resistor {
        ohms: f64,
    },
    Power {
        watts: f64,
        works_from_volts: f64,
    },
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Track {
    link_ohms: Links,
    feeds: Vec<Feed>,
}

#[derive(Deserialize)]
#[serde(untagged)]
enum Links {
    Same(f64),
    Each(Vec<f64>),
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Feed {
    cell: usize,
    ohms: f64,
}

#[derive(Serialize)]
struct Answer<'a> {
    line: usize,
    #[serde(skip_serializing_if = "Option::is_none")]
    id: Option<&'a str>,
    cell_volts: &'a [f64],
    cell_amps: &'a [f64],
    input_amps: f64,
    copper_watts: f64,
    load_watts: f64,
    least_volts: f64,
    iterations: usize,
    residual_amps: f64,
    volt_error_bound: f64,
}

#[derive(Serialize)]
struct Fault {
    line: usize,
    error: String,
}

fn law(cell: &Cell) -> Result<Law, String> {
    let load = match *cell {
        Cell::String {
            diode_volts,
            diode_amps,
            ideality,
            diode_ohms,
            count,
            ballast_ohms,
        } => {
            let diode = Diode {
                forward_voltage: volts(diode_volts),
                at_current: amps(diode_amps),
                ideality,
                series_resistance: ohms(diode_ohms),
                volts_per_kelvin: 0.0,
            };
            Load::Series(SeriesString {
                diode,
                count,
                ballast: ohms(ballast_ohms),
            })
        }
        Cell::Line {
            knee_volts,
            ohms: slope,
            limit_amps,
        } => Load::Straight(StraightLine {
            knee: volts(knee_volts),
            resistance: ohms(slope),
            limit: limit_amps.map(amps),
            volts_per_kelvin: 0.0,
        }),
        Cell::Resistor { ohms: value } => Load::Resistive(Resistive {
            resistance: ohms(value),
        }),
        Cell::Power {
            watts: power,
            works_from_volts,
        } => Load::ConstantPower(ConstantPower {
            power: watts(power),
            works_from: volts(works_from_volts),
        }),
    };
    load.law(celsius(25.0)).map_err(|e| e.to_string())
}

fn network(ladder: &Ladder) -> Result<Network, String> {
    let mut spec = NetworkSpec::new();
    let (plus, minus) = (spec.node("plus"), spec.node("minus"));
    spec.stiff_source("source", plus, minus, volts(ladder.source_volts));
    let rail = |track: &Track, node| RailSpec {
        links: match &track.link_ohms {
            Links::Same(r) => Along::Uniform(ohms(*r)),
            Links::Each(each) => Along::Each(each.iter().map(|&r| ohms(r)).collect()),
        },
        attachments: track
            .feeds
            .iter()
            .map(|f| Attachment::through(f.cell, node, ohms(f.ohms)))
            .collect(),
    };
    let law = spec.law(law(&ladder.cell)?);
    spec.tape(TapeSpec {
        name: "ladder".into(),
        polarity: Polarity::CommonPlus,
        cells: ladder.cells,
        common: rail(&ladder.plus, plus),
        emitters: vec![EmitterSpec {
            name: "cell".into(),
            lit: true,
            law,
            exceptions: vec![],
            rail: rail(&ladder.back, minus),
        }],
    });
    spec.check().map_err(|faults| {
        faults
            .0
            .iter()
            .map(ToString::to_string)
            .collect::<Vec<_>>()
            .join("; ")
    })
}

/// The answer to one line.
fn answer(number: usize, line: &str, work: &mut Workspace) -> Result<String, String> {
    let ladder: Ladder = serde_json::from_str(line).map_err(|e| {
        let text = e.to_string();
        let what = text.split(" at line ").next().unwrap_or_default();
        format!("column {}: {what}", e.column())
    })?;
    let network = network(&ladder)?;
    let solution = network
        .solve(&SolveOptions::default(), work)
        .map_err(|e| e.to_string())?;
    let tape = solution.tape(TapeId(0)).ok_or("no tape")?;
    let answer = Answer {
        line: number,
        id: ladder.id.as_deref(),
        cell_volts: tape.cell_volts(0),
        cell_amps: tape.cell_amps(0),
        input_amps: solution
            .source_current(SourceId(0))
            .map_or(0.0, |i| i.value),
        copper_watts: solution.total_copper_loss().value,
        load_watts: solution.total_load_power().value,
        least_volts: tape.least_cell_voltage(0).map_or(0.0, |v| v.value),
        iterations: solution.iterations(),
        residual_amps: solution.residual().value,
        volt_error_bound: solution.volt_error_bound().value,
    };
    serde_json::to_string(&answer).map_err(|e| e.to_string())
}

/// Answers every line of `input`.
pub fn run(mut input: impl BufRead, out: impl Write) -> std::io::Result<()> {
    let mut out = std::io::BufWriter::new(out);
    let mut work = Workspace::new();
    let mut line = Vec::new();
    for number in 1_usize.. {
        line.clear();
        if input.read_until(b'\n', &mut line)? == 0 {
            break;
        }
        let text = String::from_utf8_lossy(&line);
        let text = text.trim_start_matches('\u{feff}').trim();
        if text.is_empty() {
            continue;
        }
        let found = if text.len() > LONGEST_LINE {
            Err(format!(
                "{} bytes; at most {LONGEST_LINE} are accepted",
                text.len()
            ))
        } else {
            answer(number, text, &mut work)
        };
        let said = match found {
            Ok(answer) => answer,
            Err(error) => serde_json::to_string(&Fault {
                line: number,
                error,
            })?,
        };
        writeln!(out, "{said}")?;
    }
    out.flush()
}

fn main() -> std::io::Result<()> {
    run(std::io::stdin().lock(), std::io::stdout().lock())
}
