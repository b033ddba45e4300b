//! Isolation of data ports.

use super::super::sources as from;
use super::judge::LinkContext;
use super::part::PartKind;
use crate::device::PortIsolation;
use crate::finding::{Case, Figure, Finding, Limit, Rule, Value};

const JOINED: Case = Case::judged(
    "joined",
    "{figure:|port is|ports are} not isolated from supply minus ({ports:5})",
)
.figure("{figure:|port|ports}")
.limit("isolated receivers")
.remedy(
    "use an isolated splitter; if one supply minus opens, its load current returns through the data cable",
);
const NOT_STATED: Case = Case::open("not_stated", "", "isolation not stated: {ports:5}")
    .remedy("read it from the device's sheet");
const ISOLATED: Case = Case::plain("isolated", "every port is isolated");

pub(in crate::dmx) const ISOLATION: Rule = Rule {
    id: "chain-isolation",
    title: "Isolated receivers",
    asks: "Is every data port isolated from the supply of its device?",
    source: from::E1_11_EARTH,
    needs: &["isolation of every port"],
    cases: &[&JOINED, &NOT_STATED, &ISOLATED],
};

pub(super) fn isolated_ports(on: &LinkContext<'_>) -> Finding {
    let of = |wanted: PortIsolation| -> Vec<&str> {
        let ports = on.parts().filter(|(_, part)| {
            matches!(part.kind, PartKind::Device { isolation, .. } if isolation == wanted)
        });
        ports.map(|(_, part)| part.name.as_str()).collect()
    };
    let joined = of(PortIsolation::Joined);
    if !joined.is_empty() {
        return ISOLATION
            .fails(&JOINED, on.subject())
            .figure(Figure::count(joined.len() as u64))
            .limit(Limit::AtMost(Figure::count(0)))
            .fact("ports", Value::names(joined));
    }
    let unknown = of(PortIsolation::Unknown);
    if unknown.is_empty() {
        ISOLATION.passes(&ISOLATED, on.subject())
    } else {
        ISOLATION
            .not_evaluated(&NOT_STATED, on.subject())
            .fact("ports", Value::names(unknown))
    }
}
