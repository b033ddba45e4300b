//! Nodal analysis by hand: every node named by what it is, every resistance stamped, solved by dense elimination
//! (`tests/common/gauss.rs`). Nothing of the library's builder, network or figures is used.

use crate::gauss::gauss;
use crate::{resistive_tape, three};
use evenrun::network::{Limit, Polarity, Workspace};
use evenrun::quantity::{Corner, Corners, ohms, volts};
use evenrun::segment::{Branch, Circuit, CircuitFigures, Conductor, Feeder, Joint, Segment, State};
use evenrun::strip::TapeModel;
use proptest::prelude::*;
use std::collections::BTreeMap;

/// First and last mark, whether it is joined to the next, its feeds, its joints.
type Piece = (u64, u64, bool, Vec<(u64, f64)>, Vec<Joint>);

/// A node: what it is, and where.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Node {
    Minus,
    Plus,
    Bus(usize),
    Terminal(usize),
    Output(usize, usize),
    /// Branch, segment, rail (0 the common, then the emitters), mark.
    Mark(usize, usize, usize, u64),
    /// Branch, segment, rail, increment.
    Pad(usize, usize, usize, u64),
}

#[derive(Default)]
struct Equations {
    resistors: Vec<(Node, Node, f64)>,
    volts: BTreeMap<Node, f64>,
}

impl Equations {
    fn solve(&mut self, set_point: f64, output: f64) {
        let mut places = BTreeMap::new();
        for (a, b, _) in &self.resistors {
            for node in [a, b] {
                let next = places.len();
                if *node != Node::Minus {
                    places.entry(*node).or_insert(next);
                }
            }
        }
        // Entries of a map that misses keep the length: numbers are given without gaps.
        for (number, place) in places.values_mut().enumerate() {
            *place = number;
        }
        let n = places.len();
        let mut rows = vec![vec![0.0; n + 1]; n];
        for (a, b, ohms) in &self.resistors {
            let (a, b) = (places.get(a), places.get(b));
            for (own, other) in [(a, b), (b, a)] {
                if let Some(own) = own {
                    rows[*own][*own] += 1.0 / ohms;
                    if let Some(other) = other {
                        rows[*own][*other] -= 1.0 / ohms;
                    }
                }
            }
        }
        let plus = places[&Node::Plus];
        rows[plus][plus] += 1.0 / output;
        rows[plus][n] += set_point / output;
        let found = gauss(rows);
        self.volts = places
            .into_iter()
            .map(|(node, at)| (node, found[at]))
            .collect();
        self.volts.insert(Node::Minus, 0.0);
    }

    fn across(&self, a: Node, b: Node) -> f64 {
        (self.volts[&a] - self.volts[&b]).abs()
    }
}

/// The equations of one state at one corner; resistances are those of the nominal tape times `scale`.
fn equations(circuit: &Circuit<'_>, corner: Corner, state: &State) -> Equations {
    let mut own = Equations::default();
    for (b, branch) in circuit.branches.iter().enumerate() {
        let swapped = branch.segments[0].tape.polarity == Polarity::CommonMinus;
        let [common, far] = if swapped {
            [Node::Minus, Node::Plus]
        } else {
            [Node::Plus, Node::Minus]
        };
        let lead = branch.lead[corner].value;
        own.resistors.push((common, Node::Bus(b), lead));
        own.resistors.push((far, Node::Terminal(b), lead));
        let lit = &state.lit[b];
        for emitter in lit {
            let output = Node::Output(b, *emitter);
            own.resistors
                .push((Node::Terminal(b), output, branch.switch.value));
        }
        for (s, segment) in branch.segments.iter().enumerate() {
            let rails = std::iter::once(Conductor::Common);
            for conductor in rails.chain(lit.iter().map(|e| Conductor::Return(*e))) {
                let (rail, hub, increment) = match conductor {
                    Conductor::Common => (0, Node::Bus(b), segment.tape.common[corner].value),
                    Conductor::Return(e) => (
                        e + 1,
                        Node::Output(b, e),
                        segment.tape.emitters[e].rail[corner].value,
                    ),
                };
                let pad = |k: u64| Node::Pad(b, s, rail, k);
                for mark in segment.from..=segment.to {
                    let node = Node::Mark(b, s, rail, mark);
                    let joint: f64 = segment
                        .joints
                        .iter()
                        .filter(|j| j.mark == mark)
                        .map(|j| if rail == 0 { j.common } else { j.returns }.value)
                        .sum();
                    let half = 0.5 * (increment + joint);
                    let mut fed = false;
                    for feeder in segment.feeders.iter().filter(|f| f.mark == mark) {
                        if feeder.conductors.contains(&conductor) {
                            own.resistors.push((hub, node, feeder.core[corner].value));
                            fed = true;
                        }
                    }
                    let (left, right) = (mark > segment.from, mark < segment.to);
                    if left && (right || fed) {
                        own.resistors.push((pad(mark - 1), node, half));
                    }
                    if right && (left || fed) {
                        own.resistors.push((node, pad(mark), half));
                    }
                }
            }
            for emitter in lit {
                let cell = 1.0
                    / segment.tape.emitters[*emitter].law[corner]
                        .slope(volts(1.0))
                        .value;
                for k in segment.from..segment.to {
                    let pads = (Node::Pad(b, s, 0, k), Node::Pad(b, s, emitter + 1, k));
                    own.resistors.push((pads.0, pads.1, cell));
                }
            }
        }
    }
    own.solve(
        circuit.set_point[corner].value,
        circuit.output_resistance.value,
    );
    own
}

