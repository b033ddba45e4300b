//! The state of a network, and its current balance.
//!
//! Link currents are kept as a state of their own and moved together with the
//! potentials, `I += g·Δ(step)`; they are never recomputed as a difference of
//! potentials, so a link of a nano-ohm carries no noise and the balance below is that
//! of the currents reported. This is the same as solving for drops.

use super::plan::{Network, TapePlan};
use super::spec::Corner;
use super::workspace::Workspace;
use crate::load::Trend;

impl Network {
    /// The state with no current anywhere.
    pub(super) fn reset(&self, w: &mut Workspace, corner: Corner) {
        let c = corner.index();
        w.volts.copy_from_slice(&self.start[c]);
        for tape in &self.tapes {
            for (rail, pieces) in tape.pieces.iter().enumerate() {
                let first = tape.first_node + rail * tape.cells;
                for (range, volts) in pieces {
                    w.rail_volts[first + range.start..first + range.end].fill(volts[c]);
                }
            }
        }
        w.rail_amps.fill(0.0);
        w.wire_amps.fill(0.0);
        for tape in self.tapes.iter().filter(|t| t.rails > 1) {
            let rails = [0, 1].map(|r| w.rail_volts[tape.first_node + r * tape.cells]);
            let cells = &mut w.cell_volts[tape.first_cell..][..tape.cells];
            cells.fill(tape.sign * (rails[0] - rails[1]));
        }
        self.reset_sources(w, corner);
        w.mark = self.mark;
    }

    /// Source currents from the potentials.
    pub(super) fn reset_sources(&self, w: &mut Workspace, corner: Corner) {
        for ((plan, spec), amps) in self
            .sources
            .iter()
            .zip(&self.spec.sources)
            .zip(&mut w.source_amps)
        {
            let across = w.volts[plan.plus as usize] - w.volts[plan.minus as usize];
            *amps = plan.siemens * (corner.set_point(spec) - across);
        }
    }

    /// Moves the state by `share` of the step.
    pub(super) fn advance(&self, w: &mut Workspace, share: f64) {
        for (v, d) in w.rail_volts.iter_mut().zip(&w.rail_step) {
            *v += share * d;
        }
        for tape in &self.tapes {
            let links = tape.cells - 1;
            for rail in 0..tape.rails {
                let first = tape.first_link + rail * links;
                let amps = &mut w.rail_amps[first..first + links];
                let siemens = &self.rail_siemens[first..first + links];
                let steps = &w.rail_step[tape.first_node + rail * tape.cells..][..tape.cells];
                for ((i, g), d) in amps.iter_mut().zip(siemens).zip(steps.windows(2)) {
                    *i += share * (g * (d[0] - d[1]));
                }
            }
        }
        self.advance_wiring(w, share);
    }

    /// The wiring's part of it.
    pub(super) fn advance_wiring(&self, w: &mut Workspace, share: f64) {
        for (v, d) in w.volts.iter_mut().zip(&w.step) {
            *v += share * d;
        }
        for (i, wire) in w.wire_amps.iter_mut().zip(&self.wires) {
            *i += share * (wire.siemens * (w.step[wire.from as usize] - w.step[wire.to as usize]));
        }
        for (i, s) in w.source_amps.iter_mut().zip(&self.sources) {
            *i -= share * (s.siemens * (w.step[s.plus as usize] - w.step[s.minus as usize]));
        }
    }

    /// Cell currents and slopes, and the current left over at every node. `share` scales falling loads.
    pub(super) fn balance(&self, w: &mut Workspace, share: f64) {
        w.balance.fill(0.0);
        for tape in &self.tapes {
            self.draw(tape, w, share);
            balance_rails(tape, w);
            for &(cell, node) in &tape.pads {
                for rail in 0..tape.rails {
                    let at = tape.first_node + rail * tape.cells + cell;
                    w.balance[node as usize + rail] = std::mem::take(&mut w.rail_balance[at]);
                }
            }
        }
        self.balance_wiring(w, share);
    }

    /// Adds what wires, single loads and sources do to the balance of the wiring.
    pub(super) fn balance_wiring(&self, w: &mut Workspace, share: f64) {
        for (wire, &i) in self.wires.iter().zip(&w.wire_amps) {
            w.balance[wire.from as usize] -= i;
            w.balance[wire.to as usize] += i;
        }
        for (k, load) in self.loads.iter().enumerate() {
            let law = self.law(load.law);
            let across = w.volts[load.plus as usize] - w.volts[load.minus as usize];
            let scale = if load.dark {
                0.0
            } else {
                scale(law.trend(), share)
            };
            let (i, g) = law.0.at(across);
            (w.load_amps[k], w.load_siemens[k]) = (
                i * scale,
                floored(g * scale, w.steeper * self.floors[load.law]),
            );
            w.balance[load.plus as usize] -= i * scale;
            w.balance[load.minus as usize] += i * scale;
        }
        for (source, &i) in self.sources.iter().zip(&w.source_amps) {
            let given = source.given(i);
            w.balance[source.plus as usize] += given;
            w.balance[source.minus as usize] -= given;
        }
    }

