//! Derivatives from the adjoint against central differences.
use crate::build::*;
use evenrun::network::*;
use evenrun::quantity::*;

/// Two emitters, common fed at both ends, returns at one; smooth laws.
fn network(change: impl FnOnce(&mut NetworkSpec)) -> NetworkSpec {
    let mut spec = NetworkSpec::new();
    let (plus, minus, pad) = (spec.node("plus"), spec.node("minus"), spec.node("pad"));
    spec.source(SourceSpec {
        name: "supply".into(),
        plus,
        minus,
        set_point: volts(24.0),
        tolerance: percent(0.0),
        output_resistance: ohms(0.05),
        limit: Limit::None,
    });
    spec.link("main", plus, pad, ohms(0.1));
    let white = spec.law(string("white", 6, 300.0));
    let red = spec.law(string("red", 6, 600.0));
    let joint = ohms(0.02);
    spec.tape(TapeSpec {
        name: "tape".into(),
        polarity: Polarity::CommonPlus,
        cells: 12,
        common: RailSpec {
            links: Along::Each(vec![ohms(0.05); 11]),
            attachments: vec![
                Attachment::through(0, pad, joint),
                Attachment::through(11, pad, ohms(0.3)),
            ],
        },
        emitters: vec![
            emitter(
                "white",
                white,
                RailSpec {
                    links: Along::Each(vec![ohms(0.08); 11]),
                    attachments: vec![Attachment::through(0, minus, joint)],
                },
            ),
            emitter(
                "red",
                red,
                RailSpec {
                    links: Along::Each(vec![ohms(0.06); 11]),
                    attachments: vec![Attachment::through(3, minus, joint)],
                },
            ),
        ],
    });
    change(&mut spec);
    spec
}

const FIGURES: [Figure; 4] = [
    Figure::NodeVoltage(NodeId(2)),
    Figure::CellVoltage {
        tape: TapeId(0),
        emitter: 0,
        cell: 7,
    },
    Figure::CellCurrent {
        tape: TapeId(0),
        emitter: 1,
        cell: 11,
    },
    Figure::SourceCurrent(SourceId(0)),
];

fn value(spec: NetworkSpec, figure: Figure) -> f64 {
    let options = SolveOptions {
        step_tolerance: volts(1e-12),
        ..SolveOptions::default()
    };
    let network = spec.check().unwrap();
    let mut work = Workspace::new();
    let s = network.solve(&options, &mut work).unwrap();
    match figure {
        Figure::NodeVoltage(node) => s.node_voltage(node).unwrap().value,
        Figure::CellVoltage {
            tape,
            emitter,
            cell,
        } => s.tape(tape).unwrap().cell_volts(emitter)[cell],
        Figure::CellCurrent {
            tape,
            emitter,
            cell,
        } => s.tape(tape).unwrap().cell_amps(emitter)[cell],
        Figure::SourceCurrent(source) => s.source_current(source).unwrap().value,
    }
}

/// Central difference of a figure to a parameter moved by `step`.
fn difference(figure: Figure, step: f64, change: impl Fn(&mut NetworkSpec, f64)) -> f64 {
    let at = |by: f64| value(network(|s| change(s, by)), figure);
    (at(step) - at(-step)) / (2.0 * step)
}

fn check(what: &str, figure: Figure, found: f64, expected: f64) {
    // Central differences of a 1e-12 V solve over a step of 1e-3 of the parameter: 1e-6 of the value or of a typical one.
    let off = (found - expected).abs();
    assert!(
        off <= 2e-6 * expected.abs() + 2e-9,
        "{what} of {figure:?}: {found} against {expected}"
    );
}

