//! Whatever the path: lit and dark add up to the path of the tape, and the reversed run is the mirrored one.
use crate::build::*;
use evenrun::exact::ExactLength;
use evenrun::layout::Layout;
use evenrun::layout::spec::*;
use proptest::prelude::*;

/// Straights of at least 100 mm between turns and gaps that keep less than that.
fn path() -> impl Strategy<Value = Vec<Piece>> {
    let turn = prop_oneof![Just(Turn::Inside), Just(Turn::Outside)];
    let link = prop_oneof![
        (turn.clone(), 0_i64..25, 0_i64..60, 0_i64..60)
            .prop_map(|(turn, offset, before, after)| corner(turn, offset, before, after)),
        (turn.clone(), 0_i64..60, 0_i64..60)
            .prop_map(|(turn, before, after)| moulded(turn, before, after)),
        (turn, 0_i64..25, 0_i64..25)
            .prop_map(|(turn, offset, radius)| bend(turn, 90, offset, radius)),
        (1_i64..900, any::<bool>()).prop_map(|(length, jumped)| gap(length, jumped)),
    ];
    (
        100_i64..3000,
        prop::collection::vec((link, 100_i64..3000), 0..6),
    )
        .prop_map(|(first, rest)| {
            let mut pieces = vec![straight(first)];
            for (link, length) in rest {
                pieces.extend([link, straight(length)]);
            }
            pieces
        })
}

fn whole_run() -> impl Strategy<Value = LayoutSpec> {
    let end = (0_i64..15, 0_i64..15).prop_map(|(cap, lead)| EndSpec {
        cap: mm(cap),
        lead: mm(lead),
        lead_out: LeadOut::ThroughCap,
    });
    let remainder = prop_oneof![
        Just(Remainder::Start),
        Just(Remainder::End),
        Just(Remainder::Shared),
        Just(Remainder::UpIntoCorner),
    ];
    (path(), end.clone(), end, remainder, 0_i64..4).prop_map(
        |(pieces, start, end, remainder, tolerance)| LayoutSpec {
            start,
            end,
            remainder,
            site_tolerance: mm(tolerance),
            ..run(pieces)
        },
    )
}

fn cuts() -> impl Strategy<Value = &'static str> {
    prop_oneof![
        Just("50 mm"),
        Just("25 mm"),
        Just("24 per m"),
        Just("62.5 mm"),
        Just("1000/3 mm")
    ]
}

/// Length of the tape's path by its definition, nanometres: straights, gaps, twice the change at each corner.
fn by_hand(pieces: &[Piece]) -> i64 {
    pieces
        .iter()
        .map(|piece| match piece {
            Piece::Straight { length } => length.nanometres(),
            Piece::Gap(gap) => gap.length.nanometres(),
            Piece::Corner(corner) => {
                let offset = corner.offset.nanometres();
                let sign = if corner.turn == Turn::Inside { -2 } else { 2 };
                let arc = match corner.policy {
                    // A quarter circle in place of two tangents, rounded on each leg.
                    CornerPolicy::Bend { radius } => {
                        let each = radius.nanometres() as f64 * (std::f64::consts::FRAC_PI_4 - 1.0);
                        2 * each.round() as i64
                    }
                    _ => 0,
                };
                sign * offset + arc
            }
        })
        .sum()
}

/// Lit and dark, leg by leg, with the gaps between.
fn parts(spec: &LayoutSpec, laid: &Layout) -> i64 {
    let gaps: i64 = spec
        .pieces
        .iter()
        .map(|piece| match piece {
            Piece::Gap(gap) => gap.length.nanometres(),
            _ => 0,
        })
        .sum();
    laid.legs().iter().fold(gaps, |sum, leg| {
        let lit = laid.pitch().length_of(leg.increments());
        sum + leg.dark_before().nanometres() + lit.nanometres() + leg.dark_after().nanometres()
    })
}

