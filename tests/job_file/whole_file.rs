//! Files that are hostile as a whole.

use crate::edit::{DEMO, NAME, bad, changed, good, only_fault, told};
use evenrun::job::fault::{FaultKind, MOST_FAULTS};
use evenrun::job::{read, read_bytes};
use std::fmt::Write as _;

fn alone(text: &str, expected: &str) {
    let faults = bad(text);
    assert_eq!(faults.to_string(), expected);
}

#[test]
fn an_empty_file() {
    let expected = "job.toml:1:1: the file is empty. \
                    Write a job: `schema = 1`, a title, tapes, supplies, places, zones and runs";
    for text in ["", " \r\n\n", "\u{feff}", "\u{feff}\n"] {
        alone(text, expected);
    }
}

#[test]
fn a_file_with_nothing_but_its_version() {
    let faults = bad("schema = 1\n");
    let text = faults.to_string();
    for kind in ["strip", "supply", "place", "zone", "run"] {
        assert!(
            text.contains(&format!(
                "{kind} is missing: the job has none. Write at least one [[{kind}]]"
            )),
            "{text}"
        );
    }
    assert!(
        text.contains("title is missing. Write what the job is called"),
        "{text}"
    );
}

#[test]
fn byte_order_mark_and_line_endings() {
    let usual = good(DEMO);
    assert_eq!(good(&format!("\u{feff}{DEMO}")), usual);
    let windows = DEMO.replace('\n', "\r\n");
    assert_eq!(good(&windows), usual);
    assert_eq!(good(&format!("\u{feff}{windows}")), usual);
    // Lines and columns count the same.
    let broken = |text: &str| bad(&text.replace("\"11.4 m\"", "11.4")).to_string();
    assert_eq!(broken(&windows), broken(DEMO));
    assert_eq!(broken(&format!("\u{feff}{DEMO}")), broken(DEMO));
}

#[test]
fn other_encodings() {
    let mut wide = vec![0xff, 0xfe];
    wide.extend(DEMO.encode_utf16().flat_map(u16::to_le_bytes));
    let faults = read_bytes(&wide, NAME).unwrap_err();
    assert_eq!(
        faults.to_string(),
        "job.toml:1:1: the file is written in UTF-16. Save it as UTF-8"
    );
    // A degree sign of another encoding in the midst of UTF-8.
    let at = DEMO.find('°').unwrap();
    let mut mixed = DEMO.as_bytes()[..at].to_vec();
    mixed.push(0xb0);
    mixed.extend(&DEMO.as_bytes()[at + 2..]);
    let faults = read_bytes(&mixed, NAME).unwrap_err();
    let line = DEMO[..at].matches('\n').count() + 1;
    let column = at - DEMO[..at].rfind('\n').unwrap();
    assert_eq!(
        faults.to_string(),
        format!(
            "job.toml:{line}:{column}: the byte 0xb0 is not UTF-8 text. \
             Save the file as UTF-8: it may mix two encodings"
        )
    );
}

#[test]
fn a_line_of_ten_megabytes() {
    let text = format!("schema = 1\ntitle = \"{}\"\n", "x".repeat(10 << 20));
    alone(
        &text,
        "job.toml:2:1: the line has 10485771 bytes, more than the 65536 that are read. Break it",
    );
    let text = "#\n".repeat(9 << 20);
    alone(
        &text,
        "job.toml: the file has 18874368 bytes, more than the 16777216 that are read. Split the job",
    );
}

#[test]
fn brackets_a_hundred_thousand_deep() {
    for open in ["[", "{a=", "[\n", "{a=[", "{a=\n"] {
        let text = format!("x = {}", open.repeat(100_000 / open.len().min(2)));
        let faults = bad(&text);
        assert!(
            faults
                .to_string()
                .contains("brackets stand more than 12 deep")
                || faults.to_string().contains("the line has"),
            "{open}: {faults}"
        );
    }
    let short = format!("schema = 1\nx = {}", "[".repeat(30_000));
    alone(
        &short,
        "job.toml:2:17: brackets stand more than 12 deep. Close the brackets before: a job needs four",
    );
    for key in ["a.".repeat(20_000), "\"a\".".repeat(10_000)] {
        alone(
            &format!("{key}b = 1"),
            &format!(
                "job.toml:1:{}: a key has more than 4 dots. \
                 Write tables as `[name]`: keys of a job have no dots",
                if key.starts_with('"') { 20 } else { 10 }
            ),
        );
    }
    // Brackets inside text and comments are text.
    good(&changed(
        "title = \"Archive wing",
        &format!("# {}\ntitle = \"{}", "[".repeat(1000), "[".repeat(20)),
    ));
}

#[test]
fn text_over_several_lines() {
    let (_, fault) = only_fault("schema = 1\ntitle = \"\"\"a\nb\"\"\"\n");
    assert_eq!(
        fault.to_string(),
        "text over several lines is not read. \
         Write it on one line, between single quotation marks of either kind"
    );
}

#[test]
fn a_newer_layout_is_not_guessed_at() {
    alone(
        &changed("schema = 1", "schema = 2\nnew_key = true"),
        &format!(
            "job.toml:{}:10: schema is 2, newer than the 1 that this version reads. \
             Use a newer version of the program",
            DEMO[..DEMO.find("schema").unwrap()].matches('\n').count() + 1
        ),
    );
    told(
        "schema = 1",
        "schema = \"1\"",
        "schema is the text \"1\". Write 1",
    );
    told("schema = 1", "schema = 0", "schema is 0. Write 1");
    let (_, fault) = only_fault(&changed("schema = 1\n", ""));
    assert_eq!(fault.to_string(), "schema is missing. Write 1");
}

