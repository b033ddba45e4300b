//! Job files with things done to them, each read, planned and printed by a process of its own that may take so much and no more.
//!
//! ```text
//! tests/jobs/*.toml, the demo ──► change (bytes, tokens, numbers, lines, tables; seeded) ──► a process: read, plan, print
//!                                                          120 s of processor, 1 GiB of address space │
//!           refused: each fault on a line of the file, with its key ◄─────────────────────────────────┤
//!           planned: the design can be written, and printed          ◄────────────────────────────────┤
//!           a panic, an abort, more time or memory: this test fails, and keeps the file  ◄────────────┘
//! ```
//!
//! `cargo test` runs some hundred; `EVENRUN_MUTATED=10000 cargo test --release --test mutated` as many as it says, and prints
//! its figures. `EVENRUN_MUTATED_CASE=7 cargo test --test mutated` prints the file of a case; `EVENRUN_MUTATED_FILE=…` plans a file.

#[path = "../common/dice.rs"]
mod dice;

mod change;
mod one;

use dice::Dice;
use one::{End, Outcome};
use std::collections::BTreeMap;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::{Command, ExitCode, Stdio};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Mutex, PoisonError};

/// Cases unless `EVENRUN_MUTATED` says otherwise.
const USUAL: usize = 300;
/// Seconds of processor that a case may take; more where the program is not compiled for speed.
const MOST_SECONDS: u64 = if cfg!(debug_assertions) { 300 } else { 120 };
/// Milliseconds of processor that a case is to take; those above are counted.
const WANTED: u64 = 10_000;
/// Address space that a case may take, KiB.
const MOST_KIB: u64 = 1 << 20;
/// The file that a process is to plan.
const FILE: &str = "EVENRUN_MUTATED_FILE";
/// Failures that are shown.
const SHOWN: usize = 20;

fn main() -> ExitCode {
    if let Some(file) = std::env::var_os(FILE) {
        return one::plan(Path::new(&file));
    }
    if !cfg!(unix) {
        println!("not run: the limits are set by a POSIX shell");
        return ExitCode::SUCCESS;
    }
    // `cargo test NAME` runs what is called so.
    let asked: Vec<String> = std::env::args().skip(1).collect();
    if asked.iter().any(|word| word == "--list")
        || asked
            .iter()
            .any(|word| !word.starts_with('-') && !"mutated".contains(word.as_str()))
    {
        return ExitCode::SUCCESS;
    }
    let count = match std::env::var("EVENRUN_MUTATED") {
        Ok(text) => text.parse().expect("EVENRUN_MUTATED is a whole number"),
        Err(_) => USUAL,
    };
    let jobs = jobs();
    if let Ok(text) = std::env::var("EVENRUN_MUTATED_CASE") {
        let (_, changed) = file(text.parse().expect("a whole number"), &jobs);
        std::io::stdout()
            .write_all(&changed)
            .expect("the file of a case");
        return ExitCode::SUCCESS;
    }
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("mutated");
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).expect("a folder for what is changed");
    let next = AtomicUsize::new(0);
    let all = Mutex::new(Vec::new());
    let threads = std::thread::available_parallelism().map_or(2, usize::from);
    std::thread::scope(|scope| {
        for _ in 0..threads {
            scope.spawn(|| {
                loop {
                    let number = next.fetch_add(1, Ordering::Relaxed);
                    if number >= count {
                        return;
                    }
                    let (job, outcome) = case(number, &jobs, &folder);
                    let mut all = all.lock().unwrap_or_else(PoisonError::into_inner);
                    all.push((number, job, outcome));
                }
            });
        }
    });
    let mut all = all.into_inner().unwrap_or_else(PoisonError::into_inner);
    all.sort_by_key(|(number, ..)| *number);
    told(&all, &folder)
}

/// The job files by name.
fn jobs() -> BTreeMap<String, Vec<u8>> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let entries = std::fs::read_dir(root.join("tests/jobs")).expect("the folder of jobs");
    let mut files: Vec<PathBuf> = entries
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| path.extension().is_some_and(|end| end == "toml"))
        .collect();
    files.push(root.join("examples/archive_wing.toml"));
    let read = |path: PathBuf| {
        let name = path.file_stem().expect("a name").to_string_lossy();
        (name.into_owned(), std::fs::read(&path).expect("a job file"))
    };
    files.into_iter().map(read).collect()
}

