//! Nothing silent: one sound job, one fault at a time, and what an experienced engineer would say of it.
//!
//! `faults.toml` holds the faults: the key of the job file or the trap, what is wrong, how the text of `base.toml` is
//! changed, and the verdict; `assumed` where the answer is what the plan says it took in place of what the job left out. `table.md` holds what is said of each, beside it; `EVENRUN_GOLDEN=rewrite` writes it anew.
//! A fault that is `awaited` is one that is not answered so yet: it fails here once it is, and is then to be switched on.

use evenrun::design::Design;
use evenrun::finding::{Finding, Verdict};
use evenrun::report::Cell;
use evenrun::{job, plan, report, rules};
use serde::Deserialize;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::fs;

const BASE: &str = include_str!("base.toml");
const FAULTS: &str = include_str!("faults.toml");
const FORMAT: &str = include_str!("../../src/job/spec/format.md");
const TABLE: &str = "tests/faults/table.md";

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Faults {
    fault: Vec<Fault>,
}

/// One fault.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Fault {
    /// The key of the job file: `strip.rated`.
    key: String,
    /// The traps that it stands for: `P6`, `S3`.
    #[serde(default)]
    traps: Vec<String>,
    /// What is wrong, in the words of the trade.
    fault: String,
    /// Stretches of the base job and what stands in their place: the first of each.
    #[serde(default)]
    swap: Vec<(String, String)>,
    /// What is added at the end.
    #[serde(default)]
    more: String,
    /// `refused`, `fail`, `not evaluated`, `at limit`, `assumed`, or `pass` for what is no fault.
    verdict: String,
    /// The rule that says so; none where the file is refused, or where any may.
    #[serde(default)]
    rule: String,
    /// Words in which it is said.
    says: Vec<String>,
    /// Why it is not answered so yet.
    #[serde(default)]
    awaited: String,
}

impl Fault {
    fn text(&self) -> String {
        let mut text = BASE.to_string();
        for (from, to) in &self.swap {
            assert!(
                text.contains(&**from),
                "{}: no {from:?} in the base",
                self.fault
            );
            text = text.replacen(&**from, to, 1);
        }
        text + &self.more
    }
}

/// What is said of a job: refused, with all errors; or each finding that is no pass, by rule, and each assumption.
enum Said {
    Refused(String),
    Found(Vec<Told>),
}

/// Verdict, none for an assumption; rule; words.
type Told = (Option<Verdict>, String, String);

/// Words of a verdict; `assumed`: no finding, but an assumption of the plan.
fn verdict_words(verdict: Option<Verdict>) -> &'static str {
    verdict.map_or("assumed", Verdict::words)
}

fn all() -> Vec<Fault> {
    let all: Faults = toml::from_str(FAULTS).expect("faults.toml");
    all.fault
}

/// A finding in full: place, sentence, figure and limit, reason, remedy.
fn words(finding: &Finding) -> Told {
    let words = rules::words(finding);
    let mut line = format!("{}: {}", words.place, words.says);
    if !words.figure.is_empty() || !words.limit.is_empty() {
        let _ = write!(line, "; {}, limit {}", words.figure, words.limit);
    }
    for (label, more) in [("not evaluated: ", &words.reason), ("", &words.remedy)] {
        if !more.is_empty() {
            let _ = write!(line, "; {label}{more}");
        }
    }
    (Some(finding.verdict), finding.rule.to_string(), line)
}

fn said(text: &str) -> Said {
    match job::read(text, "job.toml") {
        Err(faults) => Said::Refused(faults.to_string()),
        Ok(job) => {
            let design = plan::plan(&job);
            let told = design
                .findings
                .iter()
                .filter(|f| f.verdict != Verdict::Pass);
            Said::Found(told.map(words).chain(assumptions(&design)).collect())
        }
    }
}

/// Each assumption of a plan, in the words of its report.
fn assumptions(design: &Design) -> Vec<Told> {
    let all = report::schedules(design);
    let own = all.iter().find(|schedule| schedule.key == "assumptions");
    let rows = own.expect("a schedule of assumptions").rows.iter();
    // The number of a row says nothing of what was assumed.
    let line = |row: &Vec<Cell>| row[1].printed().to_string();
    rows.map(|row| (None, String::new(), line(row))).collect()
}

/// What the base job is told already: the questions that this version leaves to others.
fn told_of_the_base() -> BTreeSet<String> {
    match said(BASE) {
        Said::Refused(why) => panic!("{why}"),
        Said::Found(all) => all.into_iter().map(|(_, _, line)| line).collect(),
    }
}

