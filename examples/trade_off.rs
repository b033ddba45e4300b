//! What more money buys on one run: every arrangement that no other beats in cost and fall-off of light.
//!
//! ```sh
//! cargo run --release --example trade_off                                  # run S1 of the invented demo
//! cargo run --release --example trade_off -- FILE.toml --run NAME
//! cargo run --release --example trade_off -- --watt 1500                   # a watt lost costs 15.00 over its life
//! cargo run --release --example trade_off -- --step 0.2 --stop-after 40    # finer; the caller stops at the 41st step
//! ```
//!
//! Exit codes: 0 done, 1 the job or run has faults, 2 a file cannot be read or the command line is wrong, 3 stopped.

#[path = "shared/screen.rs"]
mod screen;
#[path = "shared/watch.rs"]
mod watch;

use evenrun::choose::feeding::{TradeOffEnd, TradeOffSpec};
use evenrun::progress::{Progress, Step};
use evenrun::quantity::percent;
use evenrun::report;
use evenrun::{job, plan};
use std::io::{self, Write};
use std::process::ExitCode;
use watch::Watch;

const DEMO: &str = include_str!("archive_wing.toml");
const USAGE: &str = "usage: trade_off [FILE.toml] [--run NAME] [--step PER_CENT] [--most COUNT] [--watt MINOR_UNITS]... [--stop-after STEPS]";

/// The command line.
struct Asked {
    file: Option<String>,
    run: String,
    spec: TradeOffSpec,
    stop_after: Option<u64>,
}

fn asked(mut arguments: impl Iterator<Item = String>) -> Result<Option<Asked>, String> {
    let mut asked = Asked {
        file: None,
        run: "S1".to_string(),
        spec: TradeOffSpec {
            resolution: percent(1.0),
            ..TradeOffSpec::default()
        },
        stop_after: None,
    };
    while let Some(argument) = arguments.next() {
        let mut value = || {
            let value = arguments.next();
            value.ok_or(format!("{argument} needs a value"))
        };
        let number = |text: String| {
            let number = text.parse::<f64>();
            number.map_err(|_| format!("`{text}` is no number"))
        };
        let whole = |text: String| {
            let number = text.parse::<u64>();
            number.map_err(|_| format!("`{text}` is no whole number"))
        };
        match argument.as_str() {
            "--help" | "-h" => return Ok(None),
            "--run" => asked.run = value()?,
            "--step" => asked.spec.resolution = percent(number(value()?)?),
            "--most" => asked.spec.most = usize::try_from(whole(value()?)?).unwrap_or(usize::MAX),
            "--watt" => {
                if asked.spec.watt_prices.is_empty() {
                    asked.spec.watt_prices.push(0);
                }
                let price = i64::try_from(whole(value()?)?).unwrap_or(i64::MAX);
                asked.spec.watt_prices.push(price);
            }
            "--stop-after" => asked.stop_after = Some(whole(value()?)?),
            other if other.starts_with('-') => return Err(format!("unknown option {other}")),
            other if asked.file.is_none() => asked.file = Some(other.to_string()),
            _ => return Err("one job file at a time".to_string()),
        }
    }
    Ok(Some(asked))
}

fn main() -> ExitCode {
    screen::program(run)
}

/// The program: its arguments in, what it prints on both streams and its exit code out.
///
/// # Errors
/// What it prints cannot be written.
pub fn run(
    arguments: impl Iterator<Item = String>,
    out: &mut impl Write,
    err: &mut impl Write,
) -> io::Result<u8> {
    let asked = match asked(arguments) {
        Ok(Some(asked)) => asked,
        Ok(None) => {
            writeln!(out, "{USAGE}")?;
            return Ok(0);
        }
        Err(why) => {
            let _ = writeln!(err, "{why}\n{USAGE}");
            return Ok(2);
        }
    };
    let read = match &asked.file {
        None => job::read(DEMO, "archive_wing.toml"),
        Some(path) => match std::fs::read(path) {
            Ok(bytes) => job::read_bytes(&bytes, path),
            Err(error) => {
                let _ = writeln!(err, "{path}: {error}");
                return Ok(2);
            }
        },
    };
    let mut watch = Watch::new(asked.stop_after);
    let mut callback = |step: Step| watch.step(step);
    let answer = read.map_err(|faults| faults.to_string()).and_then(|job| {
        let problem = plan::run_problem(&job, &asked.run).map_err(|e| e.to_string())?;
        let run = problem.check().map_err(|e| e.to_string())?;
        let progress = &mut Progress::new(&mut callback);
        let answer = run.trade_off(&asked.spec, progress);
        Ok((answer.map_err(|e| e.to_string())?, job))
    });
    watch.done();
    match answer {
        Err(why) => {
            let _ = writeln!(err, "{why}");
            Ok(1)
        }
        Ok((answer, job)) => {
            let page = report::trade_off(&job, &asked.run, &answer, report::PAGE_WIDTH);
            out.write_all(page.as_bytes())?;
            let stopped = answer.ends.iter().any(|e| e.1 == TradeOffEnd::Stopped);
            Ok(if stopped { 3 } else { 0 })
        }
    }
}
