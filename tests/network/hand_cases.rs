//! Cases worked by hand; the arithmetic is in the comment of each.
use crate::build::*;
use crate::common::assert_within;
use evenrun::network::*;
use evenrun::quantity::*;

/// A stiff 24 V source, a law, and one tape.
fn tape_on_24_volts(
    law: evenrun::load::Law,
    tape: impl FnOnce(NodeId, NodeId, LawId) -> TapeSpec,
) -> (NetworkSpec, TapeId) {
    let mut spec = NetworkSpec::new();
    let (plus, minus) = (spec.node("plus"), spec.node("minus"));
    spec.stiff_source("supply", plus, minus, volts(24.0));
    let law = spec.law(law);
    let tape = spec.tape(tape(plus, minus, law));
    (spec, tape)
}

/// Constant current 0.03 A a cell, 8.21 milliohm a loop link before each of 100 cells: 0.03·0.00821·100·101/2 = 1.2438 V.
#[test]
fn uniform_constant_current_drops_half_of_what_the_whole_would() {
    let (spec, tape) = tape_on_24_volts(constant(0.03), |plus, minus, law| {
        let (c, r) = (0.00821 / 2.0, 0.00821 / 2.0);
        one_emitter(
            100,
            law,
            c,
            r,
            vec![Attachment::through(0, plus, ohms(c))],
            vec![Attachment::through(0, minus, ohms(r))],
        )
    });
    solved(spec, |s| {
        let v = s.tape(tape).unwrap().cell_volts(0);
        assert_within(
            "end drop",
            24.0 - v[99],
            0.03 * 0.00821 * 100.0 * 101.0 / 2.0,
            1e-9,
        );
        assert_within("end drop as printed", 24.0 - v[99], 1.2438, 5e-5);
    });
}

/// Knee cell, continuous: lambda = 1/sqrt(0.1642·0.1) = 7.804 m; end 6/cosh(5/7.804) = 4.949 V above the knee, 63.5 W.
#[test]
fn knee_cell_follows_the_hyperbolic_cosine() {
    let cells = 2000;
    let link = 0.1642 * 5.0 / cells as f64;
    let (spec, tape) = tape_on_24_volts(
        line(18.0, cells as f64 / (0.1 * 5.0), None),
        |plus, minus, law| {
            let half = ohms(link / 4.0);
            one_emitter(
                cells,
                law,
                link / 2.0,
                link / 2.0,
                vec![Attachment::through(0, plus, half)],
                vec![Attachment::through(0, minus, half)],
            )
        },
    );
    solved(spec, |s| {
        let v = s.tape(tape).unwrap().cell_volts(0);
        assert_within("end above the knee", v[cells - 1] - 18.0, 4.949, 5e-4);
        assert_within("flux of the end", (v[cells - 1] - 18.0) / 6.0, 0.825, 5e-4);
        assert_within("power", s.total_source_power().value, 63.5, 0.05);
    });
}

/// Two nodes, common 1 ohm between them, green return stiff: near green 2.0153 A alone, 2.0534 A with 5 A of red at the far node.
fn shared_return(red: bool) -> f64 {
    let mut spec = NetworkSpec::new();
    let (plus, minus) = (spec.node("plus"), spec.node("minus"));
    spec.stiff_source("supply", plus, minus, volts(24.0));
    let green = spec.law(resistor(10.0));
    let none = spec.law(law(evenrun::load::Load::Open));
    let red_law = spec.law(constant(5.0));
    let tape = spec.tape(TapeSpec {
        name: "tape".into(),
        polarity: Polarity::CommonPlus,
        cells: 2,
        common: RailSpec::uniform(ohms(1.0), vec![Attachment::at(0, plus)]),
        emitters: vec![
            emitter(
                "green",
                green,
                RailSpec::uniform(ohms(0.0), vec![Attachment::through(0, minus, ohms(1.0))]),
            ),
            EmitterSpec {
                lit: red,
                exceptions: vec![(0, none)],
                ..emitter(
                    "red",
                    red_law,
                    RailSpec::uniform(ohms(0.0), vec![Attachment::at(1, minus)]),
                )
            },
        ],
    });
    solved(spec, |s| s.tape(tape).unwrap().cell_amps(0)[0])
}

