//! Random copper with outputs, devices and profiles of every kind that the rules tell apart.
use crate::build::*;
use crate::dice::Dice;
use evenrun::device::{EnergyLimit, ShockProtection};
use evenrun::protect::*;
use evenrun::quantity::*;
use evenrun::source::Source;

/// Numbers without a pattern, drawn from short lists.
struct Draw(Dice);

impl Draw {
    fn of<T: Copy>(&mut self, all: &[T]) -> T {
        all[self.below(all.len() as u64) as usize]
    }
    fn below(&mut self, below: u64) -> u64 {
        // The low bits of neighbouring draws go together; a middle part does not.
        (self.0.next(u64::MAX) >> 24) % below
    }
    fn maybe(&mut self) -> bool {
        self.below(2) == 0
    }
}

/// The case of this number.
pub fn random(seed: u64) -> ProtectionSpec {
    let mut d = Draw(Dice(
        seed.wrapping_add(1).wrapping_mul(0x9e37_79b9_7f4a_7c15),
    ));
    let mut spec = ProtectionSpec::new();
    let outputs = 1 + d.below(9);
    let mut points = Vec::new();
    for o in 0..outputs {
        let (p, m) = (spec.point("p"), spec.point("m"));
        points.push(p);
        points.push(m);
        let low = d.of(&[11.4, 23.5, 24.0, 47.0, 58.0]);
        let unit = d.below(4);
        spec.output(OutputSpec {
            unit: format!("U{unit}"),
            shares: d.of(&[
                SharedPole::None,
                SharedPole::None,
                SharedPole::Plus,
                SharedPole::Minus,
            ]),
            volts_low: volts(low),
            volts_high: volts(low * d.of(&[1.0, 1.02, 1.2, 2.7])),
            nameplate: d.maybe().then(|| watts(60.0)),
            limit: d
                .maybe()
                .then_some(())
                .map(|()| amps(d.of(&[2.0, 5.0, 7.0, 9.5, 26.0]))),
            overload: d.of(&[
                Overload::ConstantCurrent,
                Overload::Hiccup,
                Overload::LatchOff,
                Overload::Unknown,
                Overload::FoldBack { into_short: None },
                Overload::FoldBack {
                    into_short: Some(amps(3.0)),
                },
            ]),
            resistance: ohms(d.of(&[0.0, 0.01])),
            shock: d.of(&[
                ShockProtection::Selv,
                ShockProtection::Pelv,
                ShockProtection::Other,
                ShockProtection::Unknown,
            ]),
            energy: d.of(&[
                EnergyLimit::Class2,
                EnergyLimit::Class2,
                EnergyLimit::LimitedPower,
                EnergyLimit::None,
                EnergyLimit::Unknown,
            ]),
            may_be_joined: d.maybe(),
            minus_earthed: d.of(&[None, Some(false), Some(true), Some(true)]),
            ..OutputSpec::plain(
                format!("S{o}"),
                p,
                m,
                volts(24.0),
                amps(d.of(&[1.0, 4.0, 4.3, 20.0])),
            )
        });
    }
    if outputs > 1 && d.below(3) == 0 {
        // Two outputs on one terminal, or far apart along many joins.
        if d.maybe() {
            spec.outputs[1].plus = spec.outputs[0].plus;
        } else {
            let mut from = spec.outputs[0].plus;
            for number in 0..8 {
                let to = spec.point("on the way");
                spec.join(format!("link {number}"), JoinKind::UncutTape, from, to);
                from = to;
            }
            let to = spec.outputs[1].plus;
            spec.join("last link", JoinKind::UncutTape, from, to);
        }
    }
    let devices = 3;
    for k in 0..devices {
        let curve = d.of(&[0, 1, 2, 3]);
        spec.device(DeviceSpec {
            name: format!("fuse {k}"),
            kind: DeviceKind::Fuse,
            rated: amps(d.of(&[1.0, 3.0, 5.0, 7.0, 10.0])),
            dc_volts: d.maybe().then(|| volts(32.0)),
            breaking: d.maybe().then(|| amps(20.0)),
            curve: (curve > 0).then(|| ClearingCurve {
                holds_for: if curve == 1 {
                    CurveFor::AlternatingCurrent
                } else {
                    CurveFor::DirectCurrent
                },
                points: vec![
                    (amps(d.of(&[2.0, 8.0])), seconds(d.of(&[6.0, 3.0, 0.5]))),
                    (amps(20.0), seconds(0.1)),
                ],
                source: Source::invented("x"),
            }),
        });
    }
    for j in 0..d.below(12) {
        points.push(spec.point(format!("n{j}")));
    }
    for c in 0..d.below(14) {
        let (from, to) = (d.of(&points), d.of(&points));
        let fed = if d.maybe() {
            vec![OutputId(d.below(outputs) as usize)]
        } else {
            vec![]
        };
        spec.conductor(ConductorSpec {
            may_carry: match d.below(3) {
                0 => MayCarry::NoTable("no table has it".to_string()),
                1 => carries(d.of(&[2.0, 5.0, 7.0, 40.0])),
                _ => MayCarry::Current {
                    current: amps(d.of(&[3.0, 12.0])),
                    source: Source::invented("y"),
                    largest_device: Some((amps(5.0), Source::invented("z"))),
                },
            },
            load_with_feed_lost: if d.maybe() {
                vec![("feed B".into(), amps(d.of(&[2.0, 6.0])))]
            } else {
                vec![]
            },
            fed_by: fed,
            device: (d.below(3) > 0).then(|| DeviceId(d.below(devices) as usize)),
            fault_loop: (d.below(4) > 0).then(|| FaultLoop {
                near_cold: ohms(d.of(&[0.0, 0.01, 0.3])),
                far_hot: ohms(d.of(&[0.0, 0.3, 1.0, 4.0, 20.0])),
            }),
            heat: d.maybe().then(|| HeatLimit {
                k: 115.0,
                area: square_millimetres(d.of(&[0.05, 0.5, 2.5])),
                source: Source::invented("k"),
            }),
            wet: d.maybe(),
            chopped: d.maybe().then(|| hertz(d.of(&[150.0, 1000.0]))),
            ..ConductorSpec::plain(
                format!("wire {c}"),
                from,
                to,
                amps(d.of(&[0.5, 2.0, 4.0, 7.0])),
            )
        });
    }
    for j in 0..d.below(4) {
        let kind = d.of(&[
            JoinKind::UncutTape,
            JoinKind::SharedPole,
            JoinKind::DataCommon,
            JoinKind::Inside,
            JoinKind::EarthBond,
        ]);
        let (from, to) = (d.of(&points), d.of(&points));
        spec.join(format!("join {j}"), kind, from, to);
    }
    for p in 0..d.below(3) {
        spec.profiles.push(ProfileSpec {
            about: format!("P{p}").into(),
            earthed: d.of(&[None, Some(false), Some(true), Some(true)]),
            output: OutputId(d.below(outputs) as usize),
            device: d.maybe().then(|| DeviceId(d.below(devices) as usize)),
            fault_way: (d.below(4) > 0).then(|| ohms(d.of(&[0.0, 0.5, 2.0, 6.0]))),
            switched_returns: d.maybe(),
        });
    }
    spec
}
