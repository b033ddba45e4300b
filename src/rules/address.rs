//! Decoders that the universe of their zone has no slots for.

use crate::finding::{Case, Figure, Finding, Rule, Subject, Value};
use crate::id::{DecoderId, UniverseId};
use crate::source::Source;

const FULL: Case = Case::plain(
    "full",
    "the universe of its zone has no free slots left for it",
)
.figure("{slots} slots")
.limit("universe {universe}, slots 1 to 512")
.remedy("give a zone another universe, or free a taken range");
const NOT_GIVEN: Case = Case::plain("not-given", "its decoders have no addresses: {why}")
    .figure("no address")
    .limit("one")
    .remedy("take decoders with fewer outputs");

pub(super) static SPACE: Rule = Rule {
    id: "address-space",
    title: "Free slots of a universe",
    asks: "Has the universe of each zone free slots for all of its decoders?",
    source: Source::job("the job"),
    needs: &[],
    cases: &[&FULL, &NOT_GIVEN],
};

/// A decoder of so many slots that its universe has no room for.
pub(crate) fn no_space(decoder: &str, slots: u16, universe: u16) -> Finding {
    SPACE
        .fails(&FULL, Subject::Decoder(DecoderId::new(decoder)))
        .fact("slots", Figure::count(u64::from(slots)))
        .fact("universe", Figure::count(u64::from(universe)))
}

/// The decoders of a universe have no addresses, and why.
pub(crate) fn not_given(universe: &str, why: &impl ToString) -> Finding {
    SPACE
        .fails(&NOT_GIVEN, Subject::Universe(UniverseId::new(universe)))
        .fact("why", Value::note(why.to_string()))
}