fn near(what: &str, found: f64, expected: f64) -> Result<(), TestCaseError> {
    let off = (found - expected).abs();
    prop_assert!(
        off <= 1e-9 * expected.abs().max(1.0),
        "{what}: {found}, by hand {expected}"
    );
    Ok(())
}

/// Every figure that a state gives, the worst over the states.
fn compare(
    circuit: &Circuit<'_>,
    corner: Corner,
    figures: &CircuitFigures,
) -> Result<(), TestCaseError> {
    let all: Vec<Equations> = circuit
        .states
        .iter()
        .map(|s| equations(circuit, corner, s))
        .collect();
    let most = |of: &dyn Fn(&Equations) -> f64| all.iter().map(of).fold(0.0, f64::max);
    let set_point = circuit.set_point[corner].value;
    let given = |e: &Equations| {
        (set_point - e.across(Node::Plus, Node::Minus)) / circuit.output_resistance.value
    };
    near("current", figures.current.value, most(&given))?;
    near(
        "power",
        figures.power.value,
        most(&|e| given(e) * e.across(Node::Plus, Node::Minus)),
    )?;
    for (b, (branch, found)) in circuit.branches.iter().zip(&figures.branches).enumerate() {
        let supplied = |e: &Equations| e.across(Node::Bus(b), Node::Terminal(b));
        near("volts", found.volts.value, supplied(&all[0]))?;
        let least = all.iter().map(supplied).fold(f64::INFINITY, f64::min);
        near("least volts of a branch", found.least_volts.value, least)?;
        for (s, (segment, found)) in branch.segments.iter().zip(&found.segments).enumerate() {
            let mut least = f64::INFINITY;
            let mut relative = f64::INFINITY;
            for (state, e) in circuit.states.iter().zip(&all) {
                for emitter in &state.lit[b] {
                    let laws = &segment.tape.emitters[*emitter].law;
                    let nominal = laws.nominal.current(volts(24.0)).value;
                    for k in segment.from..segment.to {
                        let across =
                            e.across(Node::Pad(b, s, 0, k), Node::Pad(b, s, emitter + 1, k));
                        least = least.min(across);
                        let share = laws[corner].current(volts(across)).value / nominal;
                        relative = relative.min(share);
                    }
                }
            }
            near("least volts of a cell", found.least_volts.value, least)?;
            near("least current", found.least_current.value, relative)?;
            for (feeder, found) in segment.feeders.iter().zip(&found.feeders) {
                for (conductor, amps) in &found.currents {
                    let core = feeder.core[corner].value;
                    let (rail, hub) = match conductor {
                        Conductor::Common => (0, Node::Bus(b)),
                        Conductor::Return(e) => (e + 1, Node::Output(b, *e)),
                    };
                    let own = |e: &Equations| match e.volts.get(&hub) {
                        Some(_) => e.across(hub, Node::Mark(b, s, rail, feeder.mark)) / core,
                        None => 0.0,
                    };
                    near("a core", amps.value, most(&own))?;
                }
            }
        }
    }
    Ok(())
}

/// Marks of the feeders of a segment: the common and each return enter somewhere, not always at the same marks.
fn feeders(tape: &TapeModel, marks: &[(u64, f64)], split: bool) -> Vec<Feeder> {
    let all = marks.iter().enumerate();
    all.map(|(number, (mark, core))| {
        let mut feeder = Feeder::full(tape, *mark, three(*core));
        // The first feeder brings all, the others may leave some out.
        if split && number > 0 {
            feeder
                .conductors
                .retain(|c| (*c == Conductor::Common) == (number % 2 == 1));
        }
        feeder
    })
    .collect()
}

