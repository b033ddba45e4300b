//! The order of elimination of the wiring, and what each step touches.
//!
//! Eliminating a node replaces the star of conductances round it by a mesh
//! between its neighbours (star-mesh transformation): `g_ab += g_a·g_b/Σg`. Only
//! sums, products and quotients of positive numbers occur, so no digit is lost
//! however far apart the conductances are. Least degree first; the wiring of a
//! building is nearly a tree, so the steps stay small.

use std::collections::BTreeSet;

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

/// Orders `size` nodes joined by `pairs`; `last` are eliminated last. Also the slot of each pair.
///
/// None where the mesh would exceed [`MOST_MESH`].
pub(super) fn order(size: usize, pairs: &[(u32, u32)], last: &[u32]) -> Option<(Order, Vec<u32>)> {
    let mut near: Vec<Vec<(u32, u32)>> = vec![Vec::new(); size];
    let mut order = Order::default();
    let mut slots = 0_u32;
    let mut slot_of = Vec::with_capacity(pairs.len());
    for &(a, b) in pairs {
        if a == b {
            slot_of.push(u32::MAX);
            continue;
        }
        slot_of.push(slot(&mut near, a, b, &mut slots));
    }
    let mut rank = vec![0_u8; size];
    for &node in last {
        rank[node as usize] = 1;
    }
    let mut queue: BTreeSet<(u8, usize, u32)> = (0..size)
        .map(|n| (rank[n], near[n].len(), n as u32))
        .collect();
    while let Some((_, _, node)) = queue.pop_first() {
        order
            .steps
            .push((order.near.len() as u32, order.mesh.len() as u32));
        order.nodes.push(node);
        let star = std::mem::take(&mut near[node as usize]);
        for &(other, through) in &star {
            let list = &mut near[other as usize];
            queue.remove(&(rank[other as usize], list.len(), other));
            list.retain(|&(n, _)| n != node);
            order.near.push(other);
            order.spoke.push(through);
        }
        for (k, &(a, _)) in star.iter().enumerate() {
            for &(b, _) in &star[k + 1..] {
                order.mesh.push(slot(&mut near, a, b, &mut slots));
            }
        }
        if order.mesh.len() > MOST_MESH {
            return None;
        }
        for &(other, _) in &star {
            queue.insert((rank[other as usize], near[other as usize].len(), other));
        }
    }
    order
        .steps
        .push((order.near.len() as u32, order.mesh.len() as u32));
    order.slots = slots as usize;
    Some((order, slot_of))
}

/// The slot of a pair, made if it is new.
fn slot(near: &mut [Vec<(u32, u32)>], a: u32, b: u32, slots: &mut u32) -> u32 {
    let (short, long) = if near[a as usize].len() <= near[b as usize].len() {
        (a, b)
    } else {
        (b, a)
    };
    if let Some(&(_, found)) = near[short as usize].iter().find(|&&(n, _)| n == long) {
        return found;
    }
    let made = *slots;
    *slots += 1;
    near[a as usize].push((b, made));
    near[b as usize].push((a, made));
    made
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
