//! Where the examples write: a set that is whole or not there, a stream that is full, a reader that left, a terminal.

use crate::plan::{folder, screen};
use crate::{chain, compare, plan, root, rules, send, trade_off, wire};
use std::fs;
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};

/// A folder of its own for one test, empty.
fn place(name: &str) -> PathBuf {
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR"))
        .join("outputs")
        .join(format!("{name}.{}", std::process::id()));
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).expect("a folder");
    folder
}

/// What stands in a folder, sorted.
fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).expect("a folder");
    let mut names: Vec<String> = entries
        .map(|entry| {
            entry
                .expect("an entry")
                .file_name()
                .to_string_lossy()
                .into_owned()
        })
        .collect();
    names.sort();
    names
}

fn set(fingerprint: &str, words: &str) -> Vec<(String, String)> {
    let sheet =
        format!("\"run\",\"room\"\n\"{words}\",\"x\"\n\"fingerprint {fingerprint}\",\"\"\n");
    vec![
        ("plan.txt".to_string(), words.to_string()),
        ("runs.csv".to_string(), sheet),
    ]
}

fn page(folder: &Path) -> String {
    fs::read_to_string(folder.join("plan.txt")).expect("the page of a set")
}

#[test]
fn a_set_is_whole_or_as_it_was() {
    let here = place("whole");
    let out = here.join("set");
    assert_eq!(
        folder::write(&out, "aaaaaaaaaa", &set("aaaaaaaaaa", "first"), false),
        Ok(None)
    );
    let mut broken = set("aaaaaaaaaa", "second");
    broken.push(("no such folder/late.csv".to_string(), String::new()));
    let why = folder::write(&out, "aaaaaaaaaa", &broken, false).unwrap_err();
    assert!(
        why.contains("no such folder/late.csv: No such file"),
        "the file is named: {why}"
    );
    assert_eq!(
        (page(&out).as_str(), names(&here)),
        ("first", vec!["set".to_string()])
    );
    // The same fingerprint takes its place, and nothing is left beside it.
    assert_eq!(
        folder::write(&out, "aaaaaaaaaa", &set("aaaaaaaaaa", "third"), false),
        Ok(None)
    );
    assert_eq!(
        (page(&out).as_str(), names(&here)),
        ("third", vec!["set".to_string()])
    );
}

#[test]
fn a_set_of_another_fingerprint_is_kept_unless_forced() {
    let here = place("kept");
    let out = here.join("set");
    for (fingerprint, words, force, kept) in [
        ("aaaaaaaaaa", "one", false, None),
        ("bbbbbbbbbb", "two", false, Some("set.aaaaaaaa")),
        ("aaaaaaaaaa", "three", false, Some("set.bbbbbbbb")),
        ("bbbbbbbbbb", "four", false, Some("set.aaaaaaaa-2")),
        ("cccccccccc", "five", true, None),
    ] {
        let told = folder::write(&out, fingerprint, &set(fingerprint, words), force);
        assert_eq!(told, Ok(kept.map(|name| here.join(name))), "{words}");
        assert_eq!(page(&out), words);
    }
    assert_eq!(
        names(&here),
        ["set", "set.aaaaaaaa", "set.aaaaaaaa-2", "set.bbbbbbbb"]
    );
    assert_eq!(page(&here.join("set.aaaaaaaa-2")), "three");
}

#[test]
fn what_is_no_set_is_not_touched() {
    let here = place("foreign");
    let files = set("aaaaaaaaaa", "new");
    let own = here.join("own");
    fs::create_dir(&own).unwrap();
    fs::write(own.join("letter.txt"), "mine").unwrap();
    let why = folder::write(&own, "aaaaaaaaaa", &files, true).unwrap_err();
    assert!(
        why.ends_with("own: holds files and is no set of schedules; name a new folder"),
        "{why}"
    );
    assert_eq!(names(&own), ["letter.txt"]);
    let file = own.join("letter.txt");
    let why = folder::write(&file, "aaaaaaaaaa", &files, true).unwrap_err();
    assert!(
        why.ends_with("letter.txt: is no folder; name another"),
        "{why}"
    );
    let empty = here.join("empty");
    fs::create_dir(&empty).unwrap();
    assert_eq!(folder::write(&empty, "aaaaaaaaaa", &files, false), Ok(None));
    assert_eq!(
        folder::write(&here.join("a/b/deep"), "aaaaaaaaaa", &files, false),
        Ok(None)
    );
    assert_eq!(page(&here.join("a/b/deep")), "new");
}

