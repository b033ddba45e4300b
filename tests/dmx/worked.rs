//! The list of worked examples, one by one, each to the tolerance it states.

use crate::common::{Row, rows};
use crate::rule_id;
use evenrun::device::{LevelBits, PortIsolation, UnitLoads};
use evenrun::dmx::address::{AddressProblem, Footprint, multicast};
use evenrun::dmx::bias::Bias;
use evenrun::dmx::chain::{ChainSpec, LineCable, Part};
use evenrun::dmx::electrical;
use evenrun::dmx::levels::{Curve, level_of};
use evenrun::dmx::line::{self, RateRule, StubRule};
use evenrun::dmx::pixels::PixelLine;
use evenrun::dmx::rdm::{self, Exchange};
use evenrun::dmx::sacn;
use evenrun::dmx::signal::LineNet;
use evenrun::dmx::timing::{Packet, PacketSpec, Role, most_slots_at};
use evenrun::quantity::{farads, hertz, metres, ohms, seconds, volts};

/// A result: a number, or words.
enum Found {
    Number(f64),
    Words(String),
}

use Found::{Number, Words};

fn packet(slots: u16, break_: f64, mark: f64, idle: f64) -> Packet {
    let spec = PacketSpec {
        slots,
        break_time: seconds(break_ * 1e-6),
        mark_after_break: seconds(mark * 1e-6),
        idle: seconds(idle * 1e-6),
        mark_before_break: seconds(0.0),
    };
    spec.check().expect("in range")
}

fn broken(packet: &Packet, role: Role) -> Vec<&'static str> {
    let findings = packet.judge(role);
    findings
        .iter()
        .filter(|f| f.is_fail())
        .map(rule_id)
        .collect()
}

fn bias(resistor: f64) -> Bias {
    Bias {
        supply: volts(5.0),
        resistor: ohms(resistor),
    }
}

/// Packets and their rates, unit loads, bias.
fn timing_and_loads(id: &str) -> Option<Found> {
    let role = Role::Transmitter;
    let micro = |packet: Packet| packet.duration().value * 1e6;
    let rate = |packet: Packet| packet.refresh(role).value;
    // Break to break of 1.1 s by idle time between the slots.
    let slow = |break_: f64, mark: f64| {
        let idle = (1.1e6 - break_ - mark - 44.0 * 513.0) / 512.0;
        packet(512, break_, mark, idle)
    };
    let load = |text: &str| -> UnitLoads { text.parse().expect("a load") };
    let idle = |rb: f64, ends: &[f64], loads| {
        let ends: Vec<_> = ends.iter().map(|&end| ohms(end)).collect();
        bias(rb).idle_volts(&ends, loads).value
    };
    Some(match id {
        "1-1" => Number(micro(packet(512, 92.0, 12.0, 0.0))),
        "1-2" => Number(rate(packet(512, 92.0, 12.0, 0.0))),
        "1-3" => Number(rate(packet(512, 176.0, 12.0, 0.0))),
        "1-4" => Number(micro(packet(24, 92.0, 12.0, 0.0))),
        "1-5" => Number(rate(packet(24, 92.0, 12.0, 0.0))),
        "1-6" => Number(packet(3, 92.0, 12.0, 0.0).padding(role).value * 1e6),
        "1-7" => Number(micro(packet(512, 88.0, 8.0, 0.0))),
        "1-8" => {
            let least = Role::Receiver.limits().least_break_to_break.value;
            let fills =
                |&slots: &u16| packet(slots, 88.0, 8.0, 0.0).duration().value >= least - 1e-12;
            Number(f64::from((0..=512).find(fills).expect("one does")))
        }
        "1-9" => Number(micro(packet(512, 176.0, 12.0, 8.0))),
        "1-10" => Number(f64::from(most_slots_at(
            hertz(100.0),
            *packet(0, 92.0, 12.0, 0.0).spec(),
        )?)),
        "1-11" => {
            assert_eq!(
                broken(&packet(512, 88.0, 12.0, 0.0), role),
                ["packet-break"]
            );
            Words("no: break under 92 us".into())
        }
        "1-12" => {
            assert_eq!(broken(&slow(88.0, 8.0), Role::Receiver), [""; 0]);
            Words("yes: under 1.25 s".into())
        }
        "1-13" => {
            assert_eq!(broken(&slow(92.0, 12.0), role), ["packet-break-to-break"]);
            Words("no: over 1 s".into())
        }
        "2-1" => {
            let mut chain = ChainSpec::new("t", LineCable::data_pair(24));
            for n in 0..20 {
                chain.next(
                    Part::device(format!("D{n}"), metres(1.0))
                        .port(load("1/8"), PortIsolation::Isolated),
                );
            }
            Number(chain.check().expect("a tree").links()[0].unit_loads())
        }
        "2-2" => Number(f64::from(electrical::input(load("1/4")).most)),
        "2-3" => Number(idle(562.0, &[133.0, 120.0], 32.0)),
        "2-4" => Number(idle(562.0, &[130.0, 120.0], 32.0)),
        "2-5" => Number(idle(510.0, &[120.0, 120.0], 0.0)),
        "2-6" => Number(idle(720.0, &[120.0, 120.0], 0.0)),
        "2-7" => Number(bias(620.0).matching_terminator(ohms(120.0))?.value),
        "2-8" => Number(bias(562.0).unit_loads().0),
        "2-9" => {
            let held = |count: usize| {
                let mut chain = ChainSpec::new("t", LineCable::data_pair(24));
                (0..count).for_each(|n| chain.next(Part::device(format!("D{n}"), metres(1.0))));
                chain
                    .check()
                    .expect("a tree")
                    .propose(300.0)
                    .expect("proposed")
                    .added
                    .len()
                    <= 1
            };
            Number((1..100).take_while(|&count| held(count)).count() as f64)
        }
        _ => return None,
    })
}

