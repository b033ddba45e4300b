//! A start from a coarser network: eight cells of every tape taken as one.
//!
//! The wiring stays as it is; rails are joined from centre to centre, attachments reach the centre over the
//! rail between. Its solution, spread along each rail by parabolas, is near enough for two or three passes of the fine network,
//! however starved the tape.

use super::plan::{Network, lit_rails, siemens_of};
use super::solve::{SolveOptions, Start};
use super::spec::{Corner, LawId, NetworkSpec};
use super::tape::{Along, Attachment, EmitterSpec, RailSpec, TapeSpec};
use super::workspace::Workspace;
use crate::quantity::{ElectricalResistance, ohms, volts};

/// Cells of a tape taken as one.
const COARSER: usize = 8;
/// A tape shorter than this has nothing to gain.
const WORTH: usize = 40;
/// A tape shorter than this has nothing to gain where its rails take little.
const LONG: usize = 256;
/// Share of the source that counts as little.
const LITTLE: f64 = 0.1;
/// Conductance above which an attachment is a joint, S.
const JOINT: f64 = 1e6;

/// The coarser network, where that is worth while and possible.
pub(super) fn coarser(spec: &NetworkSpec, falling: bool) -> Option<Box<Network>> {
    let longest = spec.tapes.iter().map(|t| t.cells).max().unwrap_or(0);
    if falling || longest < WORTH || longest < LONG && takes_little(spec) {
        return None;
    }
    let mut coarse = spec.clone_wiring();
    let many = COARSER as f64;
    for law in &spec.laws {
        coarse.laws.push(law.times(many).ok()?);
    }
    for tape in &spec.tapes {
        coarse.tapes.push(coarse_tape(tape, spec.laws.len())?);
    }
    Network::prepare(coarse).ok().map(Box::new)
}

/// Whether no rail would take much of what the sources give if its cells drew all that they draw at the source, and half
/// of that went all its way.
fn takes_little(spec: &NetworkSpec) -> bool {
    let each = spec.sources.iter().map(|s| s.set_point.value);
    let most = each.fold(0.0, f64::max);
    let amps = |law: LawId| {
        spec.laws
            .get(law.0)
            .map_or(0.0, |law| law.current(volts(most)).value)
    };
    spec.tapes.iter().all(|tape| {
        let cells = tape.cells as f64;
        let lit = tape.emitters.iter().filter(|e| e.lit);
        let sum: f64 = lit.map(|e| amps(e.law)).sum();
        let rails = std::iter::once(&tape.common).chain(tape.emitters.iter().map(|e| &e.rail));
        rails.into_iter().all(|rail| {
            let all = match &rail.links {
                Along::Uniform(r) => r.value * cells,
                Along::Each(each) => each.iter().map(|r| r.value).sum(),
            };
            0.5 * all * cells * sum <= LITTLE * most
        })
    })
}

impl NetworkSpec {
    /// All but the tapes.
    fn clone_wiring(&self) -> Self {
        Self {
            nodes: self.nodes.clone(),
            links: self.links.clone(),
            sources: self.sources.clone(),
            laws: self.laws.clone(),
            loads: self.loads.clone(),
            tapes: Vec::with_capacity(self.tapes.len()),
        }
    }
}

fn coarse_tape(tape: &TapeSpec, laws: usize) -> Option<TapeSpec> {
    // A short tape stays as it is.
    if tape.cells < WORTH {
        return Some(tape.clone());
    }
    if lit_rails(tape).any(|rail| is_broken(rail, tape.cells)) {
        return None;
    }
    let rail = |rail: &RailSpec| coarse_rail(rail, tape.cells);
    Some(TapeSpec {
        name: tape.name.clone(),
        polarity: tape.polarity,
        cells: tape.cells.div_ceil(COARSER),
        common: rail(&tape.common),
        emitters: tape
            .emitters
            .iter()
            .map(|e| EmitterSpec {
                name: e.name.clone(),
                lit: e.lit,
                law: LawId(e.law.0 + laws),
                exceptions: Vec::new(),
                rail: rail(&e.rail),
            })
            .collect(),
    })
}

fn is_broken(rail: &RailSpec, cells: usize) -> bool {
    let open = |r: &ElectricalResistance| siemens_of(r.value) == 0.0;
    match &rail.links {
        Along::Uniform(r) => cells > 1 && open(r),
        Along::Each(each) => each.iter().any(open),
    }
}

fn coarse_rail(rail: &RailSpec, cells: usize) -> RailSpec {
    let way = |a: usize, b: usize| match &rail.links {
        Along::Uniform(r) => r.value * (b - a) as f64,
        Along::Each(each) => each
            .get(a..b)
            .map_or(0.0, |part| part.iter().map(|r| r.value).sum()),
    };
    let groups = cells.div_ceil(COARSER);
    let links = match &rail.links {
        Along::Uniform(r) if cells.is_multiple_of(COARSER) => {
            Along::Uniform(ohms(r.value * COARSER as f64))
        }
        _ => Along::Each(
            (1..groups)
                .map(|g| ohms(way(centre(g - 1, cells), centre(g, cells))))
                .collect(),
        ),
    };
    let attachments = rail.attachments.iter().map(|a| {
        let group = a.cell / COARSER;
        let middle = centre(group, cells);
        Attachment {
            cell: group,
            node: a.node,
            resistance: ohms(a.resistance.value + way(middle.min(a.cell), middle.max(a.cell))),
        }
    });
    RailSpec {
        links,
        attachments: attachments.collect(),
    }
}

