//! What a schedule is: columns defined once, and cells that know how they are printed
//! and how they are written.

use super::wrap::clean;
use crate::exact::ExactLength;
use crate::job::plan::model::Corners;
use crate::quantity::Measured;

/// A unit of a column: its symbol in print, its suffix in a CSV heading.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Unit {
    /// As printed: `V`.
    pub symbol: &'static str,
    /// As it ends the heading of a CSV column: `_v`.
    pub suffix: &'static str,
}

const fn unit(symbol: &'static str, suffix: &'static str) -> Unit {
    Unit { symbol, suffix }
}

pub(super) const NONE: Unit = unit("", "");
pub(super) const METRE: Unit = unit("m", "_m");
pub(super) const MILLIMETRE: Unit = unit("mm", "_mm");
pub(super) const VOLT: Unit = unit("V", "_v");
pub(super) const MILLIVOLT: Unit = unit("mV", "_mv");
pub(super) const AMPERE: Unit = unit("A", "_a");
pub(super) const WATT: Unit = unit("W", "_w");
pub(super) const WATT_PER_METRE: Unit = unit("W/m", "_w_per_m");
pub(super) const PER_CENT: Unit = unit("%", "_percent");
pub(super) const CELSIUS: Unit = unit("°C", "_degc");
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

/// One cell.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Cell {
    /// Words, the same in print and in a file.
    Words(String),
    /// A figure: a plain decimal number in both forms.
    Figure {
        /// Rounded for reading.
        printed: String,
        /// For a file: exact where the plan is exact (lengths), else as printed.
        written: String,
    },
    /// No figure: the word printed in its place. A file has an empty field.
    Missing(&'static str),
    /// To be filled in by hand.
    ToFill,
}

impl Cell {
    /// Text for print and Markdown.
    #[must_use]
    pub fn printed(&self) -> &str {
        match self {
            Self::Words(words) => words,
            Self::Figure { printed, .. } => printed,
            Self::Missing(word) => word,
            Self::ToFill => "________",
        }
    }

    /// Field of a CSV file, before it is guarded and quoted.
    #[must_use]
    pub fn written(&self) -> &str {
        match self {
            Self::Words(words) => words,
            Self::Figure { written, .. } => written,
            Self::Missing(_) | Self::ToFill => "",
        }
    }

    fn words(text: &str) -> Self {
        Self::Words(clean(text))
    }

    fn figure(value: f64, decimals: usize, missing: &'static str) -> Self {
        if !value.is_finite() {
            return Self::Missing(missing);
        }
        let text = format!("{value:.decimals$}");
        let zero = text.bytes().all(|b| matches!(b, b'-' | b'0' | b'.'));
        let text = match text.strip_prefix('-') {
            Some(rest) if zero => rest.to_string(),
            _ => text,
        };
        Self::Figure {
            printed: text.clone(),
            written: text,
        }
    }

    fn exact(length: ExactLength, per_unit: i128, places: usize, decimals: usize) -> Self {
        let nanometres = i128::from(length.nanometres());
        let whole = decimal(nanometres, per_unit, places);
        let step = 10_i128.pow(u32::try_from(places.saturating_sub(decimals)).unwrap_or(0));
        let half = if nanometres < 0 { -step / 2 } else { step / 2 };
        let rounded = (nanometres + half) / step * step;
        let printed = decimal(rounded, per_unit, places);
        let keep = printed.len() - places + decimals;
        let printed = printed.get(..keep).unwrap_or(&printed);
        let written = whole.trim_end_matches('0').trim_end_matches('.');
        Self::Figure {
            printed: printed.trim_end_matches('.').to_string(),
            written: written.to_string(),
        }
    }
}

/// An integer of nanometres as a decimal number of units of `10^places` nanometres.
fn decimal(nanometres: i128, per_unit: i128, places: usize) -> String {
    let sign = if nanometres < 0 { "-" } else { "" };
    let size = nanometres.abs();
    format!("{sign}{}.{:0places$}", size / per_unit, size % per_unit)
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
}

impl Schedule {
    /// With a note beneath.
    pub(super) fn note(mut self, note: impl Into<String>) -> Self {
        self.notes.push(clean(&note.into()));
        self
    }
}

