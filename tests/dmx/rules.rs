//! Rules of topology, habits and cabling standards, row by row.

use crate::common::{assert_within, rows};
use evenrun::device::{LevelBits, PortIsolation, UnitLoads};
use evenrun::dmx::address::{AddressProblem, Footprint};
use evenrun::dmx::chain::{ChainSpec, LineCable, Part};
use evenrun::dmx::connector::{Connector, Wire};
use evenrun::finding::{Finding, Verdict};
use evenrun::quantity::{metres, ohms};
use evenrun::rules::words;
use evenrun::source::SourceKind;

pub(crate) fn device(name: &str, length: f64) -> Part {
    Part::device(name, metres(length)).port(UnitLoads::ONE, PortIsolation::Isolated)
}

pub(crate) fn daisy(count: usize, spacing: f64) -> ChainSpec {
    let mut chain = ChainSpec::new("t", LineCable::data_pair(24));
    for n in 1..=count {
        chain.next(device(&format!("D{n}"), spacing));
    }
    chain.terminate(ohms(120.0));
    chain
}

pub(crate) fn judge(chain: &ChainSpec) -> Vec<Finding> {
    chain.clone().check().expect("a tree").judge()
}

pub(crate) fn finding(chain: &ChainSpec, id: &str) -> Finding {
    let found = judge(chain)
        .into_iter()
        .find(|finding| finding.rule.as_str() == id);
    found.unwrap_or_else(|| panic!("no finding {id}"))
}

