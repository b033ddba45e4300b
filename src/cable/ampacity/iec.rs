//! Ampacity by the tables of IEC 60364-5-52.

use super::look_up::Asked;
use super::{
    Ampacity, Correction, CorrectionKind, NoTable, column_taken, factor_for_ambient,
    factor_for_group, tabulated,
};
use crate::cable::tables::iec_60364_5_52::{Insulation, Method};
use crate::cable::tables::{ambient, grouping, iec_60364_5_52};

impl Asked {
    pub(super) fn iec(&self, method: Method, circuits: u16) -> Result<Ampacity, NoTable> {
        let (source, covers) = (iec_60364_5_52::SOURCE, iec_60364_5_52::TABLE.covers);
        let no = |because: String| self.none(because, source.clone(), covers);
        let area = self
            .conductor
            .size
            .nominal_mm2()
            .ok_or_else(|| no("the table lists mm² sizes".to_string()))?;
        self.copper_only(&source, covers)?;
        let loaded = if self.loaded > 2 { 3 } else { 2 };
        let mut notes = Vec::new();
        let (insulation, rating) = match self.rating {
            Some(r) if r >= 70.0 => {
                let (insulation, column) = if r >= 90.0 {
                    (Insulation::Xlpe90, 90.0)
                } else {
                    (Insulation::Pvc70, 70.0)
                };
                if r > column {
                    notes.push(column_taken(r, column));
                }
                (insulation, column)
            }
            Some(r) => return Err(no(format!("the insulation is rated {r} °C, below 70 °C"))),
            None => {
                notes.push("insulation rating not stated: PVC, 70 °C assumed".to_string());
                (Insulation::Pvc70, 70.0)
            }
        };
        let listed = |insulation: Insulation| {
            iec_60364_5_52::ROWS.iter().find(|row| {
                row.insulation == insulation
                    && row.method == method
                    && row.area_mm2 == area
                    && row.loaded == loaded
            })
        };
        // The PVC figures hold for any insulation that bears 70 °C; the national sizes have no others.
        let (row, rating) = match (listed(insulation), listed(Insulation::Pvc70)) {
            (Some(row), _) => (row, rating),
            (None, Some(row)) => {
                notes.push("no 90 °C figure for this size: the 70 °C figure is taken".to_string());
                (row, 70.0)
            }
            (None, None) => {
                return Err(no(
                    "the table lacks this size, insulation and method".to_string()
                ));
            }
        };
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
                kind: CorrectionKind::Ambient,
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
                kind: CorrectionKind::Grouping,
                what: format!("{circuits} circuits bunched"),
                factor,
                source: grouping::IEC,
            });
        }
        if self.loaded > 3 {
            corrections.push(self.many_cores(method)?);
            notes.push(
                "IEC 60364-5-52 has no factor for more than three loaded cores: that of DIN VDE 0298-4, whose own \
                 currents are those of its table 11, is taken of the three-core current"
                    .to_string(),
            );
        }
        let source = if row.national {
            iec_60364_5_52::SMALL_SIZES
        } else {
            source.clone()
        };
        let reference = if matches!(method, Method::D1 | Method::D2) {
            20.0
        } else {
            30.0
        };
        Ok(tabulated(row.current_a, source, iec_60364_5_52::TABLE.id)
            .between(rating, reference)
            .corrected(corrections)
            .noting(notes))
    }
    /// The factor for more than three loaded cores of one cable.
    fn many_cores(&self, method: Method) -> Result<Correction, NoTable> {
        let covers = "5 to 61 loaded cores of one cable up to 10 mm², in air";
        let in_air = !matches!(method, Method::D1 | Method::D2);
        let factor = in_air
            .then(|| factor_for_group(grouping::Family::VdeCores, self.loaded))
            .flatten();
        let factor = factor.ok_or_else(|| {
            let because = if in_air {
                format!("{} cores are loaded", self.loaded)
            } else {
                "more than three cores are loaded in the ground".to_string()
            };
            self.none(because, grouping::VDE_CORES, covers)
        })?;
        Ok(Correction {
            kind: CorrectionKind::Grouping,
            what: format!("{} loaded cores in one cable", self.loaded),
            factor,
            source: grouping::VDE_CORES,
        })
    }
}