#[cfg(unix)]
#[test]
fn nothing_follows_a_link_out_of_the_folder() {
    use std::os::unix::fs::symlink;
    let here = place("links");
    let elsewhere = here.join("elsewhere.txt");
    fs::write(&elsewhere, "untouched").unwrap();
    let out = here.join("set");
    folder::write(&out, "aaaaaaaaaa", &set("aaaaaaaaaa", "one"), false).unwrap();
    // A link where a page is to be written, as somebody may leave it there.
    fs::remove_file(out.join("plan.txt")).unwrap();
    symlink(&elsewhere, out.join("plan.txt")).unwrap();
    let why = folder::write(&out, "aaaaaaaaaa", &set("aaaaaaaaaa", "two"), false).unwrap_err();
    assert!(
        why.contains("holds more than a set and was not removed"),
        "{why}"
    );
    assert_eq!(
        (
            page(&out).as_str(),
            fs::read_to_string(&elsewhere).unwrap().as_str()
        ),
        ("two", "untouched")
    );
    assert!(
        !fs::symlink_metadata(out.join("plan.txt"))
            .unwrap()
            .is_symlink()
    );
    // A link in the place of the folder.
    let link = here.join("link");
    symlink(&out, &link).unwrap();
    let why = folder::write(&link, "aaaaaaaaaa", &set("aaaaaaaaaa", "three"), true).unwrap_err();
    assert!(
        why.ends_with("link: is a link; name the folder that it leads to"),
        "{why}"
    );
    assert_eq!(page(&out), "two");
}

#[test]
fn every_sheet_carries_the_fingerprint_in_its_last_row() {
    let file = root().join("tests/jobs/one_run.toml");
    let job = evenrun::job::read(&fs::read_to_string(file).unwrap(), "one_run.toml").unwrap();
    let design = evenrun::plan::plan(&job);
    let mut sheets = 0;
    for (name, content) in evenrun::report::files(&design) {
        if name.ends_with(".csv") {
            let last = content.lines().next_back().unwrap_or_default();
            let row = format!("\"fingerprint {}\"", design.job.fingerprint.0);
            assert!(last.starts_with(&row), "{name}: {last}");
            sheets += 1;
        }
    }
    assert!(sheets > 20, "{sheets}");
}

/// A stream that takes nothing.
struct Full(ErrorKind);

impl Write for Full {
    fn write(&mut self, _: &[u8]) -> io::Result<usize> {
        Err(self.0.into())
    }
    fn flush(&mut self) -> io::Result<()> {
        Err(self.0.into())
    }
}

#[test]
fn what_cannot_be_written_is_an_error_and_a_reader_that_left_is_none() {
    let job = root()
        .join("tests/jobs/one_run.toml")
        .to_string_lossy()
        .into_owned();
    let words = |words: &[&str]| {
        words
            .iter()
            .map(ToString::to_string)
            .collect::<Vec<_>>()
            .into_iter()
    };
    for (kind, code, says) in [
        (
            ErrorKind::StorageFull,
            2,
            "standard output: no storage space\n",
        ),
        (ErrorKind::BrokenPipe, 0, ""),
    ] {
        let out = || Full(kind);
        let mut none = Vec::new();
        let ended = [
            ("plan", plan::run(words(&[&job]), &mut out(), &mut none)),
            (
                "plan --json",
                plan::run(words(&[&job, "--json"]), &mut out(), &mut none),
            ),
            (
                "plan --help",
                plan::run(words(&["--help"]), &mut out(), &mut none),
            ),
            (
                "compare",
                compare::run(words(&[&job]), &mut out(), &mut none),
            ),
            (
                "trade_off",
                trade_off::run(words(&[&job, "--run", "T1"]), &mut out(), &mut none),
            ),
            ("chain", chain::run(words(&[]), &mut out(), &mut none)),
            (
                "wire",
                wire::run(
                    words(&["25 ft", "4 A", "24 V", "3 %"]),
                    &mut out(),
                    &mut none,
                ),
            ),
            ("rules", rules::run(words(&[]), &mut out(), &mut none)),
            ("send", send::run(words(&["--help"]), &mut out(), &mut none)),
        ];
        for (name, ended) in ended {
            let mut err = Vec::new();
            assert_eq!(screen::code(ended, &mut err), code, "{name}");
            assert_eq!(String::from_utf8_lossy(&err), says, "{name}");
        }
    }
}

