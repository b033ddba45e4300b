//! Chopped emitters: the states of one period, and exact averages over them.
//!
//! ```text
//! red    ▇▇▇▇▇▇▇▇▁▁▁▁▁▁▁▁   aligned edges: nested states (red+green, red, none)
//! green  ▇▇▇▇▁▁▁▁▁▁▁▁▁▁▁▁
//! blue   ▁▁▁▁▁▁▁▁▁▁▇▇▇▇▁▁   staggered: a state of its own
//! ```
//!
//! Between two edges nothing changes, so a period is a list of states with shares that sum to 1, and a mean of
//! current, power or light is the sum of share times the value in that state: exact, no sampling. It holds while the shortest
//! state outlasts about five `L/R` of the wiring ([`shortest_state`]); a shorter one never reaches its steady current, and the
//! sum overstates it.
//!
//! Nothing in the crate calls this yet: the planner judges full light.

use super::error::SolveError;
use super::plan::Network;
use super::solution::Solution;
use super::solve::SolveOptions;
use super::spec::{LinkId, NetworkSpec, TapeId};
use super::workspace::Workspace;
use crate::order::Order as _;
use crate::quantity::{Frequency, Ratio, Time, fraction, ohms, seconds};
use thiserror::Error;

/// Most emitters dimmed apart.
pub const MOST_CHOPPED: usize = 64;

/// How an output is chopped: on from `start` for `duty` of the period (past its end it wraps).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Chop {
    /// Share of the period it is on, 0 to 1.
    pub duty: Ratio,
    /// Where in the period it comes on, 0 to 1. All 0: aligned edges.
    pub start: Ratio,
}

/// What is chopped together: emitters of tapes, and the switches that feed them.
#[derive(Debug, Clone, PartialEq)]
pub struct ChoppedGroup {
    /// How.
    pub chop: Chop,
    /// Emitters, as tape and place in its list.
    pub emitters: Vec<(TapeId, usize)>,
    /// Links that are open while it is off (the decoder's switch).
    pub switches: Vec<LinkId>,
}

/// A stretch of the period in which nothing changes.
#[derive(Debug, Clone, PartialEq)]
pub struct DimmingState {
    /// Share of the period.
    pub share: Ratio,
    /// Which groups are on.
    pub on: Vec<bool>,
}

/// Why a period has no average.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum DimmingError {
    /// A duty or start outside 0 to 1.
    #[error(
        "group {group}: {what} is {found}; it must lie between 0 and 1. Give a share of the period"
    )]
    OutOfRange {
        /// Group, counted from 0.
        group: usize,
        /// Duty or start.
        what: &'static str,
        /// Its value.
        found: f64,
    },
    /// Too many groups.
    #[error(
        "{found} groups are dimmed apart; at most {MOST_CHOPPED} are accepted. Take together what shares a level and an edge"
    )]
    TooMany {
        /// Groups given.
        found: usize,
    },
    /// A group names an emitter or link that the network lacks.
    #[error("group {group}: {what} does not exist. Use an id that this network gave out")]
    Unknown {
        /// Group, counted from 0.
        group: usize,
        /// What is missing.
        what: String,
    },
    /// A state's network is faulty.
    #[error("state {state}: {fault}")]
    Network {
        /// State, counted from 0.
        state: usize,
        /// The faults.
        fault: String,
    },
    /// A state has no solution.
    #[error("state {state}: {error}")]
    Solve {
        /// State, counted from 0.
        state: usize,
        /// Why.
        error: SolveError,
    },
}

/// The states of one period, in order of time, equal neighbours and repeats taken together; at most twice as many as groups, plus one.
///
/// ```
/// use evenrun::network::{Chop, dimming_states};
/// use evenrun::quantity::percent;
/// let aligned = |p| Chop { duty: percent(p), start: percent(0.0) };
/// let states = dimming_states(&[aligned(50.0), aligned(25.0)])?;
/// let shares: Vec<f64> = states.iter().map(|s| s.share.value).collect();
/// assert_eq!(shares, [0.25, 0.25, 0.5]);
/// assert_eq!(states[1].on, [true, false]);
/// # Ok::<(), evenrun::network::DimmingError>(())
/// ```
/// # Errors
/// [`DimmingError::OutOfRange`], [`DimmingError::TooMany`].
pub fn dimming_states(chops: &[Chop]) -> Result<Vec<DimmingState>, DimmingError> {
    if chops.len() > MOST_CHOPPED {
        return Err(DimmingError::TooMany { found: chops.len() });
    }
    let mut edges = vec![0.0, 1.0];
    for (group, chop) in chops.iter().enumerate() {
        for (what, found) in [("duty", chop.duty.value), ("start", chop.start.value)] {
            if !(0.0..=1.0).contains(&found) {
                return Err(DimmingError::OutOfRange { group, what, found });
            }
        }
        let (start, end) = (chop.start.value, chop.start.value + chop.duty.value);
        edges.push(start);
        edges.push(if end > 1.0 { end - 1.0 } else { end });
    }
    edges.order_by(f64::total_cmp);
    let mut states: Vec<DimmingState> = Vec::new();
    for pair in edges.windows(2) {
        let share = pair[1] - pair[0];
        if !(share > 0.0) {
            continue;
        }
        let middle = pair[0] + 0.5 * share;
        let on: Vec<bool> = chops.iter().map(|c| is_on(c, middle)).collect();
        match states.iter_mut().find(|s| s.on == on) {
            Some(state) => state.share += fraction(share),
            None => states.push(DimmingState {
                share: fraction(share),
                on,
            }),
        }
    }
    Ok(states)
}

