//! The demonstration job with one thing changed, and what is said about it.

use evenrun::job::{Job, JobFaults, fault::Fault, read};

/// The demonstration job: invented, and without faults.
pub const DEMO: &str = include_str!("wing.toml");

/// Name that the tests read it under.
pub const NAME: &str = "job.toml";

/// The demonstration job with the first `from` turned into `to`; fails if there is none.
pub fn changed(from: &str, to: &str) -> String {
    assert!(DEMO.contains(from), "the job no longer holds `{from}`");
    DEMO.replacen(from, to, 1)
}

/// Reads a job that must be without faults.
pub fn good(text: &str) -> Job {
    read(text, NAME).unwrap_or_else(|faults| panic!("{faults}"))
}

/// Reads a job that must have faults.
pub fn bad(text: &str) -> JobFaults {
    match read(text, NAME) {
        Ok(_) => panic!("no fault was found"),
        Err(faults) => faults,
    }
}

/// The only fault of a text, with the line it stands on.
pub fn only_fault(text: &str) -> (usize, Fault) {
    let faults = bad(text);
    assert_eq!(faults.count(), 1, "{faults}");
    let fault = faults.faults()[0].clone();
    let line = fault.place.map_or(0, |place| place.line);
    (line, fault)
}

/// Changes the demonstration and compares the whole text of the one fault that must follow,
/// and its line: that of the change.
pub fn told(from: &str, to: &str, expected: &str) {
    assert_eq!(said(from, to), expected);
}

/// The same, of a message whose tail another room owns.
pub fn told_first(from: &str, to: &str, beginning: &str) {
    let says = said(from, to);
    assert!(says.starts_with(beginning), "{says}");
}

fn said(from: &str, to: &str) -> String {
    let text = changed(from, to);
    let (line, fault) = only_fault(&text);
    let at = DEMO.find(from).unwrap_or(0);
    // Where the change begins with a line of its own, the fault stands after it.
    let first = DEMO[..at].matches('\n').count() + 1;
    let last = first + to.matches('\n').count();
    assert!(
        (first..=last).contains(&line),
        "`{from}` stands on lines {first} to {last}, the fault on {line}: {fault}"
    );
    fault.to_string()
}