#[test]
fn red_can_brighten_green() {
    assert_within("green alone", shared_return(false), 2.0153, 5e-5);
    assert_within("green beside red", shared_return(true), 2.0534, 5e-5);
}

/// Links 1 ohm a loop, cells 1 ohm: V_end/V = 1/2, 1/5, 1/13 and R_in = 2, 5/3, 13/8 ohm.
#[test]
fn fibonacci_ladder() {
    for (cells, end, input) in [
        (1, 1.0 / 2.0, 2.0),
        (2, 1.0 / 5.0, 5.0 / 3.0),
        (3, 1.0 / 13.0, 13.0 / 8.0),
    ] {
        let (spec, tape) = tape_on_24_volts(resistor(1.0), |plus, minus, law| {
            let one = ohms(1.0);
            one_emitter(
                cells,
                law,
                1.0,
                0.0,
                vec![Attachment::through(0, plus, one)],
                vec![Attachment::at(0, minus)],
            )
        });
        solved(spec, |s| {
            let v = s.tape(tape).unwrap().cell_volts(0);
            assert_within("end over supply", v[cells - 1] / 24.0, end, 1e-12);
            assert_within(
                "input resistance",
                24.0 / s.source_current(SourceId(0)).unwrap().value,
                input,
                1e-12,
            );
        });
    }
}

/// Two supplies of 24.24 V and 23.76 V, 0.05 ohm each, 10 A: 23.75 V, 9.8 A and 0.2 A. At 9 A the second gives nothing.
#[test]
fn one_per_cent_between_supplies_shares_badly() {
    let at = |demand: f64| {
        let mut spec = NetworkSpec::new();
        let (a, b, node, minus) = (
            spec.node("a"),
            spec.node("b"),
            spec.node("load"),
            spec.node("minus"),
        );
        spec.stiff_source("first", a, minus, volts(24.24));
        spec.stiff_source("second", b, minus, volts(23.76));
        spec.link("wire a", a, node, ohms(0.05));
        spec.link("wire b", b, node, ohms(0.05));
        let law = spec.law(constant(demand));
        spec.load("load", node, minus, law);
        solved(spec, |s| {
            let of = |k| s.source_current(SourceId(k)).unwrap().value;
            (
                s.node_voltage(node).unwrap().value,
                of(0),
                of(1),
                s.source_state(SourceId(1)).unwrap(),
            )
        })
    };
    let (v, first, second, _) = at(10.0);
    assert_within("voltage", v, 23.75, 1e-9);
    assert_within("first", first, 9.8, 1e-9);
    assert_within("second", second, 0.2, 1e-9);
    let (v, first, second, state) = at(9.0);
    assert_within("first", first, 9.0, 1e-9);
    assert_within("voltage", v, 24.24 - 0.45, 1e-9);
    assert_eq!((second, state), (0.0, SourceState::Blocked));
}

/// No load, 24 V and 22 V at the ends: a one-way source gives nothing (a two-way one would take 2/0.364 = 5.5 A).
#[test]
fn no_back_feed_into_a_lower_supply() {
    let mut spec = NetworkSpec::new();
    let (a, b, minus) = (spec.node("a"), spec.node("b"), spec.node("minus"));
    spec.stiff_source("high", a, minus, volts(24.0));
    spec.stiff_source("low", b, minus, volts(22.0));
    let none = spec.law(law(evenrun::load::Load::Open));
    let feeder = ohms(0.1);
    let plus = vec![
        Attachment::through(0, a, feeder),
        Attachment::through(9, b, feeder),
    ];
    let tape = one_emitter(
        10,
        none,
        0.164 / 9.0,
        0.0,
        plus,
        vec![Attachment::at(0, minus)],
    );
    spec.tape(tape);
    solved(spec, |s| {
        assert_eq!(s.source_current(SourceId(0)).unwrap().value, 0.0);
        assert_eq!(s.source_current(SourceId(1)).unwrap().value, 0.0);
        assert_within("low end", s.node_voltage(b).unwrap().value, 24.0, 1e-9);
    });
}