#[test]
fn every_parameter_of_every_figure() {
    for figure in FIGURES {
        let network_now = network(|_| {}).check().unwrap();
        let mut work = Workspace::new();
        let options = SolveOptions {
            step_tolerance: volts(1e-12),
            ..SolveOptions::default()
        };
        let solution = network_now.solve(&options, &mut work).unwrap();
        let s = solution.sensitivity(figure).expect("a sensitivity");
        let of =
            |step: f64, change: &dyn Fn(&mut NetworkSpec, f64)| difference(figure, step, change);
        check(
            "link",
            figure,
            s.link(LinkId(0)).unwrap(),
            of(1e-4, &|n, by| n.links[0].resistance += ohms(by)),
        );
        check(
            "set point",
            figure,
            s.per_source_volt[0],
            of(1e-3, &|n, by| n.sources[0].set_point += volts(by)),
        );
        check(
            "output",
            figure,
            s.per_source_ohm[0],
            of(1e-4, &|n, by| n.sources[0].output_resistance += ohms(by)),
        );
        for rail in 0..3 {
            let of_link = |k: usize| {
                of(1e-4, &|n: &mut NetworkSpec, by| {
                    let tape = &mut n.tapes[0];
                    let spec = if rail == 0 {
                        &mut tape.common
                    } else {
                        &mut tape.emitters[rail - 1].rail
                    };
                    let Along::Each(links) = &mut spec.links else {
                        panic!("listed")
                    };
                    links[k] += ohms(by);
                })
            };
            for k in [0, 4, 10] {
                check(
                    &format!("rail {rail} link {k}"),
                    figure,
                    s.per_rail_ohm[0][rail][k],
                    of_link(k),
                );
            }
            let of_joint = of(1e-4, &|n: &mut NetworkSpec, by| {
                let tape = &mut n.tapes[0];
                let spec = if rail == 0 {
                    &mut tape.common
                } else {
                    &mut tape.emitters[rail - 1].rail
                };
                spec.attachments[0].resistance += ohms(by);
            });
            check(
                &format!("rail {rail} joint"),
                figure,
                s.per_attachment_ohm[0][rail][0],
                of_joint,
            );
        }
        for e in 0..2 {
            // One kelvin is 6·0.002 V on both strings.
            let kelvin = of(0.5, &|n: &mut NetworkSpec, by| {
                let load = [("white", 300.0), ("red", 600.0)][e];
                let string = evenrun::load::SeriesString {
                    diode: diode(load.0),
                    count: 6,
                    ballast: ohms(load.1),
                };
                n.laws[e] = evenrun::load::Load::Series(string)
                    .law(celsius(25.0 + by))
                    .unwrap();
            });
            check(
                "cell temperature",
                figure,
                s.per_cell_volt[0][e] * 6.0 * 0.002,
                kelvin,
            );
            let draw = of(1e-3, &|n: &mut NetworkSpec, by| {
                n.laws[e] = n.laws[e].times(1.0 + by).unwrap()
            });
            check("draw", figure, s.per_cell_share[0][e], draw);
        }
        let copper = of(1e-3, &|n: &mut NetworkSpec, by| {
            let Along::Each(links) = &mut n.tapes[0].common.links else {
                panic!("listed")
            };
            links.iter_mut().for_each(|r| *r *= 1.0 + by);
        });
        check(
            "whole rail",
            figure,
            s.per_rail_share(&solution, TapeId(0), Rail::Common)
                .unwrap(),
            copper,
        );
    }
}

/// Stiff branches keep their digits: the set point of a stiff source, and the resistance of a joint of 0 ohm.
#[test]
fn stiff_branches() {
    let stiff = |by: f64| {
        network(|n| {
            n.sources[0].output_resistance = ohms(0.0);
            n.sources[0].set_point += volts(by);
            n.tapes[0].common.attachments.truncate(1);
            n.tapes[0].common.attachments[0].resistance = ohms(0.0);
        })
    };
    for figure in FIGURES {
        let checked = stiff(0.0).check().unwrap();
        let mut work = Workspace::new();
        let solution = checked
            .solve(
                &SolveOptions {
                    step_tolerance: volts(1e-12),
                    ..SolveOptions::default()
                },
                &mut work,
            )
            .unwrap();
        let s = solution.sensitivity(figure).expect("a sensitivity");
        let expected = (value(stiff(1e-3), figure) - value(stiff(-1e-3), figure)) / 2e-3;
        check("set point", figure, s.per_source_volt[0], expected);
    }
    assert!(solved(network(|_| {}), |s| s
        .sensitivity(Figure::NodeVoltage(NodeId(99)))
        .is_none()));
}
