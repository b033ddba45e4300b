//! Factors for ambient temperature and for grouping, printed and by formula.

use crate::cable::tables::{ambient, grouping};
use crate::quantity::{ThermodynamicTemperature, in_celsius};

/// The printed factor of the first listed ambient that is not cooler. `None` above the table.
#[must_use]
pub fn factor_for_ambient(family: ambient::Family, rating: f64, celsius: f64) -> Option<f64> {
    ambient::ROWS
        .iter()
        .filter(|row| row.family == family && row.rating_celsius == rating)
        .find(|row| celsius <= row.ambient_to_celsius)
        .map(|row| row.factor)
}

/// The printed factor of the first listed count that is not smaller. `None` for none or above the table.
#[must_use]
pub fn factor_for_group(family: grouping::Family, count: usize) -> Option<f64> {
    let count = u32::try_from(count).ok().filter(|count| *count > 0)?;
    grouping::ROWS
        .iter()
        .filter(|row| row.family == family)
        .find(|row| count <= row.count_to)
        .map(|row| row.factor)
}

/// The factor that the tables print rounded: `sqrt((Tc − Ta) / (Tc − reference))`.
///
/// `None` where the ambient reaches the rating, or nothing is left above the reference.
///
/// # Source
/// National Electrical Code, NFPA 70-2023, 310.15(B)(1).
#[must_use]
pub fn ambient_factor_by_formula(
    rating: ThermodynamicTemperature,
    ambient: ThermodynamicTemperature,
    reference: ThermodynamicTemperature,
) -> Option<f64> {
    let (tc, ta, t0) = (
        in_celsius(rating),
        in_celsius(ambient),
        in_celsius(reference),
    );
    (tc > ta && tc > t0).then(|| libm::sqrt((tc - ta) / (tc - t0)))
}
