//! Chains against the rules.

use crate::common::{assert_relative, rows};
use crate::rule_id;
use evenrun::device::{PortIsolation, UnitLoads};
use evenrun::dmx::chain::{Chain, ChainError, ChainSpec, LineCable, Part};
use evenrun::finding::{Finding, Verdict};
use evenrun::quantity::{metres, ohms};

fn loads(text: &str) -> UnitLoads {
    text.parse().expect("unit loads")
}

pub(crate) fn daisy(count: usize, load: &str, spacing: f64) -> ChainSpec {
    let mut chain = ChainSpec::new("t", LineCable::data_pair(24));
    for n in 1..=count {
        chain.next(
            Part::device(format!("D{n}"), metres(spacing))
                .port(loads(load), PortIsolation::Isolated),
        );
    }
    chain.terminate(ohms(120.0));
    chain
}

pub(crate) fn checked(chain: ChainSpec) -> Chain {
    chain.check().expect("a tree")
}

fn verdict(findings: &[Finding], id: &str) -> Vec<Verdict> {
    findings
        .iter()
        .filter(|f| f.rule.as_str() == id)
        .map(|f| f.verdict)
        .collect()
}

pub(crate) fn fails(chain: ChainSpec) -> Vec<&'static str> {
    checked(chain)
        .judge()
        .iter()
        .filter(|f| f.is_fail())
        .map(rule_id)
        .collect()
}

#[test]
fn line_constants() {
    for row in rows("dmx/line_constants.csv", 4) {
        let mut cable = LineCable::data_pair(row.number("awg") as u8);
        cable.impedance = ohms(row.number("z0_ohm"));
        let what = row.text("line");
        assert_relative(
            what,
            cable.delay_per_metre() * 1e9,
            row.number("delay_ns_per_m"),
            1e-6,
        );
        assert_relative(
            what,
            cable.inductance_per_metre() * 1e6,
            row.number("inductance_uh_per_m"),
            1e-6,
        );
        assert_relative(
            what,
            cable.capacitance_per_metre() * 1e12,
            row.number("capacitance_pf_per_m"),
            1e-6,
        );
        let resistance = cable.loop_resistance.value * 1e3;
        assert_relative(
            what,
            resistance,
            row.number("loop_resistance_20c_ohm_per_km"),
            1e-6,
        );
    }
}

#[test]
fn thirty_two_unit_loads_and_twenty_devices_are_two_rules() {
    let of = |count, load| checked(daisy(count, load, 2.0)).judge();
    let at_limit = of(32, "1");
    assert_eq!(verdict(&at_limit, "chain-unit-loads"), [Verdict::AtLimit]);
    assert_eq!(verdict(&at_limit, "chain-devices-habit"), [Verdict::Fail]);
    assert_eq!(verdict(&of(33, "1"), "chain-unit-loads"), [Verdict::Fail]);
    assert_eq!(
        verdict(&of(256, "1/8"), "chain-unit-loads"),
        [Verdict::AtLimit]
    );
    assert_eq!(
        verdict(&of(20, "1/8"), "chain-devices-habit"),
        [Verdict::AtLimit]
    );
    // 255 eighths and one of 0.1251: 32.0001.
    let mut over = daisy(255, "1/8", 0.5);
    over.next(Part::device("last", metres(0.5)).port(loads("0.1251"), PortIsolation::Isolated));
    assert_eq!(
        verdict(&checked(over).judge(), "chain-unit-loads"),
        [Verdict::Fail]
    );
}

