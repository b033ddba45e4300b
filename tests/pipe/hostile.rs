//! Lines that are wrong: each gets its answer, and the next one is answered as ever.

use super::pipe::{LONGEST_LINE, Refusal, lines};
use super::{answer, answers, page, refused};
use proptest::prelude::*;
use std::cell::RefCell;
use std::io::{BufRead, Read, Write};

const GOOD: &str = r#"{"id":"good","question":"conductor","input":{"size":"18 AWG"}}"#;

#[test]
fn a_wrong_line_is_answered_and_stops_nothing() {
    let deep = format!("{}{}", "[".repeat(200_000), "]".repeat(200_000));
    let cells = r#"{"nodes":["p","m"],"laws":[{"name":"l","load":{"resistive":{"resistance":"23 ohm"}}}],"sources":[{"name":"s","plus":"p","minus":"m","set_point":"24 V"}],"tapes":[{"name":"t","cells":99999999999,"common":{"links":"0 ohm","attachments":[{"cell":0,"node":"p"}]},"emitters":[{"name":"e","law":"l","rail":{"links":"0 ohm","attachments":[{"cell":0,"node":"p"}]}}]}]}"#;
    let cases: Vec<(Vec<u8>, serde_json::Value, &str, &str)> = vec![
        (b"not json".to_vec(), ().into(), "line", "one JSON object"),
        (
            b"[1, 2]".to_vec(),
            ().into(),
            "line",
            "write one JSON object a line",
        ),
        (
            deep.clone().into_bytes(),
            ().into(),
            "line",
            "one JSON object",
        ),
        (
            b"{\"id\":1,\"question\":\"c\xff\"}".to_vec(),
            1.into(),
            "line",
            "byte 22 is not UTF-8",
        ),
        (
            br#"{"id":"mine","question":"cut" "input":{}}"#.to_vec(),
            "mine".into(),
            "line",
            "column 31",
        ),
        (
            br#"{"id":1}"#.to_vec(),
            1.into(),
            "question",
            "missing field `question`",
        ),
        (
            br#"{"id":1,"question":"cut"}"#.to_vec(),
            1.into(),
            "question",
            "missing field `input`",
        ),
        (
            br#"{"id":1,"question":"cut","inptu":{}}"#.to_vec(),
            1.into(),
            "question",
            "unknown field `inptu`",
        ),
        (
            br#"{"id":1,"question":"cuts","input":{}}"#.to_vec(),
            1.into(),
            "question",
            "did you mean `cut`?",
        ),
        (
            br#"{"id":1,"question":"","input":{}}"#.to_vec(),
            1.into(),
            "question",
            "there are network, run, cut",
        ),
        (
            br#"{"id":1,"question":"cut","input":{}}"#.to_vec(),
            1.into(),
            "form",
            "missing field `what`",
        ),
        (
            br#"{"id":1,"question":"cut","input":7}"#.to_vec(),
            1.into(),
            "form",
            "invalid type",
        ),
        (
            format!(r#"{{"id":1,"question":"cut","input":{{"what":{deep}}}}}"#).into_bytes(),
            1.into(),
            "form",
            "expected a string",
        ),
        (
            format!(r#"{{"id":1,"question":"network","input":{cells}}}"#).into_bytes(),
            1.into(),
            "check",
            "at most 200000",
        ),
    ];
    for (line, id, kind, says) in cases {
        let shown = String::from_utf8_lossy(&line[..line.len().min(200)]).into_owned();
        let found = answers([&line[..], b"\n", GOOD.as_bytes()].concat());
        assert_eq!(found.len(), 2, "{shown}");
        let (found_kind, found_says) = refused(&found[0]);
        assert_eq!(
            (&found[0]["id"], found_kind),
            (&id, kind),
            "{shown}: {}",
            found[0]
        );
        assert!(found_says[0].contains(says), "{shown}: {}", found_says[0]);
        assert_eq!(found[1]["id"], "good");
        assert!(found[1].get("answer").is_some());
    }
}

#[test]
fn a_line_that_is_too_long_is_skipped_as_a_whole() {
    let long = format!("{{\"id\":1,\"x\":\"{}\"}}", "y".repeat(2 * LONGEST_LINE));
    let found = answers(format!("{long}\n{GOOD}\n{long}"));
    assert_eq!(found.len(), 3);
    assert!(refused(&found[0]).1[0].contains("longer than the 33554432 bytes"));
    assert_eq!(
        (&found[0]["id"], &found[1]["id"]),
        (&1.into(), &"good".into())
    );
    assert_eq!(refused(&found[2]).0, "line");
}

/// An id is any JSON value and comes back byte for byte; empty lines, a mark of byte order and line ends of either kind are
/// no questions.
#[test]
fn an_id_comes_back_as_it_came() {
    let ids = [
        "null",
        "-0.0",
        "123456789012345678901234567890",
        "1e400",
        r#""\u00fc \" 𝄞""#,
        r#"{"run":  [1,2,{"b":true,"a":null}]}"#,
    ];
    for id in ids {
        let line = format!(
            "\u{feff}\r\n\n  \n{{\"question\":\"conductor\", \"input\":{{\"size\":\"18\"}}, \"id\": {id} }}\r\n"
        );
        let mut out = Vec::new();
        super::pipe::run(line.as_bytes(), &mut out).unwrap();
        let text = String::from_utf8(out).unwrap();
        assert!(
            text.starts_with(&format!("{{\"id\":{id},\"error\":")),
            "{text}"
        );
        assert_eq!(text.matches('\n').count(), 1);
    }
}

/// What a check finds is listed in full, each with its value, what is accepted and what to do.
#[test]
fn every_fault_is_listed() {
    let cut = answer(
        "cut",
        r#"{"what":"profile","kerf":"-1 mm","pieces":[{"id":"A","length":"0 m"},{"id":"A","length":"1 m"}]}"#,
    );
    let (kind, says) = refused(&cut);
    assert_eq!((kind, says.len()), ("check", 4), "{says:?}");
    let network = answer(
        "network",
        r#"{"nodes":["plus","minus"],"links":[{"name":"a","from":"plsu","to":"nowhere at all","resistance":"1 ohm"}],
           "sources":[{"name":"s","plus":"plus","minus":"minus","set_point":"24 V"}],
           "laws":[{"name":"cell","load":{"resistive":{"resistance":"-1 ohm"}}}],
           "loads":[{"name":"l","plus":"plus","minus":"minus","law":"cells"}]}"#
            .replace('\n', " ")
            .as_str(),
    );
    let (kind, says) = refused(&network);
    assert_eq!((kind, says.len()), ("check", 4), "{says:?}");
    assert!(
        says.iter()
            .any(|fault| fault.contains("did you mean `plus`?"))
    );
    let job = answer(
        "job",
        r#"{"toml":"schema = 1\n[[run]]\nname = 7\n","name":"x.toml"}"#,
    );
    let (kind, says) = refused(&job);
    assert!(kind == "check" && says.len() > 3, "{says:?}");
    let faults = job["error"]["faults"].as_array().unwrap();
    assert!(
        faults
            .iter()
            .any(|fault| fault["place"] == "line 3, column 8")
    );
    let run = answer(
        "run",
        r#"{"tape":{"pitch":"50 mm","rated":"24 V","common":"8 mΩ","emitters":[{"name":"white","rail":"8 mΩ","load":{"resistive":{"resistance":"-23 ohm"}}}]},
           "increments":0,"places":[],"wires":[],"source":{"set_point":{"low":"23.76 V","nominal":"-24 V","high":"24.24 V"}},"limits":{"least_current":"80 %"}}"#
            .replace('\n', " ")
            .as_str(),
    );
    let (kind, says) = refused(&run);
    assert_eq!(kind, "check");
    for part in [
        "the resistance of the load is -23",
        "0 places to feed from",
        "0 wires to feed through",
        "set point (V), nominal corner is -24",
        "set points is 23.76, -24 and 24.24",
    ] {
        assert!(
            says.iter().any(|fault| fault.contains(part)),
            "{part}: {says:#?}"
        );
    }
    let conductor = answer(
        "conductor",
        r#"{"size":"18 AWG","area":"1 mm2","length":"-1 m","current":"-3 A","loaded":0}"#,
    );
    let (kind, says) = refused(&conductor);
    assert_eq!((kind, says.len()), ("check", 4), "{says:?}");
    let form = answer(
        "supplies",
        r#"{"what":"x","loads":[{"id":"a","volts":"24 A"}],"kinds":[]}"#,
    );
    assert_eq!(form["error"]["faults"][0]["place"], "input.loads[0].volts");
    let form = answer(
        "supplies",
        r#"{"what":7,"extra":1,"loads":[{"id":"a","volts":"24 A","current":"x","power":"1 W"},{"id":"b","vlots":"24 V"},
           {"id":"c","volts":"24 V","current":"1 A","power":"24 W"},{"id":"d","volts":true,"current":"1 A","power":"24 W"}],"kinds":[]}"#
            .replace('\n', " ")
            .as_str(),
    );
    assert_eq!(refused(&form).0, "form");
    let faults = form["error"]["faults"].as_array().unwrap().iter();
    let places: Vec<(&str, &str)> = faults
        .map(|fault| {
            (
                fault["place"].as_str().unwrap(),
                fault["says"].as_str().unwrap().split(',').next().unwrap(),
            )
        })
        .collect();
    assert_eq!(
        places,
        [
            ("input", "unknown field `extra`"),
            (
                "input.loads[0].current",
                "`x` does not start with a number; a current is written like \"4 A\""
            ),
            ("input.loads[0].volts", "`24 A` has the unit `A`"),
            ("input.loads[1]", "unknown field `vlots`"),
            ("input.loads[1]", "missing field `volts`"),
            ("input.loads[3].volts", "invalid type: boolean `true`"),
            ("input.what", "invalid type: integer `7`"),
        ]
    );
}

