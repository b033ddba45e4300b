//! Counts: integer floors of exact lengths, which floating point gets wrong.
use crate::build::*;
use evenrun::exact::ExactLength;
use evenrun::layout::spec::*;
use evenrun::layout::{LayoutError, MOST_INCREMENTS, lay};

fn count(length: &str, cut: &str) -> u64 {
    let length = length.parse::<ExactLength>().expect("a length of the test");
    laid(&run(vec![Piece::Straight { length }]), cut).increments()
}

/// 4.35/0.05 is 86.99999999999999 in floating point and 2.9/0.1 is 28.999999999999996;
/// 24 cuts a metre are 41.67 mm apart only when rounded, and then 5 m holds 119 of them.
#[test]
fn counts_are_exact() {
    assert!((4.35_f64 / 0.05).floor() < 87.0 && (2.9_f64 / 0.1).floor() < 29.0);
    assert_eq!(count("4.35 m", "50 mm"), 87);
    assert_eq!(count("2.9 m", "100 mm"), 29);
    assert_eq!(count("5 m", "24 per m"), 120);
    assert_eq!(count("5 m", "1000/24 mm"), 120);
    assert_eq!(count("5 m", "41.67 mm"), 119);
    assert_eq!(count("4999.999999 mm", "24 per m"), 119);
}

/// Every whole multiple of a pitch holds that many, and a nanometre less holds one fewer.
#[test]
fn a_nanometre_decides() {
    for k in 1..400 {
        let whole = mm(100 * k);
        let just_short = whole.saturating_sub(ExactLength::from_nanometres(1));
        let of = |length| {
            lay(&run(vec![Piece::Straight { length }]), pitch("100 mm")).map(|l| l.increments())
        };
        assert_eq!(of(whole), Ok(k as u64));
        if k > 1 {
            assert_eq!(of(just_short), Ok(k as u64 - 1));
        }
    }
}

/// Caps at both ends always; leads only where copper may enter; a site tolerance for each straight.
#[test]
fn ends_and_tolerances_cost_light() {
    let mut spec = run(vec![straight(2000)]);
    spec.start = EndSpec {
        cap: mm(10),
        lead: mm(15),
        lead_out: LeadOut::Back,
    };
    spec.end = EndSpec {
        cap: mm(10),
        lead: mm(20),
        lead_out: LeadOut::Left,
    };
    // 2000 − 10 − 15 − 10 − 20 = 1945: 38 of 50 mm, 45 left.
    let all = laid(&spec, "50 mm");
    assert_eq!(all.increments(), 38);
    assert_eq!(all.dark_start(), mm(25));
    assert_eq!(all.dark_end(), mm(30 + 45));
    // Fed at the start only: 2000 − 25 − 10 = 1965: 39, 15 left.
    spec.feed_points = FeedPoints::Listed(vec![RunPoint::Start]);
    let start = laid(&spec, "50 mm");
    assert_eq!((start.increments(), start.dark_end()), (39, mm(25)));
    // 20 mm that the site may be short: 1945, 38 again; what is not lit of the drawing stays dark.
    spec.site_tolerance = mm(20);
    let short = laid(&spec, "50 mm");
    assert_eq!((short.increments(), short.dark_end()), (38, mm(75)));
}

#[test]
fn where_the_remainder_lies() {
    let mut spec = run(vec![straight(1047)]);
    for (remainder, start, end) in [
        (Remainder::Start, 47_000_000, 0),
        (Remainder::End, 0, 47_000_000),
        (Remainder::Shared, 23_500_000, 23_500_000),
        // A run without corners has nothing to run up into.
        (Remainder::UpIntoCorner, 0, 47_000_000),
    ] {
        spec.remainder = remainder;
        let laid = laid(&spec, "50 mm");
        assert_eq!(laid.increments(), 20);
        assert_eq!(laid.dark_start().nanometres(), start, "{remainder:?}");
        assert_eq!(laid.dark_end().nanometres(), end, "{remainder:?}");
    }
}

#[test]
fn what_cannot_be_laid_out() {
    let error = |spec: &LayoutSpec, cut: &str| lay(spec, pitch(cut)).unwrap_err().to_string();
    assert_eq!(
        error(&run(vec![straight(49)]), "50 mm"),
        "no cut increment of 50 mm fits: the longest leg has room for 49 mm; \
         take a tape with a shorter cut pitch, or leave this run out"
    );
    assert_eq!(count("50 mm", "50 mm"), 1);
    // All corners, no straight; nothing at all; a run of negative length.
    let corners = vec![
        corner(Turn::Inside, 10, 5, 5),
        corner(Turn::Outside, 10, 5, 5),
    ];
    for pieces in [corners, vec![], vec![straight(-1000)]] {
        assert!(error(&run(pieces), "50 mm").starts_with("no cut increment of 50 mm fits"));
    }
    let long = vec![straight(1_000_001), straight(1_000_000)];
    assert_eq!(
        error(&run(long), "1 mm"),
        "2000001 cut increments are more than the 1000000 of one run: break the run up"
    );
    assert!(matches!(
        lay(&run(vec![straight(i64::MAX / 1_000_000)]), pitch("1 mm")),
        Err(LayoutError::TooMany { found }) if found > MOST_INCREMENTS
    ));
}
