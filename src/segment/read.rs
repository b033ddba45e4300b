//! One state of one build, solved: what flows where.

use super::build::{Build, CircuitParts, CoreParts, SegmentParts};
use super::check::CheckedCircuit;
use super::circuit::{Conductor, Segment, State};
use super::figures::{least, most};
use crate::network::{LinkId, NodeId, Rail, Solution, TapeId, TapeSolution};
use crate::quantity::{ElectricCurrent, ElectricPotential, amps, volts};

/// The operating point of a circuit in one state of one build.
#[derive(Debug, Clone, Copy)]
pub struct OperatingPoint<'a> {
    pub(super) circuit: &'a CheckedCircuit<'a>,
    pub(super) build: Build,
    pub(super) state: &'a State,
    pub(super) parts: &'a CircuitParts,
    pub(super) solution: &'a Solution<'a>,
}

impl<'a> OperatingPoint<'a> {
    /// The solution of the whole network: power of the source, heat of the copper, bound on the error.
    #[must_use]
    pub fn solution(&self) -> &'a Solution<'a> {
        self.solution
    }

    /// What is at which corner.
    #[must_use]
    pub fn build(&self) -> Build {
        self.build
    }

    /// A segment, by the places of its branch and of itself.
    #[must_use]
    pub fn segment(&self, branch: usize, segment: usize) -> Option<SegmentPoint<'a>> {
        let own = self.circuit.circuit().branches.get(branch)?;
        let parts = self.parts.branches.get(branch)?.segments.get(segment)?;
        Some(SegmentPoint {
            segment: own.segments.get(segment)?,
            parts,
            lit: self.state.lit.get(branch).map_or(&[], Vec::as_slice),
            solution: self.solution,
        })
    }

    /// Size of the current of a link.
    pub(super) fn amps(&self, link: LinkId) -> f64 {
        signed(self.solution, link).abs()
    }

    /// Volts between two nodes.
    pub(super) fn across(&self, a: NodeId, b: NodeId) -> f64 {
        across(self.solution, a, b)
    }
}

/// One segment at an operating point.
#[derive(Debug, Clone, Copy)]
pub struct SegmentPoint<'a> {
    pub(super) segment: &'a Segment<'a>,
    parts: &'a SegmentParts,
    lit: &'a [usize],
    solution: &'a Solution<'a>,
}

