//! What a solve found.

use super::plan::Network;
use super::solve::Report;
use super::spec::{Corner, Limit, LinkId, LoadId, NodeId, SourceId, TapeId};
use super::tape_solution::TapeSolution;
use super::workspace::Workspace;
use crate::quantity::{
    ElectricCurrent, ElectricPotential, Power, Ratio, amps, fraction, volts, watts,
};

/// What a source does in a solution.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum SourceState {
    /// Gives current below its limit.
    Gives,
    /// Holds its limit; its voltage has fallen.
    Limits,
    /// Gives nothing: another source holds its terminals higher, or nothing is drawn.
    Blocked,
    /// Would fold back: the solution shows the demand, not what would happen.
    WouldFoldBack,
    /// Would hiccup or trip: the solution shows the demand, not what would happen.
    WouldTrip,
}

/// A converged solution; borrows the network and the workspace it was made in.
#[derive(Debug)]
pub struct Solution<'a> {
    network: &'a Network,
    work: &'a Workspace,
    corner: Corner,
    report: Report,
}

impl<'a> Solution<'a> {
    pub(super) fn new(
        network: &'a Network,
        work: &'a Workspace,
        corner: Corner,
        report: Report,
    ) -> Self {
        Self {
            network,
            work,
            corner,
            report,
        }
    }

    /// The network and the state.
    pub(super) fn parts(&self) -> (&'a Network, &'a Workspace) {
        (self.network, self.work)
    }

