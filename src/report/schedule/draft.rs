//! A schedule being defined: each column once, with how its cell is got from a row.

use super::super::wrap::clean;
use super::cell::count;
use super::{About, Alignment, Cell, Column, METRE, MILLIMETRE, NONE, Placing, Schedule, Unit};
use crate::exact::ExactLength;
use crate::id::RunId;
use crate::quantity::{Corners, Measured, Valued};
use std::fmt::Display;

/// A cell from a row.
type Get<'a, R> = Of<'a, R, Cell>;

/// What is got from a row.
type Of<'a, R, T> = Box<dyn Fn(&R) -> T + 'a>;

/// What a column of figures is made of: a quantity, one that may be missing, or a number in the unit of the column.
pub(in crate::report) trait Figure {
    /// The number in this unit, where there is one.
    fn in_unit(self, unit: Unit) -> Option<f64>;
}

impl<Q: Measured> Figure for Valued<Q> {
    fn in_unit(self, unit: Unit) -> Option<f64> {
        Some(unit.of(self.si()))
    }
}

impl Figure for f64 {
    fn in_unit(self, _unit: Unit) -> Option<f64> {
        Some(self)
    }
}

impl<F: Figure> Figure for Option<F> {
    fn in_unit(self, unit: Unit) -> Option<f64> {
        self.and_then(|figure| figure.in_unit(unit))
    }
}

/// A schedule being defined: each column once, with how its cell is got from a row.
pub(in crate::report) struct Draft<'a, R> {
    key: &'static str,
    title: &'static str,
    intro: String,
    columns: Vec<(Column, Get<'a, R>)>,
    runs: Of<'a, R, Vec<RunId>>,
    quiet: Of<'a, R, bool>,
    left_out: &'static str,
}

impl<'a, R> Draft<'a, R> {
    pub(in crate::report) fn new(key: &'static str, title: &'static str, intro: &str) -> Self {
        Self {
            key,
            title,
            intro: clean(intro),
            columns: Vec::new(),
            runs: Box::new(|_| Vec::new()),
            quiet: Box::new(|_| false),
            left_out: "",
        }
    }

    /// The runs that a row says something of.
    pub(in crate::report) fn of(mut self, runs: impl Fn(&R) -> Vec<RunId> + 'a) -> Self {
        self.runs = Box::new(runs);
        self
    }

    /// Rows that a page counts and does not print, and what they are: `that pass`.
    pub(in crate::report) fn quiet(
        mut self,
        what: &'static str,
        quiet: impl Fn(&R) -> bool + 'a,
    ) -> Self {
        self.quiet = Box::new(quiet);
        self.left_out = what;
        self
    }

    /// The column that was added last stands in files only.
    pub(in crate::report) fn in_file(mut self) -> Self {
        if let Some((column, _)) = self.columns.last_mut() {
            column.placing = Placing::File;
        }
        self
    }

    fn column(
        self,
        key: &str,
        heading: &'static str,
        unit: Unit,
        place: (Alignment, Placing),
        get: impl Fn(&R) -> Cell + 'a,
    ) -> Self {
        self.with(key, heading, unit, place, Box::new(get))
    }

    /// The same, compiled once for all ways to get a cell.
    fn with(
        mut self,
        key: &str,
        heading: &'static str,
        unit: Unit,
        (alignment, placing): (Alignment, Placing),
        get: Get<'a, R>,
    ) -> Self {
        let column = Column {
            key: format!("{key}{}", unit.suffix),
            heading,
            unit,
            alignment,
            placing,
        };
        self.columns.push((column, get));
        self
    }

    /// Words, placed.
    fn text<W: Display>(
        self,
        key: &str,
        heading: &'static str,
        placing: Placing,
        get: impl Fn(&R) -> W + 'a,
    ) -> Self {
        self.column(key, heading, NONE, (Alignment::Left, placing), move |row| {
            Cell::words(&get(row).to_string())
        })
    }

    /// Words that name the row.
    pub(in crate::report) fn name<W: Display>(
        self,
        key: &str,
        heading: &'static str,
        get: impl Fn(&R) -> W + 'a,
    ) -> Self {
        self.text(key, heading, Placing::Name, get)
    }

    /// A number that names the row.
    pub(in crate::report) fn number(
        self,
        key: &str,
        heading: &'static str,
        get: impl Fn(&R) -> usize + 'a,
    ) -> Self {
        let place = (Alignment::Right, Placing::Name);
        self.column(key, heading, NONE, place, move |row| count(get(row) as u64))
    }

    /// Words beside the others.
    pub(in crate::report) fn words<W: Display>(
        self,
        key: &str,
        heading: &'static str,
        get: impl Fn(&R) -> W + 'a,
    ) -> Self {
        self.text(key, heading, Placing::Across, get)
    }

    /// Sentences beneath the row.
    pub(in crate::report) fn beneath<W: Display>(
        self,
        key: &str,
        heading: &'static str,
        get: impl Fn(&R) -> W + 'a,
    ) -> Self {
        self.text(key, heading, Placing::Beneath, get)
    }

    /// A whole number.
    pub(in crate::report) fn count(
        self,
        key: &str,
        heading: &'static str,
        get: impl Fn(&R) -> u64 + 'a,
    ) -> Self {
        self.count_or(key, heading, "", move |row| Some(get(row)))
    }