/// RDM and streaming ACN.
fn answers_and_network(id: &str) -> Option<Found> {
    let micro = |octets| rdm::packet(octets).expect("short").duration().value * 1e6;
    Some(match id {
        "3-1" => Number(micro(0)),
        "3-2" => Number(micro(rdm::MOST_OCTETS)),
        "3-3" => {
            let exchange = Exchange {
                asked: 0,
                answered: 19,
                after: seconds(2e-3),
            };
            Number(
                exchange
                    .refresh_beside(&packet(512, 92.0, 12.0, 0.0))
                    .expect("short")
                    .value,
            )
        }
        "3-4" => {
            let mut chain = ChainSpec::new("t", LineCable::data_pair(24));
            chain.rdm = true;
            for n in 1..=5 {
                chain.next(Part::splitter(format!("S{n}"), metres(1.0), 1).passing_rdm());
            }
            chain.next(Part::device("D", metres(1.0)));
            let findings = chain.check().expect("a tree").judge();
            let broken = findings.iter().filter(|f| f.is_fail());
            assert_eq!(
                broken
                    .filter(|f| f.rule.as_str() == "chain-rdm-splitters")
                    .count(),
                1,
                "the fifth, and only it"
            );
            Words("refuse: at most 4".into())
        }
        "3-5" => Words(multicast(300).expect("a universe").to_string()),
        "3-6" => Words(multicast(63_999).expect("a universe").to_string()),
        "3-7" => Words(multicast(64_000).map_or("refuse".into(), |address| address.to_string())),
        "3-8" => Number(10.0 * sacn::bits_per_second(512, hertz(44.0))),
        _ => return None,
    })
}

/// 3 V behind 54 ohm into 500 ns of 120 ohm; at its end `arms`, delay in ns and whether ended in 120 ohm. Volts of
/// the far end, and of the first arm's end.
fn lattice(arms: &[(usize, bool)], steps: usize) -> (Vec<f64>, Vec<f64>) {
    let mut net = LineNet::new(1e-9).expect("a step");
    let [source, far] = [(); 2].map(|()| net.node().expect("a node"));
    net.source(source, 54.0).expect("a source");
    net.line([source, far], 120.0, 500, 0.0).expect("a line");
    let mut first = far;
    for (n, &(delay, ended)) in arms.iter().enumerate() {
        let end = net.node().expect("a node");
        net.line([far, end], 120.0, delay, 0.0).expect("a line");
        if ended {
            net.resistor(end, 120.0).expect("a resistor");
        }
        if n == 0 {
            first = end;
        }
    }
    let (mut at_far, mut at_first) = (Vec::new(), Vec::new());
    net.run(
        steps,
        |_, out| out.fill(3.0),
        |node, _, volts| {
            if node == far {
                at_far.extend_from_slice(volts);
            }
            if node == first {
                at_first.extend_from_slice(volts);
            }
        },
    );
    (at_far, at_first)
}

