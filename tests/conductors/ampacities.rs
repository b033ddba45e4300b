//! Ampacities against the printed tables, looked up through a cable as a user does.

use crate::common::assert_relative;
use crate::{gauge, table};
use evenrun::cable::tables::{iec_60364_5_52, us_310_16, us_725_144, us_small};
use evenrun::cable::{
    Ampacity, Cable, CableSpec, ConductorSize, Construction, Installation, Metal, NoTable,
};
use evenrun::quantity::celsius;

/// A two-core cable of one size, metal and insulation rating.
fn cable(size: ConductorSize, metal: Metal, rating: f64) -> Cable {
    let spec = CableSpec {
        metal,
        insulation_rating: Some(celsius(rating)),
        ..CableSpec::two_core("test", size)
    };
    spec.check().unwrap_or_else(|e| panic!("{size}: {e:?}"))
}

fn at(
    size: ConductorSize,
    metal: Metal,
    rating: f64,
    ambient: f64,
    loaded: usize,
    installation: Installation,
) -> Result<Ampacity, NoTable> {
    cable(size, metal, rating).ampacity(celsius(ambient), loaded, installation)
}

/// US code, table 310.16 (2017: 310.15(B)(16)), all six columns, and the device limit of 240.4(D).
#[test]
fn us_code_310_16() {
    let rows = table("ampacity_nec_310_16", 15);
    assert_eq!(rows.len(), us_310_16::ROWS.len());
    let mut figures = 0;
    for row in rows {
        let size = gauge(row.text("awg"));
        for (metal, rating, column) in [
            (Metal::Copper, 60.0, "cu_60c_a"),
            (Metal::Copper, 75.0, "cu_75c_a"),
            (Metal::Copper, 90.0, "cu_90c_a"),
            (Metal::Aluminium, 60.0, "al_or_cca_60c_a"),
            (Metal::Aluminium, 75.0, "al_or_cca_75c_a"),
            (Metal::CopperClad10, 90.0, "al_or_cca_90c_a"),
        ] {
            let what = format!("{size} {metal} {rating} °C");
            let found = at(size, metal, rating, 30.0, 3, Installation::UsRaceway);
            match row.optional(column) {
                Some(printed) => {
                    let found = found.unwrap_or_else(|e| panic!("{what}: {e}"));
                    assert_eq!(found.current.value, printed, "{what}");
                    assert_eq!(found.tabulated.value, printed, "{what}");
                    assert_eq!(found.table, "us-code-310-16");
                    assert!(found.corrections.is_empty(), "{what}");
                    let device = found.largest_device.map(|d| d.rating.value);
                    let copper = metal == Metal::Copper;
                    let limit = row.optional("cu_max_overcurrent_240_4d_a");
                    assert_eq!(device, limit.filter(|_| copper), "{what}");
                    figures += 1;
                }
                // An empty cell of the print is an answer, not a figure of the next column.
                None => {
                    let error = found.unwrap_err().to_string();
                    assert!(error.contains("310.16"), "{what}: {error}");
                }
            }
        }
    }
    assert_eq!(figures, 15 + 13 + 13 + 3 * 12);
}

/// US code, tables 402.5, 400.5(A)(1), 522.22 and clause 725.43.
#[test]
fn us_code_small_conductors() {
    let rows = table("ampacity_nec_small", 45);
    assert_eq!(rows.len(), us_small::ROWS.len());
    for (row, carried) in rows.iter().zip(us_small::ROWS) {
        let size = gauge(row.text("awg"));
        let printed = row.number("current_a");
        assert_eq!(carried.current_a, printed);
        assert_eq!(Some(carried.gauge), size.gauge_number());
        let condition = row.text("condition");
        let (part, asked) = match row.text("table") {
            "402.5 fixture wire" => (
                us_small::Part::FixtureWire,
                Some((60.0, 3, Installation::UsFixtureWire)),
            ),
            "400.5(A)(1) flexible cord" if condition.starts_with("column A") => (
                us_small::Part::CordThree,
                Some((60.0, 3, Installation::UsFlexibleCord)),
            ),
            "400.5(A)(1) flexible cord" if condition.starts_with("column B") => (
                us_small::Part::CordTwo,
                Some((60.0, 2, Installation::UsFlexibleCord)),
            ),
            // Heater cords are carried and cited, not looked up: no job here is wired with them.
            "400.5(A)(1) flexible cord" => (us_small::Part::HeaterCord, None),
            "522.22 control wiring (permanent amusement attractions)"
                if condition == "60 C insulation" =>
            {
                (
                    us_small::Part::Control60,
                    Some((60.0, 3, Installation::UsControlWire)),
                )
            }
            "522.22 control wiring (permanent amusement attractions)" => (
                us_small::Part::Control75,
                Some((75.0, 3, Installation::UsControlWire)),
            ),
            // A limit of the device, not an ampacity: there is nothing to look up.
            "725.43 Class 1 maximum overcurrent protection" => {
                (us_small::Part::Class1Overcurrent, None)
            }
            other => panic!("{other}"),
        };
        assert_eq!(carried.part, part, "{size} {condition}");
        if let Some((rating, loaded, installation)) = asked {
            let found = at(size, Metal::Copper, rating, 30.0, loaded, installation)
                .unwrap_or_else(|e| panic!("{size} {condition}: {e}"));
            assert_eq!(found.current.value, printed, "{size} {condition}");
        }
    }
}

