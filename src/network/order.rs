//! The order of elimination of the wiring, and what each step touches.
//!
//! Eliminating a node replaces the star of conductances round it by a mesh
//! between its neighbours (star-mesh transformation): `g_ab += g_a·g_b/Σg`. Only
//! sums, products and quotients of positive numbers occur, so no digit is lost
//! however far apart the conductances are. Least degree first; the wiring of a
//! building is nearly a tree, so the steps stay small.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// Most mesh entries of an elimination.
pub(super) const MOST_MESH: usize = 50_000_000;

/// The steps, flattened.
#[derive(Debug, Clone, Default)]
pub(super) struct Order {
    /// Nodes in order of elimination.
    pub nodes: Vec<u32>,
    /// First neighbour of each step in `near` and `spoke`, and first mesh entry in `mesh`.
    pub steps: Vec<(u32, u32)>,
    /// Neighbours of the steps.
    pub near: Vec<u32>,
    /// Slot of the conductance to each neighbour.
    pub spoke: Vec<u32>,
    /// Slot of each pair of neighbours, first index slowest.
    pub mesh: Vec<u32>,
    /// Slots in all.
    pub slots: usize,
}

/// The neighbours of the nodes while they are ordered: lists in one array.
struct Stars {
    /// First and last entry of each node, and how many.
    of: Vec<(u32, u32, u32)>,
    /// Neighbour, slot, next entry.
    entries: Vec<(u32, u32, u32)>,
    slots: u32,
}

const END: u32 = u32::MAX;

impl Stars {
    fn of(&self, node: u32) -> impl Iterator<Item = (u32, u32)> + '_ {
        let mut at = self.of[node as usize].0;
        std::iter::from_fn(move || {
            let &(other, slot, next) = self.entries.get(at as usize)?;
            at = next;
            Some((other, slot))
        })
    }

    fn push(&mut self, node: u32, other: u32, slot: u32) {
        let place = self.entries.len() as u32;
        self.entries.push((other, slot, END));
        let (first, last, count) = &mut self.of[node as usize];
        match self.entries.get_mut(*last as usize) {
            Some(entry) => entry.2 = place,
            None => *first = place,
        }
        (*last, *count) = (place, *count + 1);
    }

    fn remove(&mut self, node: u32, other: u32) {
        let (mut before, mut at) = (END, self.of[node as usize].0);
        while let Some(&(found, _, next)) = self.entries.get(at as usize) {
            if found == other {
                let star = &mut self.of[node as usize];
                match self.entries.get_mut(before as usize) {
                    Some(entry) => entry.2 = next,
                    None => star.0 = next,
                }
                if star.1 == at {
                    star.1 = before;
                }
                star.2 -= 1;
                return;
            }
            (before, at) = (at, next);
        }
    }

    /// The slot of a pair, made if it is new.
    fn slot(&mut self, a: u32, b: u32) -> u32 {
        let (short, long) = if self.of[a as usize].2 <= self.of[b as usize].2 {
            (a, b)
        } else {
            (b, a)
        };
        if let Some((_, found)) = self.of(short).find(|&(n, _)| n == long) {
            return found;
        }
        let made = self.slots;
        self.slots += 1;
        self.push(a, b, made);
        self.push(b, a, made);
        made
    }
}