#[test]
fn lengths_have_their_own_sources() {
    let mut chain = daisy(10, "1", 10.0);
    chain.cable = LineCable::shielded_category();
    let findings = checked(chain.clone()).judge();
    assert_eq!(verdict(&findings, "chain-length"), [Verdict::Pass]);
    assert_eq!(
        verdict(&findings, "chain-length-habit"),
        [Verdict::Fail],
        "100 m is over 300 ft"
    );
    assert_eq!(
        verdict(&findings, "chain-terminator"),
        [Verdict::AtLimit],
        "120 on 100 ohm"
    );
    let habit = findings
        .iter()
        .find(|f| f.rule.as_str() == "chain-length-habit")
        .expect("there");
    assert!(habit.source.to_string().starts_with("common practice"));
    chain.cable = LineCable::data_pair(24);
    chain
        .parts
        .iter_mut()
        .for_each(|part| part.length = metres(30.1));
    assert_eq!(fails(chain.clone()), ["chain-length"]);
    chain.cable = LineCable::data_pair(22);
    assert_eq!(fails(chain.clone()), [""; 0]);
    chain.parts[4].cable = Some(LineCable::unknown());
    assert!(
        checked(chain)
            .judge()
            .iter()
            .filter(|f| f.is_not_evaluated())
            .count()
            == 2
    );
}

#[test]
fn one_terminator_at_the_far_end_only() {
    let mut none = daisy(5, "1", 5.0);
    none.parts[4].terminator = None;
    assert_eq!(fails(none.clone()), ["chain-terminator"]);
    none.parts[2].terminator = Some(ohms(120.0));
    assert_eq!(fails(none), ["chain-terminator", "chain-terminator-extra"]);
    let mut both = daisy(5, "1", 5.0);
    both.source_terminator = Some(ohms(120.0));
    assert_eq!(fails(both.clone()), ["chain-terminator-port"]);
    both.rdm = true;
    assert_eq!(fails(both), [""; 0]);
    let mut wrong = daisy(5, "1", 5.0);
    wrong.terminate(ohms(60.0));
    assert_eq!(fails(wrong), ["chain-terminator"]);
}

#[test]
fn a_split_needs_a_splitter() {
    let mut split = daisy(5, "1", 5.0);
    split.next(
        Part::device("side", metres(2.0))
            .from("D2")
            .port(loads("1"), PortIsolation::Isolated),
    );
    assert_eq!(
        fails(split.clone()),
        ["chain-split", "chain-split-habit", "chain-stub"]
    );
    split.parts[5].length = metres(0.3);
    assert_eq!(fails(split), ["chain-split", "chain-split-habit"]);
    let mut star = daisy(3, "1", 5.0);
    star.next(
        Part::device("arm", metres(15.0))
            .from("source")
            .port(loads("1"), PortIsolation::Isolated),
    );
    let ids = fails(star);
    assert!(
        ids.contains(&"chain-split") && ids.contains(&"chain-stub"),
        "{ids:?}"
    );
}

#[test]
fn every_output_of_a_splitter_is_a_link_of_its_own() {
    let mut chain = daisy(31, "1", 5.0);
    chain.parts[30].terminator = None;
    chain.next(Part::splitter("S", metres(1.0), 2).terminated(ohms(120.0)));
    for arm in ["a", "b"] {
        for n in 0..32 {
            let part = Part::device(format!("{arm}{n}"), metres(3.0))
                .port(loads("1"), PortIsolation::Isolated);
            chain.next(if n == 0 { part.from("S") } else { part });
        }
        chain.terminate(ohms(120.0));
    }
    let chain = checked(chain);
    let links = chain.links();
    let loads: Vec<_> = links
        .iter()
        .map(|link| (link.driver.as_str(), link.output, link.unit_loads()))
        .collect();
    assert_eq!(loads, [("source", 1, 32.0), ("S", 1, 32.0), ("S", 2, 32.0)]);
    let ids: Vec<_> = chain
        .judge()
        .into_iter()
        .filter(Finding::is_fail)
        .map(|f| rule_id(&f))
        .collect();
    assert_eq!(ids, ["chain-devices-habit"; 3]);
}