prop_compose! {
    fn any_segment()(
        from in 0_u64..5, cells in 1_u64..12, split in any::<bool>(),
        marks in prop::collection::vec((0.0..1.0_f64, 0.01..1.0_f64), 1..4),
        joints in prop::collection::vec((0.0..1.0_f64, 0.0..0.1_f64, 0.0..0.1_f64), 0..3),
    ) -> (u64, u64, bool, Vec<(u64, f64)>, Vec<Joint>) {
        let within = |share: f64, many: u64| (share * many as f64).floor() as u64;
        let marks = marks.into_iter().map(|(m, core)| (from + within(m, cells + 1), core)).collect();
        let joints = joints
            .into_iter()
            .filter(|_| cells > 1)
            .map(|(m, common, returns)| Joint {
                mark: from + 1 + within(m, cells - 1),
                common: ohms(common),
                returns: ohms(returns),
            })
            .collect();
        (from, from + cells, split, marks, joints)
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]
    /// Ohm and Kirchhoff: every figure of a circuit of resistors is that of its nodal equations, at every corner.
    #[test]
    fn resistors_obey_the_nodal_equations(
        emitters in prop::collection::vec((20.0..200.0_f64, 0.001..0.05_f64), 1..4),
        common in 0.001..0.05_f64,
        minus in any::<bool>(),
        lead in 0.01..0.2_f64,
        switch in 0.001..0.1_f64,
        output in 0.01..0.2_f64,
        first in prop::collection::vec(any_segment(), 1..3),
        second in prop::collection::vec(any_segment(), 0..2),
    ) {
        let polarity = if minus { Polarity::CommonMinus } else { Polarity::CommonPlus };
        let tape = resistive_tape(polarity, common, &emitters);
        let other = resistive_tape(Polarity::CommonPlus, common, &emitters[..1]);
        let branch = |tape, list: &[Piece]| {
            let segments: Vec<Segment<'_>> = list
                .iter()
                .map(|(from, to, split, marks, joints)| Segment {
                    joints: joints.clone(),
                    ..Segment::plain(tape, *from, *to, feeders(tape, marks, *split))
                })
                .collect();
            Branch { lead: three(lead), switch: ohms(switch), outputs: (0..tape.emitters.len()).collect(), segments }
        };
        let mut branches = vec![branch(&tape, &first)];
        if !second.is_empty() {
            branches.push(branch(&other, &second));
        }
        let all = |b: &Branch<'_>| b.outputs.clone();
        let mut states = vec![State { lit: branches.iter().map(all).collect() }];
        states.extend((0..emitters.len()).map(|e| {
            let mut lit: Vec<Vec<usize>> = branches.iter().map(all).collect();
            lit[0] = vec![e];
            State { lit }
        }));
        let circuit = Circuit {
            set_point: Corners { low: volts(23.5), nominal: volts(24.0), high: volts(24.4) },
            output_resistance: ohms(output),
            limit: Limit::None,
            branches,
            states,
        };
        let figures = circuit.clone().check().expect("a sound circuit").solve(&mut Workspace::new());
        let figures = figures.expect("resistors have a solution");
        for corner in Corner::ALL {
            compare(&circuit, corner, &figures[corner])?;
        }
    }
}

/// A segment and its mirror image are alike, and so are a common plus and a common minus.
#[test]
fn mirror_and_polarity_change_nothing() {
    let solve = |polarity, marks: [u64; 2], joint| {
        let tape = resistive_tape(polarity, 0.01, &[(48.0, 0.012), (60.0, 0.02)]);
        let feeders = marks
            .iter()
            .zip([0.2, 0.3])
            .map(|(m, core)| Feeder::full(&tape, *m, three(core)));
        let segment = Segment {
            joints: vec![Joint {
                mark: joint,
                common: ohms(0.05),
                returns: ohms(0.03),
            }],
            ..Segment::plain(&tape, 0, 20, feeders.collect())
        };
        let circuit = Circuit::of(Corners::same(volts(24.0)), segment);
        let figures = circuit.check().expect("sound").solve(&mut Workspace::new());
        figures
            .expect("solved")
            .low
            .branches
            .remove(0)
            .segments
            .remove(0)
    };
    let one = solve(Polarity::CommonPlus, [0, 14], 5);
    let mirrored = solve(Polarity::CommonPlus, [20, 6], 15);
    let minus = solve(Polarity::CommonMinus, [0, 14], 5);
    for other in [&mirrored, &minus] {
        for (a, b) in [
            (one.least_volts.value, other.least_volts.value),
            (one.rail_current.value, other.rail_current.value),
            (one.entry_current.value, other.entry_current.value),
            (one.imbalance.value, other.imbalance.value),
            (
                one.joint_steps[0].step.value,
                other.joint_steps[0].step.value,
            ),
            (one.power.value, other.power.value),
        ] {
            assert!((a - b).abs() < 1e-9, "{a} and {b}");
        }
    }
    assert_eq!(one.weakest.emitter, mirrored.weakest.emitter);
    assert_eq!(one.weakest.increment, 19 - mirrored.weakest.increment);
}
