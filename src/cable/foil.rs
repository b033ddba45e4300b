//! Copper tracks on tape: sheet resistance, and how thick "2 oz" may really be.
//!
//! ```text
//! sheet resistance  Rs = ρ / t          track  R' = Rs (1 + 0.003 93 (T − 20 °C)) / (n w)
//! ```
//!
//! `w` is the mean of top and bottom width after etching, `n` the number of equal
//! layers in parallel. Base foil may be as thin as 24.9 µm (1 oz) or 55.7 µm (2 oz)
//! after processing: up to 41 % and 26 % more resistance than 35 and 70 µm. And "2 oz"
//! may be one layer of 70 µm or 35 µm on each of two faces: ask.

use super::resistance::TemperatureRule;
use super::tables::{foil, materials};
use crate::quantity::{
    Length, LinearResistance, ThermodynamicTemperature, micrometres, ohms_per_metre, show_in,
};
use thiserror::Error;

/// Most layers in parallel.
pub const MOST_LAYERS: u32 = 16;

/// A track that cannot be.
#[derive(Debug, Clone, PartialEq, Error)]
#[error(
    "a track of {thickness} m by {width} m in {layers} layers: thickness and width must be above zero, layers 1 to {MOST_LAYERS}"
)]
#[non_exhaustive]
pub struct TrackError {
    /// Finished thickness of one layer, m.
    pub thickness: f64,
    /// Mean width, m.
    pub width: f64,
    /// Layers.
    pub layers: u32,
}

/// A copper track: finished thickness of one layer, mean width, equal layers in parallel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Track {
    thickness: f64,
    width: f64,
    layers: u32,
}

impl Track {
    /// A track.
    ///
    /// # Errors
    /// [`TrackError`].
    ///
    /// # Example
    /// ```
    /// use evenrun::cable::foil::Track;
    /// use evenrun::quantity::{celsius, micrometres, millimetres};
    /// let track = Track::new(micrometres(70.0), millimetres(3.0), 1)?;
    /// assert!((track.resistance(celsius(20.0)).value - 0.0821018).abs() < 1e-7); // 82.10 mΩ/m
    /// # Ok::<(), evenrun::cable::foil::TrackError>(())
    /// ```
    pub fn new(thickness: Length, width: Length, layers: u32) -> Result<Self, TrackError> {
        let (thickness, width) = (thickness.value, width.value);
        let sound = |x: f64| x > 0.0 && x.is_finite();
        if !(sound(thickness) && sound(width) && (1..=MOST_LAYERS).contains(&layers)) {
            return Err(TrackError {
                thickness,
                width,
                layers,
            });
        }
        Ok(Self {
            thickness,
            width,
            layers,
        })
    }

    /// Resistance per length at a copper temperature.
    #[must_use]
    pub fn resistance(&self, at: ThermodynamicTemperature) -> LinearResistance {
        let sheet = sheet_ohms(self.thickness) * TemperatureRule::COPPER.factor(at);
        ohms_per_metre(sheet / (self.width * f64::from(self.layers)))
    }
}

/// Sheet resistance of annealed copper at 20 °C, Ω per square, from the thickness in metres.
#[must_use]
pub fn sheet_ohms(thickness: f64) -> f64 {
    materials::COPPER_OHM_METRE / thickness
}

/// How thick one layer of foil sold by weight may be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FoilThickness {
    /// As little as may be left after processing, unplated; where the table has it.
    pub least: Option<Length>,
    /// What the weight comes to in solid copper.
    pub nominal: Length,
    /// What the trade rounds it to: 35 µm per ounce.
    pub conventional: Length,
}

impl FoilThickness {
    /// The thickness of one layer of so many ounces per square foot. `None` unless above zero, 10 at most.
    #[must_use]
    pub fn of_ounces(ounces: f64) -> Option<Self> {
        if !(ounces > 0.0 && ounces <= 10.0) {
            return None;
        }
        let wanted = format!("{ounces} oz, minimum after processing (unplated layer)");
        let least = foil::ROWS
            .iter()
            .find(|row| row.foil == wanted)
            .map(|row| micrometres(row.thickness_um));
        // 1 oz (28.349 523 125 g) per square foot (0.092 903 04 m²), exact units.
        let grams_per_m2 = ounces * 28.349_523_125 / 0.092_903_04;
        Some(Self {
            least,
            nominal: micrometres(grams_per_m2 / materials::COPPER_DENSITY * 1e3),
            conventional: micrometres(35.0 * ounces),
        })
    }

    /// How much more resistance the least thickness has than the conventional one: 0.41 for 1 oz.
    #[must_use]
    pub fn greatest_excess(&self) -> Option<f64> {
        self.least
            .map(|least| self.conventional.value / least.value - 1.0)
    }

    /// What to be told before 35 µm per ounce is taken: how thin it may be, and what that costs.
    ///
    /// ```
    /// use evenrun::cable::foil::FoilThickness;
    /// let says = FoilThickness::of_ounces(2.0).unwrap().caution();
    /// assert!(says.starts_with("70 µm is a convention: 68.7 µm is what the weight comes to"));
    /// assert!(says.contains("55.7 µm may be left after processing, 26 % more resistance"));
    /// ```
    #[must_use]
    pub fn caution(&self) -> String {
        let um = |length: Length| show_in(length, "µm", 1).replace(".0 ", " ");
        let mut out = format!(
            "{} is a convention: {} is what the weight comes to",
            um(self.conventional),
            um(self.nominal)
        );
        if let (Some(least), Some(excess)) = (self.least, self.greatest_excess()) {
            out += &format!(
                ", and {} may be left after processing, {:.0} % more resistance",
                um(least),
                excess * 100.0
            );
        }
        out + "; ask for the finished thickness, and whether the weight is of one face or of both together"
    }
}
