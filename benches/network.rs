//! Ratios of the network solver to the bare elimination under it, in one run.
//!
//! Invented tape: 24 V, six white diodes and 300 ohm a cell, 12 mohm a loop link healthy
//! fed so that the far end keeps its current, and the same tape overlong (starved).
use criterion::{BenchmarkId, Criterion};
use evenrun::load::{Diode, Law, Load, SeriesString};
use evenrun::network::*;
use evenrun::quantity::*;
use std::hint::black_box;
use std::time::{Duration, Instant};

fn law() -> Law {
    let diode = Diode {
        forward_voltage: volts(3.0),
        at_current: milliamps(20.0),
        ideality: 2.0,
        series_resistance: ohms(3.0),
        volts_per_kelvin: -0.002,
    };
    Load::Series(SeriesString {
        diode,
        count: 6,
        ballast: ohms(300.0),
    })
    .law(celsius(25.0))
    .expect("the bench's cell")
}

/// Bare Thomas sweep: `a, b, c, d` given, the solution in `x`; one division a row.
fn thomas(a: &[f64], b: &[f64], c: &[f64], d: &[f64], cp: &mut [f64], x: &mut [f64]) {
    let n = b.len();
    let m = 1.0 / b[0];
    cp[0] = c[0] * m;
    x[0] = d[0] * m;
    for k in 1..n {
        let m = 1.0 / (b[k] - a[k] * cp[k - 1]);
        cp[k] = c[k] * m;
        x[k] = (d[k] - a[k] * x[k - 1]) * m;
    }
    for k in (0..n - 1).rev() {
        x[k] -= cp[k] * x[k + 1];
    }
}

struct Bare {
    a: Vec<f64>,
    b: Vec<f64>,
    c: Vec<f64>,
    d: Vec<f64>,
    cp: Vec<f64>,
    x: Vec<f64>,
}

impl Bare {
    fn new(n: usize) -> Self {
        Self {
            a: vec![-1.0; n],
            b: vec![2.01; n],
            c: vec![-1.0; n],
            d: vec![0.01; n],
            cp: vec![0.0; n],
            x: vec![0.0; n],
        }
    }
    fn run(&mut self) -> f64 {
        thomas(
            &self.a,
            &self.b,
            &self.c,
            &self.d,
            &mut self.cp,
            &mut self.x,
        );
        self.x[0]
    }
}

/// Least seconds of one call, over about `budget`.
fn least_seconds(budget: Duration, mut call: impl FnMut()) -> f64 {
    call();
    let (start, mut least) = (Instant::now(), f64::INFINITY);
    let mut inner = 1_u32;
    while start.elapsed() < budget {
        let from = Instant::now();
        for _ in 0..inner {
            call();
        }
        let took = from.elapsed().as_secs_f64();
        if took < 50e-6 {
            inner *= 2;
            continue;
        }
        least = least.min(took / f64::from(inner));
    }
    least
}

/// Loop link so that a ladder of `cells` is healthy (the end keeps most of its current), ohm.
fn healthy_link(cells: usize) -> f64 {
    // 0.02 A a cell: end drop 0.02·r·N²/2 = 1.0 V.
    1.0 / (0.01 * (cells as f64) * (cells as f64))
}

fn ratios() {
    let law = law();
    let budget = Duration::from_millis(300);
    println!("cells      case     thomas ns/cell  solve ns/cell  ratio  passes (coarse)");
    for cells in [100, 1_000, 10_000, 1_000_000] {
        let mut bare = Bare::new(cells);
        let base = least_seconds(budget, || {
            black_box(bare.run());
        });
        for (case, link) in [
            ("healthy", healthy_link(cells)),
            ("starved", 400.0 * healthy_link(cells)),
            ("dark end", 0.02),
        ] {
            let feeds = [LoopFeed {
                cell: 0,
                resistance: ohms(0.05 * link),
            }];
            let ladder = LoopLadder::new(
                &law,
                volts(24.0),
                cells,
                LoopLinks::Uniform(ohms(link)),
                &feeds,
            )
            .expect("a ladder");
            let mut work = LoopWork::new();
            let (mut passes, mut coarse, mut bound) = (0, 0, 0.0);
            let took = least_seconds(budget, || {
                let s = ladder.solve(&mut work).expect("a solution");
                (passes, coarse, bound) =
                    (s.passes(), s.coarse_passes(), s.volt_error_bound().value);
                black_box(s.least_voltage());
            });
            println!(
                "{cells:>9}  {case:<8} {:>10.2} {:>14.2} {:>9.2}  {passes} ({coarse})  bound {bound:.1e} V",
                base * 1e9 / cells as f64,
                took * 1e9 / cells as f64,
                took / base
            );
        }
    }
}

fn general() {
    let law = law();
    let budget = Duration::from_millis(500);
    println!("general path on the same ladder");
    for cells in [100, 1_000, 10_000] {
        for (case, link) in [
            ("healthy", healthy_link(cells)),
            ("starved", 400.0 * healthy_link(cells)),
        ] {
            let feeds = [LoopFeed {
                cell: 0,
                resistance: ohms(0.05 * link),
            }];
            let ladder = LoopLadder::new(
                &law,
                volts(24.0),
                cells,
                LoopLinks::Uniform(ohms(link)),
                &feeds,
            )
            .expect("a ladder");
            let mut work = LoopWork::new();
            let fast = least_seconds(budget, || {
                black_box(ladder.solve(&mut work).expect("a solution").least_voltage());
            });
            let mut spec = NetworkSpec::new();
            let (plus, minus) = (spec.node("plus"), spec.node("minus"));
            spec.stiff_source("supply", plus, minus, volts(24.0));
            let id = spec.law(law.clone());
            let rail = |node| {
                RailSpec::uniform(
                    ohms(0.5 * link),
                    vec![Attachment::through(0, node, ohms(0.025 * link))],
                )
            };
            spec.tape(TapeSpec {
                name: "tape".into(),
                polarity: Polarity::CommonPlus,
                cells,
                common: rail(plus),
                emitters: vec![EmitterSpec {
                    name: "white".into(),
                    lit: true,
                    law: id,
                    exceptions: vec![],
                    rail: rail(minus),
                }],
            });
            let network = spec.check().expect("a network");
            let mut work = Workspace::new();
            let mut iterations = 0;
            let slow = least_seconds(budget, || {
                let s = network
                    .solve(&SolveOptions::default(), &mut work)
                    .expect("a solution");
                iterations = s.iterations();
                black_box(s.residual());
            });
            println!(
                "{cells:>9}  {case:<8} {:>10.2} ns/cell  {:>6.2} times the fast path, {iterations} iterations",
                slow * 1e9 / cells as f64,
                slow / fast
            );
        }
    }
}

fn main() {
    ratios();
    general();
    let mut criterion = Criterion::default().configure_from_args().sample_size(10);
    let law = law();
    let mut group = criterion.benchmark_group("loop ladder");
    for cells in [1_000, 10_000] {
        group.bench_with_input(BenchmarkId::from_parameter(cells), &cells, |b, &cells| {
            let feeds = [LoopFeed {
                cell: 0,
                resistance: ohms(0.05),
            }];
            let links = LoopLinks::Uniform(ohms(healthy_link(cells)));
            let ladder =
                LoopLadder::new(&law, volts(24.0), cells, links, &feeds).expect("a ladder");
            let mut work = LoopWork::new();
            b.iter(|| black_box(ladder.solve(&mut work).expect("a solution").least_voltage()));
        });
    }
    group.finish();
    criterion.final_summary();
}
