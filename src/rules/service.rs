//! Normal and emergency lighting against the circuits that their supplies are on.

use super::View;
use crate::design::Fed;
use crate::finding::{Case, Finding, Rule, Subject, Value};
use crate::id::{SupplyId, ZoneId};
use crate::job::spec::Service;
use crate::source::documents;
use std::collections::{BTreeMap, BTreeSet};

const OWN_CIRCUIT: Case = Case::plain(
    "agrees",
    "feeds {zones}, on a circuit for {circuit} service at {place}",
);
const ON_NORMAL: Case = Case::plain(
    "on-normal",
    "feeds emergency lighting of {zones} from a normal circuit at {place}: it goes dark with the mains",
)
.figure("{circuit}")
.limit("emergency, or both")
.remedy("give the zone a place on an emergency circuit; or, where the circuit of the place is one, state service of the place");
const ON_EMERGENCY: Case = Case::plain(
    "on-emergency",
    "feeds normal lighting of {zones} from an emergency circuit at {place}",
)
.figure("{circuit}")
.limit("normal, or both")
.remedy("give the zone a place on a normal circuit; or, where the circuit serves both, state service of the place");
const SHARED: Case = Case::plain(
    "shared",
    "feeds normal and emergency lighting together: {zones}",
)
.limit("one service")
.remedy("a supply of its own for each service");

pub(super) static RULE: Rule = Rule {
    id: "supply-service",
    title: "Emergency and normal circuits",
    asks: "Is emergency lighting on circuits of its own service, and normal lighting not on them?",
    source: documents::IEC_60364_5_56
        .at("circuits of safety services independent of other circuits")
        .from_memory(),
    needs: &[],
    cases: &[&OWN_CIRCUIT, &ON_NORMAL, &ON_EMERGENCY, &SHARED],
};

pub(super) fn judge(view: &View<'_>) -> Vec<Finding> {
    let mut fed: BTreeMap<&SupplyId, BTreeSet<&ZoneId>> = BTreeMap::new();
    for output in &view.design.outputs {
        let zones = output.feeds.iter().filter_map(|fed| match fed {
            Fed::Decoder(decoder) => Some(&view.decoder(decoder)?.zone),
            Fed::Switched { zone, .. } => Some(zone),
        });
        fed.entry(&output.supply).or_default().extend(zones);
    }
    let supplies = view.design.supplies.iter();
    supplies
        .flat_map(|supply| {
            let zones = fed.get(&supply.id).into_iter().flatten();
            let zones: Vec<(&ZoneId, Service)> = zones
                .filter_map(|zone| Some((*zone, view.zone(zone)?.service)))
                .collect();
            on_supply(view, supply, &zones)
        })
        .collect()
}

fn on_supply(
    view: &View<'_>,
    supply: &crate::design::Supply,
    zones: &[(&ZoneId, Service)],
) -> Vec<Finding> {
    let Some(place) = view.place(&supply.place) else {
        return Vec::new();
    };
    let about = || Subject::Supply(supply.id.clone());
    let say = |finding: Finding, zones: Vec<&ZoneId>| {
        finding
            .fact("zones", Value::names(zones.iter().map(ToString::to_string)))
            .fact("circuit", Value::name(place.service.word()))
            .fact("place", Value::name(place.id.to_string()))
    };
    let all = || zones.iter().map(|(zone, _)| *zone).collect();
    let is_normal = |zone: &&(&ZoneId, Service)| zone.1 == Service::Normal;
    let normal: Vec<&ZoneId> = zones.iter().filter(is_normal).map(|z| z.0).collect();
    let other: Vec<&ZoneId> = zones
        .iter()
        .filter(|z| !is_normal(z))
        .map(|z| z.0)
        .collect();
    let mut out = Vec::new();
    if !normal.is_empty() && !other.is_empty() {
        out.push(say(RULE.fails(&SHARED, about()), all()));
    }
    match place.service {
        Service::Normal if !other.is_empty() => {
            out.push(say(RULE.fails(&ON_NORMAL, about()), other));
        }
        Service::Emergency if !normal.is_empty() => {
            out.push(say(RULE.fails(&ON_EMERGENCY, about()), normal));
        }
        Service::Normal => {}
        Service::Emergency | Service::Both if out.is_empty() && !zones.is_empty() => {
            out.push(say(RULE.passes(&OWN_CIRCUIT, about()), all()));
        }
        Service::Emergency | Service::Both => {}
    }
    out
}
