//! The page of keys: every row whole, every example read.

use evenrun::job::fault::FaultKind;
use evenrun::job::{KEYS, read};

/// Keys that only stand beside another.
const BESIDE: &[(&str, &str)] = &[
    ("`curve`", "control = \"8 bit\""),
    ("`ampacity_ambient`", "ampacity = \"10 A\""),
];

/// Keys whose range is that of another key, which their example lacks.
const RELATIVE: &[&str] = &["knee", "works_from", "far_volts"];

/// Rows of the page: the prefix of their table with `…` where an example goes, and their cells.
fn rows() -> Vec<(String, Vec<String>)> {
    let mut template = String::new();
    let mut out = Vec::new();
    for line in KEYS.lines() {
        if let Some(heading) = line
            .trim_start_matches('#')
            .strip_prefix(' ')
            .filter(|_| line.starts_with("##"))
        {
            template = match heading.split('`').collect::<Vec<_>>().as_slice() {
                ["", table, " ", inner, ""] => format!("{table}\n{inner}\n"),
                ["", table, ""] => format!("{table}\n…\n"),
                _ => "…\n".to_string(),
            };
        }
        if line.starts_with("| ") && !line.starts_with("| key") && !line.starts_with("| ---") {
            let cells = line
                .trim_matches('|')
                .split('|')
                .map(|c| c.trim().to_string());
            out.push((template.clone(), cells.collect()));
        }
    }
    out
}

#[test]
fn every_row_says_what_is_accepted_and_what_is_taken() {
    let rows = rows();
    assert!(rows.len() > 150, "{}", rows.len());
    for (table, cells) in &rows {
        let [key, says, accepted, silent, example] = cells.as_slice() else {
            panic!("{table}: {cells:?}");
        };
        assert!(!says.is_empty(), "{key}");
        assert!(!example.is_empty(), "{key}");
        let needed = key.starts_with("**");
        assert!(
            needed || !accepted.is_empty() || key.contains("limits"),
            "{table}: {key}"
        );
        assert!(
            needed || !silent.is_empty() || table.contains("path"),
            "{table}: {key}"
        );
    }
}

#[test]
fn every_example_is_read() {
    for (table, cells) in rows() {
        // The curve of a job without zones stands beside its runs: the test of the short job reads it.
        if table == "…\n" && cells[0] == "`curve`" {
            continue;
        }
        let example = cells[4].trim_matches('`');
        let text = table.replace('…', example);
        let beside = BESIDE.iter().find(|(key, _)| cells[0].contains(key));
        let text = match beside {
            Some((_, line)) => format!("{text}{line}\n"),
            None => text,
        };
        let text = if text.starts_with('[') {
            format!("schema = 1\n{text}")
        } else {
            text
        };
        let Err(faults) = read(&text, "job.toml") else {
            panic!("a job of one key has no fault: {text}");
        };
        // What the table still needs is another matter, and names that nothing has.
        for fault in faults.faults() {
            let lacks = matches!(
                fault.kind,
                FaultKind::Missing | FaultKind::UnknownName | FaultKind::Contradiction
            );
            let relative = RELATIVE.iter().any(|key| fault.field.ends_with(key));
            assert!(lacks || relative, "{text}\n{fault}");
        }
    }
}

/// What a table answers with that is asked for a key it has not: each of its keys stands in the section of that table.
#[test]
fn every_key_of_a_table_stands_in_its_own_section() {
    let sections: Vec<&str> = KEYS.split("\n## ").skip(1).collect();
    let mut asked = 0;
    for section in sections {
        let heading = section.lines().next().unwrap_or("").trim_matches('`');
        let text = match heading {
            "At the top" => "zzzz = 1\nrun = []\n".to_string(),
            table => format!("schema = 1\n{table}\nzzzz = 1\n"),
        };
        let faults = read(&text, "job.toml").expect_err("a key that no table has");
        let unknown = |fault: &&evenrun::job::fault::Fault| fault.kind == FaultKind::UnknownKey;
        let fault = faults.faults().iter().find(unknown).expect(heading);
        for key in fault.accepted.split(", ") {
            assert!(section.contains(&format!("`{key}`")), "{heading}: {key}");
            asked += 1;
        }
    }
    assert!(asked > 120, "{asked}");
}
