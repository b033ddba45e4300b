//! What is taken where a job is silent, and limits that the plan keeps.

use super::{DEMO, demo, figures, said_by, small};
use evenrun::design::Design;
use evenrun::finding::Figure;
use evenrun::job::spec::Limits;
use evenrun::quantity::{Corners, percent, volts};
use evenrun::strip::CornerSet;
use evenrun::{job, plan, rules};

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

/// The demo with the text of its `[limits]` replaced.
fn demo_with(limits: &str) -> Design {
    let (before, rest) = DEMO.split_once("[limits]\n").expect("limits");
    let (_, after) = rest.split_once("[costs]\n").expect("costs");
    let text = format!("{before}{limits}[costs]\n{after}");
    let job = job::read(&text, "archive_wing.toml").unwrap_or_else(|faults| panic!("{faults}"));
    plan::plan(&job)
}

/// What the cables of a design cost, minor units.
fn copper(design: &Design) -> f64 {
    let job = job::read(DEMO, "archive_wing.toml").expect("sound");
    let cables = design.cables.iter();
    let each = cables.map(|cable| {
        let kind = job.cable(cable.kind.as_str()).expect("a cable of the job");
        cable.route.metres() * kind.price_per_metre.expect("priced") as f64
    });
    each.sum()
}

fn broken(design: &Design) -> Vec<String> {
    let fails = design.findings.iter().filter(|f| f.is_fail());
    fails.map(rules::line).collect()
}

#[test]
fn the_demo_without_its_limits_keeps_all_that_are_taken_when_silent() {
    let silent = demo_with("");
    assert!(silent.assumed.len() > demo().assumed.len());
    let fails = broken(&silent);
    let [planted] = fails.as_slice() else {
        panic!("{fails:#?}")
    };
    assert!(planted.contains("terminator"), "{planted}");
    let ratio = copper(&silent) / copper(demo());
    assert!((0.8..=1.2).contains(&ratio), "{ratio}");
}

/// The least current taken when silent is the trade's 23 V of 24 V, at the low corner of the tolerances taken when silent.
#[test]
fn the_least_current_taken_is_23_volts_at_the_low_corner() {
    let taken = Limits::default();
    let corners = CornerSet {
        conductor: Corners {
            low: taken.cell.high,
            nominal: taken.cell.nominal,
            high: taken.cell.low,
        },
        cell: taken.cell,
        rail_tolerance: taken.rail_tolerance,
        current_tolerance: taken.current_tolerance,
        current_margin: taken.current_margin,
    };
    let job = job::read(DEMO, "archive_wing.toml").expect("sound");
    for strip in job.strips().iter().filter(|s| s.rated == volts(24.0)) {
        let model = strip.model(&corners).expect("a model");
        for emitter in model
            .emitters
            .iter()
            .filter(|e| ["white", "warm", "cool"].contains(&&*e.name))
        {
            let rated = emitter.law.nominal.current(volts(24.0)).value;
            let at_23 = emitter.law.nominal.current(volts(23.0)).value / rated;
            assert!((0.80..0.88).contains(&at_23), "{}: {at_23}", emitter.name);
            let low = emitter.law.low.current(volts(23.0 * 0.99)).value / rated;
            assert!((0.65..0.70).contains(&low), "{}: {low}", emitter.name);
        }
    }
    assert_eq!(taken.least_current, percent(65.0));
}

/// Half a metre of tape on ten centimetres of wire, limits and supply as taken when silent.
#[test]
fn half_a_metre_on_ten_centimetres_of_wire_holds() {
    let short = small(|text| {
        let text = text.replace("[limits]\nleast_current = \"70 %\"\n", "");
        let text = text.replace("straight = \"2 m\"", "straight = \"500 mm\"");
        text.replace("length = \"3 m\"", "length = \"100 mm\"")
    });
    assert_eq!(broken(&short.expect("sound")), Vec::<String>::new());
}