/// US code, table 725.144 of 2017: every bundle, both of its ends, three ratings.
#[test]
fn us_code_data_cables() {
    let rows = table("ampacity_nec_725_144", 27);
    assert_eq!(rows.len(), us_725_144::ROWS.len());
    for row in rows {
        let size = gauge(row.text("awg"));
        let bundle = row.text("four_pair_cables_in_bundle");
        let (from, to) = bundle.split_once('-').unwrap_or((bundle, bundle));
        for (rating, column) in [
            (60.0, "per_conductor_60c_a"),
            (75.0, "per_conductor_75c_a"),
            (90.0, "per_conductor_90c_a"),
        ] {
            for bundle in [from, to] {
                let bundle = bundle.parse().unwrap();
                let how = Installation::UsDataCable { bundle };
                let found = at(size, Metal::Copper, rating, 30.0, 8, how).unwrap();
                assert_eq!(
                    found.current.value,
                    row.number(column),
                    "{size} in {bundle} at {rating} °C"
                );
            }
        }
    }
}

/// IEC 60364-5-52 by method, and the national sizes below it, which are cited as national.
#[test]
fn iec_60364_5_52_by_method() {
    let rows = table("ampacity_iec_60364_5_52", 190);
    assert_eq!(rows.len(), iec_60364_5_52::ROWS.len());
    for row in rows {
        let size: ConductorSize = format!("{} mm2", row.text("area_mm2")).parse().unwrap();
        let (rating, insulation) = match row.text("insulation") {
            "PVC_70C" => (70.0, "PVC"),
            "XLPE_EPR_90C" => (90.0, "XLPE"),
            other => panic!("{other}"),
        };
        let how: Installation = format!("iec {}", row.text("method")).parse().unwrap();
        let ambient = match row.text("reference_ambient_c") {
            "30 air" => 30.0,
            "20 ground" => 20.0,
            other => panic!("{other}"),
        };
        let loaded = row.number("loaded_conductors") as usize;
        let what = format!("{size} {insulation} {how}, {loaded} loaded");
        let found = at(size, Metal::Copper, rating, ambient, loaded, how)
            .unwrap_or_else(|e| panic!("{what}: {e}"));
        assert_eq!(found.current.value, row.number("current_a"), "{what}");
        let national = row.text("standard_table").starts_with("ABNT");
        assert_eq!(
            found.source.to_string().starts_with("ABNT"),
            national,
            "{what}: {}",
            found.source
        );
        // A figure that only one copy shows says so.
        let alone = !row.text("source").contains("agree");
        assert_eq!(
            found.notes.iter().any(|note| note.contains("one copy")),
            alone,
            "{what}: {:?}",
            found.notes
        );
    }
}

