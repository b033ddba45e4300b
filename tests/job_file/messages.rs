//! Every message of the job file is provoked and read: where it stands, what was found, what is accepted, what to do.
//!
//! Which messages there are is taken from the source itself: each text of `src/job/file` and `src/job/check` must turn up in
//! what one of the jobs here is told. A message that is added without a job that provokes it fails this test.

use evenrun::exact::ExactLength;
use evenrun::job::fault::{Fault, FaultKind};
use evenrun::job::spec::JobSpec;
use evenrun::job::{self, JobFaults};
use std::fs;
use std::path::Path;

const BASE: &str = include_str!("../faults/base.toml");
const FAULTS: &str = include_str!("../faults/faults.toml");
const EDITS: &str = include_str!("messages.toml");

/// Jobs that are told something and are written by a program.
fn written() -> Vec<String> {
    let swap = |from: &str, to: &str| {
        assert!(BASE.contains(from), "no {from:?} in the base");
        BASE.replacen(from, to, 1)
    };
    let cut = |from: &str, to: &str| {
        let (before, rest) = BASE.split_once(from).expect("a beginning");
        let (_, after) = rest.split_once(to).expect("an end");
        format!("{before}{to}{after}")
    };
    let many = |count: usize, entry: &str| vec![entry; count].join(",\n");
    let place = "{ place = \"cupboard\", length = \"18 m\", between = \"300 mm\" }";
    let mut out = vec![
        // No table of a kind.
        cut("[[strip]]", "[[cable]]"),
        cut("[[decoder]]", "[[profile]]"),
        cut("[[profile]]", "[[place]]"),
        cut("[[place]]", "[[zone]]"),
        cut("[[run]]", "[[universe]]"),
        BASE.split_once("[[universe]]").expect("one").0.to_string(),
        // More than is taken.
        swap(place, &many(1030, "{ device = \"d\", length = \"1 m\" }")),
        swap(
            "path = [{ straight = \"2 m\" }]",
            &format!("path = [{}]", many(2001, "{ straight = \"2 mm\" }")),
        ),
        swap(
            "routes = [{ from = \"cupboard\", to = \"start\", length = \"3 m\", basis = \"measured\" }]",
            &format!(
                "routes = [{}]",
                many(
                    2001,
                    "{ from = \"cupboard\", to = \"start\", length = \"3 m\", basis = \"measured\" }"
                )
            ),
        ),
        swap(
            "title = \"Cove and shelf\"",
            &format!("title = \"{}\"", "x".repeat(501)),
        ),
        swap(
            "schema = 1",
            &format!("schema = 1 # {}", "x".repeat(70_000)),
        ),
        format!("{BASE}\n{}", "[[profile]]\n".repeat(20_001)),
        String::new(),
    ];
    // Short jobs.
    let short = |strip: &str, more: &str| {
        format!(
            "schema = 1\ntitle = \"Shelf (invented)\"\nstrip = [{{ name = \"white\", rated = \"24 V\", cut_pitch = \"50 mm\", {strip} }}]\n\
             supply = [{{ name = \"60 W\", volts = \"24 V\", power = \"60 W\" }}]\n\
             cable = [{{ name = \"two\", size = \"1.5 mm2\" }}]\n{more}\n[[run]]\nname = \"top\"\nlength = \"2 m\"\nfeeder = \"3 m\"\n"
        )
    };
    let label = "power = \"4.8 W/m\"";
    let two = "emitters = [{ name = \"warm\", power = \"2 W/m\" }, { name = \"cool\" }]";
    out.extend([
        short(label, ""),
        short(
            "power = \"4.8 W/m\", copper = \"4 oz\"",
            "control = \"switched\"",
        ),
        short("emitters = 7", "control = \"switched\""),
        short("emitters = [\"white\"]", "control = \"switched\""),
        short(
            "power = \"4.8 W/m\", flux = \"400 lm/m\", emitters = [\"white\"]",
            "control = \"switched\"",
        ),
        short(
            &format!("power = \"2 W/m\", {two}"),
            "control = \"switched\"",
        ),
        // The zone that such a job has is said to be one of these.
        short(
            label,
            "control = \"switched\"\n[[installed]]\nname = \"old\"\nsupply = \"60 W\"\nplace = \"loft\"\nzone = \"loft\"",
        ),
        cut("[[zone]]", "[[run]]"),
        {
            let two_places = BASE.replace("places = [\"cupboard\"]", "places = [\"cupboard\", \"loft\"]")
                + "[[place]]\nname = \"loft\"\nroom = \"loft\"\nambient = \"20 °C\"\n";
            two_places.replacen(
                "routes = [{ from = \"cupboard\", to = \"start\", length = \"3 m\", basis = \"measured\" }]",
                "feeder = \"3 m\"",
                1,
            )
        },
        swap("schema = 1", "schema = 1\ncontrol = \"8 bit\""),
        swap(
            "path = [{ straight = \"2 m\" }]",
            "path = [{ straight = \"2 m\" }]\nlength = \"2 m\"",
        ),
    ]);
    let mut others = String::new();
    for number in 0..9 {
        others +=
            &format!("[[place]]\nname = \"loft {number}\"\nroom = \"loft\"\nambient = \"20 °C\"\n");
    }
    out.push(swap("places = [\"cupboard\"]", "places = [\"cellar\"]") + &others);
    out
}

