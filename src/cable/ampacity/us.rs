//! Ampacity by the tables of the US code.

use super::look_up::Asked;
use super::{
    Ampacity, Correction, CorrectionKind, DeviceLimit, NoTable, column_taken, factor_for_ambient,
    factor_for_group, tabulated,
};
use crate::cable::metal::Metal;
use crate::cable::tables::{ambient, grouping, us_310_16, us_725_144, us_small};
use crate::quantity::amps;
use crate::source::Source;

/// The column of a 60/75/90 °C table: the hottest not above the rating.
fn us_column(rating: f64) -> Option<f64> {
    [90.0, 75.0, 60.0]
        .into_iter()
        .find(|column| rating >= *column)
}

impl Asked {
    /// The 60/75/90 °C column, with a note when the rating was not stated.
    pub(super) fn us_rating(&self, notes: &mut Vec<String>) -> Option<f64> {
        match self.rating {
            Some(rating) => {
                let column = us_column(rating)?;
                if rating > column {
                    notes.push(column_taken(rating, column));
                }
                Some(column)
            }
            None => {
                notes.push("insulation rating not stated: 60 °C assumed".to_string());
                Some(60.0)
            }
        }
    }

    pub(super) fn us_ambient(&self, column: f64, table: &Source) -> Result<Correction, NoTable> {
        factor_for_ambient(ambient::Family::Us, column, self.ambient)
            .map(|factor| Correction {
                kind: CorrectionKind::Ambient,
                what: format!("ambient {} °C", self.ambient_text()),
                factor,
                source: ambient::US,
            })
            .ok_or_else(|| {
                self.none(
                    format!(
                        "no ambient factor for {} °C with {column} °C conductors",
                        self.ambient_text()
                    ),
                    table.clone(),
                    ambient::TABLE.covers,
                )
            })
    }

    pub(super) fn us_grouping(&self) -> Option<Correction> {
        let factor = factor_for_group(grouping::Family::Us, self.loaded)?;
        Some(Correction {
            kind: CorrectionKind::Grouping,
            what: format!("{} current-carrying conductors together", self.loaded),
            factor,
            source: grouping::US,
        })
    }

    /// A table without correction factors of its own holds to its 30 °C and to `most` conductors.
    pub(super) fn only_as_printed(
        &self,
        source: &Source,
        covers: &str,
        most: usize,
    ) -> Result<(), NoTable> {
        if !(self.ambient <= 30.0) {
            return Err(self.none(
                "the table is for 30 °C ambient and carries no factors for a hotter one",
                source.clone(),
                covers,
            ));
        }
        if self.loaded > most {
            return Err(self.none(
                format!("the table carries no factors for more than {most} loaded conductors"),
                source.clone(),
                covers,
            ));
        }
        Ok(())
    }

    pub(super) fn gauge(&self, source: &Source, covers: &str) -> Result<i8, NoTable> {
        self.conductor
            .size
            .gauge_number()
            .ok_or_else(|| self.none("the table lists gauges", source.clone(), covers))
    }

    pub(super) fn us_raceway(&self) -> Result<Ampacity, NoTable> {
        let (source, covers) = (us_310_16::SOURCE, us_310_16::TABLE.covers);
        let gauge = self.gauge(&source, covers)?;
        let mut notes = Vec::new();
        let column = self.us_rating(&mut notes).ok_or_else(|| {
            self.none(
                "the insulation is rated below 60 °C",
                source.clone(),
                covers,
            )
        })?;
        let copper = matches!(self.conductor.metal, Metal::Copper | Metal::TinnedCopper);
        if self.conductor.metal == Metal::Unknown {
            notes.push("metal not stated: the aluminium column is taken".to_string());
        }
        let row = us_310_16::ROWS.iter().find(|row| row.gauge == gauge);
        let cell = row.and_then(|row| match (copper, column) {
            (true, 90.0) => row.copper_90_a,
            (true, 75.0) => row.copper_75_a,
            (true, _) => row.copper_60_a,
            (false, 90.0) => row.aluminium_90_a,
            (false, 75.0) => row.aluminium_75_a,
            (false, _) => row.aluminium_60_a,
        });
        let Some(current) = cell else {
            return Err(self.none(
                format!("no figure in the {column} °C column for this size and metal"),
                source,
                covers,
            ));
        };
        let mut corrections = vec![self.us_ambient(column, &source)?];
        corrections.extend(self.us_grouping());
        let largest_device = row
            .filter(|_| copper)
            .and_then(|row| row.copper_overcurrent_a)
            .map(|rating| DeviceLimit {
                rating: amps(rating),
                source: us_310_16::OVERCURRENT,
            });
        let mut found = tabulated(current, source, us_310_16::TABLE.id)
            .between(column, 30.0)
            .corrected(corrections)
            .noting(notes);
        found.largest_device = largest_device;
        Ok(found)
    }

