//! Decoders that the universe of their zone has no slots for.

use crate::finding::{Case, Figure, Finding, Rule, Subject, Value};
use crate::id::{DecoderId, UniverseId};
use crate::source::Source;

const NONE: Case = Case::plain("none", "{why}")
    .figure("no address")
    .limit("one")
    .remedy("take decoders with fewer outputs");

pub(super) static DEVICE: Rule = Rule {
    id: "address-device",
    title: "Footprints of a universe",
    asks: "Can the devices of each universe be addressed at all?",
    source: Source::job("the job"),
    needs: &[],
    cases: &[&NONE],
};

/// The devices of a universe cannot be addressed, and why.
pub(crate) fn no_address(universe: &str, why: &impl ToString) -> Finding {
    DEVICE
        .fails(&NONE, Subject::Universe(UniverseId::new(universe)))
        .fact("why", Value::note(why.to_string()))
}

const FULL: Case = Case::plain(
    "full",
    "the universe of its zone has no free slots left for it",
)
.figure("{slots} slots")
.limit("universe {universe}, slots 1 to 512")
.remedy("give a zone another universe, or free a taken range");

pub(super) static SPACE: Rule = Rule {
    id: "address-space",
    title: "Free slots of a universe",
    asks: "Has the universe of each zone free slots for all of its decoders?",
    source: Source::job("the job"),
    needs: &[],
    cases: &[&FULL],
};

/// A decoder of so many slots that its universe has no room for.
pub(crate) fn no_space(decoder: &str, slots: u16, universe: u16) -> Finding {
    SPACE
        .fails(&FULL, Subject::Decoder(DecoderId::new(decoder)))
        .fact("slots", Figure::count(u64::from(slots)))
        .fact("universe", Figure::count(u64::from(universe)))
}