/// Every example answers `--help` on standard output, and what it does not know on standard error with exit code 2.
#[test]
fn every_example_is_asked_alike() {
    type Run<'a> = &'a dyn Fn(&[&str], &mut Vec<u8>, &mut Vec<u8>) -> io::Result<u8>;
    let owned = |words: &[&str]| {
        let words: Vec<String> = words.iter().map(ToString::to_string).collect();
        words.into_iter()
    };
    let all: [(&str, Run<'_>); 7] = [
        ("plan", &|words, out, err| plan::run(owned(words), out, err)),
        ("compare", &|words, out, err| {
            compare::run(owned(words), out, err)
        }),
        ("trade_off", &|words, out, err| {
            trade_off::run(owned(words), out, err)
        }),
        ("chain", &|words, out, err| {
            chain::run(owned(words), out, err)
        }),
        ("wire", &|words, out, err| wire::run(owned(words), out, err)),
        ("rules", &|words, out, err| {
            rules::run(owned(words), out, err)
        }),
        ("send", &|words, out, err| send::run(owned(words), out, err)),
    ];
    for (name, run) in all {
        let (mut out, mut err) = (Vec::new(), Vec::new());
        assert_eq!(
            run(&["--help"], &mut out, &mut err).expect("written"),
            0,
            "{name}"
        );
        let help = String::from_utf8(out).expect("text");
        assert!(
            help.contains(&format!("Usage: {name}")) && err.is_empty(),
            "{help}"
        );
        assert!(!help.contains('\u{1b}'), "{help}");
        let (mut out, mut err) = (Vec::new(), Vec::new());
        assert_eq!(
            run(&["--nothing-so"], &mut out, &mut err).expect("written"),
            2,
            "{name}"
        );
        let says = String::from_utf8(err).expect("text");
        assert!(says.contains("--nothing-so") && out.is_empty(), "{says}");
    }
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let ended = trade_off::run(owned(&[]), &mut out, &mut err).expect("written");
    let says = String::from_utf8(err).expect("text");
    assert!(
        ended == 2 && says.contains("--run with one of C1, C2"),
        "{says}"
    );
}

#[test]
fn a_source_must_carry_its_load() {
    for (source, says) in [
        (
            "-1 A",
            "source: -1 A is less than the load, 4 A; state the most that the supply can give",
        ),
        ("0 A", "source: 0 A is less than the load, 4 A"),
        ("3.9 A", "source: 3.9 A is less than the load, 4 A"),
    ] {
        let source = format!("source={source}");
        let words = ["25 ft", "4 A", "24 V", "3 %", &source]
            .map(String::from)
            .to_vec();
        let mut err = Vec::new();
        let code = wire::run(words.into_iter(), &mut Vec::new(), &mut err).unwrap();
        let err = String::from_utf8(err).unwrap();
        assert!(code == 2 && err.starts_with(says), "{err}");
    }
}

#[test]
fn nothing_that_acts_on_a_terminal_reaches_it() {
    let mut screen = screen::Screen(Vec::new());
    write!(screen, "\u{1b}[2JSüd ½ é\n\u{202e}x\u{85}\r\t").unwrap();
    let shown = String::from_utf8(screen.0).unwrap();
    assert_eq!(
        shown,
        "\u{fffd}[2JSüd ½ é\n\u{fffd}x\u{fffd}\u{fffd}\u{fffd}"
    );
    let json = "{\"a\":\"\u{202e}b\u{7f}\"}";
    let cleaned = screen::clean_json(json);
    assert_eq!(cleaned, "{\"a\":\"\\u202eb\\u007f\"}");
    let same = |text: &str| serde_json::from_str::<serde_json::Value>(text).unwrap();
    assert_eq!(same(&cleaned), same(json));
    // A file that is not there, under a name that would colour the screen.
    let mut err = screen::Screen(Vec::new());
    let ended = plan::run(
        vec!["\u{1b}[31m.toml".to_string()].into_iter(),
        &mut Vec::new(),
        &mut err,
    );
    assert_eq!(ended.unwrap(), 2);
    assert!(!String::from_utf8(err.0).unwrap().contains('\u{1b}'));
}
