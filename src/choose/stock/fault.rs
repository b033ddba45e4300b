//! What may be wrong with a spec.

use super::check::MOST_PRICE;
use crate::exact::{CutPitch, ExactLength};
use thiserror::Error;

/// Why a spec cannot be planned.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum StockFault {
    /// A length that must be above nothing.
    #[error("{what}: {place} is {found} long; a length above zero and at most 100 km is needed")]
    Length {
        /// What is cut.
        what: String,
        /// Piece, stock length, offcut.
        place: String,
        /// Its length.
        found: ExactLength,
    },
    /// A negative allowance, kerf or threshold.
    #[error("{what}: {place} is {found}; it cannot be negative or above 100 km")]
    Negative {
        /// What is cut.
        what: String,
        /// Which figure.
        place: String,
        /// Its value.
        found: ExactLength,
    },
    /// A price out of range.
    #[error(
        "{what}: {place} has a price of {found}; prices are whole minor units from 0 to {MOST_PRICE}"
    )]
    Price {
        /// What is cut.
        what: String,
        /// Which price.
        place: String,
        /// Its value.
        found: i64,
    },
    /// A resistance of a joint out of range.
    #[error("{what}: a joint has {found}; from 0 to 1000 ohm is accepted")]
    JointResistance {
        /// What is cut.
        what: String,
        /// Its value.
        found: String,
    },
    /// A name used twice.
    #[error("{what}: the name `{name}` is used twice among {among}; give each its own")]
    Twice {
        /// What is cut.
        what: String,
        /// Pieces, or stock and offcuts.
        among: &'static str,
        /// The name.
        name: String,
    },
    /// Nothing to cut from.
    #[error("{what}: {pieces} pieces are needed and no stock length is listed; list one or more")]
    NoStock {
        /// What is cut.
        what: String,
        /// How many pieces.
        pieces: usize,
    },
    /// A piece longer than all stock.
    #[error(
        "{what}: piece `{piece}` needs {cut} with its allowances, and the longest stock is `{stock}` \
         with {longest}; list a longer stock length, allow joints, or split the piece"
    )]
    TooLong {
        /// What is cut.
        what: String,
        /// Piece.
        piece: String,
        /// Its cut length.
        cut: ExactLength,
        /// Longest stock.
        stock: String,
        /// Its length.
        longest: ExactLength,
    },
    /// A piece that no permitted cut yields.
    #[error(
        "{what}: {place} is {found}, not a whole number of cut increments of {increment}; the next are \
         {below} and {above}"
    )]
    OffIncrement {
        /// What is cut.
        what: String,
        /// Piece.
        place: String,
        /// Its length.
        found: ExactLength,
        /// The increment.
        increment: CutPitch,
        /// Nearest below.
        below: ExactLength,
        /// Nearest above.
        above: ExactLength,
    },
    /// A kerf together with cut increments.
    #[error(
        "{what}: a kerf of {kerf} with cut increments: tape loses nothing at a cut; set it to 0 mm"
    )]
    KerfWithIncrements {
        /// What is cut.
        what: String,
        /// The kerf.
        kerf: ExactLength,
    },
    /// Too many entries.
    #[error("{what}: {found} {of}, and at most {most} are taken; plan in parts")]
    TooMany {
        /// What is cut.
        what: String,
        /// Pieces, or kinds of stock.
        of: &'static str,
        /// How many.
        found: usize,
        /// Limit.
        most: usize,
    },
}
