//! Lowest and highest of a figure when every part has a tolerance of its own.
//!
//! **Proved** where the network is one loop: one source, one tape with one lit emitter, both rails attached
//! once at the same cell, every live link in series. Then the voltage of cell `k` falls with every resistance
//! between source and `k`, rises with every resistance beyond it (less is drawn there), falls with every
//! cell's draw and rises with the set point; its current follows, and rises with its own draw. So both ends of the range lie at
//! known corners, one solve each, for parts that vary apart from each other.
//!
//! **Sampled** elsewhere (several emitters, feeds or sources): signs are not known, more copper can dim a cell. Seeded
//! samples, each part low, nominal or high at random; the range found is inside the true one.
//!
//! Nothing in the crate calls this yet: the planner judges three corners.

use super::error::{NetworkErrors, SolveError};
use super::sensitivity::Figure;
use super::solution::Solution;
use super::solve::SolveOptions;
use super::spec::{LawId, LinkId, NetworkSpec, SourceId, TapeId};
use super::tape::{Along, RailSpec};
use super::workspace::Workspace;
use crate::quantity::{ElectricalResistance, Ratio, fraction, ohms};
use thiserror::Error;

/// Tolerances of parts that vary apart from each other. Sources carry their own.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tolerances {
    /// Of every resistance of links, rails and joints, a fraction each way, 0 to 0.9.
    pub copper: Ratio,
    /// Of every cell's current at a voltage, a fraction each way, 0 to 0.9.
    pub cells: Ratio,
}

/// How to sample where nothing is proved.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Sampling {
    /// Samples, 1 to 100,000.
    pub samples: usize,
    /// Seed; the same seed gives the same range.
    pub seed: u64,
}

/// What a range rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Grounds {
    /// No combination within the tolerances goes beyond.
    Proved,
    /// The range of so many samples; the true one may be wider.
    Sampled(usize),
}

/// The range of one figure, SI units.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread {
    /// Lowest.
    pub lowest: f64,
    /// With every part as stated.
    pub nominal: f64,
    /// Highest.
    pub highest: f64,
    /// What the range rests on.
    pub grounds: Grounds,
}

