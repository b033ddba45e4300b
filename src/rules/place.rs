//! Room for devices.

use super::View;
use crate::design::{Load, Place};
use crate::finding::{Case, Figure, Finding, Rule, Subject};
use crate::source::Source;

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
    let places = view.design.places.iter();
    places
        .flat_map(|place| {
            let supplies = place
                .most_supplies
                .map(|most| judge(&SUPPLIES, place, supplies(view, place), most));
            let decoders = place
                .most_decoders
                .map(|most| judge(&DECODERS, place, decoders(view, place), most));
            supplies.into_iter().chain(decoders)
        })
        .collect()
}

fn judge(case: &Case, place: &Place, count: u64, most: u32) -> Finding {
    let about = Subject::Place(place.id.clone());
    let most = Figure::count(u64::from(most));
    ROOM.at_most(case, about, Figure::count(count), most)
}

fn supplies(view: &View<'_>, place: &Place) -> u64 {
    let all = view.design.supplies.iter();
    let own = all.filter(|supply| supply.place == place.id && supply.load != Load::Standby);
    own.count() as u64 + place.standby_supplies
}

fn decoders(view: &View<'_>, place: &Place) -> u64 {
    let all = view.design.decoders.iter();
    let own = all.filter(|decoder| decoder.place == place.id);
    own.count() as u64 + place.standby_decoders
}
