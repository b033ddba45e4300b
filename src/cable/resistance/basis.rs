//! The reference figure of each basis: formula, table 8, IEC 60228, small sizes.

use super::{Basis, Resistance, STRAND_LAY, TemperatureRule};
use crate::cable::metal::{Construction, Metal};
use crate::cable::resistance::Conductor;
use crate::cable::size::Kind;
use crate::cable::tables::{iec60228, materials, small_metric, table8, tinned};
use crate::quantity::{ThermodynamicTemperature, ohms_per_kilometre};
use crate::source::Source;

/// Least conductivity of copper-clad aluminium of 10 %, per cent of annealed copper (ASTM B566).
const CLAD_10_PERCENT: f64 = 62.9;
/// Least conductivity of copper-clad aluminium of 15 %, per cent of annealed copper (ASTM B566).
const CLAD_15_PERCENT: f64 = 64.4;
/// Conductivity of aluminium, per cent of annealed copper.
const ALUMINIUM_PERCENT: f64 = 61.0;

/// A reference resistance with its temperature rule.
pub(super) struct Figure {
    pub(super) ohm_per_km: f64,
    pub(super) rule: TemperatureRule,
    pub(super) source: Source,
}

impl Figure {
    /// The resistance at a conductor temperature.
    pub(super) fn at(self, basis: Basis, at: ThermodynamicTemperature) -> Resistance {
        let reference = ohms_per_kilometre(self.ohm_per_km);
        Resistance {
            per_length: reference * self.rule.factor(at),
            reference,
            rule: self.rule,
            basis,
            source: self.source,
            assumed: Vec::new(),
        }
    }
}

/// Resistivity over area, as of a solid wire; none for a metal whose resistivity is not known.
pub(super) fn by_area(mm2: f64, metal: Metal) -> Option<Figure> {
    let copper = materials::COPPER_OHM_METRE * 1e6 / mm2 * 1000.0;
    let (conductivity_percent, rule, source) = match metal {
        Metal::Copper => (100.0, TemperatureRule::COPPER, materials::ANNEALED_COPPER),
        Metal::Aluminium => (
            ALUMINIUM_PERCENT,
            TemperatureRule::ALUMINIUM,
            materials::ALUMINIUM,
        ),
        Metal::CopperClad10 => (
            CLAD_10_PERCENT,
            TemperatureRule::ALUMINIUM,
            materials::COPPER_CLAD,
        ),
        Metal::CopperClad15 => (
            CLAD_15_PERCENT,
            TemperatureRule::ALUMINIUM,
            materials::COPPER_CLAD,
        ),
        Metal::TinnedCopper | Metal::Unknown => return None,
    };
    Some(Figure {
        ohm_per_km: copper * 100.0 / conductivity_percent,
        rule,
        source,
    })
}

impl Conductor {
    pub(super) fn figure(&self, basis: Basis) -> Option<Figure> {
        match basis {
            Basis::GaugeFormula => self.by_formula(),
            Basis::UsCodeTable8 => self.by_table8(),
            Basis::Iec60228 => self.by_iec60228(),
            Basis::SmallMetric => self.by_small_metric(),
            Basis::AreaFormula => by_area(self.size.area_mm2(), self.metal),
        }
    }

    fn by_table8(&self) -> Option<Figure> {
        let gauge = self.size.gauge_number()?;
        let solid = self.construction == Construction::Solid;
        let row = table8::ROWS
            .iter()
            .find(|row| row.gauge == gauge && row.solid == solid)?;
        let (ohm_per_km, rule) = match self.metal {
            Metal::Copper => (row.copper_ohm_per_km, TemperatureRule::US_COPPER),
            Metal::TinnedCopper => (row.coated_ohm_per_km, TemperatureRule::US_COPPER),
            Metal::Aluminium => (row.aluminium_ohm_per_km, TemperatureRule::US_ALUMINIUM),
            _ => return None,
        };
        Some(Figure {
            ohm_per_km,
            rule,
            source: table8::SOURCE,
        })
    }

    fn by_formula(&self) -> Option<Figure> {
        if matches!(self.size.0, Kind::Metric(_)) {
            return None;
        }
        let lay = match self.construction {
            Construction::Solid => 1.0,
            Construction::Stranded => STRAND_LAY,
            _ => return None,
        };
        let copper = materials::COPPER_OHM_METRE * 1e6 / self.size.area_mm2() * 1000.0 * lay;
        let (factor, rule, source) = match self.metal {
            Metal::Copper => (1.0, TemperatureRule::COPPER, FORMULA),
            Metal::TinnedCopper => (
                tinned_ratio(self.wire_mm())?,
                TemperatureRule::COPPER,
                FORMULA_TINNED,
            ),
            Metal::Aluminium => (
                100.0 / ALUMINIUM_PERCENT,
                TemperatureRule::ALUMINIUM,
                FORMULA_ALUMINIUM,
            ),
            Metal::CopperClad10 => (
                100.0 / CLAD_10_PERCENT,
                TemperatureRule::ALUMINIUM,
                FORMULA_CLAD,
            ),
            Metal::CopperClad15 => (
                100.0 / CLAD_15_PERCENT,
                TemperatureRule::ALUMINIUM,
                FORMULA_CLAD,
            ),
            Metal::Unknown => return None,
        };
        Some(Figure {
            ohm_per_km: copper * factor,
            rule,
            source,
        })
    }

