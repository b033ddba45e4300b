//! The page of all rules, by subject: what each asks, where its limit comes from, what it needs, how it may answer.
//!
//! `cargo run --example rules`, or with ids or parts of them: `cargo run --example rules -- supply chain-none`.

#[path = "shared/arguments.rs"]
mod arguments;
#[path = "shared/screen.rs"]
mod screen;

use clap::Parser;
use evenrun::finding::{Case, Rule};
use evenrun::report::wrap;
use evenrun::rules::{self, TOPICS, Topic};
use std::io::{self, Write};
use std::process::ExitCode;

/// Columns of the page.
const WIDTH: usize = 100;
/// Columns before the text of a rule, and of its answers.
const INDENT: usize = 14;

/// The page of all rules: what each asks, where its limit comes from, what it needs, how it may answer.
#[derive(Parser)]
#[command(name = "rules")]
struct Asked {
    /// Ids of rules, or parts of them; without one all rules
    #[arg(value_name = "ID")]
    ids: Vec<String>,
}

fn main() -> ExitCode {
    screen::program(run)
}

/// The program: its arguments in, what it prints and its exit code out.
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
    write!(out, "{}", page(&asked.ids))?;
    Ok(0)
}

/// The page of the rules whose ids contain one of the words; of all where there is none.
fn page(wanted: &[String]) -> String {
    let asked = |rule: &&Rule| wanted.is_empty() || wanted.iter().any(|w| rule.id.contains(&**w));
    let mut out = String::new();
    let mut count = 0;
    for topic in TOPICS {
        let own: Vec<&Rule> = topic.rules().filter(asked).collect();
        if own.is_empty() {
            continue;
        }
        count += own.len();
        out += &format!("{}\n{}\n", topic.title(), "=".repeat(WIDTH));
        for rule in own {
            describe(&mut out, rule, judged(topic, rule));
        }
        out.push('\n');
    }
    match count {
        0 => "No rule has such an id.\n".to_string(),
        1 => out + "1 rule.\n",
        _ => out + &format!("{count} rules.\n"),
    }
}

/// When a rule is judged, and by whom.
fn judged(topic: &Topic, rule: &Rule) -> &'static str {
    match (rules::is_judged(rule.id), topic) {
        (true, _) => "from the design",
        (false, Topic::Rules { .. }) => "by the planner, on the way to a design",
        (false, Topic::Room { .. }) => "by its room, for the planner or for whoever asks it",
    }
}

fn describe(out: &mut String, rule: &Rule, judged: &str) {
    *out += &format!("{}: {}\n", rule.id, rule.title);
    field(out, "asks", rule.asks);
    field(out, "source", &rule.source.to_string());
    if !rule.needs.is_empty() {
        field(out, "needs", &rule.needs.join("; "));
    }
    field(out, "judged", judged);
    for case in rule.cases {
        field(out, "answers", &answer(case));
    }
    out.push('\n');
}

/// An answer as a template: what stands in braces is filled in when it is printed.
fn answer(case: &Case) -> String {
    let mut text = format!("[{}]", case.key);
    let mut add = |label: &str, words: &str| {
        if !words.is_empty() {
            text += &format!(" {label}{words}.");
        }
    };
    add("", case.says);
    add("Not evaluated: ", case.reason);
    add("Figure: ", case.figure);
    add("Limit: ", case.limit);
    add("Remedy: ", case.remedy);
    text
}

fn field(out: &mut String, label: &str, text: &str) {
    for (at, line) in wrap(text, WIDTH - INDENT).iter().enumerate() {
        let label = if at == 0 { label } else { "" };
        *out += &format!("    {label:<width$}{line}\n", width = INDENT - 4);
    }
}
