//! Current-carrying capacity by method of installation: IEC 60364-5-52.
//!
//! Copper, two and three loaded conductors, reference ambient 30 °C in air and 20 °C in the
//! ground. The sizes below 1.5 mm² come from a national table (ABNT NBR 5410) and
//! are not in the IEC tables; they are cited as what they are.

use super::Table;
use crate::source::{Source, documents};
use serde::Serialize;

/// Where the figures come from.
pub const SOURCE: Source =
    documents::IEC_60364_5_52.at("tables B.52.2 to B.52.5, B.52.10 and B.52.12");

/// Where the sizes below 1.5 mm² come from.
pub const SMALL_SIZES: Source = documents::NBR_5410.at("table 36");

/// The table, for citation.
pub const TABLE: Table = Table {
    id: "iec-60364-5-52",
    covers: "copper 1.5 mm² to 10 mm², two or three loaded conductors, PVC 70 °C and XLPE or EPR 90 °C, methods A1, A2, B1, B2, C, D1, D2, E; national table for 0.5 mm² to 1 mm², PVC, methods A1, A2, B1, B2, C",
    source: SOURCE,
    csv: || super::rows_as_csv(ROWS),
};

/// Insulation of the two families of tables.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub enum Insulation {
    /// PVC, conductor at most 70 °C.
    Pvc70,
    /// XLPE or EPR, conductor at most 90 °C.
    Xlpe90,
}

/// Reference method of installation.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
pub enum Method {
    /// Insulated conductors in conduit in a thermally insulating wall.
    A1,
    /// Multi-core cable in conduit in a thermally insulating wall.
    A2,
    /// Insulated conductors in conduit on a wall.
    B1,
    /// Multi-core cable in conduit on a wall.
    B2,
    /// Cable clipped to a wall.
    C,
    /// Cable in ducts in the ground.
    D1,
    /// Cable directly in the ground.
    D2,
    /// Multi-core cable in free air.
    E,
}

/// One row: one insulation, method and size.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Row {
    /// Insulation.
    pub insulation: Insulation,
    /// Method.
    pub method: Method,
    /// Nominal area, mm².
    pub area_mm2: f64,
    /// Loaded conductors, 2 or 3.
    pub loaded: u8,
    /// Current of each loaded conductor, A.
    pub current_a: f64,
    /// Whether the figure is of the national table.
    pub national: bool,
    /// Whether two independent copies of the figure agree; else one was seen.
    pub two_copies: bool,
}

