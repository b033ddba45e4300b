//! The work arrays of a solve, kept between solves so that nothing is allocated in a loop.

use super::error::SolveError;
use super::plan::Network;
use std::sync::atomic::{AtomicU64, Ordering};

/// Work arrays. Make one, and pass it to every solve of the thread.
#[derive(Debug, Clone, Default)]
pub struct Workspace {
    /// Which network the state below belongs to; 0 for none.
    pub(super) mark: u64,
    /// Potentials of the tapes' rail nodes, their last step and their current balance.
    pub(super) rail_volts: Vec<f64>,
    pub(super) rail_step: Vec<f64>,
    pub(super) rail_balance: Vec<f64>,
    /// Currents of the rail links, counted from the lower cell to the higher.
    pub(super) rail_amps: Vec<f64>,
    pub(super) cell_volts: Vec<f64>,
    pub(super) cell_amps: Vec<f64>,
    pub(super) cell_siemens: Vec<f64>,
    pub(super) coefficients: Vec<f64>,
    /// The same for the wiring.
    pub(super) volts: Vec<f64>,
    pub(super) step: Vec<f64>,
    pub(super) balance: Vec<f64>,
    pub(super) wire_amps: Vec<f64>,
    /// Current a source would give without its limit and its one way.
    pub(super) source_amps: Vec<f64>,
    pub(super) load_amps: Vec<f64>,
    pub(super) load_siemens: Vec<f64>,
    pub(super) slots: Vec<f64>,
    pub(super) shares: Vec<f64>,
    pub(super) kept: Vec<f64>,
    /// Factor on the least slopes, above 1 only while the iteration is stuck at a kink.
    pub(super) steeper: f64,
    /// Sum of the currents left over at the last bound, A.
    pub(super) left_amps: f64,
    pub(super) coarse: Option<Box<Workspace>>,
}

/// A number that no other prepared network carries.
pub(super) fn next_mark() -> u64 {
    static NEXT: AtomicU64 = AtomicU64::new(1);
    NEXT.fetch_add(1, Ordering::Relaxed)
}

impl Workspace {
    /// Empty arrays; the first solve sizes them.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Sizes the arrays for a network; allocates only if they must grow.
    pub(super) fn fit(&mut self, network: &Network) -> Result<(), SolveError> {
        let sizes = network.sizes;
        for (array, length) in [
            (&mut self.rail_volts, sizes.rail_nodes),
            (&mut self.rail_step, sizes.rail_nodes),
            (&mut self.rail_balance, sizes.rail_nodes),
            (&mut self.rail_amps, sizes.rail_links),
            (&mut self.cell_volts, sizes.cells),
            (&mut self.cell_amps, sizes.cells),
            (&mut self.cell_siemens, sizes.cells),
            (&mut self.coefficients, sizes.coefficients),
            (&mut self.volts, network.nodes),
            (&mut self.step, network.nodes),
            (&mut self.balance, network.nodes),
            (&mut self.wire_amps, network.wires.len()),
            (&mut self.source_amps, network.sources.len()),
            (&mut self.load_amps, network.loads.len()),
            (&mut self.load_siemens, network.loads.len()),
            (&mut self.slots, network.order.slots),
            (&mut self.shares, network.order.near.len()),
        ] {
            fit(array, length)?;
        }
        Ok(())
    }

    /// Puts the state aside (falling loads only).
    pub(super) fn keep(&mut self) -> Result<(), SolveError> {
        let parts = [
            &self.rail_volts,
            &self.rail_amps,
            &self.volts,
            &self.wire_amps,
            &self.source_amps,
        ];
        let length = parts.iter().map(|p| p.len()).sum();
        let mut kept = std::mem::take(&mut self.kept);
        fit(&mut kept, length)?;
        let mut at = 0;
        for part in parts {
            kept[at..at + part.len()].copy_from_slice(part);
            at += part.len();
        }
        self.kept = kept;
        Ok(())
    }

    /// Takes the state back that [`Self::keep`] put aside.
    pub(super) fn take_back(&mut self) {
        let mut at = 0;
        for part in [
            &mut self.rail_volts,
            &mut self.rail_amps,
            &mut self.volts,
            &mut self.wire_amps,
            &mut self.source_amps,
        ] {
            if let Some(kept) = self.kept.get(at..at + part.len()) {
                part.copy_from_slice(kept);
            }
            at += part.len();
        }
    }
}

fn fit(array: &mut Vec<f64>, length: usize) -> Result<(), SolveError> {
    if length > array.len() {
        let more = length - array.len();
        array
            .try_reserve_exact(more)
            .map_err(|_| SolveError::Memory {
                bytes: length.saturating_mul(8),
            })?;
    }
    array.resize(length, 0.0);
    Ok(())
}
