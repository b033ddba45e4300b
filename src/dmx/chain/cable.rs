//! Data cable as a line: impedance, velocity, resistance.

use crate::quantity::{
    ElectricalResistance, Length, LinearResistance, Ohms, Valued, metres, ohms, ohms_per_kilometre,
};
use serde::{Deserialize, Serialize};

/// Speed of light in vacuum, m/s (exact, SI).
const LIGHT: f64 = 299_792_458.0;

/// Kind of data cable.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CableKind {
    /// Shielded 120 Ω pairs made for EIA-485.
    DataPair,
    /// Shielded category cable, 100 Ω pairs.
    ShieldedCategory,
    /// Unshielded category cable, 100 Ω pairs.
    UnshieldedCategory,
    /// Not known.
    Unknown,
}

impl CableKind {
    /// The words printed for it.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::DataPair => "data pair",
            Self::ShieldedCategory => "shielded category cable",
            Self::UnshieldedCategory => "unshielded category cable",
            Self::Unknown => "unknown cable",
        }
    }

    /// Whether it is category cable.
    #[must_use]
    pub fn is_category(self) -> bool {
        matches!(self, Self::ShieldedCategory | Self::UnshieldedCategory)
    }
}

/// Cable of a chain: what it is, and its line constants.
///
/// As data `kind` alone is enough: constants that are left out are those that [`LineCable::data_pair`] and the
/// others give for cores of `awg`, 24 AWG where that is not known.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(from = "Written")]
pub struct LineCable {
    /// What it is.
    pub kind: CableKind,
    /// Size of its cores, AWG; none: not known.
    pub awg: Option<u8>,
    /// Wave impedance.
    #[serde(with = "crate::quantity::valued")]
    pub impedance: ElectricalResistance,
    /// Velocity of a wave over that of light.
    pub velocity: f64,
    /// Resistance of both cores together, per length.
    #[serde(with = "crate::quantity::valued")]
    pub loop_resistance: LinearResistance,
}

/// A cable as it is written down, with what may be left out.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Written {
    kind: CableKind,
    awg: Option<u8>,
    impedance: Option<Ohms>,
    velocity: Option<f64>,
    loop_resistance: Option<Valued<LinearResistance>>,
}

impl From<Written> for LineCable {
    fn from(written: Written) -> Self {
        let awg = written.awg.unwrap_or(24);
        let usual = match written.kind {
            CableKind::DataPair => Self::data_pair(awg),
            kind => Self::of(kind, awg, 100.0),
        };
        Self {
            awg: written.awg,
            impedance: written.impedance.map_or(usual.impedance, |ohms| ohms.0),
            velocity: written.velocity.unwrap_or(usual.velocity),
            loop_resistance: written
                .loop_resistance
                .map_or(usual.loop_resistance, |r| r.0),
            ..usual
        }
    }
}

impl LineCable {
    /// A shielded 120 Ω pair with polyethylene insulation (0.66 of the speed of light: 1/√2.29).
    #[must_use]
    pub fn data_pair(awg: u8) -> Self {
        Self::of(CableKind::DataPair, awg, 120.0)
    }

    /// Shielded category cable, 24 AWG, 100 Ω.
    #[must_use]
    pub fn shielded_category() -> Self {
        Self::of(CableKind::ShieldedCategory, 24, 100.0)
    }

    /// Unshielded category cable, 24 AWG, 100 Ω.
    #[must_use]
    pub fn unshielded_category() -> Self {
        Self::of(CableKind::UnshieldedCategory, 24, 100.0)
    }

    /// Cable of which nothing is known, reckoned as a 24 AWG 100 Ω pair.
    #[must_use]
    pub fn unknown() -> Self {
        Self {
            awg: None,
            ..Self::of(CableKind::Unknown, 24, 100.0)
        }
    }

    fn of(kind: CableKind, awg: u8, impedance: f64) -> Self {
        Self {
            kind,
            awg: Some(awg),
            impedance: ohms(impedance),
            velocity: 0.66,
            loop_resistance: copper_loop(awg),
        }
    }

    /// The same cable with loop resistance raised to give `decibels` of loss per 100 m.
    ///
    /// A wave on a line of small loss falls by `R/(2 Z0)` nepers per length, so
    /// `R = 2 Z0 · (dB/8.6859)/100 m`. Use it to carry the attenuation a data sheet
    /// states near the bit rate where that is above what the direct resistance gives.
    #[must_use]
    pub fn with_loss(mut self, decibels_per_100_m: f64) -> Self {
        let nepers_per_metre = decibels_per_100_m / NEPER_DECIBELS / 100.0;
        self.loop_resistance =
            crate::quantity::ohms_per_metre(2.0 * self.impedance.value * nepers_per_metre);
        self
    }

    /// Diameter of a solid core: `0.127 mm · 92^((36−n)/39)` (ASTM B258); none where the size is not known.
    #[must_use]
    pub fn core_diameter(&self) -> Option<Length> {
        self.awg.map(|awg| metres(diameter_of(awg)))
    }

    /// Delay, s/m: `1/(velocity · c)`.
    #[must_use]
    pub fn delay_per_metre(&self) -> f64 {
        1.0 / (self.velocity * LIGHT)
    }

    /// Capacitance, F/m: `1/(Z0 v)`.
    #[must_use]
    pub fn capacitance_per_metre(&self) -> f64 {
        self.delay_per_metre() / self.impedance.value
    }

    /// Inductance, H/m: `Z0/v`.
    #[must_use]
    pub fn inductance_per_metre(&self) -> f64 {
        self.delay_per_metre() * self.impedance.value
    }

    /// Whether every constant can be reckoned with.
    pub(super) fn is_sound(&self) -> bool {
        let within = |value: f64, low: f64, high: f64| value >= low && value <= high;
        within(self.impedance.value, 10.0, 1000.0)
            && within(self.velocity, 0.1, 1.0)
            && within(self.loop_resistance.value, 0.0, 100.0)
            && self.awg.is_none_or(|awg| (10..=40).contains(&awg))
    }
}

/// Decibels of one neper: `20/ln 10`.
pub(in crate::dmx) const NEPER_DECIBELS: f64 = 8.685_889_638_065_035;

/// Loop resistance of two solid copper cores at 20 °C: AWG diameter
/// `0.127 mm · 92^((36−n)/39)` (ASTM B258), conductivity 58 MS/m (IEC 60028).
fn copper_loop(awg: u8) -> LinearResistance {
    let diameter = diameter_of(awg);
    let area = std::f64::consts::FRAC_PI_4 * diameter * diameter;
    ohms_per_kilometre(2.0 / (58e6 * area) * 1000.0)
}

fn diameter_of(awg: u8) -> f64 {
    0.127e-3 * libm::pow(92.0, (36.0 - f64::from(awg)) / 39.0)
}