    /// Diameter of one wire, mm: the whole of a solid, one of the 7 or 19 (above 2 AWG) of class B.
    fn wire_mm(&self) -> f64 {
        let wires = match (self.construction, self.size.0) {
            (Construction::Solid, _) => 1.0,
            (_, Kind::Gauge(n)) if n >= 2 => 7.0,
            _ => 19.0,
        };
        libm::sqrt(self.size.area_mm2() / wires / std::f64::consts::FRAC_PI_4)
    }

    fn by_iec60228(&self) -> Option<Figure> {
        let area = self.size.nominal_mm2()?;
        let class = match self.construction {
            Construction::Class1 => 1,
            Construction::Class2 => 2,
            Construction::Class5 => 5,
            Construction::Class6 => 6,
            _ => return None,
        };
        let printed = |metal| {
            iec60228::ROWS
                .iter()
                .find(|row| row.area_mm2 == area && row.class == class && row.metal == metal)
                .map(|row| row.max_ohm_per_km)
        };
        use iec60228::Listed;
        let (ohm_per_km, rule, source) = match self.metal {
            Metal::Copper => (
                printed(Listed::PlainCopper)?,
                TemperatureRule::IEC_60228,
                iec60228::SOURCE,
            ),
            Metal::TinnedCopper => (
                printed(Listed::CoatedCopper)?,
                TemperatureRule::IEC_60228,
                iec60228::SOURCE,
            ),
            Metal::Aluminium => (
                printed(Listed::Aluminium)?,
                TemperatureRule::ALUMINIUM,
                iec60228::SOURCE,
            ),
            Metal::CopperClad10 => (
                printed(Listed::PlainCopper)? * 100.0 / CLAD_10_PERCENT,
                TemperatureRule::ALUMINIUM,
                CLAD_METRIC,
            ),
            Metal::CopperClad15 => (
                printed(Listed::PlainCopper)? * 100.0 / CLAD_15_PERCENT,
                TemperatureRule::ALUMINIUM,
                CLAD_METRIC,
            ),
            Metal::Unknown => return None,
        };
        Some(Figure {
            ohm_per_km,
            rule,
            source,
        })
    }

    fn by_small_metric(&self) -> Option<Figure> {
        let area = self.size.nominal_mm2()?;
        if !matches!(
            self.construction,
            Construction::Class5 | Construction::Class6
        ) {
            return None;
        }
        let row = small_metric::ROWS.iter().find(|row| row.area_mm2 == area)?;
        let (ohm_per_km, rule, source) = match self.metal {
            Metal::Copper => (
                row.plain_ohm_per_km,
                TemperatureRule::COPPER,
                small_metric::SOURCE,
            ),
            Metal::TinnedCopper => (
                row.tinned_ohm_per_km,
                TemperatureRule::COPPER,
                small_metric::SOURCE,
            ),
            Metal::CopperClad10 => (
                row.plain_ohm_per_km * 100.0 / CLAD_10_PERCENT,
                TemperatureRule::ALUMINIUM,
                CLAD_METRIC,
            ),
            Metal::CopperClad15 => (
                row.plain_ohm_per_km * 100.0 / CLAD_15_PERCENT,
                TemperatureRule::ALUMINIUM,
                CLAD_METRIC,
            ),
            _ => return None,
        };
        Some(Figure {
            ohm_per_km,
            rule,
            source,
        })
    }
}

const FORMULA: Source = Source::computed(
    "1/58 Ω·mm²/m (IEC 60028) over the exact gauge area (ASTM B258), times 1.02 for strands",
);
const FORMULA_TINNED: Source = Source::computed(
    "1/58 Ω·mm²/m over the exact gauge area, times 1.02 for strands, times the tinning ratio of ASTM B33 table 2",
);
const FORMULA_ALUMINIUM: Source = Source::computed(
    "aluminium of 61 % conductivity over the exact gauge area, times 1.02 for strands",
);
const FORMULA_CLAD: Source = Source::computed(
    "least conductivity of ASTM B566 (62.9 % and 64.4 %) over the exact gauge area, times 1.02 for strands; temperature coefficient taken as aluminium's",
);
const CLAD_METRIC: Source = Source::computed(
    "plain copper's maximum at this size over the least conductivity of ASTM B566 (62.9 % and 64.4 %); temperature coefficient taken as aluminium's; IEC 60228 itself lists no copper-clad aluminium",
);

/// Resistance of tinned over plain wire of this diameter, by ASTM B33 table 2. `None` outside 0.076 mm to 11.7 mm.
#[must_use]
pub fn tinned_ratio(wire_mm: f64) -> Option<f64> {
    tinned::ROWS
        .iter()
        .find(|row| wire_mm > row.from_mm && wire_mm <= row.to_mm)
        .map(|row| row.ohm_gram_per_m2 / tinned::ANNEALED_OHM_GRAM_PER_M2)
}