/// Three loaded cores have their own column; of more, the factor of DIN VDE 0298-4, table 26, of that column; and the common
/// of a cable carries what two cores may, as long as the squares of all stay within those of equal currents.
#[test]
fn cores_of_one_cable() {
    let of = |size: &str, loaded, how: &str| {
        let size = size.parse().unwrap();
        let how = how.parse().unwrap();
        let one = at(size, Metal::Copper, 70.0, 30.0, loaded, how).unwrap();
        let common = cable(size, Metal::Copper, 70.0).common_ampacity(celsius(30.0), loaded, how);
        (one.current.value, common.unwrap().current.value)
    };
    // Table B.52.2 and table B.52.4, PVC, method C, 1.5 mm²: 19.5 A and 17.5 A.
    assert_eq!(of("1.5 mm2", 2, "iec C"), (19.5, 19.5));
    assert_eq!(of("1.5 mm2", 3, "iec C"), (17.5, 19.5));
    // Five: 0.75; between two printed counts that of the greater.
    assert_relative("five", of("1.5 mm2", 5, "iec C").0, 17.5 * 0.75, 1e-12);
    assert_relative("six", of("1.5 mm2", 6, "iec C").0, 17.5 * 0.65, 1e-12);
    assert_eq!(of("1.5 mm2", 5, "iec C").1, 19.5);
    // Two common-plus cores at 19.5 A heat less than five equal ones: 2 · 19.5² against 5 · 13.125².
    assert!(2.0 * 19.5_f64.powi(2) < 5.0 * (17.5 * 0.75_f64).powi(2));
    // US code, table 400.5(A)(1), 18 AWG: 10 A for two, 7 A for three; table 400.5(A)(3): 0.8 for four to six.
    let (one, common) = of("18 AWG", 5, "us 400.5");
    assert_relative("cord", one, 7.0 * 0.8, 1e-12);
    assert_relative("cord, common", common, 7.0 * 0.8 * 2.5_f64.sqrt(), 1e-12);
    let five = cable("1.5 mm2".parse().unwrap(), Metal::Copper, 70.0);
    let found = five
        .ampacity(celsius(30.0), 5, "iec C".parse().unwrap())
        .unwrap();
    assert!(
        found.corrections[0]
            .source
            .to_string()
            .contains("DIN VDE 0298-4")
    );
    assert!(
        found
            .notes
            .iter()
            .any(|note| note.contains("IEC 60364-5-52 has no factor"))
    );
}

/// Construction has no part in these tables; tinning has none either; hotter insulation never carries less.
#[test]
fn what_does_not_matter_does_not() {
    for how in [Installation::UsRaceway, "iec C".parse().unwrap()] {
        let size: ConductorSize = match how {
            Installation::UsRaceway => "12 AWG",
            _ => "2.5 mm2",
        }
        .parse()
        .unwrap();
        let ask = |metal, rating| at(size, metal, rating, 30.0, 2, how).unwrap().current.value;
        assert_eq!(ask(Metal::Copper, 90.0), ask(Metal::TinnedCopper, 90.0));
        assert_eq!(ask(Metal::Copper, 90.0), ask(Metal::Copper, 105.0));
        assert!(ask(Metal::Copper, 75.0) <= ask(Metal::Copper, 90.0));
    }
    let solid = CableSpec {
        construction: Construction::Solid,
        insulation_rating: Some(celsius(75.0)),
        ..CableSpec::two_core("solid", gauge("12"))
    };
    let found = solid
        .check()
        .unwrap()
        .ampacity(celsius(30.0), 2, Installation::UsRaceway);
    assert_eq!(found.unwrap().current.value, 25.0);
}

/// Ambient + (rating − reference) · (I / table)²: at the ampacity the conductor is at its rating.
#[test]
fn conductor_temperature_from_load() {
    let size = gauge("12");
    let found = at(size, Metal::Copper, 75.0, 30.0, 2, Installation::UsRaceway).unwrap();
    let hot = |amps, ambient| {
        let amps = evenrun::quantity::amps(amps);
        found
            .conductor_temperature(amps, celsius(ambient))
            .unwrap()
            .value
            - 273.15
    };
    assert_relative("full", hot(25.0, 30.0), 75.0, 1e-12);
    assert_relative("half", hot(12.5, 30.0), 30.0 + 45.0 / 4.0, 1e-12);
    assert_relative("none", hot(0.0, 48.0), 48.0, 1e-12);
    // NFPA 70-2023, 310.15(B)(1): the factor of another ambient keeps the conductor at its rating.
    let warm = 25.0 * (35.0_f64 / 45.0).sqrt();
    assert_relative("warm", hot(warm, 40.0), 75.0, 1e-12);
    assert!(
        at(
            gauge("18"),
            Metal::Copper,
            60.0,
            30.0,
            2,
            Installation::UsFixtureWire
        )
        .unwrap()
        .conductor_temperature(evenrun::quantity::amps(1.0), celsius(30.0))
        .is_none()
    );
}
