//! Cutting stock and assignment of loads: ratio to HiGHS on the reference instances, then time
//! with the gap shown for large jobs (invented lengths and loads).

#[path = "../tests/common/mod.rs"]
mod common;
#[path = "stock/highs.rs"]
mod highs;
#[path = "../tests/common/highs.rs"]
mod instances;

use criterion::{Criterion, criterion_group, criterion_main};
use evenrun::choose::devices::{self, CheckedSupply, SupplyKind, SupplyLoad, SupplyProblem};
use evenrun::choose::stock::{self, CheckedStock, Objective, Piece, StockLength, StockSpec};
use evenrun::exact::ExactLength;
use evenrun::progress::Progress;
use evenrun::quantity::{amps, fraction, volts, watts};
use std::hint::black_box;

/// Numbers without a pattern, the same in every run.
fn scattered(seed: u64) -> impl FnMut(i64) -> i64 {
    let mut state = seed;
    move |below| {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (state >> 33) as i64 % below
    }
}

const ONE: &[(i64, i64)] = &[(3000, 1)];
const THREE: &[(i64, i64)] = &[(3000, 3000), (2500, 2550), (2000, 2080)];
const FEW: [i64; 8] = [812, 1140, 655, 1290, 433, 990, 377, 1810];

/// 500 pieces: name, kerf, bars as (length, price), lengths with their mitre allowance.
fn large_jobs() -> Vec<(&'static str, CheckedStock)> {
    type Length = fn(&mut dyn FnMut(i64) -> i64) -> (i64, i64);
    type Job = (&'static str, i64, &'static [(i64, i64)], Length);
    let jobs: [Job; 8] = [
        ("few lengths", 3, ONE, |r| (FEW[r(8) as usize], 0)),
        ("few lengths, three bars", 3, THREE, |r| {
            (FEW[r(8) as usize], 0)
        }),
        ("scattered", 3, ONE, |r| (300 + r(1200), 0)),
        ("scattered, no kerf", 0, ONE, |r| (300 + r(1200), 0)),
        ("scattered, three bars", 3, THREE, |r| (300 + r(1200), 0)),
        ("mitres", 2, ONE, |r| (400 + r(800), 29 * r(3))),
        ("short", 4, &[(6000, 1)], |r| (200 + r(1400), 0)),
        ("two or three to a bar", 0, ONE, |r| (780 + r(450), 0)),
    ];
    let mm = ExactLength::from_millimetres;
    jobs.into_iter()
        .enumerate()
        .map(|(seed, (name, kerf, bars, length))| {
            let mut spec = StockSpec::new(name);
            spec.kerf = mm(kerf);
            for &(length, price) in bars {
                let name = length.to_string();
                spec.stock.push(StockLength::new(name, mm(length), price));
            }
            if bars.len() > 1 {
                spec.objective = Objective::LeastCost;
            }
            let mut random = scattered(seed as u64 + 1);
            for n in 0..500 {
                let (own, mitre) = length(&mut random);
                let mut piece = Piece::new(format!("p{n}"), mm(own));
                piece.end_allowance = mm(mitre);
                spec.pieces.push(piece);
            }
            (name, spec.check().expect("the pieces are good"))
        })
        .collect()
}

fn loads(count: u32) -> CheckedSupply {
    let mut problem = SupplyProblem::new("demo");
    for (name, rated, outputs, output, price) in [
        ("96 W", 96.0, 2, 4.0, 4_000),
        ("240 W", 240.0, 4, 5.0, 8_700),
    ] {
        problem.kinds.push(SupplyKind {
            name: name.into(),
            volts: volts(24.0),
            power: watts(rated),
            outputs,
            output_current: amps(output),
            derating: fraction(1.0),
            price,
        });
    }
    for n in 0..count {
        let power = f64::from(8_000 + (n * n * 37 + n * 811) % 61_000) / 1000.0;
        problem.loads.push(SupplyLoad {
            id: format!("l{n}"),
            volts: volts(24.0),
            current: amps(power / 24.0),
            power: watts(power),
            zone: "hall".into(),
            place: "cupboard".into(),
            emergency: false,
        });
    }
    problem.check().expect("the loads are good")
}

fn bench(c: &mut Criterion) {
    highs::compare();
    let mut group = c.benchmark_group("500 pieces");
    group.sample_size(10);
    for (name, job) in large_jobs() {
        let plan = stock::plan(&job, &mut Progress::silent()).expect("a plan");
        eprintln!(
            "500 pieces, {name}: value {}, bound {}, gap {:.2} %, proven {}",
            plan.value,
            plan.lower_bound,
            100.0 * plan.gap() as f64 / plan.value as f64,
            plan.proven
        );
        group.bench_function(name, |b| {
            b.iter(|| stock::plan(black_box(&job), &mut Progress::silent()));
        });
    }
    group.finish();
    let mut group = c.benchmark_group("assign");
    group.sample_size(10);
    for count in [12, 50, 200, 1_000] {
        let job = loads(count);
        let plan = devices::assign(&job, &mut Progress::silent()).expect("an assignment");
        eprintln!(
            "{count} loads: cost {}, bound {}, gap {:.2} %, proven {}",
            plan.cost,
            plan.lower_bound,
            100.0 * plan.gap() as f64 / plan.cost as f64,
            plan.proven
        );
        group.bench_function(format!("loads/{count}"), |b| {
            b.iter(|| devices::assign(black_box(&job), &mut Progress::silent()));
        });
    }
    group.finish();
}

criterion_group!(benches, bench);
criterion_main!(benches);
