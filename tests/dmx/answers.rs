//! Chains that answer: bias, splitters that pass RDM; and connectors along a chain.

use crate::chains::{checked, daisy, fails};
use evenrun::dmx::bias::Bias;
use evenrun::dmx::chain::{ChainError, ChainSpec, LineCable, Part, PartKind};
use evenrun::dmx::connector::Connector;
use evenrun::finding::{Finding, Limit, Subject, Value, Verdict};
use evenrun::quantity::{metres, ohms, volts};
use evenrun::rules::{line, words};
use proptest::prelude::*;

/// Devices that answer, one behind another, with a bias of the standard's kind.
fn answering(count: usize, spacing: f64) -> ChainSpec {
    let mut chain = daisy(count, "1", spacing);
    chain.rdm = true;
    chain.bias = Some(Bias {
        supply: volts(5.0),
        resistor: ohms(562.0),
    });
    chain.source_terminator = Some(ohms(133.0));
    chain
}

fn of<'a>(findings: &'a [Finding], id: &str) -> &'a Finding {
    let found = findings.iter().find(|finding| finding.rule.as_str() == id);
    found.unwrap_or_else(|| panic!("no finding {id}"))
}

#[test]
fn the_idle_line_is_held() {
    // No cable, 32 unit loads: the network as the table has it, 246.1 mV, and 118.9 Ω at the port.
    let near = checked(answering(32, 0.0)).judge();
    assert_eq!(words(of(&near, "chain-bias")).figure, "246 mV");
    assert_eq!(of(&near, "chain-bias").verdict, Verdict::Pass);
    assert_eq!(words(of(&near, "chain-bias-far")).figure, "246 mV");
    assert_eq!(words(of(&near, "chain-terminator-near")).figure, "118.9 Ω");
    // One device at 300 m, by hand: 24 kohm || 120 ohm behind 50.53 ohm is 169.93 ohm; beside 133 ohm 74.61 ohm;
    // 5 V behind 1124 ohm: 311.2 mV; at the end 119.4/169.93 of it: 218.7 mV.
    let far = checked(answering(1, 300.0)).judge();
    assert_eq!(words(of(&far, "chain-bias")).figure, "311 mV");
    assert_eq!(words(of(&far, "chain-bias-far")).figure, "219 mV");
    // 500 m: more at the port, too little at the end.
    let longer = checked(answering(1, 500.0)).judge();
    assert!(!of(&longer, "chain-bias").is_fail() && of(&longer, "chain-bias-far").is_fail());
    let mut weak = answering(32, 0.0);
    weak.source_terminator = Some(ohms(130.0));
    assert_eq!(
        fails(weak.clone()),
        ["chain-devices-habit", "chain-bias"],
        "243.8 mV"
    );
    weak.rdm = false;
    weak.source_terminator = None;
    assert_eq!(
        of(&checked(weak).judge(), "chain-bias").limit,
        Some(Limit::AtLeast(volts(0.2).into())),
        "without RDM the threshold"
    );
    let mut unstated = answering(3, 1.0);
    unstated.bias = None;
    assert!(of(&checked(unstated).judge(), "chain-bias").is_not_evaluated());
    let mut wrong = answering(3, 1.0);
    wrong.source_terminator = Some(ohms(60.0));
    assert!(of(&checked(wrong).judge(), "chain-terminator-near").is_fail());
    let mut hostile = answering(3, 1.0);
    hostile.bias = Some(Bias {
        supply: volts(f64::NAN),
        resistor: ohms(0.0),
    });
    let errors = hostile.check().expect_err("no bias");
    assert!(
        matches!(errors.as_slice(), [ChainError::Bias { .. }]),
        "{errors:?}"
    );
}

