//! Small counts side by side in one number, eight bits each.

/// Top bit of every lane; counts stay below it.
const GUARD: u128 = 0x8080_8080_8080_8080_8080_8080_8080_8080;
/// Largest count of a lane.
pub const MOST: u32 = 127;
/// Lanes of one number.
pub const LANES: usize = 16;

/// Whether every count of `need` is at most that of `left`.
pub const fn within(need: u128, left: u128) -> bool {
    ((left | GUARD) - need) & GUARD == GUARD
}

/// The count of a lane.
pub const fn get(counts: u128, lane: usize) -> u32 {
    (counts >> (8 * lane)) as u32 & MOST
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn counts_are_compared_lane_by_lane() {
        let of = |counts: [u128; 3]| counts[0] | counts[1] << 8 | counts[2] << 16;
        assert!(within(of([1, 0, 127]), of([1, 2, 127])));
        assert!(!within(of([0, 3, 0]), of([127, 2, 127])));
        assert!(!within(of([1, 0, 0]), of([0, 127, 127])));
        assert_eq!(get(of([1, 2, 3]), 2), 3);
    }
}