/// A tape that nothing feeds has no answer: it is not lit at 0 A.
#[test]
fn a_tape_that_nothing_feeds_is_refused() {
    let input = |common: &str, rail: &str, lit: &str| {
        format!(
            r#"{{"nodes":["p","m"],"sources":[{{"name":"s","plus":"p","minus":"m","set_point":"24 V"}}],"laws":[{{"name":"l","load":{{"resistive":{{"resistance":"23 ohm"}}}}}}],"tapes":[{{"name":"t","cells":3,"common":{{"links":"1 ohm","attachments":[{common}]}},"emitters":[{{"name":"e","lit":{lit},"law":"l","rail":{{"links":"1 ohm","attachments":[{rail}]}}}}]}}]}}"#
        )
    };
    let joint = |node: &str| format!(r#"{{"cell":0,"node":"{node}"}}"#);
    let none = answer("network", &input("", "", "true"));
    let (kind, says) = refused(&none);
    assert_eq!(kind, "check");
    assert_eq!(
        says,
        [
            "tape `t`: its common has no attachment, so that no current can flow; write one at least, like {\"cell\": 0, \"node\": \"plus\"}, or \"lit\": false",
            "tape `t`, emitter `e`: its return has no attachment, so that no current can flow; write one at least, like {\"cell\": 0, \"node\": \"plus\"}, or \"lit\": false",
        ]
    );
    assert!(
        answer("network", &input(&joint("p"), &joint("m"), "true"))
            .get("answer")
            .is_some()
    );
    assert!(
        answer("network", &input(&joint("p"), "", "false"))
            .get("answer")
            .is_some()
    );
}

/// A line without an answer shows in the exit code; nothing that acts on a terminal is passed on.
#[test]
fn the_exit_code_says_whether_every_line_was_answered() {
    let ask = |lines: &str| {
        let mut out = Vec::new();
        let code = super::pipe::run(lines.as_bytes(), &mut out).unwrap();
        (code, String::from_utf8(out).unwrap())
    };
    assert_eq!(ask(GOOD).0, 0);
    assert_eq!(ask("").0, 0);
    assert_eq!(ask(&format!("{GOOD}\n{{}}\n{GOOD}")).0, 1);
    let (code, said) = ask("{\"id\":\"\u{202e}\u{7f}\",\"question\":\"\u{9b}\",\"input\":0}");
    assert_eq!(code, 1);
    assert!(said.starts_with("{\"id\":\"\\u202e\\u007f\","), "{said}");
    assert!(!said.trim_end().chars().any(char::is_control), "{said}");
}

/// Each answer is out before the next line is read: a program that asks and waits does not wait for ever.
#[test]
fn an_answer_is_flushed_before_the_next_line_is_read() {
    struct Asker<'a> {
        lines: Vec<&'static str>,
        left: &'static [u8],
        flushed: &'a RefCell<usize>,
        asked: usize,
    }
    impl Read for Asker<'_> {
        fn read(&mut self, _: &mut [u8]) -> std::io::Result<usize> {
            unreachable!("read by lines")
        }
    }
    impl BufRead for Asker<'_> {
        fn fill_buf(&mut self) -> std::io::Result<&[u8]> {
            if self.left.is_empty()
                && let Some(line) = self.lines.pop()
            {
                assert_eq!(*self.flushed.borrow(), self.asked, "an answer is held back");
                self.left = line.as_bytes();
                self.asked += 1;
            }
            Ok(self.left)
        }
        fn consume(&mut self, count: usize) {
            self.left = &self.left[count..];
        }
    }
    struct Counter<'a>(&'a RefCell<usize>);
    impl Write for Counter<'_> {
        fn write(&mut self, bytes: &[u8]) -> std::io::Result<usize> {
            Ok(bytes.len())
        }
        fn flush(&mut self) -> std::io::Result<()> {
            *self.0.borrow_mut() += 1;
            Ok(())
        }
    }
    let flushed = RefCell::new(0);
    let asker = Asker {
        lines: vec![
            "{}\n",
            "?\n",
            "{\"id\":1,\"question\":\"conductor\",\"input\":{\"size\":\"18 AWG\"}}\n",
        ],
        left: &[],
        flushed: &flushed,
        asked: 0,
    };
    assert_eq!(super::pipe::run(asker, Counter(&flushed)).unwrap(), 1);
    assert_eq!(*flushed.borrow(), 3);
}

