//! What a solve found on one tape.

use super::plan::{Network, TapePlan};
use super::solution::loss;
use super::workspace::Workspace;
use crate::quantity::{ElectricCurrent, ElectricPotential, Power, amps, volts, watts};

/// A rail of a tape.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Rail {
    /// The common rail.
    Common,
    /// The return rail of an emitter, by its place in the tape's list.
    Return(usize),
}

/// One tape of a solution. Slices are in SI units: volt, ampere.
#[derive(Debug, Clone, Copy)]
pub struct TapeSolution<'a> {
    pub(super) network: &'a Network,
    pub(super) work: &'a Workspace,
    pub(super) plan: &'a TapePlan,
}

impl<'a> TapeSolution<'a> {
    /// Cells of the tape.
    #[must_use]
    pub fn cells(&self) -> usize {
        self.plan.cells
    }

    fn lit(&self, emitter: usize) -> Option<usize> {
        self.plan.lit.get(emitter).copied().flatten()
    }

    /// Voltage across each cell of an emitter, V; 0 where it is dark, empty where it is unlit.
    #[must_use]
    pub fn cell_volts(&self, emitter: usize) -> &'a [f64] {
        let cells = self.plan.cells;
        self.lit(emitter).map_or(&[], |e| {
            &self.work.cell_volts[self.plan.first_cell + e * cells..][..cells]
        })
    }

    /// Current of each cell of an emitter, A; empty where it is unlit.
    #[must_use]
    pub fn cell_amps(&self, emitter: usize) -> &'a [f64] {
        let cells = self.plan.cells;
        self.lit(emitter).map_or(&[], |e| {
            &self.work.cell_amps[self.plan.first_cell + e * cells..][..cells]
        })
    }

    fn rail(&self, rail: Rail) -> Option<usize> {
        match rail {
            Rail::Common => Some(0),
            Rail::Return(emitter) => self.lit(emitter).map(|e| e + 1),
        }
    }

    /// Current of each link of a rail, A, counted from the lower cell to the higher; empty where unlit or of one cell.
    #[must_use]
    pub fn rail_amps(&self, rail: Rail) -> &'a [f64] {
        let links = self.plan.cells - 1;
        self.rail(rail).map_or(&[], |r| {
            &self.work.rail_amps[self.plan.first_link + r * links..][..links]
        })
    }

    /// Potential of each cell's pad on a rail, V; meaningful where the cell is lit. Empty where unlit.
    #[must_use]
    pub fn rail_volts(&self, rail: Rail) -> &'a [f64] {
        let cells = self.plan.cells;
        self.rail(rail).map_or(&[], |r| {
            &self.work.rail_volts[self.plan.first_node + r * cells..][..cells]
        })
    }

    /// Current through an attachment, counted from the wiring into the rail; by its place in the rail's list.
    #[must_use]
    pub fn attachment_current(&self, rail: Rail, attachment: usize) -> Option<ElectricCurrent> {
        let wires = self.plan.rail_wires.get(self.rail(rail)?)?.clone();
        wires
            .clone()
            .nth(attachment)
            .map(|wire| amps(self.work.wire_amps[wire]))
    }

    /// Lowest cell voltage of an emitter; none where it is unlit.
    #[must_use]
    pub fn least_cell_voltage(&self, emitter: usize) -> Option<ElectricPotential> {
        self.cell_volts(emitter)
            .iter()
            .copied()
            .min_by(f64::total_cmp)
            .map(volts)
    }

    /// Lowest and highest cell current of an emitter; none where it is unlit.
    #[must_use]
    pub fn cell_current_range(&self, emitter: usize) -> Option<(ElectricCurrent, ElectricCurrent)> {
        let all = self.cell_amps(emitter).iter().copied();
        Some((
            amps(all.clone().min_by(f64::total_cmp)?),
            amps(all.max_by(f64::total_cmp)?),
        ))
    }

    /// Power of the cells of an emitter; 0 W where it is unlit.
    #[must_use]
    pub fn emitter_power(&self, emitter: usize) -> Power {
        watts(
            self.cell_volts(emitter)
                .iter()
                .zip(self.cell_amps(emitter))
                .map(|(u, i)| u * i)
                .sum(),
        )
    }

    /// Heat of the rails of the tape.
    #[must_use]
    pub fn rail_loss(&self) -> Power {
        let links =
            self.plan.first_link..self.plan.first_link + self.plan.rails * (self.plan.cells - 1);
        let amps = &self.work.rail_amps[links.clone()];
        watts(
            amps.iter()
                .zip(&self.network.rail_siemens[links])
                .map(|(&i, &g)| loss(i, g))
                .sum(),
        )
    }
}
