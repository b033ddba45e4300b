//! A run that cannot be fed: the one cause that is true is named, and no other.

use super::said_by;
use evenrun::{job, plan, rules};

const JOB: &str = include_str!("../jobs/twelve_volt.toml");
const DECODER: &str = "3 outputs, 4 A each";

/// A case, the change that brings it about, words that must be said.
type Told = (
    &'static str,
    Box<dyn Fn(&str) -> String>,
    &'static [&'static str],
);

/// What is said of the run P3 after a change of the job.
fn told(edit: impl Fn(&str) -> String) -> (String, String) {
    let text = edit(JOB);
    assert!(text != JOB, "nothing was changed");
    let job = job::read(&text, "job.toml").unwrap_or_else(|faults| panic!("{faults}"));
    let design = plan::plan(&job);
    let found = said_by(&design, "feed-problem");
    let of_run: Vec<_> = found
        .iter()
        .filter(|finding| rules::line(finding).contains("P3"))
        .collect();
    assert_eq!(of_run.len(), 1, "one cause: {found:#?}");
    (of_run[0].case.clone(), rules::line(of_run[0]))
}

#[test]
fn the_cause_that_is_true_is_named() {
    let swap = |from: &'static str, to: &'static str| move |text: &str| text.replace(from, to);
    let cases: [Told; 8] = [
        (
            "no-supply",
            Box::new(|text: &str| supply(text, "12.2 V", "24 V")),
            &["no supply of the job has the voltage of its tape, 12 V"],
        ),
        (
            "supply-not-permitted",
            Box::new(|text: &str| {
                let other = extra_supply(text);
                other.replace(
                    "most_supplies = 4",
                    "most_supplies = 4\nsupplies = [\"24 V spare\"]",
                )
            }),
            &["has the voltage of its tape, 12 V, and may not be put at under the table"],
        ),
        (
            "decoder-not-permitted",
            Box::new(|text: &str| {
                let other = extra_decoder(text);
                let only = "decoders = [\"other\"]\nplaces = [\"under the table\"]";
                other
                    .replace("places = [\"under the table\"]\n", &format!("{only}\n"))
                    .replace(
                        "most_decoders = 6",
                        &format!("most_decoders = 6\ndecoders = [\"{DECODER}\"]"),
                    )
            }),
            &["no decoder may be put at under the table"],
        ),
        (
            "polarity-plus",
            Box::new(|text: &str| {
                let (before, after) = text.split_once("[[decoder]]").expect("a decoder");
                format!(
                    "{before}[[decoder]]{}",
                    after.replacen("common plus", "common minus", 1)
                )
            }),
            &[
                "its tape has a common plus and needs a decoder that switches the minus",
                "3 outputs, 4 A each at under the table switches the plus",
            ],
        ),
        (
            "decoder-volts",
            Box::new(swap(
                "low = \"5 V\", high = \"24 V\"",
                "low = \"24 V\", high = \"48 V\"",
            )),
            &["is made for 24 V to 48 V, and its tape is rated 12 V"],
        ),
        (
            "outputs",
            Box::new(swap("outputs = 3", "outputs = 2")),
            &["has 2 outputs, and its tape 3 emitters"],
        ),
        (
            "levels",
            Box::new(swap("control = \"8 bit\"", "control = \"16 bit\"")),
            &["does not take levels of 16 bit, which its zone asks for"],
        ),
        (
            "curve",
            Box::new(swap("curve = \"linear\"", "curve = \"cube\"")),
            &["cannot be set to the cube law curve, which its zone asks for"],
        ),
    ];
    for (case, edit, words) in cases {
        let (found, line) = told(edit);
        assert_eq!(found, case, "{line}");
        for word in words {
            assert!(line.contains(word), "{case}: `{word}` is not in: {line}");
        }
    }
}

/// Every supply at another voltage.
fn supply(text: &str, from: &str, to: &str) -> String {
    text.replace(
        &format!("\nvolts = \"{from}\""),
        &format!("\nvolts = \"{to}\""),
    )
}

/// One supply more, at another voltage.
fn extra_supply(text: &str) -> String {
    format!(
        "{text}\n[[supply]]\nname = \"24 V spare\"\npower = \"60 W\"\nvolts = \"24 V\"\ntolerance = \"1 %\"\noutput_current = \"2.5 A\"\n"
    )
}

/// One decoder more.
fn extra_decoder(text: &str) -> String {
    let (_, after) = text.split_once("[[decoder]]").expect("a decoder");
    let own = after.split("\n[[").next().expect("its table");
    format!("{text}\n[[decoder]]{}\n", own.replace(DECODER, "other"))
}
