//! Resistance against the printed tables.

use crate::common::{assert_relative, assert_within};
use crate::{gauge, table};
use evenrun::cable::resistance::iec60228_printed_factor;
use evenrun::cable::{
    Basis, Conductor, ConductorSize, Construction, Metal, ResistanceError, TemperatureRule,
    area_resistance,
};
use evenrun::quantity::{celsius, in_celsius, square_millimetres};

fn ohm_per_km(conductor: Conductor, basis: Basis, at: f64) -> f64 {
    conductor
        .resistance_by(basis, celsius(at))
        .unwrap_or_else(|e| panic!("{e}"))
        .per_length
        .value
        * 1e3
}

fn square_mm(text: &str) -> ConductorSize {
    format!("{text} mm2")
        .parse()
        .unwrap_or_else(|e| panic!("{text}: {e}"))
}

/// ASTM B258 formula and 1/58: to the six printed digits; listed diameters to the digit.
#[test]
fn gauges_by_formula() {
    for row in table("awg_solid", 44) {
        let size = gauge(row.text("awg"));
        let what = row.text("awg");
        assert_eq!(f64::from(size.gauge_number().unwrap()), row.number("n"));
        let diameter = size.solid_diameter().value;
        assert_relative(
            what,
            diameter / 0.0254,
            row.number("diameter_in_exact"),
            1e-6,
        );
        assert_relative(what, diameter * 1e3, row.number("diameter_mm_exact"), 1e-6);
        assert_relative(
            what,
            size.area().value * 1e6,
            row.number("area_mm2_exact"),
            1e-5,
        );
        assert_relative(
            what,
            size.area().value / 5.067075e-10,
            row.number("area_cmil_exact"),
            1e-5,
        );
        let listed = size.listed_diameter().unwrap().value;
        assert_within(
            what,
            listed / 0.0254,
            row.number("diameter_in_b258_rounded"),
            1e-9,
        );
        let listed_area = std::f64::consts::FRAC_PI_4 * listed * listed * 1e6;
        assert_relative(what, listed_area, row.number("area_mm2_b258_rounded"), 1e-5);
        assert_relative(
            what,
            1000.0 / 58.0 / listed_area,
            row.number("r20_annealed_cu_b258_rounded_ohm_per_km"),
            1e-5,
        );
        let wire = Conductor {
            size,
            metal: Metal::Copper,
            construction: Construction::Solid,
        };
        let r20 = ohm_per_km(wire, Basis::GaugeFormula, 20.0);
        assert_relative(what, r20, row.number("r20_annealed_cu_ohm_per_km"), 1e-5);
        assert_relative(
            what,
            r20 * 0.3048,
            row.number("r20_annealed_cu_ohm_per_kft"),
            1e-5,
        );
        if let Some(published) = row.optional("r20_published_ohm_per_kft") {
            // A wire table of four digits: within 0.03 %.
            assert_relative(what, r20 * 0.3048, published, 3e-4);
            let area = square_millimetres(row.number("area_mm2_exact"));
            let by_area = area_resistance(area, Metal::Copper, celsius(20.0));
            let by_area = by_area.unwrap_or_else(|e| panic!("{what}: {e}"));
            assert_relative(what, by_area.per_length.value * 304.8, published, 3e-4);
        }
    }
}

/// US code, chapter 9, table 8: the printed figure at 75 °C in both units, all three metals.
#[test]
fn us_code_table_8() {
    let rows = table("nec_ch9_table8", 21);
    assert_eq!(rows.len(), evenrun::cable::tables::table8::ROWS.len());
    for row in rows {
        let size = gauge(row.text("awg"));
        let construction = row.text("stranding").parse().unwrap();
        for (metal, km, kft) in [
            (
                Metal::Copper,
                "r75_cu_uncoated_ohm_per_km",
                "r75_cu_uncoated_ohm_per_kft",
            ),
            (
                Metal::TinnedCopper,
                "r75_cu_coated_ohm_per_km",
                "r75_cu_coated_ohm_per_kft",
            ),
            (Metal::Aluminium, "r75_al_ohm_per_km", "r75_al_ohm_per_kft"),
        ] {
            let wire = Conductor {
                size,
                metal,
                construction,
            };
            let what = wire.to_string();
            // The best basis is the table itself, and it gives the print.
            let best = wire.resistance(celsius(75.0)).unwrap();
            assert_eq!(best.basis, Basis::UsCodeTable8, "{what}");
            assert_relative(&what, best.per_length.value * 1e3, row.number(km), 1e-12);
            // The two unit columns of the print agree within 0.71 %.
            assert_relative(&what, row.number(kft) / 0.3048, row.number(km), 0.0072);
        }
        let carried = evenrun::cable::tables::table8::ROWS
            .iter()
            .find(|r| {
                Some(r.gauge) == size.gauge_number()
                    && r.solid == (row.text("stranding") == "solid")
            })
            .unwrap();
        assert_eq!(f64::from(carried.wires), row.number("wires"));
        assert_eq!(carried.area_mm2, row.number("area_mm2"));
        assert_eq!(carried.area_cmil, row.number("area_cmil"));
        assert_eq!(carried.wire_diameter_mm, row.optional("wire_diameter_mm"));
        assert_eq!(
            carried.overall_diameter_mm,
            row.number("overall_diameter_mm")
        );
        assert_eq!(
            carried.copper_ohm_per_kft,
            row.number("r75_cu_uncoated_ohm_per_kft")
        );
        assert_eq!(
            carried.coated_ohm_per_kft,
            row.number("r75_cu_coated_ohm_per_kft")
        );
        assert_eq!(
            carried.aluminium_ohm_per_kft,
            row.number("r75_al_ohm_per_kft")
        );
        // The printed area is the exact gauge area to its digits.
        assert_relative(
            row.text("awg"),
            size.area().value * 1e6,
            carried.area_mm2,
            5e-3,
        );
    }
}