/// The rows.
#[rustfmt::skip]
pub const ROWS: &[Row] = &[
    Row { insulation: Insulation::Pvc70, method: Method::A1, area_mm2: 1.5, loaded: 2, current_a: 14.5, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::A1, area_mm2: 2.5, loaded: 2, current_a: 19.5, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::A1, area_mm2: 4.0, loaded: 2, current_a: 26.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::A1, area_mm2: 6.0, loaded: 2, current_a: 34.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::A1, area_mm2: 10.0, loaded: 2, current_a: 46.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::A2, area_mm2: 1.5, loaded: 2, current_a: 14.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::A2, area_mm2: 2.5, loaded: 2, current_a: 18.5, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::A2, area_mm2: 4.0, loaded: 2, current_a: 25.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::A2, area_mm2: 6.0, loaded: 2, current_a: 32.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::A2, area_mm2: 10.0, loaded: 2, current_a: 43.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::B1, area_mm2: 1.5, loaded: 2, current_a: 17.5, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::B1, area_mm2: 2.5, loaded: 2, current_a: 24.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::B1, area_mm2: 4.0, loaded: 2, current_a: 32.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::B1, area_mm2: 6.0, loaded: 2, current_a: 41.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::B1, area_mm2: 10.0, loaded: 2, current_a: 57.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::B2, area_mm2: 1.5, loaded: 2, current_a: 16.5, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::B2, area_mm2: 2.5, loaded: 2, current_a: 23.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::B2, area_mm2: 4.0, loaded: 2, current_a: 30.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::B2, area_mm2: 6.0, loaded: 2, current_a: 38.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::B2, area_mm2: 10.0, loaded: 2, current_a: 52.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::C, area_mm2: 1.5, loaded: 2, current_a: 19.5, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::C, area_mm2: 2.5, loaded: 2, current_a: 27.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::C, area_mm2: 4.0, loaded: 2, current_a: 36.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::C, area_mm2: 6.0, loaded: 2, current_a: 46.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::C, area_mm2: 10.0, loaded: 2, current_a: 63.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::D1, area_mm2: 1.5, loaded: 2, current_a: 22.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::D1, area_mm2: 2.5, loaded: 2, current_a: 29.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::D1, area_mm2: 4.0, loaded: 2, current_a: 37.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::D1, area_mm2: 6.0, loaded: 2, current_a: 46.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::D1, area_mm2: 10.0, loaded: 2, current_a: 60.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::D2, area_mm2: 1.5, loaded: 2, current_a: 22.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::D2, area_mm2: 2.5, loaded: 2, current_a: 28.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::D2, area_mm2: 4.0, loaded: 2, current_a: 38.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::D2, area_mm2: 6.0, loaded: 2, current_a: 48.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::D2, area_mm2: 10.0, loaded: 2, current_a: 64.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::E, area_mm2: 1.5, loaded: 2, current_a: 22.0, national: false, two_copies: false },
    Row { insulation: Insulation::Pvc70, method: Method::E, area_mm2: 2.5, loaded: 2, current_a: 30.0, national: false, two_copies: false },
    Row { insulation: Insulation::Pvc70, method: Method::E, area_mm2: 4.0, loaded: 2, current_a: 40.0, national: false, two_copies: false },
    Row { insulation: Insulation::Pvc70, method: Method::E, area_mm2: 6.0, loaded: 2, current_a: 51.0, national: false, two_copies: false },
    Row { insulation: Insulation::Pvc70, method: Method::E, area_mm2: 10.0, loaded: 2, current_a: 70.0, national: false, two_copies: false },
    Row { insulation: Insulation::Xlpe90, method: Method::A1, area_mm2: 1.5, loaded: 2, current_a: 19.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::A1, area_mm2: 2.5, loaded: 2, current_a: 26.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::A1, area_mm2: 4.0, loaded: 2, current_a: 35.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::A1, area_mm2: 6.0, loaded: 2, current_a: 45.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::A1, area_mm2: 10.0, loaded: 2, current_a: 61.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::A2, area_mm2: 1.5, loaded: 2, current_a: 18.5, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::A2, area_mm2: 2.5, loaded: 2, current_a: 25.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::A2, area_mm2: 4.0, loaded: 2, current_a: 33.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::A2, area_mm2: 6.0, loaded: 2, current_a: 42.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::A2, area_mm2: 10.0, loaded: 2, current_a: 57.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::B1, area_mm2: 1.5, loaded: 2, current_a: 23.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::B1, area_mm2: 2.5, loaded: 2, current_a: 31.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::B1, area_mm2: 4.0, loaded: 2, current_a: 42.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::B1, area_mm2: 6.0, loaded: 2, current_a: 54.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::B1, area_mm2: 10.0, loaded: 2, current_a: 75.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::B2, area_mm2: 1.5, loaded: 2, current_a: 22.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::B2, area_mm2: 2.5, loaded: 2, current_a: 30.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::B2, area_mm2: 4.0, loaded: 2, current_a: 40.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::B2, area_mm2: 6.0, loaded: 2, current_a: 51.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::B2, area_mm2: 10.0, loaded: 2, current_a: 69.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::C, area_mm2: 1.5, loaded: 2, current_a: 24.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::C, area_mm2: 2.5, loaded: 2, current_a: 33.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::C, area_mm2: 4.0, loaded: 2, current_a: 45.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::C, area_mm2: 6.0, loaded: 2, current_a: 58.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::C, area_mm2: 10.0, loaded: 2, current_a: 80.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::D1, area_mm2: 1.5, loaded: 2, current_a: 25.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::D1, area_mm2: 2.5, loaded: 2, current_a: 33.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::D1, area_mm2: 4.0, loaded: 2, current_a: 43.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::D1, area_mm2: 6.0, loaded: 2, current_a: 53.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::D1, area_mm2: 10.0, loaded: 2, current_a: 71.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::D2, area_mm2: 1.5, loaded: 2, current_a: 27.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::D2, area_mm2: 2.5, loaded: 2, current_a: 35.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::D2, area_mm2: 4.0, loaded: 2, current_a: 46.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::D2, area_mm2: 6.0, loaded: 2, current_a: 58.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::D2, area_mm2: 10.0, loaded: 2, current_a: 77.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::E, area_mm2: 1.5, loaded: 2, current_a: 26.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::E, area_mm2: 2.5, loaded: 2, current_a: 36.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::E, area_mm2: 4.0, loaded: 2, current_a: 49.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::E, area_mm2: 6.0, loaded: 2, current_a: 63.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::E, area_mm2: 10.0, loaded: 2, current_a: 86.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::A1, area_mm2: 1.5, loaded: 3, current_a: 13.5, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::A1, area_mm2: 2.5, loaded: 3, current_a: 18.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::A1, area_mm2: 4.0, loaded: 3, current_a: 24.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::A1, area_mm2: 6.0, loaded: 3, current_a: 31.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::A1, area_mm2: 10.0, loaded: 3, current_a: 42.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::A2, area_mm2: 1.5, loaded: 3, current_a: 13.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::A2, area_mm2: 2.5, loaded: 3, current_a: 17.5, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::A2, area_mm2: 4.0, loaded: 3, current_a: 23.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::A2, area_mm2: 6.0, loaded: 3, current_a: 29.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::A2, area_mm2: 10.0, loaded: 3, current_a: 39.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::B1, area_mm2: 1.5, loaded: 3, current_a: 15.5, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::B1, area_mm2: 2.5, loaded: 3, current_a: 21.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::B1, area_mm2: 4.0, loaded: 3, current_a: 28.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::B1, area_mm2: 6.0, loaded: 3, current_a: 36.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::B1, area_mm2: 10.0, loaded: 3, current_a: 50.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::B2, area_mm2: 1.5, loaded: 3, current_a: 15.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::B2, area_mm2: 2.5, loaded: 3, current_a: 20.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::B2, area_mm2: 4.0, loaded: 3, current_a: 27.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::B2, area_mm2: 6.0, loaded: 3, current_a: 34.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::B2, area_mm2: 10.0, loaded: 3, current_a: 46.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::C, area_mm2: 1.5, loaded: 3, current_a: 17.5, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::C, area_mm2: 2.5, loaded: 3, current_a: 24.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::C, area_mm2: 4.0, loaded: 3, current_a: 32.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::C, area_mm2: 6.0, loaded: 3, current_a: 41.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::C, area_mm2: 10.0, loaded: 3, current_a: 57.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::D1, area_mm2: 1.5, loaded: 3, current_a: 18.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::D1, area_mm2: 2.5, loaded: 3, current_a: 24.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::D1, area_mm2: 4.0, loaded: 3, current_a: 30.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::D1, area_mm2: 6.0, loaded: 3, current_a: 38.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::D1, area_mm2: 10.0, loaded: 3, current_a: 50.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::D2, area_mm2: 1.5, loaded: 3, current_a: 19.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::D2, area_mm2: 2.5, loaded: 3, current_a: 24.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::D2, area_mm2: 4.0, loaded: 3, current_a: 33.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::D2, area_mm2: 6.0, loaded: 3, current_a: 41.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::D2, area_mm2: 10.0, loaded: 3, current_a: 54.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::E, area_mm2: 1.5, loaded: 3, current_a: 18.5, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::E, area_mm2: 2.5, loaded: 3, current_a: 25.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::E, area_mm2: 4.0, loaded: 3, current_a: 34.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::E, area_mm2: 6.0, loaded: 3, current_a: 43.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::E, area_mm2: 10.0, loaded: 3, current_a: 60.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::A1, area_mm2: 1.5, loaded: 3, current_a: 17.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::A1, area_mm2: 2.5, loaded: 3, current_a: 23.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::A1, area_mm2: 4.0, loaded: 3, current_a: 31.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::A1, area_mm2: 6.0, loaded: 3, current_a: 40.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::A1, area_mm2: 10.0, loaded: 3, current_a: 54.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::A2, area_mm2: 1.5, loaded: 3, current_a: 16.5, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::A2, area_mm2: 2.5, loaded: 3, current_a: 22.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::A2, area_mm2: 4.0, loaded: 3, current_a: 30.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::A2, area_mm2: 6.0, loaded: 3, current_a: 38.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::A2, area_mm2: 10.0, loaded: 3, current_a: 51.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::B1, area_mm2: 1.5, loaded: 3, current_a: 20.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::B1, area_mm2: 2.5, loaded: 3, current_a: 28.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::B1, area_mm2: 4.0, loaded: 3, current_a: 37.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::B1, area_mm2: 6.0, loaded: 3, current_a: 48.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::B1, area_mm2: 10.0, loaded: 3, current_a: 66.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::B2, area_mm2: 1.5, loaded: 3, current_a: 19.5, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::B2, area_mm2: 2.5, loaded: 3, current_a: 26.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::B2, area_mm2: 4.0, loaded: 3, current_a: 35.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::B2, area_mm2: 6.0, loaded: 3, current_a: 44.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::B2, area_mm2: 10.0, loaded: 3, current_a: 60.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::C, area_mm2: 1.5, loaded: 3, current_a: 22.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::C, area_mm2: 2.5, loaded: 3, current_a: 30.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::C, area_mm2: 4.0, loaded: 3, current_a: 40.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::C, area_mm2: 6.0, loaded: 3, current_a: 52.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::C, area_mm2: 10.0, loaded: 3, current_a: 71.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::D1, area_mm2: 1.5, loaded: 3, current_a: 21.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::D1, area_mm2: 2.5, loaded: 3, current_a: 28.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::D1, area_mm2: 4.0, loaded: 3, current_a: 36.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::D1, area_mm2: 6.0, loaded: 3, current_a: 44.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::D1, area_mm2: 10.0, loaded: 3, current_a: 58.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::D2, area_mm2: 1.5, loaded: 3, current_a: 23.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::D2, area_mm2: 2.5, loaded: 3, current_a: 30.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::D2, area_mm2: 4.0, loaded: 3, current_a: 39.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::D2, area_mm2: 6.0, loaded: 3, current_a: 49.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::D2, area_mm2: 10.0, loaded: 3, current_a: 65.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::E, area_mm2: 1.5, loaded: 3, current_a: 23.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::E, area_mm2: 2.5, loaded: 3, current_a: 32.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::E, area_mm2: 4.0, loaded: 3, current_a: 42.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::E, area_mm2: 6.0, loaded: 3, current_a: 54.0, national: false, two_copies: true },
    Row { insulation: Insulation::Xlpe90, method: Method::E, area_mm2: 10.0, loaded: 3, current_a: 75.0, national: false, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::A1, area_mm2: 0.5, loaded: 2, current_a: 7.0, national: true, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::A1, area_mm2: 0.75, loaded: 2, current_a: 9.0, national: true, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::A1, area_mm2: 1.0, loaded: 2, current_a: 11.0, national: true, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::A2, area_mm2: 0.5, loaded: 2, current_a: 7.0, national: true, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::A2, area_mm2: 0.75, loaded: 2, current_a: 9.0, national: true, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::A2, area_mm2: 1.0, loaded: 2, current_a: 11.0, national: true, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::B1, area_mm2: 0.5, loaded: 2, current_a: 9.0, national: true, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::B1, area_mm2: 0.75, loaded: 2, current_a: 11.0, national: true, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::B1, area_mm2: 1.0, loaded: 2, current_a: 14.0, national: true, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::B2, area_mm2: 0.5, loaded: 2, current_a: 9.0, national: true, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::B2, area_mm2: 0.75, loaded: 2, current_a: 11.0, national: true, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::B2, area_mm2: 1.0, loaded: 2, current_a: 13.0, national: true, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::C, area_mm2: 0.5, loaded: 2, current_a: 10.0, national: true, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::C, area_mm2: 0.75, loaded: 2, current_a: 13.0, national: true, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::C, area_mm2: 1.0, loaded: 2, current_a: 15.0, national: true, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::A1, area_mm2: 0.5, loaded: 3, current_a: 7.0, national: true, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::A1, area_mm2: 0.75, loaded: 3, current_a: 9.0, national: true, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::A1, area_mm2: 1.0, loaded: 3, current_a: 10.0, national: true, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::A2, area_mm2: 0.5, loaded: 3, current_a: 7.0, national: true, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::A2, area_mm2: 0.75, loaded: 3, current_a: 9.0, national: true, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::A2, area_mm2: 1.0, loaded: 3, current_a: 10.0, national: true, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::B1, area_mm2: 0.5, loaded: 3, current_a: 8.0, national: true, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::B1, area_mm2: 0.75, loaded: 3, current_a: 10.0, national: true, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::B1, area_mm2: 1.0, loaded: 3, current_a: 12.0, national: true, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::B2, area_mm2: 0.5, loaded: 3, current_a: 8.0, national: true, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::B2, area_mm2: 0.75, loaded: 3, current_a: 10.0, national: true, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::B2, area_mm2: 1.0, loaded: 3, current_a: 12.0, national: true, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::C, area_mm2: 0.5, loaded: 3, current_a: 9.0, national: true, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::C, area_mm2: 0.75, loaded: 3, current_a: 11.0, national: true, two_copies: true },
    Row { insulation: Insulation::Pvc70, method: Method::C, area_mm2: 1.0, loaded: 3, current_a: 14.0, national: true, two_copies: true },
];
