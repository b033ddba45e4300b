//! Every byte that the examples print and write, for the demo and for the jobs in `tests/jobs`, against the files kept
//! beside this one.
//!
//! ```text
//! arguments ──► the example's own `run`, in this process ──► pages, and the files of --out
//!                                                                │ byte for byte
//! tests/golden/<job>/…, tests/golden/wire/…, tests/golden/chain/… ┘
//! ```
//!
//! A difference names the file and shows its first differing lines. `EVENRUN_GOLDEN=rewrite cargo test --test golden`
//! writes the files anew: read what changed before it is kept. A file too few or too many fails as well.

// The examples share the room that shows progress; here each brings its own.
#![allow(clippy::duplicate_mod)]

mod difference;
mod folder;
mod outputs;

#[allow(dead_code)]
#[path = "../../examples/chain.rs"]
mod chain;
#[allow(dead_code)]
#[path = "../../examples/compare.rs"]
mod compare;
#[allow(dead_code)]
#[path = "../../examples/plan.rs"]
mod plan;
#[allow(dead_code)]
#[path = "../../examples/rules.rs"]
mod rules;
#[allow(dead_code)]
#[path = "../../examples/send.rs"]
mod send;
#[allow(dead_code)]
#[path = "../../examples/trade_off.rs"]
mod trade_off;
#[allow(dead_code)]
#[path = "../../examples/wire/main.rs"]
mod wire;

use folder::{Pages, check};
use std::path::{Path, PathBuf};

/// Job files in `tests/jobs`, each with the run whose choices are weighed.
const JOBS: [(&str, &str); 6] = [
    ("corner", "B1"),
    ("forty_eight_volt", "E1"),
    ("one_run", "T1"),
    ("several_places", "H1"),
    ("twelve_volt", "P1"),
    ("us_units", "long bench"),
];

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// What an example printed, and how it ended.
struct Printed {
    out: Vec<u8>,
    err: Vec<u8>,
    code: u8,
}

impl Printed {
    fn by(
        arguments: &[&str],
        run: impl FnOnce(std::vec::IntoIter<String>, &mut Vec<u8>, &mut Vec<u8>) -> std::io::Result<u8>,
    ) -> Self {
        let arguments: Vec<String> = arguments.iter().map(ToString::to_string).collect();
        let (mut out, mut err) = (Vec::new(), Vec::new());
        let ended = run(arguments.into_iter(), &mut out, &mut err);
        let code = ended.expect("memory takes everything");
        Self { out, err, code }
    }

    /// The page as `name.txt`; where it was refused, why and with which code as `name.err`.
    fn keep(self, name: &str, pages: &mut Pages) {
        pages.insert(format!("{name}.txt"), self.out);
        if self.code != 0 || !self.err.is_empty() {
            let mut err = self.err;
            err.extend(format!("exit code {}\n", self.code).into_bytes());
            pages.insert(format!("{name}.err"), err);
        }
    }
}

/// Everything that `plan` prints and writes.
fn planned(case: &str, file: Option<&str>) -> Pages {
    let directory = PathBuf::from(env!("CARGO_TARGET_TMPDIR"))
        .join("golden")
        .join(format!("{case}.{}", std::process::id()));
    let _ = std::fs::remove_dir_all(&directory);
    let mut arguments: Vec<&str> = file.into_iter().collect();
    let out = directory.to_str().expect("a path in UTF-8");
    arguments.extend(["--out", out]);
    let mut pages = Pages::new();
    Printed::by(&arguments, plan::run).keep("screen", &mut pages);
    for (name, bytes) in folder::read(&directory) {
        pages.insert(format!("plan/{name}"), bytes);
    }
    std::fs::remove_dir_all(&directory).expect("the schedules were written");
    pages
}

