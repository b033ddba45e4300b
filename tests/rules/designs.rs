//! What the rules say of the demo and of the jobs in `tests/jobs`.

use evenrun::design::Design;
use evenrun::finding::{Case, Finding, Subject};
use evenrun::{job, plan, rules};
use std::collections::BTreeSet;
use std::path::Path;
use std::sync::OnceLock;

const JOBS: [&str; 7] = [
    "examples/archive_wing.toml",
    "tests/jobs/corner.toml",
    "tests/jobs/forty_eight_volt.toml",
    "tests/jobs/one_run.toml",
    "tests/jobs/several_places.toml",
    "tests/jobs/twelve_volt.toml",
    "tests/jobs/us_units.toml",
];

/// Each job with its design, planned once.
pub fn designs() -> &'static [(&'static str, Design)] {
    static DESIGNS: OnceLock<Vec<(&str, Design)>> = OnceLock::new();
    DESIGNS.get_or_init(|| {
        JOBS.iter()
            .map(|name| {
                let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(name);
                let text = std::fs::read_to_string(path).expect("a job file");
                let job = job::read(&text, name).unwrap_or_else(|fault| panic!("{name}: {fault}"));
                (*name, plan::plan(&job))
            })
            .collect()
    })
}

/// The design of one of the jobs.
pub fn design(name: &str) -> &'static Design {
    let found = designs().iter().find(|(job, _)| *job == name);
    &found.expect("a job of the list").1
}

#[test]
fn every_finding_has_a_rule_and_one_of_its_answers() {
    for (name, design) in designs() {
        assert!(!design.findings.is_empty(), "{name}");
        for finding in &design.findings {
            let rule = rules::find(finding.rule.as_str());
            let rule = rule.unwrap_or_else(|| panic!("{name}: no rule {}", finding.rule));
            let case = rule.cases.iter().find(|case| case.key == finding.case);
            assert!(
                case.is_some(),
                "{name}: {} has no answer {}",
                rule.id,
                finding.case
            );
        }
    }
}

/// Every fact that the words of an answer name is there.
#[test]
fn no_sentence_lacks_a_fact() {
    for (name, design) in designs() {
        for finding in &design.findings {
            let rule = rules::find(finding.rule.as_str());
            let cases = rule.map_or(&[][..], |rule| rule.cases);
            for case in cases.iter().filter(|case| case.key == finding.case) {
                let lacking = lacking(finding, case);
                assert!(lacking.is_empty(), "{name}: {lacking:?} in {finding:?}");
            }
        }
    }
}

/// Names in the words of an answer that the finding has nothing for.
fn lacking(finding: &Finding, case: &Case) -> Vec<&'static str> {
    let words = [case.says, case.reason, case.figure, case.limit, case.remedy];
    let inside = words.into_iter().flat_map(|text| text.split('{').skip(1));
    let named = inside.map(|rest| rest.split([':', '}']).next().unwrap_or(rest));
    named
        .filter(|name| match *name {
            "figure" => finding.figure.is_none() && finding.value("figure").is_none(),
            "limit" | "least" | "most" => finding.limit.is_none() && finding.value(name).is_none(),
            fact => finding.value(fact).is_none(),
        })
        .collect()
}

/// What is judged is a function of the design alone: a design that was written and read again is judged alike.
#[test]
fn a_design_that_was_read_is_judged_alike() {
    for (name, design) in designs() {
        let written = design.to_json().expect("a finite design");
        let read = Design::from_json(&written).expect("the same form");
        let again = rules::judge(&read);
        assert_eq!(again, rules::judge(design), "{name}");
        // The plan's own findings are these, and what the planner answered on the way.
        let judged: BTreeSet<&str> = again.iter().map(|finding| finding.rule.as_str()).collect();
        let own: Vec<&Finding> = design
            .findings
            .iter()
            .filter(|finding| judged.contains(finding.rule.as_str()))
            .collect();
        assert_eq!(own, again.iter().collect::<Vec<_>>(), "{name}");
        assert_eq!(rules::protection(&read), read.protection, "{name}");
    }
}

/// The findings of a design stand in the order of the registry.
#[test]
fn findings_stand_in_order() {
    for (name, design) in designs() {
        assert_eq!(
            rules::in_order(design.findings.clone()),
            design.findings,
            "{name}"
        );
    }
}

/// A rule answers for what changed, and for nothing else: half the rating of one supply's outputs breaks
/// `supply-output` there, and moves no answer about light.
#[test]
fn a_changed_figure_changes_its_own_answers() {
    let (_, design) = &designs()[0];
    let mut changed = design.clone();
    let output = changed
        .outputs
        .first()
        .expect("an output that carries something")
        .clone();
    let supply = changed
        .supplies
        .iter()
        .find(|supply| supply.id == output.supply);
    let kind = supply.expect("its supply").kind.clone();
    let kind = changed.supply_kinds.iter_mut().find(|own| own.id == kind);
    let carried = output.current.figures().expect("solved").high;
    kind.expect("its kind").output_current = evenrun::quantity::amps(carried.si() / 2.0).into();
    let of = |design: &Design, rule: &str| -> Vec<Finding> {
        let all = rules::judge(design);
        all.into_iter()
            .filter(|finding| finding.rule.as_str() == rule)
            .collect()
    };
    let about = Subject::Output {
        supply: output.supply,
        output: output.output,
    };
    let broken = of(&changed, "supply-output");
    assert!(
        broken
            .iter()
            .any(|finding| finding.about == about && finding.is_fail())
    );
    assert_eq!(of(&changed, "segment-light"), of(design, "segment-light"));
}
