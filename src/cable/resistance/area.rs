//! Resistance of a conductor whose area of metal is stated: a busbar, a flat core, wire of a size that no table lists.

use super::basis::{ALUMINIUM_PERCENT, CLAD_10_PERCENT, CLAD_15_PERCENT};
use super::{
    Basis, COLDEST_CELSIUS, HOTTEST_CELSIUS, Resistance, ResistanceError, STRAND_LAY,
    TemperatureRule,
};
use crate::cable::metal::{Construction, Metal};
use crate::cable::tables::materials;
use crate::quantity::{
    Area, LinearResistance, ThermodynamicTemperature, in_celsius, ohms_per_kilometre,
};
use crate::source::Source;

pub(super) const COVERS: &str =
    "0.000001 mm² to 1000000 mm² of copper, aluminium or copper-clad aluminium";
const MOST_MM2: f64 = 1e6;
const LEAST_MM2: f64 = 1e-6;
const COPPER: Source =
    Source::computed("1/58 Ω·mm²/m (IEC 60028) over the stated area, times 1.02 for strands");
const ALUMINIUM: Source =
    Source::computed("aluminium of 61 % conductivity over the stated area, times 1.02 for strands");
const CLAD: Source = Source::computed(
    "least conductivity of ASTM B566 (62.9 % and 64.4 %) over the stated area, times 1.02 for strands; temperature coefficient taken as aluminium's",
);

