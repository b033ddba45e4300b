//! Branches at their limit: what a branch of every length needs at its feed, in one march each.
//!
//! A branch hangs on one feed. If every lit cell keeps its least voltage, then the cells at the far end have at
//! least that, and, marching towards the feed, each cell at least what the drop of the least
//! currents adds: so the feed must give at least `volts` while carrying at least `own` (one emitter) and
//! `sum` (all emitters of the state). With one emitter lit this is not a bound but the exact
//! limit: the march *is* the solution in which the far cell has just its least voltage, and with
//! one source voltage a higher voltage never lowers a cell.

use super::longest::longest_about;
use crate::choose::feeding::problem::checked::{CheckedRun, LOW, SourceNumbers};

/// Added to what a source gives, volt, so that rounding never loses a candidate; the full
/// evaluation decides.
pub(crate) const SLACK: f64 = 1e-9;

/// Which way a branch leaves its feed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Side {
    /// Towards the end of the run.
    Right,
    /// Towards the start.
    Left,
}

/// What a branch needs at the mark of its feed, for one emitter of one state.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct BranchNeed {
    pub volts: f64,
    pub own: f64,
    pub sum: f64,
}

/// Needs of branches by far end and length.
#[derive(Debug, Clone)]
pub(crate) struct BranchNeeds {
    /// Emitter of each pair of state and lit emitter.
    pub emitter: Vec<usize>,
    right: Vec<Vec<BranchNeed>>,
    left: Vec<Vec<BranchNeed>>,
    uniform: bool,
}

impl BranchNeeds {
    pub fn new(m: &CheckedRun) -> Self {
        let emitter: Vec<usize> = m.states.iter().flatten().copied().collect();
        let top = m.sources.iter().map(|s| s.volts[LOW]).fold(0.0, f64::max) + SLACK;
        let ends = if m.uniform { m.n..m.n + 1 } else { 0..m.n + 1 };
        let right = ends
            .clone()
            .map(|end| row(m, Side::Right, end, top))
            .collect();
        let left = if m.uniform {
            Vec::new()
        } else {
            (0..=m.n).map(|end| row(m, Side::Left, end, top)).collect()
        };
        Self {
            emitter,
            right,
            left,
            uniform: m.uniform,
        }
    }

    /// Needs of the branch of `length` increments at the feed at `mark`; none where no source reaches.
    #[inline]
    pub fn needs(&self, side: Side, mark: usize, length: usize) -> Option<&[BranchNeed]> {
        let row = match side {
            _ if self.uniform => self.right.first(),
            Side::Right => self.right.get(mark + length),
            Side::Left => self.left.get(mark.checked_sub(length)?),
        }?;
        let pairs = self.emitter.len();
        row.get(length * pairs..(length + 1) * pairs)
    }

    /// Longest branch that hangs on a feeder of `core` ohm at `mark`, at most `most` and maybe about `guess`.
    #[allow(clippy::too_many_arguments)]
    pub fn reach(
        &self,
        side: Side,
        mark: usize,
        core: f64,
        source: &SourceNumbers,
        most: usize,
        guess: usize,
    ) -> usize {
        let holds = |length: usize| {
            self.needs(side, mark, length).is_some_and(|needs| {
                needs
                    .iter()
                    .all(|need| volts_needed(need, core, source) <= source.volts[LOW] + SLACK)
            })
        };
        longest_about(guess, most, holds)
    }
}

/// Source volts that a need takes behind a feeder core of `core` ohm.
#[inline]
pub(crate) fn volts_needed(need: &BranchNeed, core: f64, source: &SourceNumbers) -> f64 {
    need.volts
        + core * (need.own + need.sum)
        + source.shared() * need.sum
        + source.switch * need.own
}

/// Marches one row until no source reaches.
fn row(m: &CheckedRun, side: Side, end: usize, top: f64) -> Vec<BranchNeed> {
    let pairs: usize = m.states.iter().map(Vec::len).sum();
    let room = match side {
        Side::Right => end,
        Side::Left => m.n - end,
    };
    let mut needs = vec![BranchNeed::default(); pairs];
    let mut cells = needs.clone();
    let corner = &m.corners[LOW];
    // Between two feeds the maker counts half the span; one of them may carry more of it.
    for length in 1..=room.min(m.branch.saturating_mul(2)) {
        // Mark between this cell and the one before it on the way from the far end.
        let joint = match side {
            Side::Right => end - length + 1,
            Side::Left => end + length - 1,
        };
        let (common, returns) = if length == 1 {
            (0.0, 0.0)
        } else {
            (m.joint_common[joint], m.joint_returns[joint])
        };
        let before = (length - 1) * pairs;
        let mut p = 0;
        for state in &m.states {
            let mut sum = 0.0;
            for (q, &e) in state.iter().enumerate() {
                let last = needs[before + p + q];
                let volts = if length == 1 {
                    m.least_volts[e]
                } else {
                    last.volts
                        + (common + 0.5 * corner.common) * last.sum
                        + (returns + 0.5 * corner.rails[e]) * last.own
                };
                let amps = if length == 1 {
                    m.least_amps[e]
                } else {
                    corner.amps(e, volts)
                };
                cells[p + q] = BranchNeed {
                    volts,
                    own: last.own + amps,
                    sum: 0.0,
                };
                sum += cells[p + q].own;
            }
            for (q, &e) in state.iter().enumerate() {
                let cell = &mut cells[p + q];
                cell.sum = sum;
                cell.volts += 0.5 * (corner.common * sum + corner.rails[e] * cell.own);
            }
            p += state.len();
        }
        if cells.iter().any(|c| !(c.volts <= top)) {
            break;
        }
        needs.extend_from_slice(&cells);
    }
    needs
}
