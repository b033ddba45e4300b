//! Every source: one constant a document, one edition each, newer ones noted, its standing said.

use evenrun::job::spec::LimitKey;
use evenrun::protect::{STOCKED, STOCKED_AMPS};
use evenrun::source::{Source, SourceKind, Standing, documents};
use evenrun::{cable, plan, protect, rules};
use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

const EDITIONS: &str = include_str!("../reference/devices/editions.csv");
const FUSES: &str = include_str!("../reference/devices/fuse_ratings.csv");

/// The sources of rules, tables, limits taken when the job is silent, and of the demonstration's plan.
fn every() -> Vec<Source> {
    let mut all: Vec<Source> = rules::all().map(|rule| rule.source.clone()).collect();
    let tables = [cable::tables::all(), protect::tables::all()].concat();
    all.extend(tables.into_iter().map(|table| table.source));
    all.extend(LimitKey::ALL.iter().map(|key| key.source()));
    all.push(STOCKED);
    let text = fs::read_to_string("examples/archive_wing.toml").expect("the demonstration");
    let job = evenrun::job::read(&text, "archive_wing.toml").expect("a job");
    all.extend(plan::plan(&job).sources().into_iter().cloned());
    all.sort();
    all.dedup();
    all
}

fn is_document(source: &Source) -> bool {
    matches!(
        source.kind,
        SourceKind::Standard | SourceKind::Handbook | SourceKind::Paper
    )
}

/// The name by which a standard is called: what stands before the first comma or bracket of its title.
fn name(title: &str) -> &str {
    title.split([',', '(']).next().unwrap_or_default().trim()
}

#[test]
fn one_constant_and_one_edition_a_document() {
    let mut names = BTreeSet::new();
    for document in documents::ALL {
        assert!(
            names.insert(name(document.title)),
            "{} twice",
            document.title
        );
        let dated = document.edition.bytes().any(|byte| byte.is_ascii_digit());
        let reason = ["edition not named where it is quoted", "no editions"];
        assert!(
            dated || reason.contains(&document.edition),
            "{}: no edition, and no reason",
            document.title
        );
    }
    assert!(names.len() >= 30, "{}", names.len());
}

#[test]
fn every_source_is_of_a_listed_document_and_of_its_edition() {
    let all = every();
    let cited = all.iter().filter(|source| is_document(source));
    let mut count = 0;
    for source in cited {
        let document = documents::of(source)
            .unwrap_or_else(|| panic!("{source}: its document is not in `documents`"));
        assert_eq!(source.edition, document.edition, "{source}");
        assert!(!source.clause.is_empty(), "{source}: no clause");
        count += 1;
    }
    assert!(count >= 40, "{count} sources are of documents");
    for source in all.iter().filter(|source| !is_document(source)) {
        assert_ne!(source.standing, Standing::Quoted, "{source}");
    }
}

fn files(under: &Path, out: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(under).expect("a folder") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            files(&path, out);
        } else {
            out.push(path);
        }
    }
}

/// Files of the crate below these folders, with their text where it is text.
fn texts(folders: &[&str]) -> Vec<(PathBuf, String)> {
    let mut paths = Vec::new();
    for folder in folders {
        files(Path::new(folder), &mut paths);
    }
    paths.sort();
    let read = |path: PathBuf| fs::read_to_string(&path).ok().map(|text| (path, text));
    paths.into_iter().filter_map(read).collect()
}

/// Title and edition stand in one file.
#[test]
fn no_other_file_names_a_document() {
    for (path, text) in texts(&["src"]) {
        if path.starts_with("src/source") || path == Path::new("src/source.rs") {
            continue;
        }
        for made in ["Source::standard(", "Source::handbook(", "Source::paper("] {
            let found = text.contains(made);
            assert!(!found, "{}: cite by `documents`", path.display());
        }
    }
}

/// The year that follows `name` and `between` in a text, wherever it does.
fn years<'a>(text: &'a str, name: &str) -> Vec<&'a str> {
    let starts = text.match_indices(name).map(|(at, _)| at + name.len());
    let after = starts.filter_map(|at| text.get(at..));
    after
        .filter_map(|rest| rest.strip_prefix([':', '-']))
        .filter_map(|rest| rest.get(..4))
        .filter(|year| year.bytes().all(|byte| byte.is_ascii_digit()))
        .collect()
}

#[test]
fn no_text_names_another_edition() {
    let mut seen = 0;
    for (path, text) in texts(&["src"]) {
        if path == Path::new("src/source/documents.rs") {
            continue;
        }
        for document in documents::ALL {
            let called = match document.title {
                "National Electrical Code" => "NFPA 70",
                title => name(title),
            };
            for year in years(&text, called) {
                seen += 1;
                assert!(
                    document.edition.contains(year),
                    "{}: {called} of {year}, and {} is held to",
                    path.display(),
                    document.edition
                );
            }
        }
    }
    assert!(seen >= 20, "{seen} editions named in passing");
}

