//! Break and feed: one run by its length and number of emitters, many runs one after another, the runs of the demo, and
//! what each acceleration of the search is worth.
//!
//! Tape, routes and prices are invented; cores are IEC 60228:2004, table 3 (class 5, plain, 20 °C).

use criterion::{BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};
use evenrun::choose::feeding::{
    Acceleration, CandidateWire, CheckedRun, CostModel, FeedLimits, Pattern, PlaceRoutes,
    Positions, Proof, Reel, RunOutcome, RunProblem, SourceModel,
};
use evenrun::exact::{CutPitch, ExactLength};
use evenrun::job;
use evenrun::load::{Diode, Load, SeriesString};
use evenrun::network::Polarity;
use evenrun::plan;
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
    let tape = TapeModel {
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
    };
    let place = PlaceRoutes {
        slack: ExactLength::from_millimetres(500),
        ..PlaceRoutes::new(
            "cupboard",
            ExactLength::from_millimetres(100 * decimetres_away),
        )
    };
    let wires = WIRES.map(|(name, r, price)| {
        let core = Corners {
            low: ohms_per_metre(r * 1.2),
            nominal: ohms_per_metre(r),
            high: ohms_per_metre(r),
        };
        CandidateWire::new(name, emitters + 1, core, price)
    });
    let set_point = Corners {
        low: volts(23.76),
        nominal: volts(24.0),
        high: volts(24.24),
    };
    let source = SourceModel {
        output_resistance: ohms(0.01),
        lead_resistance: ohms(0.005),
        switch_resistance: ohms(0.01),
        ..SourceModel::stiff(set_point)
    };
    let limits = FeedLimits {
        rail_current: Some(amps(5.0)),
        output_current: Some(amps(6.0)),
        segment_current: Some(amps(8.0)),
        ..FeedLimits::light_alone(fraction(0.75))
    };
    RunProblem {
        costs: CostModel {
            per_segment: 2500,
            per_feed: 1800,
            per_break: 600,
            energy: None,
        },
        effort: 100_000,
        ..RunProblem::new(
            "invented",
            tape,
            increments,
            vec![place],
            wires.to_vec(),
            source,
            limits,
        )
    }
}

/// The runs of a job as its planner first poses them.
fn posed(text: &str) -> Vec<RunProblem> {
    let job = job::read(text, "bench.toml").expect("a sound job");
    let runs = job.runs().iter();
    runs.filter_map(|run| plan::run_problem(&job, &run.name).ok())
        .collect()
}

/// Cases that users have, by group.
fn cases() -> Vec<(&'static str, Vec<CheckedRun>)> {
    let demo = posed(include_str!("../examples/archive_wing.toml"));
    let changed = |change: &dyn Fn(&mut RunProblem)| -> Vec<RunProblem> {
        let mut all = demo.clone();
        all.iter_mut().for_each(change);
        all
    };
    let listed = changed(&|run| {
        let each = (run.increments as usize / 12).max(1);
        run.feed_points = Positions::At((0..=run.increments).step_by(each).collect());
        run.limits.visible_step = None;
    });
    let mut anywhere = changed(&|run| {
        (run.breaks, run.feed_points) = (Positions::Any, Positions::Any);
        run.patterns = Pattern::ALL.to_vec();
    });
    let mut seen = changed(&|run| {
        run.joints.iter_mut().for_each(|joint| joint.visible = true);
        run.limits.visible_step = Some(fraction(0.05));
    });
    // Of one of each no step can be hidden: they follow arrangements until they give up.
    seen.retain(|run| run.run != "S2");
    anywhere.retain(|run| run.run != "W2");
    let forty = [1, 2, 4].map(|emitters| problem(400, emitters, 40));
    let reels = forty.clone().map(|run| RunProblem {
        reel: Some(Reel::new(50, ohms(0.004), 180)),
        ..run
    });
    let groups = [
        ("the demo's runs", demo.clone()),
        ("feeds at listed marks", listed),
        ("fed and broken anywhere", anywhere),
        ("breaks that are seen", seen),
        ("40 m of 1, 2, 4 emitters", forty.to_vec()),
        ("the same from reels of 5 m", reels.to_vec()),
        ("400 short runs", runs(400)),
    ];
    groups
        .map(|(name, all)| (name, all.into_iter().map(check).collect()))
        .to_vec()
}

/// How many times as long each group of cases takes without each acceleration.
fn accelerations(_: &mut Criterion) {
    let seconds = |runs: &[CheckedRun]| {
        let once = || {
            let start = Instant::now();
            for run in runs {
                black_box(run.plan()).expect("planned");
            }
            start.elapsed().as_secs_f64()
        };
        (0..3).map(|_| once()).fold(f64::INFINITY, f64::min)
    };
    let cases = cases();
    let with: Vec<f64> = cases.iter().map(|(_, runs)| seconds(runs)).collect();
    for ((name, runs), seconds) in cases.iter().zip(&with) {
        println!("{name}: {} runs, {:.1} ms", runs.len(), 1e3 * seconds);
    }
    for acceleration in Acceleration::ALL {
        let factor = |((_, runs), with): (&(&str, Vec<CheckedRun>), &f64)| {
            let off: Vec<_> = runs
                .iter()
                .map(|r| r.clone().without(acceleration))
                .collect();
            format!("{:.2}", seconds(&off) / with)
        };
        let factors: Vec<String> = cases.iter().zip(&with).map(factor).collect();
        println!("{acceleration:?}: {}", factors.join(", "));
    }
}

/// Each run of the demo by itself.
fn demo_runs(c: &mut Criterion) {
    let mut group = c.benchmark_group("the demo's runs");
    group.sample_size(10);
    for problem in posed(include_str!("../examples/archive_wing.toml")) {
        let name = problem.run.clone();
        let run = check(problem);
        group.bench_function(&name, |b| b.iter(|| black_box(run.plan())));
    }
    group.finish();
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

criterion_group!(feed, accelerations, demo_runs, one_run, many_runs);
criterion_main!(feed);
