//! What a schedule is: columns defined once, and cells that know how they are printed
//! and how they are written.

mod cell;
mod draft;
mod paper;
mod units;

pub use cell::Cell;
pub(in crate::report) use draft::Draft;

use super::wrap::clean;
use crate::id::RunId;
use crate::quantity::{Measured, ThermodynamicTemperature, in_celsius};

/// A unit of a column: its symbol in print, its suffix in a CSV heading.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Unit {
    /// As printed: `V`.
    pub symbol: &'static str,
    /// As it ends the heading of a CSV column: `_v`.
    pub suffix: &'static str,
    scale: Scale,
}

/// How a figure in SI base units becomes one in the unit of its column.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Scale {
    /// It is in SI base units.
    Si,
    /// So many of the unit make one SI base unit.
    Times(u16),
    /// Degrees Celsius from kelvins.
    Celsius,
}

const fn unit(symbol: &'static str, suffix: &'static str) -> Unit {
    scaled(symbol, suffix, Scale::Si)
}

const fn scaled(symbol: &'static str, suffix: &'static str, scale: Scale) -> Unit {
    Unit {
        symbol,
        suffix,
        scale,
    }
}

impl Unit {
    /// A figure in SI base units in this unit.
    fn of(self, si: f64) -> f64 {
        match self.scale {
            Scale::Si => si,
            Scale::Times(factor) => si * f64::from(factor),
            Scale::Celsius => in_celsius(ThermodynamicTemperature::from_si(si)),
        }
    }
}

pub(super) const NONE: Unit = unit("", "");
pub(super) const METRE: Unit = unit("m", "_m");
/// Of exact lengths alone.
pub(super) const MILLIMETRE: Unit = unit("mm", "_mm");
pub(super) const VOLT: Unit = unit("V", "_v");
pub(super) const MILLIVOLT: Unit = scaled("mV", "_mv", Scale::Times(1000));
pub(super) const AMPERE: Unit = unit("A", "_a");
pub(super) const WATT: Unit = unit("W", "_w");
pub(super) const WATT_PER_METRE: Unit = unit("W/m", "_w_per_m");
pub(super) const PER_CENT: Unit = scaled("%", "_percent", Scale::Times(100));
pub(super) const CELSIUS: Unit = scaled("°C", "_degc", Scale::Celsius);
pub(super) const HERTZ: Unit = unit("Hz", "_hz");
pub(super) const OHM: Unit = unit("Ω", "_ohm");
pub(super) const KILOGRAM: Unit = unit("kg", "_kg");

/// To which side the cells of a column are set.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Alignment {
    /// Words.
    Left,
    /// Figures.
    Right,
}

/// Where a column stands in the text form.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Placing {
    /// Names the row: first in the table, repeated when a wide table is printed in parts,
    /// left blank where it would repeat the row above.
    Name,
    /// Beside the others.
    Across,
    /// On lines of its own beneath the row, after its heading: for sentences.
    Beneath,
    /// In files only: what a person does not read.
    File,
}

/// One column of a schedule.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Column {
    /// Heading in a CSV file: plain letters, ending in the unit: `volts_low_v`.
    pub key: String,
    /// Heading in print, without the unit.
    pub heading: &'static str,
    /// Unit of its figures.
    pub unit: Unit,
    /// Side.
    pub alignment: Alignment,
    /// Place in the text form.
    pub placing: Placing,
}

impl Column {
    /// The heading as printed: `Volts low, V`.
    #[must_use]
    pub fn printed(&self) -> String {
        if self.unit.symbol.is_empty() {
            self.heading.to_string()
        } else {
            format!("{}, {}", self.heading, self.unit.symbol)
        }
    }
}

/// One schedule of a plan, ready to be printed or written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Schedule {
    /// Stem of its file name: `runs`.
    pub key: &'static str,
    /// Title in print.
    pub title: &'static str,
    /// One sentence or two: what it is, and how to read it.
    pub intro: String,
    /// Columns.
    pub columns: Vec<Column>,
    /// Rows, a cell for each column.
    pub rows: Vec<Vec<Cell>>,
    /// What stands beneath it.
    pub notes: Vec<String>,
    /// What each row is about, in the order of the rows.
    pub(in crate::report) about: Vec<About>,
    /// Why a page leaves rows out.
    pub(in crate::report) left_out: &'static str,
}

/// What a row is about.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(in crate::report) struct About {
    /// Runs that it says something of.
    pub(in crate::report) runs: Vec<RunId>,
    /// Nothing is amiss with it: a page counts it and a file holds it.
    pub(in crate::report) quiet: bool,
}

impl Schedule {
    /// The rows that say something of a run; none where the schedule speaks of no run.
    #[must_use]
    pub fn of_run(&self, run: &RunId) -> Schedule {
        self.kept(|about| about.runs.contains(run))
    }

    /// The rows at these places.
    pub(in crate::report) fn at(&self, places: &[usize]) -> Schedule {
        let mut out = self.kept(|_| false);
        for place in places {
            if let (Some(row), Some(about)) = (self.rows.get(*place), self.about.get(*place)) {
                out.rows.push(row.clone());
                out.about.push(about.clone());
            }
        }
        out
    }

    fn kept(&self, keep: impl Fn(&About) -> bool) -> Schedule {
        let all = self.rows.iter().zip(&self.about);
        let (rows, about) = all
            .filter(|(_, about)| keep(about))
            .map(|(row, about)| (row.clone(), about.clone()))
            .unzip();
        Schedule {
            key: self.key,
            title: self.title,
            intro: self.intro.clone(),
            columns: self.columns.clone(),
            rows,
            notes: self.notes.clone(),
            about,
            left_out: self.left_out,
        }
    }

    /// With a note beneath.
    pub(super) fn note(mut self, note: impl Into<String>) -> Self {
        self.notes.push(clean(&note.into()));
        self
    }
}
