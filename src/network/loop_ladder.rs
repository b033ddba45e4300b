//! The fast path: one emitter, one source voltage, both rails folded into one loop.
//!
//! ```text
//!   E ──feed──●──r──●──r──●── … ──●──feed── E      r: plus and return track together
//!             │     │     │       │
//!           I(u0) I(u1) I(u2)   I(uN)
//! ```
//!
//! Valid where the current out equals the current back at every cut: *one* feed with any split of
//! the copper between plus and return, or any number of feeds of one source voltage when plus and return have the
//! same share of the resistance in every link and feeder (equal copper both ways is the usual case). Elsewhere
//! the rails are unknowns of their own: use [`NetworkSpec`](super::NetworkSpec). What feeders share (an output
//! resistance, a main cable) does not fit here either.
//!
//! The unknown is the drop of each cell. A coarse ladder of eight cells to a node gives the start, and
//! is itself started by a coarser one; then Newton passes until the remaining error, bounded by
//! `δ²·max(I''/I')/2`, is below the tolerance. For convex laws (string, resistor, unlimited
//! straight line) every pass after the first lies above the solution and falls towards it, so no search is needed;
//! for the others (plateau, table, custom) a damped pass is used.

use super::loop_levels::{LoopWork, Shape};
use super::sweep::Draw;
use crate::load::{Form, Law, OmegaTable, StringLaw, Trend, omega_table};
use crate::quantity::{ElectricCurrent, ElectricPotential, ElectricalResistance, amps, volts};
use thiserror::Error;

/// Most cells of a loop ladder.
pub const MOST_LOOP_CELLS: usize = 8_000_000;
/// Below this a link is stiff beside a cell, ohm.
const STIFF_OHMS: f64 = 1e-6;

/// A feed of a loop ladder.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LoopFeed {
    /// Cell, counted from 0.
    pub cell: usize,
    /// Loop resistance from the source to the cell's pads (out and back); 0 is stiff.
    pub resistance: ElectricalResistance,
}

/// Loop resistances between neighbouring cells.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum LoopLinks<'a> {
    /// The same everywhere.
    Uniform(ElectricalResistance),
    /// One for each gap, ohm: `cells − 1` of them.
    Each(&'a [f64]),
}

/// Why a loop ladder cannot be solved.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum LoopError {
    /// A count or figure outside its range.
    #[error("loop ladder: {what} is {found}; it must be {accepted}")]
    OutOfRange {
        /// Which figure.
        what: &'static str,
        /// Its value in SI units.
        found: f64,
        /// The accepted range.
        accepted: &'static str,
    },
    /// A load whose current falls with voltage.
    #[error(
        "loop ladder: a constant-power load has two solutions or none here. Use the network solver, which follows the upper one"
    )]
    Falling,
    /// The iteration did not settle.
    #[error(
        "loop ladder: not settled after {passes} passes, last step {step_volts} V. Use the network solver"
    )]
    NoConvergence {
        /// Passes made.
        passes: usize,
        /// Largest move of the last pass, V.
        step_volts: f64,
    },
}

/// A two-rail ladder as one loop; borrows everything, so it costs nothing to make.
#[derive(Debug, Clone, Copy)]
pub struct LoopLadder<'a> {
    pub(super) law: &'a Law,
    pub(super) volts: f64,
    pub(super) cells: usize,
    pub(super) links: LoopLinks<'a>,
    pub(super) feeds: &'a [LoopFeed],
}

/// What a loop ladder's solve found.
#[derive(Debug)]
pub struct LoopSolution<'a> {
    ladder: LoopLadder<'a>,
    drop: &'a [f64],
    passes: usize,
    coarse_passes: usize,
    error: f64,
}

impl<'a> LoopLadder<'a> {
    /// A ladder of `cells` equal cells on `source`, with its links and feeds.
    /// # Errors
    /// [`LoopError`] where a figure is out of range, no feed is given, or the load falls with voltage.
    pub fn new(
        law: &'a Law,
        source: ElectricPotential,
        cells: usize,
        links: LoopLinks<'a>,
        feeds: &'a [LoopFeed],
    ) -> Result<Self, LoopError> {
        let range = |what, found: f64, good: bool, accepted| {
            if good {
                Ok(())
            } else {
                Err(LoopError::OutOfRange {
                    what,
                    found,
                    accepted,
                })
            }
        };
        range(
            "the number of cells",
            cells as f64,
            (1..=MOST_LOOP_CELLS).contains(&cells),
            "1 to 8,000,000",
        )?;
        let e = source.value;
        range(
            "the source voltage (V)",
            e,
            (1e-6..=1e6).contains(&e),
            "1 uV to 1 MV",
        )?;
        range(
            "the number of feeds",
            feeds.len() as f64,
            !feeds.is_empty(),
            "at least 1",
        )?;
        let fine = |r: f64| (0.0..=1e15).contains(&r);
        let accepted = "0 ohm to 1e15 ohm (an open link needs the network solver)";
        match links {
            LoopLinks::Uniform(r) => range(
                "the link resistance (ohm)",
                r.value,
                fine(r.value),
                accepted,
            )?,
            LoopLinks::Each(each) => {
                range(
                    "the number of links",
                    each.len() as f64,
                    each.len() == cells - 1,
                    "one less than cells",
                )?;
                if let Some(&r) = each.iter().find(|r| !fine(**r)) {
                    range("a link resistance (ohm)", r, false, accepted)?;
                }
            }
        }
        for feed in feeds {
            range(
                "the cell of a feed",
                feed.cell as f64,
                feed.cell < cells,
                "below the number of cells",
            )?;
            range(
                "the resistance of a feed (ohm)",
                feed.resistance.value,
                fine(feed.resistance.value),
                accepted,
            )?;
        }
        if law.trend() == Trend::Falling {
            return Err(LoopError::Falling);
        }
        Ok(Self {
            law,
            volts: e,
            cells,
            links,
            feeds,
        })
    }

