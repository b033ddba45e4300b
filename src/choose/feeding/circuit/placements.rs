//! Where two and three feeds may lie in a segment.

use crate::choose::feeding::problem::checked::CheckedRun;
use crate::choose::feeding::problem::spec::Pattern;

/// Every choice of a few listed marks inside: the marks and their count.
pub(crate) fn listed(
    m: &CheckedRun,
    pattern: Pattern,
    from: usize,
    to: usize,
) -> Vec<([usize; 3], usize)> {
    let marks = m.listed_inside.as_deref().unwrap_or_default();
    let first = marks.partition_point(|k| *k <= from);
    let last = marks.partition_point(|k| *k < to).max(first);
    let inner = &marks[first..last];
    let mut all = Vec::new();
    for (a, &first) in inner.iter().enumerate() {
        if pattern == Pattern::BothEndsAndInside {
            all.push(([from, first, to], 3));
            continue;
        }
        for (b, &second) in inner.iter().enumerate().skip(a + 1) {
            if pattern == Pattern::TwoInside {
                all.push(([first, second, 0], 2));
                continue;
            }
            all.extend(
                inner[b + 1..]
                    .iter()
                    .map(|&third| ([first, second, third], 3)),
            );
        }
    }
    all
}

/// The even places of a pattern, quarters for two, sixths for three, the middle between both ends: one way, or
/// two where the middle lies between two marks.
pub(crate) fn even(pattern: Pattern, from: usize, to: usize) -> [Option<[usize; 3]>; 2] {
    let n = to - from;
    let middles = [Some(from + n / 2), (n % 2 == 1).then_some(from + n / 2 + 1)];
    let (quarter, sixth) = ((n + 2) / 4, (n + 3) / 6);
    let (first, last) = match pattern {
        Pattern::TwoInside => {
            let (first, last) = (from + quarter, to - quarter);
            let fits = from < first && first < last && last < to;
            return [fits.then_some([first, last, 0]), None];
        }
        Pattern::BothEndsAndInside => (from, to),
        _ if sixth == 0 => return [None, None],
        _ => (from + sixth, to - sixth),
    };
    middles.map(|middle| {
        let middle = middle.filter(|k| first < *k && *k < last)?;
        Some([first, middle, last])
    })
}

/// The first and the last mark on which each feed at an even place lies where a segment to `to` begins somewhere from
/// `first` to `last`.
pub(crate) fn even_span(
    pattern: Pattern,
    first: usize,
    last: usize,
    to: usize,
) -> [(usize, usize); 3] {
    let inset = |from: usize| match pattern {
        Pattern::TwoInside => (to - from + 2) / 4,
        Pattern::BothEndsAndInside => 0,
        _ => (to - from + 3) / 6,
    };
    let (a, b) = (inset(first), inset(last));
    let outer = [(first + a, last + b), (to - a, to - b)];
    let middle = (first.midpoint(to), (last + to).div_ceil(2));
    match pattern {
        Pattern::TwoInside => [outer[0], outer[1], middle],
        _ => [outer[0], middle, outer[1]],
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::choose::feeding::bound::lengths::SEVERAL;

    proptest::proptest! {
        #[test]
        fn spans_hold_every_even_place(first in 0..60_usize, more in 0..40_usize, beyond in 1..80_usize) {
            let (last, to) = (first + more, first + more + beyond);
            for (pattern, count, _) in SEVERAL {
                let spans = even_span(pattern, first, last, to);
                for marks in (first..=last).flat_map(|from| even(pattern, from, to)).flatten() {
                    for (mark, (low, high)) in marks.iter().zip(spans).take(count) {
                        proptest::prop_assert!((low..=high).contains(mark), "{pattern:?} {marks:?} {spans:?}");
                    }
                }
                // A single segment lies where the span says, to a mark where there are two middles.
                let own = even_span(pattern, last, last, to);
                proptest::prop_assert!(own.iter().take(count).all(|(low, high)| high - low <= 1));
            }
        }
    }
}
