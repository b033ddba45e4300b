//! A job file in, the whole plan out.
//!
//! ```sh
//! cargo run --release --example plan                          # the invented demo: the answers, on two pages
//! cargo run --release --example plan -- --new > job.toml       # a job to start from, with comments
//! cargo run --release --example plan -- FILE.toml             # your file
//! cargo run --release --example plan -- FILE.toml --full      # every schedule, finding and source
//! cargo run --release --example plan -- FILE.toml --out DIR   # and every schedule as a file
//! cargo run --release --example plan -- FILE.toml --json      # the design as data, on the screen
//! cargo run --release --example plan -- --design FILE.json    # a design that was written so, printed
//! cargo run --release --example plan -- --stop-after 5        # the caller stops at the 6th step
//! ```
//!
//! `--out` writes beside DIR and then moves into place: a set is whole or not there. A set of another fingerprint that stood
//! there is kept as DIR.FINGERPRINT, unless `--force`; what is no set is not touched.
//!
//! With `--features parallel` runs are planned on all cores; the plan is the same byte for byte.
//! Exit codes: 0 a plan was made (read its findings), 1 the job has faults or a file holds no design, 2 a file cannot be read
//! or written, or the command line is wrong, 3 stopped: no plan, nor any part of one, is given.

#[path = "shared/folder.rs"]
pub mod folder;
#[path = "shared/screen.rs"]
pub mod screen;
#[path = "shared/watch.rs"]
mod watch;

use evenrun::design::Design;
use evenrun::progress::{Progress, Step};
use evenrun::report;
use evenrun::{job, plan};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use watch::Watch;

const DEMO: &str = include_str!("archive_wing.toml");
const REST: &str = "The full set: `--full` prints every schedule, finding and source, `--out DIR` writes them as files.\n";
const USAGE: &str = "usage: plan [--new | FILE.toml | --design FILE.json] [--full | --json] [--out DIR [--force]] [--stop-after STEPS]";

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
    let mut written = None;
    let mut json = false;
    let mut full = false;
    let mut directory = None;
    let mut force = false;
    let mut stop_after = None;
    while let Some(argument) = arguments.next() {
        match argument.as_str() {
            "--help" | "-h" => {
                writeln!(out, "{USAGE}")?;
                return Ok(0);
            }
            "--new" => {
                out.write_all(job::STARTER.as_bytes())?;
                return Ok(0);
            }
            "--json" => json = true,
            "--full" => full = true,
            "--force" => force = true,
            "--design" => match arguments.next() {
                Some(name) if written.is_none() => written = Some(name),
                _ => return Ok(refuse(err, "--design needs one file")),
            },
            "--out" => match arguments.next() {
                Some(name) if directory.is_none() => directory = Some(name),
                _ => return Ok(refuse(err, "--out needs one folder")),
            },
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
    let design = match (&file, &written) {
        (Some(_), Some(_)) => return Ok(refuse(err, "a job file or a design, not both")),
        (None, Some(path)) => read_design(path, err),
        (file, None) => plan_job(file.as_deref(), stop_after, err),
    };
    let design = match design {
        Ok(design) => design,
        Err(code) => return Ok(code),
    };
    let page = if json {
        match design.to_json() {
            Ok(page) => screen::clean_json(&page).into_owned(),
            Err(error) => return Ok(told(err, 2, &error)),
        }
    } else {
        let width = report::PAGE_WIDTH;
        match full {
            true => report::text(&design, width),
            false => report::overview(&design, width) + "\n" + REST,
        }
    };
    // The files first: a reader of the page who leaves early takes nothing from them.
    if let Some(directory) = directory {
        match write(Path::new(&directory), &design, force) {
            Err(why) => return Ok(told(err, 2, &why)),
            Ok(None) => {}
            Ok(Some(kept)) => writeln!(
                err,
                "the set that stood in {directory} is of another fingerprint and kept as {}",
                kept.display()
            )?,
        }
    }
    out.write_all(page.as_bytes())?;
    Ok(0)
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

/// Writes every schedule into a folder, and answers where what stood there is kept.
fn write(directory: &Path, design: &Design, force: bool) -> Result<Option<PathBuf>, String> {
    let mut files = report::files(design);
    for (_, content) in &mut files {
        *content = screen::clean(content).into_owned();
    }
    folder::write(directory, &design.job.fingerprint.0, &files, force)
}
