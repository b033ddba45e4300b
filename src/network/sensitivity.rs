//! The derivative of one figure to every parameter, from one adjoint solve.
//!
//! The balance `b(x, p) = 0` has the symmetric Jacobian `J = −∂b/∂x`. For a figure `y(x, p)` solve `J·λ = ∂y/∂x`; then
//! `dy/dp = λ·∂b/∂p + ∂y/∂p`. With `s` the current that the potentials `λ` drive through a branch (the adjoint current):
//!
//! | parameter | derivative |
//! | --- | --- |
//! | resistance of a link that carries `I` | `I·s` |
//! | set point of a source | current that `λ` drives back through it |
//! | output resistance of a source that gives `I` | `−I` times that |
//! | volts added to the law of a cell | `−g·(λ₊ − λ₋)`, and `g` where the figure is that cell's current |
//! | relative change of a cell's draw | `−i·(λ₊ − λ₋)`, and `i` where the figure is that cell's current |
//!
//! Temperature enters through the last rows and the resistances: a string of `N` diodes gains `−N·kv` volts a kelvin, copper
//! 0.39 % of its resistance a kelvin (see [`crate::cable`]). The adjoint is solved and then corrected once more on its own balance, so stiff branches keep their digits.

use super::linear::Slopes;
use super::plan::Network;
use super::solution::Solution;
use super::spec::{LinkId, NodeId, SourceId, TapeId};
use super::tape_solution::Rail;
use super::workspace::Workspace;

/// A figure whose derivative is wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Figure {
    /// Potential of a node over the anchor of its circuit, V.
    NodeVoltage(NodeId),
    /// Voltage of a cell, V.
    CellVoltage {
        /// Tape.
        tape: TapeId,
        /// Emitter, by its place in the tape's list.
        emitter: usize,
        /// Cell, counted from 0.
        cell: usize,
    },
    /// Current of a cell, A.
    CellCurrent {
        /// Tape.
        tape: TapeId,
        /// Emitter, by its place in the tape's list.
        emitter: usize,
        /// Cell, counted from 0.
        cell: usize,
    },
    /// Current of a source, A.
    SourceCurrent(SourceId),
}

/// Derivatives of one figure `y` to every parameter, in SI units.
#[derive(Debug, Clone, PartialEq)]
pub struct Sensitivity {
    /// To the resistance of each link, y per ohm.
    pub per_link_ohm: Vec<f64>,
    /// To the resistance of each rail link: by tape, lit rail (common first), link.
    pub per_rail_ohm: Vec<Vec<Vec<f64>>>,
    /// To the set point of each source, y per volt.
    pub per_source_volt: Vec<f64>,
    /// To the output resistance of each source, y per ohm.
    pub per_source_ohm: Vec<f64>,
    /// To volts added to the law of all cells of an emitter: by tape, lit emitter.
    pub per_cell_volt: Vec<Vec<f64>>,
    /// To a relative change of the draw of all cells of an emitter: by tape, lit emitter.
    pub per_cell_share: Vec<Vec<f64>>,
    /// To the resistance of each attachment: by tape, lit rail, attachment.
    pub per_attachment_ohm: Vec<Vec<Vec<f64>>>,
}

/// The adjoint state: currents that the adjoint potentials drive.
struct Adjoint {
    rails: Vec<f64>,
    wires: Vec<f64>,
    /// Back through each source, with 1 V put into the source whose current is asked for.
    sources: Vec<f64>,
    /// Adjoint voltage of each cell and single load.
    cells: Vec<f64>,
    loads: Vec<f64>,
}

