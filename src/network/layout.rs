//! Laying tapes and wiring out in the work arrays.

use super::plan::{
    Bridge, BridgeKind, EmitterPlan, Section, Sizes, TapePlan, Wire, lit_rails, siemens_of,
};
use super::spec::NetworkSpec;
use super::tape::{Polarity, TapeSpec};

/// The layout while it grows.
pub(super) struct Layout {
    pub(super) tapes: Vec<TapePlan>,
    pub(super) sections: Vec<Section>,
    pub(super) rail_siemens: Vec<f64>,
    pub(super) wires: Vec<Wire>,
    pub(super) bridges: Vec<Bridge>,
    pub(super) bridge_pairs: Vec<(u32, u32)>,
    pub(super) nodes: usize,
    pub(super) sizes: Sizes,
}

impl Layout {
    pub(super) fn new(spec: &NetworkSpec) -> Self {
        let wires = spec.links.iter().map(|l| Wire {
            from: l.from.0 as u32,
            to: l.to.0 as u32,
            siemens: siemens_of(l.resistance.value),
            slot: 0,
        });
        Self {
            tapes: Vec::with_capacity(spec.tapes.len()),
            sections: Vec::new(),
            rail_siemens: Vec::new(),
            wires: wires.collect(),
            bridges: Vec::new(),
            bridge_pairs: Vec::new(),
            nodes: spec.nodes.len(),
            sizes: Sizes::default(),
        }
    }

    pub(super) fn lay_tapes(&mut self, spec: &NetworkSpec) {
        for (number, tape) in spec.tapes.iter().enumerate() {
            let rails = lit_rails(tape).count();
            let plan = TapePlan {
                index: number,
                cells: tape.cells,
                rails,
                lit: lit_places(tape),
                first_node: self.sizes.rail_nodes,
                first_link: self.sizes.rail_links,
                first_cell: self.sizes.cells,
                sign: if tape.polarity == Polarity::CommonPlus {
                    1.0
                } else {
                    -1.0
                },
                emitters: emitter_plans(tape),
                pads: Vec::new(),
                pieces: Vec::new(),
                rail_wires: Vec::new(),
            };
            self.sizes.rail_nodes += rails * tape.cells;
            self.sizes.rail_links += rails * (tape.cells - 1);
            self.sizes.cells += (rails - 1) * tape.cells;
            for rail in lit_rails(tape) {
                let ohms = (0..tape.cells - 1)
                    .map(|k| rail.links.get(k).map_or(f64::INFINITY, |r| r.value));
                self.rail_siemens.extend(ohms.map(siemens_of));
            }
            self.tapes.push(plan);
            self.lay_pads(number, tape);
            self.lay_sections(number);
        }
    }

    pub(super) fn lay_pads(&mut self, number: usize, tape: &TapeSpec) {
        let mut cells: Vec<usize> = lit_rails(tape)
            .flat_map(|r| r.attachments.iter().map(|a| a.cell))
            .collect();
        cells.sort_unstable();
        cells.dedup();
        if let (Some(&low), Some(&high)) = (cells.first(), cells.last()) {
            cells.extend(super::folds::changes(tape, low..high));
            cells.sort_unstable();
            cells.dedup();
        }
        let plan = &mut self.tapes[number];
        for &cell in &cells {
            plan.pads.push((cell, self.nodes as u32));
            self.nodes += plan.rails;
        }
        for (rail, spec) in lit_rails(tape).enumerate() {
            let first = self.wires.len();
            for attachment in &spec.attachments {
                let Ok(pad) = plan.pads.binary_search_by_key(&attachment.cell, |p| p.0) else {
                    continue;
                };
                self.wires.push(Wire {
                    from: attachment.node.0 as u32,
                    to: plan.pads[pad].1 + rail as u32,
                    siemens: siemens_of(attachment.resistance.value),
                    slot: 0,
                });
            }
            plan.rail_wires.push(first..self.wires.len());
        }
        for &(cell, node) in &plan.pads {
            for emitter in 0..plan.rails - 1 {
                let kind = BridgeKind::Cell(plan.first_cell + emitter * plan.cells + cell);
                self.bridges.push(Bridge { kind, slot: 0 });
                self.bridge_pairs.push((node, node + 1 + emitter as u32));
            }
        }
    }

    pub(super) fn lay_sections(&mut self, number: usize) {
        let plan = self.tapes[number].clone();
        let (Some(&(low, low_node)), Some(&(high, high_node))) =
            (plan.pads.first(), plan.pads.last())
        else {
            return;
        };
        if low > 0 {
            self.lay_section(number, 0, low, true, low_node, None);
        }
        for pair in plan.pads.windows(2) {
            let ((a, node_a), (b, node_b)) = (pair[0], pair[1]);
            if b - a > 1 {
                self.lay_section(number, a + 1, b - a - 1, true, node_b, Some(node_a));
                continue;
            }
            for rail in 0..plan.rails {
                let link = plan.first_link + rail * (plan.cells - 1) + a;
                self.bridges.push(Bridge {
                    kind: BridgeKind::RailLink(link),
                    slot: 0,
                });
                self.bridge_pairs
                    .push((node_a + rail as u32, node_b + rail as u32));
            }
        }
        if high + 1 < plan.cells {
            self.lay_section(
                number,
                plan.cells - 1,
                plan.cells - 1 - high,
                false,
                high_node,
                None,
            );
        }
    }

    pub(super) fn lay_section(
        &mut self,
        tape: usize,
        first: usize,
        count: usize,
        up: bool,
        next: u32,
        left: Option<u32>,
    ) {
        let rails = self.tapes[tape].rails;
        let width = if left.is_some() {
            2 * rails + 1
        } else {
            rails + 1
        };
        let coefficients = self.sizes.coefficients;
        self.sizes.coefficients += count * rails * width;
        self.sections.push(Section {
            tape,
            first,
            count,
            up,
            next,
            left,
            coefficients,
            first_slot: self.bridges.len(),
        });
        let ports = || {
            (0..rails as u32).map(move |r| next + r).chain(
                left.into_iter()
                    .flat_map(move |l| (0..rails as u32).map(move |r| l + r)),
            )
        };
        for (k, a) in ports().enumerate() {
            for b in ports().skip(k + 1) {
                self.bridges.push(Bridge {
                    kind: BridgeKind::Mesh,
                    slot: 0,
                });
                self.bridge_pairs.push((a, b));
            }
        }
    }
}

fn lit_places(tape: &TapeSpec) -> Vec<Option<usize>> {
    let mut next = 0;
    tape.emitters
        .iter()
        .map(|e| {
            e.lit.then(|| {
                next += 1;
                next - 1
            })
        })
        .collect()
}

fn emitter_plans(tape: &TapeSpec) -> Vec<EmitterPlan> {
    let lit = tape.emitters.iter().filter(|e| e.lit);
    lit.map(|e| EmitterPlan {
        law: e.law.0,
        exceptions: e.exceptions.iter().map(|&(k, l)| (k, l.0)).collect(),
        dark: Vec::new(),
    })
    .collect()
}
