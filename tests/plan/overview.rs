//! The answers on two pages.

use super::{demo, small};
use evenrun::id::SegmentId;
use evenrun::report;
use evenrun::{job, plan};
use std::collections::BTreeSet;

/// Every run with its drawing, every supply, every line of the order; what fails stands first.
#[test]
fn the_demo_is_answered_on_two_pages() {
    let design = demo();
    let page = report::overview(design, 100);
    assert!(page.lines().count() < 120, "{page}");
    assert!(
        page.lines().all(|line| line.chars().count() <= 100),
        "{page}"
    );
    for run in &design.runs {
        let heading = format!("  {}  {:.2} m lit", run.id, run.lit.metres());
        assert!(page.contains(&heading), "{heading}\n{page}");
    }
    for supply in &design.supplies {
        assert!(
            page.contains(&format!("  {} at {}", supply.id, supply.place)),
            "{page}"
        );
    }
    let at = |words: &str| {
        page.find(words)
            .unwrap_or_else(|| panic!("{words}: {page}"))
    };
    assert!(at("WHAT FAILS") < at("required 120") && at("required 120") < at("NOT EVALUATED"));
    assert!(at("RUNS") < at("SUPPLIES") && at("SUPPLIES") < at("TO BUY"));
}

/// A cut and a feed stand where they are: the drawing of a run fed in the middle has its dot in the middle.
#[test]
fn a_run_is_drawn_to_scale() {
    let design = demo();
    let page = report::overview(design, 100);
    let longest = design.runs.iter().map(|run| run.lit).max().expect("a run");
    let drawn: Vec<&str> = page
        .lines()
        .filter(|l| l.contains("─") && !l.contains("RUNS"))
        .collect();
    assert_eq!(drawn.len(), design.runs.len());
    for (run, line) in design.runs.iter().zip(drawn) {
        let columns = line.trim().chars().count() as f64;
        let share = run.lit.metres() / longest.metres();
        assert!((columns - share * 94.0).abs() <= 1.0, "{}: {line}", run.id);
        // Each feed stands at the column nearest to its mark.
        let marks = line.trim().chars().enumerate().filter(|(_, c)| *c == '●');
        let drawn: BTreeSet<usize> = marks.map(|(at, _)| at).collect();
        let own = design.segments.iter().filter(|s| s.run == run.id);
        let last = own.map(|s| s.last).max().expect("a segment") as f64;
        let of_run = |segment: &SegmentId| {
            design
                .segments
                .iter()
                .any(|s| s.id == *segment && s.run == run.id)
        };
        let feeds = design.feeds.iter().filter(|feed| of_run(&feed.segment));
        let expected: BTreeSet<usize> = feeds
            .map(|feed| (feed.mark as f64 / last * (columns - 1.0)).round() as usize)
            .collect();
        assert_eq!(drawn, expected, "{}: {line}", run.id);
        let cuts = design.segments.iter().filter(|s| s.run == run.id).count() - 1;
        // A feed at a cut stands in its place.
        assert!(line.matches('┼').count() <= cuts, "{}: {line}", run.id);
    }
}

/// However large the job, the page stays short and counts what it leaves out.
#[test]
fn a_large_job_is_counted() {
    let one = include_str!("small.toml");
    let (head, run) = one.split_at(one.find("[[run]]").expect("a run"));
    let end = run[1..].find("\n[").map_or(run.len(), |at| at + 2);
    let (run, rest) = run.split_at(end);
    let name = run
        .lines()
        .find(|l| l.trim_start().starts_with("name"))
        .expect("a name");
    let mut text = head.to_string();
    for number in 1..=60 {
        text += &run.replace(name, &format!("name = \"R{number}\""));
    }
    text += rest;
    let job = job::read(&text, "large.toml").unwrap_or_else(|faults| panic!("{faults}"));
    let page = report::overview(&plan::plan(&job), 100);
    assert!(page.lines().count() < 120, "{page}");
    assert!(page.contains("and 48 more: see the full set"), "{page}");
}

/// No name of a design that was read moves the pen.
#[test]
fn control_characters_do_not_reach_the_page() {
    let mut design = small(|text| text).expect("a plan");
    design.job.title = "a\u{1b}[31m\u{202e}\n".into();
    let page = report::overview(&design, 100);
    let moves = |c: char| c.is_control() && c != '\n';
    assert!(
        !page.contains(moves) && !page.contains('\u{202e}'),
        "{page:?}"
    );
}
