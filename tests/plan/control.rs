//! Limits of chains, and supply minuses, from the job to the findings.

use crate::{DEMO, demo, said_by};
use evenrun::design::Design;
use evenrun::finding::{Figure, Limit, Value, Verdict};
use evenrun::quantity::{metres, volts};
use evenrun::source::{Source, SourceKind};
use evenrun::{job, plan};

fn planned(edit: impl Fn(String) -> String) -> Design {
    let text = edit(DEMO.to_string());
    plan::plan(&job::read(&text, "edited.toml").expect("sound"))
}

#[test]
fn a_changed_limit_changes_the_finding() {
    let silent = demo();
    for habit in ["chain-devices-habit", "chain-length-habit"] {
        let said = said_by(silent, habit);
        assert!(said.iter().all(|f| !f.is_fail()), "{said:#?}");
        let practice = |source: &Source| source.kind == SourceKind::CommonPractice;
        assert!(said.iter().all(|f| practice(&f.source)), "{said:#?}");
    }
    let stated = planned(|text| {
        text.replacen(
            "[limits]",
            "[limits]\nchain_devices = 6\nchain_length = \"30 m\"",
            1,
        )
    });
    let limits: [(&str, Figure); 2] = [
        ("chain-devices-habit", Figure::count(6)),
        ("chain-length-habit", metres(30.0).into()),
    ];
    for (habit, limit) in limits {
        let said = said_by(&stated, habit);
        assert!(said.iter().any(|f| f.is_fail()), "{said:#?}");
        for finding in said {
            assert_eq!(finding.limit, Some(Limit::AtMost(limit)), "{finding:?}");
            assert_eq!(finding.source, Source::stated("limits of the job"));
            // What fails is beyond the limit, and nothing else is.
            let figure = finding.figure.expect("a figure").value();
            assert_eq!(finding.is_fail(), figure > limit.value(), "{finding:?}");
        }
    }
}

#[test]
fn minuses_of_decoders_come_from_the_solve() {
    let rises = |plan: &Design| -> Vec<f64> {
        let devices = plan.chains.iter().flat_map(|chain| &chain.devices);
        let grounds = devices.filter_map(|device| device.ground.as_ref());
        grounds.map(|ground| ground.most.si()).collect()
    };
    let silent = demo();
    let before = rises(silent);
    assert!(before.len() > 10 && before.iter().all(|rise| *rise > 0.0 && *rise < 1.0));
    let isolated = said_by(silent, "chain-ground-offset");
    assert!(!isolated.is_empty());
    for finding in isolated {
        assert_eq!(
            (finding.verdict, &*finding.case),
            (Verdict::Pass, "no_port")
        );
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
    let mean = |rises: &[f64]| rises.iter().sum::<f64>() / rises.len() as f64;
    assert!(mean(&rises(&joined)) > 1.5 * mean(&before));
    let open = said_by(&joined, "chain-ground-offset");
    assert!(!open.is_empty());
    for finding in open {
        assert!(finding.is_not_evaluated(), "{finding:?}");
        assert!(
            ["references", "references_apart"].contains(&&*finding.case),
            "{finding:?}"
        );
        assert_eq!(finding.limit, Some(Limit::AtMost(volts(6.0).into())));
        // It names two supplies or more, each of this plan.
        let Some(Value::Names { names }) = finding.value("references") else {
            panic!("{finding:?}")
        };
        assert!(names.len() > 1, "{finding:?}");
        let known = |name: &String| joined.supplies.iter().any(|s| s.id.as_str() == name);
        assert!(names.iter().all(known), "{names:?}");
    }
}
