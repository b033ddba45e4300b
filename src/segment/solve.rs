//! Every state at every corner.

use super::build::Build;
use super::check::CheckedCircuit;
use super::error::{NoSolution, Unsolved};
use super::figures::CircuitFigures;
use super::read::OperatingPoint;
use crate::network::{SolveOptions, Workspace};
use crate::quantity::{Corner, Corners};

impl CheckedCircuit<'_> {
    /// The worst figures over the states, at each corner.
    ///
    /// # Errors
    /// [`Unsolved`]: the first corner and state without an operating point, from the low corner to the high one.
    pub fn solve(&self, work: &mut Workspace) -> Result<Corners<CircuitFigures>, Unsolved> {
        Ok(Corners {
            low: self.solve_at(Corner::Low, work)?,
            nominal: self.solve_at(Corner::Nominal, work)?,
            high: self.solve_at(Corner::High, work)?,
        })
    }

    /// The worst figures over the states, at one corner.
    ///
    /// # Errors
    /// As [`CheckedCircuit::solve`].
    pub fn solve_at(
        &self,
        corner: Corner,
        work: &mut Workspace,
    ) -> Result<CircuitFigures, Unsolved> {
        self.solve_with(corner, work, |_, _| {})
    }

    /// As [`CheckedCircuit::solve_at`], and shows `read` the operating point of each state, by its place in the list.
    ///
    /// # Errors
    /// As [`CheckedCircuit::solve`].
    pub fn solve_with(
        &self,
        corner: Corner,
        work: &mut Workspace,
        mut read: impl FnMut(usize, &OperatingPoint<'_>),
    ) -> Result<CircuitFigures, Unsolved> {
        let mut figures = CircuitFigures::before(self.circuit());
        for state in 0..self.circuit().states.len() {
            self.operating_point(corner, state, work, |point| {
                figures.add(point, state);
                read(state, point);
            })?;
        }
        Ok(figures)
    }

    /// Solves one state at one corner, or of one build, and hands its operating point to `read`.
    ///
    /// # Errors
    /// As [`CheckedCircuit::solve`]; a build is named by the corner of its set point.
    pub fn operating_point<R>(
        &self,
        build: impl Into<Build>,
        state: usize,
        work: &mut Workspace,
        read: impl FnOnce(&OperatingPoint<'_>) -> R,
    ) -> Result<R, Unsolved> {
        let build = build.into();
        let corner = build.set_point;
        let unsolved = |why| Unsolved { corner, state, why };
        let lit = self.circuit().states.get(state);
        let lit = lit.ok_or_else(|| unsolved(NoSolution::NoState))?;
        let (spec, parts) = self.network(build, lit);
        let network = spec
            .check()
            .map_err(|faults| unsolved(NoSolution::Network(faults)))?;
        let solution = network
            .solve(&SolveOptions::default(), work)
            .map_err(|error| unsolved(NoSolution::Solve(error)))?;
        Ok(read(&OperatingPoint {
            circuit: self,
            build,
            state: lit,
            parts: &parts,
            solution: &solution,
        }))
    }
}
