//! What longer segments, longer feeders and more load do to a run: where "more is worse" holds, and where not.

use evenrun::choose::feeding::*;
use evenrun::exact::{CutPitch, ExactLength};
use evenrun::load::{Law, Load, Resistive, StraightLine};
use evenrun::network::Polarity;
use evenrun::quantity::*;
use evenrun::strip::{TapeEmitter, TapeModel};
use proptest::prelude::*;

/// One segment of one pattern, whatever it costs; its limits hold always.
struct Run {
    cells: u64,
    laws: Vec<Law>,
    common: f64,
    rails: Vec<f64>,
    route_mm: i64,
    lead: f64,
    pattern: Pattern,
}

impl Run {
    fn problem(&self) -> RunProblem {
        let all = |r: f64| Corners::same(ohms(r));
        let inside = matches!(self.pattern, Pattern::Inside);
        RunProblem {
            run: "R".into(),
            tape: TapeModel {
                strip: "tape".into(),
                pitch: CutPitch::new(ExactLength::from_millimetres(100), 1).expect("a pitch"),
                rated: volts(24.0),
                polarity: Polarity::CommonPlus,
                common: all(self.common),
                emitters: (self.laws.iter().zip(&self.rails).enumerate())
                    .map(|(e, (law, rail))| TapeEmitter {
                        name: format!("e{e}"),
                        rail: all(*rail),
                        law: Corners::same(law.clone()),
                    })
                    .collect(),
                branch: None,
            },
            increments: self.cells,
            joints: Vec::new(),
            breaks: Positions::Ends,
            feed_points: if inside {
                Positions::At(vec![self.cells / 2])
            } else {
                Positions::Ends
            },
            reel: None,
            patterns: vec![self.pattern],
            places: vec![PlaceRoutes {
                place: "P".into(),
                to_start: Some(ExactLength::from_millimetres(self.route_mm)),
                to_end: Some(ExactLength::from_millimetres(self.route_mm)),
                to_marks: Vec::new(),
                slack: ExactLength::ZERO,
                source: None,
            }],
            wires: vec![CandidateWire {
                cable: "W".into(),
                cores: self.laws.len() + 1,
                core: Corners::same(ohms_per_metre(0.01)),
                ampacity: None,
                price_per_metre: 1,
            }],
            source: SourceModel {
                set_point: Corners::same(volts(24.0)),
                output_resistance: ohms(0.0),
                lead_resistance: ohms(self.lead),
                switch_resistance: ohms(0.0),
                reserve: volts(0.0),
            },
            limits: FeedLimits::light_alone(fraction(1e-6)),
            states: LitStates::Listed(vec![vec![true; self.laws.len()]]),
            costs: CostModel::default(),
            fixed: Fixed::default(),
            effort: 10_000,
        }
    }

    fn figures(&self) -> Option<SegmentFigures> {
        match self.problem().check().expect("a sound run").plan() {
            Ok(RunOutcome::Planned(plan)) => Some(plan.segments[0].figures.low.clone()),
            other => {
                assert!(matches!(other, Ok(RunOutcome::Infeasible(_))), "{other:?}");
                None
            }
        }
    }
}

fn law(load: Load) -> Law {
    load.law(celsius(25.0)).expect("a load of the test")
}

fn resistor(r: f64) -> Law {
    law(Load::Resistive(Resistive {
        resistance: ohms(r),
    }))
}

fn line(knee: f64, resistance: f64, limit: Option<f64>) -> Law {
    law(Load::Straight(StraightLine {
        knee: volts(knee),
        resistance: ohms(resistance),
        limit: limit.map(amps),
        volts_per_kelvin: 0.0,
    }))
}

fn least(figures: &SegmentFigures) -> f64 {
    figures.least_current.value
}