fn mirrored(spec: &LayoutSpec) -> LayoutSpec {
    let pieces = spec
        .pieces
        .iter()
        .rev()
        .cloned()
        .map(|piece| match piece {
            Piece::Corner(mut corner) => {
                if let CornerPolicy::CutAndJumper {
                    dark_before,
                    dark_after,
                    ..
                }
                | CornerPolicy::MouldedJoint {
                    dark_before,
                    dark_after,
                    ..
                } = &mut corner.policy
                {
                    std::mem::swap(dark_before, dark_after);
                }
                Piece::Corner(corner)
            }
            other => other,
        })
        .collect();
    LayoutSpec {
        pieces,
        start: spec.end,
        end: spec.start,
        remainder: match spec.remainder {
            Remainder::Start => Remainder::End,
            Remainder::End => Remainder::Start,
            other => other,
        },
        ..spec.clone()
    }
}

fn near(a: ExactLength, b: ExactLength, nanometres: i64) -> bool {
    (a.nanometres() - b.nanometres()).abs() <= nanometres
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(512))]

    #[test]
    fn lit_and_dark_are_the_path(spec in whole_run(), cut in cuts()) {
        let Ok(laid) = evenrun::layout::lay(&spec, pitch(cut)) else {
            // Refused only where no leg has room for one increment.
            prop_assert!(cut == "1000/3 mm" || by_hand(&spec.pieces) < 2_000_000_000);
            return Ok(());
        };
        let path = laid.tape_path().nanometres();
        prop_assert_eq!(path, by_hand(&spec.pieces));
        prop_assert_eq!(path, parts(&spec, &laid));
        let ends = laid.dark_start().saturating_add(laid.dark_end());
        let sum = laid.lit().saturating_add(ends).saturating_add(laid.dark_between());
        prop_assert_eq!(sum.nanometres(), path);
        for leg in laid.legs() {
            prop_assert!(leg.dark_before().nanometres() >= 0 && leg.dark_after().nanometres() >= 0);
        }
        // What is left of a leg beside caps, leads, corners and tolerances is less than an increment.
        if spec.pieces.len() == 1 {
            let kept = [spec.start.cap, spec.start.lead, spec.end.cap, spec.end.lead, spec.site_tolerance]
                .iter()
                .fold(0, |sum, length| sum + length.nanometres());
            let left = ends.nanometres() - kept;
            prop_assert!(left >= 0 && left < laid.pitch().length_of(1).nanometres(), "{}", left);
        }
    }

    #[test]
    fn the_reversed_run_is_the_mirrored_one(spec in whole_run(), cut in cuts()) {
        let (here, there) = (
            evenrun::layout::lay(&spec, pitch(cut)),
            evenrun::layout::lay(&mirrored(&spec), pitch(cut)),
        );
        let (Ok(here), Ok(there)) = (&here, &there) else {
            prop_assert!(here.is_err() && there.is_err());
            return Ok(());
        };
        prop_assert_eq!(here.increments(), there.increments());
        prop_assert_eq!(here.tape_path(), there.tape_path());
        let last = here.increments();
        let marks: Vec<u64> = here.joints().iter().map(|joint| joint.mark).collect();
        let mut back: Vec<u64> = there.joints().iter().map(|joint| last - joint.mark).collect();
        back.reverse();
        prop_assert_eq!(marks, back);
        let mut breaks: Vec<u64> = there.breaks().iter().map(|mark| last - mark).collect();
        breaks.reverse();
        prop_assert_eq!(here.breaks().to_vec(), breaks);
        // A remainder run up into a corner may choose the other one; a shared one splits an odd nanometre.
        if spec.remainder != Remainder::UpIntoCorner {
            let legs = here.legs().len() as i64;
            prop_assert!(near(here.dark_start(), there.dark_end(), legs));
            prop_assert!(near(here.dark_end(), there.dark_start(), legs));
        }
    }

    /// A longer straight, or a shorter dark length, never costs an increment.
    #[test]
    fn more_room_never_holds_fewer(spec in whole_run(), cut in cuts(), more in 1_i64..400) {
        let mut longer = spec.clone();
        if let Some(Piece::Straight { length }) = longer.pieces.first_mut() {
            *length = length.saturating_add(mm(more));
        }
        let count = |spec| evenrun::layout::lay(spec, pitch(cut)).map_or(0, |l| l.increments());
        prop_assert!(count(&longer) >= count(&spec));
    }
}
