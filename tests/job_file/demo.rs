//! The demonstration job is what it says it is.

use crate::edit::{DEMO, good};
use evenrun::exact::ExactLength;
use evenrun::layout::spec::{FeedPoints, Piece, RunPoint};
use std::collections::BTreeSet;

#[test]
fn three_zones_two_places_near_a_hundred_metres() {
    let job = good(DEMO);
    assert!(job.note().contains("Invented"));
    assert!(job.runs().len() >= 8);
    assert_eq!(job.zones().len(), 3);
    assert_eq!(job.places().len(), 2);
    let drawn: ExactLength = job
        .runs()
        .iter()
        .flat_map(|run| &run.layout.pieces)
        .map(|piece| match piece {
            Piece::Straight { length } => *length,
            Piece::Gap(gap) => gap.length,
            Piece::Corner(_) => ExactLength::ZERO,
        })
        .sum();
    assert_eq!(drawn.to_string(), "99.68 m");
    let corners = job
        .runs()
        .iter()
        .flat_map(|run| &run.layout.pieces)
        .filter(|piece| matches!(piece, Piece::Corner(_)))
        .count();
    assert!(corners >= 3);
    // One run cannot be fed at its ends.
    assert!(job.runs().iter().any(|run| matches!(
        &run.layout.feed_points,
        FeedPoints::Listed(points) if points.iter().all(|point| matches!(point, RunPoint::At(_)))
    )));
    // One rule is broken on purpose.
    assert!(job.chains().iter().any(|chain| chain.terminator.is_none()));
    // Every zone is used.
    let used: BTreeSet<&str> = job.runs().iter().map(|run| run.zone.as_str()).collect();
    assert_eq!(used.len(), 3);
}

#[test]
fn findings_can_name_the_line() {
    let job = good(DEMO);
    let line = DEMO[..DEMO.find("name = \"W3\"").unwrap()]
        .matches('\n')
        .count()
        + 1;
    // The table stands where its header does.
    assert_eq!(
        job.find("run \"W3\"", "").map(|place| place.line),
        Some(line - 1)
    );
    assert_eq!(job.at("run \"W3\"", "name"), format!("job.toml:{line}:8"));
    // What is not written stands where its table does.
    assert_eq!(
        job.find("run \"W3\"", "breaks").map(|place| place.line),
        Some(line - 1)
    );
    assert_eq!(job.at("run \"nowhere\"", ""), "run \"nowhere\"");
}

#[test]
fn a_job_built_in_code_is_checked_alike() {
    let job = good(DEMO);
    let mut spec = job.spec().clone();
    assert_eq!(evenrun::job::check(spec.clone()).as_ref(), Ok(&job));
    spec.runs[0].zone = "nowhere".to_string();
    let faults = evenrun::job::check(spec).unwrap_err();
    assert_eq!(
        faults.to_string(),
        "run \"C1\": zone: `nowhere` is not the name of a zone of this job. \
         It has `ceiling cove`, `shelf accent`, `wall wash`"
    );
}
