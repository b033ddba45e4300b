//! What is read on site: intervals that hold whatever is built within the tolerances.
//!
//! ```text
//! lowest current    set point low,  copper at its most,  cells at their least
//! highest current   set point high, copper at its least, cells at their most
//! lowest volts      set point low,  cells at their most, copper ...
//! highest volts     set point high, cells at their least, copper ...
//! greatest drop     set point high, cells at their most,  copper ...
//! least drop        set point low,  cells at their least, copper ...
//! ```
//! Voltages are bounded where cells draw *against* the set point: the low corner of light (set point low, cells at their
//! least) loses few volts and bounds none. A voltage is bounded link by link: the least volts before a link, less the most
//! that any build drops in it. A link drops most where it has the most resistance and the others, which hold the current
//! back, have the least; so copper is put at either end, link by link.
//!
//! Every build is solved in the first state, in which readings are taken. The bounds hold for networks of one emitter and
//! one source by the monotonicity of resistive networks with loads that rise with voltage; with several emitters they are
//! held against sampled builds by the tests, not proven.

use super::build::Build;
use super::check::CheckedCircuit;
use super::circuit::{Branch, Segment};
use super::error::Unsolved;
use super::figures::{CircuitFigures, least, most};
use super::read::OperatingPoint;
use crate::network::Workspace;
use crate::quantity::{Corner, Corners, ElectricCurrent, ElectricPotential, amps, volts};

/// Readings of everything on one output, in the first state.
#[derive(Debug, Clone, PartialEq)]
pub struct Bands {
    /// Current of the output.
    pub current: Corners<ElectricCurrent>,
    /// By branch.
    pub branches: Vec<BranchBands>,
}

/// Readings of a branch.
#[derive(Debug, Clone, PartialEq)]
pub struct BranchBands {
    /// At its supply terminals.
    pub volts: Corners<ElectricPotential>,
    /// Greatest drop over both cores of its lead.
    pub lead_drop: ElectricPotential,
    /// By segment.
    pub segments: Vec<SegmentBands>,
}

/// Readings of a segment.
#[derive(Debug, Clone, PartialEq)]
pub struct SegmentBands {
    /// From the terminals of the supply to the cell with the least volts: nominal, and at most.
    pub drop: Corners<ElectricPotential>,
    /// By feeder.
    pub feeders: Vec<FeedBand>,
    /// Cells along it, from its start to its end: all of a short one, else at least [`CELLS`] spread over it.
    pub cells: Vec<CellBand>,
}

/// Cells that are read along a segment.
pub const CELLS: usize = 16;

/// Volts across the weakest lit cell of an increment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CellBand {
    /// Increment, counted from the start of the run.
    pub increment: u64,
    /// Volts.
    pub volts: Corners<ElectricPotential>,
}

/// Readings of a feeder.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FeedBand {
    /// At the tape, between the common and the weakest return; none where no return is lit.
    pub volts: Option<Corners<ElectricPotential>>,
    /// Greatest drop over the core of the common and one of a return.
    pub drop: ElectricPotential,
}

/// An interval that grows; with the figure of the nominal build, which comes first and so lies inside.
#[derive(Debug, Clone, Copy)]
struct Band {
    low: f64,
    nominal: f64,
    high: f64,
}

impl Band {
    fn of(nominal: f64) -> Self {
        Self {
            low: nominal,
            nominal,
            high: nominal,
        }
    }

    fn take(&mut self, figure: f64) {
        self.low = least(self.low, figure);
        self.high = most(self.high, figure);
    }

    /// The band behind a link that drops `lost`.
    fn less(self, lost: Self) -> Self {
        Self {
            low: self.low - lost.high,
            nominal: self.nominal - lost.nominal,
            high: self.high - lost.low,
        }
    }

    fn figures<Q>(self, quantity: fn(f64) -> Q) -> Corners<Q> {
        Corners {
            low: quantity(self.low),
            nominal: quantity(self.nominal),
            high: quantity(self.high),
        }
    }
}

/// The builds that bound readings: those of the currents, then those of the voltages.
///
/// A link drops most where it has the most resistance and all others have the least, and least the other way round: so
/// leads and feeders stand at opposite ends. Rails of segments with one feeder are at their least where cells are at
/// their most, and so on; of segments with `several` feeders they part the current between them, and are tried at both.
fn bounding(several: bool) -> impl Iterator<Item = Build> {
    let currents = [Corner::Low, Corner::High].map(|corner| Build {
        joints: corner,
        ..Build::from(corner)
    });
    let voltages = [Corner::Low, Corner::High]
        .into_iter()
        .flat_map(move |set_point| {
            let against = other(set_point);
            let rails = [against, set_point];
            let rails = rails.into_iter().take(if several { 2 } else { 1 });
            rails.flat_map(move |rails| {
                [Corner::Low, Corner::High].map(|lead| Build {
                    set_point,
                    lead,
                    feeders: other(lead),
                    rails,
                    joints: rails,
                    cells: against,
                })
            })
        });
    currents.into_iter().chain(voltages)
}