/// IEC 60228 maxima: the printed figure at 20 °C.
#[test]
fn iec_60228_maxima() {
    let rows = table("iec60228_resistance", 103);
    assert_eq!(rows.len(), evenrun::cable::tables::iec60228::ROWS.len());
    for row in rows {
        let size = square_mm(row.text("area_nominal_mm2"));
        let construction = format!("class {}", row.text("conductor_class"))
            .parse()
            .unwrap();
        let metal = match row.text("material") {
            "copper_plain" => Metal::Copper,
            "copper_metal_coated" => Metal::TinnedCopper,
            "aluminium" => Metal::Aluminium,
            other => panic!("{other}"),
        };
        let wire = Conductor {
            size,
            metal,
            construction,
        };
        let found = wire.resistance(celsius(20.0)).unwrap();
        assert_eq!(found.basis, Basis::Iec60228);
        assert_relative(
            &wire.to_string(),
            found.per_length.value * 1e3,
            row.number("r20_max_ohm_per_km"),
            1e-12,
        );
    }
    // At 50 mm² class 5 lies below class 2 in every print.
    let at = |construction| {
        let wire = Conductor {
            size: square_mm("50"),
            metal: Metal::Copper,
            construction,
        };
        ohm_per_km(wire, Basis::Iec60228, 20.0)
    };
    assert!(at(Construction::Class5) < at(Construction::Class2));
}

/// Half a unit of the fifth figure of a number near one, with 1 % of it for the sum.
fn five_figures(value: f64) -> f64 {
    if value >= 1.0 { 5.05e-5 } else { 5.05e-6 }
}

/// The printed kt, and the three formulas beside it in the file.
#[test]
fn iec_60228_temperature_factors() {
    let rows = table("iec60228_temperature_factors", 20);
    assert_eq!(
        rows.len(),
        evenrun::cable::tables::iec60228_temperature::ROWS.len()
    );
    for row in rows {
        let at = celsius(row.number("temperature_c"));
        let what = format!("{} °C", in_celsius(at));
        assert_eq!(
            iec60228_printed_factor(at),
            Some(row.number("kt_cu_published")),
            "{what}"
        );
        for (rule, column) in [
            (TemperatureRule::COPPER, "kt_cu_alpha_0p00393"),
            (TemperatureRule::IEC_60228, "kt_cu_alpha_0p004"),
            (TemperatureRule::ALUMINIUM, "kt_al_alpha_0p00403"),
        ] {
            assert_within(
                &what,
                1.0 / rule.factor(at),
                row.number(column),
                five_figures(row.number(column)),
            );
        }
        let old = 254.5 / (234.5 + in_celsius(at));
        assert_within(
            &what,
            old,
            row.number("kt_cu_254p5_over_234p5_plus_t"),
            five_figures(old),
        );
        // The rule in use follows the print within 0.06 %.
        assert_relative(
            &what,
            1.0 / TemperatureRule::IEC_60228.factor(at),
            row.number("kt_cu_published"),
            6e-4,
        );
    }
    assert_eq!(iec60228_printed_factor(celsius(22.0)), None);
}

/// Below 0.5 mm²: a cable maker's table, as what it is.
#[test]
fn sizes_below_half_a_square_millimetre() {
    for row in table("small_metric_wire_resistance", 8) {
        let size = square_mm(row.text("area_nominal_mm2"));
        for (metal, column) in [
            (Metal::Copper, "r20_max_plain_ohm_per_km"),
            (Metal::TinnedCopper, "r20_max_tinned_ohm_per_km"),
        ] {
            let wire = Conductor {
                size,
                metal,
                construction: Construction::Class5,
            };
            let found = wire.resistance(celsius(20.0)).unwrap();
            assert_eq!(found.basis, Basis::SmallMetric);
            assert!(found.source.to_string().contains("outside IEC 60228"));
            assert_relative(
                &wire.to_string(),
                found.per_length.value * 1e3,
                row.number(column),
                1e-12,
            );
        }
        let over_area = 1000.0 / 58.0 / size.nominal_mm2().unwrap();
        assert_relative(
            row.text("area_nominal_mm2"),
            over_area,
            row.number("rho_over_area_ohm_per_km"),
            5e-4,
        );
    }
}

/// An area of none, a metal without a resistivity, a temperature beyond the straight line.
#[test]
fn areas_that_have_no_resistance() {
    for mm2 in [0.0, -1.0, 1e7, f64::NAN, f64::INFINITY] {
        let found = area_resistance(square_millimetres(mm2), Metal::Copper, celsius(20.0));
        assert!(
            matches!(found, Err(ResistanceError::NotListed { .. })),
            "{mm2}"
        );
    }
    let one = square_millimetres(1.0);
    assert!(area_resistance(one, Metal::Unknown, celsius(20.0)).is_err());
    assert!(area_resistance(one, Metal::TinnedCopper, celsius(20.0)).is_err());
    assert!(area_resistance(one, Metal::Copper, celsius(300.0)).is_err());
}
