//! The page of all rules, by subject: what each asks, where its limit comes from, what it needs, how it may answer.
//!
//! `cargo run --example rules`, or with ids or parts of them: `cargo run --example rules -- supply chain-none`.

use evenrun::finding::{Case, Rule};
use evenrun::report::wrap;
use evenrun::rules::{TOPICS, Topic};
use std::io::{self, Write};

/// Columns of the page.
const WIDTH: usize = 100;
/// Columns before the text of a rule, and of its answers.
const INDENT: usize = 14;

fn main() -> io::Result<()> {
    let wanted: Vec<String> = std::env::args().skip(1).collect();
    let mut out = io::stdout().lock();
    write!(out, "{}", page(&wanted))
}

/// The page of the rules whose ids contain one of the words; of all where there is none.
fn page(wanted: &[String]) -> String {
    let asked = |rule: &&Rule| wanted.is_empty() || wanted.iter().any(|w| rule.id.contains(&**w));
    let mut out = String::new();
    let mut count = 0;
    for topic in TOPICS {
        let rules: Vec<&Rule> = topic.rules().filter(asked).collect();
        if rules.is_empty() {
            continue;
        }
        count += rules.len();
        out += &format!("{}\n{}\n", topic.title(), "=".repeat(WIDTH));
        for rule in rules {
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

/// When a rule is judged.
fn judged(topic: &Topic, rule: &Rule) -> &'static str {
    let from_design = match topic {
        Topic::Room { judge, .. } => judge.is_some(),
        Topic::Rules { entries, .. } => entries
            .iter()
            .any(|entry| entry.rule.id == rule.id && entry.judge.is_some()),
    };
    match (topic, from_design) {
        (Topic::Rules { .. }, true) => "from the design",
        (Topic::Room { .. }, true) => {
            "from the design where it holds the facts, else by whoever asks the room"
        }
        _ => "on the way to a design",
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
