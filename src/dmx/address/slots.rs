//! The free slots of universes.

use super::super::timing::SLOTS;
use std::collections::BTreeMap;

/// Taken slots, by universe. Slots are 1 to 512.
#[derive(Debug, Clone, Default)]
pub(super) struct Taken {
    universes: BTreeMap<u16, [u64; 8]>,
}

impl Taken {
    fn bits(&self, universe: u16) -> [u64; 8] {
        self.universes.get(&universe).copied().unwrap_or([0; 8])
    }

    /// Marks slots `first..=last`, which lie in 1 to 512.
    pub(super) fn take(&mut self, universe: u16, first: u16, last: u16) {
        let bits = self.universes.entry(universe).or_insert([0; 8]);
        for slot in first.max(1)..=last.min(SLOTS) {
            let at = usize::from(slot - 1);
            if let Some(word) = bits.get_mut(at / 64) {
                *word |= 1 << (at % 64);
            }
        }
    }

    /// Whether any of `first..=last` is taken.
    pub(super) fn any(&self, universe: u16, first: u16, last: u16) -> bool {
        let bits = self.bits(universe);
        (first.max(1)..=last.min(SLOTS)).any(|slot| is_set(&bits, slot))
    }

    /// The first start at or after `from` with `slots` free slots in a row.
    pub(super) fn gap(&self, universe: u16, from: u16, slots: u16) -> Option<u16> {
        let bits = self.bits(universe);
        let mut run = 0;
        for slot in from.max(1)..=SLOTS {
            if is_set(&bits, slot) {
                run = 0;
            } else {
                run += 1;
                if run >= slots {
                    return Some(slot + 1 - slots);
                }
            }
        }
        None
    }

    /// Free slots in a row from `from` on.
    pub(super) fn run_from(&self, universe: u16, from: u16) -> u16 {
        let bits = self.bits(universe);
        let run = (from.max(1)..=SLOTS).take_while(|&slot| !is_set(&bits, slot));
        run.count() as u16
    }

    /// Free slots of a universe.
    pub(super) fn free(&self, universe: u16) -> u16 {
        let taken: u32 = self
            .bits(universe)
            .iter()
            .map(|word| word.count_ones())
            .sum();
        SLOTS - taken as u16
    }
}

fn is_set(bits: &[u64; 8], slot: u16) -> bool {
    let at = usize::from(slot - 1);
    bits.get(at / 64)
        .is_some_and(|word| word >> (at % 64) & 1 == 1)
}