impl Network {
    /// Puts a start from the coarser network into the workspace; false where there is none.
    pub(super) fn start_from_coarser(&self, w: &mut Workspace, corner: Corner) -> bool {
        let Some(coarse) = &self.coarse else {
            return false;
        };
        let mut small = w.coarse.take().unwrap_or_default();
        let options = SolveOptions {
            corner,
            step_tolerance: volts(1e-3),
            most_iterations: 30,
            start: Start::Cold,
            find_collapse: false,
        };
        let settled = coarse.settle(&options, &mut small).is_ok();
        if settled {
            self.take_over(coarse, &small, w, corner);
        }
        w.coarse = Some(small);
        settled
    }

    /// Potentials from the coarser solution, currents from the potentials.
    fn take_over(&self, coarse: &Network, small: &Workspace, w: &mut Workspace, corner: Corner) {
        let nodes = self.spec.nodes.len();
        w.volts[..nodes].copy_from_slice(&small.volts[..nodes]);
        for (tape, from) in self.tapes.iter().zip(&coarse.tapes) {
            if self.folds.is_some() {
                let source = &small.cell_volts[from.first_cell..][..from.cells];
                spread(source, &mut w.cell_volts[tape.first_cell..][..tape.cells]);
            }
            for rail in 0..tape.rails {
                let source = &small.rail_volts[from.first_node + rail * from.cells..][..from.cells];
                for &(cell, node) in &tape.pads {
                    w.volts[node as usize + rail] = spread_at(source, tape.cells, cell);
                }
                for wire in &self.wires[tape.rail_wires[rail].clone()] {
                    // A pad on a stiff joint has its node's potential.
                    if wire.siemens > JOINT {
                        w.volts[wire.to as usize] = w.volts[wire.from as usize];
                    }
                }
                if self.folds.is_some() {
                    continue;
                }
                let target = &mut w.rail_volts[tape.first_node + rail * tape.cells..][..tape.cells];
                spread(source, target);
                for &(cell, node) in &tape.pads {
                    target[cell] = w.volts[node as usize + rail];
                }
                let first = tape.first_link + rail * (tape.cells - 1);
                let links = first..first + tape.cells - 1;
                for ((i, g), v) in w.rail_amps[links.clone()]
                    .iter_mut()
                    .zip(&self.rail_siemens[links])
                    .zip(target.windows(2))
                {
                    *i = g * (v[0] - v[1]);
                }
            }
        }
        for (i, wire) in w.wire_amps.iter_mut().zip(&self.wires) {
            *i = wire.siemens * (w.volts[wire.from as usize] - w.volts[wire.to as usize]);
        }
        self.reset_sources(w, corner);
    }
}

/// The cell at the centre of a group.
fn centre(group: usize, nodes: usize) -> usize {
    let from = group * COARSER;
    let to = (from + COARSER).min(nodes);
    (from + to - 1) / 2
}

/// Interpolates the figures of groups onto their cells: a parabola through three centres. A tape that stayed as it is is copied.
fn spread(coarse: &[f64], fine: &mut [f64]) {
    if coarse.len() == fine.len() {
        fine.copy_from_slice(coarse);
        return;
    }
    let nodes = fine.len();
    for (group, cells) in fine.chunks_mut(COARSER).enumerate() {
        let curve = parabola(coarse, nodes, group);
        for (k, p) in cells.iter_mut().enumerate() {
            *p = curve((group * COARSER + k) as f64);
        }
    }
}

/// The same for one cell of `nodes`.
fn spread_at(coarse: &[f64], nodes: usize, cell: usize) -> f64 {
    if coarse.len() == nodes {
        return coarse[cell];
    }
    parabola(coarse, nodes, cell / COARSER)(cell as f64)
}

/// The parabola that serves a group, of the place of a cell; level where there are fewer than three groups.
fn parabola(coarse: &[f64], nodes: usize, group: usize) -> impl Fn(f64) -> f64 + use<> {
    let groups = coarse.len();
    let middle = group.clamp(1, groups.saturating_sub(2).max(1));
    let (a, xa, xb, ab, bend) = match coarse.get(middle - 1..middle + 2) {
        Some(&[a, b, c]) => {
            let [xa, xb, xc] = [middle - 1, middle, middle + 1].map(|g| centre(g, nodes) as f64);
            let (ab, bc) = ((b - a) / (xb - xa), (c - b) / (xc - xb));
            (a, xa, xb, ab, (bc - ab) / (xc - xa))
        }
        _ => (coarse[group.min(groups - 1)], 0.0, 0.0, 0.0, 0.0),
    };
    move |x| a + (x - xa) * (ab + bend * (x - xb))
}
