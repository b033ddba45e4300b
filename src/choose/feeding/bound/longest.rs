//! The greatest length that may be, where every shorter one may: by halving, from what is known.

/// The greatest up to `most`.
pub(crate) fn longest(most: usize, may: impl Fn(usize) -> bool) -> usize {
    between(0, most + 1, may)
}

/// The same from a length that may be; it is often little less than the greatest.
pub(crate) fn longest_from(least: usize, most: usize, may: impl Fn(usize) -> bool) -> usize {
    let (mut low, mut step) = (least, 1);
    while low < most && may(most.min(low + step)) {
        low = most.min(low + step);
        step *= 2;
    }
    between(low, (low + step).min(most + 1).max(low + 1), may)
}

/// The same where it is about `guess`.
pub(crate) fn longest_about(guess: usize, most: usize, may: impl Fn(usize) -> bool) -> usize {
    let guess = guess.clamp(1, most.max(1));
    if guess <= most && may(guess) {
        return longest_from(guess, most, may);
    }
    let (mut high, mut step) = (guess, 1);
    while high > step && !may(high - step) {
        high -= step;
        step *= 2;
    }
    between(high.saturating_sub(step), high, may)
}

/// The greatest from `low`, which may be, to below `high`, which may not.
fn between(mut low: usize, mut high: usize, may: impl Fn(usize) -> bool) -> usize {
    while high - low > 1 {
        let middle = usize::midpoint(low, high);
        if may(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}

#[cfg(test)]
mod tests {
    use super::*;

    proptest::proptest! {
        #[test]
        fn all_find_the_greatest(greatest in 0..40_usize, most in 0..40_usize, near in 0..40_usize) {
            let may = |length: usize| length <= greatest;
            let wanted = greatest.min(most);
            proptest::prop_assert_eq!(longest(most, may), wanted);
            proptest::prop_assert_eq!(longest_about(near, most, may), wanted);
            proptest::prop_assert_eq!(longest_from(near.min(wanted), most, may), wanted);
        }
    }
}
