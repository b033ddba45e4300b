//! The page about the file's layout names every key that is read.

use crate::edit::{DEMO, bad};
use std::collections::BTreeSet;

const PAGE: &str = include_str!("../../src/job/spec/format.md");

/// A key that no table has, put into every table and every table in braces of the demonstration
/// and of the variants below: each table answers with the keys it has.
fn keys() -> BTreeSet<String> {
    let variants = "
[[strip]]
name = \"variants\"
emitters = [{ cell = \"constant current\" }, { cell = \"constant power\" }, { cell = \"straight line\" }]
rails = { known_from = \"maximum run\" }
[[strip]]
rails = { known_from = \"resistance\" }
[[strip]]
rails = { known_from = \"reading\" }
[[strip]]
rails = { known_from = \"current reading\" }
[[run]]
fixed_segments = [{ from = \"start\" }]
fixed_feeds = [{ at = \"start\" }]
[[installed]]
name = \"there\"
";
    let mut text = String::new();
    for line in format!("zzzz = 1\n{DEMO}{variants}").lines() {
        text.push_str(&line.replace("{ ", "{ zzzz = 1, "));
        text.push('\n');
        if line.starts_with('[') {
            text.push_str("zzzz = 1\n");
        }
    }
    // Only the first faults are kept: ask for a few tables at a time.
    let mut found = BTreeSet::new();
    let mut tables: Vec<String> = vec![String::new()];
    for line in text.lines() {
        if line.starts_with('[') {
            tables.push(String::new());
        }
        if let Some(table) = tables.last_mut() {
            table.push_str(line);
            table.push('\n');
        }
    }
    for table in tables {
        let faults = bad(&table);
        for fault in faults.faults() {
            if fault.says == "is not a key of this table" {
                found.extend(fault.accepted.split(", ").map(String::from));
            }
        }
    }
    found
}

#[test]
fn every_key_stands_on_the_page() {
    let keys = keys();
    for key in [
        "known_from",
        "far_volts",
        "far_current",
        "knee",
        "works_from",
        "dark_before",
        "radius",
        "unit_loads",
        "standby",
        "serves",
        "fed",
        "fixed_feeds",
        "per_breaker",
        "schema",
    ] {
        assert!(keys.contains(key), "{key} was not asked for: {keys:?}");
    }
    assert!(keys.len() > 140, "{}", keys.len());
    let missing: Vec<&String> = keys
        .iter()
        .filter(|key| !PAGE.contains(&format!("`{key}`")))
        .collect();
    assert!(missing.is_empty(), "not on the page: {missing:?}");
}