/// A cell from a row.
type Get<'a, R> = Box<dyn Fn(&R) -> Cell + 'a>;

/// A schedule being defined: each column once, with how its cell is got from a row.
pub(super) struct Draft<'a, R> {
    key: &'static str,
    title: &'static str,
    intro: String,
    columns: Vec<(Column, Get<'a, R>)>,
}

impl<'a, R> Draft<'a, R> {
    pub(super) fn new(key: &'static str, title: &'static str, intro: &str) -> Self {
        Self {
            key,
            title,
            intro: clean(intro),
            columns: Vec::new(),
        }
    }

    fn column(
        mut self,
        key: &str,
        heading: &'static str,
        unit: Unit,
        (alignment, placing): (Alignment, Placing),
        get: impl Fn(&R) -> Cell + 'a,
    ) -> Self {
        let column = Column {
            key: format!("{key}{}", unit.suffix),
            heading,
            unit,
            alignment,
            placing,
        };
        self.columns.push((column, Box::new(get)));
        self
    }

    /// Words that name the row.
    pub(super) fn name(
        self,
        key: &str,
        heading: &'static str,
        get: impl Fn(&R) -> String + 'a,
    ) -> Self {
        let place = (Alignment::Left, Placing::Name);
        self.column(key, heading, NONE, place, move |row| Cell::words(&get(row)))
    }

    /// A number that names the row.
    pub(super) fn number(
        self,
        key: &str,
        heading: &'static str,
        get: impl Fn(&R) -> usize + 'a,
    ) -> Self {
        let place = (Alignment::Right, Placing::Name);
        self.column(key, heading, NONE, place, move |row| count(get(row) as u64))
    }

    /// Words beside the others.
    pub(super) fn words(
        self,
        key: &str,
        heading: &'static str,
        get: impl Fn(&R) -> String + 'a,
    ) -> Self {
        let place = (Alignment::Left, Placing::Across);
        self.column(key, heading, NONE, place, move |row| Cell::words(&get(row)))
    }

    /// Sentences beneath the row.
    pub(super) fn beneath(
        self,
        key: &str,
        heading: &'static str,
        get: impl Fn(&R) -> String + 'a,
    ) -> Self {
        let place = (Alignment::Left, Placing::Beneath);
        self.column(key, heading, NONE, place, move |row| Cell::words(&get(row)))
    }

    /// A whole number.
    pub(super) fn count(
        self,
        key: &str,
        heading: &'static str,
        get: impl Fn(&R) -> u64 + 'a,
    ) -> Self {
        let place = (Alignment::Right, Placing::Across);
        self.column(key, heading, NONE, place, move |row| count(get(row)))
    }

    /// A figure to so many decimals.
    pub(super) fn figure(
        self,
        key: &str,
        heading: &'static str,
        unit: Unit,
        decimals: usize,
        get: impl Fn(&R) -> f64 + 'a,
    ) -> Self {
        self.figure_or(key, heading, unit, decimals, "no figure", move |row| {
            Some(get(row))
        })
    }

    /// A figure to so many decimals, or the word that is printed where there is none.
    pub(super) fn figure_or(
        self,
        key: &str,
        heading: &'static str,
        unit: Unit,
        decimals: usize,
        missing: &'static str,
        get: impl Fn(&R) -> Option<f64> + 'a,
    ) -> Self {
        let place = (Alignment::Right, Placing::Across);
        self.column(key, heading, unit, place, move |row| {
            get(row).map_or(Cell::Missing(missing), |value| {
                Cell::figure(value, decimals, missing)
            })
        })
    }

