//! Quick answers: the transcript, each figure again by a path that is not the one that printed it, hostile input.

#[allow(dead_code)]
#[path = "../../examples/ask/main.rs"]
mod program;

mod again;

const TRANSCRIPT: &str = "examples/ask/answers.txt";

/// What the program prints for the words of one line: standard output, then standard error.
fn asked(line: &str) -> (String, String, u8) {
    let words = split(line);
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let code = program::run(&words, &mut out, &mut err).expect("written to memory");
    let text = |bytes| String::from_utf8(bytes).unwrap_or_default();
    (text(out), text(err), code)
}

/// Words as a shell divides them: at blanks that are not within double quotes.
fn split(line: &str) -> Vec<String> {
    let mut words = vec![String::new()];
    let mut quoted = false;
    for letter in line.chars() {
        match letter {
            '"' => quoted = !quoted,
            ' ' if !quoted => words.push(String::new()),
            other => words.last_mut().expect("one word at least").push(other),
        }
    }
    words.retain(|word| !word.is_empty());
    words
}

/// The commands of the transcript give its answers; `EVENRUN_GOLDEN=rewrite` writes it again.
#[test]
fn the_transcript_is_what_the_program_prints() {
    let path = format!("{}/{TRANSCRIPT}", env!("CARGO_MANIFEST_DIR"));
    let stands = std::fs::read_to_string(&path).unwrap_or_default();
    let mut found = String::new();
    for line in stands
        .lines()
        .filter_map(|line| line.strip_prefix("$ ask "))
    {
        let (out, err, code) = asked(line);
        assert_eq!((err.as_str(), code), ("", 0), "{line}");
        assert!(out.lines().count() < 15, "{line}: {out}");
        assert!(
            out.lines().all(|l| l.chars().count() <= 100),
            "{line}: {out}"
        );
        assert!(
            out.contains("Source: ") || out.contains("Assumed: "),
            "{line}: {out}"
        );
        assert!(out.contains("not an approval"), "{line}: {out}");
        found += &format!("$ ask {line}\n{out}\n");
    }
    if std::env::var("EVENRUN_GOLDEN").as_deref() == Ok("rewrite") {
        std::fs::write(&path, found).expect("the transcript is written");
        return;
    }
    assert_eq!(found, stands, "{TRANSCRIPT} has changed");
}

/// The same answer as data.
#[test]
fn every_answer_is_data_too() {
    let stands = include_str!("../../examples/ask/answers.txt");
    for line in stands
        .lines()
        .filter_map(|line| line.strip_prefix("$ ask "))
    {
        let (out, _, code) = asked(&format!("{line} --json"));
        assert_eq!(code, 0, "{line}");
        let value: serde_json::Value = serde_json::from_str(&out).unwrap_or_default();
        assert!(value["answer"].is_object(), "{line}: {out}");
        let (text, ..) = asked(line);
        let answer = value["sheet"]["answer"].as_str().unwrap_or("none");
        assert!(
            text.replace('\n', " ").starts_with(answer),
            "{line}: {answer}"
        );
    }
}

/// Every fault of a question at once, with what is accepted; nothing panics.
#[test]
fn bad_questions_say_what_is_wrong() {
    for (line, words) in [
        (
            "reach",
            &[
                "`volts` is missing",
                "`power` is missing",
                "`cut` is missing",
            ][..],
        ),
        (
            "reach volts=24 power=\"14.4 W/m\" cut=\"50 mm\"",
            &["volts: "],
        ),
        (
            "reach volts=\"24 V\" power=\"0 W/m\" cut=\"50 mm\"",
            &["the power of the tape is 0 W/m"],
        ),
        (
            "reach volts=\"2 V\" power=\"5 W/m\" cut=\"50 mm\"",
            &["above 4 V, at most 120 V"],
        ),
        (
            "reach volts=\"24 V\" power=\"5 W/m\" cut=\"50 mm\" light=\"100 %\"",
            &["below 100 %"],
        ),
        (
            "reach volts=\"24 V\" power=\"5 W/m\" cut=\"50 mm\" loop=\"1 ohm/m\" longest=\"5 m\"",
            &["keep one"],
        ),
        (
            "reach volts=\"24 V\" power=\"5 W/m\" cut=\"50 mm\" longest=\"5 m\"",
            &["`falls` is missing", "`from` is missing", "`by` is missing"],
        ),
        (
            "far-end volts=\"24 V\" power=\"5 W/m\" cut=\"50 mm\" length=\"20 mm\"",
            &["the length of the tape", "50 mm"],
        ),
        (
            "far-end volts=\"24 V\" power=\"5 W/m\" cut=\"50 mm\" length=\"900 km\"",
            &["the length of the tape"],
        ),
        (
            "wire route=\"0 m\" current=\"4 A\" volts=\"24 V\" drop=\"3 %\"",
            &["the route is 0 m"],
        ),
        (
            "wire route=\"5 m\" current=\"-4 A\" volts=\"24 V\" drop=\"3 %\"",
            &["the current is -4 A"],
        ),
        (
            "wire route=\"5 m\" current=\"4 A\" volts=\"24 V\" drop=\"3 %\" colour=red",
            &["`colour` is no key"],
        ),
        (
            "supplies pieces=0 each=\"40 W\"",
            &["the number of pieces is 0"],
        ),
        ("chain devices=9999999999999 spacing=\"8 m\"", &["1 to 500"]),
        ("brightness", &["`brightness` is no question"]),
        ("wire 25ft", &["has no key"]),
    ] {
        let (out, err, code) = asked(line);
        assert_eq!((out.as_str(), code), ("", 2), "{line}");
        for word in words {
            assert!(err.contains(word), "{line}: {err}");
        }
    }
}
