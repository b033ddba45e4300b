//! Conductor sizes: American wire gauge, kcmil and mm², each exact.

use crate::quantity::{Area, Length, millimetres, square_millimetres};
use std::cmp::Ordering;
use std::fmt;

/// Square millimetres in one circular mil (a circle of 0.001 in): `π/4 · 0.0254²`.
const MM2_PER_CMIL: f64 = std::f64::consts::FRAC_PI_4 * 0.0254 * 0.0254;

/// The size of a conductor, in the system it is sold in.
///
/// Sizes order by area; sizes of two systems are never equal, however near they are.
///
/// ```
/// use evenrun::cable::ConductorSize;
/// let size: ConductorSize = "18 awg".parse()?;
/// assert_eq!(size.to_string(), "18 AWG");
/// assert!((size.area().value * 1e6 - 0.823).abs() < 5e-4);
/// assert!("1 mm²".parse::<ConductorSize>()? > size);
/// let error = "18".parse::<ConductorSize>().unwrap_err().to_string();
/// assert!(error.contains("18 AWG") && error.contains("18 mm²"), "{error}");
/// # Ok::<(), evenrun::cable::SizeError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct ConductorSize(pub(super) Kind);

impl ConductorSize {
    /// 1 mm².
    pub const ONE_SQUARE_MILLIMETRE: Self = Self(Kind::Metric(1000));
}

/// The system of a size.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) enum Kind {
    /// Gauge number: 40 down to 0 (1/0), -1 (2/0), -2 (3/0), -3 (4/0).
    Gauge(i8),
    /// Thousands of circular mils.
    Kcmil(u16),
    /// Thousandths of a square millimetre.
    Metric(u32),
}

/// A system of sizes that conductors are sold in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SizeSystem {
    /// American wire gauge, and kcmil above 4/0.
    American,
    /// Nominal areas in mm².
    Metric,
}

/// Even and common gauges that wire is stocked in, thin to thick, then kcmil.
const GAUGES: &[i8] = &[
    40, 38, 36, 34, 32, 30, 28, 26, 24, 22, 20, 18, 16, 14, 12, 10, 8, 6, 4, 3, 2, 1, 0, -1, -2, -3,
];
/// The kcmil sizes of the US code (from memory: the rows above 4/0 of its tables 8 and 310.16).
const KCMILS: &[u16] = &[
    250, 300, 350, 400, 500, 600, 700, 750, 800, 900, 1000, 1250, 1500, 1750, 2000,
];
/// The nominal areas of the tables here (DIN VDE 0295 copy below 0.5 mm², IEC 60228), in thousandths of mm².
const METRICS: &[u32] = &[
    50, 80, 110, 120, 140, 220, 250, 340, 500, 750, 1000, 1500, 2500, 4000, 6000, 10_000, 16_000,
    25_000, 35_000, 50_000,
];

impl ConductorSize {
    /// A gauge by number: 40 to 1; 0, -1, -2, -3 are 1/0, 2/0, 3/0, 4/0. `None` outside.
    #[must_use]
    pub const fn gauge(number: i8) -> Option<Self> {
        if number >= -3 && number <= 40 {
            Some(Self(Kind::Gauge(number)))
        } else {
            None
        }
    }

    /// Thousands of circular mils, 212 to 5000. `None` outside.
    #[must_use]
    pub const fn kcmil(thousands: u16) -> Option<Self> {
        if thousands >= 212 && thousands <= 5000 {
            Some(Self(Kind::Kcmil(thousands)))
        } else {
            None
        }
    }

    /// A nominal area in thousandths of a mm², 0.01 mm² to 2500 mm². `None` outside.
    #[must_use]
    pub const fn thousandths_mm2(thousandths: u32) -> Option<Self> {
        if thousandths >= 10 && thousandths <= 2_500_000 {
            Some(Self(Kind::Metric(thousandths)))
        } else {
            None
        }
    }

    /// The gauge number, for a gauge.
    #[must_use]
    pub const fn gauge_number(self) -> Option<i8> {
        match self.0 {
            Kind::Gauge(n) => Some(n),
            _ => None,
        }
    }

    /// The nominal area in mm², for a metric size.
    #[must_use]
    pub fn nominal_mm2(self) -> Option<f64> {
        match self.0 {
            Kind::Metric(thousandths) => Some(f64::from(thousandths) / 1000.0),
            _ => None,
        }
    }

