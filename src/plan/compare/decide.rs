//! What decides between candidates: computed from their figures, said in one sentence.

use super::bill::Part;
use super::figures::Figures;
use super::{Compared, Outcome};
use crate::id::RuleId;
use crate::order::Order as _;
use crate::quantity::{Currency, Money};

/// What decided, in the order in which it is asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Criterion {
    /// The caller stopped the comparison: nothing was decided.
    Stopped,
    /// No candidate can be planned.
    NoneCanBePlanned,
    /// Only one can.
    OnlyOne,
    /// It breaks limits of fewer rules than any other.
    BrokenLimits,
    /// Among those that break as few, it costs least. Asked where every price of those is known.
    Cost,
    /// As much is broken (and costs as much, or prices are missing): it loses the fewest watts in wiring.
    Lost,
    /// And loses as few watts: its weakest light falls off least.
    FallOff,
    /// And falls off as little: it has the fewest feeds.
    Feeds,
    /// Nothing that is compared tells them apart.
    Nothing,
}

/// Which candidate is ahead, and by what.
#[derive(Debug, Clone, PartialEq)]
pub struct Decision {
    /// Its place in the list of candidates; none where nothing decides.
    pub ahead: Option<usize>,
    /// What decided.
    pub by: Criterion,
    /// One sentence with the figures.
    pub sentence: String,
}

/// Figures that hardly differ are equal: watts and shares to this part.
const SAME: f64 = 1e-9;

type Entry<'c> = (usize, &'c str, &'c Figures);

pub(super) fn decide(candidates: &[Compared], currency: &Currency) -> Decision {
    let nothing = |by, sentence: String| Decision {
        ahead: None,
        by,
        sentence,
    };
    let stopped = |c: &&Compared| c.outcome == Outcome::Stopped;
    let left = candidates.iter().filter(stopped).count();
    if left > 0 {
        return nothing(
            Criterion::Stopped,
            format!(
                "Nothing is decided: the caller stopped the comparison with {left} of {} candidates not planned.",
                candidates.len()
            ),
        );
    }
    let planned: Vec<Entry<'_>> = candidates
        .iter()
        .enumerate()
        .filter_map(|(at, c)| Some((at, c.name.as_str(), c.figures()?)))
        .collect();
    let Some(fewest) = planned.iter().map(|e| e.2.broken.len()).min() else {
        let sentence = "Nothing is decided: no candidate can be planned.".to_string();
        return nothing(Criterion::NoneCanBePlanned, sentence);
    };
    if let [(at, name, _)] = planned[..]
        && candidates.len() > 1
    {
        return Decision {
            ahead: Some(at),
            by: Criterion::OnlyOne,
            sentence: format!(
                "That it can be planned decides for \"{name}\": of {} candidates no other can.",
                candidates.len()
            ),
        };
    }
    let finalists: Vec<Entry<'_>> = planned
        .iter()
        .copied()
        .filter(|e| e.2.broken.len() == fewest)
        .collect();
    if let [(at, name, figures)] = finalists[..]
        && planned.len() > 1
    {
        let next = planned.iter().filter(|e| e.0 != at);
        let next = next.min_by_key(|e| e.2.broken.len()).unwrap_or(&planned[0]);
        let beyond = next.2.broken.difference(&figures.broken);
        let beyond: Vec<&str> = beyond.map(RuleId::as_str).collect();
        return Decision {
            ahead: Some(at),
            by: Criterion::BrokenLimits,
            sentence: format!(
                "The limits decide for \"{name}\": it breaks {}, \"{}\", which breaks fewest of the others, {}, {} among them{}.",
                rules(figures.broken.len()),
                next.1,
                rules(next.2.broken.len()),
                beyond.join(", "),
                behind(figures, next, currency)
            ),
        };
    }
    by_figures(&finalists, currency)
}

