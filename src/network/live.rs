//! Which islands of a network are live, and their potentials before any current flows.

use super::conflict::Groups;
use super::islands::{Union, strong_sets};
use super::layout::Layout;
use super::plan::{LoadPlan, SourcePlan, TapePlan, siemens_of};
use super::spec::{Corner, Limit, NetworkSpec};
use std::ops::Range;

/// Pieces of a rail between broken links: range of cells and island.
pub(super) type Pieces = Vec<(Range<usize>, u32)>;

/// The islands of the network.
pub(super) struct Islands {
    pub(super) of_node: Vec<u32>,
    /// Pieces of each rail of each tape: range of cells and island.
    pub(super) of_rail: Vec<Vec<Pieces>>,
    pub(super) set: Vec<u32>,
    pub(super) live: Vec<bool>,
    pub(super) anchors: Vec<u32>,
    pub(super) count: usize,
}

impl Layout {
    pub(super) fn find_islands(&self, spec: &NetworkSpec) -> Islands {
        // Pieces of rail between broken links are points of their own beside the nodes.
        let mut size = self.nodes;
        let mut of_rail = Vec::with_capacity(self.tapes.len());
        for tape in &self.tapes {
            let rails = (0..tape.rails).map(|rail| {
                let first = tape.first_link + rail * (tape.cells - 1);
                let links = &self.rail_siemens[first..first + tape.cells - 1];
                let mut pieces = Vec::new();
                let mut start = 0;
                for cell in (1..=tape.cells).filter(|&c| c == tape.cells || links[c - 1] == 0.0) {
                    pieces.push((start..cell, size as u32));
                    size += 1;
                    start = cell;
                }
                pieces
            });
            of_rail.push(rails.collect::<Vec<_>>());
        }
        let mut union = Union::new(size);
        for wire in self.wires.iter().filter(|w| w.siemens > 0.0) {
            union.join(wire.from, wire.to);
        }
        for (tape, rails) in self.tapes.iter().zip(&of_rail) {
            for &(cell, node) in &tape.pads {
                for (rail, pieces) in rails.iter().enumerate() {
                    union.join(node + rail as u32, piece_at(pieces, cell));
                }
            }
        }
        let of_node: Vec<u32> = (0..self.nodes as u32).map(|n| union.root(n)).collect();
        for pieces in of_rail.iter_mut().flatten() {
            pieces.iter_mut().for_each(|p| p.1 = union.root(p.1));
        }
        let mut islands = Islands {
            of_node,
            of_rail,
            set: Vec::new(),
            live: Vec::new(),
            anchors: Vec::new(),
            count: size,
        };
        islands.find_live(spec, &self.tapes);
        islands
    }

    pub(super) fn one_way_branches(
        &self,
        spec: &NetworkSpec,
        islands: &Islands,
    ) -> (Vec<LoadPlan>, Vec<SourcePlan>) {
        let at = |node: usize| islands.of_node[node];
        let loads = spec.loads.iter().map(|l| LoadPlan {
            plus: l.plus.0 as u32,
            minus: l.minus.0 as u32,
            law: l.law.0,
            dark: !islands.carries(at(l.plus.0), at(l.minus.0)),
            slot: 0,
        });
        let sources = spec.sources.iter().map(|s| SourcePlan {
            plus: s.plus.0 as u32,
            minus: s.minus.0 as u32,
            siemens: siemens_of(s.output_resistance.value),
            limit: if let Limit::ConstantCurrent(limit) = s.limit {
                limit.value
            } else {
                f64::INFINITY
            },
            dark: !islands.carries(at(s.plus.0), at(s.minus.0)),
            slot: 0,
        });
        (loads.collect(), sources.collect())
    }
}

fn piece_at(pieces: &[(Range<usize>, u32)], cell: usize) -> u32 {
    let place = pieces.partition_point(|p| p.0.end <= cell);
    pieces.get(place).map_or(0, |p| p.1)
}

