//! Light and volts of each segment that was solved.

use crate::design::{Design, Segment, SegmentFigures};
use crate::quantity::{Volts, volts};
use crate::report::schedule::{Draft, MILLIVOLT, PER_CENT, Schedule, VOLT, WATT};

/// A segment with the figures of the joint solve.
type Row<'a> = (&'a Segment, &'a SegmentFigures);

/// The segments that were solved, a row each.
pub(in crate::report) fn solved(design: &Design) -> impl Iterator<Item = Row<'_>> {
    let segments = design.segments.iter();
    segments.filter_map(|segment| Some((segment, segment.solved.figures()?)))
}

pub(in crate::report) fn segments(design: &Design) -> Schedule {
    Draft::<Row<'_>>::new(
        "segments",
        "Segments",
        "Light and volts of each piece that is electrically on its own. Cell: the least voltage across any cell. \
         Current: the least cell current, as a share of nominal. Balance: the greatest change of the emitters' balance \
         along the segment. Exact to: bound on the numerical error of the nominal voltages.",
    )
    .name("segment", "Segment", |r| &r.0.id)
    .words("run", "Run", |r| &r.0.run)
    .metres("lit", "Lit", |r| r.0.length)
    .words("pattern", "Feeding", |r| r.0.pattern.fed())
    .words("weakest", "Weakest", |r| &r.1.weakest)
    .corners(
        "cell",
        ["Cell low", "Cell nom.", "Cell high"],
        VOLT,
        2,
        |r| Some(r.1.least_volts),
    )
    .corners(
        "current",
        ["Current low", "Current nom.", "Current high"],
        PER_CENT,
        1,
        |r| Some(r.1.least_current),
    )
    .figure("balance", "Balance", PER_CENT, 1, |r| r.1.balance)
    .corners(
        "power",
        ["Power low", "Power nom.", "Power high"],
        WATT,
        1,
        |r| Some(r.1.power),
    )
    .figure("exact_to", "Exact to", MILLIVOLT, 3, |r| {
        rounded_up(r.1.volt_error_bound)
    })
    .of(|r| vec![r.0.run.clone()])
    .fill(solved(design))
}

/// To the next whole microvolt: a bound that is rounded down is none.
fn rounded_up(bound: Volts) -> Volts {
    Volts::from(volts(libm::ceil(bound.si() * 1e6) / 1e6))
}
