//! All chains of one port together: what its one driver drives.

use super::View;
use crate::design::{Chain, Universe};
use crate::dmx::sources::E1_11_TOPOLOGY;
use crate::finding::{Case, Figure, Finding, Loads, Rule, Subject, Value};
use crate::id::ChainId;
use crate::order::Order as _;
use crate::source::Source;
use std::collections::BTreeMap;

const ONE: Case = Case::plain("one", "one chain leaves {port}: {chains}");
const SPLITTER: Case = Case::plain(
    "splitter",
    "{chains} leave {port} through a powered splitter that this plan adds, one output each: together on one driver they would be a passive branch",
)
.figure("{count} chains")
.limit("one cable from a port");
const PASSIVE: Case = Case::plain(
    "passive",
    "{chains} leave {port} as {count} first cables: a passive branch of {loads} unit loads on one driver",
)
.figure("{count} cables")
.limit("one cable from a port")
.remedy("fit a powered splitter of {count} outputs at the port, or run one chain on from the end of the other");
const TWO_UNIVERSES: Case = Case::plain(
    "two-universes",
    "{port} is stated for the universes {universes}; a port sends one",
)
.figure("{count} universes")
.limit("one")
.remedy("state the port that each universe leaves from");

pub(super) static RULE: Rule = Rule {
    id: "port-chains",
    title: "Chains of one port",
    asks: "Does one cable leave each port, with a powered splitter where several chains begin there?",
    source: E1_11_TOPOLOGY,
    needs: &[],
    cases: &[&ONE, &SPLITTER, &PASSIVE, &TWO_UNIVERSES],
};

pub(super) fn judge(view: &View<'_>) -> Vec<Finding> {
    let universes = &view.design.universes;
    let mut ports: BTreeMap<&str, Vec<&Universe>> = BTreeMap::new();
    for universe in universes.iter().filter(|one| !one.port.as_str().is_empty()) {
        ports
            .entry(universe.port.as_str())
            .or_default()
            .push(universe);
    }
    let mut shared: Vec<Finding> = Vec::new();
    for (port, own) in ports.into_iter().filter(|(_, own)| own.len() > 1) {
        let names = own.iter().map(|one| one.id.to_string());
        let about = own
            .first()
            .map_or(Subject::Job, |one| Subject::Universe(one.id.clone()));
        let finding = RULE
            .fails(&TWO_UNIVERSES, about)
            .fact("port", Value::name(port))
            .fact("universes", Value::names(names))
            .fact("count", Figure::count(own.len() as u64));
        shared.push(finding.source(Source::job("the job: port of the universes")));
    }
    let each = universes.iter().filter_map(|one| universe(view, one));
    each.chain(shared).collect()
}

/// The chains of one universe, which leave by one port.
fn universe(view: &View<'_>, universe: &Universe) -> Option<Finding> {
    let chains = view.design.chains.iter();
    let mut own: Vec<&Chain> = chains.filter(|one| one.universe == universe.id).collect();
    own.order_by(|a, b| a.id.cmp(&b.id));
    let ids: Vec<&ChainId> = own.iter().map(|chain| &chain.id).collect();
    let split = view.design.splitters.iter().any(|splitter| {
        splitter.universe == universe.id && ids.iter().all(|id| splitter.chains.contains(id))
    });
    let about = Subject::Universe(universe.id.clone());
    let finding = match own.len() {
        0 => return None,
        1 => RULE.passes(&ONE, about),
        _ if split => RULE.passes(&SPLITTER, about),
        _ => RULE.fails(&PASSIVE, about),
    };
    let devices = own.iter().flat_map(|chain| &chain.devices);
    let loads = devices.fold(0_u64, |sum, device| {
        sum.saturating_add(device.unit_loads.unit_loads_e4)
    });
    let port = if universe.port.as_str().is_empty() {
        "its port"
    } else {
        universe.port.as_str()
    };
    Some(
        finding
            .fact("chains", Value::names(ids.iter().map(ToString::to_string)))
            .fact("port", Value::name(port))
            .fact("count", Figure::count(own.len() as u64))
            .fact(
                "loads",
                Loads {
                    unit_loads_e4: loads,
                },
            ),
    )
}