/// A seen break between two supplies: either may stand at the top of its tolerance, the other at the bottom.
#[test]
fn a_step_between_two_supplies_takes_their_tolerances_apart() {
    let parted = |tolerance: &str| {
        let design = small(|text| {
            let text = text.replace(
                "tolerance = \"1 %\"",
                &format!("tolerance = \"{tolerance}\""),
            );
            let text = text.replace("straight = \"2 m\"", "straight = \"8 m\"");
            let text = text.replace("length = \"3 m\", basis = \"measured\" }", "length = \"3 m\", basis = \"measured\" }, { from = \"box\", to = \"end\", length = \"4 m\", basis = \"measured\" }");
            let text = text.replace(
                "to = \"start\", length = \"3 m\"",
                "to = \"start\", length = \"4 m\"",
            );
            format!("{text}visible_step = \"20 %\"\n")
        });
        design.expect("sound")
    };
    let design = parted("1 %");
    let [left, right] = design.segments.as_slice() else {
        panic!("{:#?}", design.segments)
    };
    let (left, right) = (figures(left), figures(right));
    // Fed alike from both ends, the two sides are alike at one corner …
    let [low, raised] =
        [&right.first_cell, &right.first_cell_raised].map(|c| c[0].expect("lit").si());
    let own = left.last_cell[0].expect("lit").si();
    assert!((own / low - 1.0).abs() < 1e-6);
    // … and as far apart as 2 % of 24 V take them when one supply is high.
    assert!(raised > 1.05 * own && raised < 1.15 * own, "{own} {raised}");
    let said = said_by(&design, "segment-step");
    let [said] = said.as_slice() else {
        panic!("{said:?}")
    };
    let found = match said.figure {
        Some(Figure::Share(share)) => share.si(),
        ref other => panic!("{other:?}"),
    };
    assert!((found - (1.0 - own / raised)).abs() < 1e-9);
    assert!(!said.is_fail());
}

/// Both sides of a seen break hang on one supply where the outputs that are bought permit it.
#[test]
fn seen_breaks_of_the_demo_have_both_sides_on_one_supply() {
    let seen = said_by(demo(), "segment-step");
    assert!(seen.len() >= 6);
    for finding in seen {
        assert_eq!(finding.case.as_str(), "step", "{}", rules::line(finding));
    }
}

/// Two stretches that say the same of some tape are one; two thousand of them took all memory.
#[test]
fn stretches_without_cuts_that_overlap_are_refused() {
    let refused = small(|text| {
        text.replace(
            "path = [{ straight = \"2 m\" }]",
            "path = [{ straight = \"2 m\" }]\nuncut = [{ from = \"500 mm\", to = \"1 m\" }, { from = \"200 mm\", to = \"600 mm\" }]",
        )
    });
    let said = refused.expect_err("they overlap");
    assert!(said.contains("overlaps uncut 1"), "{said}");
    assert!(
        said.contains("Write one stretch from 200 mm to 1 m"),
        "{said}"
    );
    let beside = small(|text| {
        text.replace(
            "path = [{ straight = \"2 m\" }]",
            "path = [{ straight = \"2 m\" }]\nuncut = [{ from = \"600 mm\", to = \"1 m\" }, { from = \"200 mm\", to = \"600 mm\" }]",
        )
    });
    assert!(beside.is_ok());
}

/// A line of more devices than any standard lets it have is not simulated, and says why.
#[test]
fn a_chain_of_a_thousand_devices_is_not_simulated() {
    let devices: String = (0..1000)
        .map(|n| format!("{{ device = \"dimmer {n}\", length = \"1 m\", unit_loads = \"1/8\", port = \"isolated\" }},\n"))
        .collect();
    let text = DEMO.replace(
        "stops = [{ place = \"foyer store\"",
        &format!("stops = [\n{devices}{{ place = \"foyer store\""),
    );
    let job = job::read(&text, "archive_wing.toml").unwrap_or_else(|faults| panic!("{faults}"));
    let design = plan::plan(&job);
    let chain = design
        .chains
        .iter()
        .max_by_key(|chain| chain.devices.len())
        .expect("chains");
    let why = chain
        .devices
        .iter()
        .filter_map(|device| match &device.margin {
            evenrun::design::Solved::Not(why) => Some(why.as_str()),
            evenrun::design::Solved::Figures(_) => None,
        });
    let why: Vec<&str> = why.collect();
    assert_eq!(why.len(), chain.devices.len());
    assert!(
        why[0].contains("the signal is simulated for 256 at most"),
        "{}",
        why[0]
    );
}

/// A run whose visible break would lie between supplies of two places is fed from one of them: these two never become one supply.
#[test]
fn a_visible_break_between_two_places_is_fed_from_one() {
    let text = include_str!("../jobs/several_places.toml");
    let job = job::read(text, "several_places.toml").expect("a sound job");
    let design = plan::plan(&job);
    let own: Vec<_> = design
        .segments
        .iter()
        .filter(|s| s.run.as_str() == "H1")
        .collect();
    assert_eq!(own.len(), 2, "it is broken where its path is");
    let supplies: std::collections::BTreeSet<_> = design
        .decoders
        .iter()
        .filter(|d| d.id.as_str().starts_with("D-H1."))
        .filter_map(|d| Some(d.supply.as_ref()?.0.as_str()))
        .collect();
    assert_eq!(supplies.len(), 1, "{supplies:?}");
    let steps = design
        .findings
        .iter()
        .filter(|f| f.is_fail() && f.rule.as_str() == "segment-step");
    assert_eq!(steps.count(), 0);
}
