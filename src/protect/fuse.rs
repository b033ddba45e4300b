//! Which ratings fit a conductor: proposed with the inequalities shown, never chosen.

use crate::finding::{Case, Finding, Limit, Rule, Subject, Value};
use crate::quantity::{ElectricCurrent, amps, show};
use crate::source::{Source, documents};
use std::fmt;

/// Rated currents of small cartridge fuses (IEC 60127-2) and of blade types C and F (ISO 8820-3), A.
pub const STOCKED_AMPS: &[f64] = &[
    0.5, 1.0, 1.25, 1.6, 2.0, 2.5, 3.0, 3.15, 4.0, 5.0, 6.3, 7.5, 8.0, 10.0, 12.5, 15.0, 16.0,
    20.0, 25.0, 30.0,
];

/// Where that list comes from.
pub const STOCKED: Source =
    documents::IEC_60127_2.at("rated currents; blade types C and F by ISO 8820-3:2015");

/// A rating that fits, with why. Printed, it shows the inequalities: `Ib 3.2 A <= In 4 A <= Iz 6 A`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fitting {
    /// The rating `In`.
    pub rating: ElectricCurrent,
    /// The load `Ib`.
    pub load: ElectricCurrent,
    /// The ampacity `Iz`.
    pub ampacity: ElectricCurrent,
    /// The largest device that a rule allows for the size, where one does.
    pub largest_device: Option<ElectricCurrent>,
}

impl fmt::Display for Fitting {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (load, rating) = (show(self.load), show(self.rating));
        write!(f, "Ib {load} <= In {rating} <= Iz {}", show(self.ampacity))?;
        match self.largest_device {
            Some(largest) => write!(f, ", In <= {} for this size", show(largest)),
            None => Ok(()),
        }
    }
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
            load,
            ampacity,
            largest_device,
        })
        .collect()
}

const NO_AMPACITY: Case = Case::open("no-ampacity", "", "no ampacity is known for the conductor");
const NONE_FITS: Case = Case::judged(
    "none-fits",
    "no listed rating lies between the load {figure} and what the conductor may have, {most}",
)
.remedy("a larger conductor or less load");
const FITS: Case = Case::judged(
    "fits",
    "ratings that fit, In: {ratings}; Ib {figure} <= In <= Iz {limit}",
)
.remedy(CHOOSE);
const FITS_SIZE: Case = Case::judged(
    "fits-size",
    "ratings that fit, In: {ratings}; Ib {figure} <= In <= Iz {limit}, In <= {largest} for this size",
)
.remedy(CHOOSE);
const CHOOSE: &str = "choose by dc voltage rating, breaking capacity, curve and ambient";

/// Ratings between load and ampacity.
pub(super) const PROPOSAL: Rule = Rule {
    id: "fuse-proposal",
    title: "Fuse for a conductor",
    asks: "Which stocked ratings lie between the load of a conductor and its ampacity?",
    source: STOCKED,
    needs: &["the ampacity of the conductor"],
    cases: &[&FITS, &FITS_SIZE, &NONE_FITS, &NO_AMPACITY],
};

/// The same as a finding, `fuse-proposal`: which ratings fit, or that none does.
#[must_use]
pub fn propose(
    about: impl Into<Subject>,
    load: ElectricCurrent,
    ampacity: Option<ElectricCurrent>,
    largest_device: Option<ElectricCurrent>,
    ratings: &[f64],
) -> Finding {
    let about = about.into();
    let Some(ampacity) = ampacity else {
        return PROPOSAL.not_evaluated(&NO_AMPACITY, about);
    };
    let fitting = fitting_ratings(load, ampacity, largest_device, ratings);
    let fits = Value::figures(fitting.iter().map(|fitting| fitting.rating));
    let finding = match largest_device {
        _ if fitting.is_empty() => {
            let most = largest_device.filter(|largest| *largest < ampacity);
            PROPOSAL
                .fails(&NONE_FITS, about)
                .fact("most", most.unwrap_or(ampacity))
        }
        Some(largest) => PROPOSAL
            .passes(&FITS_SIZE, about)
            .fact("ratings", fits)
            .fact("largest", largest),
        None => PROPOSAL.passes(&FITS, about).fact("ratings", fits),
    };
    finding.figure(load).limit(Limit::AtMost(ampacity.into()))
}