/// Orders `size` nodes joined by `pairs`; `last` are eliminated last. Also the slot of each pair.
///
/// None where the mesh would exceed [`MOST_MESH`].
pub(super) fn order(size: usize, pairs: &[(u32, u32)], last: &[u32]) -> Option<(Order, Vec<u32>)> {
    let mut stars = Stars {
        of: vec![(END, END, 0); size],
        entries: Vec::with_capacity(3 * pairs.len()),
        slots: 0,
    };
    let mut order = Order {
        nodes: Vec::with_capacity(size),
        steps: Vec::with_capacity(size + 1),
        near: Vec::with_capacity(2 * pairs.len()),
        spoke: Vec::with_capacity(2 * pairs.len()),
        ..Order::default()
    };
    let each = pairs
        .iter()
        .map(|&(a, b)| if a == b { END } else { stars.slot(a, b) });
    let slot_of = each.collect();
    let mut late = vec![false; size];
    for &node in last {
        late[node as usize] = true;
    }
    // Entries whose degree has changed since are passed over.
    let entry = |stars: &Stars, node: u32| {
        let degree = stars.of[node as usize].2;
        Reverse((late[node as usize], degree, node))
    };
    let mut done = vec![false; size];
    let mut queue: BinaryHeap<_> = (0..size as u32).map(|n| entry(&stars, n)).collect();
    let mut star = Vec::new();
    while let Some(next) = queue.pop() {
        let node = next.0.2;
        if done[node as usize] || next != entry(&stars, node) {
            continue;
        }
        done[node as usize] = true;
        order
            .steps
            .push((order.near.len() as u32, order.mesh.len() as u32));
        order.nodes.push(node);
        star.clear();
        star.extend(stars.of(node));
        for &(other, through) in &star {
            stars.remove(other, node);
            order.near.push(other);
            order.spoke.push(through);
        }
        for (k, &(a, _)) in star.iter().enumerate() {
            for &(b, _) in &star[k + 1..] {
                order.mesh.push(stars.slot(a, b));
            }
        }
        if order.mesh.len() > MOST_MESH {
            return None;
        }
        queue.extend(star.iter().map(|&(other, _)| entry(&stars, other)));
    }
    order
        .steps
        .push((order.near.len() as u32, order.mesh.len() as u32));
    order.slots = stars.slots as usize;
    Some((order, slot_of))
}

impl Order {
    /// Eliminates with conductances `value` (spoiled) and injected currents `amps` (spoiled);
    /// `share` keeps each step's share of each neighbour.
    ///
    /// Says whether every pivot is positive, and whether a node that nothing ties to the rest held
    /// current (the `anchors`, whose potential is given, may).
    pub fn eliminate(
        &self,
        value: &mut [f64],
        share: &mut [f64],
        amps: &mut [f64],
        anchors: &[u32],
    ) -> (bool, bool) {
        let (mut positive, mut lost) = (true, false);
        for (k, &node) in self.nodes.iter().enumerate() {
            let ((n0, m0), (n1, _)) = (self.steps[k], self.steps[k + 1]);
            let (n0, n1) = (n0 as usize, n1 as usize);
            let spokes = &self.spoke[n0..n1];
            let near = &self.near[n0..n1];
            let share = &mut share[n0..n1];
            let total: f64 = spokes.iter().map(|&s| value[s as usize]).sum();
            if !(total > 0.0) {
                if total == 0.0 {
                    lost |= amps[node as usize] != 0.0 && !anchors.contains(&node);
                    share.fill(0.0);
                    amps[node as usize] = 0.0;
                    continue;
                }
                positive = false;
            }
            let inverse = 1.0 / total;
            let here = amps[node as usize];
            for ((part, &spoke), &other) in share.iter_mut().zip(spokes).zip(near) {
                *part = value[spoke as usize] * inverse;
                amps[other as usize] += *part * here;
            }
            amps[node as usize] = here * inverse;
            let mut m = m0 as usize;
            for (j, &spoke) in spokes.iter().enumerate() {
                let g = value[spoke as usize];
                for part in &share[j + 1..] {
                    value[self.mesh[m] as usize] += g * part;
                    m += 1;
                }
            }
        }
        (positive, lost)
    }

    /// Puts the unknowns back: `amps` (from [`Self::eliminate`]) becomes the voltages.
    pub fn put_back(&self, share: &[f64], amps: &mut [f64]) {
        for (k, &node) in self.nodes.iter().enumerate().rev() {
            let (n0, n1) = (self.steps[k].0 as usize, self.steps[k + 1].0 as usize);
            let mut volts = amps[node as usize];
            for (part, &other) in share[n0..n1].iter().zip(&self.near[n0..n1]) {
                volts += part * amps[other as usize];
            }
            amps[node as usize] = volts;
        }
    }
}
