//! The example `ladder`: a bad line gives an error line with its number, and the rest goes on.
#[allow(dead_code, reason = "the example's own main")]
#[path = "../../examples/ladder.rs"]
mod ladder;

use crate::common::assert_within;
use serde_json::Value;

#[test]
fn a_bad_line_stops_nothing() {
    let good = r#"{"id":"x","source_volts":24,"cells":1,"cell":{"resistor":{"ohms":10}},"plus":{"link_ohms":0,"feeds":[{"cell":0,"ohms":1}]},"return":{"link_ohms":[],"feeds":[{"cell":0,"ohms":1}]}}"#;
    let huge = good.replace("\"cells\":1", "\"cells\":99999999999");
    let input = format!(
        "\u{feff}{good}\r\nnot json\n\n{huge}\n{}\n{good}",
        good.replace("24", "-24")
    );
    let mut out = Vec::new();
    ladder::run(input.as_bytes(), &mut out).unwrap();
    let lines: Vec<Value> = String::from_utf8(out)
        .unwrap()
        .lines()
        .map(|l| serde_json::from_str(l).unwrap())
        .collect();
    assert_eq!(
        lines
            .iter()
            .map(|l| l["line"].as_u64().unwrap())
            .collect::<Vec<_>>(),
        [1, 2, 4, 5, 6]
    );
    assert_within(
        "first",
        lines[0]["cell_volts"][0].as_f64().unwrap(),
        20.0,
        1e-9,
    );
    assert_eq!(lines[0]["cell_volts"], lines[4]["cell_volts"]);
    assert!(
        lines[1]["error"]
            .as_str()
            .unwrap()
            .starts_with("column 2: expected")
    );
    assert!(
        lines[2]["error"]
            .as_str()
            .unwrap()
            .contains("cells times rails; at most")
    );
    assert!(
        lines[3]["error"]
            .as_str()
            .unwrap()
            .contains("the set point (V) is -24")
    );
}