    /// What the cells of a tape draw.
    fn draw(&self, tape: &TapePlan, w: &mut Workspace, share: f64) {
        let n = tape.cells;
        for (e, emitter) in tape.emitters.iter().enumerate() {
            let common = &w.rail_volts[tape.first_node..][..n];
            let ret = &w.rail_volts[tape.first_node + (e + 1) * n..][..n];
            let at = tape.first_cell + e * n..tape.first_cell + (e + 1) * n;
            let volts = &mut w.cell_volts[at.clone()];
            for ((u, c), r) in volts.iter_mut().zip(common).zip(ret) {
                *u = tape.sign * (c - r);
            }
            let amps = &mut w.cell_amps[at.clone()];
            let siemens = &mut w.cell_siemens[at];
            let law = self.law(emitter.law);
            law.0.fill(volts, amps, siemens);
            let scale = scale(law.trend(), share);
            let floor = w.steeper * self.floors[emitter.law];
            if scale != 1.0 {
                amps.iter_mut().for_each(|i| *i *= scale);
                siemens.iter_mut().for_each(|g| *g *= scale);
            }
            siemens.iter_mut().for_each(|g| *g = floored(*g, floor));
            for &(cell, law) in &emitter.exceptions {
                let exception = self.law(law);
                let scale = self::scale(exception.trend(), share);
                let (i, g) = exception.0.at(volts[cell]);
                (amps[cell], siemens[cell]) =
                    (i * scale, floored(g * scale, w.steeper * self.floors[law]));
            }
            for range in &emitter.dark {
                volts[range.clone()].fill(0.0);
                amps[range.clone()].fill(0.0);
                siemens[range.clone()].fill(0.0);
            }
        }
    }

    /// Slope of the co-content along the last step: convex, so it rises with the share taken.
    pub(super) fn slope_along_step(&self, w: &Workspace) -> f64 {
        let rails: f64 = w
            .rail_balance
            .iter()
            .zip(&w.rail_step)
            .map(|(b, d)| b * d)
            .sum();
        let wiring: f64 = w.balance.iter().zip(&w.step).map(|(b, d)| b * d).sum();
        -(rails + wiring)
    }

    /// Largest current left over, A, and where.
    pub(super) fn worst_balance(&self, w: &Workspace) -> (f64, Place) {
        let mut worst = (0.0, Place::Node(0));
        for (k, b) in w
            .balance
            .iter()
            .enumerate()
            .filter(|(_, b)| !(b.abs() <= 0.0))
        {
            if !(b.abs() <= worst.0) {
                worst = (b.abs(), Place::Node(k));
            }
        }
        for (k, b) in w
            .rail_balance
            .iter()
            .enumerate()
            .filter(|(_, b)| !(b.abs() <= 0.0))
        {
            if !(b.abs() <= worst.0) {
                worst = (b.abs(), Place::Rail(k));
            }
        }
        worst
    }
}

/// A node, for messages.
#[derive(Debug, Clone, Copy)]
pub(super) enum Place {
    Node(usize),
    Rail(usize),
}

impl Network {
    /// A node in words.
    pub(super) fn name(&self, place: Place) -> String {
        match place {
            Place::Node(k) => match self.spec.nodes.get(k) {
                Some(node) => format!("node `{}`", node.name),
                None => self
                    .tapes
                    .iter()
                    .rev()
                    .find_map(|t| {
                        let &(cell, _) = t.pads.iter().rev().find(|p| p.1 as usize <= k)?;
                        Some(format!(
                            "tape `{}`, cell {cell}",
                            self.spec.tapes[t.index].name
                        ))
                    })
                    .unwrap_or_default(),
            },
            Place::Rail(k) => {
                let tape = self
                    .tapes
                    .partition_point(|t| t.first_node <= k)
                    .saturating_sub(1);
                self.tapes.get(tape).map_or_else(String::new, |t| {
                    format!(
                        "tape `{}`, cell {}",
                        self.spec.tapes[t.index].name,
                        (k - t.first_node) % t.cells
                    )
                })
            }
        }
    }
}

impl super::plan::SourcePlan {
    /// What the source gives of what it would give without limit and both ways.
    #[inline]
    pub(super) fn given(&self, free: f64) -> f64 {
        if self.dark || !(free > 0.0) {
            0.0
        } else {
            free.min(self.limit)
        }
    }

    /// Its slope where it surely is what it seems, the current being known to `within`, A; else zero, the least it may be.
    pub(super) fn sure_slope(&self, free: f64, within: f64) -> f64 {
        if free >= within && free + within <= self.limit {
            self.slope(free)
        } else {
            0.0
        }
    }

    /// Slope of the source in the Jacobian.
    #[inline]
    pub(super) fn slope(&self, free: f64) -> f64 {
        if self.dark || free < 0.0 || free >= self.limit {
            0.0
        } else {
            self.siemens
        }
    }
}

#[inline]
fn scale(trend: Trend, share: f64) -> f64 {
    match trend {
        Trend::Monotone => 1.0,
        Trend::Falling => share,
    }
}

#[inline]
fn floored(g: f64, floor: f64) -> f64 {
    if g.abs() < floor { floor } else { g }
}

/// Current left over at each rail node: in along the rail, out along the rail, cells.
fn balance_rails(tape: &TapePlan, w: &mut Workspace) {
    let n = tape.cells;
    for rail in 0..tape.rails {
        let balance = &mut w.rail_balance[tape.first_node + rail * n..][..n];
        let links = &w.rail_amps[tape.first_link + rail * (n - 1)..][..n - 1];
        if rail == 0 {
            balance.fill(0.0);
            for e in 0..tape.rails - 1 {
                let amps = &w.cell_amps[tape.first_cell + e * n..][..n];
                for (b, i) in balance.iter_mut().zip(amps) {
                    *b -= tape.sign * i;
                }
            }
        } else {
            let amps = &w.cell_amps[tape.first_cell + (rail - 1) * n..][..n];
            for (b, i) in balance.iter_mut().zip(amps) {
                *b = tape.sign * i;
            }
        }
        for (b, i) in balance.iter_mut().zip(links) {
            *b -= i;
        }
        for (b, i) in balance[1..].iter_mut().zip(links) {
            *b += i;
        }
    }
}
