//! The trade-off of one run on paper.

use super::job;
use evenrun::choose::feeding::{Standing, TradeOff, TradeOffEnd, TradeOffSpec};
use evenrun::plan::run_problem;
use evenrun::progress::{Go, Progress, Step};
use evenrun::quantity::percent;
use evenrun::quantity::{Currency, Money};
use evenrun::report;

fn trade_off(most: usize) -> TradeOff {
    let problem = run_problem(&job(str::to_string), "B").expect("a run of the job");
    let run = problem.check().expect("sound");
    let spec = TradeOffSpec {
        resolution: percent(2.0),
        most,
        ..TradeOffSpec::default()
    };
    run.trade_off(&spec, &mut Progress::silent())
        .expect("no contradiction")
}

#[test]
fn the_page_fits_and_holds_every_arrangement() {
    let answer = trade_off(4);
    assert!(answer.arrangements.len() >= 2);
    let shelf = job(str::to_string);
    for width in [90, 100, 140] {
        let page = report::trade_off(&shelf, "B", &answer, width);
        assert!(
            page.lines().all(|line| line.chars().count() <= width),
            "{page}"
        );
        for a in &answer.arrangements {
            assert!(
                page.contains(&Currency::of(Some("EUR")).words(Money::from_minor_units(a.bought)))
            );
        }
        for caution in report::CAUTIONS {
            assert!(page.contains(&caution.title.to_uppercase()));
        }
        let unproven =
            |a: &&evenrun::choose::feeding::Arrangement| a.standing != Standing::NotBeaten;
        let notes = answer.arrangements.iter().filter(unproven).count();
        assert_eq!(page.matches("no proof: ").count(), notes);
    }
}

/// A walk that was stopped at once says nothing about what exists.
#[test]
fn a_walk_stopped_before_it_found_anything_does_not_say_that_there_is_nothing() {
    let shelf = job(str::to_string);
    let run = run_problem(&shelf, "B")
        .expect("a run")
        .check()
        .expect("sound");
    let mut stop = |_: Step| Go::Cancel;
    let spec = TradeOffSpec::default();
    let answer = run
        .trade_off(&spec, &mut Progress::new(&mut stop))
        .expect("an answer");
    assert!(answer.arrangements.is_empty());
    assert_eq!(answer.ends, [(0, TradeOffEnd::Stopped)]);
    let page = report::trade_off(&shelf, "B", &answer, 100);
    assert!(
        page.contains("ended before it found any arrangement"),
        "{page}"
    );
    assert!(!page.contains("keeps every limit"), "{page}");
    // Where a limit cannot be kept the page says so.
    let dark = job(|text| text.replace("least_current = \"70 %\"", "least_current = \"100 %\""));
    let run = run_problem(&dark, "B")
        .expect("a run")
        .check()
        .expect("sound");
    let none = run
        .trade_off(&spec, &mut Progress::silent())
        .expect("an answer");
    assert_eq!(none.ends, [(0, TradeOffEnd::NothingBrighter)]);
    let page = report::trade_off(&dark, "B", &none, 100);
    assert!(page.contains("keeps every limit"), "{page}");
}

#[test]
fn dearer_is_brighter_and_a_cut_short_walk_is_not_called_proven() {
    let (two, four) = (trade_off(2), trade_off(4));
    for pair in four.arrangements.windows(2) {
        assert!(pair[0].bought < pair[1].bought);
        assert!(pair[0].fall_off.value >= pair[1].fall_off.value + 0.02 - 1e-9);
    }
    let last = two.arrangements.last().expect("one");
    assert!(
        matches!(&last.standing, Standing::Unproven { reason } if reason.contains("as many arrangements"))
    );
}

#[test]
fn a_run_that_has_no_problem_says_why() {
    let none = |edit: &dyn Fn(&str) -> String, run: &str| match run_problem(&job(edit), run) {
        Ok(_) => panic!("{run} has a problem"),
        Err(error) => error.to_string(),
    };
    let unknown = none(&str::to_string, "C");
    assert_eq!(unknown, "run `C` cannot be fed by itself: the job has A, B");
    let unsupplied = none(
        &|text| text.replace("volts = \"24 V\"", "volts = \"36 V\""),
        "A",
    );
    assert!(
        unsupplied.contains("no supply of the job has the voltage of its tape, 24 V"),
        "{unsupplied}"
    );
}
