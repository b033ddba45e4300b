//! Folding the rails of a tape into one loop changes nothing.
//!
//! An exception that draws what every cell draws keeps a tape from folding: the same network by the general path.
use crate::build::*;
use crate::strategies::*;
use evenrun::network::*;
use evenrun::quantity::*;
use proptest::prelude::*;

/// The same network, kept from folding.
fn unfolded(mut spec: NetworkSpec) -> NetworkSpec {
    for tape in &mut spec.tapes {
        for emitter in &mut tape.emitters {
            emitter.exceptions = vec![(0, emitter.law)];
        }
    }
    spec
}

fn close(what: &str, a: &[f64], b: &[f64], within: f64) -> Result<(), TestCaseError> {
    prop_assert_eq!(a.len(), b.len());
    for (k, (x, y)) in a.iter().zip(b).enumerate() {
        prop_assert!(
            (x - y).abs() <= within,
            "{what} {k}: {x} against {y}, within {within}"
        );
    }
    Ok(())
}

/// Every figure of a solution by both paths.
fn both_agree(spec: NetworkSpec) -> Result<(), TestCaseError> {
    let general = unfolded(spec.clone());
    let (nodes, links, tapes) = (spec.nodes.len(), spec.links.len(), spec.tapes.len());
    solved(spec, |s| {
        solved(general, |g| {
            let within = s.volt_error_bound().value + g.volt_error_bound().value;
            // A current follows a voltage over the copper beside it; stiff copper is compared by voltage only.
            for tape in (0..tapes).map(TapeId) {
                let (a, b) = (s.tape(tape).unwrap(), g.tape(tape).unwrap());
                close("cell volts", a.cell_volts(0), b.cell_volts(0), within)?;
                close("cell amps", a.cell_amps(0), b.cell_amps(0), within)?;
                for rail in [Rail::Common, Rail::Return(0)] {
                    close("rail volts", a.rail_volts(rail), b.rail_volts(rail), within)?;
                }
            }
            for node in (0..nodes).map(NodeId) {
                let (a, b) = (
                    s.node_voltage(node).unwrap().value,
                    g.node_voltage(node).unwrap().value,
                );
                prop_assert!((a - b).abs() <= within, "{node:?}: {a} against {b}");
            }
            for link in (0..links).map(LinkId) {
                let (a, b) = (
                    s.link_current(link).unwrap().value,
                    g.link_current(link).unwrap().value,
                );
                prop_assert!(
                    (a - b).abs() <= 1e-6 * (1.0 + a.abs()),
                    "{link:?}: {a} against {b}"
                );
            }
            let (a, b) = (
                s.source_current(SourceId(0)).unwrap().value,
                g.source_current(SourceId(0)).unwrap().value,
            );
            prop_assert!(
                (a - b).abs() <= 1e-7 * (1.0 + a.abs()),
                "source: {a} against {b}"
            );
            prop_assert!(s.bound_is_rigorous());
            Ok(())
        })
    })
}

/// A tape of two rails as plans feed it: leads, a switch on one side, cores of their own to feeds where not every conductor enters, joints with
/// shares of their own.
#[derive(Debug, Clone)]
struct Planned {
    law: evenrun::load::Law,
    cells: usize,
    track: f64,
    share: f64,
    joints: Vec<(usize, f64, f64)>,
    leads: [f64; 3],
    feeds: [Vec<(usize, f64)>; 2],
    polarity: Polarity,
}

impl Planned {
    fn add(&self, spec: &mut NetworkSpec, name: &str, from: [NodeId; 2]) {
        let nodes = ["bus", "terminal", "output"].map(|n| spec.node(format!("{name}, {n}")));
        spec.link(
            format!("{name}, lead"),
            from[0],
            nodes[0],
            ohms(self.leads[0]),
        );
        spec.link(
            format!("{name}, lead back"),
            from[1],
            nodes[1],
            ohms(self.leads[1]),
        );
        spec.link(
            format!("{name}, switch"),
            nodes[1],
            nodes[2],
            ohms(self.leads[2]),
        );
        let law = spec.law(self.law.clone());
        let mut rail = |r: usize| {
            let track = self.track * if r == 0 { self.share } else { 1.0 - self.share };
            let link = |k: usize| {
                let joints = self.joints.iter().filter(|j| j.0 % self.cells == k);
                track + joints.map(|j| if r == 0 { j.1 } else { j.2 }).sum::<f64>()
            };
            let links = Along::Each((0..self.cells - 1).map(|k| ohms(link(k))).collect());
            let attachments = self.feeds[r]
                .iter()
                .enumerate()
                .map(|(number, &(cell, core))| {
                    let mark = spec.node(format!("{name}, mark {r} {number}"));
                    spec.link(
                        format!("{name}, core {r} {number}"),
                        [nodes[0], nodes[2]][r],
                        mark,
                        ohms(core),
                    );
                    Attachment::through(cell % self.cells, mark, ohms(track / 2.0))
                });
            RailSpec {
                attachments: attachments.collect(),
                links,
            }
        };
        let rails = [rail(0), rail(1)];
        spec.tape(TapeSpec::lit(
            name,
            self.polarity,
            self.cells,
            &[law],
            |r| rails[r].clone(),
        ));
    }
}

