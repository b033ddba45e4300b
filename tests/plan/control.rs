//! Limits of chains, and supply minuses, from the job to the findings.

use crate::{DEMO, demo};
use evenrun::finding::plain::Finding;
use evenrun::{job, plan};

fn planned(edit: impl Fn(String) -> String) -> plan::model::Plan {
    let text = edit(DEMO.to_string());
    plan::plan(&job::read(&text, "edited.toml").expect("sound"))
}

fn of<'p>(plan: &'p plan::model::Plan, id: &str) -> Vec<&'p Finding> {
    plan.findings.iter().filter(|f| f.id == id).collect()
}

#[test]
fn a_changed_limit_changes_the_finding() {
    let silent = demo();
    assert!(
        of(silent, "chain-devices-habit")
            .iter()
            .all(|f| !f.is_fail())
    );
    assert!(
        of(silent, "chain-length-habit")
            .iter()
            .all(|f| !f.is_fail())
    );
    let stated = planned(|text| {
        text.replacen(
            "[limits]",
            "[limits]\nchain_devices = 6\nchain_length = \"30 m\"",
            1,
        )
    });
    let devices = of(&stated, "chain-devices-habit");
    assert!(
        devices
            .iter()
            .any(|f| f.is_fail() && f.limit == "at most 6 devices")
    );
    let length = of(&stated, "chain-length-habit");
    assert!(
        length
            .iter()
            .any(|f| f.is_fail() && f.limit == "at most 30.0 m")
    );
    assert!(
        length
            .iter()
            .all(|f| f.source.to_string().contains("limits of the job"))
    );
}

#[test]
fn minuses_of_decoders_come_from_the_solve() {
    let rises = |plan: &plan::model::Plan| -> Vec<f64> {
        let rows = plan.chains.iter().filter_map(|row| row.minus);
        rows.map(|volts| volts.value).collect()
    };
    let silent = demo();
    let before = rises(silent);
    assert!(before.len() > 10 && before.iter().all(|rise| *rise > 0.0 && *rise < 1.0));
    let isolated = of(silent, "chain-ground-offset");
    assert!(!isolated.is_empty());
    for finding in isolated {
        assert_eq!(finding.says, "no port is joined to its supply's minus");
    }
    // Longer leads from supply to decoder lift the minuses; joined ports then stand apart.
    let joined = planned(|text| {
        text.replace(
            "port = \"isolated\"\nunit_loads",
            "port = \"joined\"\nunit_loads",
        )
        .replace("lead = \"800 mm\"", "lead = \"2400 mm\"")
        .replace("lead = \"600 mm\"", "lead = \"1800 mm\"")
    });
    let sum = |rises: &[f64]| rises.iter().sum::<f64>() / rises.len() as f64;
    assert!(sum(&rises(&joined)) > 1.5 * sum(&before));
    let open = of(&joined, "chain-ground-offset");
    assert!(!open.is_empty());
    for finding in open {
        let words = format!("{:?}", finding.verdict);
        assert!(
            words.contains("what stands between those is not stated"),
            "{words}"
        );
    }
}
