//! A schedule in the units of the job: what is printed changes, what is written to a file does not.

use super::{CELSIUS, Cell, KILOGRAM, METRE, MILLIMETRE, Schedule, Unit, WATT_PER_METRE};
use crate::design::LengthUnits;
use crate::exact::ExactLength;
use crate::report::lengths::{feet, figures};

/// Columns of words that hold lengths and temperatures: schedule and key.
const IN_WORDS: &[(&str, &str)] = &[
    ("assumptions", "assumed"),
    ("choices", "binding"),
    ("choices", "runner_up"),
    ("choices", "reason"),
    ("cuts", "label"),
    ("feeds", "node"),
    ("cables", "from"),
    ("cables", "to"),
    ("cables", "not_evaluated"),
    ("materials", "item"),
    ("materials", "needed"),
    ("materials", "pack"),
    ("materials", "used"),
    ("protection", "answer"),
    ("runs", "environment"),
];

impl Schedule {
    /// Figures as a job in feet has them: feet and inches, °F, pounds, watts a foot. Other jobs: as they are.
    pub(in crate::report) fn shown_in(mut self, units: LengthUnits) -> Self {
        if units != LengthUnits::Us {
            return self;
        }
        for (at, column) in self.columns.iter_mut().enumerate() {
            let in_words = IN_WORDS.contains(&(self.key, column.key.as_str()));
            let as_us = of_unit(column.unit);
            for cell in self.rows.iter_mut().filter_map(|row| row.get_mut(at)) {
                match cell {
                    Cell::Words(words) if in_words => *words = figures(units, words),
                    Cell::Figure { printed, written } => {
                        let number = written.parse::<f64>();
                        if let (Some((_, show)), Ok(number)) = (as_us, number) {
                            *printed = show(number);
                        }
                    }
                    _ => {}
                }
            }
            if let Some((symbol, _)) = as_us {
                column.unit.symbol = symbol;
            }
        }
        self
    }
}

/// A figure as it is printed.
type Show = fn(f64) -> String;

/// The symbol in print, and how a figure is said; none for what is said alike.
fn of_unit(unit: Unit) -> Option<(&'static str, Show)> {
    match unit {
        METRE => Some(("", |metres| in_feet(metres))),
        MILLIMETRE => Some(("", |millimetres| in_feet(millimetres / 1000.0))),
        CELSIUS => Some(("°F", |celsius| format!("{:.0}", celsius * 1.8 + 32.0))),
        KILOGRAM => Some(("lb", |kilograms| format!("{:.3}", kilograms / 0.453_592_37))),
        WATT_PER_METRE => Some(("W/ft", |watts| format!("{:.1}", watts * 0.3048))),
        _ => None,
    }
}

fn in_feet(metres: f64) -> String {
    let nanometres = (metres * 1e9).round();
    if nanometres.abs() < 1e18 {
        feet(ExactLength::from_nanometres(nanometres as i64))
    } else {
        format!("{:.0} ft", metres / 0.3048)
    }
}
