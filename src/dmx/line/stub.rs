//! How long a stub may be.

use super::super::sources::{STUB_ONE_WAY, STUB_ROUND_TRIP};
use crate::dmx::chain::LineCable;
use crate::finding::{Case, Finding, Rule, Subject};
use crate::quantity::{Length, Time, metres};

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

    /// Judges a stub; ask both rules: a stub between them is kept by one and broken by the other.
    #[must_use]
    pub fn judge(self, about: &Subject, stub: Length, rise: Time, cable: &LineCable) -> Finding {
        let limit = self.longest(rise, cable);
        let (rule, case) = match self {
            Self::OneWay => (&ONE_WAY, &ONE_WAY_STUB),
            Self::RoundTrip => (&ROUND_TRIP, &ROUND_TRIP_STUB),
        };
        rule.at_most(case, about.clone(), stub, limit)
            .fact("edge", rise)
    }
}

/// Words of a stub.
const fn stub(key: &'static str, says: &'static str) -> Case {
    Case::judged(key, says)
        .figure("{figure:.2 m}")
        .limit("at most {limit:.2 m}")
        .remedy("loop the line in and out of the device")
}
const ONE_WAY_STUB: Case = stub(
    "one_way",
    "a stub of {figure:.2 m}, one way, against a tenth of an edge of {edge:.0 ns}",
);
const ROUND_TRIP_STUB: Case = stub(
    "round_trip",
    "a stub of {figure:.2 m}, there and back, against a tenth of an edge of {edge:.0 ns}",
);

pub(in crate::dmx) const ONE_WAY: Rule = Rule {
    id: "stub-edge-one-way",
    title: "Stub against the edge, one way",
    asks: "Is the wave at the end of a stub within a tenth of the edge?",
    source: STUB_ONE_WAY,
    needs: &[],
    cases: &[&ONE_WAY_STUB],
};
pub(in crate::dmx) const ROUND_TRIP: Rule = Rule {
    id: "stub-edge-round-trip",
    title: "Stub against the edge, there and back",
    asks: "Is the wave back from the end of a stub within a tenth of the edge?",
    source: STUB_ROUND_TRIP,
    needs: &[],
    cases: &[&ROUND_TRIP_STUB],
};

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
