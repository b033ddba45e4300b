//! Stable sorting of short lists, compiled once.
//!
//! The standard library's sort is compiled anew for every type and every comparison, some 2400 lines of
//! intermediate code each time. Here only the positions are sorted, by one compiled sort; the items are then swapped
//! into place:
//!
//! ```text
//! items     c a b          order = positions by what stands there:  1 2 0
//! slot 0 <- order[0]       follow each cycle of `order` once:       a b c
//! ```
//!
//! The result is that of `slice::sort_by`. A comparison costs a call through a pointer: searches that sort
//! in their inner loops keep the standard sort.

use std::cmp::Ordering;

/// Stable sorting where speed does not matter.
pub(crate) trait Order<T> {
    /// As `sort_by`.
    fn order_by(&mut self, compare: impl FnMut(&T, &T) -> Ordering);

    /// As `sort_by_key`.
    fn order_by_key<K: Ord>(&mut self, key: impl FnMut(&T) -> K);
}

impl<T> Order<T> for [T] {
    fn order_by(&mut self, mut compare: impl FnMut(&T, &T) -> Ordering) {
        let mut order = positions(self.len(), &mut |a, b| compare(&self[a], &self[b]));
        place(&mut order, &mut |a, b| self.swap(a, b));
    }

    fn order_by_key<K: Ord>(&mut self, mut key: impl FnMut(&T) -> K) {
        self.order_by(|a, b| key(a).cmp(&key(b)));
    }
}

/// The positions `0..count` in order.
fn positions(count: usize, compare: &mut dyn FnMut(usize, usize) -> Ordering) -> Vec<usize> {
    let mut order: Vec<usize> = (0..count).collect();
    order.sort_by(|a, b| compare(*a, *b));
    order
}

/// Swaps into each slot what `order` names for it; `order` is used up.
fn place(order: &mut [usize], swap: &mut dyn FnMut(usize, usize)) {
    for start in 0..order.len() {
        let mut slot = start;
        loop {
            let from = std::mem::replace(&mut order[slot], slot);
            if from == start {
                break;
            }
            swap(slot, from);
            slot = from;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Order;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn as_the_standard_sort(items in prop::collection::vec((0_u8..6, any::<u16>()), 0..60)) {
            let (mut here, mut standard) = (items.clone(), items);
            here.order_by(|a, b| b.0.cmp(&a.0));
            standard.sort_by_key(|one| std::cmp::Reverse(one.0));
            prop_assert_eq!(&here, &standard);
            here.order_by_key(|item| item.0);
            standard.sort_by_key(|item| item.0);
            prop_assert_eq!(here, standard);
        }
    }
}