/// The line.
fn line_examples(id: &str) -> Option<Found> {
    let [pair, thick] = [24, 22].map(LineCable::data_pair);
    let edge = seconds(50e-9);
    Some(Number(match id {
        "4-1" => 100.0 * pair.delay_per_metre() * 1e9,
        "4-2" => pair.capacitance_per_metre() * 1e12,
        "4-3" => pair.inductance_per_metre() * 1e6,
        "4-4" => pair.loop_resistance.value * 1e3,
        "4-5" => thick.loop_resistance.value * 1e3,
        "4-6-0.125" => line::category_5e_limit(hertz(125e3))?,
        "4-6-0.25" => line::category_5e_limit(hertz(250e3))?,
        "4-6-1" => line::category_5e_limit(hertz(1e6))?,
        "4-7" => StubRule::OneWay.longest(edge, &pair).value,
        "4-8" => StubRule::RoundTrip.longest(edge, &pair).value,
        "4-9" => electrical::longest_edge(seconds(4e-6)).value * 1e6,
        "4-10" => 1.5 * line::steady_share(ohms(120.0), ohms(300.0 * pair.loop_resistance.value)),
        "4-11" => line::split(2),
        "4-12" => line::reflection(ohms(120.0), ohms(f64::INFINITY)),
        "4-13" => line::reflection(ohms(100.0), ohms(120.0)),
        "4-14" => line::reflection(ohms(120.0), ohms(60.0)),
        "4-15" => line::split(3),
        "4-16-0" => lattice(&[], 3800).0[750],
        "4-16-1" => lattice(&[], 3800).0[1750],
        "4-16-2" => lattice(&[], 3800).0[2750],
        "4-16-3" => lattice(&[], 3800).0[3750],
        "4-17" => lattice(&[(400, false), (400, true)], 1200).0[600],
        "4-18" => lattice(&[(400, false), (400, true)], 1200).1[950],
        "4-19" => 1.5 * line::capacitor_echo(ohms(120.0), farads(20e-12), edge),
        "4-20" => line::loaded(ohms(120.0), farads(20e-12), seconds(15e-9)).slowing,
        "4-21" => RateRule::Curve.longest(hertz(250e3)).value,
        _ => return None,
    }))
}

/// Pixels, addresses, levels.
fn slots_and_levels(id: &str) -> Option<Found> {
    let strip = PixelLine::one_wire(24, seconds(300e-6)).expect("in range");
    let patch = |count: usize, emitters, bits| {
        let devices = (1..=count)
            .map(|n| Footprint::new(format!("D{n}"), emitters, bits))
            .collect();
        let problem = AddressProblem {
            devices,
            reserved: vec![],
            first_universe: 1,
        };
        problem.check().expect("in range").assign()
    };
    let held = |emitters, bits| {
        let patch = patch(513, emitters, bits);
        Number(patch.rows.iter().filter(|row| row.universe == 1).count() as f64)
    };
    Some(match id {
        "5-1" => Number(strip.frame(170).value * 1e6),
        "5-2" => Number(strip.rate(170).value),
        "5-3" => Number(f64::from(strip.most_pixels(hertz(60.0)))),
        "5-4" => held(3, LevelBits::Eight),
        "5-5" => held(5, LevelBits::Eight),
        "5-6" => held(6, LevelBits::Sixteen),
        "5-7" => {
            let patch = patch(200, 6, LevelBits::Eight);
            let last = patch.rows.last()?;
            Words(format!(
                "universe {}, address {}",
                last.universe, last.first
            ))
        }
        "5-8" => {
            let fits = |&address: &u16| {
                let devices = vec![Footprint::new("D", 3, LevelBits::Eight).at(1, address)];
                let problem = AddressProblem {
                    devices,
                    reserved: vec![],
                    first_universe: 1,
                };
                problem
                    .check()
                    .expect("in range")
                    .assign()
                    .findings
                    .is_empty()
            };
            assert!(!fits(&511));
            Words(format!("last allowed is {}", (1..=512).rev().find(fits)?))
        }
        "5-9" => Number(level_of(128 * 256 + 64, LevelBits::Sixteen)),
        "5-10" => Number(Curve::Lightness.output(0.5)),
        "5-11" => Number(Curve::Lightness.output(level_of(128, LevelBits::Eight))),
        "5-12" => Number(Curve::Lightness.output(0.08)),
        "5-13" => Number(Curve::Lightness.level(0.121_972_253_5)),
        "5-14" => Number(Curve::Square.output(level_of(128, LevelBits::Eight))),
        "5-15" => Number(Curve::Square.level(0.1)),
        _ => return None,
    })
}

fn compare(row: &Row, found: &Found) {
    let id = row.text("id");
    match found {
        Words(words) => assert_eq!(words, row.text("expected"), "{id}"),
        Number(number) => {
            let expected = row.number("expected");
            // Relative, but never tighter than the ten digits printed or the last bits of a sum.
            let tolerance = row.number("tolerance").max(1e-9);
            assert!(
                (number - expected).abs() <= tolerance * expected.abs().max(1e-300),
                "{id}, {}: found {number}, expected {expected}",
                row.text("inputs")
            );
        }
    }
}

#[test]
fn worked_examples() {
    let all = rows("dmx/worked_examples.csv", 71);
    for row in &all {
        assert!(row.may_be_asserted());
        let id = row.text("id");
        let found = timing_and_loads(id)
            .or_else(|| answers_and_network(id))
            .or_else(|| line_examples(id))
            .or_else(|| slots_and_levels(id));
        compare(
            row,
            &found.unwrap_or_else(|| panic!("{id}: no check for this row")),
        );
    }
    assert_eq!(all.len(), 71);
}