impl Solution<'_> {
    /// Derivatives of a figure; none where the figure does not exist, is dark, or nothing ties it (see [`Solution::bound_is_rigorous`]).
    ///
    /// Time and memory: those of three linear solves, and of as many numbers as there are links and cells.
    ///
    /// ```
    /// use evenrun::load::{Load, Resistive};
    /// use evenrun::network::*;
    /// use evenrun::quantity::*;
    /// // 24 V, a feeder of 1 ohm a core, one cell of 10 ohm: u = 24·10/(10 + 2·r), so du/dr of a core is −24·10/12² V/ohm.
    /// let mut spec = NetworkSpec::new();
    /// let supply = [spec.node("plus"), spec.node("minus")];
    /// let pad = [spec.node("pad, plus"), spec.node("pad, minus")];
    /// spec.stiff_source("supply", supply[0], supply[1], volts(24.0));
    /// let cores = spec.feeder("feeder", supply, pad, ohms(1.0));
    /// let law = spec.law(Load::Resistive(Resistive { resistance: ohms(10.0) }).law(celsius(25.0))?);
    /// let rail = |r: usize| RailSpec::uniform(ohms(0.01), vec![Attachment::at(0, pad[r])]);
    /// let tape = spec.tape(TapeSpec::lit("tape", Polarity::CommonPlus, 1, &[law], rail));
    /// let network = spec.check()?;
    /// let mut work = Workspace::new();
    /// let solution = network.solve(&SolveOptions::default(), &mut work)?;
    /// let figure = Figure::CellVoltage { tape, emitter: 0, cell: 0 };
    /// let all = solution.sensitivity(figure).expect("a lit cell");
    /// assert!((all.link(cores[0]).expect("a link") + 240.0 / 144.0).abs() < 1e-9);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    #[must_use]
    pub fn sensitivity(&self, figure: Figure) -> Option<Sensitivity> {
        let (network, state) = self.parts();
        let mut w = state.clone();
        w.balance.fill(0.0);
        w.rail_balance.fill(0.0);
        let forced = network.force(state, figure, &mut w)?;
        let adjoint = network.adjoint(state, &mut w, forced)?;
        Some(network.collect(state, &adjoint, figure))
    }
}

impl Network {
    /// Puts `∂y/∂x` into the balance; the source that gets its volt, if the figure is its current.
    fn force(&self, state: &Workspace, figure: Figure, w: &mut Workspace) -> Option<Option<usize>> {
        match figure {
            Figure::NodeVoltage(node) => {
                self.live.get(node.0).filter(|l| **l)?;
                *w.balance.get_mut(node.0)? = 1.0;
                Some(None)
            }
            Figure::CellVoltage {
                tape,
                emitter,
                cell,
            }
            | Figure::CellCurrent {
                tape,
                emitter,
                cell,
            } => {
                let plan = self.tapes.get(tape.0)?;
                let lit = (*plan.lit.get(emitter)?)?;
                if cell >= plan.cells || plan.emitters[lit].dark.iter().any(|r| r.contains(&cell)) {
                    return None;
                }
                let weight = match figure {
                    Figure::CellCurrent { .. } => {
                        state.cell_siemens[plan.first_cell + lit * plan.cells + cell]
                    }
                    _ => 1.0,
                };
                for (rail, sign) in [(0, plan.sign), (lit + 1, -plan.sign)] {
                    match plan.pads.binary_search_by_key(&cell, |p| p.0) {
                        Ok(pad) => w.balance[plan.pads[pad].1 as usize + rail] += sign * weight,
                        Err(_) => {
                            w.rail_balance[plan.first_node + rail * plan.cells + cell] +=
                                sign * weight
                        }
                    }
                }
                Some(None)
            }
            Figure::SourceCurrent(source) => {
                let plan = self.sources.get(source.0)?;
                let slope = plan.slope(state.source_amps[source.0]);
                if !(slope > 0.0) {
                    return None;
                }
                // 1 V in the source: `y = g·(E − V)` and `∂y/∂x` is what that volt injects, with its sign turned.
                w.balance[plan.plus as usize] -= slope;
                w.balance[plan.minus as usize] += slope;
                Some(Some(source.0))
            }
        }
    }

    fn adjoint(
        &self,
        state: &Workspace,
        w: &mut Workspace,
        forced: Option<usize>,
    ) -> Option<Adjoint> {
        let mut a = Adjoint {
            rails: vec![0.0; w.rail_amps.len()],
            wires: vec![0.0; w.wire_amps.len()],
            sources: vec![0.0; w.source_amps.len()],
            cells: vec![0.0; w.cell_volts.len()],
            loads: vec![0.0; w.load_amps.len()],
        };
        let (wiring, rails) = (w.balance.clone(), w.rail_balance.clone());
        // The volt of the forced source is part of its branch, not of the injections.
        let mut wiring_only = wiring;
        if let Some(source) = forced {
            let plan = &self.sources[source];
            wiring_only[plan.plus as usize] = 0.0;
            wiring_only[plan.minus as usize] = 0.0;
            a.sources[source] = plan.slope(state.source_amps[source]);
        }
        for _ in 0..3 {
            let outcome = self.linear(w, Slopes::State);
            if !(outcome.positive && outcome.most.is_finite()) {
                return None;
            }
            self.drive(state, w, &mut a);
            self.rest(state, w, &a, &wiring_only, &rails);
        }
        Some(a)
    }

