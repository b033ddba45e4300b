//! Ratios of the network solver to the bare elimination under it, in one run.
//!
//! Invented tape: 24 V, six white diodes and 300 ohm a cell, 12 mohm a loop link healthy
//! fed so that the far end keeps its current, and the same tape overlong (starved).
#![allow(
    clippy::needless_range_loop,
    reason = "the bare sweeps are written as textbooks do"
)]
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

/// A tape of one emitter whose loop links are `link`, as a plan feeds it: a lead both ways, a switch on one side, a core for each conductor
/// of each feed, half a link to the first cell.
fn fed_tape(law: &Law, cells: usize, link: f64, feeds: &[usize]) -> Network {
    let mut spec = NetworkSpec::new();
    let nodes = ["plus", "minus", "bus", "terminal", "output"];
    let [plus, minus, bus, terminal, output] = nodes.map(|name| spec.node(name));
    spec.stiff_source("supply", plus, minus, volts(24.0));
    spec.link("lead, common", plus, bus, ohms(0.01 * link));
    spec.link("lead, switched", minus, terminal, ohms(0.01 * link));
    spec.link("switch", terminal, output, ohms(0.02 * link));
    let id = spec.law(law.clone());
    let mut rail = |from: NodeId, track: f64| {
        let attachments = feeds.iter().map(|&cell| {
            let pad = spec.node(format!("pad of {cell}, from {}", from.0));
            spec.link(
                format!("core to {cell}, from {}", from.0),
                from,
                pad,
                ohms(0.1 * link),
            );
            Attachment::through(cell, pad, ohms(0.5 * track))
        });
        RailSpec::uniform(ohms(track), attachments.collect())
    };
    let rails = [rail(bus, 0.4 * link), rail(output, 0.6 * link)];
    spec.tape(TapeSpec::lit(
        "tape",
        Polarity::CommonPlus,
        cells,
        &[id],
        |r| rails[r].clone(),
    ));
    spec.check().expect("a network")
}

fn ratios() {
    let law = law();
    let budget = Duration::from_millis(300);
    println!("one emitter, both rails and its wiring as one network");
    println!("cells      case      fed          thomas ns/cell  solve ns/cell  ratio");
    for cells in [100, 1_000, 10_000, 1_000_000] {
        let mut bare = Bare::new(cells);
        let base = least_seconds(budget, || {
            black_box(bare.run());
        });
        for (case, link) in [
            ("healthy", healthy_link(cells)),
            ("starved", 40.0 * healthy_link(cells)),
            ("overlong", 400.0 * healthy_link(cells)),
            ("20 mohm", 0.02),
        ] {
            for (fed, feeds) in [("one end", vec![0]), ("both ends", vec![0, cells - 1])] {
                let network = fed_tape(&law, cells, link, &feeds);
                let mut work = Workspace::new();
                let (mut iterations, mut bound) = (0, 0.0);
                let took = least_seconds(budget, || {
                    let s = network
                        .solve(&SolveOptions::default(), &mut work)
                        .expect("a solution");
                    assert!(s.bound_is_rigorous());
                    (iterations, bound) = (s.iterations(), s.volt_error_bound().value);
                    black_box(s.residual());
                });
                println!(
                    "{cells:>9}  {case:<8}  {fed:<9} {:>10.2} {:>14.2} {:>9.2}  {iterations} iterations, bound {bound:.1e} V",
                    base * 1e9 / cells as f64,
                    took * 1e9 / cells as f64,
                    took / base
                );
            }
        }
    }
}

/// What a planner spends on a short tape: building and checking the network, and solving it.
fn short_tapes() {
    let law = law();
    let budget = Duration::from_millis(300);
    println!("short tapes, as a planner asks for them");
    for cells in [20, 50, 100] {
        for (fed, feeds) in [("one end", vec![0]), ("both ends", vec![0, cells - 1])] {
            let link = healthy_link(cells);
            let made = least_seconds(budget, || {
                black_box(fed_tape(&law, cells, link, &feeds));
            });
            let network = fed_tape(&law, cells, link, &feeds);
            let spec = network.spec().clone();
            let copied = least_seconds(budget, || {
                black_box(spec.clone());
            });
            let checked = least_seconds(budget, || {
                black_box(spec.clone().check().expect("a network"));
            });
            let mut work = Workspace::new();
            let solved = least_seconds(budget, || {
                let s = network
                    .solve(&SolveOptions::default(), &mut work)
                    .expect("a solution");
                black_box(s.residual());
            });
            println!(
                "{cells:>9}  {fed:<9} build {:.2} us, check {:.2} us, solve {:.2} us",
                (made - (checked - copied)) * 1e6,
                (checked - copied) * 1e6,
                solved * 1e6
            );
        }
    }
}