/// Why a figure has no range.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum SpreadError {
    /// A tolerance or count outside its range.
    #[error("{what} is {found}; it must be {accepted}")]
    OutOfRange {
        /// Which figure.
        what: &'static str,
        /// Its value.
        found: f64,
        /// The accepted range.
        accepted: &'static str,
    },
    /// The figure does not exist in this network, or is dark.
    #[error(
        "the figure {0:?} does not exist in this network, or is dark. Use ids that this network gave out"
    )]
    NoFigure(Figure),
    /// The network is faulty.
    #[error("{0}")]
    Network(#[from] NetworkErrors),
    /// A combination has no solution.
    #[error("{0}")]
    Solve(#[from] SolveError),
}

/// The value of a figure in a solution.
#[must_use]
pub fn figure_value(solution: &Solution, figure: Figure) -> Option<f64> {
    match figure {
        Figure::NodeVoltage(node) => solution.node_voltage(node).map(|v| v.value),
        Figure::CellVoltage {
            tape,
            emitter,
            cell,
        } => solution.tape(tape)?.cell_volts(emitter).get(cell).copied(),
        Figure::CellCurrent {
            tape,
            emitter,
            cell,
        } => solution.tape(tape)?.cell_amps(emitter).get(cell).copied(),
        Figure::SourceCurrent(source) => solution.source_current(source).map(|i| i.value),
    }
}

/// The range of a figure (see the module page for what is proved).
///
/// Time: three solves where proved, else one for each sample and one more.
/// # Errors
/// [`SpreadError`].
pub fn spread(
    spec: &NetworkSpec,
    tolerances: Tolerances,
    sampling: Sampling,
    figure: Figure,
    work: &mut Workspace,
) -> Result<Spread, SpreadError> {
    for (what, t) in [
        ("the tolerance of copper", tolerances.copper),
        ("the tolerance of cells", tolerances.cells),
    ] {
        if !(t.value >= 0.0 && t.value <= 0.9) {
            return Err(SpreadError::OutOfRange {
                what,
                found: t.value,
                accepted: "0 to 0.9",
            });
        }
    }
    if !(1..=100_000).contains(&sampling.samples) {
        let found = sampling.samples as f64;
        return Err(SpreadError::OutOfRange {
            what: "the number of samples",
            found,
            accepted: "1 to 100,000",
        });
    }
    let network = spec.clone().check()?;
    let solution = network.solve(&SolveOptions::default(), work)?;
    let nominal = figure_value(&solution, figure).ok_or(SpreadError::NoFigure(figure))?;
    if let Some((feed, cell, own)) = one_loop(spec, &solution, figure) {
        let mut at =
            |low: bool| value_at(corner(spec, tolerances, feed, cell, own, low), figure, work);
        return Ok(Spread {
            lowest: at(true)?,
            nominal,
            highest: at(false)?,
            grounds: Grounds::Proved,
        });
    }
    let (mut lowest, mut highest) = (nominal, nominal);
    let mut random = Random(sampling.seed);
    for _ in 0..sampling.samples {
        let found = value_at(sample(spec, tolerances, &mut random), figure, work)?;
        lowest = f64::min(lowest, found);
        highest = f64::max(highest, found);
    }
    Ok(Spread {
        lowest,
        nominal,
        highest,
        grounds: Grounds::Sampled(sampling.samples),
    })
}

fn value_at(spec: NetworkSpec, figure: Figure, work: &mut Workspace) -> Result<f64, SpreadError> {
    let network = spec.check()?;
    let solution = network.solve(&SolveOptions::default(), work)?;
    figure_value(&solution, figure).ok_or(SpreadError::NoFigure(figure))
}

/// Feed cell, cell of the figure, and whether its own draw counts for it, where the network is one loop.
fn one_loop(
    spec: &NetworkSpec,
    solution: &Solution,
    figure: Figure,
) -> Option<(usize, usize, bool)> {
    let (emitter, cell, own) = match figure {
        Figure::CellVoltage {
            tape: TapeId(0),
            emitter,
            cell,
        } => (emitter, cell, false),
        Figure::CellCurrent {
            tape: TapeId(0),
            emitter,
            cell,
        } => (emitter, cell, true),
        _ => return None,
    };
    let ([_], [tape]) = (&spec.sources[..], &spec.tapes[..]) else {
        return None;
    };
    let lit: Vec<_> = tape.emitters.iter().filter(|e| e.lit).collect();
    let (&[only], true) = (&lit[..], spec.loads.is_empty()) else {
        return None;
    };
    let (&[common], &[ret]) = (&tape.common.attachments[..], &only.rail.attachments[..]) else {
        return None;
    };
    let monotone = spec
        .laws
        .iter()
        .all(|l| l.trend() == crate::load::Trend::Monotone);
    if common.cell != ret.cell
        || !monotone
        || !tape.emitters.get(emitter)?.lit
        || !only.exceptions.is_empty()
    {
        return None;
    }
    // Every live link in series with the source.
    let all = solution.source_current(SourceId(0))?.value;
    let in_series = |i: f64| (i.abs() - all).abs() <= 1e-9 * all || i == 0.0;
    let series = (0..spec.links.len()).all(|l| {
        solution
            .link_current(LinkId(l))
            .is_some_and(|i| in_series(i.value))
    });
    (series && all > 0.0).then_some((common.cell, cell, own))
}

/// The corner at which cell `cell` is lowest or highest.
fn corner(
    spec: &NetworkSpec,
    t: Tolerances,
    feed: usize,
    cell: usize,
    own: bool,
    low: bool,
) -> NetworkSpec {
    let mut spec = spec.clone();
    let sign = if low { 1.0 } else { -1.0 };
    let (near, beyond) = (1.0 + sign * t.copper.value, 1.0 - sign * t.copper.value);
    for source in &mut spec.sources {
        source.set_point *= 1.0 - sign * source.tolerance.value;
        source.tolerance = fraction(0.0);
        source.output_resistance *= near;
    }
    spec.links.iter_mut().for_each(|l| l.resistance *= near);
    let between = feed.min(cell)..feed.max(cell);
    let draw = 1.0 + sign * t.cells.value;
    let laws = spec.laws.len();
    for k in 0..laws {
        let (all, other) = (spec.laws[k].times(draw), spec.laws[k].times(2.0 - draw));
        if let (Ok(all), Ok(other)) = (all, other) {
            spec.laws[k] = all;
            spec.laws.push(other);
        }
    }
    for tape in &mut spec.tapes {
        let cells = tape.cells;
        let scale = |rail: &mut RailSpec| {
            each_link(rail, cells, |k, r| {
                r * if between.contains(&k) { near } else { beyond }
            });
            rail.attachments
                .iter_mut()
                .for_each(|a| a.resistance *= near);
        };
        scale(&mut tape.common);
        for emitter in tape.emitters.iter_mut().filter(|e| e.lit) {
            scale(&mut emitter.rail);
            if own {
                emitter.exceptions.push((cell, LawId(emitter.law.0 + laws)));
            }
        }
    }
    spec
}

/// A random combination: each part low, nominal or high.
fn sample(spec: &NetworkSpec, t: Tolerances, random: &mut Random) -> NetworkSpec {
    let mut spec = spec.clone();
    for source in &mut spec.sources {
        source.set_point *= random.factor(source.tolerance.value);
        source.tolerance = fraction(0.0);
    }
    spec.links
        .iter_mut()
        .for_each(|l| l.resistance *= random.factor(t.copper.value));
    for law in &mut spec.laws {
        if let Ok(varied) = law.times(random.factor(t.cells.value)) {
            *law = varied;
        }
    }
    for tape in &mut spec.tapes {
        let cells = tape.cells;
        for rail in
            std::iter::once(&mut tape.common).chain(tape.emitters.iter_mut().map(|e| &mut e.rail))
        {
            // A rail is rolled in one go: its links vary together, its joints apart.
            let factor = random.factor(t.copper.value);
            each_link(rail, cells, |_, r| r * factor);
            rail.attachments
                .iter_mut()
                .for_each(|a| a.resistance *= random.factor(t.copper.value));
        }
    }
    spec
}

fn each_link(
    rail: &mut RailSpec,
    cells: usize,
    of: impl Fn(usize, ElectricalResistance) -> ElectricalResistance,
) {
    let links = (0..cells.saturating_sub(1))
        .map(|k| of(k, rail.links.get(k).unwrap_or(ohms(f64::INFINITY))));
    rail.links = Along::Each(links.collect());
}

/// SplitMix64: the same numbers on every machine. Steele, Lea, Flood: Fast splittable pseudorandom number generators, OOPSLA 2014 (from memory).
struct Random(u64);

impl Random {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    fn factor(&mut self, tolerance: f64) -> f64 {
        match self.next() % 3 {
            0 => 1.0 - tolerance,
            1 => 1.0,
            _ => 1.0 + tolerance,
        }
    }
}
