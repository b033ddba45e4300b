//! Many runs at once: the same answers as one after the other, in the same order.

use super::Dice;
use super::brute::Case;
use evenrun::choose::feeding::{FeedError, RunProblem, plan_each};
use evenrun::progress::{Go, Progress, Step};

fn problems(count: usize) -> Vec<RunProblem> {
    let mut dice = Dice(0x51DE);
    (0..count)
        .map(|number| {
            let mut problem = Case::random(&mut dice).problem();
            problem.run = format!("R{number}");
            // Some are no problems at all: their faults are their answers.
            if number % 17 == 3 {
                problem.increments = 0;
            }
            problem
        })
        .collect()
}

/// Every run by itself, without the function under test.
fn one_by_one(problems: &[RunProblem]) -> Vec<String> {
    let one = |problem: &RunProblem| match problem.clone().check() {
        Ok(run) => match run.plan() {
            Ok(outcome) => format!("{outcome:?}"),
            Err(error) => error.to_string(),
        },
        Err(faults) => faults.to_string(),
    };
    problems.iter().map(one).collect()
}

fn at_once(problems: &[RunProblem]) -> Vec<String> {
    plan_each(problems, &mut Progress::silent())
        .into_iter()
        .map(|answer| match answer {
            Ok(outcome) => format!("{outcome:?}"),
            Err(faults) => faults.to_string(),
        })
        .collect()
}

#[test]
fn answers_stand_in_the_order_of_the_problems() {
    let problems = problems(60);
    assert_eq!(at_once(&problems), one_by_one(&problems));
    assert!(plan_each(&[], &mut Progress::silent()).is_empty());
}

#[cfg(feature = "parallel")]
#[test]
fn one_two_and_five_threads_give_the_same_bytes() {
    let problems = problems(60);
    let expected = one_by_one(&problems);
    for threads in [1, 2, 5] {
        let pool = rayon::ThreadPoolBuilder::new()
            .num_threads(threads)
            .build()
            .expect("a pool");
        assert_eq!(pool.install(|| at_once(&problems)), expected, "{threads}");
    }
}

/// What was done before the callback cancelled is kept; the rest says that it was stopped.
#[test]
fn a_cancelled_batch_keeps_what_was_done_and_says_what_was_not() {
    let problems = problems(200);
    let whole = plan_each(&problems, &mut Progress::silent());
    let mut stop = |step: Step| {
        assert_eq!((step.phase, step.of), ("feeding runs", 200));
        if step.done >= 20 { Go::Cancel } else { Go::On }
    };
    let part = plan_each(&problems, &mut Progress::new(&mut stop));
    assert_eq!(part.len(), 200);
    let mut stopped = 0;
    for (number, (answer, all)) in part.iter().zip(&whole).enumerate() {
        match answer {
            Err(faults) if faults.is_stopped() => {
                assert!(
                    matches!(&faults.0[..], [FeedError::Stopped { run, .. }] if *run == format!("R{number}"))
                );
                stopped += 1;
            }
            done => assert_eq!(format!("{done:?}"), format!("{all:?}")),
        }
    }
    assert!(200 - stopped >= 20);
    // Without threads nothing runs on beside the callback.
    if cfg!(not(feature = "parallel")) {
        assert_eq!(stopped, 180);
    }
}
