//! One changed job: what became of it, seen from inside the process that plans it and from outside.

use evenrun::job::fault::{Fault, FaultKind};
use evenrun::{job, plan, report};
use std::os::unix::process::ExitStatusExt;
use std::path::Path;
use std::process::{ExitCode, Output};

/// What became of a case.
pub enum End {
    /// Refused, each fault placed.
    Refused,
    /// Planned, written and printed.
    Planned,
    /// What must not be.
    Failed(String),
}

/// A case that was run.
pub struct Outcome {
    /// What became of it.
    pub end: End,
    /// Of processor.
    pub milliseconds: u64,
    /// The most that was in memory.
    pub kibibytes: u64,
}

impl Outcome {
    /// From how the process ended: its one line is the word, milliseconds and kibibytes.
    pub fn of(ended: &Output) -> Self {
        let page = String::from_utf8_lossy(&ended.stdout);
        let words: Vec<&str> = page.split_whitespace().collect();
        let number = |at: usize| {
            words
                .get(at)
                .and_then(|word| word.parse().ok())
                .unwrap_or(0)
        };
        let end = match (ended.status.success(), words.first().copied()) {
            (true, Some("refused")) => End::Refused,
            (true, Some("planned")) => End::Planned,
            _ => {
                let how = match ended.status.signal() {
                    Some(signal) => {
                        format!("ended by signal {signal} (6: abort, out of memory; 9, 24: time)")
                    }
                    None => ended.status.to_string(),
                };
                let says = String::from_utf8_lossy(&ended.stderr);
                End::Failed(format!(
                    "{how}\n{page}{}",
                    says.chars().take(2000).collect::<String>()
                ))
            }
        };
        Self {
            end,
            milliseconds: number(1),
            kibibytes: number(2),
        }
    }

    /// Whether it is what must not be.
    pub fn failed(&self) -> bool {
        matches!(self.end, End::Failed(_))
    }
}

/// Reads, plans, writes and prints a job file.
pub fn plan(file: &Path) -> ExitCode {
    let bytes = std::fs::read(file).expect("the changed file");
    let word = match job::read_bytes(&bytes, "job.toml") {
        Err(faults) => {
            let lines = bytes.iter().filter(|byte| **byte == b'\n').count() + 1;
            let odd: Vec<&Fault> = faults
                .faults()
                .iter()
                .filter(|fault| !placed(fault, lines))
                .collect();
            for fault in &odd {
                println!("no place, no key, or not printable: {fault} ({fault:?})");
            }
            if faults.faults().is_empty() || !odd.is_empty() {
                return ExitCode::FAILURE;
            }
            "refused"
        }
        Ok(read) => {
            let design = plan::plan(&read);
            if let Err(error) = design.to_json() {
                println!("the design cannot be written: {error}");
                return ExitCode::FAILURE;
            }
            for (name, page) in report::files(&design) {
                if let Some(odd) = page.chars().find(|c| unprintable(*c)) {
                    println!("{name} holds U+{:04X}", u32::from(odd));
                    return ExitCode::FAILURE;
                }
            }
            "planned"
        }
    };
    println!("{word} {} {}", milliseconds(), kibibytes());
    ExitCode::SUCCESS
}

/// Whether a fault stands on a line of the file and names a key of it, and can be printed.
fn placed(fault: &Fault, lines: usize) -> bool {
    let on_a_line = fault
        .place
        .is_some_and(|at| (1..=lines).contains(&at.line) && at.column >= 1);
    // What is no TOML, or no text, has no key yet.
    let keyed = !fault.field.is_empty()
        || matches!(fault.kind, FaultKind::Syntax | FaultKind::File)
        || (fault.kind == FaultKind::WrongType && !fault.subject.is_empty());
    on_a_line && keyed && !fault.to_string().chars().any(unprintable)
}

/// Whether a character does something to a terminal: a control, or a mark that turns the direction of writing.
fn unprintable(c: char) -> bool {
    (c.is_control() && !matches!(c, '\n' | '\r'))
        || matches!(u32::from(c), 0x61c | 0x200b..=0x200f | 0x2028..=0x202e | 0x2060..=0x206f | 0xfeff)
}

/// Processor time of this process, where the system tells it.
fn milliseconds() -> u64 {
    let told = std::fs::read_to_string("/proc/self/schedstat").unwrap_or_default();
    let first = told
        .split_whitespace()
        .next()
        .and_then(|word| word.parse::<u64>().ok());
    first.unwrap_or(0) / 1_000_000
}

/// The most memory that this process ever held, where the system tells it.
fn kibibytes() -> u64 {
    let told = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = told.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    let number = line.and_then(|line| line.split_whitespace().next());
    number.and_then(|word| word.parse().ok()).unwrap_or(0)
}