/// If the library ever breaks its word and panics, one line is lost and the next is answered.
#[test]
fn a_panic_loses_one_line() {
    let ask = |question: &str, _: &str| -> Result<String, Refusal> {
        assert!(question != "bad", "this panic is part of the test");
        Ok("1".to_string())
    };
    let mut out = Vec::new();
    let input = "{\"id\":1,\"question\":\"bad\",\"input\":0}\n{\"id\":2,\"question\":\"good\",\"input\":0}\n";
    lines::run(input.as_bytes(), &mut out, ask).unwrap();
    let text = String::from_utf8(out).unwrap();
    assert!(
        text.starts_with("{\"id\":1,\"error\":{\"kind\":\"program\""),
        "{text}"
    );
    assert!(text.ends_with("{\"id\":2,\"answer\":1}\n"), "{text}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]
    /// Lines of the page with bytes changed, taken out and put in: one answer each, and no panic.
    #[test]
    fn a_mutated_line_has_one_answer(
        line in 0..7_usize,
        changes in prop::collection::vec((any::<prop::sample::Index>(), 0..3_u8, any::<u8>()), 1..6),
    ) {
        let mut bytes = page::lines()[line].as_bytes().to_vec();
        for (place, what, byte) in changes {
            // Mostly what JSON and figures are made of.
            let byte = match byte {
                128.. => b"0123456789-.eE\"{}[],:mAV"[usize::from(byte) % 24],
                b'\n' => b' ',
                other => other,
            };
            let at = place.index(bytes.len());
            match what {
                0 => bytes[at] = byte,
                1 => bytes.insert(at, byte),
                _ => { bytes.remove(at); }
            }
        }
        prop_assert_eq!(answers(&bytes).len(), usize::from(!bytes.trim_ascii().is_empty()));
    }
}