/// The other end of a tolerance.
fn other(end: Corner) -> Corner {
    match end {
        Corner::High => Corner::Low,
        _ => Corner::High,
    }
}

/// The builds of the greatest drops: in a lead, in a feeder, to the last cell.
fn dropping(several: bool) -> impl Iterator<Item = Build> {
    use Corner::{High as Least, Low as Most};
    let copper = [
        (Most, Least, Least),
        (Least, Most, Least),
        (Most, Most, Most),
        (Least, Most, Most),
    ];
    let copper = copper.into_iter().take(if several { 4 } else { 3 });
    copper.map(|(lead, feeders, rails)| Build {
        set_point: Corner::High,
        lead,
        feeders,
        rails,
        joints: rails,
        cells: Corner::High,
    })
}

/// The builds of the least drops to a cell.
fn sparing(several: bool) -> impl Iterator<Item = Build> {
    use Corner::{High as Least, Low as Most};
    let rails = [Least, Most].into_iter().take(if several { 2 } else { 1 });
    rails.map(|rails| Build {
        set_point: Corner::Low,
        lead: Least,
        feeders: Least,
        rails,
        joints: rails,
        cells: Corner::Low,
    })
}

/// The increments of a segment that are read, from its start: the first, the last, those beside a feeder, and some between.
fn read_cells(segment: &Segment<'_>) -> Vec<u64> {
    let increments = segment.to - segment.from;
    let steps = CELLS as u64 - 1;
    if increments <= steps {
        return (0..increments).collect();
    }
    let last = u128::from(increments - 1);
    let of = |n: u64| (u128::from(n) * last / u128::from(steps)) as u64;
    let mut out: Vec<u64> = (0..=steps).map(of).collect();
    let fed = segment
        .feeders
        .iter()
        .map(|f| f.mark.saturating_sub(segment.from));
    out.extend(fed.flat_map(|mark| mark.checked_sub(1).into_iter().chain([mark])));
    out.retain(|increment| *increment < increments);
    out.sort_unstable();
    out.dedup();
    out
}

/// Figures of the first state of a build, and the volts of the cells that are read, by branch and segment.
struct Seen {
    figures: CircuitFigures,
    cells: Vec<Vec<Vec<f64>>>,
}

/// Volts across the weakest lit cell of each increment that is read.
fn cells_of(point: &OperatingPoint<'_>, branch: usize, segment: usize) -> Vec<f64> {
    let Some(own) = point.segment(branch, segment) else {
        return Vec::new();
    };
    let increments = read_cells(own.segment);
    let mut out = vec![f64::INFINITY; increments.len()];
    for place in 0..own.lit().len() {
        let mut volts = own.cell_volts(place);
        let mut next = 0;
        for (found, increment) in out.iter_mut().zip(&increments) {
            let cell = volts.nth((increment - next) as usize);
            *found = least(*found, cell.unwrap_or(f64::NAN));
            next = increment + 1;
        }
    }
    out
}

impl CheckedCircuit<'_> {
    /// Readings in the first state, with the bands in which any build within the tolerances lies.
    ///
    /// # Errors
    /// [`Unsolved`]: the first build without an operating point, by the corner of its set point.
    pub fn bands(&self, work: &mut Workspace) -> Result<Bands, Unsolved> {
        let nominal = Build::from(Corner::Nominal);
        let segments = self.circuit().branches.iter().flat_map(|b| &b.segments);
        let several = segments.map(|s| s.feeders.len()).any(|feeders| feeders > 1);
        let mut all = Growing::of(&self.seen(nominal, work)?, self, nominal);
        for build in bounding(several) {
            all.take(&self.solve_build(build, work)?, self, build);
        }
        for build in dropping(several) {
            let seen = self.seen(build, work)?;
            all.take_drops(&seen.figures, self, build);
            all.take_cells(&seen, self, build);
        }
        for build in sparing(several) {
            all.take_cells(&self.seen(build, work)?, self, build);
        }
        Ok(all.bands(self))
    }

    /// The first state of a build, with the volts of the cells that are read.
    fn seen(&self, build: Build, work: &mut Workspace) -> Result<Seen, Unsolved> {
        let mut figures = CircuitFigures::before(self.circuit());
        let cells = self.operating_point(build, 0, work, |point| {
            figures.add(point, 0);
            let branches = self.circuit().branches.iter().enumerate();
            let of_branch = |(branch, own): (usize, &Branch<'_>)| {
                let segments = 0..own.segments.len();
                let of_segment = |segment| cells_of(point, branch, segment);
                segments.map(of_segment).collect()
            };
            branches.map(of_branch).collect()
        })?;
        Ok(Seen { figures, cells })
    }

    /// The figures of the first state of a build.
    ///
    /// # Errors
    /// As [`CheckedCircuit::operating_point`].
    pub fn solve_build(
        &self,
        build: Build,
        work: &mut Workspace,
    ) -> Result<CircuitFigures, Unsolved> {
        let mut figures = CircuitFigures::before(self.circuit());
        self.operating_point(build, 0, work, |point| figures.add(point, 0))?;
        Ok(figures)
    }
}

