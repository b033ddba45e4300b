//! Networks whose tapes fold: one lit emitter, two rails, one potential a cell.
//!
//! With common track `Rc` and return track `Rr` of a link, `R = Rc + Rr`, `ρ = Rr/R`, take the cell voltage
//! `u = v₊ − v₋` and the mean potential `w = ρ·v_common + (1 − ρ)·v_return`. Ohm's law of both tracks becomes
//!
//! ```text
//! u_k − u_k₊₁ = R·m        m: loop current, falls at each cell by what the cell draws
//! w_k − w_k₊₁ = Rc·Rr/R·J  J: current that goes out by one rail and does not come back by the other, the same at every cut
//! ```
//!
//! Beyond the last attachment nothing goes out that does not come back (`J = 0`), whatever the tracks: such a stretch always
//! folds. Between two attachments the two equations come apart where `ρ` is the same all along. Either way the wiring stays as it is: feeders of any resistances,
//! shared leads, a switch on one side, several tapes. So the cells are half the unknowns, laws are evaluated within the sweep, and links need no
//! current of their own until the end, when [`Network::finish`] sums the cells' currents along the rails: these balance exactly, and what Ohm's law then
//! misses along a rail is a voltage in series with a link. As copper and monotone loads amplify no voltage, the sum of these bounds the error.

use super::folds::{Copper, Folds};
use super::linear::Slopes;
use super::plan::{Network, Section, TapePlan};
use super::solve::{Report, SolveOptions};
use super::sweep::{
    Cells, Draw, Listed, Same, Two, backward, backward_between, forward, forward_between,
};
use super::workspace::Workspace;
use crate::load::{Form, OmegaTable, StringLaw, omega_table};

/// Most passes before the general path takes over.
const MOST_PASSES: usize = 20;

struct Tabled {
    string: StringLaw,
    table: &'static OmegaTable,
}

impl Draw for Tabled {
    #[inline(always)]
    fn at(&self, volts: f64) -> (f64, f64) {
        self.string.at_swept(self.table, volts)
    }
}

struct Closed<'a>(&'a Form);

impl Draw for Closed<'_> {
    #[inline(always)]
    fn at(&self, volts: f64) -> (f64, f64) {
        self.0.at(volts)
    }
}

/// Cells of a section: the lowest, and that of the pad ahead.
fn cells_of(section: &Section) -> (usize, usize) {
    if section.up {
        (section.first, section.first + section.count)
    } else {
        (
            section.first + 1 - section.count,
            section.first - section.count,
        )
    }
}

/// Voltage of the cell between the two nodes of a pad.
fn across(tape: &TapePlan, volts: &[f64], pad: u32) -> f64 {
    tape.sign * (volts[pad as usize] - volts[pad as usize + 1])
}

/// Puts a current into the plus side of a pad and takes it from the other.
fn inject(tape: &TapePlan, amps: &mut [f64], pad: u32, more: f64) {
    amps[pad as usize] += tape.sign * more;
    amps[pad as usize + 1] -= tape.sign * more;
}

impl Network {
    /// Solves a network that folds from the start in the workspace; false where the general path must.
    pub(super) fn settle_folded(
        &self,
        folds: &Folds,
        options: &SolveOptions,
        w: &mut Workspace,
        report: &mut Report,
    ) -> bool {
        let tolerance = options.step_tolerance.value;
        let reach = self.reach();
        w.steeper = 1.0;
        for _ in 0..options.most_iterations.min(MOST_PASSES) {
            report.iterations += 1;
            let Some(most) = self.pass(folds, w).filter(|most| *most <= reach) else {
                return false;
            };
            report.step_volts = most;
            if most <= tolerance || self.may_be_there(most, tolerance) {
                self.finish(folds, w, report);
                let there = most <= tolerance || report.left_volts <= tolerance;
                if !report.bound_is_rigorous {
                    return false;
                }
                if there && self.is_balanced(w, report.residual_amps) {
                    report.proved = true;
                    return true;
                }
            }
        }
        false
    }

