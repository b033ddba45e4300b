//! What a branch of plain tape draws at the voltage of its feed, enclosed: one emitter.
//!
//! ```text
//!  far cell at u ──march──► volts and amps at the feed, for every length on the way; both rise with u
//! ```
//! A ladder of far voltages is marched once. A feed voltage lies between two rungs, so what the branch draws lies
//! between what it draws on them.

use crate::choose::feeding::problem::checked::CheckedRun;

/// Far voltages of the ladder.
const RUNGS: usize = 32;

/// Longest branch of a ladder; longer ones are not enclosed.
const LONGEST: usize = 1024;

/// Most steps to a far voltage.
const MOST_STEPS: usize = 60;

/// Marches from a ladder of far voltages at one corner.
#[derive(Debug)]
pub(crate) struct Draws {
    corner: usize,
    /// Far voltages, least and most.
    ends: [f64; 2],
    /// By length from one increment on, and rung: volts and amps at the feed.
    volts: Vec<f64>,
    amps: Vec<f64>,
    /// By rung: volts of the next cell.
    next: [f64; RUNGS],
}

impl Draws {
    /// Branches on sources of at most `top` volt, whose cells have at least `least` volt.
    pub fn new(corner: usize, least: f64, top: f64) -> Self {
        let mut all = Self {
            corner,
            ends: [least, top],
            volts: Vec::new(),
            amps: Vec::new(),
            next: [0.0; RUNGS],
        };
        all.next = std::array::from_fn(|rung| all.far(rung));
        all
    }

    /// Marches on to branches of some length, as far as the ladder goes.
    pub fn reach(&mut self, m: &CheckedRun, length: usize) {
        let top = self.ends[1];
        let copper = &m.corners[self.corner];
        let half = 0.5 * (copper.common + copper.rails[0]);
        let (mut cell, mut slopes) = ([0.0; RUNGS], [0.0; RUNGS]);
        for done in self.amps.len() / RUNGS..length.min(LONGEST) {
            copper.laws[0].0.fill(&self.next, &mut cell, &mut slopes);
            let before = done.checked_sub(1).map(|last| last * RUNGS);
            for (rung, (next, cell)) in self.next.iter_mut().zip(cell).enumerate() {
                let amps = cell + before.map_or(0.0, |row| self.amps[row + rung]);
                let feed = *next + half * amps;
                // No source gives so much: longer ones need more.
                let beyond = !(feed <= 4.0 * top);
                self.volts.push(if beyond { f64::INFINITY } else { feed });
                self.amps.push(if beyond { f64::INFINITY } else { amps });
                *next = (feed + half * amps).min(8.0 * top);
            }
        }
    }

    fn far(&self, rung: usize) -> f64 {
        let [least, top] = self.ends;
        least + (top - least) * rung as f64 / (RUNGS - 1) as f64
    }

    /// The entries on either side of a value in the row of a length.
    fn about(row: &[f64], length: usize, value: f64) -> Option<[usize; 2]> {
        let start = length.checked_sub(1)? * RUNGS;
        let above = row
            .get(start..start + RUNGS)?
            .partition_point(|v| *v <= value);
        (above > 0 && above < RUNGS).then(|| [start + above - 1, start + above])
    }

    /// What `length` increments draw at least and at most when their feed has `volts`; none beyond the ladder.
    pub fn enclosed(&self, length: usize, volts: f64) -> Option<[f64; 2]> {
        if length == 0 {
            return Some([0.0; 2]);
        }
        Some(Self::about(&self.volts, length, volts)?.map(|at| self.amps[at]))
    }

    /// Whether what `length` increments draw when their feed has `volts` is little enough; none beyond the ladder.
    ///
    /// The far voltage is found by the secant method within the two rungs, as near as it takes.
    pub fn decided(
        &self,
        m: &CheckedRun,
        length: usize,
        volts: f64,
        holds: impl Fn(f64) -> bool,
    ) -> Option<bool> {
        if length == 0 {
            return Some(holds(0.0));
        }
        let about = Self::about(&self.volts, length, volts)?;
        let [mut low, mut high] = about.map(|at| self.far(at % RUNGS));
        let [mut at_low, mut at_high] = about.map(|at| self.volts[at] - volts);
        let [mut least, mut most] = about.map(|at| self.amps[at]);
        if !at_high.is_finite() {
            return None;
        }
        for _ in 0..MOST_STEPS {
            if holds(most) {
                return Some(true);
            }
            if !holds(least) {
                return Some(false);
            }
            if at_high == at_low {
                break;
            }
            let secant = low - at_low * (high - low) / (at_high - at_low);
            let far = if secant > low && secant < high {
                secant
            } else {
                f64::midpoint(low, high)
            };
            let (at_feed, amps) = march(m, self.corner, length, far);
            let off = at_feed - volts;
            if off.abs() <= 1e-12 * volts || high - low <= 1e-14 * volts {
                return Some(holds(amps));
            }
            // Where one end stays, half its weight makes the next step come nearer.
            if off < 0.0 {
                (low, at_low, at_high, least) = (far, off, 0.5 * at_high, amps);
            } else {
                (high, at_high, at_low, most) = (far, off, 0.5 * at_low, amps);
            }
        }
        None
    }

    /// Two feed voltages, volt, at which `length` increments draw at most, and more than, `amps`; none beyond the ladder.
    pub fn volts_about(&self, length: usize, amps: f64) -> Option<[f64; 2]> {
        Some(Self::about(&self.amps, length, amps)?.map(|at| self.volts[at]))
    }
}

/// Volts and amps at the feed of a plain branch whose far cell has `far` volt.
fn march(m: &CheckedRun, corner: usize, length: usize, far: f64) -> (f64, f64) {
    let copper = &m.corners[corner];
    let half = 0.5 * (copper.common + copper.rails[0]);
    let (mut volts, mut amps) = (far, 0.0);
    for _ in 0..length {
        amps += copper.amps(0, volts);
        volts += 2.0 * half * amps;
    }
    (volts - half * amps, amps)
}
