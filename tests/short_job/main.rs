//! The short job: what a label, watts and volts, a size and a length are enough for, and what is then said to be taken.

mod bracket;
mod keys;
mod messages;
mod narrowed;
mod users;

use evenrun::design::Design;
use evenrun::job::{Job, read};
use evenrun::plan::plan;

/// The short job of the README.
pub fn readme() -> String {
    let text = include_str!("../../README.md");
    let (_, after) = text.split_once("```toml\n").expect("a job in the README");
    let (job, _) = after.split_once("```").expect("its end");
    job.to_string()
}

/// A job that must be without faults.
pub fn good(text: &str) -> Job {
    read(text, "job.toml").unwrap_or_else(|faults| panic!("{faults}"))
}

/// The text with `from` turned into `to`; fails if it does not hold it.
pub fn changed(text: &str, from: &str, to: &str) -> String {
    assert!(text.contains(from), "the job no longer holds `{from}`");
    text.replacen(from, to, 1)
}

/// A plan that breaks no limit.
pub fn holds(text: &str) -> Design {
    let design = plan(&good(text));
    let fails: Vec<String> = design
        .findings
        .iter()
        .filter(|finding| finding.is_fail())
        .map(evenrun::rules::line)
        .collect();
    assert!(fails.is_empty(), "{fails:?}");
    design
}