    /// Solves to `1e-9 V`.
    ///
    /// Time: linear in the cells, two or three passes of about the cost of one tridiagonal
    /// elimination; nothing is allocated once the work arrays have grown.
    /// # Errors
    /// [`LoopError::NoConvergence`].
    pub fn solve(&self, work: &'a mut LoopWork) -> Result<LoopSolution<'a>, LoopError> {
        work.fit(self);
        // Below a micro-ohm the currents of a large step drown those of the cells: end on a small step only.
        let stiff = match self.links {
            LoopLinks::Uniform(r) => r.value < STIFF_OHMS,
            LoopLinks::Each(each) => each.iter().any(|r| *r < STIFF_OHMS),
        };
        let form = &*self.law.0;
        let found = match form {
            Form::Series(string) if !stiff => {
                let draw = Tabled {
                    string: *string,
                    table: omega_table(),
                };
                work.settle(
                    self,
                    &draw,
                    Shape::Smooth {
                        bend: string.per_volt,
                    },
                )
            }
            Form::Series(string) => work.settle(
                self,
                &Tabled {
                    string: *string,
                    table: omega_table(),
                },
                Shape::Convex,
            ),
            Form::Line(line) if line.limit == f64::INFINITY && line.knee == 0.0 && !stiff => {
                work.settle(self, &Closed(form), Shape::Smooth { bend: 0.0 })
            }
            Form::Line(line) if line.limit == f64::INFINITY => {
                work.settle(self, &Closed(form), Shape::Convex)
            }
            _ => work.settle(self, &Closed(form), Shape::Any),
        };
        let (passes, coarse_passes, error) = found?;
        Ok(LoopSolution {
            ladder: *self,
            drop: &work.drop[..self.cells],
            passes,
            coarse_passes,
            error,
        })
    }
}

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

impl<'a> LoopSolution<'a> {
    /// Drop of each cell below the source, V.
    #[must_use]
    pub fn drops(&self) -> &'a [f64] {
        self.drop
    }

    /// Voltage of a cell.
    #[must_use]
    pub fn cell_voltage(&self, cell: usize) -> Option<ElectricPotential> {
        self.drop.get(cell).map(|p| volts(self.ladder.volts - p))
    }

    /// Lowest cell voltage.
    #[must_use]
    pub fn least_voltage(&self) -> ElectricPotential {
        volts(
            self.ladder.volts
                - self
                    .drop
                    .iter()
                    .fold(f64::MIN, |m, &p| if p > m { p } else { m }),
        )
    }

    /// Current of the cell with the lowest voltage: the least of all, as the law never falls.
    #[must_use]
    pub fn least_current(&self) -> ElectricCurrent {
        self.ladder.law.current(self.least_voltage())
    }

    /// Currents of all cells, A.
    pub fn cell_amps(&self) -> impl Iterator<Item = f64> + '_ {
        self.drop
            .iter()
            .map(|p| self.ladder.law.0.at(self.ladder.volts - p).0)
    }

    /// Current of a feed, by its place in the list; shared by conductance where several meet one cell.
    #[must_use]
    pub fn feed_current(&self, feed: usize) -> Option<ElectricCurrent> {
        let f = self.ladder.feeds.get(feed)?;
        Some(amps(
            super::plan::siemens_of(f.resistance.value) * self.drop[f.cell],
        ))
    }

    /// Sum of the feeds' currents.
    #[must_use]
    pub fn input_current(&self) -> ElectricCurrent {
        amps(
            (0..self.ladder.feeds.len())
                .filter_map(|f| self.feed_current(f))
                .map(|i| i.value)
                .sum(),
        )
    }

    /// Passes over the cells.
    #[must_use]
    pub fn passes(&self) -> usize {
        self.passes
    }

    /// Passes over all coarser ladders.
    #[must_use]
    pub fn coarse_passes(&self) -> usize {
        self.coarse_passes
    }

    /// Error of the voltages left by the last step (see the module page); the table of the law adds at most 2e-12 of the drop.
    #[must_use]
    pub fn volt_error_bound(&self) -> ElectricPotential {
        volts(self.error + 2e-12 * self.ladder.volts)
    }
}
