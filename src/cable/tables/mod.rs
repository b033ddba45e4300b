//! The tables this crate carries, each with id, source, range and content hash.
//!
//! A plan names the tables it used by id and content hash, so that a changed
//! figure shows. [`all`] lists them; [`Table::csv`] prints one; [`Table::cite`] is
//! the line to copy into a calculation sheet.
//!
//! Most figures are quotations of the standard by other documents, and their
//! sources say so. Before a figure carries weight,
//! compare it with the edition in force at the place. [`citing`] is the page that
//! shows how each is to be cited.
//!
//! ```
//! use evenrun::cable::tables;
//! let table = tables::find("iec-60228-resistance").expect("listed");
//! assert!(table.cite().starts_with("IEC 60228"));
//! assert_eq!(table.content_hash().len(), 64);
//! ```

pub mod ambient;
#[doc = include_str!("citing.md")]
pub mod citing {}
pub mod copper_clad;
pub mod foil;
pub mod grouping;
pub mod iec60228;
pub mod iec60228_temperature;
pub mod iec_60364_5_52;
pub mod materials;
pub mod permittivity;
pub mod published_pairs;
pub mod small_metric;
pub mod strand_factor;
pub mod table8;
pub mod tinned;
pub mod us_310_16;
pub mod us_725_144;
pub mod us_small;
pub mod voltage_drop;

use crate::order::Order as _;
use crate::source::{Source, SourceKind, Standing};
use serde::Serialize;
use sha2::{Digest, Sha256};
use std::borrow::Cow;

/// One table: what it is, what it covers, and its content.
#[derive(Debug, Clone)]
pub struct Table {
    /// Stable id; part of the public interface.
    pub id: &'static str,
    /// What it covers; a lookup outside is refused with these words.
    pub covers: &'static str,
    /// Where it comes from.
    pub source: Source,
    pub(crate) csv: fn() -> String,
}

impl Table {
    /// The rows as CSV with a header line; the units are in the names of the columns.
    #[must_use]
    pub fn csv(&self) -> String {
        (self.csv)()
    }

    /// SHA-256 of [`Table::csv`], 64 hexadecimal digits: changes when any figure does.
    #[must_use]
    pub fn content_hash(&self) -> String {
        Sha256::digest(self.csv().as_bytes())
            .iter()
            .map(|byte| format!("{byte:02x}"))
            .collect()
    }

    /// Source, table id and the first 12 digits of the content hash: the line for a sheet.
    #[must_use]
    pub fn cite(&self) -> String {
        let hash = self.content_hash();
        format!(
            "{} (table `{}`, content {})",
            self.source,
            self.id,
            hash.get(..12).unwrap_or_default()
        )
    }
}

/// Every table of conductors and cables, in order of id.
#[must_use]
pub fn all() -> Vec<Table> {
    let mut tables = vec![
        ambient::TABLE,
        copper_clad::TABLE,
        foil::TABLE,
        grouping::TABLE,
        iec60228::TABLE,
        iec60228_temperature::TABLE,
        iec_60364_5_52::TABLE,
        materials::TABLE,
        permittivity::TABLE,
        published_pairs::TABLE,
        small_metric::TABLE,
        strand_factor::TABLE,
        table8::TABLE,
        tinned::TABLE,
        us_310_16::TABLE,
        us_725_144::TABLE,
        us_small::TABLE,
        voltage_drop::TABLE,
    ];
    tables.order_by_key(|table| table.id);
    tables
}

/// The table of this id.
#[must_use]
pub fn find(id: &str) -> Option<Table> {
    all().into_iter().find(|table| table.id == id)
}

/// A cable or wire maker's published table, without the maker's name.
pub(crate) const fn maker(title: &'static str) -> Source {
    Source {
        title: Cow::Borrowed(title),
        edition: Cow::Borrowed(""),
        clause: Cow::Borrowed(""),
        kind: SourceKind::DataSheet,
        standing: Standing::Confirmed,
    }
}

/// Rows as CSV. Writing to memory does not fail; a row that could not be written is missing.
pub(crate) fn rows_as_csv<T: Serialize>(rows: &[T]) -> String {
    let mut writer = csv::Writer::from_writer(Vec::new());
    for row in rows {
        let _ = writer.serialize(row);
    }
    let bytes = writer.into_inner().unwrap_or_default();
    String::from_utf8(bytes).unwrap_or_default()
}
