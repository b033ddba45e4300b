//! Marks of a run on its drawn line, and the line on paper.

use crate::design::{Lit, Run, Segment, Strip};
use crate::draw::scale::Scale;
use crate::exact::CutPitch;

/// Where marks of a run lie on its drawn line, m.
pub(super) struct Place {
    lit: Vec<Lit>,
    pub pitch: CutPitch,
    /// Length of the line as drawn, m.
    pub drawn: f64,
}

impl Place {
    pub fn of(run: &Run, strip: &Strip) -> Self {
        let mut lit = run.line.lit.clone();
        if lit.is_empty() {
            // A design that was written before the line was kept: tape from end to end.
            lit.push(Lit {
                first: 0,
                last: run.increments,
                from: run.dark_start,
                to: run.dark_start.saturating_add(run.lit),
            });
        }
        Self {
            lit,
            pitch: strip.pitch,
            drawn: run.drawn.metres().max(1e-3),
        }
    }

    /// Tape, as stretches of the line, m; round a bend it goes on.
    pub fn lit(&self) -> Vec<(f64, f64)> {
        let mut out: Vec<(f64, f64)> = Vec::new();
        for own in &self.lit {
            let (from, to) = (own.from.metres(), own.to.metres());
            match out.last_mut() {
                Some(last) if from - last.1 < 1e-6 => last.1 = to,
                _ => out.push((from, to)),
            }
        }
        out
    }

    /// A mark as the end of what lies before it.
    pub fn end(&self, mark: u64) -> f64 {
        let own = self.lit.iter().find(|own| mark <= own.last);
        own.or(self.lit.last())
            .map_or(0.0, |own| self.on(own, mark))
    }

    /// A mark as the start of what lies behind it.
    pub fn start(&self, mark: u64) -> f64 {
        let own = self.lit.iter().rev().find(|own| mark >= own.first);
        own.or(self.lit.first())
            .map_or(0.0, |own| self.on(own, mark))
    }

    /// The middle of an increment.
    pub fn middle(&self, mark: u64) -> f64 {
        f64::midpoint(self.start(mark), self.end(mark.saturating_add(1)))
    }

    /// A mark at which copper enters a segment.
    pub fn feed(&self, mark: u64, segment: &Segment) -> f64 {
        if mark == segment.first {
            self.start(mark)
        } else {
            self.end(mark)
        }
    }

    fn on(&self, lit: &Lit, mark: u64) -> f64 {
        let along = mark.clamp(lit.first, lit.last) - lit.first;
        let whole = (lit.last - lit.first).max(1);
        let share = along as f64 / whole as f64;
        lit.from.metres() + share * (lit.to.metres() - lit.from.metres())
    }
}

/// A part of the line that is drawn in one row.
#[derive(Clone, Copy)]
pub(super) struct Window {
    pub from: f64,
    pub to: f64,
    pub scale: Scale,
}

impl Window {
    /// Rows of the line, all to one scale.
    pub fn rows(drawn: f64, rows: usize, left: f64, right: f64) -> Vec<Self> {
        let step = drawn / rows.max(1) as f64;
        let rows = 0..rows.max(1);
        let of = |row: usize| {
            let (from, to) = (row as f64 * step, (row + 1) as f64 * step);
            Self {
                from,
                to,
                scale: Scale {
                    low: from,
                    high: to,
                    from: left,
                    to: right,
                },
            }
        };
        rows.map(of).collect()
    }

    /// Place on paper of a place on the line, where it is in this row.
    pub fn at(self, line: f64) -> Option<f64> {
        let slack = (self.to - self.from) * 1e-9;
        let inside = line >= self.from - slack && line <= self.to + slack;
        inside.then(|| self.scale.at(line))
    }

    /// The part of a stretch that is in this row, on paper.
    pub fn span(self, from: f64, to: f64) -> Option<(f64, f64)> {
        let (from, to) = (from.max(self.from), to.min(self.to));
        (to > from).then(|| (self.scale.at(from), self.scale.at(to)))
    }
}
