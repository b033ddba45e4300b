//! The closed form of the series string, on plain numbers.

use super::error::LoadError;
use super::kinds::Diode;
use super::omega::wright_omega;
use super::omega_table::OmegaTable;

/// Boltzmann constant over elementary charge, V/K (both exact in the SI since 2019).
pub(super) const K_OVER_Q: f64 = 1.380_649e-23 / 1.602_176_634e-19;
/// Temperature at which the diode's figures hold, K (25 °C).
pub(super) const REFERENCE_KELVIN: f64 = 298.15;
/// Most diodes in series in a cell.
pub(super) const MOST_DIODES: u32 = 1000;

/// `I = scale·omega(V/a + offset) − saturation`, in volt and ampere.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct StringLaw {
    /// `1/(count·n·VT)`, 1/V.
    pub per_volt: f64,
    /// `ln(Is·R/a) + Is·R/a`, dimensionless.
    pub offset: f64,
    /// `a/R`, A.
    pub scale: f64,
    /// `1/R`, S.
    pub siemens: f64,
    /// Saturation current, A.
    pub saturation: f64,
    /// Voltage added to the cell voltage for temperature, V.
    pub shift: f64,
}

impl StringLaw {
    /// The law of `count` diodes and `ballast` ohm at `kelvin`.
    pub fn new(diode: &Diode, count: u32, ballast: f64, kelvin: f64) -> Result<Self, LoadError> {
        if !(1..=MOST_DIODES).contains(&count) {
            return Err(LoadError::DiodeCount {
                count,
                most: MOST_DIODES,
            });
        }
        let positive = |what, found: f64, low: f64, high: f64, accepted| {
            if found >= low && found <= high {
                Ok(found)
            } else {
                Err(LoadError::OutOfRange {
                    what,
                    found,
                    accepted,
                    remedy: "Read the figure again from the data sheet",
                })
            }
        };
        let vf = positive(
            "the forward voltage of the diode",
            diode.forward_voltage.value,
            0.1,
            100.0,
            "0.1 V to 100 V",
        )?;
        let i0 = positive(
            "the current of the diode's data point",
            diode.at_current.value,
            1e-9,
            1e3,
            "1 nA to 1 kA",
        )?;
        let n = positive(
            "the ideality factor",
            diode.ideality,
            0.5,
            20.0,
            "0.5 to 20",
        )?;
        let rs = positive(
            "the diode's series resistance",
            diode.series_resistance.value,
            0.0,
            1e6,
            "0 ohm to 1 Mohm",
        )?;
        let kv = positive(
            "the change of forward voltage",
            diode.volts_per_kelvin,
            -0.1,
            0.1,
            "-0.1 V/K to 0.1 V/K",
        )?;
        let rb = positive(
            "the ballast resistance",
            ballast,
            0.0,
            1e9,
            "0 ohm to 1 Gohm",
        )?;
        let count = f64::from(count);
        let r = count * rs + rb;
        positive(
            "the resistance of the string",
            r,
            1e-6,
            1e12,
            "at least 1e-6 ohm",
        )?;
        let vt = n * K_OVER_Q * REFERENCE_KELVIN;
        let across = positive(
            "the voltage across the junction at the data point",
            vf - i0 * rs,
            vt * 1e-3,
            700.0 * vt,
            "above 0 V and below 700 times n times 25.7 mV: the series resistance must leave something for the junction",
        )?;
        let saturation = i0 / libm::expm1(across / vt);
        let a = count * vt;
        Ok(Self {
            per_volt: 1.0 / a,
            offset: libm::log(saturation) + libm::log(r / a) + saturation * r / a,
            scale: a / r,
            siemens: 1.0 / r,
            saturation,
            shift: -count * kv * (kelvin - REFERENCE_KELVIN),
        })
    }

    /// The law of `count` strings side by side.
    pub fn times(&self, count: f64) -> Self {
        Self {
            scale: self.scale * count,
            siemens: self.siemens * count,
            saturation: self.saturation * count,
            ..*self
        }
    }

    /// Current, A, and slope, S, at `volts`.
    #[inline]
    pub fn at(&self, volts: f64) -> (f64, f64) {
        let v = volts + self.shift;
        if !(v > 0.0) || !(volts > 0.0) {
            return (0.0, 0.0);
        }
        let w = wright_omega(v * self.per_volt + self.offset);
        let amps = self.scale * w - self.saturation;
        (
            if amps > 0.0 { amps } else { 0.0 },
            self.siemens * w / (1.0 + w),
        )
    }

    /// The same through the table, relative error 2e-12 in the current.
    #[inline(always)]
    pub fn at_tabled(&self, table: &OmegaTable, volts: f64) -> (f64, f64) {
        let v = volts + self.shift;
        if !(v > 0.0 && volts > 0.0) {
            return (0.0, 0.0);
        }
        let (w, slope) = table.at(v * self.per_volt + self.offset);
        let amps = self.scale * w - self.saturation;
        (if amps > 0.0 { amps } else { 0.0 }, self.siemens * slope)
    }

    /// The same for voltages above 0 that a sweep meets: no test, dark where the table ends.
    #[inline(always)]
    pub fn at_swept(&self, table: &OmegaTable, volts: f64) -> (f64, f64) {
        let w = table.value((volts + self.shift) * self.per_volt + self.offset);
        (
            self.scale * w - self.saturation,
            self.siemens * w / (1.0 + w),
        )
    }

    /// Voltage at which `amps` (at least 0) flow.
    pub fn volts_for(&self, amps: f64) -> f64 {
        libm::log1p(amps / self.saturation) / self.per_volt + amps / self.siemens - self.shift
    }
}
