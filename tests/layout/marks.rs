//! Where marks lie: breaks, forbidden cuts, feed points, joints that join nothing.
use crate::build::*;
use evenrun::layout::PathJointKind;
use evenrun::layout::spec::*;

#[test]
fn a_gap_without_jumper_breaks_the_run_and_one_with_it_does_not() {
    let pieces = |jumped| vec![straight(1000), gap(500, jumped), straight(1000)];
    let open = laid(&run(pieces(false)), "50 mm");
    assert_eq!(open.breaks(), [20]);
    assert_eq!(open.joints()[0].kind, PathJointKind::Open);
    assert_eq!(open.dark_between(), mm(500));
    let joined = laid(&run(pieces(true)), "50 mm");
    assert!(joined.breaks().is_empty());
    assert_eq!(joined.position_of(20), mm(1000));
    assert_eq!(joined.position_of(21), mm(1550));
    assert_eq!(joined.mark_near(mm(1250)), 20);
    assert_eq!(joined.path_words(), "2 straights, 1 gap");
}

#[test]
fn a_joint_beside_a_dark_end_joins_nothing() {
    let spec = run(vec![
        straight(30),
        gap(100, false),
        straight(1000),
        gap(20, true),
        straight(49),
    ]);
    let found = laid(&spec, "50 mm");
    assert_eq!(found.increments(), 20);
    assert!(found.joints().is_empty() && found.breaks().is_empty());
    assert_eq!(found.dark_start(), mm(30));
    assert_eq!(found.dark_end(), mm(49));
}

#[test]
fn stretches_that_must_not_be_cut_spare_the_ends() {
    let mut spec = run(vec![straight(1000)]);
    spec.uncut = vec![
        Stretch {
            from: mm(0),
            to: mm(100),
        },
        Stretch {
            from: mm(301),
            to: mm(399),
        },
        Stretch {
            from: mm(350),
            to: mm(450),
        },
        Stretch {
            from: mm(990),
            to: mm(2000),
        },
    ];
    assert_eq!(laid(&spec, "50 mm").uncut(), [1, 2, 7, 8, 9]);
}

#[test]
fn breaks_and_feeds_snap_to_the_nearest_mark() {
    let mut spec = run(vec![straight(1000)]);
    spec.breaks = vec![mm(474), mm(476), mm(524), mm(0), mm(1000)];
    spec.feed_points = FeedPoints::Listed(vec![
        RunPoint::End,
        RunPoint::At(mm(526)),
        RunPoint::At(mm(524)),
        RunPoint::At(mm(-1)),
        RunPoint::At(mm(1001)),
    ]);
    let found = laid(&spec, "50 mm");
    assert_eq!(found.breaks(), [9, 10]);
    assert_eq!(found.feed_marks(), Some([0, 10, 11, 20].as_slice()));
    spec.feed_points = FeedPoints::Anywhere;
    assert_eq!(laid(&spec, "50 mm").feed_marks(), None);
}
