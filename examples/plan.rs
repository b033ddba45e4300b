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
    let mut file = None;
    let mut out = None;
    let mut stop_after = None;
    let mut arguments = std::env::args().skip(1);
    while let Some(argument) = arguments.next() {
        match argument.as_str() {
            "--help" | "-h" => {
                println!("{USAGE}");
                return ExitCode::SUCCESS;
            }
            "--out" => match arguments.next() {
                Some(directory) if out.is_none() => out = Some(directory),
                _ => return refuse("--out needs one directory"),
            },
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
            Err(error) => {
                eprintln!("{path}: {error}");
                return ExitCode::from(2);
            }
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
    let answer = plan::plan_watched(&job, &mut Progress::new(&mut callback));
    watch.done();
    let plan = match answer {
        Ok(plan) => plan,
        Err(stopped) => {
            eprintln!("{stopped}");
            return ExitCode::from(3);
        }
    };
    let page = report::text(&plan, report::PAGE_WIDTH);
    // A reader that stops early (`| head`) is no error.
    let _ = std::io::stdout().lock().write_all(page.as_bytes());
    if let Some(directory) = out
        && let Err(error) = write(Path::new(&directory), &plan)
    {
        eprintln!("{directory}: {error}");
        return ExitCode::from(2);
    }
    ExitCode::SUCCESS
}

fn refuse(why: &str) -> ExitCode {
    eprintln!("{why}\n{USAGE}");
    ExitCode::from(2)
}

fn write(directory: &Path, plan: &plan::model::Plan) -> std::io::Result<()> {
    std::fs::create_dir_all(directory)?;
    for (name, content) in report::files(plan) {
        std::fs::write(directory.join(name), content)?;
    }
    Ok(())
}