/// The three programs that take a job.
fn job(case: &str, file: Option<&str>, choices: &[(&str, &[&str])]) {
    let compared = || {
        let arguments: Vec<&str> = file.into_iter().collect();
        Printed::by(&arguments, compare::run)
    };
    let pages = std::thread::scope(|scope| {
        let compared = scope.spawn(compared);
        let mut pages = planned(case, file);
        for (name, more) in choices {
            let arguments: Vec<&str> = file.into_iter().chain(more.iter().copied()).collect();
            let printed = Printed::by(&arguments, trade_off::run);
            printed.keep(name, &mut pages);
        }
        let compared = compared.join().expect("compare ends");
        compared.keep("compare", &mut pages);
        pages
    });
    check(case, &pages);
}

/// A job of `tests/jobs`.
fn small(name: &str) {
    let listed = JOBS.iter().find(|(job, _)| *job == name);
    let (_, run) = listed.expect("a job of the list");
    let file = root().join(format!("tests/jobs/{name}.toml"));
    let plain = ["--run", run];
    let watts = ["--run", run, "--watt", "1500", "--most", "4"];
    job(
        name,
        file.to_str(),
        &[("trade_off", &plain), ("trade_off_watts", &watts)],
    );
}

#[test]
fn archive_wing() {
    job("archive_wing", None, &[("trade_off", &["--run", "S1"])]);
}

#[test]
fn corner() {
    small("corner");
}

#[test]
fn forty_eight_volt() {
    small("forty_eight_volt");
}

#[test]
fn one_run() {
    small("one_run");
}

#[test]
fn several_places() {
    small("several_places");
}

#[test]
fn twelve_volt() {
    small("twelve_volt");
}

#[test]
fn us_units() {
    small("us_units");
}

#[test]
fn wires() {
    let lists: [(&str, &[&str]); 7] = [
        ("feet", &["25 ft", "4 A", "24 V", "3 %"]),
        (
            "metres",
            &[
                "7.5 m",
                "4 A",
                "24 V",
                "0.72 V",
                "ambient=40 °C",
                "insulation=90 °C",
                "source=20 A",
            ],
        ),
        (
            "cool_copper",
            &[
                "38 m",
                "2.5 A",
                "48 V",
                "2 %",
                "copper=45 °C",
                "insulation=60 °C",
            ],
        ),
        (
            "inches",
            &["90 in", "11 A", "12 V", "5 %", "ambient=113 °F"],
        ),
        ("no_size_keeps_it", &["900 m", "40 A", "12 V", "1 %"]),
        ("too_few_words", &["25 ft", "4 A"]),
        (
            "unknown_word",
            &["25 ft", "4 A", "24 V", "3 %", "colour=red"],
        ),
    ];
    let mut pages = Pages::new();
    for (name, arguments) in lists {
        Printed::by(arguments, wire::run).keep(name, &mut pages);
    }
    check("wire", &pages);
}

#[test]
fn chains() {
    let mut pages = Pages::new();
    Printed::by(&[], chain::run).keep("demo", &mut pages);
    let folder = root().join("tests/jobs/chains");
    for name in folder::read(&folder).keys() {
        let file = folder.join(name);
        let arguments = [file.to_str().expect("a path in UTF-8")];
        let name = name.trim_end_matches(".txt");
        Printed::by(&arguments, chain::run).keep(name, &mut pages);
    }
    check("chain", &pages);
}

/// No job and no folder of golden files stands there that nothing compares.
#[test]
fn all_are_compared() {
    let names = |folder: &str, only: &dyn Fn(&Path) -> bool| -> Vec<String> {
        let entries = std::fs::read_dir(root().join(folder)).expect("a folder");
        let paths = entries.map(|entry| entry.expect("an entry").path());
        let mut names: Vec<String> = paths
            .filter(|path| only(path))
            .filter_map(|path| Some(path.file_stem()?.to_str()?.to_string()))
            .collect();
        names.sort();
        names
    };
    let mut known: Vec<String> = JOBS.iter().map(|(job, _)| job.to_string()).collect();
    assert_eq!(names("tests/jobs", &|path| path.is_file()), known);
    if folder::rewriting() {
        // The folders may be on their way.
        return;
    }
    known.extend(["archive_wing", "chain", "wire"].map(String::from));
    known.sort();
    assert_eq!(names("tests/golden", &|path| path.is_dir()), known);
}