/// Resistance per length of a conductor with this area of metal, at a conductor temperature.
///
/// `R20 = ρ20 / A`, ρ20 = 1/58 Ω·mm²/m for copper; times 1.02 for strands, and where the construction is not known;
/// `R(T) = R20 (1 + α20 (T − 20 °C))`. The area is that of the metal, measured; the mm² in the name of a standard size is
/// nominal: for one of those ask [`Conductor::resistance`](super::Conductor::resistance). A metal that is not known is taken as the worst
/// of those computed here, and `assumed` says so.
///
/// # Source
/// IEC 60028 for copper; conductivities of NFPA 70-2023 (aluminium) and ASTM B566 (clad), in [`materials`].
///
/// # Errors
/// [`ResistanceError`]: the area or the temperature is out of range; tinned copper, whose ratio to plain copper depends on
/// the diameter of its wires and not on their area.
///
/// # Example
/// ```
/// use evenrun::cable::{Construction, Metal, resistance::area_resistance};
/// use evenrun::quantity::{celsius, square_millimetres};
/// // A solid bar of 10 mm by 2 mm: 58 m of 1 mm² have one ohm at 20 °C (IEC 60028), so a kilometre of 20 mm² has 50/58.
/// let bar = area_resistance(square_millimetres(20.0), Metal::Copper, Construction::Solid, celsius(20.0))?;
/// assert!((bar.per_length.value * 1000.0 - 50.0 / 58.0).abs() < 1e-12);
/// # Ok::<(), evenrun::cable::ResistanceError>(())
/// ```
pub fn area_resistance(
    area: Area,
    metal: Metal,
    construction: Construction,
    at: ThermodynamicTemperature,
) -> Result<Resistance, ResistanceError> {
    let celsius = in_celsius(at);
    if !(COLDEST_CELSIUS..=HOTTEST_CELSIUS).contains(&celsius) {
        return Err(ResistanceError::Temperature { celsius });
    }
    let mm2 = area.value * 1e6;
    if !(LEAST_MM2..=MOST_MM2).contains(&mm2) {
        return Err(ResistanceError::Area { found: mm2 });
    }
    let mut assumed = Vec::new();
    let (percent, rule, source) = match metal {
        Metal::Copper => (100.0, TemperatureRule::COPPER, COPPER),
        Metal::Aluminium => (ALUMINIUM_PERCENT, TemperatureRule::ALUMINIUM, ALUMINIUM),
        Metal::CopperClad10 => (CLAD_10_PERCENT, TemperatureRule::ALUMINIUM, CLAD),
        Metal::CopperClad15 => (CLAD_15_PERCENT, TemperatureRule::ALUMINIUM, CLAD),
        Metal::Unknown => {
            assumed.push(format!(
                "metal not stated: {} assumed, the worst of those computed from an area",
                Metal::Aluminium
            ));
            (ALUMINIUM_PERCENT, TemperatureRule::ALUMINIUM, ALUMINIUM)
        }
        Metal::TinnedCopper => {
            return Err(ResistanceError::NotListed {
                basis: Basis::StatedArea.named(),
                what: format!("{mm2} mm² of tinned copper"),
                covers: COVERS,
                hint: "; the ratio of tinned to plain copper depends on the diameter of the wires: give a size".into(),
            });
        }
    };
    let lay = match construction {
        Construction::Solid | Construction::Class1 => 1.0,
        Construction::Unknown => {
            assumed.push("construction not stated: strands assumed, the worse".into());
            STRAND_LAY
        }
        _ => STRAND_LAY,
    };
    let reference: LinearResistance = ohms_per_kilometre(
        materials::COPPER_OHM_METRE * 1e6 / mm2 * 1000.0 * 100.0 / percent * lay,
    );
    Ok(Resistance {
        per_length: reference * rule.factor(at),
        reference,
        rule,
        basis: Basis::StatedArea,
        source,
        assumed,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cable::{Conductor, ConductorSize};
    use crate::quantity::{celsius, square_millimetres};

    /// A gauge is its exact area: both ways agree for every metal and construction that both compute.
    #[test]
    fn the_area_of_a_gauge_gives_the_resistance_of_the_gauge() {
        for gauge in -3..=40 {
            let size = ConductorSize::gauge(gauge).unwrap();
            for metal in [
                Metal::Copper,
                Metal::Aluminium,
                Metal::CopperClad10,
                Metal::CopperClad15,
            ] {
                for construction in [Construction::Solid, Construction::Stranded] {
                    let at = celsius(57.0);
                    let conductor = Conductor {
                        size,
                        metal,
                        construction,
                    };
                    let by_gauge = conductor.resistance_by(Basis::GaugeFormula, at).unwrap();
                    let by_area = area_resistance(size.area(), metal, construction, at).unwrap();
                    let ratio = by_area.per_length.value / by_gauge.per_length.value;
                    assert!((ratio - 1.0).abs() < 1e-12, "{conductor}: {ratio}");
                }
            }
        }
    }

    /// No number passes that is no area or no temperature, and tinned copper is refused with what to do.
    #[test]
    fn what_cannot_be_is_refused() {
        let of = |mm2: f64, metal, at| {
            area_resistance(
                square_millimetres(mm2),
                metal,
                Construction::Solid,
                celsius(at),
            )
        };
        for mm2 in [0.0, -1.0, 1e-9, 1e9, f64::NAN, f64::INFINITY] {
            assert!(
                matches!(
                    of(mm2, Metal::Copper, 20.0),
                    Err(ResistanceError::Area { .. })
                ),
                "{mm2}"
            );
        }
        for at in [-51.0, 201.0, f64::NAN] {
            let found = of(1.0, Metal::Copper, at);
            assert!(
                matches!(found, Err(ResistanceError::Temperature { .. })),
                "{at}"
            );
        }
        let tinned = of(1.0, Metal::TinnedCopper, 20.0).unwrap_err().to_string();
        assert!(tinned.contains("give a size"), "{tinned}");
        let unknown = of(1.0, Metal::Unknown, 20.0).unwrap();
        assert_eq!(unknown.assumed.len(), 1);
        for metal in [
            Metal::Copper,
            Metal::Aluminium,
            Metal::CopperClad10,
            Metal::CopperClad15,
        ] {
            assert!(of(1.0, metal, 20.0).unwrap().per_length <= unknown.per_length);
        }
    }
}
