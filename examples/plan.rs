//! A job file in, the whole plan out.
//!
//! ```sh
//! cargo run --release --example plan                          # the invented demo: the answers, on two pages
//! cargo run --release --example plan -- FILE.toml             # your file
//! cargo run --release --example plan -- FILE.toml --full      # every schedule, finding and source
//! cargo run --release --example plan -- FILE.toml --out DIR   # and every schedule as a file
//! cargo run --release --example plan -- FILE.toml --json      # the design as data, on the screen
//! cargo run --release --example plan -- --design FILE.json    # a design that was written so, printed
//! cargo run --release --example plan -- --stop-after 5        # the caller stops at the 6th step
//! ```
//!
//! With `--features parallel` runs are planned on all cores; the plan is the same byte for byte.
//! Exit codes: 0 a plan was made (read its findings), 1 the job has faults or a file holds no design, 2 a file cannot be read
//! or written, or the command line is wrong, 3 stopped: no plan, nor any part of one, is given.

#[path = "shared/watch.rs"]
mod watch;

use evenrun::design::Design;
use evenrun::progress::{Progress, Step};
use evenrun::report;
use evenrun::{job, plan};
use std::io::Write;
use std::path::Path;
use std::process::ExitCode;
use watch::Watch;

const DEMO: &str = include_str!("archive_wing.toml");
const REST: &str = "The full set: `--full` prints every schedule, finding and source, `--out DIR` writes them as files.\n";
const USAGE: &str = "usage: plan [FILE.toml | --design FILE.json] [--full | --json] [--out DIR] [--stop-after STEPS]";

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
    let mut written = None;
    let mut json = false;
    let mut full = false;
    let mut directory = None;
    let mut stop_after = None;
    while let Some(argument) = arguments.next() {
        match argument.as_str() {
            "--help" | "-h" => {
                let _ = writeln!(out, "{USAGE}");
                return 0;
            }
            "--json" => json = true,
            "--full" => full = true,
            "--design" => match arguments.next() {
                Some(name) if written.is_none() => written = Some(name),
                _ => return refuse(err, "--design needs one file"),
            },
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
    let design = match (&file, &written) {
        (Some(_), Some(_)) => return refuse(err, "a job file or a design, not both"),
        (None, Some(path)) => read_design(path, err),
        (file, None) => plan_job(file.as_deref(), stop_after, err),
    };
    let design = match design {
        Ok(design) => design,
        Err(code) => return code,
    };
    let page = if json {
        match design.to_json() {
            Ok(page) => page,
            Err(error) => {
                let _ = writeln!(err, "{error}");
                return 2;
            }
        }
    } else {
        let width = report::PAGE_WIDTH;
        match full {
            true => report::text(&design, width),
            false => report::overview(&design, width) + "\n" + REST,
        }
    };
    // A reader that stops early (`| head`) is no error.
    let _ = out.write_all(page.as_bytes());
    if let Some(directory) = directory
        && let Err(error) = write(Path::new(&directory), &design)
    {
        let _ = writeln!(err, "{directory}: {error}");
        return 2;
    }
    0
}

/// Plans a job file, or the demo.
fn plan_job(
    file: Option<&str>,
    stop_after: Option<u64>,
    err: &mut impl Write,
) -> Result<Design, u8> {
    let job = match file {
        None => job::read(DEMO, "archive_wing.toml"),
        Some(path) => {
            let bytes =
                std::fs::read(path).map_err(|error| told(err, 2, &format!("{path}: {error}")))?;
            job::read_bytes(&bytes, path)
        }
    };
    let job = job.map_err(|faults| told(err, 1, &faults))?;
    let mut watch = Watch::new(stop_after);
    let mut callback = |step: Step| watch.step(step);
    let answer = plan::plan_watched(&job, &mut Progress::new(&mut callback));
    watch.done();
    answer.map_err(|stopped| told(err, 3, &stopped))
}

/// Reads a design that `--json` wrote.
fn read_design(path: &str, err: &mut impl Write) -> Result<Design, u8> {
    let text =
        std::fs::read_to_string(path).map_err(|error| told(err, 2, &format!("{path}: {error}")))?;
    Design::from_json(&text).map_err(|error| told(err, 1, &format!("{path}: {error}")))
}

/// Says why there is no design, and gives the exit code.
fn told(err: &mut impl Write, code: u8, why: &impl std::fmt::Display) -> u8 {
    let _ = writeln!(err, "{why}");
    code
}

fn refuse(err: &mut impl Write, why: &str) -> u8 {
    let _ = writeln!(err, "{why}\n{USAGE}");
    2
}

fn write(directory: &Path, design: &Design) -> std::io::Result<()> {
    std::fs::create_dir_all(directory)?;
    for (name, content) in report::files(design) {
        std::fs::write(directory.join(name), content)?;
    }
    Ok(())
}