    /// One Newton pass; the largest step, none where the matrix is not positive.
    fn pass(&self, folds: &Folds, w: &mut Workspace) -> Option<f64> {
        w.balance.fill(0.0);
        self.balance_wiring(w, 1.0);
        w.slots.fill(0.0);
        for (tape, _) in self.tapes.iter().zip(&folds.tapes) {
            let emitter = &tape.emitters[0];
            let law = self.law(emitter.law);
            for &(cell, pad) in &tape.pads {
                let at = tape.first_cell + cell;
                let volts = across(tape, &w.volts, pad);
                let (i, g) = law.0.at(volts);
                w.cell_volts[at] = volts;
                w.cell_siemens[at] = g.max(self.floors[emitter.law]);
                inject(tape, &mut w.balance, pad, -i);
            }
            self.join_neighbours(tape, w);
        }
        self.stamp(w, Slopes::State);
        for (section, copper) in self.sections.iter().zip(&folds.sections) {
            self.condense_folded(folds, section, *copper, w);
        }
        w.step.copy_from_slice(&w.balance);
        let (positive, lost) =
            self.order
                .eliminate(&mut w.slots, &mut w.shares, &mut w.step, &self.anchors);
        self.order.put_back(&w.shares, &mut w.step);
        let mut most = w.step.iter().fold(0.0, |m: f64, v| v.abs().max(m));
        if !positive || lost || !most.is_finite() {
            return None;
        }
        self.advance_wiring(w, 1.0);
        for section in &self.sections {
            most = self.expand_folded(section, w).max(most);
        }
        most.is_finite().then_some(most)
    }

    /// Currents of the rail links between neighbouring pads.
    fn join_neighbours(&self, tape: &TapePlan, w: &mut Workspace) {
        for pads in tape.pads.windows(2).filter(|p| p[1].0 - p[0].0 == 1) {
            for rail in 0..2 {
                let link = tape.first_link + rail * (tape.cells - 1) + pads[0].0;
                let [a, b] = [pads[0].1, pads[1].1].map(|pad| pad as usize + rail);
                let amps = self.rail_siemens[link] * (w.volts[a] - w.volts[b]);
                w.rail_amps[link] = amps;
                w.balance[a] -= amps;
                w.balance[b] += amps;
            }
        }
    }

    /// The section as conductances and currents of its pads.
    fn condense_folded(&self, folds: &Folds, section: &Section, copper: Copper, w: &mut Workspace) {
        let tape = &self.tapes[section.tape];
        match &*self.law(tape.emitters[0].law).0 {
            Form::Series(string) => {
                let draw = Tabled {
                    string: *string,
                    table: omega_table(),
                };
                self.condense_with(folds, section, copper, w, &draw);
            }
            form => self.condense_with(folds, section, copper, w, &Closed(form)),
        }
    }

    fn condense_with<D: Draw>(
        &self,
        folds: &Folds,
        section: &Section,
        copper: Copper,
        w: &mut Workspace,
        draw: &D,
    ) {
        let (tape, folded) = (&self.tapes[section.tape], folds.tapes[section.tape]);
        let (count, (low, _)) = (section.count, cells_of(section));
        let kept = &mut w.coefficients[section.coefficients..][..3 * count];
        let (near, rest) = kept.split_at_mut(count);
        let (add, from) = rest.split_at_mut(count);
        let mut cells = Cells {
            volts: &mut w.cell_volts[tape.first_cell + low..][..count],
            near,
            add,
        };
        let pad = across(tape, &w.volts, section.next);
        let first_link = if section.up { low } else { low - 1 };
        let listed = |links: usize| &folds.loops[folded.first + first_link..][..links];
        let slot = |k: usize| self.bridges[section.first_slot + k].slot as usize;
        let Some(left) = section.left else {
            let end = match (folded.same, section.up) {
                (Some((r, _)), true) => forward::<D, _, true>(draw, Same(r), &mut cells, pad),
                (Some((r, _)), false) => forward::<D, _, false>(draw, Same(r), &mut cells, pad),
                (None, true) => {
                    forward::<D, _, true>(draw, Listed::<true>(listed(count)), &mut cells, pad)
                }
                (None, false) => {
                    forward::<D, _, false>(draw, Listed::<false>(listed(count)), &mut cells, pad)
                }
            };
            w.slots[slot(0)] += end.siemens;
            inject(tape, &mut w.balance, section.next, end.amps);
            return;
        };
        let behind = (
            folds.ohms(folded, first_link - 1).0,
            across(tape, &w.volts, left),
        );
        let two = match folded.same {
            Some((r, _)) => forward_between(draw, Same(r), &mut cells, from, behind, pad),
            None => forward_between(
                draw,
                Listed::<true>(listed(count)),
                &mut cells,
                from,
                behind,
                pad,
            ),
        };
        let Two {
            ahead,
            behind,
            across: through,
            taken,
        } = two;
        let Copper { common, ret } = copper;
        // In the order of the mesh: common, return of the pad ahead; each of these with common, return of the pad behind; these.
        let straight = |own: f64, other: f64| through + other / (own * (own + other));
        for (k, siemens) in [
            (ahead.siemens - taken).max(0.0),
            straight(common, ret),
            taken,
            taken,
            straight(ret, common),
            (behind.siemens - taken).max(0.0),
        ]
        .into_iter()
        .enumerate()
        {
            w.slots[slot(k)] += siemens;
        }
        inject(tape, &mut w.balance, section.next, ahead.amps);
        inject(tape, &mut w.balance, left, behind.amps);
        let (share, passing) = passing(copper, &w.volts, left, section.next);
        for (rail, amps) in [share * passing, (1.0 - share) * passing]
            .into_iter()
            .enumerate()
        {
            w.balance[left as usize + rail] -= amps;
            w.balance[section.next as usize + rail] += amps;
        }
    }

