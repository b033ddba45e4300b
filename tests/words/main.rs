//! No phrase that the trade says otherwise stands in what is printed or in a text of `src`.
use std::fs;
use std::path::{Path, PathBuf};

/// What is not said, and what is said instead.
const RETIRED: &[(&str, &str)] = &[
    ("the habit keeps to", "good practice"),
    ("nothing opens", "nothing trips"),
    ("carry for ever", "within its continuous rating"),
    (
        "insulation bears",
        "exceeds the insulation rating, withstands",
    ),
    ("low corner", "worst case, low"),
    ("high corner", "worst case, high"),
    ("where it stands", "derated rating"),
    ("slack is within", "slack included"),
    ("what feeds it", "its source"),
    ("1 devices", "1 device"),
    ("1 ports", "1 port"),
    (" bodies", "units"),
    ("sends back", "reflects"),
    ("above nothing", "above zero"),
    ("all along", "throughout"),
    ("one point inside", "mid-fed"),
    ("points inside", "mid-fed at two points"),
    ("worst corner", "worst case"),
    ("relative current", "least current of a cell"),
    ("increments 0 to", "a length: 0.00 m to"),
    (
        "of the candidates keeps",
        "no permitted feed and cable keeps",
    ),
    ("nothing against it", "no exception"),
    ("stands by", "standby"),
];

/// Searches of a run have words of their own, kept by their room.
const ELSEWHERE: &str = "src/choose/feeding";

fn files(under: &Path, out: &mut Vec<PathBuf>) {
    let entries = fs::read_dir(under).unwrap_or_else(|e| panic!("{}: {e}", under.display()));
    for entry in entries {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            files(&path, out);
        } else {
            out.push(path);
        }
    }
}

fn below(folder: &str) -> Vec<PathBuf> {
    let mut out = Vec::new();
    files(
        &Path::new(env!("CARGO_MANIFEST_DIR")).join(folder),
        &mut out,
    );
    out.sort();
    out
}

/// The lines that hold a retired phrase, the texts of comments left out.
fn retired(path: &Path, text: &str, comments: bool) -> Vec<String> {
    let mut out = Vec::new();
    for (number, line) in (1..).zip(text.lines()) {
        if !comments && line.trim_start().starts_with("//") {
            continue;
        }
        // `11 devices` is as it should be.
        let said = |phrase: &str| {
            line.match_indices(phrase).any(|(at, _)| {
                let before = line[..at].chars().next_back();
                !phrase.starts_with('1') || !before.is_some_and(|c| c.is_ascii_digit() || c == '.')
            })
        };
        for (phrase, instead) in RETIRED.iter().filter(|(phrase, _)| said(phrase)) {
            let place = path.display();
            out.push(format!("{place}:{number}: \"{phrase}\", say: {instead}"));
        }
    }
    out
}

#[test]
fn a_retired_phrase_is_found() {
    let of = |text: &str| retired(Path::new("here"), text, false).len();
    assert_eq!(of("1 devices on one chain; the habit keeps to 20"), 2);
    assert_eq!(of("11 devices\n// nothing opens"), 0);
}

#[test]
fn no_retired_phrase_in_texts_of_the_library() {
    let all = below("src");
    let own = all.iter().filter(|path| {
        let name = path.to_string_lossy();
        name.ends_with(".rs") && !name.contains(ELSEWHERE)
    });
    let found: Vec<String> = own
        .flat_map(|path| {
            let text = fs::read_to_string(path).expect("text");
            let library = text.split("#[cfg(test)]\nmod ").next().unwrap_or_default();
            retired(path, library, false)
        })
        .collect();
    assert!(found.is_empty(), "{}", found.join("\n"));
}

#[test]
fn no_retired_phrase_in_what_is_printed() {
    // Names of parts in the chains of the tests.
    let others = [" bodies"];
    let printed = below("tests/golden");
    let printed = printed
        .iter()
        .filter(|path| path.extension().is_some_and(|e| e != "rs"));
    let found: Vec<String> = printed
        .flat_map(|path| {
            let text = fs::read_to_string(path).expect("text");
            retired(path, &text, true)
        })
        .filter(|line| {
            !others
                .iter()
                .any(|phrase| line.contains(&format!("\"{phrase}\"")))
        })
        .collect();
    assert!(found.is_empty(), "{}", found.join("\n"));
}
