//! What is taken where a job is silent, and limits that the plan keeps.

use super::{said_by, small};
use evenrun::design::Design;
use evenrun::rules;

const POINT: &str = "derating = [{ ambient = \"50 °C\", share = \"100 %\" }]\n";

/// The sentences of a rule.
fn lines(design: &Design, rule: &str) -> Vec<String> {
    said_by(design, rule).into_iter().map(rules::line).collect()
}

#[test]
fn a_supply_without_derating_is_planned_with_its_full_power_and_says_so() {
    let silent = small(|text| text.replace(POINT, "")).expect("sound");
    let stated = small(|text| text).expect("sound");
    let power = |design: &Design| {
        let own = |s: &evenrun::design::Supply| (s.derated.si(), s.permitted.si());
        design.supplies.iter().map(own).collect::<Vec<_>>()
    };
    assert_eq!(power(&silent), [(60.0, 48.0)]);
    assert_eq!(power(&silent), power(&stated));
    assert!(!silent.findings.iter().any(|f| f.is_fail()));
    let said = lines(&silent, "supply-derating");
    let [said] = said.as_slice() else {
        panic!("{said:?}")
    };
    assert!(
        said.contains("states no derating; full power was taken"),
        "{said}"
    );
    assert!(lines(&stated, "supply-derating").is_empty());
}

#[test]
fn above_the_last_point_of_a_derating_its_share_is_taken_and_said() {
    let points = "derating = [{ ambient = \"20 °C\", share = \"100 %\" }, { ambient = \"25 °C\", share = \"90 %\" }]\n";
    let hot = small(|text| text.replace(POINT, points)).expect("sound");
    let [supply] = hot.supplies.as_slice() else {
        panic!("{:?}", hot.supplies)
    };
    assert!((supply.derated.si() - 54.0).abs() < 1e-9);
    let said = lines(&hot, "supply-derating");
    let [said] = said.as_slice() else {
        panic!("{said:?}")
    };
    let words = "its derating ends at 25 °C, its place has 30 °C; the share of the last point, 90 %, was taken";
    assert!(said.contains(words), "{said}");
}
