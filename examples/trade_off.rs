//! What more money buys on one run: every arrangement that no other beats in cost and fall-off of light.
//!
//! ```sh
//! cargo run --release --example trade_off -- --run S1                      # of the invented demo
//! cargo run --release --example trade_off -- FILE.toml --run NAME
//! cargo run --release --example trade_off -- --run S1 --watt 1500              # a watt lost costs 15.00 over its life
//! cargo run --release --example trade_off -- --run S1 --step 0.2 --stop-after 40    # finer; the caller stops at the 41st step
//! ```
//!
//! Exit codes: 0 done, 1 the job or run has faults, 2 a file cannot be read or the command line is wrong, 3 stopped.

#[path = "shared/arguments.rs"]
mod arguments;
#[path = "shared/screen.rs"]
mod screen;
#[path = "shared/watch.rs"]
mod watch;

use clap::Parser;
use evenrun::choose::feeding::{TradeOffEnd, TradeOffSpec};
use evenrun::job::Job;
use evenrun::progress::{Progress, Step};
use evenrun::quantity::percent;
use evenrun::report;
use evenrun::{job, plan};
use std::io::{self, Write};
use std::process::ExitCode;
use watch::Watch;

const DEMO: &str = include_str!("archive_wing.toml");
/// What more money buys on one run: every arrangement that no other beats in cost and fall-off of light.
#[derive(Parser)]
#[command(
    name = "trade_off",
    after_help = "Exit codes: 0 done, 1 the job or run has faults, 2 a file or the command line is wrong, 3 stopped."
)]
struct Asked {
    /// Job file; without it the invented demo
    #[arg(value_name = "FILE.toml")]
    file: Option<String>,
    /// Run; may be left out where the job has one
    #[arg(long, value_name = "NAME")]
    run: Option<String>,
    /// A difference in light under this many per cent counts as none
    #[arg(long, value_name = "PER_CENT", default_value_t = 1.0)]
    step: f64,
    /// Most arrangements
    #[arg(long, value_name = "COUNT")]
    most: Option<usize>,
    /// Cost of a watt lost over the life, in minor units; may be given several times
    #[arg(long, value_name = "MINOR_UNITS")]
    watt: Vec<u64>,
    /// Stop the work after so many steps of its progress
    #[arg(long, value_name = "STEPS")]
    stop_after: Option<u64>,
}

impl Asked {
    fn spec(&self) -> TradeOffSpec {
        let mut spec = TradeOffSpec {
            resolution: percent(self.step),
            ..TradeOffSpec::default()
        };
        spec.most = self.most.unwrap_or(spec.most);
        if !self.watt.is_empty() {
            spec.watt_prices.push(0);
        }
        let prices = self
            .watt
            .iter()
            .map(|price| i64::try_from(*price).unwrap_or(i64::MAX));
        spec.watt_prices.extend(prices);
        spec
    }
}

/// The run that is meant, or which there are.
fn run_of(job: &Job, asked: Option<&str>) -> Result<String, String> {
    let runs: Vec<&str> = job.runs().iter().map(|run| run.name.as_str()).collect();
    match (asked, runs.as_slice()) {
        (Some(run), _) => Ok(run.to_string()),
        (None, [only]) => Ok((*only).to_string()),
        (None, several) => Err(format!(
            "which run? Say --run with one of {}",
            several.join(", ")
        )),
    }
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
    let asked: Asked = match arguments::read(arguments, out, err)? {
        Ok(asked) => asked,
        Err(code) => return Ok(code),
    };
    let read = match &asked.file {
        None => job::read(DEMO, "archive_wing.toml"),
        Some(path) => match std::fs::read(path) {
            Ok(bytes) => job::read_bytes(&bytes, path),
            Err(error) => return Ok(told(err, 2, &format!("{path}: {error}"))),
        },
    };
    let job = match read {
        Ok(job) => job,
        Err(faults) => return Ok(told(err, 1, &faults)),
    };
    let name = match run_of(&job, asked.run.as_deref()) {
        Ok(name) => name,
        Err(which) => return Ok(told(err, 2, &which)),
    };
    let mut watch = Watch::new(asked.stop_after);
    let mut callback = |step: Step| watch.step(step);
    let problem = plan::run_problem(&job, &name).map_err(|e| e.to_string());
    let answer = problem.and_then(|problem| {
        let run = problem.check().map_err(|e| e.to_string())?;
        let progress = &mut Progress::new(&mut callback);
        run.trade_off(&asked.spec(), progress)
            .map_err(|e| e.to_string())
    });
    watch.done();
    match answer {
        Err(why) => Ok(told(err, 1, &why)),
        Ok(answer) => {
            let page = report::trade_off(&job, &name, &answer, report::PAGE_WIDTH);
            out.write_all(page.as_bytes())?;
            let stopped = answer.ends.iter().any(|e| e.1 == TradeOffEnd::Stopped);
            Ok(if stopped { 3 } else { 0 })
        }
    }
}

/// Says why there is no answer, and gives the exit code.
fn told(err: &mut impl Write, code: u8, why: &impl std::fmt::Display) -> u8 {
    let _ = writeln!(err, "{why}");
    code
}
