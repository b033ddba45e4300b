//! How many supplies stand on one breaker, against the count that their maker states.
//!
//! Inrush trips a breaker where running current does not, and the maker alone states how many supplies it takes: a count is
//! never made from peak and time. Kinds on one circuit share it: `Σ units ÷ count ≤ 1`.

use super::View;
use crate::design::{Place, SupplyKind};
use crate::finding::{Case, Figure, Finding, Rule, Subject, Value};
use crate::id::ProductId;
use crate::quantity::fraction;
use crate::source::Source;
use std::collections::BTreeMap;

const ONE_KIND: Case = Case::judged(
    "count",
    "supplies on circuit {circuit}, against the maker's count for a breaker of {breaker}",
)
.remedy(ELSEWHERE);
const KINDS: Case = Case::judged(
    "share",
    "share of the makers' counts for a breaker that the supplies on circuit {circuit} take",
)
.remedy(ELSEWHERE);
const ELSEWHERE: &str = "put some on another circuit, switch them on in steps, or take a breaker of a slower curve that the maker names";
const NO_COUNT: Case = Case::open(
    "no-count",
    "supplies on one breaker of circuit {circuit}",
    "the sheet of supply {kind} states no count per breaker",
)
.remedy("ask its maker; the inrush peak gives no count");
const NO_CIRCUIT: Case = Case::open(
    "no-circuit",
    "supplies on one breaker",
    "the place states no mains circuit",
)
.remedy("state its circuit");

pub(super) static RULE: Rule = Rule {
    id: "supplies-per-breaker",
    title: "Supplies on one breaker",
    asks: "Do the supplies of each mains circuit stay within the count that their maker states for a breaker?",
    source: Source::label("the supply: count per breaker"),
    needs: &["per_breaker of the supply", "circuit of the place"],
    cases: &[&ONE_KIND, &KINDS, &NO_COUNT, &NO_CIRCUIT],
};

/// Supplies of a circuit, standby units among them, by kind.
struct Circuit<'d> {
    first: &'d Place,
    kinds: BTreeMap<&'d ProductId, u64>,
}

pub(super) fn judge(view: &View<'_>) -> Vec<Finding> {
    let places: BTreeMap<_, _> = view.design.places.iter().map(|p| (&p.id, p)).collect();
    // A place without a circuit stands for itself.
    let mut circuits: BTreeMap<(&str, &str), Circuit<'_>> = BTreeMap::new();
    for supply in &view.design.supplies {
        let Some(place) = places.get(&supply.place) else {
            continue;
        };
        let name = place.circuit.as_str();
        let alone = if name.is_empty() {
            place.id.as_str()
        } else {
            ""
        };
        let circuit = circuits.entry((name, alone)).or_insert_with(|| Circuit {
            first: place,
            kinds: BTreeMap::new(),
        });
        *circuit.kinds.entry(&supply.kind).or_default() += 1;
    }
    let all = circuits.into_iter();
    all.map(|((name, _), circuit)| of_circuit(view, name, &circuit))
        .collect()
}

fn of_circuit(view: &View<'_>, name: &str, circuit: &Circuit<'_>) -> Finding {
    let about = Subject::Place(circuit.first.id.clone());
    if name.is_empty() {
        return RULE.not_evaluated(&NO_CIRCUIT, about);
    }
    let kind_of = |id: &ProductId| -> Option<&SupplyKind> {
        view.design.supply_kinds.iter().find(|kind| kind.id == *id)
    };
    let mut share = 0.0;
    let mut one = None;
    for (id, count) in &circuit.kinds {
        let Some(most) = kind_of(id).and_then(|kind| kind.per_breaker.as_ref()) else {
            return RULE
                .not_evaluated(&NO_COUNT, about)
                .fact("circuit", Value::name(name))
                .fact("kind", Value::name(id.as_str()));
        };
        share += *count as f64 / f64::from(most.count);
        one = Some((*count, most));
    }
    let finding = match one {
        Some((count, most)) if circuit.kinds.len() == 1 => {
            let limit = Figure::count(u64::from(most.count));
            RULE.at_most(&ONE_KIND, about, Figure::count(count), limit)
                .fact("breaker", Value::name(most.breaker.as_str()))
        }
        _ => RULE.at_most(&KINDS, about, fraction(share), fraction(1.0)),
    };
    finding.fact("circuit", Value::name(name))
}
