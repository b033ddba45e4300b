//! The question that an ampacity table is asked, and which table is asked.

use super::{Ampacity, NoTable};
use crate::cable::installation::Installation;
use crate::cable::metal::Metal;
use crate::cable::resistance::Conductor;
use crate::source::Source;

/// The conditions that an ampacity is asked for.
#[derive(Debug, Clone, Copy)]
pub(in crate::cable) struct Asked {
    pub conductor: Conductor,
    /// Insulation rating, °C.
    pub rating: Option<f64>,
    /// Ambient, °C.
    pub ambient: f64,
    pub loaded: usize,
    pub installation: Installation,
}

/// Looks an ampacity up.
pub(in crate::cable) fn look_up(asked: &Asked) -> Result<Ampacity, NoTable> {
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

impl Asked {
    pub(super) fn none(&self, because: impl Into<String>, table: Source, covers: &str) -> NoTable {
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

    pub(super) fn ambient_text(&self) -> String {
        let text = crate::quantity::show(crate::quantity::celsius(self.ambient));
        text.trim_end_matches(" °C").to_string()
    }

    pub(super) fn copper_only(&self, source: &Source, covers: &str) -> Result<(), NoTable> {
        match self.conductor.metal {
            Metal::Copper | Metal::TinnedCopper => Ok(()),
            metal => Err(self.none(
                format!("the table is for copper, and the metal is {metal}"),
                source.clone(),
                covers,
            )),
        }
    }
}
