//! The levels of a loop ladder: coarse to fine, each a start for the next.

use super::check::JOINED_OHMS;
use super::loop_ladder::{LoopError, LoopLadder, LoopLinks};
use super::plan::siemens_of;
use super::sweep::{Draw, Ladder, Links, Listed, Same, Tap, pass};
use crate::load::Form;

/// Cells of a fine ladder to one node of the coarser.
const COARSER: usize = super::coarse::COARSER;
/// Below this many nodes nothing coarser is made.
const COARSEST: usize = 24;
/// Full Newton passes before damped ones are tried.
const FULL_PASSES: usize = 30;
/// Most passes of a level.
const MOST_PASSES: usize = 300;

/// Work arrays of loop ladders; keep one for a thread.
#[derive(Debug, Clone, Default)]
pub struct LoopWork {
    pub(super) drop: Vec<f64>,
    near: Vec<f64>,
    add: Vec<f64>,
    spare: Vec<f64>,
    links: Vec<f64>,
    taps: Vec<Tap>,
    levels: Vec<Level>,
}

/// A level of the ladder in the work arrays.
#[derive(Debug, Clone, Copy)]
struct Level {
    nodes: usize,
    first: usize,
    first_link: usize,
    taps: (usize, usize),
    coarse: bool,
}

/// What is known of a law beside that it never falls.
#[derive(Debug, Clone, Copy)]
pub(super) enum Shape {
    /// Convex, and `I''/I'` is at most `bend`, 1/V.
    Smooth { bend: f64 },
    /// Convex.
    Convex,
    /// Nothing.
    Any,
}

impl LoopWork {
    /// Empty arrays.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Lays out the levels, their links and their taps.
    pub(super) fn fit(&mut self, ladder: &LoopLadder) {
        self.levels.clear();
        self.taps.clear();
        self.links.clear();
        for feed in ladder.feeds {
            self.taps.push(Tap {
                cell: feed.cell,
                siemens: siemens_of(feed.resistance.value),
            });
        }
        self.taps
            .sort_unstable_by(|a, b| a.cell.cmp(&b.cell).then(a.siemens.total_cmp(&b.siemens)));
        merge_taps(&mut self.taps, 0);
        if let LoopLinks::Each(each) = ladder.links {
            self.links.extend(each.iter().map(|r| r.max(JOINED_OHMS)));
        }
        let mut level = Level {
            nodes: ladder.cells,
            first: 0,
            first_link: 0,
            taps: (0, self.taps.len()),
            coarse: false,
        };
        self.levels.push(level);
        while level.nodes > COARSEST {
            level = self.coarsen(ladder, level);
            self.levels.push(level);
        }
        let total = level.first + level.nodes;
        for array in [&mut self.drop, &mut self.near, &mut self.add] {
            if array.len() < total {
                array.resize(total, 0.0);
            }
        }
        let spare = 2 * ladder.cells;
        if self.spare.len() < spare && !matches!(&*ladder.law.0, Form::Series(_)) {
            self.spare.resize(spare, 0.0);
        }
    }

    /// The next coarser level: links from centre to centre, taps at the centres behind the way to them.
    fn coarsen(&mut self, ladder: &LoopLadder, fine: Level) -> Level {
        let nodes = fine.nodes.div_ceil(COARSER);
        let (first_link, first_tap) = (self.links.len(), self.taps.len());
        for group in 0..nodes - 1 {
            let way = self.way(
                ladder,
                fine,
                centre(group, fine.nodes),
                centre(group + 1, fine.nodes),
            );
            self.links.push(way);
        }
        for t in fine.taps.0..fine.taps.1 {
            let tap = self.taps[t];
            let group = tap.cell / COARSER;
            let middle = centre(group, fine.nodes);
            let way = self.way(ladder, fine, middle.min(tap.cell), middle.max(tap.cell));
            self.taps.push(Tap {
                cell: group,
                siemens: 1.0 / (1.0 / tap.siemens + way),
            });
        }
        merge_taps(&mut self.taps, first_tap);
        Level {
            nodes,
            first: fine.first + fine.nodes,
            first_link,
            taps: (first_tap, self.taps.len()),
            coarse: true,
        }
    }

    /// Resistance from node `a` to node `b` of a level.
    fn way(&self, ladder: &LoopLadder, level: Level, a: usize, b: usize) -> f64 {
        match ladder.links {
            LoopLinks::Uniform(r) if !level.coarse => (b - a) as f64 * r.value.max(JOINED_OHMS),
            _ => self.links[level.first_link + a..level.first_link + b]
                .iter()
                .sum(),
        }
    }

