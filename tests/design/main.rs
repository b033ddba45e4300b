//! The design as data: written, read again, printed, and what its types hold.

use evenrun::design::Design;
use evenrun::{job, plan, report, rules};
use serde_json::Value;

const JOBS: [(&str, &str); 7] = [
    ("demo", include_str!("../../examples/archive_wing.toml")),
    ("one_run", include_str!("../jobs/one_run.toml")),
    ("corner", include_str!("../jobs/corner.toml")),
    ("twelve_volt", include_str!("../jobs/twelve_volt.toml")),
    (
        "forty_eight_volt",
        include_str!("../jobs/forty_eight_volt.toml"),
    ),
    ("us_units", include_str!("../jobs/us_units.toml")),
    (
        "several_places",
        include_str!("../jobs/several_places.toml"),
    ),
];

fn design(text: &str) -> Design {
    let job = job::read(text, "job.toml").unwrap_or_else(|faults| panic!("{faults}"));
    plan::plan(&job)
}

/// JSON → design → text equals text, byte for byte, and JSON equals JSON.
#[test]
fn a_design_that_was_written_prints_the_same_bytes() {
    for (name, text) in JOBS {
        let first = design(text);
        let written = first.to_json().unwrap_or_else(|e| panic!("{name}: {e}"));
        let read = Design::from_json(&written).unwrap_or_else(|e| panic!("{name}: {e}"));
        assert_eq!(read, first, "{name}");
        assert_eq!(read.to_json().ok(), Some(written), "{name}");
        let width = report::PAGE_WIDTH;
        assert_eq!(
            report::text(&read, width),
            report::text(&first, width),
            "{name}"
        );
        assert_eq!(report::files(&read), report::files(&first), "{name}");
    }
}

/// A rule reads nothing but the design: judged again after it was written and read, it says the same.
#[test]
fn the_rules_say_the_same_of_a_design_that_was_read() {
    for (name, text) in JOBS {
        let first = design(text);
        let written = first.to_json().unwrap_or_else(|e| panic!("{name}: {e}"));
        let mut read = Design::from_json(&written).unwrap_or_else(|e| panic!("{name}: {e}"));
        let mut on_the_way = std::mem::take(&mut read.findings);
        on_the_way.retain(|f| !rules::is_judged(f.rule.as_str()));
        read.protection.clear();
        rules::judge_into(&mut read, on_the_way);
        assert_eq!(read, first, "{name}");
    }
}

/// A file of the first form still reads: `first.json` was written when the form was first published.
#[test]
fn an_older_file_still_reads() {
    let old = include_str!("first.json");
    let read = Design::from_json(old).unwrap_or_else(|e| panic!("{e}"));
    assert_eq!(read.schema, 1);
    assert_eq!(read.runs.len(), 1);
    assert!(report::text(&read, 100).contains(read.job.title.as_str()));
}

#[test]
fn a_file_that_is_no_design_says_why() {
    let one = design(JOBS[1].1).to_json().unwrap_or_default();
    let newer = one.replacen("\"schema\": 2", "\"schema\": 99", 1);
    for (text, words) in [
        ("", "EOF"),
        ("{}", "missing field `schema`"),
        ("[1, 2]", "invalid type"),
        (&*newer, "form 99"),
        (
            &one.replacen("\"V\"", "\"A\"", 1),
            "is not the unit of a voltage",
        ),
        (&one.replacen("\"nm\"", "\"mm\"", 1), "a length as"),
    ] {
        match Design::from_json(text) {
            Ok(_) => panic!("{words}: read"),
            Err(error) => {
                let error = error.to_string();
                assert!(error.contains(words), "{words}: {error}");
            }
        }
    }
}

/// No NaN is written as null, and every number stands under its unit or is a count.
#[test]
fn nothing_in_a_file_is_null_where_a_figure_belongs() {
    fn walk(value: &Value, path: &str, out: &mut Vec<String>) {
        match value {
            Value::Object(map) => {
                for (key, inner) in map {
                    walk(inner, &format!("{path}.{key}"), out);
                }
            }
            Value::Array(list) => {
                for inner in list {
                    walk(inner, path, out);
                }
            }
            Value::Number(number) if number.is_f64() => {
                let unit = path.rsplit('.').next().unwrap_or("");
                if !UNITS.contains(&unit) {
                    out.push(format!("{path}: {number}"));
                }
            }
            _ => {}
        }
    }
    const UNITS: [&str; 14] = [
        "V", "A", "W", "W/m", "ohm", "m", "m2", "K", "share", "Hz", "s", "kg", "number", "F",
    ];
    for (name, text) in JOBS {
        let written = design(text).to_json().unwrap_or_default();
        let value: Value = serde_json::from_str(&written).unwrap_or_else(|e| panic!("{name}: {e}"));
        let mut bare = Vec::new();
        walk(&value, "", &mut bare);
        assert!(bare.is_empty(), "{name}: {bare:#?}");
    }
}

/// Every text in a design is an id, a name, a note or one of a closed list: nothing that a program would have to parse.
#[cfg(feature = "schema")]
#[test]
fn no_field_is_text_that_a_program_would_have_to_parse() {
    // Names and notes in the job's or a person's words, ids, and citations: titles of documents.
    const TEXTS: [&str; 26] = [
        "Name",
        "Note",
        "Fingerprint",
        "Currency",
        "Source",
        "RunId",
        "SegmentId",
        "FeedId",
        "PieceId",
        "CableId",
        "SupplyId",
        "DecoderId",
        "ChainId",
        "UniverseId",
        "PlaceId",
        "ZoneId",
        "EmitterId",
        "DeviceId",
        "PartId",
        "StockId",
        "ProductId",
        "RuleId",
        // Texts of findings: names of the job, notes for people, and the key of a fact or case.
        "Value",
        "Fact",
        "Finding",
        "Words",
    ];
    fn walk(value: &Value, inside: &str, found: &mut Vec<String>) {
        match value {
            Value::Object(map) => {
                let closed = map.contains_key("enum") || map.contains_key("const");
                if map.get("type").is_some_and(is_text) && !closed && !TEXTS.contains(&inside) {
                    found.push(format!("{inside}: {value}"));
                }
                for (key, inner) in map {
                    if key == "$defs" {
                        if let Value::Object(defs) = inner {
                            for (name, def) in defs {
                                walk(def, name, found);
                            }
                        }
                    } else if key != "description" {
                        walk(inner, inside, found);
                    }
                }
            }
            Value::Array(list) => list.iter().for_each(|inner| walk(inner, inside, found)),
            _ => {}
        }
    }
    fn is_text(value: &Value) -> bool {
        match value {
            Value::String(text) => text == "string",
            Value::Array(all) => all.iter().any(is_text),
            _ => false,
        }
    }
    let mut found = Vec::new();
    walk(&evenrun::design::schema(), "Design", &mut found);
    assert!(found.is_empty(), "{found:#?}");
}
