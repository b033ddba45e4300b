//! Corners and bends: how much tape a turn takes or gives, by hand.
use crate::build::*;
use evenrun::layout::spec::*;
use evenrun::layout::{BendLimits, PathJointKind, findings};

/// Both legs of a square corner change by the offset: tape inside is shorter by twice it, outside longer.
#[test]
fn a_square_corner_takes_or_gives_twice_the_offset() {
    for (turn, expected, each) in [(Turn::Inside, 1940, 19), (Turn::Outside, 2060, 20)] {
        let spec = run(vec![straight(1000), corner(turn, 30, 0, 0), straight(1000)]);
        let laid = laid(&spec, "50 mm");
        assert_eq!(laid.tape_path(), mm(expected));
        assert_eq!(laid.drawn(), mm(2000));
        // 970 mm hold 19, 1030 mm hold 20.
        assert_eq!(laid.legs()[0].increments(), each);
        assert_eq!(laid.legs()[1].increments(), each);
        assert_eq!(laid.joints().len(), 1);
        assert_eq!(laid.joints()[0].mark, each);
        assert!(matches!(laid.joints()[0].kind, PathJointKind::Jumper(_)));
    }
}

/// `offset·tan(θ/2)`: tan 22.5° = 0.414 213 562, tan 30° = 0.577 350 269, tan 60° = 1.732 050 808.
#[test]
fn other_angles_go_by_the_tangent_of_half() {
    for (degrees, each) in [(45, 41_421_356), (60, 57_735_027), (120, 173_205_081)] {
        let spec = run(vec![
            straight(1000),
            bend(Turn::Inside, degrees, 100, 0),
            straight(1000),
        ]);
        let found = laid(&spec, "50 mm").tape_path().nanometres();
        assert_eq!(found, 2_000_000_000 - 2 * each, "{degrees}°");
    }
}

/// Tape bent round 100 mm through 90° takes the arc, 157.080 mm, in place of two tangents of 100 mm: 42.920 mm less.
#[test]
fn a_bend_takes_the_arc_in_place_of_two_tangents() {
    let spec = run(vec![
        straight(1000),
        bend(Turn::Inside, 90, 0, 100),
        straight(1000),
    ]);
    let laid = laid(&spec, "50 mm");
    assert_eq!(
        laid.tape_path().nanometres(),
        2_000_000_000 - 2 * 21_460_184
    );
    // One leg of 1957.08 mm: 39 increments, none cut inside the arc from 900 mm to 1057.08 mm.
    assert_eq!(laid.legs().len(), 1);
    assert_eq!(laid.increments(), 39);
    assert!(laid.joints().is_empty());
    assert_eq!(laid.uncut(), [18, 19, 20, 21]);
}

/// 1020 − 40 mm before a corner hold 19 with 30 mm left; one more reaches 20 mm into the 40 mm: allowed.
#[test]
fn one_more_increment_runs_up_into_the_corner() {
    let mut spec = run(vec![
        straight(1020),
        corner(Turn::Inside, 0, 40, 40),
        straight(1020),
    ]);
    spec.remainder = Remainder::UpIntoCorner;
    let up = laid(&spec, "50 mm");
    assert_eq!(up.increments(), 40);
    let legs = up.legs();
    assert!(legs[0].runs_into_corner() && legs[1].runs_into_corner());
    assert_eq!(legs[0].dark_after(), mm(20));
    assert_eq!(legs[0].dark_before(), mm(0));
    assert_eq!(legs[1].dark_before(), mm(20));
    assert_eq!(legs[1].dark_after(), mm(0));
    // Without that policy 19 on each leg; nor with a corner that leaves 15 mm only: 1005 mm hold 20 anyhow.
    spec.remainder = Remainder::End;
    assert_eq!(laid(&spec, "50 mm").increments(), 38);
    spec.remainder = Remainder::UpIntoCorner;
    // 1030 − 15: 20 with 15 mm left; 35 mm more are needed and 15 there are.
    spec.pieces = vec![
        straight(1030),
        corner(Turn::Inside, 0, 15, 15),
        straight(1030),
    ];
    let no = laid(&spec, "50 mm");
    assert_eq!(no.increments(), 40);
    assert!(!no.legs()[0].runs_into_corner());
}

/// A leg shorter than what the corners beside it keep dark is dark all over, and no more than that.
#[test]
fn a_leg_shorter_than_its_dark_lengths() {
    for length in [1, 30, 59, 79] {
        let spec = run(vec![
            straight(1000),
            corner(Turn::Inside, 0, 40, 40),
            straight(length),
            corner(Turn::Inside, 0, 40, 40),
            straight(1000),
        ]);
        for remainder in [Remainder::Start, Remainder::End, Remainder::Shared] {
            let spec = LayoutSpec {
                remainder,
                ..spec.clone()
            };
            let found = laid(&spec, "50 mm");
            let leg = &found.legs()[1];
            assert_eq!(leg.increments(), 0);
            assert!(
                leg.dark_before() >= mm(0) && leg.dark_after() >= mm(0),
                "{leg:?}"
            );
            assert_eq!(
                leg.dark_before().saturating_add(leg.dark_after()),
                mm(length)
            );
            assert_eq!(found.tape_path(), mm(2000 + length));
            let says = findings(&"R1".into(), &spec, &found, BendLimits { radius: None });
            assert!(
                says.iter()
                    .any(|f| f.rule.as_str() == "layout-leg"
                        && f.about.to_string() == "run R1, leg 2")
            );
        }
    }
}

#[test]
fn a_bend_is_judged_by_its_radius_and_its_plane() {
    let mut spec = run(vec![
        straight(1000),
        bend(Turn::Outside, 90, 0, 60),
        straight(1000),
    ]);
    let found = laid(&spec, "50 mm");
    let verdict = |spec: &LayoutSpec, least: Option<i64>, id: &str| {
        let limits = BendLimits {
            radius: least.map(mm),
        };
        findings(&"R1".into(), spec, &found, limits)
            .into_iter()
            .find(|f| f.rule.as_str() == id)
            .map(|f| f.verdict.to_string())
    };
    let bent = |least| verdict(&spec, least, "layout-bend").unwrap_or_default();
    let (wide, narrow, unknown) = (bent(Some(59)), bent(Some(61)), bent(None));
    assert_eq!((wide.as_str(), narrow.as_str()), ("pass", "fail"));
    assert!(unknown.starts_with("not evaluated"), "{unknown}");
    assert_eq!(verdict(&spec, Some(59), "layout-bend-edgewise"), None);
    if let Piece::Corner(corner) = &mut spec.pieces[1] {
        corner.bend = BendSense::Edgewise;
    }
    assert_eq!(
        verdict(&spec, Some(59), "layout-bend-edgewise").as_deref(),
        Some("fail")
    );
}