    /// Three figures: low corner, nominal, high corner.
    pub(super) fn corners(
        self,
        key: &str,
        headings: [&'static str; 3],
        unit: Unit,
        decimals: usize,
        get: impl Fn(&R) -> Option<[f64; 3]> + Copy + 'a,
    ) -> Self {
        let [low, nominal, high] = headings;
        let at = move |row: &R, n: usize| get(row).and_then(|three| three.get(n).copied());
        self.figure_or(
            &format!("{key}_low"),
            low,
            unit,
            decimals,
            "-",
            move |row| at(row, 0),
        )
        .figure_or(
            &format!("{key}_nominal"),
            nominal,
            unit,
            decimals,
            "-",
            move |row| at(row, 1),
        )
        .figure_or(
            &format!("{key}_high"),
            high,
            unit,
            decimals,
            "-",
            move |row| at(row, 2),
        )
    }

    /// An exact length: metres to the millimetre in print, exact in a file.
    pub(super) fn metres(
        self,
        key: &str,
        heading: &'static str,
        get: impl Fn(&R) -> ExactLength + 'a,
    ) -> Self {
        let place = (Alignment::Right, Placing::Across);
        self.column(key, heading, METRE, place, move |row| {
            Cell::exact(get(row), 1_000_000_000, 9, 3)
        })
    }

    /// An exact length: whole millimetres in print, exact in a file.
    pub(super) fn millimetres(
        self,
        key: &str,
        heading: &'static str,
        get: impl Fn(&R) -> Option<ExactLength> + 'a,
    ) -> Self {
        let place = (Alignment::Right, Placing::Across);
        self.column(key, heading, MILLIMETRE, place, move |row| {
            get(row).map_or(Cell::Missing("-"), |length| {
                Cell::exact(length, 1_000_000, 6, 0)
            })
        })
    }

    /// Room to write in.
    pub(super) fn filling(self, key: &str, heading: &'static str) -> Self {
        let place = (Alignment::Left, Placing::Across);
        self.column(key, heading, NONE, place, |_| Cell::ToFill)
    }

    /// The schedule of these rows.
    pub(super) fn fill(self, rows: &[R]) -> Schedule {
        let rows = rows
            .iter()
            .map(|row| self.columns.iter().map(|(_, get)| get(row)).collect())
            .collect();
        Schedule {
            key: self.key,
            title: self.title,
            intro: self.intro,
            columns: self.columns.into_iter().map(|(column, _)| column).collect(),
            rows,
            notes: Vec::new(),
        }
    }
}

fn count(value: u64) -> Cell {
    let text = value.to_string();
    Cell::Figure {
        printed: text.clone(),
        written: text,
    }
}

/// The three figures of a quantity in SI base units, times `factor`.
pub(super) fn three<Q: Measured>(corners: Corners<Q>, factor: f64) -> [f64; 3] {
    [corners.low, corners.nominal, corners.high].map(|q| q.si() * factor)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn both(cell: &Cell) -> (&str, &str) {
        (cell.printed(), cell.written())
    }

    #[test]
    fn lengths_are_rounded_in_print_and_exact_in_a_file() {
        // Seven increments of 1000/24 mm: 291.666 667 mm.
        let length = ExactLength::from_nanometres(291_666_667);
        let mm = Cell::exact(length, 1_000_000, 6, 0);
        assert_eq!(both(&mm), ("292", "291.666667"));
        let m = Cell::exact(length, 1_000_000_000, 9, 3);
        assert_eq!(both(&m), ("0.292", "0.291666667"));
        let half = Cell::exact(ExactLength::from_nanometres(-500_000), 1_000_000, 6, 0);
        assert_eq!(both(&half), ("-1", "-0.5"));
        let none = Cell::exact(ExactLength::ZERO, 1_000_000, 6, 0);
        assert_eq!(both(&none), ("0", "0"));
        let most = Cell::exact(ExactLength::from_nanometres(i64::MAX), 1_000_000, 6, 0);
        assert_eq!(both(&most), ("9223372036855", "9223372036854.775807"));
        let ten = Cell::exact(ExactLength::from_millimetres(10_000), 1_000_000, 6, 0);
        assert_eq!(both(&ten), ("10000", "10000"));
    }

    #[test]
    fn a_figure_that_is_none_says_so() {
        assert_eq!(
            both(&Cell::figure(f64::NAN, 2, "no figure")),
            ("no figure", "")
        );
        assert_eq!(both(&Cell::figure(-0.001, 2, "")), ("0.00", "0.00"));
        assert_eq!(both(&Cell::figure(-0.005_1, 2, "")), ("-0.01", "-0.01"));
    }
}
