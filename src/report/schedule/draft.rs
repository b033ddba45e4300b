//! A schedule being defined: each column once, with how its cell is got from a row.

use super::super::wrap::clean;
use super::cell::count;
use super::{Alignment, Cell, Column, METRE, MILLIMETRE, NONE, Placing, Schedule, Unit};
use crate::exact::ExactLength;

/// A cell from a row.
type Get<'a, R> = Box<dyn Fn(&R) -> Cell + 'a>;

/// A schedule being defined: each column once, with how its cell is got from a row.
pub(in crate::report) struct Draft<'a, R> {
    key: &'static str,
    title: &'static str,
    intro: String,
    columns: Vec<(Column, Get<'a, R>)>,
}

impl<'a, R> Draft<'a, R> {
    pub(in crate::report) fn new(key: &'static str, title: &'static str, intro: &str) -> Self {
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
    pub(in crate::report) fn name(
        self,
        key: &str,
        heading: &'static str,
        get: impl Fn(&R) -> String + 'a,
    ) -> Self {
        let place = (Alignment::Left, Placing::Name);
        self.column(key, heading, NONE, place, move |row| Cell::words(&get(row)))
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
    pub(in crate::report) fn words(
        self,
        key: &str,
        heading: &'static str,
        get: impl Fn(&R) -> String + 'a,
    ) -> Self {
        let place = (Alignment::Left, Placing::Across);
        self.column(key, heading, NONE, place, move |row| Cell::words(&get(row)))
    }

    /// Sentences beneath the row.
    pub(in crate::report) fn beneath(
        self,
        key: &str,
        heading: &'static str,
        get: impl Fn(&R) -> String + 'a,
    ) -> Self {
        let place = (Alignment::Left, Placing::Beneath);
        self.column(key, heading, NONE, place, move |row| Cell::words(&get(row)))
    }

    /// A whole number.
    pub(in crate::report) fn count(
        self,
        key: &str,
        heading: &'static str,
        get: impl Fn(&R) -> u64 + 'a,
    ) -> Self {
        let place = (Alignment::Right, Placing::Across);
        self.column(key, heading, NONE, place, move |row| count(get(row)))
    }

    /// A figure to so many decimals.
    pub(in crate::report) fn figure(
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

    /// A figure to so many decimals, or the word that is printed where there is none.
    pub(in crate::report) fn figure_or(
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
    pub(in crate::report) fn corners(
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
    pub(in crate::report) fn fill(self, rows: &[R]) -> Schedule {
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
