//! A job file in, the whole plan out.
//!
//! ```sh
//! cargo run --release --example plan                          # the invented demo: the answers, on two pages
//! cargo run --release --example plan -- --new > job.toml       # a job to start from, with comments
//! cargo run --release --example plan -- FILE.toml             # your file
//! cargo run --release --example plan -- FILE.toml --full      # every schedule, finding and source
//! cargo run --release --example plan -- FILE.toml --out DIR   # and a file a reader, the run sheets, every schedule
//! cargo run --release --example plan -- FILE.toml --run NAME  # the sheet of one run
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

#[path = "shared/arguments.rs"]
pub mod arguments;
#[path = "shared/folder.rs"]
pub mod folder;
#[path = "shared/screen.rs"]
pub mod screen;
#[path = "shared/watch.rs"]
mod watch;

use clap::Parser;
use evenrun::design::Design;
use evenrun::id::RunId;
use evenrun::progress::{Progress, Step};
use evenrun::report;
use evenrun::{job, plan};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use watch::Watch;

const DEMO: &str = include_str!("archive_wing.toml");
const REST: &str = "`--run NAME` prints the sheet of a run, `--full` every schedule, finding and source;\n\
                    `--out DIR` writes a file a reader, the run sheets and every schedule.\n";
/// A job file in, the whole plan out. Without a file: the invented demo.
#[derive(Parser)]
#[command(name = "plan", after_help = CODES)]
struct Asked {
    /// Job file; without it the invented demo is planned
    #[arg(value_name = "FILE.toml")]
    file: Option<String>,
    /// Print a job to start from, with comments
    #[arg(long, exclusive = true)]
    new: bool,
    /// Print a design that `--json` wrote, instead of planning a job
    #[arg(long, value_name = "FILE.json", conflicts_with = "file")]
    design: Option<String>,
    /// Print every schedule, finding and source
    #[arg(long, conflicts_with_all = ["json", "run"])]
    full: bool,
    /// Print the design as data
    #[arg(long, conflicts_with = "run")]
    json: bool,
    /// Print the sheet of one run
    #[arg(long, value_name = "NAME")]
    run: Option<String>,
    /// Also write one file a reader, the run sheets and every schedule into a folder
    #[arg(long, value_name = "DIR")]
    out: Option<String>,
    /// Replace a set of another job that stands there, instead of keeping it beside
    #[arg(long, requires = "out")]
    force: bool,
    /// Stop the work after so many steps of its progress
    #[arg(long, value_name = "STEPS")]
    stop_after: Option<u64>,
}

const CODES: &str = "Exit codes: 0 planned (read its findings), 1 the job has faults, 2 a file or the command line is wrong, \
                     3 stopped.";

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
    if asked.new {
        out.write_all(job::STARTER.as_bytes())?;
        return Ok(0);
    }
    let design = match &asked.design {
        Some(path) => read_design(path, err),
        None => plan_job(asked.file.as_deref(), asked.stop_after, err),
    };
    let design = match design {
        Ok(design) => design,
        Err(code) => return Ok(code),
    };
    let width = report::PAGE_WIDTH;
    let page = if asked.json {
        match design.to_json() {
            Ok(page) => screen::clean_json(&page).into_owned(),
            Err(error) => return Ok(told(err, 2, &error)),
        }
    } else if let Some(run) = &asked.run {
        match report::run_sheet(&design, &RunId::new(&**run), width) {
            Some(sheet) => sheet,
            None => return Ok(told(err, 2, &no_run(&design, run))),
        }
    } else if asked.full {
        report::text(&design, width)
    } else {
        report::overview(&design, width) + "\n" + REST
    };
    // The files first: a reader of the page who leaves early takes nothing from them.
    if let Some(directory) = &asked.out {
        match write(Path::new(directory), &design, asked.force) {
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

/// Which runs there are.
fn no_run(design: &Design, name: &str) -> String {
    let runs: Vec<&str> = design.runs.iter().map(|run| run.id.as_str()).collect();
    format!("no run is called `{name}`; there are {}", runs.join(", "))
}

/// Writes the set into a folder, and answers where what stood there is kept.
fn write(directory: &Path, design: &Design, force: bool) -> Result<Option<PathBuf>, String> {
    let mut files = report::files(design);
    for (_, content) in &mut files {
        *content = screen::clean(content).into_owned();
    }
    folder::write(directory, &design.job.fingerprint.0, &files, force)
}