/// A resistor, or a knee with a plateau.
fn loads() -> impl Strategy<Value = Law> {
    prop_oneof![
        (30.0..300.0).prop_map(resistor),
        (15.0..20.0, 20.0..100.0, 0.02..0.2).prop_map(|(knee, r, i)| line(knee, r, Some(i))),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, failure_persistence: None, ..ProptestConfig::default() })]

    /// Proven scope: one emitter whose rails and feeders fold to one loop, one source voltage. A cell more, or a
    /// longer feeder, never brightens the weakest cell.
    #[test]
    fn in_one_loop_longer_is_never_brighter(
        law in loads(), rail in 0.0005..0.05_f64, cells in 1_u64..40, route in 0_i64..20_000,
        lead in 0.0..0.2_f64,
        pattern in prop::sample::select(vec![Pattern::Start, Pattern::End, Pattern::BothEnds]),
    ) {
        let run = |cells, route_mm| Run {
            cells, laws: vec![law.clone()], common: rail, rails: vec![rail], route_mm, lead, pattern,
        };
        let Some(short) = run(cells, route).figures() else { return Ok(()) };
        for other in [run(cells + 1, route), run(cells, route + 1000)] {
            if let Some(long) = other.figures() {
                prop_assert!(least(&long) <= least(&short) * (1.0 + 1e-9), "{} after {}", least(&long), least(&short));
            }
        }
    }

    /// Tried, not proven: the least relative current of several emitters fed at one end.
    #[test]
    fn several_emitters_fed_at_one_end_dim_with_length(
        laws in prop::collection::vec(loads(), 2..4), common in 0.0005..0.02_f64,
        rail in 0.0005..0.05_f64, cells in 1_u64..30, route in 0_i64..10_000,
    ) {
        let run = |cells| Run {
            cells, rails: vec![rail; laws.len()], laws: laws.clone(), common, route_mm: route, lead: 0.0,
            pattern: Pattern::Start,
        };
        if let (Some(short), Some(long)) = (run(cells).figures(), run(cells + 1).figures()) {
            prop_assert!(least(&long) <= least(&short) * (1.0 + 1e-9));
        }
    }
}

/// Colour is outside: A keeps its current to 21 V and loses it evenly to 19 V, B = (V − 18 V)/6 ohm.
/// At 21 V A : B = 1 : 1/2, at 20 V 1/2 : 1/3. Relative to A, B is a half and then two thirds.
fn improving(cells: u64) -> Run {
    Run {
        cells,
        laws: vec![line(19.0, 2.0, Some(1.0)), line(18.0, 6.0, None)],
        common: 1e-9,
        rails: vec![1e-9, 1e-9],
        route_mm: 0,
        lead: 0.6,
        pattern: Pattern::Start,
    }
}

#[test]
fn colour_may_improve_with_length() {
    let balance = |cells| {
        improving(cells)
            .figures()
            .expect("cells light")
            .imbalance
            .value
    };
    // All cells at one voltage behind 0.6 ohm. Three cells: 24 − 1.8·(1 + B) = V, so B = (4.2 − 1.8·B)/6 = 7/13
    // at 21.23 V. Four: (V − 19)/2 + (V − 18)/6 = 2V/3 − 12.5 a cell, V = (24 + 30)/(1 + 1.6) = 20.769 V.
    let b3 = 7.0 / 13.0;
    assert!((balance(3) - (1.0 - b3)).abs() < 1e-6, "{}", balance(3));
    let v4 = 54.0 / 2.6;
    let b4 = 1.0 - ((v4 - 18.0) / 6.0) / ((v4 - 19.0) / 2.0);
    assert!((balance(4) - b4).abs() < 1e-6, "{} and {b4}", balance(4));
    // Five: V = (24 + 37.5)/(1 + 2) = 20.5 V, A = 3/4, B = 5/12.
    assert!(
        (balance(5) - (1.0 - 5.0 / 9.0)).abs() < 1e-6,
        "{}",
        balance(5)
    );
    assert!(balance(5) < balance(4));
}

/// So a limit of colour may forbid a segment and permit a longer one: every length is judged for itself.
#[test]
fn a_longer_segment_may_keep_a_colour_limit_that_a_shorter_one_breaks() {
    let segments = |cells: u64| {
        let mut problem = improving(cells).problem();
        problem.limits.balance = Some(fraction(0.45));
        problem.breaks = Positions::Any;
        problem.feed_points = Positions::Any;
        match problem.check().expect("a sound run").plan() {
            Ok(RunOutcome::Planned(plan)) => plan.segments.len(),
            other => panic!("{other:?}"),
        }
    };
    // One cell to five: 0.23, 0.33, 0.46, 0.48, 0.44.
    assert_eq!([1, 2, 3, 4, 5].map(segments), [1, 1, 2, 2, 1]);
}