    /// Adds what the last step drives.
    fn drive(&self, state: &Workspace, w: &Workspace, a: &mut Adjoint) {
        for tape in &self.tapes {
            let n = tape.cells;
            for rail in 0..tape.rails {
                let steps = &w.rail_step[tape.first_node + rail * n..][..n];
                let first = tape.first_link + rail * (n - 1);
                for (k, pair) in steps.windows(2).enumerate() {
                    a.rails[first + k] += self.rail_siemens[first + k] * (pair[0] - pair[1]);
                }
                if rail > 0 {
                    let common = &w.rail_step[tape.first_node..][..n];
                    let cells = &mut a.cells[tape.first_cell + (rail - 1) * n..][..n];
                    for ((c, x), y) in cells.iter_mut().zip(common).zip(steps) {
                        *c += tape.sign * (x - y);
                    }
                }
            }
        }
        for (s, wire) in a.wires.iter_mut().zip(&self.wires) {
            *s += wire.siemens * (w.step[wire.from as usize] - w.step[wire.to as usize]);
        }
        for (v, load) in a.loads.iter_mut().zip(&self.loads) {
            *v += w.step[load.plus as usize] - w.step[load.minus as usize];
        }
        for ((s, source), &free) in a
            .sources
            .iter_mut()
            .zip(&self.sources)
            .zip(&state.source_amps)
        {
            *s +=
                source.slope(free) * (w.step[source.plus as usize] - w.step[source.minus as usize]);
        }
    }

    /// What is left of the injections after the adjoint currents.
    fn rest(
        &self,
        state: &Workspace,
        w: &mut Workspace,
        a: &Adjoint,
        wiring: &[f64],
        rails: &[f64],
    ) {
        w.balance.copy_from_slice(wiring);
        w.rail_balance.copy_from_slice(rails);
        for tape in &self.tapes {
            let n = tape.cells;
            for rail in 0..tape.rails {
                let amps = &a.rails[tape.first_link + rail * (n - 1)..][..n - 1];
                let balance = &mut w.rail_balance[tape.first_node + rail * n..][..n];
                for (k, i) in amps.iter().enumerate() {
                    balance[k] -= i;
                    balance[k + 1] += i;
                }
            }
            for e in 0..tape.rails - 1 {
                for k in 0..n {
                    let at = tape.first_cell + e * n + k;
                    let i = tape.sign * state.cell_siemens[at] * a.cells[at];
                    w.rail_balance[tape.first_node + k] -= i;
                    w.rail_balance[tape.first_node + (e + 1) * n + k] += i;
                }
            }
            for &(cell, node) in &tape.pads {
                for rail in 0..tape.rails {
                    let at = tape.first_node + rail * n + cell;
                    w.balance[node as usize + rail] += std::mem::take(&mut w.rail_balance[at]);
                }
            }
        }
        for (i, wire) in a.wires.iter().zip(&self.wires) {
            w.balance[wire.from as usize] -= i;
            w.balance[wire.to as usize] += i;
        }
        for ((v, load), g) in a
            .loads
            .iter()
            .zip(&self.loads)
            .zip(&state.load_siemens)
            .filter(|((_, l), _)| !l.dark)
        {
            w.balance[load.plus as usize] -= g * v;
            w.balance[load.minus as usize] += g * v;
        }
        for (i, source) in a.sources.iter().zip(&self.sources) {
            w.balance[source.plus as usize] -= i;
            w.balance[source.minus as usize] += i;
        }
    }

