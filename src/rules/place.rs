//! Room for devices.

use super::View;
use crate::design::{Load, Place};
use crate::finding::{Case, Figure, Finding, Rule, Subject};
use crate::id::PlaceId;
use crate::source::Source;
use std::collections::BTreeMap;

const ELSEWHERE: &str = "permit another place, or larger units";
const SUPPLIES: Case = Case::judged("supplies", "supplies put there").remedy(ELSEWHERE);
const DECODERS: Case = Case::judged("decoders", "decoders put there").remedy(ELSEWHERE);

pub(super) static ROOM: Rule = Rule {
    id: "place-room",
    title: "Room in a place",
    asks: "Has each place room for the supplies and decoders put there, standby units included?",
    source: Source::job("the job"),
    needs: &["most_supplies or most_decoders of the place"],
    cases: &[&SUPPLIES, &DECODERS],
};

pub(super) fn room(view: &View<'_>) -> Vec<Finding> {
    let [mut supplies, mut decoders] = [BTreeMap::new(), BTreeMap::new()];
    for supply in view
        .design
        .supplies
        .iter()
        .filter(|supply| supply.load != Load::Standby)
    {
        *supplies.entry(&supply.place).or_insert(0) += 1;
    }
    for decoder in &view.design.decoders {
        *decoders.entry(&decoder.place).or_insert(0) += 1;
    }
    let there = |counts: &BTreeMap<&PlaceId, u64>, place: &Place| {
        counts.get(&place.id).copied().unwrap_or(0)
    };
    let places = view.design.places.iter();
    places
        .flat_map(|place| {
            let supplies = place.most_supplies.map(|most| {
                let count = there(&supplies, place) + place.standby_supplies;
                judge(&SUPPLIES, place, count, most)
            });
            let decoders = place.most_decoders.map(|most| {
                let count = there(&decoders, place) + place.standby_decoders;
                judge(&DECODERS, place, count, most)
            });
            supplies.into_iter().chain(decoders)
        })
        .collect()
}

fn judge(case: &Case, place: &Place, count: u64, most: u32) -> Finding {
    let about = Subject::Place(place.id.clone());
    let most = Figure::count(u64::from(most));
    ROOM.at_most(case, about, Figure::count(count), most)
}