/// Bytes that are no text.
fn bytes() -> Vec<Vec<u8>> {
    vec![
        b"\xff\xfes\0c\0".to_vec(),
        b"schema = 1\ntitle = \"\xe9\"\n".to_vec(),
        vec![b'#'; (16 << 20) + 1],
    ]
}

type Change = fn(&mut JobSpec);

/// Jobs that no file can write: a program builds them.
const BUILT: &[Change] = &[
    |s| s.costs.feed = u64::MAX,
    |s| s.limits.chain_devices = Some(0),
    |s| s.strips[0].cells = 0,
    |s| s.strips[0].emitters.clear(),
    |s| s.cables[0].cores = 0,
    |s| s.decoders[0].outputs = 0,
    |s| s.decoders[0].bits = 0,
    |s| s.decoders[0].curves.clear(),
    |s| s.universes[0].number = 0,
    |s| {
        s.universes.clear();
        s.chains.clear();
        s.zones.iter_mut().for_each(|zone| zone.universe = None);
    },
    |s| {
        s.zones.iter_mut().for_each(|zone| zone.cables.clear());
        s.runs.iter_mut().for_each(|run| run.cables.clear());
    },
    |s| s.universes[0].taken[0].from = 0,
    |s| s.runs[0].layout.start.cap = ExactLength::from_millimetres(-1),
    |s| {
        use evenrun::job::spec::RailSpec;
        if let RailSpec::Foil { layers, .. } = &mut s.strips[0].rails {
            *layers = 0;
        }
    },
];

