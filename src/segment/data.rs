//! Figures of a segment as data, where a quantity stands inside a list.

use super::circuit::Conductor;
use crate::quantity::{ElectricCurrent, Ratio, Valued};
use serde::Serializer;

/// The ends of a segment: a list of shares for each, `null` where an emitter is never lit.
pub(super) fn ends<S: Serializer>(
    ends: &[Vec<Option<Ratio>>; 2],
    serializer: S,
) -> Result<S::Ok, S::Error> {
    let of = |end: &Vec<Option<Ratio>>| -> Vec<Option<Valued<Ratio>>> {
        end.iter().map(|share| share.map(Valued)).collect()
    };
    serializer.collect_seq(ends.iter().map(of))
}

/// Each conductor with its current.
pub(super) fn currents<S: Serializer>(
    currents: &[(Conductor, ElectricCurrent)],
    serializer: S,
) -> Result<S::Ok, S::Error> {
    let each = currents.iter();
    serializer.collect_seq(each.map(|(conductor, current)| (conductor, Valued(*current))))
}
