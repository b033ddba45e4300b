//! What a caller sees of planning: few steps, phases in their order, never back; and that it stops where it is told to.

use evenrun::plan::{PHASES, plan, plan_watched};
use evenrun::progress::{Go, Progress, Step};
use evenrun::{job, job::Job};

const DEMO: &str = include_str!("../../examples/archive_wing.toml");
const SMALL: &str = include_str!("../plan/small.toml");
const ONE_RUN: &str = include_str!("../jobs/one_run.toml");

fn demo() -> Job {
    job::read(DEMO, "demo.toml").expect("sound")
}

/// So many runs from one place, of several lengths.
fn many(count: usize) -> Job {
    let (head, tail) = SMALL.split_once("[[run]]").expect("a run");
    let (run, limits) = tail.split_once("[limits]").expect("limits");
    let runs = (0..count).map(|n| {
        let run = run
            .replace("name = \"A\"", &format!("name = \"A{n}\""))
            .replace("\"2 m\"", &format!("\"{} mm\"", 1_000 + 50 * (n % 40)));
        format!("[[run]]{run}")
    });
    let text = format!("{head}{}[limits]{limits}", runs.collect::<String>());
    job::read(&text, "many.toml").expect("sound")
}

fn steps(job: &Job) -> Vec<Step> {
    let mut steps = Vec::new();
    let mut callback = |step: Step| {
        steps.push(step);
        Go::On
    };
    plan_watched(job, &mut Progress::new(&mut callback)).expect("planned");
    steps
}

/// A job with facts that were taken.
fn short() -> Job {
    let text = include_str!("../short_job/cove.toml");
    job::read(text, "cove.toml").expect("sound")
}

fn place(step: &Step) -> usize {
    let at = PHASES.iter().position(|phase| *phase == step.phase);
    at.unwrap_or_else(|| panic!("{step:?}"))
}

#[test]
fn phases_come_in_their_order_and_never_go_back() {
    for (name, job) in [
        ("demo", demo()),
        ("200 runs", many(200)),
        ("2 runs", many(2)),
        ("short job", short()),
    ] {
        let steps = steps(&job);
        println!("{name}: {} calls", steps.len());
        assert!(
            (5..=400).contains(&steps.len()),
            "{name}: {} calls",
            steps.len()
        );
        for pair in steps.windows(2) {
            let [a, b] = pair else { unreachable!() };
            assert!(place(a) <= place(b), "{name}: {a:?}, then {b:?}");
            if a.phase == b.phase {
                assert!(
                    a.done <= b.done && a.of == b.of,
                    "{name}: {a:?}, then {b:?}"
                );
            } else {
                assert_eq!(a.done, a.of, "{name}: {a:?}, then {b:?}");
            }
        }
        assert!(steps.iter().all(|step| step.done <= step.of && step.of > 0));
        let last = steps.last().expect("a step");
        // Only a job with facts that were taken is asked which of them matter.
        let phase = if name == "short job" { 7 } else { 6 };
        assert_eq!((place(last), last.done), (phase, last.of), "{name}");
    }
    assert!(
        steps(&job::read(ONE_RUN, "one_run.toml").expect("sound"))
            .iter()
            .any(|step| step.phase == "choosing together")
    );
}

/// Wherever the caller says stop, it is not asked again, and is told where that was.
#[test]
fn it_stops_where_it_is_told_to() {
    for job in [many(6), short()] {
        stops_anywhere(&job);
    }
}

fn stops_anywhere(job: &Job) {
    let all = steps(job);
    for (stop, step) in all.iter().enumerate() {
        let mut calls = 0;
        let mut callback = |_: Step| {
            calls += 1;
            if calls > stop { Go::Cancel } else { Go::On }
        };
        let told = plan_watched(job, &mut Progress::new(&mut callback)).expect_err("stopped");
        assert_eq!(calls, stop + 1);
        if cfg!(not(feature = "parallel")) {
            assert_eq!(told.last, *step);
        }
    }
}

/// Being watched changes nothing.
#[test]
fn a_watched_plan_is_the_plan() {
    let job = many(6);
    let mut callback = |_: Step| Go::On;
    let watched = plan_watched(&job, &mut Progress::new(&mut callback)).expect("planned");
    assert_eq!(watched, plan(&job));
}