fn planned(
    law: impl Strategy<Value = evenrun::load::Law>,
    polarity: Polarity,
) -> impl Strategy<Value = Planned> {
    let feeds = || prop::collection::vec((0_usize..1000, -3.0..0.0), 1..=3);
    let joint = (0_usize..1000, 0.0..0.02, 0.0..0.05);
    let numbers = (1_usize..150, -3.5..-0.5, 0.05..0.95);
    (
        law,
        numbers,
        prop::collection::vec(joint, 0..3),
        prop::array::uniform3(0.0..0.3),
        feeds(),
        feeds(),
        any::<bool>(),
    )
        .prop_map(
            move |(law, (cells, track, share), joints, leads, common, ret, alike)| {
                let ohm = |all: Vec<(usize, f64)>| -> Vec<(usize, f64)> {
                    all.into_iter().map(|(k, e)| (k, 10_f64.powf(e))).collect()
                };
                let common = ohm(common);
                let ret = if alike { common.clone() } else { ohm(ret) };
                Planned {
                    law,
                    cells,
                    track: 10_f64.powf(track),
                    share,
                    joints,
                    leads,
                    feeds: [common, ret],
                    polarity,
                }
            },
        )
}

proptest! {
    #![proptest_config(config(300))]

    /// One loop, any monotone law, any links, one to three feeds.
    #[test]
    fn one_loop_of_any_links(case in one_loop(any_law(), 120)) {
        both_agree(case.network().0)?;
    }

    /// Tapes as plans feed them, one or two on a supply, of either polarity.
    #[test]
    fn tapes_as_plans_feed_them(case in prop_oneof![Just(Polarity::CommonPlus), Just(Polarity::CommonMinus)].prop_flat_map(|p| prop::collection::vec(planned(any_law(), p), 1..=2)), output in 0.0..0.1) {
        let mut spec = NetworkSpec::new();
        let ends = [spec.node("plus"), spec.node("minus")];
        spec.stiff_source("supply", ends[0], ends[1], volts(24.0));
        spec.sources[0].output_resistance = ohms(output);
        for (number, tape) in case.iter().enumerate() {
            let from = if tape.polarity == Polarity::CommonPlus { ends } else { [ends[1], ends[0]] };
            tape.add(&mut spec, &format!("tape {number}"), from);
        }
        both_agree(spec)?;
    }

    /// Uniform links are equal links.
    #[test]
    fn uniform_links_are_equal_links(law in any_law(), cells in 2_usize..2000, track in -6.0..0.5, at in 0_usize..2000, also in 0_usize..2000) {
        let track = 10_f64.powf(track);
        let volts = |links: Along<ElectricalResistance>| {
            let mut spec = NetworkSpec::new();
            let [plus, minus] = ["plus", "minus"].map(|n| spec.node(n));
            spec.stiff_source("supply", plus, minus, volts(24.0));
            let law = spec.law(law.clone());
            let rail = |r: usize| {
                let attachments = [at, also].map(|k| Attachment::through(k % cells, [plus, minus][r], ohms(0.3 * track)));
                RailSpec { links: links.clone(), attachments: attachments.to_vec() }
            };
            let tape = spec.tape(TapeSpec::lit("tape", Polarity::CommonPlus, cells, &[law], rail));
            solved(spec, |s| s.tape(tape).unwrap().cell_volts(0).to_vec())
        };
        let each = volts(Along::Each(vec![ohms(track); cells - 1]));
        close("cell", &volts(Along::Uniform(ohms(track))), &each, 3e-9)?;
    }

    /// A solve is a function of the network: what the workspace held before changes no bit.
    #[test]
    fn the_workspace_leaves_no_trace(case in one_loop(any_law(), 400), other in one_loop(any_law(), 400)) {
        let (network, other) = (case.network().0.check().unwrap(), other.network().0.check().unwrap());
        let volts = |work: &mut Workspace| network.solve(&SolveOptions::default(), work).unwrap().tape(TapeId(0)).unwrap().cell_volts(0).to_vec();
        let mut used = Workspace::new();
        other.solve(&SolveOptions::default(), &mut used).unwrap();
        prop_assert_eq!(volts(&mut used), volts(&mut Workspace::new()));
    }

    /// The derivatives of a folded solution are those of the general one.
    #[test]
    fn sensitivities_are_the_same(case in planned((3_u32..=7, 50.0..600.0).prop_map(|(count, ballast)| string("white", count, ballast)), Polarity::CommonPlus)) {
        let mut spec = NetworkSpec::new();
        let ends = [spec.node("plus"), spec.node("minus")];
        spec.stiff_source("supply", ends[0], ends[1], volts(24.0));
        case.add(&mut spec, "tape", ends);
        let figure = Figure::CellVoltage { tape: TapeId(0), emitter: 0, cell: case.cells - 1 };
        let of = |spec: NetworkSpec| solved(spec, |s| s.sensitivity(figure));
        let (Some(a), Some(b)) = (of(spec.clone()), of(unfolded(spec))) else { return Ok(()) };
        let most = a.per_link_ohm.iter().fold(1.0, |m: f64, x| m.max(x.abs()));
        close("per link", &a.per_link_ohm, &b.per_link_ohm, 1e-6 * most)?;
        close("per volt", &a.per_source_volt, &b.per_source_volt, 1e-6)?;
    }
}