fn plain(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// What is said of a fault, as the row of the table has it, and whether it is what it should be.
fn answer(fault: &Fault, told: &BTreeSet<String>) -> Answer {
    let holds_words = |text: &str| fault.says.iter().all(|own| text.contains(&**own));
    match said(&fault.text()) {
        Said::Refused(why) => {
            let mut lines = why.lines().filter(|line| !line.trim().is_empty());
            let own = lines.clone().find(|line| holds_words(line));
            let line = plain(own.or_else(|| lines.next()).unwrap_or_default());
            let right = fault.verdict == "refused" && own.is_some();
            (right, "refused".to_string(), String::new(), line)
        }
        Said::Found(found) => {
            let mut new: Vec<_> = found.into_iter().filter(|f| !told.contains(&f.2)).collect();
            let own = |f: &Told| {
                verdict_words(f.0) == fault.verdict
                    && (fault.rule.is_empty() || f.1 == fault.rule)
                    && holds_words(&f.2)
            };
            new.sort_by_key(|f| (!own(f), f.0.is_none(), f.0));
            match new.into_iter().next() {
                None => (
                    fault.verdict == "pass",
                    "silent".to_string(),
                    String::new(),
                    String::new(),
                ),
                Some(first) => {
                    let right = own(&first);
                    let (verdict, rule, line) = first;
                    (
                        right,
                        verdict_words(verdict).to_string(),
                        rule,
                        plain(&line),
                    )
                }
            }
        }
    }
}

/// Whether it is as it should be; verdict, rule, words.
type Answer = (bool, String, String, String);

/// Every fault with what is said of it, as a table.
fn table(rows: &[(Fault, Answer)]) -> String {
    let mut out = String::from(
        "# One fault each, and what is said of it\n\n\
         Written by `tests/faults`: `EVENRUN_GOLDEN=rewrite cargo test --test faults`. The jobs are `base.toml` with the change that\n\
         `faults.toml` holds. *Should be* is what an experienced engineer would say; a row with words there is not answered so yet.\n\n\
         | no. | key | trap | fault | verdict | rule | words | should be |\n| --- | --- | --- | --- | --- | --- | --- | --- |\n",
    );
    let cell = |text: &str| text.replace('|', "/");
    for (number, (fault, (right, verdict, rule, line))) in (1..).zip(rows) {
        let should = if *right {
            String::new()
        } else {
            format!("{}: {}", fault.verdict, fault.awaited)
        };
        let _ = writeln!(
            out,
            "| {number} | `{}` | {} | {} | {verdict} | {rule} | {} | {should} |",
            fault.key,
            fault.traps.join(" "),
            cell(&fault.fault),
            cell(line),
        );
    }
    out
}

/// Each fault is answered as it should be, and the table shows the words.
#[test]
fn every_fault_is_named() {
    let told = told_of_the_base();
    let rows: Vec<_> = all()
        .into_iter()
        .map(|fault| {
            let said = answer(&fault, &told);
            (fault, said)
        })
        .collect();
    assert!(rows.len() >= 60, "{} faults", rows.len());
    let mut wrong = String::new();
    for (fault, (right, verdict, rule, line)) in &rows {
        let name = format!("{} ({})", fault.fault, fault.key);
        match (right, fault.awaited.is_empty()) {
            (true, true) | (false, false) => {}
            (true, false) => {
                let _ = writeln!(wrong, "{name}: answered now, take `awaited` away");
            }
            (false, true) => {
                let should = format!("{} {} {:?}", fault.verdict, fault.rule, fault.says);
                let _ = writeln!(
                    wrong,
                    "{name}: should be {should}, is {verdict} {rule}: {line}"
                );
            }
        }
    }
    let table = table(&rows);
    if std::env::var("EVENRUN_GOLDEN").is_ok_and(|word| word == "rewrite") {
        fs::write(TABLE, &table).expect("the table is written");
    }
    assert!(wrong.is_empty(), "{wrong}");
    let kept = fs::read_to_string(TABLE).unwrap_or_default();
    let differs = kept
        .lines()
        .zip(table.lines())
        .find(|(old, new)| old != new);
    assert!(kept == table, "the table says otherwise: {differs:#?}");
}

/// The base job is sound: nothing fails, and what is not evaluated is the scope of this version.
#[test]
fn the_base_is_sound() {
    let Said::Found(all) = said(BASE) else {
        panic!("refused");
    };
    for (verdict, rule, line) in all {
        let Some(verdict) = verdict else { continue };
        assert_eq!(verdict, Verdict::NotEvaluated, "{line}");
        // Limits of chopped dc on bare parts are not in the library, whatever the job.
        let open = rule.starts_with("scope-") || rule == "elv-touchable";
        assert!(open, "{line}");
    }
}

/// Keys of the page of the job file, by table: what stands in backquotes in its sections.
fn keys() -> BTreeMap<String, BTreeSet<String>> {
    let mut out: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    let mut tables: Vec<String> = Vec::new();
    for line in FORMAT.lines() {
        if let Some(heading) = line.strip_prefix("## ") {
            let names = heading.split(['[', ']', '`', ' ']);
            tables = names
                .filter(|name| !name.is_empty() && *name != "and")
                .map(str::to_string)
                .collect();
            continue;
        }
        let [table] = tables.as_slice() else { continue };
        // Words in backquotes that are keys, not values: lower case without quotes or units.
        for word in line.split('`').skip(1).step_by(2) {
            let is_key =
                !word.is_empty() && word.bytes().all(|b| b.is_ascii_lowercase() || b == b'_');
            if is_key {
                out.entry(table.clone())
                    .or_default()
                    .insert(word.to_string());
            }
        }
    }
    out
}

/// Keys that no job can get wrong: words for people, printed as they stand; and a word that is no key.
const WORDS: &[&str] = &[
    "compare",
    "drawing",
    "room",
    "flux",
    "note",
    "port",
    "description",
];

/// Every key of a job file has a fault.
#[test]
fn every_key_has_a_fault() {
    let faults = all();
    let mut missing = Vec::new();
    let mut count = 0;
    for (table, keys) in keys() {
        for key in keys {
            if WORDS.contains(&&*key) {
                continue;
            }
            count += 1;
            let own = |fault: &Fault| {
                let mut words = fault.key.split(['.', ' ']);
                words.next() == Some(&*table) && words.any(|word| word == key)
            };
            if !faults.iter().any(own) {
                missing.push(format!("{table}.{key}"));
            }
        }
    }
    assert!(count >= 100, "{count} keys");
    assert!(missing.is_empty(), "no fault of {missing:?}");
}
