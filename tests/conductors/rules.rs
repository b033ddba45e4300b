//! Temperature rules kept apart, the worst of what is not known, refusals.

use crate::common::assert_relative;
use crate::gauge;
use evenrun::cable::{
    Basis, Conductor, ConductorSize, Construction, Metal, ResistanceError, TemperatureRule,
};
use evenrun::quantity::celsius;

fn square_mm(text: &str) -> ConductorSize {
    format!("{text} mm2")
        .parse()
        .unwrap_or_else(|e| panic!("{text}: {e}"))
}

/// Each basis keeps its own temperature rule.
#[test]
fn rules_are_kept_apart() {
    let wire = Conductor {
        size: gauge("18"),
        metal: Metal::Copper,
        construction: Construction::Solid,
    };
    let by_table = wire
        .resistance_by(Basis::UsCodeTable8, celsius(20.0))
        .unwrap();
    assert_eq!(by_table.rule, TemperatureRule::US_COPPER);
    assert_relative(
        "table 8 note 2",
        by_table.per_length.value,
        25.5e-3 * (1.0 - 0.00323 * 55.0),
        1e-12,
    );
    let by_formula = wire
        .resistance_by(Basis::GaugeFormula, celsius(75.0))
        .unwrap();
    assert_eq!(by_formula.rule, TemperatureRule::COPPER);
    let metric = Conductor {
        size: square_mm("1.5"),
        metal: Metal::Copper,
        construction: Construction::Class5,
    };
    let by_iec = metric.resistance(celsius(70.0)).unwrap();
    assert_relative("IEC", by_iec.per_length.value, 13.3e-3 * 1.2, 1e-12);
    // Aluminium by note 2 of table 8: 0.00330 /K from 75 °C.
    let aluminium = Conductor {
        metal: Metal::Aluminium,
        ..wire
    };
    let r30 = aluminium
        .resistance(celsius(30.0))
        .unwrap()
        .per_length
        .value;
    assert_relative("aluminium", r30, 42.0e-3 * (1.0 - 0.0033 * 45.0), 1e-12);
}

/// Unknown metal or construction takes the worst figure, and says so.
#[test]
fn unknown_is_the_worst_and_said() {
    let unknown = Conductor {
        size: square_mm("0.75"),
        metal: Metal::Unknown,
        construction: Construction::Unknown,
    };
    let found = unknown.resistance(celsius(20.0)).unwrap();
    // Class 5 plain 26.0 over 62.9 %, the least conductive metal there is a figure for at this size.
    assert_relative("worst", found.per_length.value, 26.0e-3 / 0.629, 1e-12);
    assert!(
        found
            .assumed
            .iter()
            .any(|a| a.contains("copper-clad aluminium 10 %")),
        "{:?}",
        found.assumed
    );
    assert!(
        found.assumed.iter().any(|a| a.contains("class 5")),
        "{:?}",
        found.assumed
    );
    for metal in Metal::KNOWN {
        for construction in [
            Construction::Class1,
            Construction::Class2,
            Construction::Class5,
            Construction::Class6,
        ] {
            let known = Conductor {
                metal: *metal,
                construction,
                ..unknown
            };
            if let Ok(r) = known.resistance(celsius(20.0)) {
                assert!(r.per_length.value <= found.per_length.value, "{known}");
                assert!(r.assumed.is_empty());
            }
        }
    }
    let stranded = Conductor {
        size: square_mm("50"),
        metal: Metal::Copper,
        construction: Construction::Stranded,
    };
    let found = stranded.resistance(celsius(20.0)).unwrap();
    assert_relative(
        "the worse of classes 2 and 5 at 50 mm²",
        found.per_length.value,
        0.387e-3,
        1e-12,
    );
}

/// Outside a table: an error with the table and its range.
#[test]
fn outside_a_table_is_an_error_with_its_range() {
    let says = |conductor: Conductor, at: f64, words: &[&str]| {
        let error = conductor.resistance(celsius(at)).unwrap_err().to_string();
        for word in words {
            assert!(error.contains(word), "{word}: {error}");
        }
    };
    let class6 = Conductor {
        size: square_mm("300"),
        metal: Metal::Copper,
        construction: Construction::Class6,
    };
    says(
        class6,
        20.0,
        &[
            "IEC 60228",
            "300 mm² class 6",
            "0.5 mm² to 50 mm²",
            "largest listed is 50 mm²",
        ],
    );
    let odd = Conductor {
        size: square_mm("0.82"),
        ..class6
    };
    says(odd, 20.0, &["beside it: 0.75 mm² and 1 mm²"]);
    let small_solid = Conductor {
        size: square_mm("0.34"),
        construction: Construction::Class1,
        ..class6
    };
    says(small_solid, 20.0, &["0.05 mm² to 0.34 mm²"]);
    let mixed = Conductor {
        size: gauge("18"),
        ..class6
    };
    says(mixed, 20.0, &["18 AWG cannot be class 6"]);
    says(
        Conductor {
            size: square_mm("1"),
            ..class6
        },
        250.1,
        &["-50 °C to 200 °C"],
    );
    says(
        Conductor {
            size: square_mm("1"),
            ..class6
        },
        f64::NAN,
        &["NaN"],
    );
    let wire = Conductor {
        size: gauge("20"),
        metal: Metal::Copper,
        construction: Construction::Solid,
    };
    let error = wire
        .resistance_by(Basis::UsCodeTable8, celsius(75.0))
        .unwrap_err();
    assert!(matches!(error, ResistanceError::NotListed { .. }));
    assert!(error.to_string().contains("18 AWG to 4/0 AWG"), "{error}");
}