/// Plus from one end, return from the other: 0.6 A/m, 0.0821 ohm/m a rail, 5 m, constant current.
/// Drop at x: i·r·(L²/2 + L·x − x²): 0.5·i·r·L² at the ends, 0.75·i·r·L² in the middle, i·r·L² = 1.2315 V being the end drop fed alike.
/// So 0.616 V and 0.924 V: the spread is 0.308 V, a quarter of 1.2315 V.
#[test]
fn opposite_ends_quarter_the_spread() {
    let cells = 1000;
    let rail = 0.0821 * 5.0 / cells as f64;
    let (spec, tape) = tape_on_24_volts(constant(3.0 / cells as f64), |plus, minus, law| {
        let half = ohms(rail / 2.0);
        one_emitter(
            cells,
            law,
            rail,
            rail,
            vec![Attachment::through(0, plus, half)],
            vec![Attachment::through(cells - 1, minus, half)],
        )
    });
    solved(spec, |s| {
        let v = s.tape(tape).unwrap().cell_volts(0);
        assert_within("ends", 24.0 - v[0], 0.616, 1e-3);
        assert_within("middle", 24.0 - v[cells / 2], 0.924, 1e-3);
        assert_within("spread", v[0] - v[cells / 2], 1.2315 / 4.0, 1e-3);
    });
}

/// Outside the scope of "less load never dims": 1 V, common from the left, return from the right; three cells of
/// 1 ohm, 1 ohm of common between the first two, 1 ohm of return between the last two.
/// `2·I1' + I2' = 1`, `I1' + 3·I2' + I3' = 1`, `I2' + 2·I3' = 1` with the links swapped about the middle: the outer cells draw 0.5 A, the
/// middle one none. Without the third cell `2·I1 + I2 = 1`, `I1 + 3·I2 = 1`: the first draws 0.4 A.
#[test]
fn a_cell_removed_may_dim_another_fed_from_opposite_ends() {
    let first = |third: bool| {
        let mut spec = NetworkSpec::new();
        let (plus, minus) = (spec.node("plus"), spec.node("minus"));
        spec.stiff_source("supply", plus, minus, volts(1.0));
        let (middle_plus, middle_minus) = (spec.node("plus, right"), spec.node("minus, left"));
        spec.link("common", plus, middle_plus, ohms(1.0));
        spec.link("return", middle_minus, minus, ohms(1.0));
        let law = spec.law(resistor(1.0));
        spec.load("first", plus, middle_minus, law);
        spec.load("second", middle_plus, middle_minus, law);
        if third {
            spec.load("third", middle_plus, minus, law);
        }
        solved(spec, |s| s.load_current(LoadId(0)).unwrap().value)
    };
    assert_within("with three cells", first(true), 0.5, 1e-9);
    assert_within("with two", first(false), 0.4, 1e-9);
}

/// 3 A spread evenly over 5 m of 0.164 ohm/m, feeders 0.1 ohm and 0.4 ohm at the ends of one supply: moments about the far
/// feed give 3·(0.4 + 0.41)/(0.1 + 0.4 + 0.82) = 1.841 A and 1.159 A; with the second feeder open the first carries all 3 A.
#[test]
fn a_feeder_lost_leaves_the_other_with_all() {
    let at = |second: f64| {
        let cells = 100;
        let link = 0.164 * 5.0 / cells as f64;
        let mut spec = NetworkSpec::new();
        let (plus, minus, a, b) = (
            spec.node("plus"),
            spec.node("minus"),
            spec.node("feed a"),
            spec.node("feed b"),
        );
        spec.stiff_source("supply", plus, minus, volts(24.0));
        let first = spec.link("feeder a", plus, a, ohms(0.1));
        let second = spec.link("feeder b", plus, b, ohms(second));
        let law = spec.law(constant(3.0 / cells as f64));
        let half = ohms(link / 2.0);
        let plus = vec![
            Attachment::through(0, a, half),
            Attachment::through(cells - 1, b, half),
        ];
        spec.tape(one_emitter(
            cells,
            law,
            link,
            0.0,
            plus,
            vec![Attachment::at(0, minus)],
        ));
        solved(spec, |s| {
            (
                s.link_current(first).unwrap().value,
                s.link_current(second).unwrap().value,
            )
        })
    };
    let (first, second) = at(0.4);
    assert_within("first feeder", first, 3.0 * 0.81 / 1.32, 1e-9);
    assert_within("second feeder", second, 3.0 - 3.0 * 0.81 / 1.32, 1e-9);
    let (first, second) = at(f64::INFINITY);
    assert_within("first feeder alone", first, 3.0, 1e-9);
    assert_eq!(second, 0.0);
}
