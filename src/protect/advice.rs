//! Advice on separation, and the cautions that go with every answer of this room.

use crate::source::{Source, documents};

/// A sentence with its source.
#[derive(Debug, Clone, PartialEq)]
pub struct Advice {
    /// The sentence.
    pub says: &'static str,
    /// Where from.
    pub source: Source,
}

/// Keeping Class 2 conductors apart from power and lighting conductors, in this crate's own words.
#[must_use]
pub fn separation() -> Vec<Advice> {
    let source = || documents::NEC.at("725.136, text of 2017").quoted();
    vec![
        Advice {
            says: "Class 2 conductors share no cable, box, raceway or compartment with power or lighting conductors, unless a barrier or a raceway inside the enclosure divides them.",
            source: source(),
        },
        Advice {
            says: "Inside equipment where both must meet, they stay 6 mm (0.25 in) apart.",
            source: source(),
        },
        Advice {
            says: "In the open they stay 50 mm (2 in) apart, unless one of the two sets is in a raceway or a sheathed cable.",
            source: source(),
        },
    ]
}

/// What must stand beside every protection schedule.
#[must_use]
pub fn cautions() -> Vec<&'static str> {
    vec![
        "That no encoded limit is exceeded is not conformity with any code; design and connection belong to licensed people under the code in force at the place.",
        "Classes come from the labels: verify them on the supplies and decoders that are delivered.",
        "Unknown counts as none: an unknown energy class protects nothing, an unknown limit is taken as unlimited.",
        "Short circuits are computed as solid ones; an arc or a bad joint draws less and is invisible to these rules.",
        "A run fed from two supplies stays live with one of them off: label both ends and give the zone one point of disconnection.",
        "Fuses and breakers are proposed with their inequalities, not chosen; the limit I2 <= 1.45 Iz on the device's conventional operating current is not evaluated.",
    ]
}