/// The largest whole number of metres a cable of one device may have.
fn longest(cable: LineCable, id: &str) -> f64 {
    let held = |length: f64| {
        let mut chain = daisy(1, length);
        chain.cable = cable;
        !finding(&chain, id).is_fail()
    };
    let (mut low, mut high) = (1.0, 10_000.0);
    while high - low > 1e-6 {
        let middle = f64::midpoint(low, high);
        if held(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}

#[test]
fn topology() {
    let mut memory = 0;
    let mut split = daisy(3, 5.0);
    split.next(device("side", 0.3).from("D2"));
    for row in rows("dmx/topology_rules.csv", 19) {
        if !row.may_be_asserted() {
            memory += 1;
            continue;
        }
        let what = row.text("id");
        let value = || row.number("value");
        match what {
            "top-1" | "top-4" => {
                let found = finding(&split, "chain-split");
                assert!(found.is_fail() && found.source.to_string().contains("daisy chain"));
                assert_eq!(
                    finding(&daisy(3, 5.0), "chain-split").verdict,
                    Verdict::Pass
                );
            }
            "top-2" => {
                let at = |count| finding(&daisy(count, 1.0), "chain-unit-loads").verdict;
                assert_eq!(
                    (at(value() as usize), at(value() as usize + 1)),
                    (Verdict::AtLimit, Verdict::Fail)
                );
            }
            "top-3" => {
                let mut chain = daisy(3, 5.0);
                chain.terminate(ohms(value()));
                assert!(!finding(&chain, "chain-terminator").is_fail());
                chain.parts[0].terminator = Some(ohms(value()));
                assert!(finding(&chain, "chain-terminator-extra").is_fail());
                chain.parts[0].terminator = None;
                chain.source_terminator = Some(ohms(value()));
                assert!(finding(&chain, "chain-terminator-port").is_fail());
            }
            "top-5" => {
                assert_eq!(finding(&split, "chain-stub").verdict, Verdict::AtLimit);
                assert_within(what, split.parts[3].length.value, value(), 0.0);
                split.parts[3].length = metres(value() + 1e-3);
                assert!(finding(&split, "chain-stub").is_fail());
                split.parts[3].length = metres(value());
            }
            "top-6" | "top-7" => {
                // 31 and the repeater, 32 behind it: 63 devices, each link with a terminator of its own.
                let proposal = daisy(63, 1.0)
                    .check()
                    .expect("a tree")
                    .propose(300.0)
                    .expect("proposed");
                assert_eq!(proposal.added.len(), 1);
                let chain = proposal.chain.check().expect("a tree");
                let links = chain.links();
                let loads: Vec<f64> = links.iter().map(|link| link.unit_loads()).collect();
                assert_eq!(loads, [32.0, 32.0]);
                for link in links {
                    let last = *link.parts.last().expect("a part");
                    assert_eq!(chain.spec().parts[last].terminator, Some(ohms(120.0)));
                }
                let more = daisy(64, 1.0)
                    .check()
                    .expect("a tree")
                    .propose(300.0)
                    .expect("proposed");
                assert_eq!(more.added.len(), 2, "64 do not fit one repeater");
            }
            "top-8" => {
                let source = finding(&daisy(1, 5.0), "chain-length").source.to_string();
                assert!(
                    source.contains("USITT") && source.contains("1.1"),
                    "{source}"
                );
            }
            "top-9" => assert_within(
                what,
                longest(LineCable::data_pair(24), "chain-length"),
                value(),
                1e-5,
            ),
            "top-10" => assert_within(
                what,
                longest(LineCable::data_pair(22), "chain-length"),
                value(),
                1e-5,
            ),
            "top-11" => assert_within(
                what,
                longest(LineCable::data_pair(22), "chain-length-outer"),
                value(),
                1e-5,
            ),
            "top-12" => {
                let pair = LineCable::data_pair(30);
                let core = pair.loop_resistance.value / 2.0;
                assert_within(
                    what,
                    longest(pair, "chain-resistance") * core,
                    value(),
                    1e-4,
                );
            }
            "top-13" => {
                let mut chain = daisy(3, 5.0);
                assert_eq!(finding(&chain, "chain-isolation").verdict, Verdict::Pass);
                chain.parts[1] = device("D2", 5.0)
                    .from("D1")
                    .port(UnitLoads::ONE, PortIsolation::Joined);
                let found = finding(&chain, "chain-isolation");
                assert!(found.is_fail() && found.source.to_string().contains("clause 4.6"));
            }
            // Both connectors carry common and data 1; data 2 may be absent, so nothing asks for it.
            "top-14" | "top-15" => {
                for plug in [Connector::FivePinXlr, Connector::EightPosition] {
                    for wire in [
                        Wire::Common1,
                        Wire::Data1Minus,
                        Wire::Data1Plus,
                        Wire::Data2Minus,
                        Wire::Data2Plus,
                    ] {
                        assert!(plug.contact(wire).is_some(), "{plug:?} {wire:?}");
                    }
                }
            }
            "top-16" => {
                let with = |plug| {
                    let mut chain = daisy(2, 5.0);
                    chain.connector = Some(plug);
                    chain
                        .parts
                        .iter_mut()
                        .for_each(|part| part.connector = Some(plug));
                    judge(&chain)
                };
                let kind = |plug| {
                    let found = with(plug)
                        .into_iter()
                        .find(|finding| finding.rule.as_str() == "chain-connector-kind");
                    found.map(|finding| finding.verdict.words())
                };
                let all = [
                    Connector::FivePinXlr,
                    Connector::Terminals,
                    Connector::EightPosition,
                    Connector::Other,
                ];
                assert_eq!(
                    all.map(kind),
                    [None, None, Some("not evaluated"), Some("fail")]
                );
            }
            "top-17" => {
                let said = evenrun::report::CAUTIONS
                    .iter()
                    .find(|caution| caution.text.contains("check sum"));
                assert!(said.is_some_and(|caution| caution.text.contains("clauses 1.3 and 1.5")));
            }
            "top-18" => {
                let mut chain = daisy(1, value());
                chain.parts[0].terminator = None;
                let short = finding(&chain, "chain-terminator");
                assert!(
                    short.is_fail() && words(&short).remedy.contains("45 m"),
                    "said, and still asked for"
                );
                chain.parts[0].length = metres(value() + 0.01);
                let long = finding(&chain, "chain-terminator");
                assert!(long.is_fail() && !words(&long).remedy.contains("45 m"));
            }
            other => panic!("{other}: no check for this row"),
        }
    }
    assert_eq!(memory, 1, "top-19, the shield, is from memory");
}

/// Habits: judged beside the published rules, and never with a published source.
#[test]
fn habits_of_the_trade() {
    for row in rows("dmx/trade_facts.csv", 4) {
        let value = || row.number("value");
        let (id, pass, fail) = match row.text("id") {
            "trade-1" => {
                let of = |count| daisy(count as usize, 1.0);
                ("chain-devices-habit", of(value()), of(value() + 1.0))
            }
            "trade-2" => {
                let of = |feet: f64| {
                    let mut chain = daisy(1, feet * 0.3048);
                    chain.cable = LineCable::shielded_category();
                    chain
                };
                ("chain-length-habit", of(value()), of(value() + 0.1))
            }
            "trade-3" => {
                let mut split = daisy(3, 5.0);
                split.next(device("side", 5.0).from("D2"));
                assert_eq!(
                    finding(&split, "chain-split-habit").source.kind,
                    SourceKind::CommonPractice
                );
                continue;
            }
            // Judged in `topology`, top-18.
            "trade-4" => {
                assert_within("trade-4", value(), 45.0, 0.0);
                continue;
            }
            other => panic!("{other}: no check for this row"),
        };
        assert!(row.text("source").starts_with("common practice"));
        assert_eq!(finding(&pass, id).verdict, Verdict::AtLimit, "{id}");
        let over = finding(&fail, id);
        assert!(
            over.is_fail() && over.source.kind == SourceKind::CommonPractice,
            "{id}"
        );
    }
}

#[test]
fn cabling_standards() {
    let cited = |chain: &ChainSpec, id: &str| finding(chain, id).source.to_string();
    let with = |cable| {
        let mut chain = daisy(2, 5.0);
        chain.cable = cable;
        chain
    };
    let mut memory = 0;
    for row in rows("dmx/cabling_standards.csv", 9) {
        if !row.may_be_asserted() {
            memory += 1;
            continue;
        }
        let (standard, fact) = (row.text("standard"), row.text("fact"));
        let cable = cited(&daisy(2, 5.0), "chain-cable");
        match standard {
            "ANSI E1.27-2-2009" if fact.starts_with("title") => {
                assert!(fact.contains("Permanently Installed Control Cables"));
                assert!(
                    cable.starts_with("ANSI E1.27-2, permanently installed control cables, 2009"),
                    "{cable}"
                );
            }
            "ANSI E1.27-2-2009" => {
                assert!(fact.contains("category 5, 5e, 6 and 6a all found suitable"));
                assert!(cable.contains("category 5 and higher"));
                assert!(!finding(&with(LineCable::unshielded_category()), "chain-cable").is_fail());
            }
            "ANSI E1.27-2-2009 (R2014)" => assert!(cable.contains("(R2014)")),
            "ESTA report CP/2000-1024" => {
                // Unshielded as good as 485 cable; the two may be mixed in one run.
                let mut mixed = with(LineCable::data_pair(24));
                mixed.parts[1].cable = Some(LineCable::unshielded_category());
                assert_eq!(finding(&mixed, "chain-cable").verdict, Verdict::Pass);
            }
            "ESTA summary" => {
                for cable in [
                    LineCable::shielded_category(),
                    LineCable::unshielded_category(),
                ] {
                    assert_eq!(finding(&with(cable), "chain-cable").verdict, Verdict::Pass);
                }
            }
            "USITT requirements" => {
                let source = cited(&daisy(2, 5.0), "chain-length");
                assert!(
                    fact.starts_with("24 AWG to 300 m, 22 AWG to 500 m")
                        && source.starts_with("USITT")
                );
                assert!(
                    source.contains("300 m on 24 AWG, 500 m on 22 AWG"),
                    "{source}"
                );
                for cable in [LineCable::data_pair(24), LineCable::shielded_category()] {
                    assert!(
                        (85.0..=150.0).contains(&cable.impedance.value),
                        "85 to 150 ohm"
                    );
                }
            }
            // A handbook of which only the front matter was read: nothing here rests on it.
            text if text.starts_with("Recommended Practice for DMX512") => {
                assert!(fact.contains("only its front matter"));
                let all = judge(&daisy(25, 20.0));
                assert!(
                    all.iter().all(|finding| !finding
                        .source
                        .to_string()
                        .contains("Recommended Practice"))
                );
            }
            other => panic!("line {}: no check for `{other}`", row.line),
        }
    }
    assert_eq!(
        memory, 2,
        "lengths of E1.27-2 and all of E1.27-1 are from memory"
    );
}

/// No rule says how many slots a device should use: any number that a universe holds is taken.
#[test]
fn footprints_are_free() {
    for slots in 1..=512 {
        let devices = vec![Footprint::new("D", slots, LevelBits::Eight)];
        let problem = AddressProblem {
            devices,
            reserved: vec![],
            first_universe: 1,
        };
        assert!(
            problem
                .check()
                .expect("in range")
                .assign()
                .findings
                .is_empty()
        );
    }
}