    /// The network solved.
    #[must_use]
    pub fn network(&self) -> &'a Network {
        self.network
    }

    /// The corner solved at.
    #[must_use]
    pub fn corner(&self) -> Corner {
        self.corner
    }

    /// Potential of a node over the minus of the first source of its circuit; none where nothing ties it to a live circuit.
    #[must_use]
    pub fn node_voltage(&self, node: NodeId) -> Option<ElectricPotential> {
        let live = *self.network.live.get(node.0)?;
        live.then(|| volts(self.work.volts[node.0]))
    }

    /// Current of a link, counted from its first node to its second.
    #[must_use]
    pub fn link_current(&self, link: LinkId) -> Option<ElectricCurrent> {
        (link.0 < self.network.spec.links.len()).then(|| amps(self.work.wire_amps[link.0]))
    }

    /// Heat of a link.
    #[must_use]
    pub fn link_loss(&self, link: LinkId) -> Option<Power> {
        (link.0 < self.network.spec.links.len()).then(|| watts(self.wire_loss(link.0)))
    }

    fn wire_loss(&self, wire: usize) -> f64 {
        loss(self.work.wire_amps[wire], self.network.wires[wire].siemens)
    }

    /// Current of a single load.
    #[must_use]
    pub fn load_current(&self, load: LoadId) -> Option<ElectricCurrent> {
        self.work.load_amps.get(load.0).map(|&i| amps(i))
    }

    /// Voltage across a single load; 0 V where it is dark.
    #[must_use]
    pub fn load_voltage(&self, load: LoadId) -> Option<ElectricPotential> {
        let plan = self.network.loads.get(load.0)?;
        let across = self.work.volts[plan.plus as usize] - self.work.volts[plan.minus as usize];
        Some(volts(if plan.dark { 0.0 } else { across }))
    }

    /// Current a source gives.
    #[must_use]
    pub fn source_current(&self, source: SourceId) -> Option<ElectricCurrent> {
        let plan = self.network.sources.get(source.0)?;
        Some(amps(plan.given(self.work.source_amps[source.0])))
    }

    /// Voltage at the terminals of a source; its set point where it is on no closed circuit.
    #[must_use]
    pub fn source_voltage(&self, source: SourceId) -> Option<ElectricPotential> {
        let plan = self.network.sources.get(source.0)?;
        let across = self.work.volts[plan.plus as usize] - self.work.volts[plan.minus as usize];
        Some(volts(if plan.dark {
            self.corner.set_point(&self.network.spec.sources[source.0])
        } else {
            across
        }))
    }

    /// Power a source gives at its terminals.
    #[must_use]
    pub fn source_power(&self, source: SourceId) -> Option<Power> {
        Some(self.source_voltage(source)? * self.source_current(source)?)
    }

    /// What a source does.
    #[must_use]
    pub fn source_state(&self, source: SourceId) -> Option<SourceState> {
        let plan = self.network.sources.get(source.0)?;
        let given = plan.given(self.work.source_amps[source.0]);
        Some(match self.network.spec.sources[source.0].limit {
            Limit::ConstantCurrent(limit) if given >= limit.value => SourceState::Limits,
            Limit::FoldBack(limit) if given > limit.value => SourceState::WouldFoldBack,
            Limit::Hiccup(limit) | Limit::Trip(limit) if given > limit.value => {
                SourceState::WouldTrip
            }
            _ if given > 0.0 => SourceState::Gives,
            _ => SourceState::Blocked,
        })
    }

    /// One tape of the solution.
    #[must_use]
    pub fn tape(&self, tape: TapeId) -> Option<TapeSolution<'a>> {
        let plan = self.network.tapes.get(tape.0)?;
        Some(TapeSolution {
            network: self.network,
            work: self.work,
            plan,
        })
    }

    /// Power of all sources at their terminals.
    #[must_use]
    pub fn total_source_power(&self) -> Power {
        watts(
            (0..self.network.sources.len())
                .filter_map(|s| self.source_power(SourceId(s)))
                .map(|p| p.value)
                .sum(),
        )
    }

    /// Power of all cells and single loads.
    #[must_use]
    pub fn total_load_power(&self) -> Power {
        let w = self.work;
        let cells: f64 = w
            .cell_volts
            .iter()
            .zip(&w.cell_amps)
            .map(|(u, i)| u * i)
            .sum();
        let single: f64 = (0..self.network.loads.len())
            .filter_map(|l| {
                Some(self.load_voltage(LoadId(l))?.value * self.load_current(LoadId(l))?.value)
            })
            .sum();
        watts(cells + single)
    }

    /// Heat of all links, joints and rails.
    #[must_use]
    pub fn total_copper_loss(&self) -> Power {
        let wires: f64 = (0..self.network.wires.len())
            .map(|k| self.wire_loss(k))
            .sum();
        let rails: f64 = self
            .work
            .rail_amps
            .iter()
            .zip(&self.network.rail_siemens)
            .map(|(&i, &g)| loss(i, g))
            .sum();
        watts(wires + rails)
    }

    /// Load power over source power; 0 where no source gives anything.
    #[must_use]
    pub fn efficiency(&self) -> Ratio {
        let given = self.total_source_power().value;
        fraction(if given > 0.0 {
            self.total_load_power().value / given
        } else {
            0.0
        })
    }

    /// Tellegen's balance: source power less load power less copper heat, as a fraction of the source power.
    ///
    /// Zero but for rounding in any solution; used by tests on every solve.
    #[must_use]
    pub fn power_imbalance(&self) -> f64 {
        let given = self.total_source_power().value;
        let off = given - self.total_load_power().value - self.total_copper_loss().value;
        if given > 0.0 { off / given } else { off }
    }

    /// Iterations made (linear solves).
    #[must_use]
    pub fn iterations(&self) -> usize {
        self.report.iterations
    }

    /// Largest current left over at a node.
    #[must_use]
    pub fn residual(&self) -> ElectricCurrent {
        amps(self.report.residual_amps)
    }

    /// No node and no cell voltage is further from the true one (see [`Self::bound_is_rigorous`]).
    #[must_use]
    pub fn volt_error_bound(&self) -> ElectricPotential {
        volts(self.report.bound_volts)
    }

    /// No branch carries a current further from the true one, beside what a voltage error moves in a stiff branch that closes a ring.
    ///
    /// The currents left over at the nodes, all together: one ampere put in at a node and taken out at another drives at
    /// most one ampere through any branch of a network of copper and monotone loads.
    #[must_use]
    pub fn amp_error_bound(&self) -> ElectricCurrent {
        amps(self.report.bound_amps)
    }

    /// Whether the bound is proved (monotone loads; copper and giving sources tie every node), not first order.
    #[must_use]
    pub fn bound_is_rigorous(&self) -> bool {
        self.report.bound_is_rigorous
    }

    /// With constant-power loads and [`SolveOptions::find_collapse`](super::SolveOptions): the multiple of the loads' power at
    /// which the network collapses, to 1e-4.
    #[must_use]
    pub fn collapse_at(&self) -> Option<Ratio> {
        self.report.collapse_share.map(fraction)
    }

    /// Cells above the last reading of their table, as tape, emitter and cell.
    pub fn beyond_readings(&self) -> impl Iterator<Item = (TapeId, usize, usize)> + use<'a> {
        let (network, work) = (self.network, self.work);
        network.tapes.iter().flat_map(move |tape| {
            tape.lit
                .iter()
                .enumerate()
                .filter_map(|(e, l)| Some((e, (*l)?)))
                .flat_map(move |(emitter, lit)| {
                    let top = network.law(tape.emitters[lit].law).known_up_to();
                    let cells =
                        &work.cell_volts[tape.first_cell + lit * tape.cells..][..tape.cells];
                    let above = cells
                        .iter()
                        .enumerate()
                        .filter(move |(_, u)| top.is_some_and(|t| **u > t.value));
                    above.map(move |(cell, _)| (TapeId(tape.index), emitter, cell))
                })
        })
    }
}

/// Heat of a conductance that carries a current.
pub(super) fn loss(amps: f64, siemens: f64) -> f64 {
    if siemens > 0.0 {
        amps * amps / siemens
    } else {
        0.0
    }
}