    /// Coarse to fine. Passes of the finest level, passes of all others, error bound.
    pub(super) fn settle<D: Draw>(
        &mut self,
        ladder: &LoopLadder,
        draw: &D,
        shape: Shape,
    ) -> Result<(usize, usize, f64), LoopError> {
        let mut coarse_passes = 0;
        for index in (0..self.levels.len()).rev() {
            let level = self.levels[index];
            if let Some(coarse) = self.levels.get(index + 1) {
                let (fine, rest) = self.drop[level.first..].split_at_mut(level.nodes);
                spread(&rest[..coarse.nodes], fine);
            } else {
                self.drop[level.first..level.first + level.nodes].fill(0.0);
            }
            let tolerance = if index == 0 { 5e-10 } else { 1e-4 };
            let (passes, error) = match (index, ladder.links) {
                (0, LoopLinks::Uniform(r)) => {
                    let ohms = r.value.max(JOINED_OHMS);
                    self.level(ladder, level, draw, Same(ohms), shape, tolerance)?
                }
                _ => {
                    let links = std::mem::take(&mut self.links);
                    let found = self.level(
                        ladder,
                        level,
                        draw,
                        Listed(&links[level.first_link..]),
                        shape,
                        tolerance,
                    );
                    self.links = links;
                    found?
                }
            };
            if index == 0 {
                return Ok((passes, coarse_passes, error));
            }
            coarse_passes += passes;
        }
        Ok((0, coarse_passes, 0.0))
    }

    fn level<D: Draw, L: Links>(
        &mut self,
        ladder: &LoopLadder,
        level: Level,
        draw: &D,
        links: L,
        shape: Shape,
        tolerance: f64,
    ) -> Result<(usize, f64), LoopError> {
        let range = level.first..level.first + level.nodes;
        let taps = &self.taps[level.taps.0..level.taps.1];
        let many = if level.coarse {
            ladder.cells as f64 / level.nodes as f64
        } else {
            1.0
        };
        let ladder = Ladder {
            volts: ladder.volts,
            draw,
            links,
            many,
            taps,
        };
        let (drop, near, add) = (
            &mut self.drop[range.clone()],
            &mut self.near[range.clone()],
            &mut self.add[range],
        );
        let mut most = f64::INFINITY;
        let limit = if level.coarse {
            FULL_PASSES
        } else {
            MOST_PASSES
        };
        for passes in 1..=limit {
            most = match shape {
                Shape::Any if passes > FULL_PASSES => {
                    super::damped::pass(&ladder, drop, near, add, &mut self.spare)
                }
                _ => pass(&ladder, drop, near, add),
            };
            // The error left by a full Newton step of size δ is at most δ²/2 times the greatest I''/I'.
            let error = match shape {
                Shape::Smooth { bend } if most <= 1e-3 => {
                    0.5 * bend * most * most + 4.0 * f64::EPSILON * ladder.volts
                }
                _ => most,
            };
            if error <= tolerance {
                return Ok((passes, error));
            }
        }
        if level.coarse {
            // Only a start for the finer level.
            return Ok((limit, most));
        }
        Err(LoopError::NoConvergence {
            passes: MOST_PASSES,
            step_volts: most,
        })
    }
}

/// The cell at the centre of a group.
pub(super) fn centre(group: usize, nodes: usize) -> usize {
    let from = group * COARSER;
    let to = (from + COARSER).min(nodes);
    (from + to - 1) / 2
}

/// Taps on one cell become one.
fn merge_taps(taps: &mut Vec<Tap>, from: usize) {
    let mut kept = from;
    for k in from..taps.len() {
        if kept > from && taps[kept - 1].cell == taps[k].cell {
            taps[kept - 1].siemens += taps[k].siemens;
        } else {
            taps[kept] = taps[k];
            kept += 1;
        }
    }
    taps.truncate(kept);
}

/// Interpolates the drops of groups onto their cells: a parabola through three centres.
pub(super) fn spread(coarse: &[f64], fine: &mut [f64]) {
    let nodes = fine.len();
    let groups = coarse.len();
    for (group, cells) in fine.chunks_mut(COARSER).enumerate() {
        let middle = group.clamp(1, groups.saturating_sub(2).max(1));
        let (Some(&a), Some(&b), Some(&c)) = (
            coarse.get(middle - 1),
            coarse.get(middle),
            coarse.get(middle + 1),
        ) else {
            cells.fill(coarse[group.min(groups - 1)]);
            continue;
        };
        let [xa, xb, xc] = [middle - 1, middle, middle + 1].map(|g| centre(g, nodes) as f64);
        let (ab, bc) = ((b - a) / (xb - xa), (c - b) / (xc - xb));
        let bend = (bc - ab) / (xc - xa);
        for (k, p) in cells.iter_mut().enumerate() {
            let x = (group * COARSER + k) as f64;
            *p = a + (x - xa) * (ab + bend * (x - xb));
        }
    }
}