/// Bands while they grow.
struct Growing {
    current: Band,
    /// At the terminals of the output.
    output: Band,
    branches: Vec<GrowingBranch>,
}

struct GrowingBranch {
    /// From the terminals of the output to those of the branch.
    lost: Band,
    lead_drop: f64,
    segments: Vec<GrowingSegment>,
}

struct GrowingSegment {
    /// From the terminals of the output to the cell with the least volts.
    to_cell: Band,
    /// To each of the cells that are read.
    to_cells: Vec<Band>,
    /// By feeder: from the terminals of the branch to the tape, and the drop in its cable.
    feeders: Vec<(Option<Band>, f64)>,
}

/// Volts at the terminals of the output.
fn at_output(figures: &CircuitFigures, of: &CheckedCircuit<'_>, build: Build) -> f64 {
    let circuit = of.circuit();
    circuit.set_point[build.set_point].value
        - circuit.output_resistance.value * figures.current.value
}

impl Growing {
    fn of(seen: &Seen, of: &CheckedCircuit<'_>, build: Build) -> Self {
        let figures = &seen.figures;
        let output = at_output(figures, of, build);
        let branches = figures.branches.iter().zip(&seen.cells);
        let branches = branches.map(|(branch, cells)| {
            let at_branch = branch.volts.value;
            let segments = branch.segments.iter().zip(cells);
            let segments = segments.map(|(segment, cells)| GrowingSegment {
                to_cell: Band::of(output - segment.least_volts.value),
                to_cells: cells.iter().map(|volts| Band::of(output - volts)).collect(),
                feeders: segment
                    .feeders
                    .iter()
                    .map(|feeder| {
                        let lost = feeder.volts.map(|v| Band::of(at_branch - v.value));
                        (lost, feeder.drop.value)
                    })
                    .collect(),
            });
            GrowingBranch {
                lost: Band::of(output - at_branch),
                lead_drop: output - at_branch,
                segments: segments.collect(),
            }
        });
        Self {
            current: Band::of(figures.current.value),
            output: Band::of(output),
            branches: branches.collect(),
        }
    }

    fn take(&mut self, figures: &CircuitFigures, of: &CheckedCircuit<'_>, build: Build) {
        let output = at_output(figures, of, build);
        self.current.take(figures.current.value);
        self.output.take(output);
        for (own, branch) in self.branches.iter_mut().zip(&figures.branches) {
            let at_branch = branch.volts.value;
            own.lost.take(output - at_branch);
            for (own, segment) in own.segments.iter_mut().zip(&branch.segments) {
                for ((lost, _), feeder) in own.feeders.iter_mut().zip(&segment.feeders) {
                    if let (Some(lost), Some(volts)) = (lost, feeder.volts) {
                        lost.take(at_branch - volts.value);
                    }
                }
            }
        }
    }

    fn take_drops(&mut self, figures: &CircuitFigures, of: &CheckedCircuit<'_>, build: Build) {
        let output = at_output(figures, of, build);
        for (own, branch) in self.branches.iter_mut().zip(&figures.branches) {
            own.lead_drop = most(own.lead_drop, output - branch.volts.value);
            for (own, segment) in own.segments.iter_mut().zip(&branch.segments) {
                own.to_cell.take(output - segment.least_volts.value);
                for ((_, drop), feeder) in own.feeders.iter_mut().zip(&segment.feeders) {
                    *drop = most(*drop, feeder.drop.value);
                }
            }
        }
    }

    fn take_cells(&mut self, seen: &Seen, of: &CheckedCircuit<'_>, build: Build) {
        let output = at_output(&seen.figures, of, build);
        for (own, cells) in self.branches.iter_mut().zip(&seen.cells) {
            for (own, cells) in own.segments.iter_mut().zip(cells) {
                for (lost, volts) in own.to_cells.iter_mut().zip(cells) {
                    lost.take(output - volts);
                }
            }
        }
    }

    fn bands(self, of: &CheckedCircuit<'_>) -> Bands {
        let output = self.output;
        let branches = self.branches.into_iter().zip(&of.circuit().branches);
        let branches = branches.map(|(branch, circuit)| {
            let at_branch = output.less(branch.lost);
            let segments = branch.segments.into_iter().zip(&circuit.segments);
            let segments = segments.map(|(segment, circuit)| SegmentBands {
                drop: segment.to_cell.figures(volts),
                cells: read_cells(circuit)
                    .into_iter()
                    .zip(segment.to_cells)
                    .map(|(cell, lost)| CellBand {
                        increment: circuit.from + cell,
                        volts: output.less(lost).figures(volts),
                    })
                    .collect(),
                feeders: segment
                    .feeders
                    .into_iter()
                    .map(|(lost, drop)| FeedBand {
                        volts: lost.map(|lost| at_branch.less(lost).figures(volts)),
                        drop: volts(drop),
                    })
                    .collect(),
            });
            BranchBands {
                volts: at_branch.figures(volts),
                lead_drop: volts(branch.lead_drop),
                segments: segments.collect(),
            }
        });
        Bands {
            current: self.current.figures(amps),
            branches: branches.collect(),
        }
    }
}
