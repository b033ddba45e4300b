//! The lines of the example's page, as they stand there.

use super::{answer, answers, pipe};
use evenrun::design::Design;
use serde_json::Value;
use std::collections::BTreeMap;

const PAGE: &str = include_str!("../../examples/pipe/main.rs");

pub fn lines() -> Vec<&'static str> {
    let each = PAGE.lines().filter_map(|line| line.strip_prefix("//! "));
    each.filter(|line| line.starts_with("{\"id\":") && line.ends_with('}'))
        .collect()
}

fn near(found: &Value, expected: f64) {
    let found = found.as_f64().expect("a number");
    assert!(
        (found - expected).abs() <= 1e-9 * expected,
        "{found}, not {expected}"
    );
}

/// Every question stands on the page once and is answered; each with a figure that can be checked by hand.
#[test]
fn the_page_holds() {
    let lines = lines();
    let found = answers(lines.join("\n"));
    let mut by_question = BTreeMap::new();
    for (line, answer) in lines.iter().zip(&found) {
        let asked: Value = serde_json::from_str(line).expect("JSON");
        assert_eq!(asked["id"], answer["id"]);
        assert!(answer.get("answer").is_some(), "{answer}");
        let question = asked["question"].as_str().expect("a text").to_string();
        assert!(by_question.insert(question, &answer["answer"]).is_none());
    }
    let known: Vec<&str> = by_question.keys().map(String::as_str).collect();
    let mut all = pipe::QUESTIONS.map(|(name, _)| name);
    all.sort_unstable();
    assert_eq!(known, all);
    // 0.5 ohm common to two branches of 0.5 + 23 ohm: 24 V over 12.25 ohm.
    let network = by_question["network"];
    near(&network["sources"][0]["current"]["A"], 24.0 / 12.25);
    near(
        &network["tapes"][0]["emitters"][1]["cell_amps"][0],
        12.0 / 12.25,
    );
    // Fed at mark 21: 4 m and 21 of 50 mm at 90 a metre, rounded up, one feed, one segment.
    let run = &by_question["run"]["planned"];
    assert_eq!(run["segments"][0]["feeds"][0]["at"], 21);
    assert_eq!(run["cost"], 455 + 800 + 300);
    // 1050 + 4 + 950 is 2004: no bar of 2 m holds both.
    assert_eq!(by_question["cut"]["bars_bought"], 2);
    // Two of 36 W on a supply of 96 W loaded to 80 %.
    assert_eq!(by_question["supplies"]["cost"], 8000);
    let links = &by_question["chain"]["links"];
    assert_eq!(links[0]["unit_loads"], 1.25);
    let devices = &by_question["chain"]["signal"]["links"][0]["devices"];
    assert_eq!(devices.as_array().map(Vec::len), Some(2));
    // 29 m of 20 mm² at 58 m/(ohm·mm²), IEC 60028: 25 mohm; 10 A out and back.
    let conductor = by_question["conductor"];
    near(&conductor["one_way"]["ohm"], 0.025);
    near(&conductor["drop"]["V"], 0.5);
    assert_eq!(
        by_question["job"]["feeds"].as_array().map(Vec::len),
        Some(1)
    );
}

/// `job` answers the design that the library makes, and it reads back the same.
#[test]
fn a_job_is_answered_with_its_design() {
    let text = include_str!("../jobs/one_run.toml");
    let input = serde_json::json!({ "toml": text, "name": "one_run.toml" });
    let found = answer("job", &input.to_string());
    let read = Design::from_json(&found["answer"].to_string()).expect("a design");
    let job = evenrun::job::read(text, "one_run.toml").expect("a sound job");
    assert_eq!(read, evenrun::plan::plan(&job));
}

/// A conductor of a standard size has its ampacity, or hears that no table covers it.
#[test]
fn a_size_has_an_ampacity_or_none() {
    let asked = |installed: &str| {
        let input =
            format!(r#"{{"size":"2.5 mm²","insulation":"70 °C","installed":"{installed}"}}"#);
        answer("conductor", &input)["answer"]["ampacity"].clone()
    };
    // IEC 60364-5-52, table B.52.2, method C, two loaded conductors of copper with PVC: 27 A.
    assert_eq!(asked("iec C")["found"]["tabulated"]["A"], 27.0);
    assert!(asked("us 310.16")["none"]["covers"].is_string());
}