/// Between candidates that break the same count of limits.
fn by_figures(finalists: &[Entry<'_>], currency: &Currency) -> Decision {
    let whole: Option<Vec<Money>> = finalists.iter().map(|e| e.2.bill.total()).collect();
    let unpriced = if whole.is_none() {
        " (cost cannot decide: prices are missing)"
    } else {
        ""
    };
    if let Some(costs) = whole {
        let mut order: Vec<usize> = (0..costs.len()).collect();
        order.order_by_key(|n| costs[*n]);
        if let [first, next, ..] = order[..]
            && costs[first] < costs[next]
        {
            return cost(
                finalists,
                [first, next],
                [costs[first], costs[next]],
                currency,
            );
        }
    }
    type Ask = (
        Criterion,
        &'static str,
        fn(&Figures) -> f64,
        fn(&Figures) -> String,
    );
    let asks: [Ask; 3] = [
        (
            Criterion::Lost,
            "Watts lost in wiring decide",
            |f| f.lost.value,
            lost,
        ),
        (
            Criterion::FallOff,
            "The fall-off of light decides",
            |f| f.fall_off.figure.value,
            fall_off,
        ),
        (
            Criterion::Feeds,
            "The count of feeds decides",
            |f| f.feeds as f64,
            |f| f.feeds.to_string(),
        ),
    ];
    for (by, opening, value, show) in asks {
        let order = ranked(finalists, value);
        if let [first, next, ..] = order[..] {
            let (one, other) = (finalists[first], finalists[next]);
            let (a, b) = (value(one.2), value(other.2));
            if b - a > SAME * a.abs().max(b.abs()) {
                return Decision {
                    ahead: Some(one.0),
                    by,
                    sentence: format!(
                        "{opening} for \"{}\"{unpriced}: {} against {} of \"{}\", the next{}.",
                        one.1,
                        show(one.2),
                        show(other.2),
                        other.1,
                        behind(one.2, &other, currency)
                    ),
                };
            }
        }
    }
    let names: Vec<String> = finalists.iter().map(|e| format!("\"{}\"", e.1)).collect();
    Decision {
        ahead: None,
        by: Criterion::Nothing,
        sentence: match &names[..] {
            [one] => format!("There is nothing to decide: {one} is the only candidate."),
            _ => format!(
                "Nothing that is compared tells {} apart{unpriced}.",
                names.join(" and ")
            ),
        },
    }
}

/// Places in the list, least value first; what is no number stands last.
fn ranked(finalists: &[Entry<'_>], value: impl Fn(&Figures) -> f64) -> Vec<usize> {
    let mut order: Vec<usize> = (0..finalists.len()).collect();
    order.order_by(|a, b| value(finalists[*a].2).total_cmp(&value(finalists[*b].2)));
    order
}

/// The first of two is ahead in cost; `totals` are theirs.
fn cost(
    finalists: &[Entry<'_>],
    [first, next]: [usize; 2],
    [total, others]: [Money; 2],
    currency: &Currency,
) -> Decision {
    let (one, other) = (finalists[first], finalists[next]);
    let words = |money: Option<Money>| {
        money.map_or_else(
            || "more than can be held".to_string(),
            |m| currency.words(m),
        )
    };
    // Where the difference lies: the part in which most is saved.
    let saved = |part: Part| other.2.bill.part(part)?.minus(one.2.bill.part(part)?);
    let most = Part::ALL.into_iter().max_by_key(|part| saved(*part));
    let part = match most.map(|part| (part, saved(part))) {
        Some((part, saved)) if saved > Some(Money::ZERO) => {
            format!(", most of it in {} ({} less)", part.words(), words(saved))
        }
        _ => String::new(),
    };
    Decision {
        ahead: Some(one.0),
        by: Criterion::Cost,
        sentence: format!(
            "Cost decides for \"{}\": breaking as few rules ({}) it costs {}, {} less than \"{}\", the next{part}{}.",
            one.1,
            one.2.broken.len(),
            currency.words(total),
            words(others.minus(total)),
            other.1,
            behind(one.2, &other, currency)
        ),
    }
}

/// In what the next is ahead of the one that is ahead, to follow the sentence.
fn behind(one: &Figures, next: &Entry<'_>, currency: &Currency) -> String {
    let other = next.2;
    let less = |a: f64, b: f64| a - b > SAME * a.abs().max(b.abs());
    let mut told = Vec::new();
    let mut tell = |worse: bool, what: &str, own: String, others: String| {
        if worse {
            told.push(format!("{what} ({others} against {own})"));
        }
    };
    if let (Some(a), Some(b)) = (one.bill.total(), other.bill.total()) {
        tell(a > b, "cost", currency.words(a), currency.words(b));
    }
    tell(
        less(one.fall_off.figure.value, other.fall_off.figure.value),
        "fall-off of light",
        fall_off(one),
        fall_off(other),
    );
    tell(
        less(one.shift.figure.value, other.shift.figure.value),
        "colour shift",
        share(one.shift.figure.value),
        share(other.shift.figure.value),
    );
    tell(
        less(one.lost.value, other.lost.value),
        "watts lost",
        lost(one),
        lost(other),
    );
    let mm = |f: &Figures| format!("{:.0} mm", f.dark.to_length().value * 1e3);
    tell(one.dark > other.dark, "dark ends", mm(one), mm(other));
    let feeds = |f: &Figures| f.feeds.to_string();
    tell(one.feeds > other.feeds, "feeds", feeds(one), feeds(other));
    if told.is_empty() {
        format!(
            "; \"{}\" is ahead in none of the other figures named here",
            next.1
        )
    } else {
        format!("; \"{}\" is ahead in {}", next.1, told.join(", "))
    }
}

fn rules(count: usize) -> String {
    match count {
        0 => "no rule".to_string(),
        1 => "1 rule".to_string(),
        n => format!("{n} rules"),
    }
}

fn share(value: f64) -> String {
    format!("{:.1} %", value * 100.0)
}

fn fall_off(f: &Figures) -> String {
    share(f.fall_off.figure.value)
}

fn lost(f: &Figures) -> String {
    format!("{:.1} W", f.lost.value)
}
