//! A job file in, the whole plan out.
//!
//! ```sh
//! cargo run --release --example plan                          # the invented demo, on the screen
//! cargo run --release --example plan -- FILE.toml             # your file
//! cargo run --release --example plan -- FILE.toml --out DIR   # and every schedule as a file
//! cargo run --release --example plan -- --stop-after 5        # the caller stops at the 6th step
//! ```
//!
//! With `--features parallel` runs are planned on all cores; the plan is the same byte for byte.
//! Exit codes: 0 a plan was made (read its findings), 1 the job has faults, 2 a file cannot be read
//! or written, or the command line is wrong, 3 stopped: no plan, nor any part of one, is given.

#[path = "shared/watch.rs"]
mod watch;

use evenrun::progress::{Progress, Step};
use evenrun::report;
use evenrun::{job, plan};
use std::io::Write;
use std::path::Path;
use std::process::ExitCode;
use watch::Watch;

const DEMO: &str = include_str!("archive_wing.toml");
const USAGE: &str = "usage: plan [FILE.toml] [--out DIR] [--stop-after STEPS]";

fn main() -> ExitCode {
    let arguments = std::env::args().skip(1);
    ExitCode::from(run(
        arguments,
        &mut std::io::stdout(),
        &mut std::io::stderr(),
    ))
}

/// The program: its arguments in, what it prints on both streams and its exit code out.
pub fn run(
    mut arguments: impl Iterator<Item = String>,
    out: &mut impl Write,
    err: &mut impl Write,
) -> u8 {
    let mut file = None;
    let mut directory = None;
    let mut stop_after = None;
    while let Some(argument) = arguments.next() {
        match argument.as_str() {
            "--help" | "-h" => {
                let _ = writeln!(out, "{USAGE}");
                return 0;
            }
            "--out" => match arguments.next() {
                Some(name) if directory.is_none() => directory = Some(name),
                _ => return refuse(err, "--out needs one directory"),
            },
            "--stop-after" => match arguments.next().map(|n| n.parse()) {
                Some(Ok(steps)) => stop_after = Some(steps),
                _ => return refuse(err, "--stop-after needs a whole number of steps"),
            },
            other if other.starts_with('-') => {
                return refuse(err, &format!("unknown option {other}"));
            }
            other if file.is_none() => file = Some(other.to_string()),
            _ => return refuse(err, "one job file at a time"),
        }
    }
    let job = match &file {
        None => job::read(DEMO, "archive_wing.toml"),
        Some(path) => match std::fs::read(path) {
            Ok(bytes) => job::read_bytes(&bytes, path),
            Err(error) => {
                let _ = writeln!(err, "{path}: {error}");
                return 2;
            }
        },
    };
    let job = match job {
        Ok(job) => job,
        Err(faults) => {
            let _ = writeln!(err, "{faults}");
            return 1;
        }
    };
    let mut watch = Watch::new(stop_after);
    let mut callback = |step: Step| watch.step(step);
    let answer = plan::plan_watched(&job, &mut Progress::new(&mut callback));
    watch.done();
    let plan = match answer {
        Ok(plan) => plan,
        Err(stopped) => {
            let _ = writeln!(err, "{stopped}");
            return 3;
        }
    };
    let page = report::text(&plan, report::PAGE_WIDTH);
    // A reader that stops early (`| head`) is no error.
    let _ = out.write_all(page.as_bytes());
    if let Some(directory) = directory
        && let Err(error) = write(Path::new(&directory), &plan)
    {
        let _ = writeln!(err, "{directory}: {error}");
        return 2;
    }
    0
}

fn refuse(err: &mut impl Write, why: &str) -> u8 {
    let _ = writeln!(err, "{why}\n{USAGE}");
    2
}

fn write(directory: &Path, plan: &plan::model::Plan) -> std::io::Result<()> {
    std::fs::create_dir_all(directory)?;
    for (name, content) in report::files(plan) {
        std::fs::write(directory.join(name), content)?;
    }
    Ok(())
}
