//! A tape of many cells as the limit of a continuous load, extrapolated in the number of cells.
use crate::build::*;
use evenrun::load::Law;
use evenrun::network::*;
use evenrun::quantity::*;

/// A feed: position, its own loop resistance, and its supply's voltage.
#[derive(Debug, Clone, Copy)]
pub struct Feed {
    pub x: f64,
    pub ohms: f64,
    pub volts: f64,
}

pub struct Tape<'a> {
    pub length: f64,
    pub ohms_per_metre: f64,
    /// Law of one cell from the length of tape it stands for.
    pub cell: &'a dyn Fn(f64) -> Law,
    pub feeds: Vec<Feed>,
}

/// What one number of cells gives.
pub struct Found {
    /// Voltage at the middle of each cell.
    pub cells: Vec<f64>,
    pub step: f64,
    pub input: f64,
    pub loss: f64,
}

impl Found {
    /// Voltage at a boundary between two cells, or at the middle of one, or at an end.
    pub fn at(&self, x: f64) -> f64 {
        let place = x / self.step - 0.5;
        let k = place.floor().clamp(0.0, self.cells.len() as f64 - 2.0);
        let t = place - k;
        self.cells[k as usize] * (1.0 - t) + self.cells[k as usize + 1] * t
    }

    pub fn mean(&self) -> f64 {
        self.cells.iter().sum::<f64>() / self.cells.len() as f64
    }

    pub fn last(&self) -> f64 {
        self.cells[self.cells.len() - 1]
    }
}

impl Tape<'_> {
    pub fn spec(&self, cells: usize) -> (NetworkSpec, TapeId) {
        let step = self.length / cells as f64;
        let half = 0.5 * self.ohms_per_metre * step;
        let mut spec = NetworkSpec::new();
        let minus = spec.node("minus");
        let law = spec.law((self.cell)(step));
        let mut links = vec![ohms(2.0 * half); cells - 1];
        let mut plus = Vec::new();
        for (number, feed) in self.feeds.iter().enumerate() {
            let source = spec.node(format!("supply {number}"));
            spec.stiff_source(format!("supply {number}"), source, minus, volts(feed.volts));
            let node = spec.node(format!("feed {number}"));
            spec.link(format!("feeder {number}"), source, node, ohms(feed.ohms));
            let boundary = (feed.x / step).round() as usize;
            assert!(
                (boundary as f64 * step - feed.x).abs() < 1e-9,
                "a feed between cells"
            );
            if boundary > 0 {
                plus.push(Attachment::through(boundary - 1, node, ohms(half)));
            }
            if boundary < cells {
                plus.push(Attachment::through(boundary, node, ohms(half)));
            }
            if boundary > 0 && boundary < cells {
                links[boundary - 1] = ohms(f64::INFINITY);
            }
        }
        let tape = spec.tape(TapeSpec {
            name: "tape".into(),
            polarity: Polarity::CommonPlus,
            cells,
            common: RailSpec {
                links: Along::Each(links),
                attachments: plus,
            },
            emitters: vec![emitter(
                "load",
                law,
                RailSpec::uniform(ohms(0.0), vec![Attachment::at(0, minus)]),
            )],
        });
        (spec, tape)
    }

    pub fn with(&self, cells: usize) -> Found {
        let (spec, tape) = self.spec(cells);
        solved(spec, |s| Found {
            cells: s.tape(tape).unwrap().cell_volts(0).to_vec(),
            step: self.length / cells as f64,
            input: (0..self.feeds.len())
                .map(|k| s.source_current(SourceId(k)).unwrap().value)
                .sum(),
            loss: s.total_copper_loss().value,
        })
    }

    /// A figure in the limit of many cells: its error falls with the square of the cell, so two numbers of cells give it.
    pub fn limit(&self, figure: impl Fn(&Found) -> f64) -> f64 {
        let (coarse, fine) = (figure(&self.with(480)), figure(&self.with(960)));
        (4.0 * fine - coarse) / 3.0
    }
}