    fn expand_folded(&self, section: &Section, w: &mut Workspace) -> f64 {
        let tape = &self.tapes[section.tape];
        let (count, (low, _)) = (section.count, cells_of(section));
        let kept = &mut w.coefficients[section.coefficients..][..3 * count];
        let (near, rest) = kept.split_at_mut(count);
        let (add, from) = rest.split_at_mut(count);
        let mut cells = Cells {
            volts: &mut w.cell_volts[tape.first_cell + low..][..count],
            near,
            add,
        };
        let step = across(tape, &w.step, section.next);
        match section.left {
            Some(left) => backward_between(&mut cells, from, across(tape, &w.step, left), step),
            None if section.up => backward::<true>(&mut cells, step),
            None => backward::<false>(&mut cells, step),
        }
    }

    /// Currents of cells, rails and pads that balance, potentials of the rails, and the bound of the report.
    fn finish(&self, folds: &Folds, w: &mut Workspace, report: &mut Report) {
        w.balance.fill(0.0);
        for tape in &self.tapes {
            let cells = tape.first_cell..tape.first_cell + tape.cells;
            for &(cell, pad) in &tape.pads {
                w.cell_volts[tape.first_cell + cell] = across(tape, &w.volts, pad);
            }
            let law = self.law(tape.emitters[0].law);
            let siemens = &mut w.cell_siemens[cells.clone()];
            law.0.fill(
                &w.cell_volts[cells.clone()],
                &mut w.cell_amps[cells],
                siemens,
            );
            let floor = self.floors[tape.emitters[0].law];
            siemens.iter_mut().for_each(|g| *g = g.max(floor));
            for &(cell, pad) in &tape.pads {
                let first = tape.first_node + cell;
                w.rail_volts[first] = w.volts[pad as usize];
                w.rail_volts[first + tape.cells] = w.volts[pad as usize + 1];
                let i = w.cell_amps[tape.first_cell + cell];
                inject(tape, &mut w.balance, pad, -i);
            }
            self.join_neighbours(tape, w);
        }
        let mut series = 0.0;
        for (section, copper) in self.sections.iter().zip(&folds.sections) {
            series += match section.left {
                None => self.finish_end(folds, section, w),
                Some(left) => self.finish_between(folds, section, *copper, left, w),
            };
        }
        self.balance_wiring(w, 1.0);
        self.bound_folded(folds, w, report, series);
    }

    /// A stretch beyond the last pad. Returns the volts in series that Ohm's law misses.
    fn finish_end(&self, folds: &Folds, section: &Section, w: &mut Workspace) -> f64 {
        let (tape, folded) = (&self.tapes[section.tape], folds.tapes[section.tape]);
        let (n, (low, pad)) = (tape.cells, cells_of(section));
        let high = low + section.count;
        let amps = &w.cell_amps[tape.first_cell..][..n];
        let volts = &w.cell_volts[tape.first_cell..][..n];
        let rails = &mut w.rail_amps[tape.first_link..][..2 * (n - 1)];
        let (common, ret) = rails.split_at_mut(n - 1);
        let potentials = &mut w.rail_volts[tape.first_node..][..2 * n];
        let (over, under) = potentials.split_at_mut(n);
        let (mut sum, mut series) = (0.0, 0.0);
        if section.up {
            for k in low..high {
                sum += amps[k];
                series += ((volts[k + 1] - volts[k]) - folds.ohms(folded, k).0 * sum).abs();
                (common[k], ret[k]) = (-tape.sign * sum, tape.sign * sum);
            }
        } else {
            for k in (low..high).rev() {
                sum += amps[k];
                series += ((volts[k - 1] - volts[k]) - folds.ohms(folded, k - 1).0 * sum).abs();
                (common[k - 1], ret[k - 1]) = (tape.sign * sum, -tape.sign * sum);
            }
        }
        let mut at = over[pad];
        for m in 1..=section.count {
            let (k, link, onward) = if section.up {
                (pad - m, pad - m, 1.0)
            } else {
                (pad + m, pad + m - 1, -1.0)
            };
            at += onward * folds.ohms(folded, link).1 * common[link];
            (over[k], under[k]) = (at, at - tape.sign * volts[k]);
        }
        inject(tape, &mut w.balance, section.next, -sum);
        series
    }

