//! Which ratings fit a conductor: proposed with the inequalities shown, never chosen.

use crate::finding::plain::Finding;
use crate::quantity::{ElectricCurrent, amps, show};
use crate::source::Source;

/// Ratings that small fuses are stocked in, A.
pub const STOCKED_AMPS: &[f64] = &[
    0.5, 1.0, 1.25, 1.6, 2.0, 2.5, 3.0, 3.15, 4.0, 5.0, 6.3, 7.5, 8.0, 10.0, 12.5, 15.0, 16.0,
    20.0, 25.0, 30.0,
];

/// Where that list comes from.
pub const STOCKED: Source =
    Source::common_practice("ratings in which small fuses and blade fuses are stocked");

/// A rating that fits, with why.
#[derive(Debug, Clone, PartialEq)]
pub struct Fitting {
    /// The rating `In`.
    pub rating: ElectricCurrent,
    /// The inequalities with their figures: `Ib 3.2 A <= In 4 A <= Iz 6 A`.
    pub shown: String,
}

/// Every listed rating with `Ib ≤ In ≤ Iz` and `In ≤` the largest device that a rule allows.
///
/// An empty answer means that none fits: the conductor is too thin for the load.
/// The final choice (dc voltage rating, breaking capacity, curve, ambient) is for
/// the engineer.
#[must_use]
pub fn fitting_ratings(
    load: ElectricCurrent,
    ampacity: ElectricCurrent,
    largest_device: Option<ElectricCurrent>,
    ratings: &[f64],
) -> Vec<Fitting> {
    ratings
        .iter()
        .copied()
        .filter(|rating| {
            load.value <= *rating
                && *rating <= ampacity.value
                && largest_device.is_none_or(|largest| *rating <= largest.value)
        })
        .map(|rating| Fitting {
            rating: amps(rating),
            shown: format!(
                "Ib {} <= In {} <= Iz {}{}",
                show(load),
                show(amps(rating)),
                show(ampacity),
                largest_device.map_or_else(String::new, |largest| format!(
                    ", In <= {} for this size",
                    show(largest)
                ))
            ),
        })
        .collect()
}

/// The same as a finding, `fuse-proposal`: which ratings fit, or that none does.
#[must_use]
pub fn propose(
    place: &str,
    load: ElectricCurrent,
    ampacity: Option<ElectricCurrent>,
    largest_device: Option<ElectricCurrent>,
    ratings: &[f64],
) -> Finding {
    let id = "fuse-proposal";
    let Some(ampacity) = ampacity else {
        return Finding::not_evaluated(id, place, "no ampacity is known for the conductor")
            .source(STOCKED);
    };
    let fitting = fitting_ratings(load, ampacity, largest_device, ratings);
    let finding = if fitting.is_empty() {
        Finding::fail(id, place)
            .says(format!(
                "no listed rating lies between the load {} and what the conductor may have, {}",
                show(load),
                show(
                    largest_device
                        .filter(|l| l.value < ampacity.value)
                        .unwrap_or(ampacity)
                )
            ))
            .remedy("a thicker conductor or less load")
    } else {
        let shown: Vec<&str> = fitting.iter().map(|f| f.shown.as_str()).collect();
        Finding::pass(id, place)
            .says(format!("ratings that fit: {}", shown.join("; ")))
            .remedy("choose by dc voltage rating, breaking capacity, curve and ambient")
    };
    finding
        .figure(show(load))
        .limit(show(ampacity))
        .source(STOCKED)
}