/// The job that a case changes, and the changed file.
fn file(number: usize, jobs: &BTreeMap<String, Vec<u8>>) -> (&str, Vec<u8>) {
    let (name, bytes) = jobs.iter().nth(number % jobs.len()).expect("a job");
    let mut dice = Dice(0x9e37_79b9_7f4a_7c15_u64.wrapping_mul(number as u64 + 1));
    (name, change::changed(bytes, &mut dice))
}

/// Changes a job and plans it in a process of its own.
fn case(number: usize, jobs: &BTreeMap<String, Vec<u8>>, folder: &Path) -> (String, Outcome) {
    let (name, changed) = file(number, jobs);
    let file = folder.join(format!("{number:05}.toml"));
    std::fs::write(&file, changed).expect("a file to plan");
    let this = std::env::current_exe().expect("this program");
    let limits = format!("ulimit -v {MOST_KIB} && ulimit -t {MOST_SECONDS} && exec \"$0\"");
    let ended = Command::new("sh")
        .args(["-c", &limits])
        .arg(this)
        .env(FILE, &file)
        .stdin(Stdio::null())
        .output()
        .expect("a shell");
    let outcome = Outcome::of(&ended);
    if !outcome.failed() {
        let _ = std::fs::remove_file(&file);
    }
    (name.to_string(), outcome)
}

/// Prints the figures, and the failures with the files that are kept.
fn told(all: &[(usize, String, Outcome)], folder: &Path) -> ExitCode {
    let mut by_job: BTreeMap<&str, [usize; 3]> = BTreeMap::new();
    for (_, job, outcome) in all {
        let counts = by_job.entry(job).or_default();
        match outcome.end {
            End::Refused => counts[0] += 1,
            End::Planned => counts[1] += 1,
            End::Failed(_) => counts[2] += 1,
        }
    }
    println!(
        "{:<20}{:>9}{:>9}{:>9}",
        "job, changed", "refused", "planned", "failed"
    );
    for (job, [refused, planned, failed]) in &by_job {
        println!("{job:<20}{refused:>9}{planned:>9}{failed:>9}");
    }
    let most = |of: fn(&Outcome) -> u64| {
        let mut ordered: Vec<_> = all
            .iter()
            .map(|(number, _, outcome)| (of(outcome), *number))
            .collect();
        ordered.sort_unstable_by(|a, b| b.cmp(a));
        let shown = ordered
            .iter()
            .take(4)
            .map(|(figure, number)| format!("{figure} (case {number})"));
        shown.collect::<Vec<_>>().join(", ")
    };
    println!(
        "longest, ms of processor: {}",
        most(|outcome| outcome.milliseconds)
    );
    let slow = all.iter().filter(|(.., o)| o.milliseconds > WANTED);
    println!("more than {WANTED} ms: {} cases", slow.count());
    println!(
        "largest, MiB in memory: {}",
        most(|outcome| outcome.kibibytes >> 10)
    );
    let failed: Vec<_> = all
        .iter()
        .filter(|(_, _, outcome)| outcome.failed())
        .collect();
    println!("{} cases, {} failed", all.len(), failed.len());
    for (number, job, outcome) in failed.iter().take(SHOWN) {
        if let End::Failed(why) = &outcome.end {
            println!(
                "\ncase {number} ({job}), kept as {}:\n{why}",
                folder.join(format!("{number:05}.toml")).display()
            );
        }
    }
    // What each change is for must be reached: some files are refused and some are planned.
    let reached = by_job
        .values()
        .all(|[refused, planned, _]| *refused > 0 && *planned > 0);
    if !reached {
        println!(
            "a job is never refused, or never planned: the changes do not reach what they are for"
        );
    }
    if failed.is_empty() && reached {
        ExitCode::SUCCESS
    } else {
        ExitCode::FAILURE
    }
}