    /// The same between two pads.
    fn finish_between(
        &self,
        folds: &Folds,
        section: &Section,
        copper: Copper,
        left: u32,
        w: &mut Workspace,
    ) -> f64 {
        let (tape, folded) = (&self.tapes[section.tape], folds.tapes[section.tape]);
        let (n, (low, pad)) = (tape.cells, cells_of(section));
        let amps = &w.cell_amps[tape.first_cell..][..n];
        let volts = &w.cell_volts[tape.first_cell..][..n];
        let rails = &mut w.rail_amps[tape.first_link..][..2 * (n - 1)];
        let (common, ret) = rails.split_at_mut(n - 1);
        let potentials = &mut w.rail_volts[tape.first_node..][..2 * n];
        let (over, under) = potentials.split_at_mut(n);
        // The loop current at the pad behind, so that the drops along the copper add up.
        let (mut sum, mut drop) = (0.0, volts[low - 1] - volts[pad]);
        for (k, i) in amps.iter().enumerate().take(pad).skip(low) {
            sum += i;
            drop += folds.ohms(folded, k).0 * sum;
        }
        let mut flow = drop / (copper.common + copper.ret);
        let (share, passing) = passing(copper, &w.volts, left, section.next);
        inject(tape, &mut w.balance, left, -flow);
        inject(tape, &mut w.balance, section.next, flow - sum);
        for (rail, amps) in [share * passing, (1.0 - share) * passing]
            .into_iter()
            .enumerate()
        {
            w.balance[left as usize + rail] -= amps;
            w.balance[section.next as usize + rail] += amps;
        }
        let (mut at, mut series) = (over[low - 1], 0.0);
        for link in low - 1..pad {
            let (both, track) = folds.ohms(folded, link);
            series += ((volts[link] - volts[link + 1]) - both * flow).abs();
            let out = tape.sign * flow;
            (common[link], ret[link]) = (out + share * passing, (1.0 - share) * passing - out);
            at -= track * common[link];
            if link + 1 < pad {
                (over[link + 1], under[link + 1]) = (at, at - tape.sign * volts[link + 1]);
                flow -= amps[link + 1];
            }
        }
        series
    }

    /// The bound: what is left over at the wiring, driven through copper and sources alone, and the volts in series.
    fn bound_folded(&self, folds: &Folds, w: &mut Workspace, report: &mut Report, series: f64) {
        let top = w.volts.iter().fold(0.0_f64, |m, v| m.max(v.abs()));
        self.measure_rest(w, report);
        w.slots.fill(0.0);
        self.stamp(w, Slopes::LoadsFlat);
        for (section, copper) in self.sections.iter().zip(&folds.sections) {
            if section.left.is_some() {
                for (k, ohms) in [(1, copper.common), (4, copper.ret)] {
                    let slot = self.bridges[section.first_slot + k].slot as usize;
                    w.slots[slot] += 1.0 / ohms;
                }
            }
        }
        w.step.copy_from_slice(&w.balance);
        let (positive, lost) =
            self.order
                .eliminate(&mut w.slots, &mut w.shares, &mut w.step, &self.anchors);
        self.order.put_back(&w.shares, &mut w.step);
        let most = w.step.iter().fold(0.0, |m: f64, v| v.abs().max(m));
        report.bound_is_rigorous = positive && !lost && most.is_finite() && series.is_finite();
        report.left_volts = 2.0 * most + series;
        report.bound_volts = report.left_volts + 8e-12 * top;
        report.bound_amps = w.left_amps;
    }
}

/// Share of the return in the copper from pad to pad, and the current that passes without coming back.
fn passing(copper: Copper, volts: &[f64], left: u32, next: u32) -> (f64, f64) {
    let share = copper.share();
    let [common, ret] = [0, 1].map(|r| volts[left as usize + r] - volts[next as usize + r]);
    let siemens = (copper.common + copper.ret) / (copper.common * copper.ret);
    (share, siemens * (share * common + (1.0 - share) * ret))
}