#[test]
fn splitters_of_a_chain_that_answers_pass_it() {
    let mut chain = answering(40, 2.0);
    chain.parts[39].terminator = None;
    chain.next(Part::splitter("old", metres(1.0), 2).terminated(ohms(120.0)));
    chain.next(Part::device("side", metres(5.0)).from("D3"));
    chain.source_terminator = None;
    let before = fails(chain.clone());
    for id in [
        "chain-rdm-pass",
        "chain-split",
        "chain-unit-loads",
        "chain-terminator-port",
    ] {
        assert!(before.contains(&id), "{id}: {before:?}");
    }
    let proposal = checked(chain.clone()).propose(300.0).expect("proposed");
    assert_eq!(proposal.replaced, ["old"]);
    assert!(!proposal.added.is_empty());
    let near = proposal.chain.source_terminator.expect("terminated").value;
    assert!(
        (near - 134_880.0 / 1004.0).abs() < 1e-9,
        "beside 562 ohm: {near}"
    );
    for part in &proposal.chain.parts {
        if let PartKind::Splitter { rdm, .. } = part.kind {
            assert!(rdm, "{}", part.name);
        }
    }
    let after: Vec<_> = fails(proposal.chain)
        .into_iter()
        .filter(|id| !id.ends_with("habit"))
        .collect();
    assert_eq!(after, [""; 0]);
    chain.rdm = false;
    let plain = checked(chain).propose(300.0).expect("proposed");
    assert!(plain.replaced.is_empty() && plain.chain.source_terminator.is_none());
    let passes = |part: &&Part| matches!(part.kind, PartKind::Splitter { rdm: true, .. });
    assert_eq!(plain.chain.parts.iter().filter(passes).count(), 0);
}

#[test]
fn connectors_that_do_not_fit() {
    let mut chain = daisy(3, "1", 5.0);
    assert!(
        checked(chain.clone())
            .judge()
            .iter()
            .all(|f| !f.rule.as_str().starts_with("chain-connector")),
        "none stated"
    );
    chain.connector = Some(Connector::FivePinXlr);
    chain.parts[0].connector = Some(Connector::FivePinXlr);
    let open = checked(chain.clone()).judge();
    let open = of(&open, "chain-connector");
    assert!(
        open.is_not_evaluated() && line(open).contains("D2, D3"),
        "{}",
        line(open)
    );
    chain.parts[1].connector = Some(Connector::EightPosition);
    chain.parts[2].connector = Some(Connector::Terminals);
    let findings = checked(chain.clone()).judge();
    let found = of(&findings, "chain-connector");
    assert!(
        found.is_fail()
            && matches!(&found.about, Subject::DataCable { from, to, .. } if (from.as_str(), to.as_str()) == ("D1", "D2")),
        "{found:?}"
    );
    let contacts = Connector::FivePinXlr.joins(Connector::EightPosition);
    assert_eq!(found.value("contacts"), Some(&Value::Contacts { contacts }));
    let remedy = words(found).remedy;
    assert!(
        remedy.contains("1 to 7, 1 to 8, 2 to 2, 3 to 1"),
        "{remedy}"
    );
    assert_eq!(
        fails(chain.clone()),
        ["chain-connector"],
        "a cable from plug to terminals fits"
    );
    let kind = of(&findings, "chain-connector-kind");
    assert!(
        kind.is_not_evaluated() && words(kind).says.contains("contacts 4, 5 and 7"),
        "{kind:?}"
    );
    // Through a joint the cable still ends at the device before it.
    let mut jointed = ChainSpec::new("t", LineCable::data_pair(24));
    jointed.connector = Some(Connector::FivePinXlr);
    jointed.next(Part::joint("box", metres(1.0)));
    jointed.next(
        Part::device("D", metres(1.0))
            .plugged(Connector::Other)
            .terminated(ohms(120.0)),
    );
    let ids = fails(jointed);
    assert_eq!(ids, ["chain-connector", "chain-connector-kind"]);
}

proptest! {
    /// The resistors named in the remedy hold the line, and 1 ohm more does not.
    #[test]
    fn the_remedy_of_a_weak_bias_is_enough(count in 1_usize..32, spacing in 0.0_f64..20.0, resistor in 600.0_f64..20e3) {
        let mut chain = answering(count, spacing);
        let with = |chain: &mut ChainSpec, ohm: f64| {
            chain.bias = Some(Bias { supply: volts(5.0), resistor: ohms(ohm) });
            of(&checked(chain.clone()).judge(), "chain-bias").clone()
        };
        let weak = with(&mut chain, resistor);
        prop_assume!(weak.is_fail());
        let Some(Value::Figure(named)) = weak.value("resistor") else {
            panic!("no figure");
        };
        let named = named.value();
        let remedy = words(&weak).remedy;
        prop_assert!(named < 1.0 || remedy.contains(&format!("{named} Ω each at most")), "{}", remedy);
        prop_assume!(named >= 1.0);
        prop_assert!(!with(&mut chain, named).is_fail());
        prop_assert!(with(&mut chain, named + 1.0).is_fail());
    }
}
