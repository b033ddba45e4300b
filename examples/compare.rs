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

#[path = "shared/arguments.rs"]
mod arguments;
#[path = "shared/screen.rs"]
mod screen;
#[path = "shared/watch.rs"]
mod watch;

use clap::Parser;
use evenrun::job;
use evenrun::plan::compare::{Criterion, compare};
use evenrun::progress::{Progress, Step};
use evenrun::report;
use std::io::{self, Write};
use std::process::ExitCode;
use watch::Watch;

const DEMO: &str = include_str!("archive_wing.toml");
/// A job planned with each of its candidates, side by side, and what decides between them.
#[derive(Parser)]
#[command(
    name = "compare",
    after_help = "Exit codes: 0 compared, 1 the job has faults, 2 a file or the command line is wrong, 3 stopped."
)]
struct Asked {
    /// Job file with candidates; without it the invented demo at 12, 24 and 48 V
    #[arg(value_name = "FILE.toml")]
    file: Option<String>,
    /// Stop the work after so many steps of its progress
    #[arg(long, value_name = "STEPS")]
    stop_after: Option<u64>,
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
    let job = match &asked.file {
        None => job::read(DEMO, "archive_wing.toml"),
        Some(path) => match std::fs::read(path) {
            Ok(bytes) => job::read_bytes(&bytes, path),
            Err(error) => {
                let _ = writeln!(err, "{path}: {error}");
                return Ok(2);
            }
        },
    };
    let job = match job {
        Ok(job) => job,
        Err(faults) => {
            let _ = writeln!(err, "{faults}");
            return Ok(1);
        }
    };
    let mut watch = Watch::new(asked.stop_after);
    let mut callback = |step: Step| watch.step(step);
    let comparison = compare(&job, &mut Progress::new(&mut callback));
    watch.done();
    let page = report::comparison(&comparison, report::PAGE_WIDTH);
    out.write_all(page.as_bytes())?;
    let stopped = comparison.decision.by == Criterion::Stopped;
    Ok(if stopped { 3 } else { 0 })
}
