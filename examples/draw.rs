//! A job file in; its drawings, and the whole plan as one page for a browser or a printer, out.
//!
//! ```sh
//! cargo run --release --features draw --example draw -- --out DIR              # the invented demo
//! cargo run --release --features draw --example draw -- FILE.toml --out DIR    # your file
//! cargo run --release --features draw --example draw -- --out DIR --front S1   # and what more money buys on run S1
//! ```
//!
//! DIR gets `page.html` (open it, or print it to A4 or Letter) and each figure as SVG. A folder that holds anything else is
//! refused. Exit codes: 0 done, 1 the job or run has faults, 2 a file cannot be read or written, or the command line is wrong.

#[path = "shared/screen.rs"]
mod screen;

use evenrun::choose::feeding::TradeOffSpec;
use evenrun::job::Job;
use evenrun::progress::Progress;
use evenrun::quantity::percent;
use evenrun::{draw, job, plan};
use std::fs;
use std::io::{self, Write};
use std::path::Path;
use std::process::ExitCode;

const DEMO: &str = include_str!("archive_wing.toml");
const USAGE: &str = "usage: draw [FILE.toml] --out DIR [--front RUN]";

/// The command line.
#[derive(Default)]
struct Asked {
    file: Option<String>,
    out: Option<String>,
    front: Option<String>,
    help: bool,
}

fn main() -> ExitCode {
    screen::program(run)
}

fn asked(mut arguments: impl Iterator<Item = String>) -> Result<Asked, String> {
    let mut asked = Asked::default();
    while let Some(argument) = arguments.next() {
        let mut value = || arguments.next().ok_or(format!("{argument} needs a value"));
        match argument.as_str() {
            "--help" | "-h" => asked.help = true,
            "--out" => asked.out = Some(value()?),
            "--front" => asked.front = Some(value()?),
            other if other.starts_with('-') => return Err(format!("unknown option {other}")),
            other if asked.file.is_none() => asked.file = Some(other.to_string()),
            _ => return Err("one job file at a time".to_string()),
        }
    }
    if asked.out.is_none() && !asked.help {
        return Err("name a folder: --out DIR".to_string());
    }
    Ok(asked)
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
    let asked = match asked(arguments) {
        Ok(asked) => asked,
        Err(why) => return told(err, 2, &format!("{why}\n{USAGE}")),
    };
    if asked.help {
        writeln!(out, "{USAGE}")?;
        return Ok(0);
    }
    let read = match &asked.file {
        None => job::read(DEMO, "archive_wing.toml"),
        Some(path) => match fs::read(path) {
            Ok(bytes) => job::read_bytes(&bytes, path),
            Err(error) => return told(err, 2, &format!("{path}: {error}")),
        },
    };
    let job = match read {
        Ok(job) => job,
        Err(faults) => return told(err, 1, &faults.to_string()),
    };
    let mut files = draw::files(&plan::plan(&job));
    if let Some(run) = &asked.front {
        match front(&job, run) {
            Ok(svg) => files.push(("front.svg".to_string(), svg)),
            Err(why) => return told(err, 1, &why),
        }
    }
    let folder = asked.out.unwrap_or_default();
    if let Err(why) = write(Path::new(&folder), &files) {
        return told(err, 2, &why);
    }
    writeln!(out, "{} files in {folder}: open page.html", files.len())?;
    Ok(0)
}

fn told(err: &mut impl Write, code: u8, why: &str) -> io::Result<u8> {
    writeln!(err, "{why}")?;
    Ok(code)
}

/// The trade-off of a run, a per cent of light as a step.
fn front(job: &Job, run: &str) -> Result<String, String> {
    let problem = plan::run_problem(job, run).map_err(|error| error.to_string())?;
    let checked = problem.check().map_err(|error| error.to_string())?;
    let spec = TradeOffSpec {
        resolution: percent(1.0),
        ..TradeOffSpec::default()
    };
    let answer = checked.trade_off(&spec, &mut Progress::silent());
    let answer = answer.map_err(|error| error.to_string())?;
    Ok(draw::trade_off(run, job.currency(), &answer))
}

/// Writes into a folder that is new, or holds nothing but drawings of an earlier time: those go.
fn write(folder: &Path, files: &[(String, String)]) -> Result<(), String> {
    let named = |path: &Path, error: io::Error| format!("{}: {error}", path.display());
    fs::create_dir_all(folder).map_err(|error| named(folder, error))?;
    let entries = fs::read_dir(folder).map_err(|error| named(folder, error))?;
    let entries: Vec<_> = entries.flatten().map(|entry| entry.path()).collect();
    let drawing = |path: &Path| {
        let name = path.file_name().and_then(|name| name.to_str());
        let plain = fs::symlink_metadata(path).is_ok_and(|data| data.is_file());
        plain && name.is_some_and(|name| name == "page.html" || name.ends_with(".svg"))
    };
    if let Some(other) = entries.iter().find(|path| !drawing(path)) {
        return Err(format!(
            "{}: is no drawing; name a new folder",
            other.display()
        ));
    }
    for path in entries {
        fs::remove_file(&path).map_err(|error| named(&path, error))?;
    }
    for (name, content) in files {
        let path = folder.join(name);
        fs::write(&path, content).map_err(|error| named(&path, error))?;
    }
    Ok(())
}