/// Runs of cells in which both rails stay on one piece: range, common island, return island.
fn runs<'a>(
    common: &'a [(Range<usize>, u32)],
    ret: &'a [(Range<usize>, u32)],
) -> impl Iterator<Item = (Range<usize>, u32, u32)> + 'a {
    let (mut a, mut b, mut start) = (0, 0, 0);
    std::iter::from_fn(move || {
        let (one, other) = (common.get(a)?, ret.get(b)?);
        let end = one.0.end.min(other.0.end);
        let run = (start..end, one.1, other.1);
        start = end;
        a += usize::from(one.0.end == end);
        b += usize::from(other.0.end == end);
        Some(run)
    })
}

impl Islands {
    pub(super) fn find_live(&mut self, spec: &NetworkSpec, tapes: &[TapePlan]) {
        let mut edges = Vec::new();
        for load in &spec.loads {
            edges.push((self.of_node[load.plus.0], self.of_node[load.minus.0]));
        }
        for source in &spec.sources {
            edges.push((self.of_node[source.minus.0], self.of_node[source.plus.0]));
        }
        for (tape, rails) in tapes.iter().zip(&self.of_rail) {
            for ret in &rails[1..] {
                for (_, common, ret) in runs(&rails[0], ret) {
                    edges.push(if tape.sign > 0.0 {
                        (common, ret)
                    } else {
                        (ret, common)
                    });
                }
            }
        }
        self.set = strong_sets(self.count, &edges);
        let mut lit_set = vec![None; self.count];
        for source in &spec.sources {
            let [plus, minus] = [source.plus, source.minus].map(|n| self.of_node[n.0] as usize);
            let set = self.set[plus] as usize;
            if set == self.set[minus] as usize && lit_set[set].is_none() {
                lit_set[set] = Some(source.minus.0 as u32);
            }
        }
        self.anchors = lit_set.iter().flatten().copied().collect();
        self.live = (0..self.count)
            .map(|i| lit_set[self.set[i] as usize].is_some())
            .collect();
    }

    pub(super) fn carries(&self, a: u32, b: u32) -> bool {
        self.set[a as usize] == self.set[b as usize] && self.live[a as usize]
    }

    /// Potential of each island with no current anywhere, at each corner; the highest source decides.
    pub(super) fn potentials(&self, spec: &NetworkSpec, plans: &[SourcePlan]) -> [Vec<f64>; 3] {
        let at = |corner: Corner| -> Vec<f64> {
            let mut by_volts: Vec<(f64, usize)> = spec
                .sources
                .iter()
                .enumerate()
                .filter(|&(i, _)| !plans[i].dark)
                .map(|(i, s)| (corner.set_point(s), i))
                .collect();
            by_volts.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
            let mut groups = Groups::new(self.count);
            for (volts, index) in by_volts {
                let source = &spec.sources[index];
                groups.join(
                    self.of_node[source.plus.0] as usize,
                    self.of_node[source.minus.0] as usize,
                    volts,
                );
            }
            let mut base = vec![0.0; self.count];
            for &anchor in &self.anchors {
                let (root, over) = groups.root(self.of_node[anchor as usize] as usize);
                base[root] = over;
            }
            (0..self.count)
                .map(|i| {
                    let (root, over) = groups.root(i);
                    over - base[root]
                })
                .collect()
        };
        let nominal = at(Corner::Nominal);
        if spec.sources.iter().all(|s| s.tolerance.value == 0.0) {
            return [nominal.clone(), nominal.clone(), nominal];
        }
        [at(Corner::Low), nominal, at(Corner::High)]
    }

    pub(super) fn finish_tape(&self, tape: &mut TapePlan, starts: &[Vec<f64>; 3]) {
        let Some(rails) = self.of_rail.get(tape.index) else {
            return;
        };
        for (emitter, ret) in tape.emitters.iter_mut().zip(&rails[1..]) {
            let dark = runs(&rails[0], ret).filter(|&(_, c, r)| !self.carries(c, r));
            emitter.dark = dark.map(|(range, _, _)| range).collect();
        }
        let volts = |island: u32| [0, 1, 2].map(|c| starts[c][island as usize]);
        tape.pieces = rails
            .iter()
            .map(|p| {
                p.iter()
                    .map(|(range, island)| (range.clone(), volts(*island)))
                    .collect()
            })
            .collect();
    }
}