/// Every fault that anything here is told, with the text it is told of.
fn provoked() -> Vec<(Option<String>, JobFaults)> {
    #[derive(serde::Deserialize)]
    struct Known {
        fault: Vec<One>,
    }
    #[derive(serde::Deserialize)]
    struct One {
        #[serde(default)]
        swap: Vec<(String, String)>,
        #[serde(default)]
        more: String,
        verdict: String,
    }
    #[derive(serde::Deserialize)]
    struct Edits {
        edits: Vec<(String, String)>,
        more: Vec<String>,
    }
    let Edits { edits, more } = toml::from_str(EDITS).expect("the edits");
    let mut texts: Vec<String> = Vec::new();
    for (from, to) in &edits {
        assert!(BASE.contains(&**from), "no {from:?} in the base");
        texts.push(BASE.replacen(&**from, to, 1));
    }
    texts.extend(more.iter().map(|more| format!("{BASE}\n{more}\n")));
    texts.extend(written());
    let known: Known = toml::from_str(FAULTS).expect("the faults");
    for one in known.fault.iter().filter(|one| one.verdict == "refused") {
        let mut text = BASE.to_string();
        for (from, to) in &one.swap {
            text = text.replacen(&**from, to, 1);
        }
        texts.push(text + &one.more);
    }
    let (mut out, mut sound) = (Vec::new(), Vec::new());
    for text in texts {
        match job::read(&text, "job.toml") {
            Ok(_) => sound.push(difference(&text)),
            Err(faults) => out.push((Some(text), faults)),
        }
    }
    assert!(sound.is_empty(), "no fault in {sound:#?}");
    for bytes in bytes() {
        out.push((
            None,
            job::read_bytes(&bytes, "job.toml").expect_err("bytes"),
        ));
    }
    let sound = job::read(BASE, "base.toml").expect("a sound job");
    for change in BUILT {
        let mut spec = sound.spec().clone();
        change(&mut spec);
        out.push((None, job::check(spec).expect_err("a fault")));
    }
    out
}

/// Where a text leaves the base job.
fn difference(text: &str) -> String {
    let mut lines = text.lines().zip(BASE.lines());
    let other = lines.find(|(own, base)| own != base);
    other.map_or_else(
        || text.lines().last().unwrap_or_default().to_string(),
        |pair| pair.0.to_string(),
    )
}

/// The texts between quotation marks of a file of source, tests and comments left out.
fn literals(source: &str) -> Vec<String> {
    let source = source.split("#[cfg(test)]").next().unwrap_or_default();
    let mut out = Vec::new();
    for line in joined(source) {
        let line = line.trim();
        if line.starts_with("//") || line.contains(".expect(") || line.contains(".contains(") {
            continue;
        }
        let (mut text, mut inside, mut escaped) = (String::new(), false, false);
        let mut before = ' ';
        for letter in line.chars() {
            match (inside, letter) {
                (false, '"') if before != '\'' => inside = true,
                (true, _) if escaped => {
                    escaped = false;
                    text.push(letter);
                }
                (true, '\\') => escaped = true,
                (true, '"') => {
                    inside = false;
                    out.push(std::mem::take(&mut text));
                }
                (true, _) => text.push(letter),
                _ => {}
            }
            before = letter;
        }
    }
    out
}

/// Lines, those that a text goes on over put together.
fn joined(source: &str) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    let mut goes_on = false;
    for line in source.lines() {
        match out.last_mut() {
            Some(last) if goes_on => {
                last.truncate(last.len() - 1);
                last.push_str(line.trim_start());
            }
            _ => out.push(line.to_string()),
        }
        goes_on = line.ends_with('\\');
    }
    out
}

/// Whether a text is a template, `is {}, below the rated {}`, that was filled in.
fn fills(text: &str, template: &str) -> bool {
    let plain = template.replace("{{", "\u{1}").replace("}}", "\u{2}");
    let mut parts: Vec<String> = Vec::new();
    for (number, part) in plain.split('{').enumerate() {
        let part = if number == 0 {
            part
        } else {
            part.split_once('}').map_or(part, |(_, rest)| rest)
        };
        parts.push(part.replace('\u{1}', "{").replace('\u{2}', "}"));
    }
    let mut rest = text;
    parts.iter().all(|part| match rest.split_once(&**part) {
        Some((_, after)) => {
            rest = after;
            true
        }
        None => part.is_empty(),
    })
}

/// Sources of the messages of a job file.
fn sources() -> Vec<(String, String)> {
    let mut out = Vec::new();
    for folder in ["src/job/check", "src/job/file"] {
        for entry in fs::read_dir(Path::new(folder)).expect("a folder") {
            let path = entry.expect("an entry").path();
            let text = fs::read_to_string(&path).expect("a source");
            out.push((path.display().to_string(), text));
        }
    }
    out.sort();
    out
}