#[test]
fn rings_and_loose_ends_are_refused() {
    let mut ring = daisy(4, "1", 1.0);
    ring.parts[1].from = "D3".into();
    let errors = ring.check().expect_err("a ring");
    assert!(
        matches!(errors.as_slice(), [ChainError::Ring { .. }]),
        "{errors:?}"
    );
    let mut bad = daisy(3, "1", f64::NAN);
    bad.parts[0].from = "nowhere".into();
    bad.parts[1].name = "D3".into();
    bad.parts[2].terminator = Some(ohms(-1.0));
    bad.cable.velocity = 0.0;
    assert_eq!(bad.check().expect_err("faults").len(), 8);
    assert!(
        ChainSpec::new("empty", LineCable::unknown())
            .check()
            .is_err()
    );
}

/// 100 devices of one unit load: 31 and a repeater, again and again, 32 on the last: three repeaters (31 + 31 + 31 + 7).
#[test]
fn splitters_are_proposed_where_a_limit_is_exceeded() {
    let fails_after = |chain: ChainSpec| -> Vec<&'static str> {
        fails(chain)
            .into_iter()
            .filter(|id| !id.ends_with("habit"))
            .collect()
    };
    let proposal = checked(daisy(100, "1", 2.0))
        .propose(300.0)
        .expect("proposed");
    assert_eq!(proposal.added.len(), 3);
    assert_eq!(fails_after(proposal.chain.clone()), [""; 0]);
    let carried: Vec<f64> = checked(proposal.chain)
        .links()
        .iter()
        .map(|link| link.unit_loads())
        .collect();
    assert_eq!(carried, [32.0, 32.0, 32.0, 7.0]);
    // 63 is what one repeater carries.
    assert_eq!(
        checked(daisy(63, "1", 2.0))
            .propose(300.0)
            .expect("proposed")
            .added
            .len(),
        1
    );
    assert_eq!(
        checked(daisy(64, "1", 2.0))
            .propose(300.0)
            .expect("proposed")
            .added
            .len(),
        2
    );
    // 10 cables of 70 m under 300 m a link: 280, 280, 140.
    let long = checked(daisy(10, "1", 70.0))
        .propose(300.0)
        .expect("proposed");
    assert_eq!((long.added.len(), fails_after(long.chain)), (2, vec![]));
    let mut star = daisy(3, "1", 5.0);
    for arm in ["a", "b"] {
        star.next(
            Part::device(arm, metres(20.0))
                .from("source")
                .port(loads("1"), PortIsolation::Isolated),
        );
        star.next(
            Part::device(format!("{arm}2"), metres(20.0))
                .from("D2")
                .port(loads("1"), PortIsolation::Isolated),
        );
    }
    let proposal = checked(star).propose(300.0).expect("proposed");
    assert_eq!(proposal.added, ["splitter at source", "splitter at D2"]);
    assert_eq!(fails_after(proposal.chain), [""; 0]);
    // Nothing to add to a sound chain; a cable that is itself too long ends the search.
    assert!(
        checked(daisy(20, "1", 2.0))
            .propose(300.0)
            .expect("proposed")
            .added
            .is_empty()
    );
    assert!(
        checked(daisy(3, "1", 400.0))
            .propose(300.0)
            .expect("proposed")
            .added
            .len()
            <= 2
    );
}

/// ANSI E1.11: one line leaves each output. Two cables on a splitter of one output are a passive split of that output.
#[test]
fn a_splitter_has_an_output_for_each_cable() {
    let with = |outputs: u16| {
        let mut chain = ChainSpec::new("t", LineCable::data_pair(24));
        chain.next(Part::splitter("S", metres(1.0), outputs).terminated(ohms(120.0)));
        for name in ["A", "B"] {
            let device = Part::device(name, metres(10.0)).from("S");
            chain.next(
                device
                    .port(loads("1/8"), PortIsolation::Isolated)
                    .terminated(ohms(120.0)),
            );
        }
        verdict(&checked(chain).judge(), "splitter-outputs")
    };
    assert_eq!(with(1), [Verdict::Fail]);
    assert_eq!(with(2), [Verdict::AtLimit]);
    assert_eq!(with(3), [Verdict::Pass]);
    // A chain without a splitter is not asked.
    assert_eq!(
        verdict(&checked(daisy(3, "1/8", 5.0)).judge(), "splitter-outputs"),
        []
    );
}
