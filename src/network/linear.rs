//! One linear solve: tapes condensed onto their pads, then the wiring, then back.

use super::flat;
use super::plan::{BridgeKind, Network, Section};
use super::section::{Left, Stretch, backward, forward};
use super::workspace::Workspace;

/// Which slopes the matrix has.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Slopes {
    /// Those of the state.
    State,
    /// None for any load: a lower bound of every monotone slope.
    LoadsFlat,
}

/// What came out beside the step.
#[derive(Debug, Clone, Copy)]
pub(super) struct Outcome {
    /// Largest component of the step, V.
    pub most: f64,
    /// Whether the matrix is positive definite.
    pub positive: bool,
    /// Whether current was left at a node that nothing ties to the rest.
    pub lost: bool,
}

impl Network {
    /// Solves `J·step = balance`.
    pub(super) fn linear(&self, w: &mut Workspace, slopes: Slopes) -> Outcome {
        let mut outcome = Outcome {
            most: 0.0,
            positive: true,
            lost: false,
        };
        w.slots.fill(0.0);
        w.step.copy_from_slice(&w.balance);
        self.stamp(w, slopes);
        for section in &self.sections {
            let (positive, lost) = match self.tapes[section.tape].rails {
                2 => self.condense::<2>(section, w, slopes),
                3 => self.condense::<3>(section, w, slopes),
                4 => self.condense::<4>(section, w, slopes),
                5 => self.condense::<5>(section, w, slopes),
                6 => self.condense::<6>(section, w, slopes),
                7 => self.condense::<7>(section, w, slopes),
                _ => (true, false),
            };
            outcome.positive &= positive;
            outcome.lost |= lost;
        }
        let (positive, lost) =
            self.order
                .eliminate(&mut w.slots, &mut w.shares, &mut w.step, &self.anchors);
        outcome.positive &= positive;
        outcome.lost |= lost;
        self.order.put_back(&w.shares, &mut w.step);
        outcome.most = w.step.iter().fold(0.0, |m, v| v.abs().max(m));
        for section in &self.sections {
            let most = match self.tapes[section.tape].rails {
                2 => self.expand::<2>(section, w, slopes),
                3 => self.expand::<3>(section, w, slopes),
                4 => self.expand::<4>(section, w, slopes),
                5 => self.expand::<5>(section, w, slopes),
                6 => self.expand::<6>(section, w, slopes),
                7 => self.expand::<7>(section, w, slopes),
                _ => 0.0,
            };
            outcome.most = outcome.most.max(most);
        }
        for tape in &self.tapes {
            for &(cell, node) in &tape.pads {
                for rail in 0..tape.rails {
                    w.rail_step[tape.first_node + rail * tape.cells + cell] =
                        w.step[node as usize + rail];
                }
            }
        }
        outcome
    }

    /// Conductances of everything between nodes of the wiring.
    pub(super) fn stamp(&self, w: &mut Workspace, slopes: Slopes) {
        let mut add = |slot: u32, siemens: f64| {
            if let Some(value) = w.slots.get_mut(slot as usize) {
                *value += siemens;
            }
        };
        for wire in &self.wires {
            add(wire.slot, wire.siemens);
        }
        let state = slopes == Slopes::State;
        let floor = self.floors.last().copied().unwrap_or(0.0);
        for (source, &free) in self.sources.iter().zip(&w.source_amps) {
            let slope = if state {
                source.slope(free).max(floor.min(source.siemens))
            } else {
                source.sure_slope(free, w.left_amps)
            };
            if !source.dark {
                add(source.slot, slope);
            }
        }
        if state {
            for (load, &g) in self
                .loads
                .iter()
                .zip(&w.load_siemens)
                .filter(|(l, _)| !l.dark)
            {
                add(load.slot, g);
            }
        }
        for bridge in &self.bridges {
            match bridge.kind {
                BridgeKind::RailLink(link) => add(bridge.slot, self.rail_siemens[link]),
                BridgeKind::Cell(cell) if state => add(bridge.slot, w.cell_siemens[cell]),
                BridgeKind::Cell(_) | BridgeKind::Mesh => {}
            }
        }
    }

    fn condense<const R: usize>(
        &self,
        section: &Section,
        w: &mut Workspace,
        slopes: Slopes,
    ) -> (bool, bool) {
        let tape = &self.tapes[section.tape];
        let (n, links) = (tape.cells, tape.cells - 1);
        let stretch = Stretch {
            cells: n,
            links: &self.rail_siemens[tape.first_link..][..R * links],
            slopes: &w.cell_siemens[tape.first_cell..][..(R - 1) * n],
            amps: &w.rail_balance[tape.first_node..][..R * n],
            first: section.first,
            count: section.count,
            up: section.up,
        };
        let shares = &mut w.coefficients[section.coefficients..];
        let left: Left<R> = match (slopes, section.left) {
            (Slopes::State, None) => forward::<R, false>(&stretch, shares),
            (Slopes::State, Some(_)) => forward::<R, true>(&stretch, shares),
            (Slopes::LoadsFlat, None) => flat::forward::<R, false>(&stretch, shares),
            (Slopes::LoadsFlat, Some(_)) => flat::forward::<R, true>(&stretch, shares),
        };
        let mut bridge = section.first_slot;
        let mut add = |siemens: f64| {
            if let Some(value) = w.slots.get_mut(self.bridges[bridge].slot as usize) {
                *value += siemens;
            }
            bridge += 1;
        };
        for a in 0..R {
            for b in a + 1..R {
                add(left.next_next[a][b]);
            }
            if section.left.is_some() {
                left.next_left[a].iter().for_each(|&g| add(g));
            }
        }
        if section.left.is_some() {
            for a in 0..R {
                for b in a + 1..R {
                    add(left.left_left[a][b]);
                }
            }
        }
        for rail in 0..R {
            w.step[section.next as usize + rail] += left.next_amps[rail];
            if let Some(pad) = section.left {
                w.step[pad as usize + rail] += left.left_amps[rail];
            }
        }
        (left.positive, left.lost)
    }

    fn expand<const R: usize>(&self, section: &Section, w: &mut Workspace, slopes: Slopes) -> f64 {
        let tape = &self.tapes[section.tape];
        let n = tape.cells;
        let stretch = Stretch {
            cells: n,
            links: &[],
            slopes: &[],
            amps: &[],
            first: section.first,
            count: section.count,
            up: section.up,
        };
        let mut next = [0.0; R];
        next.copy_from_slice(&w.step[section.next as usize..][..R]);
        let mut left = [0.0; R];
        if let Some(pad) = section.left {
            left.copy_from_slice(&w.step[pad as usize..][..R]);
        }
        let shares = &w.coefficients[section.coefficients..];
        let volts = &mut w.rail_step[tape.first_node..][..R * n];
        match (slopes, section.left) {
            (Slopes::State, None) => backward::<R, false>(&stretch, shares, next, left, volts),
            (Slopes::State, Some(_)) => backward::<R, true>(&stretch, shares, next, left, volts),
            (Slopes::LoadsFlat, _) => flat::backward::<R>(&stretch, shares, next, left, volts),
        }
    }
}