    /// A whole number, or the word that is printed where there is none.
    pub(in crate::report) fn count_or(
        self,
        key: &str,
        heading: &'static str,
        missing: &'static str,
        get: impl Fn(&R) -> Option<u64> + 'a,
    ) -> Self {
        let place = (Alignment::Right, Placing::Across);
        self.column(key, heading, NONE, place, move |row| {
            get(row).map_or(Cell::Missing(missing), count)
        })
    }

    /// A figure to so many decimals.
    pub(in crate::report) fn figure<F: Figure>(
        self,
        key: &str,
        heading: &'static str,
        unit: Unit,
        decimals: usize,
        get: impl Fn(&R) -> F + 'a,
    ) -> Self {
        self.figure_or(key, heading, unit, decimals, "no figure", get)
    }

    /// A figure to so many decimals, or the word that is printed where there is none.
    pub(in crate::report) fn figure_or<F: Figure>(
        self,
        key: &str,
        heading: &'static str,
        unit: Unit,
        decimals: usize,
        missing: &'static str,
        get: impl Fn(&R) -> F + 'a,
    ) -> Self {
        let place = (Alignment::Right, Placing::Across);
        self.column(key, heading, unit, place, move |row| {
            get(row)
                .in_unit(unit)
                .map_or(Cell::Missing(missing), |value| {
                    Cell::figure(value, decimals, missing)
                })
        })
    }

    /// A whole number of the last of so many decimals.
    pub(in crate::report) fn amount(
        self,
        key: &str,
        heading: &'static str,
        get: impl Fn(&R) -> (i64, usize) + 'a,
    ) -> Self {
        let place = (Alignment::Right, Placing::Across);
        self.column(key, heading, NONE, place, move |row| {
            let (amount, decimals) = get(row);
            Cell::amount(amount, decimals)
        })
    }

    /// The same, or a dash where there is none.
    pub(in crate::report) fn amount_or_dash(
        self,
        key: &str,
        heading: &'static str,
        get: impl Fn(&R) -> Option<(i64, usize)> + 'a,
    ) -> Self {
        let place = (Alignment::Right, Placing::Across);
        self.column(key, heading, NONE, place, move |row| {
            get(row).map_or(Cell::Missing("-"), |(amount, decimals)| {
                Cell::amount(amount, decimals)
            })
        })
    }

    /// Three figures, low corner, nominal, high corner; a dash each where there are none.
    pub(in crate::report) fn corners<Q: Measured>(
        self,
        key: &str,
        headings: [&'static str; 3],
        unit: Unit,
        decimals: usize,
        get: impl Fn(&R) -> Option<Corners<Valued<Q>>> + Copy + 'a,
    ) -> Self {
        self.corners_or(key, headings, unit, decimals, "-", get)
    }

    /// Three figures, low corner, nominal, high corner, or the word that is printed where there are none.
    pub(in crate::report) fn corners_or<Q: Measured>(
        self,
        key: &str,
        [low, nominal, high]: [&'static str; 3],
        unit: Unit,
        decimals: usize,
        missing: &'static str,
        get: impl Fn(&R) -> Option<Corners<Valued<Q>>> + Copy + 'a,
    ) -> Self {
        let keys = ["low", "nominal", "high"].map(|corner| format!("{key}_{corner}"));
        let [at_low, at_nominal, at_high] = &keys;
        self.figure_or(at_low, low, unit, decimals, missing, move |row| {
            get(row).map(|three| three.low)
        })
        .figure_or(at_nominal, nominal, unit, decimals, missing, move |row| {
            get(row).map(|three| three.nominal)
        })
        .figure_or(at_high, high, unit, decimals, missing, move |row| {
            get(row).map(|three| three.high)
        })
    }

    /// An exact length: metres to the millimetre in print, exact in a file.
    pub(in crate::report) fn metres(
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
    pub(in crate::report) fn millimetres(
        self,
        key: &str,
        heading: &'static str,
        get: impl Fn(&R) -> ExactLength + 'a,
    ) -> Self {
        self.millimetres_or_dash(key, heading, move |row| Some(get(row)))
    }

    /// The same, or a dash where there is none.
    pub(in crate::report) fn millimetres_or_dash(
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
    pub(in crate::report) fn filling(self, key: &str, heading: &'static str) -> Self {
        let place = (Alignment::Left, Placing::Across);
        self.column(key, heading, NONE, place, |_| Cell::ToFill)
    }

    /// The schedule of these rows.
    pub(in crate::report) fn fill(self, rows: impl IntoIterator<Item = R>) -> Schedule {
        let each = rows.into_iter().map(|row| {
            let cells: Vec<Cell> = self.columns.iter().map(|(_, get)| get(&row)).collect();
            let about = About {
                runs: (self.runs)(&row),
                quiet: (self.quiet)(&row),
            };
            (cells, about)
        });
        let (rows, about) = each.unzip();
        Schedule {
            key: self.key,
            title: self.title,
            intro: self.intro,
            columns: self.columns.into_iter().map(|(column, _)| column).collect(),
            rows,
            notes: Vec::new(),
            about,
            left_out: self.left_out,
        }
    }
}
