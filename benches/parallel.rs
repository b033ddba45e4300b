//! Many runs on one thread and on two: the ratio in one run, and criterion's figures beside it.
//!
//! `cargo bench --bench parallel --features parallel`. The machine must be quiet: the ratio printed is that of the best of several
//! alternating rounds, with the number of cores that the machine has.

use criterion::{Criterion, criterion_group, criterion_main};
use evenrun::choose::feeding::{RunProblem, plan_each};
use evenrun::progress::Progress;
use evenrun::{job, plan};
use rayon::ThreadPool;
use std::hint::black_box;
use std::time::{Duration, Instant};

const DEMO: &str = include_str!("../examples/archive_wing.toml");

/// Runs of 40 to 139 increments with the tape, wires and routes of a run of the demo, all different.
fn problems() -> Vec<RunProblem> {
    let job = job::read(DEMO, "archive_wing.toml").expect("the demo is sound");
    let one = plan::run_problem(&job, "S1").expect("a run of the demo");
    (0..200)
        .map(|n| {
            let mut problem = one.clone();
            problem.run = format!("run {n}");
            problem.increments = 40 + n / 2;
            problem.joints.clear();
            for place in &mut problem.places {
                place.to_marks.retain(|mark| mark.0 <= problem.increments);
            }
            problem
        })
        .collect()
}

fn pool(threads: usize) -> ThreadPool {
    let pool = rayon::ThreadPoolBuilder::new().num_threads(threads);
    pool.build().expect("a pool")
}

fn planned(problems: &[RunProblem], pool: &ThreadPool) -> usize {
    let answers = pool.install(|| plan_each(problems, &mut Progress::silent()));
    answers.iter().filter(|a| a.is_ok()).count()
}

fn bench(c: &mut Criterion) {
    let problems = problems();
    let pools = [pool(1), pool(2)];
    assert_eq!(planned(&problems, &pools[0]), problems.len());
    let mut best = [Duration::MAX; 2];
    for _ in 0..9 {
        for (pool, best) in pools.iter().zip(&mut best) {
            let start = Instant::now();
            black_box(planned(&problems, pool));
            *best = start.elapsed().min(*best);
        }
    }
    eprintln!(
        "{} runs: one thread {:?}, two threads {:?}, {:.2} times as fast; this machine has {} cores",
        problems.len(),
        best[0],
        best[1],
        best[0].as_secs_f64() / best[1].as_secs_f64(),
        std::thread::available_parallelism().map_or(0, usize::from)
    );
    let mut group = c.benchmark_group("many runs");
    group.sample_size(10);
    for (threads, pool) in [1, 2].into_iter().zip(&pools) {
        group.bench_function(format!("threads/{threads}"), |b| {
            b.iter(|| planned(black_box(&problems), pool));
        });
    }
    group.finish();
}

criterion_group!(benches, bench);
criterion_main!(benches);