    pub(super) fn us_fixture_wire(&self) -> Result<Ampacity, NoTable> {
        self.us_small(
            us_small::Part::FixtureWire,
            us_small::FIXTURE_WIRE,
            Vec::new(),
        )
    }

    pub(super) fn us_cord(&self) -> Result<Ampacity, NoTable> {
        let part = if self.loaded <= 2 {
            us_small::Part::CordTwo
        } else {
            us_small::Part::CordThree
        };
        let few = Self {
            loaded: self.loaded.min(3),
            ..*self
        };
        let found = few.us_small(part, us_small::FLEXIBLE_CORD, Vec::new())?;
        let factor = factor_for_group(grouping::Family::UsCord, self.loaded);
        Ok(found.corrected(vec![Correction {
            kind: CorrectionKind::Grouping,
            what: format!("{} current-carrying conductors in one cord", self.loaded),
            factor: factor.unwrap_or(1.0),
            source: grouping::US_CORD,
        }]))
    }

    pub(super) fn us_control_wire(&self) -> Result<Ampacity, NoTable> {
        let source = us_small::CONTROL_WIRE;
        let mut notes =
            vec!["the table is written for permanent amusement attractions only".to_string()];
        let part = match self.us_rating(&mut notes) {
            Some(60.0) => us_small::Part::Control60,
            Some(_) => us_small::Part::Control75,
            None => {
                let covers = us_small::Part::Control60.covers();
                return Err(self.none("the insulation is rated below 60 °C", source, covers));
            }
        };
        self.us_small(part, source, notes)
    }

    fn us_small(
        &self,
        part: us_small::Part,
        source: Source,
        notes: Vec<String>,
    ) -> Result<Ampacity, NoTable> {
        let covers = part.covers();
        let gauge = self.gauge(&source, covers)?;
        self.copper_only(&source, covers)?;
        let current = us_small::ROWS
            .iter()
            .find(|row| row.part == part && row.gauge == gauge)
            .map(|row| row.current_a)
            .ok_or_else(|| self.none("the table lacks this size", source.clone(), covers))?;
        self.only_as_printed(&source, covers, 3)?;
        Ok(tabulated(current, source, us_small::TABLE.id).noting(notes))
    }

    pub(super) fn us_data_cable(&self, bundle: u16) -> Result<Ampacity, NoTable> {
        let (source, covers) = (us_725_144::SOURCE, us_725_144::TABLE.covers);
        let gauge = self.gauge(&source, covers)?;
        self.copper_only(&source, covers)?;
        let mut notes = vec![
            "per conductor of a four-pair data cable with all conductors loaded; the 2020 edition changed these figures".to_string(),
        ];
        let column = self.us_rating(&mut notes).ok_or_else(|| {
            self.none(
                "the insulation is rated below 60 °C",
                source.clone(),
                covers,
            )
        })?;
        let row = us_725_144::ROWS
            .iter()
            .find(|row| row.gauge == gauge && (row.bundle_from..=row.bundle_to).contains(&bundle))
            .ok_or_else(|| {
                self.none(
                    "the table lacks this size and bundle",
                    source.clone(),
                    covers,
                )
            })?;
        let current = match column {
            90.0 => row.at_90_a,
            75.0 => row.at_75_a,
            _ => row.at_60_a,
        };
        let corrections = vec![self.us_ambient(column, &source)?];
        Ok(tabulated(current, source, us_725_144::TABLE.id)
            .between(column, 30.0)
            .corrected(corrections)
            .noting(notes))
    }
}
