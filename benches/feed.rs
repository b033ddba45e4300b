//! Break and feed: one run by its length and number of emitters, and many runs one after another.
//!
//! Tape, routes and prices are invented; cores are IEC 60228:2004, table 3 (class 5, plain, 20 °C).

use criterion::{BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};
use evenrun::choose::feeding::{
    CandidateWire, CheckedRun, CostModel, FeedLimits, Fixed, LitStates, Pattern, PlaceRoutes,
    Positions, Proof, RunOutcome, RunProblem, SourceModel,
};
use evenrun::exact::{CutPitch, ExactLength};
use evenrun::load::{Diode, Load, SeriesString};
use evenrun::network::Polarity;
use evenrun::quantity::{Corners, amps, celsius, fraction, milliamps, ohms, ohms_per_metre, volts};
use evenrun::strip::{TapeEmitter, TapeModel};
use std::hint::black_box;
use std::time::Instant;

/// Ohm a metre at 20 °C and price a metre of 1.5, 2.5, 4 and 6 mm².
const WIRES: [(&str, f64, i64); 4] = [
    ("1.5 mm²", 0.0133, 90),
    ("2.5 mm²", 0.00798, 150),
    ("4 mm²", 0.00495, 240),
    ("6 mm²", 0.0033, 350),
];

fn problem(increments: u64, emitters: usize, decimetres_away: i64) -> RunProblem {
    let each = 60.0 / emitters as f64;
    let diode = Diode {
        forward_voltage: volts(3.0),
        at_current: milliamps(each),
        ideality: 2.0,
        series_resistance: ohms(0.0),
        volts_per_kelvin: 0.0,
    };
    let ballast = ohms((24.0 - 6.0 * 3.0) / (each * 1e-3));
    let string = Load::Series(SeriesString {
        diode,
        count: 6,
        ballast,
    });
    let law = string.law(celsius(25.0)).expect("a string is a load");
    let spread = |nominal: f64, low: f64, high: f64| Corners {
        low: ohms(low),
        nominal: ohms(nominal),
        high: ohms(high),
    };
    RunProblem {
        run: "invented".into(),
        tape: TapeModel {
            strip: "invented tape".into(),
            pitch: CutPitch::new(ExactLength::from_millimetres(100), 1).expect("a pitch"),
            rated: volts(24.0),
            polarity: Polarity::CommonPlus,
            common: spread(0.004, 0.0044, 0.004),
            emitters: (0..emitters)
                .map(|e| TapeEmitter {
                    name: format!("emitter {e}"),
                    rail: spread(0.004, 0.0044, 0.004),
                    law: Corners::same(law.clone()),
                })
                .collect(),
            branch: None,
        },
        increments,
        joints: Vec::new(),
        breaks: Positions::Any,
        feed_points: Positions::Any,
        reel: None,
        patterns: Pattern::ALL.to_vec(),
        places: vec![PlaceRoutes {
            place: "cupboard".into(),
            to_start: Some(ExactLength::from_millimetres(100 * decimetres_away)),
            to_end: None,
            to_marks: Vec::new(),
            slack: ExactLength::from_millimetres(500),
            source: None,
        }],
        wires: WIRES
            .iter()
            .map(|(name, r, price)| CandidateWire {
                cable: (*name).into(),
                cores: emitters + 1,
                core: Corners {
                    low: ohms_per_metre(r * 1.2),
                    nominal: ohms_per_metre(*r),
                    high: ohms_per_metre(*r),
                },
                ampacity: None,
                price_per_metre: *price,
            })
            .collect(),
        source: SourceModel {
            set_point: Corners {
                low: volts(23.76),
                nominal: volts(24.0),
                high: volts(24.24),
            },
            output_resistance: ohms(0.01),
            lead_resistance: ohms(0.005),
            switch_resistance: ohms(0.01),
            reserve: volts(0.0),
        },
        limits: FeedLimits {
            rail_current: Some(amps(5.0)),
            output_current: Some(amps(6.0)),
            segment_current: Some(amps(8.0)),
            ..FeedLimits::light_alone(fraction(0.75))
        },
        states: LitStates::AllAndEachAlone,
        costs: CostModel {
            per_segment: 2500,
            per_feed: 1800,
            per_break: 600,
            energy: None,
        },
        fixed: Fixed::default(),
        effort: 100_000,
    }
}

fn check(problem: RunProblem) -> CheckedRun {
    problem.check().expect("the invented run is sound")
}

fn report(run: &CheckedRun, what: &str) {
    match run.plan().expect("the run is planned") {
        RunOutcome::Planned(plan) => {
            let kinds: Vec<_> = plan.segments.iter().map(|s| s.pattern.words()).collect();
            println!(
                "{what}: {} segments {kinds:?}, cost {}, {}, {} evaluated",
                plan.segments.len(),
                plan.cost,
                match plan.proof {
                    Proof::Cheapest { .. } => "proven".to_owned(),
                    Proof::Gap { reason, .. } => format!("not proven: {reason}"),
                },
                plan.evaluated
            );
        }
        RunOutcome::Infeasible(_) => println!("{what}: no arrangement holds"),
    }
}

fn one_run(c: &mut Criterion) {
    let mut group = c.benchmark_group("one run, 4 wires, every pattern");
    group.sample_size(10);
    for emitters in [1, 2, 4] {
        for increments in [100, 200, 400, 800] {
            let run = check(problem(increments, emitters, 40));
            report(
                &run,
                &format!("{increments} increments, {emitters} emitters"),
            );
            group.throughput(Throughput::Elements(increments));
            let id = BenchmarkId::new(format!("{emitters} emitters"), increments);
            group.bench_with_input(id, &run, |b, run| b.iter(|| black_box(run.plan())));
        }
    }
    group.finish();
}

/// Runs of 2 m to 21.9 m, 1 m to 15.9 m away, no two alike in a row.
fn runs(count: u64) -> Vec<RunProblem> {
    (0..count)
        .map(|k| problem(20 + k * 37 % 200, 1, 10 + (k as i64) * 53 % 150))
        .collect()
}

fn plan_all(problems: &[RunProblem]) {
    for problem in problems {
        black_box(check(problem.clone()).plan()).expect("planned");
    }
}

fn many_runs(c: &mut Criterion) {
    // Once, as ten samples would take most of a minute.
    let problems = runs(10_000);
    let start = Instant::now();
    plan_all(&problems);
    println!("10000 runs one after another: {:?}", start.elapsed());
    let mut group = c.benchmark_group("many runs, one core");
    group.sample_size(10);
    for count in [100_u64, 1_000] {
        let problems = runs(count);
        group.throughput(Throughput::Elements(count));
        let id = BenchmarkId::from_parameter(count);
        group.bench_with_input(id, &problems, |b, problems| b.iter(|| plan_all(problems)));
    }
    group.finish();
}

criterion_group!(feed, one_run, many_runs);
criterion_main!(feed);
