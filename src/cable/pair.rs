//! Inductance and capacitance of a pair of round conductors.
//!
//! ```text
//!   ←──── s ────→         high frequency  L = (μ0/π) acosh(s/d)          current on the surface: edges of chopping
//!   (d)        (d)        low frequency   L = (μ0/π) (ln(2s/d) + 1/4)    current spread evenly: ripple at kHz
//!                                         C = π ε0 εr / acosh(s/d)       upper bound where air surrounds the pair
//! ```
//!
//! A real pair lies between the two inductances. `L_high · C = μ0 ε0 εr` exactly.
//! A touching pair has `s` = diameter over the insulation. The published 0.558 µH/m
//! of an 18 AWG pair lies between the two values for a 0.4 mm wall, 0.446 and 0.587 µH/m.

use super::tables::strand_factor;
use crate::quantity::{
    ElectricalResistance, Length, LinearCapacitance, LinearInductance, farads_per_metre,
    henries_per_metre, ohms,
};
use crate::source::{Source, documents};
use thiserror::Error;

/// Magnetic constant, H/m (4π·10⁻⁷, exact to ten digits).
pub const MU_0: f64 = 4e-7 * std::f64::consts::PI;
/// Speed of light, m/s, exact.
pub const LIGHT: f64 = 299_792_458.0;
/// Electric constant, F/m: `1/(μ0 c²)`.
pub const EPSILON_0: f64 = 1.0 / (MU_0 * LIGHT * LIGHT);

/// Where the formulas come from.
pub const SOURCE: Source =
    documents::TWO_WIRE_LINE.at("L = (mu0/pi) acosh(s/d), C = pi eps0 er / acosh(s/d)");

/// A pair that cannot be.
#[derive(Debug, Clone, PartialEq, Error)]
#[error(
    "two wires of {diameter} m at a spacing of {spacing} m between centres: the spacing must be greater than the diameter, both above zero"
)]
#[non_exhaustive]
pub struct PairError {
    /// Diameter of one wire, m.
    pub diameter: f64,
    /// Spacing of the centres, m.
    pub spacing: f64,
}

/// Two parallel round conductors.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pair {
    diameter: f64,
    spacing: f64,
}

impl Pair {
    /// A pair from the diameter of the metal and the spacing of the centres.
    ///
    /// # Errors
    /// [`PairError`] unless `spacing > diameter > 0`, both finite.
    ///
    /// # Example
    /// ```
    /// use evenrun::cable::Pair;
    /// use evenrun::quantity::millimetres;
    /// let pair = Pair::new(millimetres(1.0), millimetres(2.0))?;
    /// assert!((pair.inductance_high().value - 0.5267832e-6).abs() < 1e-12); // (μ0/π) acosh 2
    /// # Ok::<(), evenrun::cable::PairError>(())
    /// ```
    pub fn new(diameter: Length, spacing: Length) -> Result<Self, PairError> {
        let (diameter, spacing) = (diameter.value, spacing.value);
        if !(diameter > 0.0 && spacing > diameter && spacing.is_finite()) {
            return Err(PairError { diameter, spacing });
        }
        Ok(Self { diameter, spacing })
    }

    /// A pair whose insulations touch: spacing = diameter + twice the wall.
    ///
    /// # Errors
    /// [`PairError`] unless diameter and wall are above zero.
    pub fn touching(diameter: Length, wall: Length) -> Result<Self, PairError> {
        Self::new(diameter, diameter + wall * 2.0)
    }

    fn ratio(&self) -> f64 {
        self.spacing / self.diameter
    }

    /// Loop inductance at high frequency, current on the surface.
    #[must_use]
    pub fn inductance_high(&self) -> LinearInductance {
        henries_per_metre(MU_0 / std::f64::consts::PI * libm::acosh(self.ratio()))
    }

    /// Loop inductance at low frequency, current spread evenly.
    #[must_use]
    pub fn inductance_low(&self) -> LinearInductance {
        henries_per_metre(MU_0 / std::f64::consts::PI * (libm::log(2.0 * self.ratio()) + 0.25))
    }

    /// Capacitance in a medium of this relative permittivity everywhere: an upper bound where air is around the pair.
    #[must_use]
    pub fn capacitance(&self, relative_permittivity: f64) -> LinearCapacitance {
        farads_per_metre(
            std::f64::consts::PI * EPSILON_0 * relative_permittivity / libm::acosh(self.ratio()),
        )
    }

    /// Characteristic impedance of the lossless line, `sqrt(L_high / C)`.
    #[must_use]
    pub fn impedance(&self, relative_permittivity: f64) -> ElectricalResistance {
        characteristic_impedance(
            self.inductance_high(),
            self.capacitance(relative_permittivity),
        )
    }
}

/// `sqrt(L / C)` of the two per-length figures.
#[must_use]
pub fn characteristic_impedance(l: LinearInductance, c: LinearCapacitance) -> ElectricalResistance {
    ohms(libm::sqrt(l.value / c.value))
}

/// Effective diameter of a strand for capacitance. `None` for a number of wires that the table lacks.
#[must_use]
pub fn effective_diameter(overall: Length, wires: u16) -> Option<Length> {
    strand_factor::ROWS
        .iter()
        .find(|row| row.wires == wires)
        .map(|row| overall * row.factor)
}
