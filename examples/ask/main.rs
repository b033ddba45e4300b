//! Quick answers from a data sheet's few facts.
//!
//! ```text
//! cargo run --release --example ask -- reach volts="24 V" power="14.4 W/m" cut="50 mm" loop="0.164 ohm/m"
//! cargo run --release --example ask -- wire route="25 ft" current="4 A" volts="24 V" drop="3 %" --json
//! ```
#[path = "../shared/arguments.rs"]
mod arguments;
#[path = "../shared/screen.rs"]
mod screen;
mod words;

use clap::Parser;
use evenrun::ask::{
    AskError, DataChain, Distance, FarEnd, Fed, FeedPoints, Reach, Sheet, Supplies, Voltage, Wire,
};
use evenrun::quantity::{Ratio, RouteLength, percent};
use serde::Serialize;
use std::io::{self, Write};
use std::process::ExitCode;
use words::Words;

/// Quick answers from a data sheet's few facts.
#[derive(Parser)]
#[command(name = "ask", after_help = HELP, arg_required_else_help = true)]
struct Asked {
    /// What is asked, one of those below
    #[arg(value_name = "QUESTION")]
    question: Option<String>,
    /// What is known, each fact as key=value
    #[arg(value_name = "KEY=VALUE")]
    facts: Vec<String>,
    /// The answer as data
    #[arg(long)]
    json: bool,
}

const HELP: &str = "\
Questions:
  reach       how long may this tape run?          TAPE [light]
  voltage     12, 24 or 48 V for this length?      TAPE length [light]
  feed        where do I feed a run of it?         TAPE length [light]
  far-end     what will be read at the far end?    TAPE length [fed=one-end|middle|both-ends]
  wire        which wire?                          route current volts drop
  distance    how far may the decoder be?          current volts drop [chopped=yes|no]
  supplies    how many supplies of which size?     pieces each [load_factor]
  chain       how many devices on a chain?         devices spacing

TAPE      volts power cut, and of its copper one of
            loop=\"0.164 ohm/m\"                     both rails together
            foil=\"70 um\" layers=1 width=\"4 mm\"     finished, one rail
            longest=\"5 m\" falls=volts|light by=\"10 %\" from=one-end|both-ends
          without one: a span between thin and thick copper
light     what every cell keeps of its light; 90 %

as in: ask reach volts=\"24 V\" power=\"14.4 W/m\" cut=\"50 mm\" loop=\"0.164 ohm/m\"
";

fn main() -> ExitCode {
    screen::program(|arguments, out, err| run(&arguments.collect::<Vec<_>>(), out, err))
}

/// The program: its arguments in, what it prints on both streams and its exit code out.
pub fn run(arguments: &[String], out: &mut impl Write, err: &mut impl Write) -> io::Result<u8> {
    let asked: Asked = match arguments::read(arguments.iter().cloned(), out, err)? {
        Ok(asked) => asked,
        Err(code) => return Ok(code),
    };
    match answer(&asked) {
        Ok(text) => {
            out.write_all(text.as_bytes())?;
            Ok(0)
        }
        Err(faults) => {
            for fault in faults {
                let _ = writeln!(err, "{fault}");
            }
            let _ = writeln!(err, "`ask --help` lists the questions and their keys.");
            Ok(2)
        }
    }
}

fn answer(asked: &Asked) -> Result<String, Vec<String>> {
    let json = asked.json;
    let Some(question) = &asked.question else {
        return Err(vec!["a question is needed".to_string()]);
    };
    let facts: Vec<&str> = asked.facts.iter().map(String::as_str).collect();
    let mut words = Words::read(&facts);
    let light = |words: &mut Words| words.quantity_or("light", percent(90.0));
    match question.as_str() {
        "reach" => {
            let asked = Reach {
                tape: words.tape(),
                light: light(&mut words),
            };
            print(words, json, || asked.answer(), |a| a.sheet())
        }
        "voltage" => {
            let asked = Voltage {
                tape: words.tape_at_any_voltage(),
                length: words.length("length"),
                light: light(&mut words),
            };
            print(words, json, || asked.answer(), |a| a.sheet())
        }
        "feed" => {
            let asked = FeedPoints {
                tape: words.tape(),
                length: words.length("length"),
                light: light(&mut words),
            };
            print(words, json, || asked.answer(), |a| a.sheet())
        }
        "far-end" => {
            let asked = FarEnd {
                tape: words.tape(),
                length: words.length("length"),
                fed: words.choice(
                    "fed",
                    &[
                        ("one-end", Fed::OneEnd),
                        ("middle", Fed::Middle),
                        ("both-ends", Fed::BothEnds),
                    ],
                ),
            };
            print(words, json, || asked.answer(), |a| a.sheet())
        }
        "wire" => {
            let route = RouteLength::new(words.quantity("route"));
            let (current, volts) = (words.quantity("current"), words.quantity("volts"));
            let asked = Wire::new(route, current, volts, words.quantity("drop"));
            print(words, json, || asked.answer(), |a| a.sheet())
        }
        "distance" => {
            let (current, volts) = (words.quantity("current"), words.quantity("volts"));
            let asked = Distance {
                chopped: words.choice("chopped", &[("yes", true), ("no", false)]),
                ..Distance::new(current, volts, words.quantity("drop"))
            };
            print(words, json, || asked.answer(), |a| a.sheet())
        }
        "supplies" => {
            let usual = Supplies::new(words.count("pieces"), words.quantity("each"));
            let load_factor: Ratio = words.quantity_or("load_factor", usual.load_factor);
            let asked = Supplies {
                load_factor,
                ..usual
            };
            print(words, json, || asked.answer(), |a| a.sheet())
        }
        "chain" => {
            let asked = DataChain {
                devices: u32::try_from(words.count("devices")).unwrap_or(u32::MAX),
                spacing: words.quantity("spacing"),
            };
            print(words, json, || asked.answer(), |a| a.sheet())
        }
        other => Err(vec![format!(
            "`{other}` is no question; there are reach, voltage, feed, far-end, wire, distance, supplies, chain"
        )]),
    }
}

/// The answer, once every word was read without a fault.
fn print<A: Serialize>(
    words: Words,
    json: bool,
    answer: impl FnOnce() -> Result<A, AskError>,
    sheet: impl FnOnce(&A) -> Sheet,
) -> Result<String, Vec<String>> {
    words.done()?;
    let found = answer().map_err(|error| vec![error.to_string()])?;
    let sheet = sheet(&found);
    if !json {
        return Ok(sheet.to_string());
    }
    let both = serde_json::json!({ "answer": found, "sheet": sheet });
    serde_json::to_string_pretty(&both)
        .map(|text| text + "\n")
        .map_err(|error| vec![error.to_string()])
}