fn is_on(chop: &Chop, at: f64) -> bool {
    let since = if at >= chop.start.value {
        at - chop.start.value
    } else {
        at - chop.start.value + 1.0
    };
    since < chop.duty.value
}

/// Length of the shortest state at a frequency; none without states. Compare with five times `L/R`.
#[must_use]
pub fn shortest_state(states: &[DimmingState], frequency: Frequency) -> Option<Time> {
    let least = states
        .iter()
        .map(|s| s.share.value)
        .min_by(f64::total_cmp)?;
    Some(seconds(least / frequency.value))
}

/// Solves every state and hands each to `visit` with its share; a mean is the sum of share times value.
///
/// An emitter whose group is off is unlit, and the group's switches are open; emitters in no group keep what
/// the network says.
/// # Errors
/// [`DimmingError`].
pub fn average(
    spec: &NetworkSpec,
    groups: &[ChoppedGroup],
    options: &SolveOptions,
    work: &mut Workspace,
    mut visit: impl FnMut(Ratio, &DimmingState, &Solution),
) -> Result<(), DimmingError> {
    let chops: Vec<Chop> = groups.iter().map(|g| g.chop).collect();
    for (number, state) in dimming_states(&chops)?.iter().enumerate() {
        let network = network_of_state(spec, groups, state, number)?;
        let solution = network
            .solve(options, work)
            .map_err(|error| DimmingError::Solve {
                state: number,
                error,
            })?;
        visit(state.share, state, &solution);
    }
    Ok(())
}

fn network_of_state(
    spec: &NetworkSpec,
    groups: &[ChoppedGroup],
    state: &DimmingState,
    number: usize,
) -> Result<Network, DimmingError> {
    let mut spec = spec.clone();
    for (group, (which, &on)) in groups.iter().zip(&state.on).enumerate() {
        for &(tape, emitter) in &which.emitters {
            let found = spec
                .tapes
                .get_mut(tape.0)
                .and_then(|t| t.emitters.get_mut(emitter));
            let unknown = || DimmingError::Unknown {
                group,
                what: format!("tape {}, emitter {emitter}", tape.0),
            };
            found.ok_or_else(unknown)?.lit = on;
        }
        for &switch in &which.switches {
            let link = spec.links.get_mut(switch.0);
            let link = link.ok_or_else(|| DimmingError::Unknown {
                group,
                what: format!("link {}", switch.0),
            })?;
            if !on {
                link.resistance = ohms(f64::INFINITY);
            }
        }
    }
    spec.check().map_err(|faults| DimmingError::Network {
        state: number,
        fault: faults.to_string(),
    })
}

/// Means over a period.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct DimmingMeans {
    /// Mean current of each cell, A: by tape, emitter, cell. Divide by the cell's current at full level for its relative light,
    /// where light is proportional to current.
    pub cell_amps: Vec<Vec<Vec<f64>>>,
    /// Mean current of each source, A.
    pub source_amps: Vec<f64>,
    /// Mean power of all sources, W.
    pub source_watts: f64,
    /// Mean heat of all copper, W.
    pub copper_watts: f64,
    /// Mean power of all loads, W.
    pub load_watts: f64,
}

/// Time-weighted means of currents and powers.
/// # Errors
/// [`DimmingError`].
pub fn dimming_means(
    spec: &NetworkSpec,
    groups: &[ChoppedGroup],
    options: &SolveOptions,
    work: &mut Workspace,
) -> Result<DimmingMeans, DimmingError> {
    let mut means = DimmingMeans {
        cell_amps: spec
            .tapes
            .iter()
            .map(|t| vec![vec![0.0; t.cells]; t.emitters.len()])
            .collect(),
        source_amps: vec![0.0; spec.sources.len()],
        ..DimmingMeans::default()
    };
    average(spec, groups, options, work, |share, _, solution| {
        let share = share.value;
        for (number, tape) in means.cell_amps.iter_mut().enumerate() {
            for (emitter, cells) in tape.iter_mut().enumerate() {
                let amps = solution
                    .tape(TapeId(number))
                    .map_or(&[][..], |t| t.cell_amps(emitter));
                cells
                    .iter_mut()
                    .zip(amps)
                    .for_each(|(mean, i)| *mean += share * i);
            }
        }
        for (number, mean) in means.source_amps.iter_mut().enumerate() {
            *mean += share
                * solution
                    .source_current(super::spec::SourceId(number))
                    .map_or(0.0, |i| i.value);
        }
        means.source_watts += share * solution.total_source_power().value;
        means.copper_watts += share * solution.total_copper_loss().value;
        means.load_watts += share * solution.total_load_power().value;
    })?;
    Ok(means)
}