#[test]
fn keys_that_stand_twice() {
    told(
        "room = \"foyer, long wall\"",
        "room = \"foyer, long wall\"\nroom = \"elsewhere\"",
        "the key `room` is given twice in one table. Keep one of them",
    );
    told(
        "[costs]",
        "[limits]\n[costs]",
        "the key `limits` is given twice in one table. Keep one of them",
    );
}

#[test]
fn text_that_is_not_toml() {
    let (line, fault) = only_fault(&changed("\"11.4 m\"", "11.4 m"));
    assert_eq!(fault.kind, FaultKind::Syntax);
    assert!(
        fault.to_string().starts_with("this is not TOML at `"),
        "{fault}"
    );
    let expected = DEMO[..DEMO.find("\"11.4 m\"").unwrap()]
        .matches('\n')
        .count()
        + 1;
    assert_eq!(line, expected);
    // Faults of writing and of meaning are told together, in the order of the file.
    let text = changed("\"11.4 m\"", "11.4 m").replace("\"8.08 m\"", "8.08");
    let faults = bad(&text);
    let kinds: Vec<FaultKind> = faults.faults().iter().map(|fault| fault.kind).collect();
    assert_eq!(
        kinds,
        [
            FaultKind::Syntax,
            FaultKind::BareNumber,
            FaultKind::BareNumber
        ],
        "{faults}"
    );
}

#[test]
fn ten_thousand_faults_at_once() {
    let mut text = String::from("schema = 1\ntitle = \"many\"\n");
    for number in 0..10_000 {
        let _ = writeln!(
            text,
            "[[run]]\nname = \"r{number}\"\nzone = \"nowhere\"\nroom = 1"
        );
    }
    let faults = bad(&text);
    assert_eq!(faults.faults().len(), MOST_FAULTS);
    // Each run: room and path; and the lists that are not there, that of the zones too, once for all.
    assert!(faults.count() >= 20_000, "{}", faults.count());
    let text = faults.to_string();
    assert_eq!(text.lines().count(), MOST_FAULTS + 1);
    assert!(
        text.ends_with(&format!(
            "and {} more: {} faults in all, the first 200 are shown",
            faults.count() - 200,
            faults.count()
        )),
        "{text}"
    );
    // In the order of the file.
    let places: Vec<_> = faults
        .faults()
        .iter()
        .filter_map(|fault| fault.place)
        .collect();
    assert!(places.is_sorted());
}

#[test]
fn ten_thousand_lines_of_rubbish() {
    for rubbish in [
        "= = =\n",
        "[[\n",
        "a = \"\n",
        "]]}}\n",
        "\\\u{1}\n",
        "a.b.c = [,]\n",
    ] {
        let faults = bad(&rubbish.repeat(10_000));
        assert!(faults.count() > 0, "{rubbish:?}");
        assert!(faults.faults().len() <= MOST_FAULTS);
    }
}

#[test]
fn lists_where_tables_are_needed_and_the_other_way_round() {
    let faults =
        bad("schema = 1\ntitle = []\nrun = 3\nzone = [1, \"x\"]\nlimits = [1]\ncosts = {}\n");
    let text = faults.to_string();
    for says in [
        "job.toml:2:9: title is a list, where text is needed",
        "job.toml:3:7: run is the number 3, where a table [[run]] is needed",
        "job.toml:4:9: zone 1: is the number 1, where a table [[zone]] is needed",
        "job.toml:4:12: zone 2: is the text \"x\", where a table [[zone]] is needed",
        "job.toml:5:10: limits: is a list, where a table [limits] is needed",
    ] {
        assert!(text.contains(says), "{says}\n{text}");
    }
}

#[test]
fn faults_are_an_error_that_travels() {
    fn travels<E: std::error::Error + Send + Sync + 'static>(_: &E) {}
    let faults = read("", NAME).unwrap_err();
    travels(&faults);
    assert_eq!(faults.file(), NAME);
}

#[test]
fn ten_thousand_identical_runs() {
    let start = DEMO.find("[[run]]\nname = \"W1\"").unwrap();
    let end = start + DEMO[start..].find("\n\n").unwrap();
    let run = &DEMO[start..end];
    let mut text = DEMO.to_string();
    for number in 0..10_000 {
        text.push('\n');
        text.push_str(&run.replace("\"W1\"", &format!("\"many {number}\"")));
        text.push('\n');
    }
    let job = good(&text);
    assert_eq!(job.runs().len(), 10_009);
}

#[test]
fn megabytes_of_rubbish() {
    let faults = bad(&"=\n".repeat(1 << 20));
    assert_eq!(faults.count(), 1, "of a large file only the first is told");
    assert!(
        faults
            .to_string()
            .starts_with("job.toml:1:1: this is not TOML"),
        "{faults}"
    );
    let faults = bad(&format!("schema = 1\n{}", "[[run]]\n".repeat(200_000)));
    assert!(
        faults
            .to_string()
            .contains("run stands 200000 times. Split the job: at most 20000 are read"),
        "{faults}"
    );
}