    fn collect(&self, state: &Workspace, a: &Adjoint, figure: Figure) -> Sensitivity {
        let by_link = |i: &f64, s: &f64| i * s;
        let own = |tape: usize, lit: usize| match figure {
            Figure::CellCurrent {
                tape: t,
                emitter,
                cell,
            } if t.0 == tape && self.tapes[tape].lit[emitter] == Some(lit) => Some(cell),
            _ => None,
        };
        let links = self.spec.links.len();
        let mut all = Sensitivity {
            per_link_ohm: state.wire_amps[..links]
                .iter()
                .zip(&a.wires)
                .map(|(i, s)| by_link(i, s))
                .collect(),
            per_rail_ohm: Vec::new(),
            per_source_volt: a.sources.clone(),
            per_source_ohm: a
                .sources
                .iter()
                .zip(&state.source_amps)
                .map(|(s, i)| -s * i)
                .collect(),
            per_cell_volt: Vec::new(),
            per_cell_share: Vec::new(),
            per_attachment_ohm: Vec::new(),
        };
        for (number, tape) in self.tapes.iter().enumerate() {
            let n = tape.cells;
            let rails = (0..tape.rails).map(|rail| {
                let links =
                    tape.first_link + rail * (n - 1)..tape.first_link + (rail + 1) * (n - 1);
                state.rail_amps[links.clone()]
                    .iter()
                    .zip(&a.rails[links])
                    .map(|(i, s)| by_link(i, s))
                    .collect()
            });
            all.per_rail_ohm.push(rails.collect());
            let joints = tape.rail_wires.iter().map(|w| {
                state.wire_amps[w.clone()]
                    .iter()
                    .zip(&a.wires[w.clone()])
                    .map(|(i, s)| by_link(i, s))
                    .collect()
            });
            all.per_attachment_ohm.push(joints.collect());
            let sum = |of: &[f64], e: usize| -> f64 {
                let cells = tape.first_cell + e * n..tape.first_cell + (e + 1) * n;
                let through: f64 = of[cells.clone()]
                    .iter()
                    .zip(&a.cells[cells])
                    .map(|(x, v)| x * v)
                    .sum();
                own(number, e).map_or(0.0, |k| of[tape.first_cell + e * n + k]) - through
            };
            all.per_cell_volt.push(
                (0..tape.rails - 1)
                    .map(|e| sum(&state.cell_siemens, e))
                    .collect(),
            );
            all.per_cell_share.push(
                (0..tape.rails - 1)
                    .map(|e| sum(&state.cell_amps, e))
                    .collect(),
            );
        }
        all
    }
}

impl Sensitivity {
    /// To a relative change of all links of a rail together (its temperature, its thickness): `Σ r·dy/dr`.
    ///
    /// `solution` must be the one this was made from; `rail` by tape and rail. None where the rail is not lit.
    #[must_use]
    pub fn per_rail_share(&self, solution: &Solution, tape: TapeId, rail: Rail) -> Option<f64> {
        let (network, _) = solution.parts();
        let plan = network.tapes.get(tape.0)?;
        let place = match rail {
            Rail::Common => 0,
            Rail::Return(emitter) => (*plan.lit.get(emitter)?)? + 1,
        };
        let per_ohm = self.per_rail_ohm.get(tape.0)?.get(place)?;
        let siemens =
            &network.rail_siemens[plan.first_link + place * (plan.cells - 1)..][..plan.cells - 1];
        Some(
            per_ohm
                .iter()
                .zip(siemens)
                .filter(|(_, g)| **g > 0.0)
                .map(|(d, g)| d / g)
                .sum(),
        )
    }

    /// To the resistance of a link.
    #[must_use]
    pub fn link(&self, link: LinkId) -> Option<f64> {
        self.per_link_ohm.get(link.0).copied()
    }

    /// To the set point and to the output resistance of a source: y per volt, y per ohm.
    #[must_use]
    pub fn source(&self, source: SourceId) -> Option<(f64, f64)> {
        let per_volt = self.per_source_volt.get(source.0)?;
        Some((*per_volt, *self.per_source_ohm.get(source.0)?))
    }

    /// To each link and to each attachment of the rails of a tape, y per ohm: lit rail by lit rail, the common first.
    pub fn rails(&self, tape: TapeId) -> impl Iterator<Item = (&[f64], &[f64])> {
        let links = self.per_rail_ohm.get(tape.0).map_or(&[][..], Vec::as_slice);
        let ends = self.per_attachment_ohm.get(tape.0);
        let ends = ends.map_or(&[][..], Vec::as_slice);
        links
            .iter()
            .zip(ends)
            .map(|(links, ends)| (links.as_slice(), ends.as_slice()))
    }
}
