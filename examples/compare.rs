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

#[path = "shared/watch.rs"]
mod watch;

use evenrun::job;
use evenrun::plan::compare::{Criterion, compare};
use evenrun::progress::{Progress, Step};
use evenrun::report;
use std::io::Write;
use std::process::ExitCode;
use watch::Watch;

const DEMO: &str = include_str!("archive_wing.toml");
const USAGE: &str = "usage: compare [FILE.toml] [--stop-after STEPS]";

fn main() -> ExitCode {
    let mut file = None;
    let mut stop_after = None;
    let mut arguments = std::env::args().skip(1);
    while let Some(argument) = arguments.next() {
        match argument.as_str() {
            "--help" | "-h" => {
                println!("{USAGE}");
                return ExitCode::SUCCESS;
            }
            "--stop-after" => match arguments.next().map(|n| n.parse()) {
                Some(Ok(steps)) => stop_after = Some(steps),
                _ => return refuse("--stop-after needs a whole number of steps"),
            },
            other if other.starts_with('-') => return refuse(&format!("unknown option {other}")),
            other if file.is_none() => file = Some(other.to_string()),
            _ => return refuse("one job file at a time"),
        }
    }
    let job = match &file {
        None => job::read(DEMO, "archive_wing.toml"),
        Some(path) => match std::fs::read(path) {
            Ok(bytes) => job::read_bytes(&bytes, path),
            Err(error) => return refuse(&format!("{path}: {error}")),
        },
    };
    let job = match job {
        Ok(job) => job,
        Err(faults) => {
            eprintln!("{faults}");
            return ExitCode::FAILURE;
        }
    };
    let mut watch = Watch::new(stop_after);
    let mut callback = |step: Step| watch.step(step);
    let comparison = compare(&job, &mut Progress::new(&mut callback));
    watch.done();
    let page = report::comparison(&comparison, report::PAGE_WIDTH);
    // A reader that stops early (`| head`) is no error.
    let _ = std::io::stdout().lock().write_all(page.as_bytes());
    if comparison.decision.by == Criterion::Stopped {
        return ExitCode::from(3);
    }
    ExitCode::SUCCESS
}

fn refuse(why: &str) -> ExitCode {
    eprintln!("{why}\n{USAGE}");
    ExitCode::from(2)
}
