//! Small conductors of the US code: fixture wire 402.5, flexible cord 400.5(A)(1),
//! control wire 522.22, and the overcurrent limits of 725.43.
//!
//! There is no code ampacity table for ordinary 22 to 18 AWG multi-conductor
//! Class 2 cable: there the limit of the source governs. 522.22 is written for one
//! kind of premises (permanent amusement attractions) and is the only code table
//! of its sort; whether it may be borrowed is not for this crate to say.

use super::Table;
use crate::source::{Source, documents};
use serde::Serialize;

/// Fixture wire.
pub const FIXTURE_WIRE: Source = documents::NEC.at("table 402.5, figures of 2017").quoted();
/// Flexible cord.
pub const FLEXIBLE_CORD: Source = documents::NEC
    .at("table 400.5(A)(1), figures of 2017")
    .quoted();
/// Control wire of permanent amusement attractions.
pub const CONTROL_WIRE: Source = documents::NEC.at("table 522.22, figures of 2017").quoted();
/// Overcurrent limits of Class 1 circuits.
pub const CLASS_1_OVERCURRENT: Source = documents::NEC.at("725.43 in the numbers of 2017").quoted();

/// The table, for citation.
pub const TABLE: Table = Table {
    id: "us-code-small-conductors",
    covers: "402.5: 18 to 10 AWG; 400.5(A)(1): 18 to 10 AWG; 522.22: 30 to 16 AWG; 725.43: 18 and 16 AWG (overcurrent limit)",
    source: documents::NEC
        .at("tables 402.5, 400.5(A)(1), 522.22 and clause 725.43, numbers and figures of 2017")
        .quoted(),
    csv: || super::rows_as_csv(ROWS),
};

/// Which of the small tables.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub enum Part {
    /// 402.5, any insulation of table 402.3.
    FixtureWire,
    /// 400.5(A)(1) column A: three current-carrying conductors.
    CordThree,
    /// 400.5(A)(1) column B: two current-carrying conductors.
    CordTwo,
    /// 400.5(A)(1), heater cord types.
    HeaterCord,
    /// 522.22, 60 °C insulation.
    Control60,
    /// 522.22, 75 °C insulation.
    Control75,
    /// 725.43: a limit of the overcurrent device, not an ampacity.
    Class1Overcurrent,
}

impl Part {
    /// What this part covers; a lookup outside is refused with these words.
    #[must_use]
    pub const fn covers(self) -> &'static str {
        match self {
            Self::FixtureWire => "18 to 10 AWG, even gauges, copper, 30 °C ambient",
            Self::CordThree => "18 to 10 AWG, copper, three loaded conductors, 30 °C ambient",
            Self::CordTwo => "18 to 10 AWG, copper, two loaded conductors, 30 °C ambient",
            Self::HeaterCord => "18 to 10 AWG, copper, heater cords",
            Self::Control60 => "24 to 16 AWG, even gauges, copper, 60 °C insulation, 30 °C ambient",
            Self::Control75 => "30 to 16 AWG, even gauges, copper, 75 °C insulation, 30 °C ambient",
            Self::Class1Overcurrent => "18 and 16 AWG: a limit of the overcurrent device",
        }
    }
}

/// One row: one gauge of one part.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Row {
    /// Which table.
    pub part: Part,
    /// Gauge number.
    pub gauge: i8,
    /// Current, A.
    pub current_a: f64,
}

/// The rows.
#[rustfmt::skip]
pub const ROWS: &[Row] = &[
    Row { part: Part::FixtureWire, gauge: 18, current_a: 6.0 },
    Row { part: Part::FixtureWire, gauge: 16, current_a: 8.0 },
    Row { part: Part::FixtureWire, gauge: 14, current_a: 17.0 },
    Row { part: Part::FixtureWire, gauge: 12, current_a: 23.0 },
    Row { part: Part::FixtureWire, gauge: 10, current_a: 28.0 },
    Row { part: Part::CordThree, gauge: 18, current_a: 7.0 },
    Row { part: Part::CordTwo, gauge: 18, current_a: 10.0 },
    Row { part: Part::HeaterCord, gauge: 18, current_a: 10.0 },
    Row { part: Part::CordThree, gauge: 17, current_a: 9.0 },
    Row { part: Part::CordTwo, gauge: 17, current_a: 12.0 },
    Row { part: Part::HeaterCord, gauge: 17, current_a: 13.0 },
    Row { part: Part::CordThree, gauge: 16, current_a: 10.0 },
    Row { part: Part::CordTwo, gauge: 16, current_a: 13.0 },
    Row { part: Part::HeaterCord, gauge: 16, current_a: 15.0 },
    Row { part: Part::CordThree, gauge: 15, current_a: 12.0 },
    Row { part: Part::CordTwo, gauge: 15, current_a: 16.0 },
    Row { part: Part::HeaterCord, gauge: 15, current_a: 17.0 },
    Row { part: Part::CordThree, gauge: 14, current_a: 15.0 },
    Row { part: Part::CordTwo, gauge: 14, current_a: 18.0 },
    Row { part: Part::HeaterCord, gauge: 14, current_a: 20.0 },
    Row { part: Part::CordThree, gauge: 13, current_a: 17.0 },
    Row { part: Part::CordTwo, gauge: 13, current_a: 21.0 },
    Row { part: Part::CordThree, gauge: 12, current_a: 20.0 },
    Row { part: Part::CordTwo, gauge: 12, current_a: 25.0 },
    Row { part: Part::HeaterCord, gauge: 12, current_a: 30.0 },
    Row { part: Part::CordThree, gauge: 11, current_a: 23.0 },
    Row { part: Part::CordTwo, gauge: 11, current_a: 27.0 },
    Row { part: Part::CordThree, gauge: 10, current_a: 25.0 },
    Row { part: Part::CordTwo, gauge: 10, current_a: 30.0 },
    Row { part: Part::HeaterCord, gauge: 10, current_a: 35.0 },
    Row { part: Part::Control75, gauge: 30, current_a: 0.5 },
    Row { part: Part::Control75, gauge: 28, current_a: 0.8 },
    Row { part: Part::Control75, gauge: 26, current_a: 1.0 },
    Row { part: Part::Control60, gauge: 24, current_a: 2.0 },
    Row { part: Part::Control75, gauge: 24, current_a: 2.0 },
    Row { part: Part::Control60, gauge: 22, current_a: 3.0 },
    Row { part: Part::Control75, gauge: 22, current_a: 3.0 },
    Row { part: Part::Control60, gauge: 20, current_a: 5.0 },
    Row { part: Part::Control75, gauge: 20, current_a: 5.0 },
    Row { part: Part::Control60, gauge: 18, current_a: 7.0 },
    Row { part: Part::Control75, gauge: 18, current_a: 7.0 },
    Row { part: Part::Control60, gauge: 16, current_a: 10.0 },
    Row { part: Part::Control75, gauge: 16, current_a: 10.0 },
    Row { part: Part::Class1Overcurrent, gauge: 18, current_a: 7.0 },
    Row { part: Part::Class1Overcurrent, gauge: 16, current_a: 10.0 },
];
