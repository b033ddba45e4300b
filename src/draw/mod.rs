//! A design in pictures, and as one page for a browser or a printer.
//!
//! ```text
//! Design ─┬─► run             a run to scale: cuts, joints, feeds; the volts along it
//!         ├─► supply riser    supplies, outputs, leads, decoders, feeders, place by place
//!         ├─► data riser      ports, splitters, chains, devices in order, terminators
//!         ├─► stock           bars, covers and reels as they are cut
//!         └─► page            all of it as HTML, with the schedules of `report`
//! TradeOff ──► trade_off      cost against fall-off of light
//! ```
//!
//! The room stands beside `report`: no physics, no decisions, no files, it only reads. Positions are those of the line as
//! drawn, corners unfolded; where a mark is named, its place on the tape stands beside it. Lengths are written in feet where every
//! cable of the design has an AWG size, else in metres.
//!
//! Shapes are plain ones of our own, black, white and grey, told in a legend on each figure; none is taken from a table of
//! symbols. Figures are as wide as a sheet of A4 between its margins, and no higher than one. Words are measured by a table of
//! widths, so that the same design gives the same bytes on every machine; in a browser `tests/draw/check.py` holds them
//! against what is really drawn.
//!
//! Names of the job pass through [`svg`] and [`maud`], which escape them, after characters that turn or hide text were
//! replaced.
//!
//! ```
//! let job = evenrun::job::read(include_str!("../../examples/archive_wing.toml"), "demo.toml").map_err(|f| f.to_string())?;
//! let design = evenrun::plan::plan(&job);
//! let drawing = evenrun::draw::run(&design, &design.runs[0].id).unwrap_or_default();
//! assert!(drawing.starts_with("<svg") && drawing.contains("<title>"));
//! assert!(evenrun::draw::page(&design).starts_with("<!DOCTYPE html>"));
//! # Ok::<(), String>(())
//! ```
//!
//! **Leaves out:** rooms and plans of rooms; the mains side; anything measured.

mod canvas;
mod chains;
mod front;
mod index;
mod lengths;
mod page;
mod run;
mod scale;
mod stock;
mod supplies;

pub use front::trade_off;
pub use page::page;

use crate::design::Design;
use crate::id::RunId;
use index::Index;

/// A figure: what it is called, and the SVG.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Figure {
    /// Title.
    pub title: String,
    /// SVG, a document of its own.
    pub svg: String,
}

impl Figure {
    fn all(figures: Vec<(String, String)>) -> Vec<Self> {
        let each = figures.into_iter();
        each.map(|(title, svg)| Self { title, svg }).collect()
    }
}

/// A run to scale, with the volts along it; none where the design has no such run, or nothing of it was planned.
#[must_use]
pub fn run(design: &Design, run: &RunId) -> Option<String> {
    let own = design.runs.iter().find(|own| own.id == *run)?;
    run::figure(&Index::of(design), own)
}

/// What the supplies of each place feed.
#[must_use]
pub fn supply_riser(design: &Design) -> Vec<Figure> {
    Figure::all(supplies::figures(&Index::of(design)))
}

/// The data chains of each universe.
#[must_use]
pub fn data_riser(design: &Design) -> Vec<Figure> {
    Figure::all(chains::figures(&Index::of(design)))
}

/// Bars, lengths of cover and reels as they are cut, a product after the other.
#[must_use]
pub fn stock(design: &Design) -> Vec<Figure> {
    Figure::all(stock::figures(&Index::of(design)))
}

/// Every drawing of a design and its page as names and contents: `page.html`, `run-1.svg` and so on, in the order of the design.
/// Writing them is the caller's.
#[must_use]
pub fn files(design: &Design) -> Vec<(String, String)> {
    let index = Index::of(design);
    let mut files = vec![("page.html".to_string(), page(design))];
    for (number, run) in (1..).zip(&design.runs) {
        let drawn = run::figure(&index, run);
        files.extend(drawn.map(|svg| (format!("run-{number}.svg"), svg)));
    }
    let groups = [
        ("supplies", supplies::figures(&index)),
        ("data", chains::figures(&index)),
        ("stock", stock::figures(&index)),
    ];
    for (word, figures) in groups {
        for (number, (_, svg)) in (1..).zip(figures) {
            files.push((format!("{word}-{number}.svg"), svg));
        }
    }
    files
}