#[test]
fn newer_editions_are_noted() {
    let mut noted = 0;
    for row in csv::Reader::from_reader(EDITIONS.as_bytes()).records() {
        let row = row.expect("a row");
        let (standard, newest, status) = (&row[0], &row[1], &row[3]);
        let called = match standard {
            "NFPA 70" => "National Electrical Code",
            "USITT requirements" => "USITT requirements for DMX512 data cable",
            other => other,
        };
        let Some(document) = documents::ALL.iter().find(|d| name(d.title) == called) else {
            continue;
        };
        if status != "seen" || newest.is_empty() {
            continue;
        }
        let years: Vec<&str> = newest
            .split(|c: char| !c.is_ascii_alphanumeric())
            .filter(|word| word.len() == 4 && word.bytes().all(|b| b.is_ascii_digit()))
            .collect();
        let known = format!("{} {}", document.edition, document.newer);
        let first = years.first().copied().unwrap_or(newest);
        assert!(
            known.contains(first),
            "{standard}: {newest} is known; here {known}"
        );
        noted += usize::from(!document.newer.is_empty());
    }
    assert!(noted >= 10, "{noted} newer editions noted");
    assert!(documents::NEC.newer.starts_with("2026"));
    assert!(documents::IEC_60228.newer.starts_with("2023"));
    assert!(documents::IEC_60364_4_43.newer.starts_with("2023"));
    assert!(documents::E1_11.newer.starts_with("2024"));
    assert!(documents::E1_20.newer.starts_with("2025"));
    assert!(documents::E1_31.newer.starts_with("2025"));
}

/// What a plan prints: the standing in words, and the newer edition beside the one used.
#[test]
fn a_plan_says_what_is_quoted_and_what_is_newer() {
    let text = fs::read_to_string("examples/archive_wing.toml").expect("the demonstration");
    let job = evenrun::job::read(&text, "archive_wing.toml").expect("a job");
    let design = plan::plan(&job);
    let page = evenrun::report::text(&design, 240);
    let said = page.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(said.contains("quoted by other documents"), "the tally");
    let cited = design.sources();
    let newer = cited.iter().filter_map(|source| documents::of(source));
    let newer: BTreeSet<&str> = newer.map(|document| document.newer).collect();
    assert!(newer.len() >= 3, "{newer:?}");
    for edition in newer
        .iter()
        .filter_map(|newer| newer.split([' ', ';']).next())
    {
        assert!(said.contains(edition), "{edition} is not printed");
    }
    assert!(said.contains("quoted chain-unit-loads"), "a quoted clause");
    assert!(
        said.contains("from memory conductor-protected"),
        "one from memory"
    );
}

/// Fuses: IEC 60127-2 and ISO 8820-3, not a habit.
#[test]
fn every_proposed_rating_is_a_standard_one() {
    assert_eq!(STOCKED.kind, SourceKind::Standard);
    let mut rows = csv::Reader::from_reader(FUSES.as_bytes());
    let standard: Vec<f64> = rows
        .records()
        .map(|row| row.expect("a row"))
        .filter(|row| &row[4] == "seen")
        .map(|row| row[3].parse().expect("amps"))
        .collect();
    assert!(standard.len() >= 50, "{}", standard.len());
    for rating in STOCKED_AMPS {
        assert!(
            standard.contains(rating),
            "{rating} A is in neither standard"
        );
    }
}

/// What has a standard is cited by it.
#[test]
fn what_has_a_standard_is_no_common_practice() {
    let tape = LimitKey::CurrentTolerance.source().to_string();
    assert!(tape.starts_with("IEC 62717"), "{tape}");
    let cells = LimitKey::CellHot.source().to_string();
    assert!(cells.starts_with("assumption of this library"), "{cells}");
    let live = rules::all().find(|rule| rule.id == "feed-from-two-supplies");
    let live = live.or_else(|| rules::all().find(|rule| rule.source.title.contains("60364-4-46")));
    let live = live
        .expect("a rule on what two supplies feed")
        .source
        .to_string();
    assert!(live.starts_with("IEC 60364-4-46"), "{live}");
}

/// A source says what a figure stands on, not how it was come by.
#[test]
fn no_word_about_how_facts_were_gathered() {
    // Put together, so that this file does not hold them.
    let words = [
        ["stored", "page"],
        ["stored", "pages"],
        ["stored", "text"],
        ["stored 2023", "text"],
        ["stored", "copy"],
        ["copy", "read"],
        ["copies", "read"],
        ["not", "at hand"],
    ];
    let folders = ["src", "tests", "examples", "benches"];
    let mut all = texts(&folders);
    for page in ["README.md", "DEVELOPERS.md", "CHANGELOG.md"] {
        all.push((page.into(), fs::read_to_string(page).expect("a page")));
    }
    let mut found = Vec::new();
    // What programs print is made again from these.
    all.retain(|(path, _)| !path.starts_with("tests/golden"));
    for (path, text) in &all {
        for pair in words {
            let phrase = pair.join(" ");
            let ends = |at: usize| {
                let next = text[at + phrase.len()..].chars().next();
                next.is_none_or(|c| !c.is_alphanumeric())
            };
            if text.match_indices(&phrase).any(|(at, _)| ends(at)) {
                found.push(format!("{}: {phrase}", path.display()));
            }
        }
    }
    assert!(found.is_empty(), "{}", found.join("\n"));
}