/// Bare block sweep: dense blocks of `R`, one inverse by elimination a row, and back; what a linear four-emitter ladder costs.
fn block_sweep<const R: usize>(
    diagonal: &[[[f64; R]; R]],
    off: &[[f64; R]],
    right: &[[f64; R]],
    kept: &mut [[[f64; R]; R]],
    x: &mut [[f64; R]],
) {
    let n = diagonal.len();
    let (mut before, mut gone) = ([[0.0; R]; R], [0.0; R]);
    for k in 0..n {
        // Schur complement of the row before: D - off * inverse * off (off is diagonal).
        let mut a = diagonal[k];
        let mut b = right[k];
        for i in 0..R {
            for j in 0..R {
                a[i][j] -= off[k][i] * before[i][j] * off[k][j];
            }
            b[i] += off[k][i] * gone[i];
        }
        // Inverse by Gauss and Jordan, no pivoting (M-matrix).
        for p in 0..R {
            let d = 1.0 / a[p][p];
            a[p][p] = 1.0;
            for j in 0..R {
                a[p][j] *= d;
            }
            for i in (0..R).filter(|i| *i != p) {
                let f = a[i][p];
                a[i][p] = 0.0;
                for j in 0..R {
                    a[i][j] -= f * a[p][j];
                }
            }
        }
        let mut v = [0.0; R];
        for i in 0..R {
            for j in 0..R {
                v[i] += a[i][j] * b[j];
            }
        }
        kept[k] = a;
        x[k] = v;
        before = a;
        gone = v;
    }
    for k in (0..n - 1).rev() {
        for i in 0..R {
            let mut v = x[k][i];
            for j in 0..R {
                v += kept[k][i][j] * off[k + 1][j] * x[k + 1][j];
            }
            x[k][i] = v;
        }
    }
}

/// A tape of `emitters` string emitters of `cells`, one end.
fn colour_network(law: &Law, emitters: usize, cells: usize, link: f64) -> Network {
    let mut spec = NetworkSpec::new();
    let (plus, minus) = (spec.node("plus"), spec.node("minus"));
    spec.stiff_source("supply", plus, minus, volts(24.0));
    let id = spec.law(law.clone());
    let rail = |node, r: f64| {
        RailSpec::uniform(ohms(r), vec![Attachment::through(0, node, ohms(0.5 * r))])
    };
    spec.tape(TapeSpec {
        name: "tape".into(),
        polarity: Polarity::CommonPlus,
        cells,
        common: rail(plus, link / emitters as f64),
        emitters: (0..emitters)
            .map(|e| EmitterSpec {
                name: format!("e{e}"),
                lit: true,
                law: id,
                exceptions: vec![],
                rail: rail(minus, link),
            })
            .collect(),
    });
    spec.check().expect("a network")
}

/// Four emitters: five potentials a cell, against block sweeps of that size and of the four cell voltages.
fn four_emitters() {
    let law = law();
    let budget = Duration::from_millis(500);
    println!("four emitters, five potentials a cell");
    for cells in [100, 1_000, 10_000] {
        let five = bare_blocks::<5>(cells, budget);
        let four = bare_blocks::<4>(cells, budget);
        for (case, link) in [
            ("healthy", 0.5 * healthy_link(cells)),
            ("starved", 200.0 * healthy_link(cells)),
        ] {
            let network = colour_network(&law, 4, cells, link);
            let mut work = Workspace::new();
            let mut iterations = 0;
            let took = least_seconds(budget, || {
                let s = network
                    .solve(&SolveOptions::default(), &mut work)
                    .expect("a solution");
                iterations = s.iterations();
                black_box(s.residual());
            });
            println!(
                "{cells:>9}  {case:<8} {:>8.1} ns/cell  {:>5.2} block sweeps of 5 ({:.1} ns/cell), {:>5.2} of 4, {iterations} iterations",
                took * 1e9 / cells as f64,
                took / five,
                five * 1e9 / cells as f64,
                took / four
            );
        }
    }
}

fn bare_blocks<const R: usize>(cells: usize, budget: Duration) -> f64 {
    let mut block = [[-0.01; R]; R];
    for (i, row) in block.iter_mut().enumerate() {
        row[i] = 2.1;
    }
    let diagonal = vec![block; cells];
    let (off, right) = (vec![[1.0; R]; cells], vec![[0.1; R]; cells]);
    let (mut kept, mut x) = (vec![[[0.0; R]; R]; cells], vec![[0.0; R]; cells]);
    least_seconds(budget, || {
        block_sweep(&diagonal, &off, &right, &mut kept, &mut x);
        black_box(x[0][0]);
    })
}

/// The simulator's operating point at 1,000 cells (one diode a string: its least work), timed inside it; skipped where it is not installed.
fn simulator() {
    let script = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/tests/reference/ngspice/generate.py"
    );
    let out = std::process::Command::new("python3")
        .args([script, "--lumped", "--time", "1000"])
        .output();
    let said = out
        .map(|o| String::from_utf8_lossy(&o.stdout).into_owned())
        .unwrap_or_default();
    let seconds = said.lines().find_map(|l| {
        l.strip_prefix("Total analysis time (seconds) = ")?
            .trim()
            .parse::<f64>()
            .ok()
    });
    let Some(seconds) = seconds else {
        println!("ngspice is not installed: not compared");
        return;
    };
    let network = colour_network(&law(), 1, 1_000, 0.25 / 1000.0);
    let mut work = Workspace::new();
    let took = least_seconds(Duration::from_millis(300), || {
        black_box(
            network
                .solve(&SolveOptions::default(), &mut work)
                .expect("a solution")
                .residual(),
        );
    });
    println!(
        "1,000 cells: ngspice {seconds} s, network {:.1} us: {:.0} times",
        took * 1e6,
        seconds / took
    );
}

fn main() {
    ratios();
    short_tapes();
    four_emitters();
    simulator();
    let mut criterion = Criterion::default().configure_from_args().sample_size(10);
    let law = law();
    let mut group = criterion.benchmark_group("one emitter");
    for cells in [1_000, 10_000] {
        group.bench_with_input(BenchmarkId::from_parameter(cells), &cells, |b, &cells| {
            let network = fed_tape(&law, cells, healthy_link(cells), &[0]);
            let mut work = Workspace::new();
            b.iter(|| {
                let s = network
                    .solve(&SolveOptions::default(), &mut work)
                    .expect("a solution");
                black_box(s.residual())
            });
        });
    }
    group.finish();
    criterion.final_summary();
}
