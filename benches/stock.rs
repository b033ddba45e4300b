//! Cutting stock and assignment of loads: time with the gap shown, and growth.
//!
//! `highs/*` solve the cutting jobs of `tests/reference/highs` one after the other.

use criterion::{Criterion, criterion_group, criterion_main};
use evenrun::exact::ExactLength;
use evenrun::progress::Progress;
use evenrun::quantity::{amps, fraction, volts, watts};
use evenrun::stock::{self, CheckedStock, Objective, Piece, StockLength, StockSpec};
use evenrun::supply::{self, CheckedSupply, SupplyKind, SupplyLoad, SupplyProblem};
use std::hint::black_box;

/// Invented pieces of a length from 281 mm to 920 mm.
fn pieces(count: i64, least_cost: bool) -> CheckedStock {
    let mm = ExactLength::from_millimetres;
    let mut spec = StockSpec::new("profile");
    spec.kerf = mm(4);
    spec.stock.push(StockLength::new("long", mm(2000), 2000));
    if least_cost {
        spec.objective = Objective::LeastCost;
        spec.stock.push(StockLength::new("short", mm(1500), 1550));
    }
    for n in 0..count {
        let length = mm(281 + (n * n * 37 + n * 11) % 640);
        spec.pieces.push(Piece::new(format!("p{n}"), length));
    }
    spec.check().expect("the pieces are good")
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

/// The cutting jobs of the reference file, in its order.
fn reference() -> Vec<CheckedStock> {
    let path = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/tests/reference/highs/stock.csv"
    );
    let mut reader = csv::Reader::from_path(path).expect("the reference file");
    let mut jobs = Vec::new();
    for record in reader.records() {
        let record = record.expect("a row");
        let mm = |text: &str| ExactLength::from_millimetres(text.parse().expect("a length"));
        let mut spec = StockSpec::new(&record[0]);
        spec.objective = Objective::LeastCost;
        spec.kerf = mm(&record[2]);
        for (n, entry) in record[3].split(';').enumerate() {
            let cells: Vec<&str> = entry.split(':').collect();
            let price = cells[1].parse().expect("a price");
            let mut kind = StockLength::new(format!("stock {n}"), mm(cells[0]), price);
            kind.count = cells[2].parse().ok();
            spec.stock.push(kind);
        }
        for (n, length) in record[4].split(';').enumerate() {
            spec.pieces.push(Piece::new(format!("p{n}"), mm(length)));
        }
        jobs.push(spec.check().expect("a good row"));
    }
    jobs
}

fn bench(c: &mut Criterion) {
    let mut group = c.benchmark_group("cut");
    group.sample_size(10);
    for count in [60, 125, 250, 500] {
        for (name, least_cost) in [("bars", false), ("cost", true)] {
            let job = pieces(count, least_cost);
            let plan = stock::plan(&job, &mut Progress::silent()).expect("a plan");
            eprintln!(
                "{count} pieces, {name}: value {}, bound {}, gap {}, proven {}",
                plan.value,
                plan.lower_bound,
                plan.gap(),
                plan.proven
            );
            group.bench_function(format!("{name}/{count}"), |b| {
                b.iter(|| stock::plan(black_box(&job), &mut Progress::silent()));
            });
        }
    }
    let jobs = reference();
    group.bench_function(format!("highs/{} jobs", jobs.len()), |b| {
        b.iter(|| {
            jobs.iter()
                .filter(|job| stock::plan(job, &mut Progress::silent()).is_ok())
                .count()
        });
    });
    group.finish();
    let mut group = c.benchmark_group("assign");
    group.sample_size(10);
    for count in [12, 50, 200, 1_000] {
        let job = loads(count);
        let plan = supply::assign(&job, &mut Progress::silent()).expect("an assignment");
        eprintln!(
            "{count} loads: cost {}, bound {}, gap {}, proven {}",
            plan.cost,
            plan.lower_bound,
            plan.gap(),
            plan.proven
        );
        group.bench_function(format!("loads/{count}"), |b| {
            b.iter(|| supply::assign(black_box(&job), &mut Progress::silent()));
        });
    }
    group.finish();
}

criterion_group!(benches, bench);
criterion_main!(benches);
