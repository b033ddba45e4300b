//! Light against current and temperature, relative to a rated point.

use super::error::LoadError;

/// Relative flux against relative current `x = I/I0`.
///
/// # Source
/// The power law is fitted to two efficiencies; droop of GaN diodes is the reason for exponents below 1.
/// Tape runs its diodes far below their rating, where the exponent is near 1: take
/// [`FluxLaw::Proportional`] unless a data sheet says otherwise (common practice).
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum FluxLaw {
    /// `F/F0 = x`.
    Proportional,
    /// `F/F0 = x^exponent`.
    Power {
        /// Exponent, dimensionless, above 0 and at most 2.
        exponent: f64,
    },
    /// `F/F0 = (1 + droop)·x − droop·x²`, rising up to `x = (1 + droop)/(2·droop)`.
    Quadratic {
        /// Droop, dimensionless, 0 to 0.5.
        droop: f64,
    },
}

impl FluxLaw {
    /// Relative flux at a relative current; 0 at or below 0. The quadratic law is held at its top beyond it.
    ///
    /// ```
    /// use evenrun::load::flux::FluxLaw;
    /// assert!((FluxLaw::Power { exponent: 0.889 }.relative_flux(0.5) - 0.539_988_28).abs() < 1e-8);
    /// ```
    #[must_use]
    pub fn relative_flux(&self, x: f64) -> f64 {
        if !(x > 0.0) {
            return 0.0;
        }
        match *self {
            Self::Proportional => x,
            Self::Power { exponent } => libm::pow(x, exponent),
            Self::Quadratic { droop } => {
                let x = if droop > 0.0 {
                    x.min((1.0 + droop) / (2.0 * droop))
                } else {
                    x
                };
                (1.0 + droop) * x - droop * x * x
            }
        }
    }

    /// The power law through two efficiencies: `b = 1 + ln(e2/e1)/ln(I2/I1)`.
    /// # Errors
    /// [`LoadError::OutOfRange`] where a figure is not above 0, or the exponent leaves 0 to 2.
    pub fn from_two_efficiencies(first: (f64, f64), second: (f64, f64)) -> Result<Self, LoadError> {
        let ((i1, e1), (i2, e2)) = (first, second);
        let exponent = 1.0 + libm::log(e2 / e1) / libm::log(i2 / i1);
        if !(exponent > 0.0 && exponent <= 2.0) {
            return Err(LoadError::OutOfRange {
                what: "the exponent of flux against current",
                found: exponent,
                accepted: "above 0 and at most 2",
                remedy: "Give two different currents and their efficiencies, all above 0",
            });
        }
        Ok(Self::Power { exponent })
    }
}

/// Relative flux against junction temperature, relative to 25 °C.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum FluxAgainstHeat {
    /// `F/F25 = 1 + per_kelvin·(T − 25 °C)`, never below 0.
    Linear {
        /// Change per kelvin; negative.
        per_kelvin: f64,
    },
    /// `F/F25 = exp(−(T − 25 °C)/kelvins)`.
    Exponential {
        /// The characteristic temperature, K.
        kelvins: f64,
    },
}

impl FluxAgainstHeat {
    /// Relative flux at a junction temperature in °C.
    #[must_use]
    pub fn relative_flux(&self, junction_celsius: f64) -> f64 {
        let rise = junction_celsius - 25.0;
        match *self {
            Self::Linear { per_kelvin } => (1.0 + per_kelvin * rise).max(0.0),
            Self::Exponential { kelvins } => libm::exp(-rise / kelvins),
        }
    }
}
