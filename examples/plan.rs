//! A job file in, the whole plan out.
//!
//! ```sh
//! cargo run --release --example plan                          # the invented demo, on the screen
//! cargo run --release --example plan -- FILE.toml             # your file
//! cargo run --release --example plan -- FILE.toml --out DIR   # and every schedule as a file
//! ```
//!
//! Exit codes: 0 a plan was made (read its findings), 1 the job has faults, 2 a file cannot be read
//! or written, or the command line is wrong.

use evenrun::job::{self, plan};
use evenrun::report;
use std::io::Write;
use std::path::Path;
use std::process::ExitCode;

const DEMO: &str = include_str!("archive_wing.toml");
const USAGE: &str = "usage: plan [FILE.toml] [--out DIR]";

fn main() -> ExitCode {
    let mut file = None;
    let mut out = None;
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
    let plan = plan::plan(&job);
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
