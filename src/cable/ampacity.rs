//! What a conductor may carry, or that no table says.
//!
//! `Iz = table · ambient factor · grouping factor`; every factor is listed with its
//! source. Ampacity tables do not reach small wire: for ordinary 22 to 18 AWG
//! Class 2 cable no code table exists, and the limit of the source governs. So
//! [`NoTable`] is an answer here, not a failure to look: nothing is extrapolated,
//! no size is translated into another system.

use super::installation::Installation;
use super::metal::Metal;
use super::resistance::Conductor;
use super::tables::iec_60364_5_52::{Insulation, Method};
use super::tables::{ambient, grouping, iec_60364_5_52, us_310_16, us_725_144, us_small};
use crate::quantity::{ElectricCurrent, ThermodynamicTemperature, amps, in_celsius};
use crate::source::Source;
use serde::Serialize;
use thiserror::Error;

/// A factor that was applied to the figure of the table.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Correction {
    /// What for: `ambient 45 °C`.
    pub what: String,
    /// The factor.
    pub factor: f64,
    /// Where it comes from.
    pub source: Source,
}

/// What a conductor may carry, with everything that was applied.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Ampacity {
    /// Continuous current under the stated conditions: table times corrections.
    #[serde(with = "crate::quantity::text")]
    pub current: ElectricCurrent,
    /// The figure of the table before corrections.
    #[serde(with = "crate::quantity::text")]
    pub tabulated: ElectricCurrent,
    /// The table.
    pub source: Source,
    /// Id of the table in [`super::tables`]; empty for a stated figure.
    pub table: &'static str,
    /// Factors applied.
    pub corrections: Vec<Correction>,
    /// Greatest overcurrent device that a rule allows for this size, with the rule.
    pub largest_device: Option<DeviceLimit>,
    /// What was assumed or should be known about the figure.
    pub notes: Vec<String>,
}

/// A limit on the overcurrent device of a small conductor.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DeviceLimit {
    /// Greatest rating.
    #[serde(with = "crate::quantity::text")]
    pub rating: ElectricCurrent,
    /// The rule.
    pub source: Source,
}

/// No table covers this cable, used so: an answer, with the table and its range.
#[derive(Debug, Clone, PartialEq, Eq, Error, Serialize)]
#[error("no table covers {what}: {because}; asked: {table}, which covers {covers}")]
#[non_exhaustive]
pub struct NoTable {
    /// What was looked for.
    pub what: String,
    /// Why not.
    pub because: String,
    /// The table asked.
    pub table: String,
    /// What it covers.
    pub covers: String,
}

/// The conditions that an ampacity is asked for.
#[derive(Debug, Clone, Copy)]
pub(super) struct Asked {
    pub conductor: Conductor,
    /// Insulation rating, °C.
    pub rating: Option<f64>,
    /// Ambient, °C.
    pub ambient: f64,
    pub loaded: usize,
    pub installation: Installation,
}

/// Looks an ampacity up.
pub(super) fn look_up(asked: &Asked) -> Result<Ampacity, NoTable> {
    if asked.loaded == 0 || !asked.ambient.is_finite() {
        return Err(asked.none(
            "at least one core must carry current, and the ambient must be a number",
            Source::computed("conditions of use"),
            "one or more loaded conductors",
        ));
    }
    match asked.installation {
        Installation::UsRaceway => asked.us_raceway(),
        Installation::UsFixtureWire => asked.us_fixture_wire(),
        Installation::UsFlexibleCord => asked.us_cord(),
        Installation::UsControlWire => asked.us_control_wire(),
        Installation::UsDataCable { bundle } => asked.us_data_cable(bundle),
        Installation::Iec { method, circuits } => asked.iec(method, circuits),
        Installation::Stated => Err(asked.none(
            "the specification states no ampacity",
            Source::stated("cable specification"),
            "what is stated",
        )),
    }
}

/// The column of a 60/75/90 °C table: the hottest not above the rating.
fn us_column(rating: f64) -> Option<f64> {
    [90.0, 75.0, 60.0]
        .into_iter()
        .find(|column| rating >= *column)
}

impl Asked {
    fn none(&self, because: impl Into<String>, table: Source, covers: &str) -> NoTable {
        NoTable {
            what: format!(
                "{} with {} loaded conductors at {} °C ambient",
                self.conductor,
                self.loaded,
                crate::quantity::show(crate::quantity::celsius(self.ambient))
                    .trim_end_matches(" °C")
            ),
            because: because.into(),
            table: table.to_string(),
            covers: covers.to_string(),
        }
    }

    /// The 60/75/90 °C column, with a note when the rating was not stated.
    fn us_rating(&self, notes: &mut Vec<String>) -> Option<f64> {
        match self.rating {
            Some(rating) => us_column(rating),
            None => {
                notes.push("insulation rating not stated: 60 °C assumed".to_string());
                Some(60.0)
            }
        }
    }

