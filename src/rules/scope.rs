//! What this version does not compute, said of every design: nobody asked for it, and a designer must.

use super::View;
use crate::finding::{Case, Finding, Rule, Subject};
use crate::job::spec::Service;
use crate::source::Source;

/// Questions that this version leaves to others, whatever the job: none of them keeps a plan from being complete.
pub(super) const OUTSIDE: [&str; 4] = ["scope-heat", "scope-light", "scope-dimming", "scope-mains"];

const SCOPE: Source = Source::computed("scope of this version");

macro_rules! scopes {
    ($($name:ident, $case:ident, $judge:ident: $id:literal, $title:literal,
        $says:literal, $reason:literal, $remedy:literal, $applies:expr;)*) => {$(
        const $case: Case = Case::open("outside", $says, $reason).remedy($remedy);

        pub(super) static $name: Rule = Rule {
            id: $id,
            title: $title,
            asks: concat!("Does this version compute it: ", $says, "?"),
            source: SCOPE,
            needs: &[],
            cases: &[&$case],
        };

        pub(super) fn $judge(view: &View<'_>) -> Vec<Finding> {
            let applies: fn(&View<'_>) -> bool = $applies;
            if applies(view) {
                vec![$name.not_evaluated(&$case, Subject::Job)]
            } else {
                Vec::new()
            }
        }
    )*};
}

scopes! {
    HEAT, HEAT_OPEN, heat: "scope-heat", "Heat",
        "temperature of tape and profile",
        "heat is not computed",
        "measure a sample in its profile", |_| true;
    LIGHT, LIGHT_OPEN, light: "scope-light", "Light on surfaces",
        "illuminance on surfaces",
        "light is not computed",
        "use photometric data of the tape in its profile", |_| true;
    DIMMING, DIMMING_OPEN, dimming: "scope-dimming", "Dimming over the wire",
        "flicker and smoothness at low level",
        "dimming over the wire is not computed",
        "try the decoder at low level with the longest feeder", |_| true;
    MAINS, MAINS_OPEN, mains: "scope-mains", "Mains side",
        "mains side: breakers and inrush beyond the counts that makers state, leakage",
        "mains circuits are outside this calculation",
        "licensed people design the mains side", |_| true;
    WAYS, WAYS_OPEN, ways: "scope-ways", "Leads between places",
        "supplies in one place for decoders in another, over the routes between them",
        "each decoder is fed from a supply in its own place; the routes between places are kept with the job and not used",
        "let the zone list a place that has room for both, or find the drop over the route with `examples/wire`",
        |view| view.design.places.iter().any(|place| place.has_ways);
    EMERGENCY, EMERGENCY_OPEN, emergency: "scope-emergency", "Emergency lighting",
        "emergency lighting",
        "duration, changeover and levels of emergency lighting are not computed",
        "licensed people design emergency lighting",
        |view| {
            let mut zones = view.design.runs.iter().filter_map(|run| view.zone(&run.zone));
            zones.any(|zone| zone.service != Service::Normal)
        };
}
