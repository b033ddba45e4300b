//! Which facts would narrow the answer most.

use super::Page;
use crate::design::{Assumed, Design, Extent, Narrowing};
use crate::job::spec::TakenFact;
use crate::report::words::{listed, many};

pub(super) fn narrowing(design: &Design, page: &mut Page) {
    let all = &design.narrowing;
    let heading = "What would narrow the answer most";
    page.part(heading, all.len(), all.len(), |page| {
        for one in all {
            page.line("  ", &line(one));
        }
    });
}

/// `forward voltage of the diodes of white, 2.8 V or 3.2 V: 2 or 3 supplies, 2 or 4 feeds`.
fn line(one: &Narrowing) -> String {
    let of = one.of.as_ref();
    let of = of.map_or_else(String::new, |of| format!(" of {of}"));
    let what = match one.what {
        Assumed::Fact(TakenFact::PowerBasis) => format!("the power{of} measured on"),
        Assumed::Fact(TakenFact::Copper) => format!("copper{of}"),
        Assumed::Fact(TakenFact::Strings) => format!("a diode{of}"),
        Assumed::Fact(fact) => format!("{}{of}", fact.words()),
        Assumed::Limit(key) => key.words().to_string(),
        _ => String::new(),
    };
    let [first, second] = &one.ends;
    let ends = match (&first.value, &second.value) {
        (Some(first), Some(second)) => format!("{first} or {second}"),
        _ => "a short piece or a full reel".to_string(),
    };
    let metre = match one.what {
        Assumed::Fact(TakenFact::Copper) => " a metre",
        _ => "",
    };
    format!("{what}, {ends}{metre}: {}", told(&first.plan, &second.plan))
}

/// `2 or 3 supplies, 4 feeds`; where both are the same, the light that is left.
fn told(first: &Extent, second: &Extent) -> String {
    if first.apart(second) == 0
        && let (Some(a), Some(b)) = (first.least_current, second.least_current)
    {
        return format!("weakest cell at {a} or {b} of its current");
    }
    let counts = [
        (first.supplies, second.supplies, "supply", "supplies"),
        (first.decoders, second.decoders, "decoder", "decoders"),
        (first.feeds, second.feeds, "feed", "feeds"),
    ];
    let counts = counts.into_iter().filter(|(a, b, ..)| a.max(b) > &0);
    let words = counts.map(|(a, b, one, more)| match a == b {
        true => many(a as usize, one, more),
        false => format!("{a} or {b} {more}"),
    });
    listed(words)
}
