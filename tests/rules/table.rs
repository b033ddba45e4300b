//! The table of the developers' page: each rule of the registry once, with a test that exists.

use evenrun::rules::TOPICS;
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

const PAGE: &str = "DEVELOPERS.md";
const HEADING: &str = "## Which test holds which rule";
const HEAD: &str = "| rule | test |\n| --- | --- |\n";
const NONE: &str = "none of its own yet";

fn page() -> String {
    fs::read_to_string(PAGE).expect("the developers' page")
}

/// The rows of the page's table: a rule, and its tests.
fn rows(page: &str) -> Vec<(String, String)> {
    let (_, section) = page.split_once(HEADING).expect("the section");
    let rows = section.lines().filter_map(|line| {
        let (id, tests) = line.strip_prefix("| `")?.split_once("` | ")?;
        Some((id.to_string(), tests.trim_end_matches(" |").to_string()))
    });
    rows.collect()
}

fn registered() -> Vec<&'static str> {
    let all = TOPICS.iter().flat_map(|topic| topic.rules());
    all.map(|rule| rule.id).collect()
}

fn rust_files(under: &Path, out: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(under).expect("a folder") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            rust_files(&path, out);
        } else if path.extension().is_some_and(|kind| kind == "rs") {
            out.push(path);
        }
    }
}

/// The first test that names a rule: a fault that is answered, else a test function that holds its id.
fn test_of(id: &str) -> Option<String> {
    let faults = fs::read_to_string("tests/faults/faults.toml").expect("the faults");
    let own = format!("rule = \"{id}\"");
    let mut blocks = faults.split("[[fault]]");
    if blocks.any(|fault| fault.contains(&own) && !fault.contains("awaited = ")) {
        return Some("`tests/faults/main.rs::every_fault_is_named`".to_string());
    }
    let mut files = Vec::new();
    rust_files(Path::new("tests"), &mut files);
    files.sort();
    let quoted = format!("\"{id}\"");
    for file in files {
        let text = fs::read_to_string(&file).expect("a test");
        let (mut is_next, mut test) = (false, None);
        for line in text.lines() {
            is_next |= line.trim() == "#[test]";
            let head = line.trim_start().strip_prefix("fn ");
            if let Some((name, _)) = head.and_then(|head| head.split_once('(')) {
                test = std::mem::take(&mut is_next).then_some(name);
            }
            if let Some(test) = test.filter(|_| line.contains(&quoted)) {
                return Some(format!("`{}::{test}`", file.display()));
            }
        }
    }
    None
}

/// With `EVENRUN_GOLDEN=rewrite` rules that are new get a row, and rows of rules that are gone go.
fn rewrite() {
    let page = page();
    let known: BTreeMap<String, String> = rows(&page).into_iter().collect();
    let row = |id: &&str| {
        let kept = known.get(*id).filter(|tests| *tests != NONE).cloned();
        let tests = kept.or_else(|| test_of(id));
        format!(
            "| `{id}` | {} |\n",
            tests.unwrap_or_else(|| NONE.to_string())
        )
    };
    let (before, _) = page.split_once(HEAD).expect("the head of the table");
    let table: String = registered().iter().map(row).collect();
    fs::write(PAGE, format!("{before}{HEAD}{table}")).expect("the page is written");
}

#[test]
fn each_rule_stands_in_the_table_with_its_test() {
    if std::env::var("EVENRUN_GOLDEN").is_ok_and(|word| word == "rewrite") {
        rewrite();
    }
    let rows = rows(&page());
    let listed: Vec<&str> = rows.iter().map(|row| row.0.as_str()).collect();
    assert_eq!(
        listed,
        registered(),
        "EVENRUN_GOLDEN=rewrite lists what is new"
    );
    let mut without = Vec::new();
    for (id, tests) in &rows {
        if tests == NONE {
            without.push(id.as_str());
            continue;
        }
        for test in tests.split(", ") {
            let test = test.trim_matches('`');
            let (file, function) = test.split_once("::").expect("a file and a test");
            let text = fs::read_to_string(file).unwrap_or_else(|e| panic!("{id}: {file}: {e}"));
            let head = format!("fn {function}(");
            assert!(text.contains(&head), "{id}: no test {function} in {file}");
        }
    }
    assert!(without.is_empty(), "without a test: {without:?}");
}
