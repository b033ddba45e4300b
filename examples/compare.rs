//! A job planned with each of its candidates, side by side, and what decides between them.
//!
//! ```sh
//! cargo run --release --example compare                          # the invented demo at 12, 24 and 48 V
//! cargo run --release --example compare -- FILE.toml             # the candidates of your file
//! cargo run --release --example compare -- --stop-after 40       # the caller stops at the 41st step
//! ```
//!
//! With `--features parallel` the runs of a candidate are planned on all cores; the page is the same.
//! Exit codes: 0 compared, 1 the job has faults, 2 a file cannot be read or the command line is wrong, 3 stopped.

#[path = "shared/screen.rs"]
mod screen;
#[path = "shared/watch.rs"]
mod watch;

use evenrun::job;
use evenrun::plan::compare::{Criterion, compare};
use evenrun::progress::{Progress, Step};
use evenrun::report;
use std::io::{self, Write};
use std::process::ExitCode;
use watch::Watch;

const DEMO: &str = include_str!("archive_wing.toml");
const USAGE: &str = "usage: compare [FILE.toml] [--stop-after STEPS]";

fn main() -> ExitCode {
    screen::program(run)
}

/// The program: its arguments in, what it prints on both streams and its exit code out.
///
/// # Errors
/// What it prints cannot be written.
pub fn run(
    mut arguments: impl Iterator<Item = String>,
    out: &mut impl Write,
    err: &mut impl Write,
) -> io::Result<u8> {
    let mut file = None;
    let mut stop_after = None;
    while let Some(argument) = arguments.next() {
        match argument.as_str() {
            "--help" | "-h" => {
                writeln!(out, "{USAGE}")?;
                return Ok(0);
            }
            "--stop-after" => match arguments.next().map(|n| n.parse()) {
                Some(Ok(steps)) => stop_after = Some(steps),
                _ => return Ok(refuse(err, "--stop-after needs a whole number of steps")),
            },
            other if other.starts_with('-') => {
                return Ok(refuse(err, &format!("unknown option {other}")));
            }
            other if file.is_none() => file = Some(other.to_string()),
            _ => return Ok(refuse(err, "one job file at a time")),
        }
    }
    let job = match &file {
        None => job::read(DEMO, "archive_wing.toml"),
        Some(path) => match std::fs::read(path) {
            Ok(bytes) => job::read_bytes(&bytes, path),
            Err(error) => return Ok(refuse(err, &format!("{path}: {error}"))),
        },
    };
    let job = match job {
        Ok(job) => job,
        Err(faults) => {
            let _ = writeln!(err, "{faults}");
            return Ok(1);
        }
    };
    let mut watch = Watch::new(stop_after);
    let mut callback = |step: Step| watch.step(step);
    let comparison = compare(&job, &mut Progress::new(&mut callback));
    watch.done();
    let page = report::comparison(&comparison, report::PAGE_WIDTH);
    out.write_all(page.as_bytes())?;
    let stopped = comparison.decision.by == Criterion::Stopped;
    Ok(if stopped { 3 } else { 0 })
}

fn refuse(err: &mut impl Write, why: &str) -> u8 {
    let _ = writeln!(err, "{why}\n{USAGE}");
    2
}