    /// The system the size belongs to.
    #[must_use]
    pub const fn system(self) -> SizeSystem {
        match self.0 {
            Kind::Metric(_) => SizeSystem::Metric,
            _ => SizeSystem::American,
        }
    }

    /// Area of metal: exact for gauges (`π d²/4`) and kcmil; *nominal* for mm² sizes.
    #[must_use]
    pub fn area(self) -> Area {
        square_millimetres(self.area_mm2())
    }

    pub(super) fn area_mm2(self) -> f64 {
        match self.0 {
            Kind::Gauge(n) => {
                let d = gauge_diameter_mm(n);
                std::f64::consts::FRAC_PI_4 * d * d
            }
            Kind::Kcmil(thousands) => f64::from(thousands) * 1000.0 * MM2_PER_CMIL,
            Kind::Metric(thousandths) => f64::from(thousandths) / 1000.0,
        }
    }

    /// Diameter of a solid round wire of this area.
    #[must_use]
    pub fn solid_diameter(self) -> Length {
        millimetres(match self.0 {
            Kind::Gauge(n) => gauge_diameter_mm(n),
            _ => libm::sqrt(self.area_mm2() / std::f64::consts::FRAC_PI_4),
        })
    }

    /// Diameter of a gauge as ASTM B258 lists it: rounded to 0.0001 in. `None` for other sizes.
    ///
    /// Rounding costs 3 % of resistance at 40 AWG: compute with [`ConductorSize::solid_diameter`].
    #[must_use]
    pub fn listed_diameter(self) -> Option<Length> {
        self.gauge_number().map(|n| {
            let tenths_of_a_mil = libm::round(gauge_diameter_mm(n) / 0.0254 * 10.0);
            millimetres(tenths_of_a_mil / 10.0 * 0.0254)
        })
    }

    /// Sizes of a system that are stocked or tabulated here, thin to thick.
    #[must_use]
    pub fn standard_sizes(system: SizeSystem) -> Vec<Self> {
        match system {
            SizeSystem::American => GAUGES
                .iter()
                .map(|&n| Self(Kind::Gauge(n)))
                .chain(KCMILS.iter().map(|&k| Self(Kind::Kcmil(k))))
                .collect(),
            SizeSystem::Metric => METRICS.iter().map(|&t| Self(Kind::Metric(t))).collect(),
        }
    }

    /// The thinnest standard size of a system with at least this area. `None` when none is that thick.
    #[must_use]
    pub fn at_least(area: Area, system: SizeSystem) -> Option<Self> {
        Self::standard_sizes(system)
            .into_iter()
            .find(|size| size.area_mm2() >= area.value * 1e6)
    }

    /// The standard size of the other system whose area is nearest in ratio: 18 AWG and 0.75 mm².
    ///
    /// Nearest is not "at least": 0.75 mm² is 9 % thinner than 18 AWG.
    #[must_use]
    pub fn nearest_in(self, system: SizeSystem) -> Option<Self> {
        let off = |size: &Self| libm::fabs(libm::log(size.area_mm2() / self.area_mm2()));
        Self::standard_sizes(system)
            .into_iter()
            .min_by(|a, b| off(a).total_cmp(&off(b)))
    }
}

/// Exact diameter of a gauge: `0.005 in · 92^((36 − n)/39)` (ASTM B258).
fn gauge_diameter_mm(n: i8) -> f64 {
    0.127 * libm::pow(92.0, f64::from(36 - i32::from(n)) / 39.0)
}

impl PartialOrd for ConductorSize {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for ConductorSize {
    fn cmp(&self, other: &Self) -> Ordering {
        let rank = |size: &Self| match size.0 {
            Kind::Gauge(_) => 0,
            Kind::Kcmil(_) => 1,
            Kind::Metric(_) => 2,
        };
        self.area_mm2()
            .total_cmp(&other.area_mm2())
            .then(rank(self).cmp(&rank(other)))
    }
}

/// `18 AWG`, `4/0 AWG`, `250 kcmil`, `0.75 mm²`.
impl fmt::Display for ConductorSize {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let text = match self.0 {
            Kind::Gauge(n @ ..=0) => format!("{}/0 AWG", 1 - n),
            Kind::Gauge(n) => format!("{n} AWG"),
            Kind::Kcmil(thousands) => format!("{thousands} kcmil"),
            Kind::Metric(thousandths) => format!("{} mm²", f64::from(thousandths) / 1000.0),
        };
        f.pad(&text)
    }
}