/// What stands for faults of tape that this room has found before it asks the room of tape.
const BEFORE: &[&str] = &["Correct the figures of the strip"];

/// Nothing can be written in the source that no job is told.
#[test]
fn every_message_of_the_source_is_provoked() {
    let said: Vec<String> = provoked()
        .iter()
        .flat_map(|(_, faults)| {
            faults
                .faults()
                .iter()
                .map(ToString::to_string)
                .collect::<Vec<_>>()
        })
        .collect();
    let (mut count, mut silent) = (0, Vec::new());
    for (file, text) in sources() {
        if file.ends_with("common_words.rs") {
            continue;
        }
        for literal in literals(&text)
            .into_iter()
            .filter(|l| l.trim().contains(' '))
        {
            count += 1;
            if !BEFORE.contains(&&*literal) && !said.iter().any(|said| fills(said, &literal)) {
                silent.push(format!("{file}: {literal:?}"));
            }
        }
    }
    assert!(count > 300, "{count} texts");
    assert!(silent.is_empty(), "no job is told:\n{}", silent.join("\n"));
}

/// Words that stand for things of this library, and for nothing that a job says.
const INNER: &[&str] = &[
    "::",
    "Some(",
    "None",
    "spec",
    "Spec",
    "increment",
    "mark",
    "segment work",
    "panic",
    "index",
    "NaN",
    "inf",
];

/// What a fault lacks that a message needs.
fn lacks(fault: &Fault, text: Option<&str>) -> Vec<String> {
    let mut out = Vec::new();
    let mut say = |what: &str| out.push(what.to_string());
    let said = fault.to_string();
    match (fault.place, text) {
        (Some(place), Some(text)) => {
            let lines = text.lines().count().max(1);
            if place.line == 0 || place.line > lines {
                say("its line is not of the file");
            }
        }
        (None, Some(_)) => say("it has no line"),
        _ => {}
    }
    let of_the_file = matches!(fault.kind, FaultKind::File | FaultKind::Syntax);
    if !of_the_file && fault.subject.is_empty() && fault.field.is_empty() {
        say("it names neither table nor key");
    }
    let mends =
        !fault.remedy.is_empty() || !fault.accepted.is_empty() || !fault.suggestion.is_empty();
    let in_itself = ["write", " like \"", "accepted:", "type them"];
    if !mends && !in_itself.iter().any(|words| fault.says.contains(words)) {
        say("it says nothing of what to do");
    }
    let found = fault
        .says
        .chars()
        .any(|c| c.is_ascii_digit() || c == '`' || c == '"');
    let by_kind = match fault.kind {
        FaultKind::OutOfRange
        | FaultKind::BareNumber
        | FaultKind::Unreadable
        | FaultKind::UnknownName => found,
        FaultKind::WrongType => fault.says.starts_with("is "),
        _ => true,
    };
    if !by_kind {
        say("it does not say what was found");
    }
    for word in INNER {
        let whole = |text: &str| {
            text.split(|c: char| !c.is_alphanumeric() && c != ':' && c != '(')
                .any(|w| w == *word)
        };
        if (word.contains(':') || word.contains('(')) && said.contains(word) || whole(&said) {
            say(&format!("it speaks of `{word}`"));
        }
    }
    if said.contains("  ") || said.contains("..") || said.contains(": :") || said.ends_with('.') {
        say("its words run into each other");
    }
    out
}

/// Each message says where, what, and how to mend it.
#[test]
fn every_message_is_whole() {
    let mut wrong = Vec::new();
    let mut count = 0;
    for (text, faults) in provoked() {
        for fault in faults.faults() {
            count += 1;
            let lacks = lacks(fault, text.as_deref());
            if !lacks.is_empty() {
                wrong.push(format!("{fault}\n    {}", lacks.join("; ")));
            }
        }
    }
    wrong.sort();
    wrong.dedup();
    assert!(count > 250, "{count} messages");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