    fn us_ambient(&self, column: f64, table: &Source) -> Result<Correction, NoTable> {
        factor_for_ambient(ambient::Family::Us, column, self.ambient)
            .map(|factor| Correction {
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

    fn us_grouping(&self) -> Option<Correction> {
        let factor = factor_for_group(grouping::Family::Us, self.loaded)?;
        Some(Correction {
            what: format!("{} current-carrying conductors together", self.loaded),
            factor,
            source: grouping::US,
        })
    }

    fn ambient_text(&self) -> String {
        let text = crate::quantity::show(crate::quantity::celsius(self.ambient));
        text.trim_end_matches(" °C").to_string()
    }

    /// A table without correction factors of its own holds to its 30 °C and to `most` conductors.
    fn only_as_printed(&self, source: &Source, covers: &str, most: usize) -> Result<(), NoTable> {
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

    fn copper_only(&self, source: &Source, covers: &str) -> Result<(), NoTable> {
        match self.conductor.metal {
            Metal::Copper | Metal::TinnedCopper => Ok(()),
            metal => Err(self.none(
                format!("the table is for copper, and the metal is {metal}"),
                source.clone(),
                covers,
            )),
        }
    }

    fn gauge(&self, source: &Source, covers: &str) -> Result<i8, NoTable> {
        self.conductor
            .size
            .gauge_number()
            .ok_or_else(|| self.none("the table lists gauges", source.clone(), covers))
    }

    fn us_raceway(&self) -> Result<Ampacity, NoTable> {
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
        let Some(tabulated) = cell else {
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
        Ok(finish(
            tabulated,
            source,
            us_310_16::TABLE.id,
            corrections,
            largest_device,
            notes,
        ))
    }

    fn us_fixture_wire(&self) -> Result<Ampacity, NoTable> {
        let (source, covers) = (us_small::FIXTURE_WIRE, us_small::TABLE.covers);
        let tabulated = self.us_small(us_small::Part::FixtureWire, &source)?;
        self.only_as_printed(&source, covers, 3)?;
        Ok(finish(
            tabulated,
            source,
            us_small::TABLE.id,
            Vec::new(),
            None,
            Vec::new(),
        ))
    }

    fn us_cord(&self) -> Result<Ampacity, NoTable> {
        let (source, covers) = (us_small::FLEXIBLE_CORD, us_small::TABLE.covers);
        let part = if self.loaded <= 2 {
            us_small::Part::CordTwo
        } else {
            us_small::Part::CordThree
        };
        let tabulated = self.us_small(part, &source)?;
        self.only_as_printed(&source, covers, 3)?;
        Ok(finish(
            tabulated,
            source,
            us_small::TABLE.id,
            Vec::new(),
            None,
            Vec::new(),
        ))
    }

    fn us_control_wire(&self) -> Result<Ampacity, NoTable> {
        let (source, covers) = (us_small::CONTROL_WIRE, us_small::TABLE.covers);
        let mut notes =
            vec!["the table is written for permanent amusement attractions only".to_string()];
        let part = match self.us_rating(&mut notes) {
            Some(60.0) => us_small::Part::Control60,
            Some(_) => us_small::Part::Control75,
            None => {
                return Err(self.none("the insulation is rated below 60 °C", source, covers));
            }
        };
        let tabulated = self.us_small(part, &source)?;
        self.only_as_printed(&source, covers, 3)?;
        Ok(finish(
            tabulated,
            source,
            us_small::TABLE.id,
            Vec::new(),
            None,
            notes,
        ))
    }

    fn us_small(&self, part: us_small::Part, source: &Source) -> Result<f64, NoTable> {
        let covers = us_small::TABLE.covers;
        let gauge = self.gauge(source, covers)?;
        self.copper_only(source, covers)?;
        us_small::ROWS
            .iter()
            .find(|row| row.part == part && row.gauge == gauge)
            .map(|row| row.current_a)
            .ok_or_else(|| self.none("the table lacks this size", source.clone(), covers))
    }

    fn us_data_cable(&self, bundle: u16) -> Result<Ampacity, NoTable> {
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
        let tabulated = match column {
            90.0 => row.at_90_a,
            75.0 => row.at_75_a,
            _ => row.at_60_a,
        };
        let corrections = vec![self.us_ambient(column, &source)?];
        Ok(finish(
            tabulated,
            source,
            us_725_144::TABLE.id,
            corrections,
            None,
            notes,
        ))
    }

    fn iec(&self, method: Method, circuits: u16) -> Result<Ampacity, NoTable> {
        let (source, covers) = (iec_60364_5_52::SOURCE, iec_60364_5_52::TABLE.covers);
        let no = |because: String| self.none(because, source.clone(), covers);
        let area = self
            .conductor
            .size
            .nominal_mm2()
            .ok_or_else(|| no("the table lists mm² sizes".to_string()))?;
        self.copper_only(&source, covers)?;
        if self.loaded > 2 {
            return Err(no("the table is for two loaded conductors".to_string()));
        }
        let mut notes = Vec::new();
        let (insulation, rating) = match self.rating {
            Some(r) if r >= 90.0 => (Insulation::Xlpe90, 90.0),
            Some(r) if r >= 70.0 => (Insulation::Pvc70, 70.0),
            Some(r) => return Err(no(format!("the insulation is rated {r} °C, below 70 °C"))),
            None => {
                notes.push("insulation rating not stated: PVC, 70 °C assumed".to_string());
                (Insulation::Pvc70, 70.0)
            }
        };
        // The PVC figures hold for any insulation that bears 70 °C; the national table lists PVC only.
        let row = iec_60364_5_52::ROWS
            .iter()
            .find(|row| {
                row.insulation == insulation && row.method == method && row.area_mm2 == area
            })
            .ok_or_else(|| no("the table lacks this size, insulation and method".to_string()))?;
        if !row.two_copies {
            notes
                .push("one copy of this figure was seen, no second to compare it with".to_string());
        }
        let mut corrections = Vec::new();
        if matches!(method, Method::D1 | Method::D2) {
            if !(self.ambient <= 20.0) {
                return Err(no(
                    "no factor for ground hotter than 20 °C is carried".to_string()
                ));
            }
        } else {
            let factor = factor_for_ambient(ambient::Family::Iec, rating, self.ambient)
                .ok_or_else(|| {
                    self.none(
                        format!("no ambient factor for {} °C", self.ambient_text()),
                        ambient::IEC,
                        ambient::TABLE.covers,
                    )
                })?;
            corrections.push(Correction {
                what: format!("ambient {} °C", self.ambient_text()),
                factor,
                source: ambient::IEC,
            });
        }
        if circuits != 1 {
            let factor = factor_for_group(grouping::Family::Iec, usize::from(circuits))
                .ok_or_else(|| {
                    self.none(
                        format!("no grouping factor for {circuits} circuits"),
                        grouping::IEC,
                        grouping::TABLE.covers,
                    )
                })?;
            corrections.push(Correction {
                what: format!("{circuits} circuits bunched"),
                factor,
                source: grouping::IEC,
            });
        }
        let source = if row.national {
            iec_60364_5_52::SMALL_SIZES
        } else {
            source.clone()
        };
        Ok(finish(
            row.current_a,
            source,
            iec_60364_5_52::TABLE.id,
            corrections,
            None,
            notes,
        ))
    }
}

fn finish(
    tabulated: f64,
    source: Source,
    table: &'static str,
    mut corrections: Vec<Correction>,
    largest_device: Option<DeviceLimit>,
    notes: Vec<String>,
) -> Ampacity {
    corrections.retain(|correction| correction.factor != 1.0);
    let factor: f64 = corrections
        .iter()
        .map(|correction| correction.factor)
        .product();
    Ampacity {
        current: amps(tabulated * factor),
        tabulated: amps(tabulated),
        source,
        table,
        corrections,
        largest_device,
        notes,
    }
}

/// The printed factor of the first listed ambient that is not cooler. `None` above the table.
#[must_use]
pub fn factor_for_ambient(family: ambient::Family, rating: f64, celsius: f64) -> Option<f64> {
    ambient::ROWS
        .iter()
        .filter(|row| row.family == family && row.rating_celsius == rating)
        .find(|row| celsius <= row.ambient_to_celsius)
        .map(|row| row.factor)
}

/// The printed factor of the first listed count that is not smaller. `None` for none or above the table.
#[must_use]
pub fn factor_for_group(family: grouping::Family, count: usize) -> Option<f64> {
    let count = u32::try_from(count).ok().filter(|count| *count > 0)?;
    grouping::ROWS
        .iter()
        .filter(|row| row.family == family)
        .find(|row| count <= row.count_to)
        .map(|row| row.factor)
}

/// The factor that the tables print rounded: `sqrt((Tc − Ta) / (Tc − reference))`.
///
/// `None` where the ambient reaches the rating, or nothing is left above the reference.
///
/// # Source
/// National Electrical Code, NFPA 70-2023, 310.15(B)(1).
#[must_use]
pub fn ambient_factor_by_formula(
    rating: ThermodynamicTemperature,
    ambient: ThermodynamicTemperature,
    reference: ThermodynamicTemperature,
) -> Option<f64> {
    let (tc, ta, t0) = (
        in_celsius(rating),
        in_celsius(ambient),
        in_celsius(reference),
    );
    (tc > ta && tc > t0).then(|| libm::sqrt((tc - ta) / (tc - t0)))
}
