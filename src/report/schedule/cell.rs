//! Cells: how they are printed and how they are written.

use super::super::wrap::clean;
use crate::exact::ExactLength;

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

    pub(super) fn words(text: &str) -> Self {
        Self::Words(clean(text))
    }

    pub(super) fn figure(value: f64, decimals: usize, missing: &'static str) -> Self {
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

    pub(super) fn amount(value: i64, decimals: usize) -> Self {
        let text = match decimals {
            0 => value.to_string(),
            _ => decimal(value.into(), 10_i128.pow(decimals as u32), decimals),
        };
        Self::Figure {
            printed: text.clone(),
            written: text,
        }
    }

    pub(super) fn exact(
        length: ExactLength,
        per_unit: i128,
        places: usize,
        decimals: usize,
    ) -> Self {
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

/// A count.
pub(super) fn count(value: u64) -> Cell {
    let text = value.to_string();
    Cell::Figure {
        printed: text.clone(),
        written: text,
    }
}

/// An integer of nanometres as a decimal number of units of `10^places` nanometres.
fn decimal(nanometres: i128, per_unit: i128, places: usize) -> String {
    let sign = if nanometres < 0 { "-" } else { "" };
    let size = nanometres.abs();
    format!("{sign}{}.{:0places$}", size / per_unit, size % per_unit)
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
    fn amounts_are_whole_numbers_of_their_last_decimal() {
        for (value, decimals, words) in [
            (11_321, 2, "113.21"),
            (5, 2, "0.05"),
            (-5, 2, "-0.05"),
            (0, 2, "0.00"),
            (11_321, 0, "11321"),
            (i64::MAX, 2, "92233720368547758.07"),
        ] {
            assert_eq!(both(&Cell::amount(value, decimals)), (words, words));
        }
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
