//! Stiff sources joined without resistance: a contradiction unless they agree.

use super::check::JOINED_OHMS;
use super::error::NetworkError;
use super::spec::NetworkSpec;

/// Groups of points joined by zero resistance, each with its potential over the group's root.
pub(super) struct Groups {
    parent: Vec<usize>,
    over_parent: Vec<f64>,
}

impl Groups {
    pub(super) fn new(size: usize) -> Self {
        Self {
            parent: (0..size).collect(),
            over_parent: vec![0.0; size],
        }
    }

    /// Root of a point, and its potential over the root. Halves the path on the way.
    pub(super) fn root(&mut self, mut point: usize) -> (usize, f64) {
        let mut over = 0.0;
        loop {
            let parent = self.parent[point];
            if parent == point {
                return (point, over);
            }
            let grand = self.parent[parent];
            self.over_parent[point] += if grand == parent {
                0.0
            } else {
                self.over_parent[parent]
            };
            self.parent[point] = grand;
            over += self.over_parent[point];
            point = grand;
        }
    }

    /// Joins `a` at `volts` over `b`; the contradiction in volts where they are joined already.
    pub(super) fn join(&mut self, a: usize, b: usize, volts: f64) -> Option<f64> {
        let ((ra, oa), (rb, ob)) = (self.root(a), self.root(b));
        if ra == rb {
            return Some(oa - ob - volts);
        }
        // potential(a) = potential(ra) + oa = potential(rb) + ob + volts
        self.parent[ra] = rb;
        self.over_parent[ra] = ob + volts - oa;
        None
    }
}

/// Finds stiff sources that contradict each other over zero resistance.
pub(super) fn check(spec: &NetworkSpec, faults: &mut Vec<NetworkError>) {
    let stiff = |ohms: f64| ohms < JOINED_OHMS;
    if !spec
        .sources
        .iter()
        .any(|s| stiff(s.output_resistance.value))
    {
        return;
    }
    let mut size = spec.nodes.len();
    let mut first_of_rail = Vec::new();
    for tape in &spec.tapes {
        for rail in std::iter::once(&tape.common).chain(tape.emitters.iter().map(|e| &e.rail)) {
            first_of_rail.push(size);
            // Only rails with a zero link or two zero attachments can join anything.
            let any = rail.attachments.iter().any(|a| stiff(a.resistance.value));
            size += if any { tape.cells } else { 0 };
        }
    }
    let mut groups = Groups::new(size);
    for link in spec.links.iter().filter(|l| stiff(l.resistance.value)) {
        groups.join(link.from.0, link.to.0, 0.0);
    }
    let mut rail_number = 0;
    for tape in &spec.tapes {
        for rail in std::iter::once(&tape.common).chain(tape.emitters.iter().map(|e| &e.rail)) {
            let first = first_of_rail[rail_number];
            rail_number += 1;
            if !rail.attachments.iter().any(|a| stiff(a.resistance.value)) {
                continue;
            }
            for cell in 1..tape.cells {
                if rail.links.get(cell - 1).is_some_and(|r| stiff(r.value)) {
                    groups.join(first + cell - 1, first + cell, 0.0);
                }
            }
            for attachment in rail
                .attachments
                .iter()
                .filter(|a| stiff(a.resistance.value))
            {
                groups.join(first + attachment.cell, attachment.node.0, 0.0);
            }
        }
    }
    let mut tied: Vec<usize> = Vec::new();
    for (index, source) in spec
        .sources
        .iter()
        .enumerate()
        .filter(|(_, s)| stiff(s.output_resistance.value))
    {
        let (plus, minus) = (groups.root(source.plus.0).0, groups.root(source.minus.0).0);
        if let Some(off) = groups.join(source.plus.0, source.minus.0, source.set_point.value) {
            let near = 1e-9 * source.set_point.value;
            if off.abs() > near {
                // The earlier source that tied this group, named as the partner.
                let root = groups.root(source.plus.0).0;
                let partner = tied
                    .iter()
                    .copied()
                    .find(|&s| groups.root(spec.sources[s].plus.0).0 == root);
                faults.push(
                    match partner.filter(|_| {
                        plus != minus || off.abs() < source.set_point.value * (1.0 - 1e-9)
                    }) {
                        Some(first) => NetworkError::ZeroResistanceConflict {
                            first: spec.sources[first].name.clone(),
                            second: source.name.clone(),
                            volts: off.abs(),
                        },
                        None => NetworkError::ZeroResistanceShort {
                            source_name: source.name.clone(),
                        },
                    },
                );
            }
        } else {
            tied.push(index);
        }
    }
}
