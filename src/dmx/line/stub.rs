//! How long a stub may be.

use super::super::sources::{STUB_ONE_WAY, STUB_ROUND_TRIP};
use crate::dmx::chain::LineCable;
use crate::finding::plain::Finding;
use crate::quantity::{Length, Time, metres};
use crate::source::Source;

/// The two published readings of "a tenth of the edge"; documents disagree by the factor of two between them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StubRule {
    /// The wave is at the stub's end within a tenth of the edge.
    OneWay,
    /// The wave is back from the stub's end within a tenth of the edge: half as long, the stricter one.
    RoundTrip,
}

impl StubRule {
    /// The longest stub of `cable` for a straight edge of length `rise`: `t v/10`, or half of it.
    #[must_use]
    pub fn longest(self, rise: Time, cable: &LineCable) -> Length {
        let tenth = 0.1 * rise.value / cable.delay_per_metre();
        metres(match self {
            Self::OneWay => tenth,
            Self::RoundTrip => tenth / 2.0,
        })
    }

    fn source(self) -> Source {
        match self {
            Self::OneWay => STUB_ONE_WAY,
            Self::RoundTrip => STUB_ROUND_TRIP,
        }
    }

    /// Judges a stub; ask both rules: a stub between them is kept by one and broken by the other.
    #[must_use]
    pub fn judge(self, place: &str, stub: Length, rise: Time, cable: &LineCable) -> Finding {
        let limit = self.longest(rise, cable);
        let (id, way) = match self {
            Self::OneWay => ("stub-edge-one-way", "one way"),
            Self::RoundTrip => ("stub-edge-round-trip", "there and back"),
        };
        Finding::judged_at_most(id, place, stub.value, limit.value)
            .says(format!(
                "a stub of {:.2} m, {way}, against a tenth of an edge of {:.0} ns",
                stub.value,
                rise.value * 1e9
            ))
            .figure(format!("{:.2} m", stub.value))
            .limit(format!("at most {:.2} m", limit.value))
            .source(self.source())
            .remedy("bring the line in and out of the device")
    }
}

/// Largest departure after an edge that an open stub causes at a matched far end, as a share of the step.
///
/// With `q` the time there and back over the edge: `q/4` up to 0.4 (within 4 % of the simulation), `1/3` from 1
/// on (the first plateau is 2/3 of the level); none between, where [`signal`](crate::dmx::signal) has to tell.
#[must_use]
pub fn stub_departure(stub_delay: Time, rise: Time) -> Option<f64> {
    let share = 2.0 * stub_delay.value / rise.value;
    if (0.0..=0.4).contains(&share) {
        Some(share / 4.0)
    } else if share >= 1.0 {
        Some(1.0 / 3.0)
    } else {
        None
    }
}