impl<'a> SegmentPoint<'a> {
    /// The lit emitters; figures by `place` below follow this list.
    #[must_use]
    pub fn lit(&self) -> &'a [usize] {
        self.lit
    }

    /// Its tapes from one fed mark to the next.
    pub(super) fn tapes(&self) -> impl Iterator<Item = TapeSolution<'a>> + use<'a> {
        let solution = self.solution;
        let all = self.parts.tapes.iter();
        all.filter_map(move |tape| solution.tape(*tape))
    }

    /// Their ids.
    pub(super) fn tape_ids(&self) -> &'a [TapeId] {
        &self.parts.tapes
    }

    /// Voltage of every cell of a lit emitter from the first mark to the last, V.
    pub fn cell_volts(&self, place: usize) -> impl Iterator<Item = f64> + use<'a> {
        self.tapes()
            .flat_map(move |tape| tape.cell_volts(place).iter().copied())
    }

    /// Current of every cell of a lit emitter from the first mark to the last, A.
    pub fn cell_amps(&self, place: usize) -> impl Iterator<Item = f64> + use<'a> {
        self.tapes()
            .flat_map(move |tape| tape.cell_amps(place).iter().copied())
    }

    /// What enters by a feeder: each lit conductor with its current, counted towards the tape.
    pub fn entering(
        &self,
        feeder: usize,
    ) -> impl Iterator<Item = (Conductor, ElectricCurrent)> + use<'a> {
        let solution = self.solution;
        let cores = self.cores(feeder).iter();
        cores.map(move |c| (c.conductor, amps(signed(solution, c.core))))
    }

    /// Current of a conductor over all its feeders.
    #[must_use]
    pub fn total(&self, conductor: Conductor) -> ElectricCurrent {
        let cores = self.parts.feeders.iter().flatten();
        let own = cores.filter(|c| c.conductor == conductor);
        let sum: f64 = own.map(|c| signed(self.solution, c.core)).sum();
        amps(sum.abs())
    }

    /// Greatest current of any rail from one cell to the next.
    #[must_use]
    pub fn rail_current(&self) -> ElectricCurrent {
        let rails = self.rails();
        let links = rails.flat_map(|(tape, rail)| tape.rail_amps(rail).iter().copied());
        amps(links.map(f64::abs).fold(0.0, most))
    }

    /// Greatest current of any rail over the half increment between a fed mark and the cell beside it.
    #[must_use]
    pub fn entry_current(&self) -> ElectricCurrent {
        // A tape meets the wiring at its two ends at most.
        let ends = |(tape, rail): (TapeSolution<'a>, Rail)| {
            (0..2).filter_map(move |end| tape.attachment_current(rail, end))
        };
        let entering = self.rails().flat_map(ends);
        amps(entering.map(|a| a.value.abs()).fold(0.0, most))
    }

    /// Current of a rail across a mark; beside a fed mark the greater of its two sides. 0 where the emitter is not lit.
    #[must_use]
    pub fn current_across(&self, mark: u64, conductor: Conductor) -> ElectricCurrent {
        let rail = match conductor {
            Conductor::Common => Some(Rail::Common),
            Conductor::Return(emitter) => {
                let place = self.lit.iter().position(|lit| *lit == emitter);
                place.map(Rail::Return)
            }
        };
        let mut before = self.segment.from;
        let mut found = 0.0;
        for tape in self.tapes() {
            let Some(rail) = rail else { break };
            let links = tape.rail_amps(rail);
            let last = before + links.len() as u64 + 1;
            let side = if mark == before {
                Some(0)
            } else if mark == last {
                Some(1)
            } else {
                None
            };
            let across = match (side, mark.checked_sub(before + 1)) {
                (Some(end), _) => tape.attachment_current(rail, end).map(|a| a.value),
                (None, Some(link)) => usize::try_from(link)
                    .ok()
                    .and_then(|link| links.get(link).copied()),
                (None, None) => None,
            };
            found = most(found, across.unwrap_or(0.0).abs());
            before = last;
        }
        amps(found)
    }

    /// Every rail of every tape.
    fn rails(&self) -> impl Iterator<Item = (TapeSolution<'a>, Rail)> + use<'a> {
        let lit = self.lit.len();
        self.tapes().flat_map(move |tape| {
            let returns = (0..lit).map(Rail::Return);
            let rails = std::iter::once(Rail::Common).chain(returns);
            rails.map(move |rail| (tape, rail))
        })
    }

    pub(super) fn cores(&self, feeder: usize) -> &'a [CoreParts] {
        self.parts.feeders.get(feeder).map_or(&[], Vec::as_slice)
    }

    /// Volts where a feeder enters, between the common and the weakest lit return; a conductor that does not enter
    /// here is read where it enters. None where no return is lit.
    #[must_use]
    pub fn volts_at(&self, feeder: usize) -> Option<ElectricPotential> {
        let here = self.cores(feeder);
        let all = || self.parts.feeders.iter().flatten();
        let is_common = |core: &&CoreParts| core.conductor == Conductor::Common;
        let common = here.iter().chain(all()).find(is_common)?;
        let returns_here = here.iter().any(|core| !is_common(&core));
        let returns: &mut dyn Iterator<Item = &CoreParts> = if returns_here {
            &mut here.iter()
        } else {
            &mut all()
        };
        let least = returns
            .filter(|core| !is_common(core))
            .map(|core| across(self.solution, common.mark, core.mark))
            .reduce(least);
        least.map(volts)
    }
}

fn signed(solution: &Solution<'_>, link: LinkId) -> f64 {
    // Links come from the same network as the solution.
    solution.link_current(link).map_or(0.0, |a| a.value)
}

/// Volts between two nodes; 0 V where a broken conductor leaves one of them dark.
fn across(solution: &Solution<'_>, a: NodeId, b: NodeId) -> f64 {
    match (solution.node_voltage(a), solution.node_voltage(b)) {
        (Some(a), Some(b)) => (a.value - b.value).abs(),
        _ => 0.0,
    }
}
