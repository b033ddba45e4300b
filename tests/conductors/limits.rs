//! Lookups outside a table: the refusal names the table and its range, and nothing is extrapolated.

use crate::gauge;
use evenrun::cable::{
    Basis, CableSpec, Conductor, ConductorSize, Construction, Installation, Metal, SizeSystem,
    thinnest_with_at_most,
};
use evenrun::quantity::{celsius, ohms_per_kilometre};

fn size(text: &str) -> ConductorSize {
    text.parse().unwrap_or_else(|e| panic!("{text}: {e}"))
}

/// What the lookup of a two-core cable says when it has no figure.
fn refused(text: &str, rating: Option<f64>, ambient: f64, loaded: usize, how: &str) -> String {
    let spec = CableSpec {
        insulation_rating: rating.map(celsius),
        ..CableSpec::two_core("asked", size(text))
    };
    let how: Installation = how.parse().unwrap_or_else(|e| panic!("{how}: {e}"));
    let cable = spec.check().unwrap_or_else(|e| panic!("{text}: {e:?}"));
    match cable.ampacity(celsius(ambient), loaded, how) {
        Err(none) => none.to_string(),
        Ok(found) => panic!("{text} {how}: {} from {}", found.current.value, found.table),
    }
}

fn says(text: &str, words: &[&str]) {
    for word in words {
        assert!(text.contains(word), "`{word}` is not in: {text}");
    }
}

#[test]
fn resistance_names_table_and_range() {
    let asked = |text: &str, construction, basis| {
        let wire = Conductor {
            size: size(text),
            metal: Metal::Copper,
            construction,
        };
        wire.resistance_by(basis, celsius(20.0))
            .unwrap_err()
            .to_string()
    };
    says(
        &asked("300 mm2", Construction::Class6, Basis::Iec60228),
        &[
            "IEC 60228 lists no 300 mm² class 6 copper",
            "0.5 mm² to 50 mm²",
        ],
    );
    says(
        &asked("0.34 mm2", Construction::Class5, Basis::Iec60228),
        &["IEC 60228 lists no 0.34 mm²", "0.5 mm² to 50 mm²"],
    );
    says(
        &asked("0.5 mm2", Construction::Class5, Basis::SmallMetric),
        &["below 0.5 mm²", "0.05 mm² to 0.34 mm²"],
    );
    says(
        &asked("20 AWG", Construction::Stranded, Basis::UsCodeTable8),
        &["table 8 lists no 20 AWG", "18 AWG to 4/0 AWG"],
    );
    says(
        &asked("1 mm2", Construction::Class5, Basis::GaugeFormula),
        &["gauge formula lists no 1 mm²", "40 AWG to 4/0 AWG"],
    );
}

/// 95 °C ambient, in every family.
#[test]
fn ninety_five_degrees_of_ambient() {
    says(
        &refused("12 AWG", Some(90.0), 95.0, 3, "us 310.16"),
        &[
            "12 AWG",
            "95 °C",
            "no ambient factor",
            "310.16",
            "85 °C for 60, 75 and 90 °C",
        ],
    );
    says(
        &refused("2.5 mm2", Some(90.0), 95.0, 2, "iec C"),
        &["2.5 mm²", "95 °C", "B.52.14", "10 °C to 60 °C"],
    );
    says(
        &refused("18 AWG", Some(60.0), 95.0, 2, "us 402.5"),
        &["table 402.5", "30 °C ambient", "18 to 10 AWG"],
    );
    says(
        &refused("18 AWG", Some(60.0), 95.0, 2, "us 400.5"),
        &["table 400.5(A)(1)", "30 °C ambient"],
    );
    says(
        &refused("20 AWG", Some(75.0), 95.0, 2, "us 522.22"),
        &["table 522.22", "30 to 16 AWG"],
    );
    says(
        &refused("24 AWG", Some(75.0), 95.0, 8, "us 725.144 bundle 8"),
        &["table 725.144", "no ambient factor"],
    );
}

/// Ordinary 22 to 18 AWG Class 2 cable: no code table covers it, and that is the answer.
#[test]
fn small_wire_has_no_figure() {
    for (text, how) in [
        ("22 AWG", "us 310.16"),
        ("20 AWG", "us 310.16"),
        ("22 AWG", "us 402.5"),
        ("20 AWG", "us 400.5"),
    ] {
        says(
            &refused(text, Some(60.0), 30.0, 2, how),
            &["no table covers", text],
        );
    }
    // 18 AWG stands in 310.16 at 90 °C only: a 75 °C wire does not borrow the 14 A.
    says(
        &refused("18 AWG", Some(75.0), 30.0, 2, "us 310.16"),
        &[
            "no figure in the 75 °C column",
            "18 and 16 AWG at 90 °C only",
        ],
    );
    // Not stated counts as 60 °C.
    says(
        &refused("18 AWG", None, 30.0, 2, "us 310.16"),
        &["no figure in the 60 °C column"],
    );
}

#[test]
fn other_edges_of_the_ampacity_tables() {
    // No size is translated into another system.
    says(
        &refused("2.5 mm2", Some(75.0), 30.0, 2, "us 310.16"),
        &["lists gauges"],
    );
    says(
        &refused("14 AWG", Some(90.0), 30.0, 2, "iec C"),
        &["lists mm² sizes"],
    );
    says(
        &refused("16 mm2", Some(70.0), 30.0, 2, "iec C"),
        &["lacks this size", "1.5 mm² to 10 mm²"],
    );
    says(
        &refused("0.75 mm2", Some(70.0), 30.0, 2, "iec E"),
        &["lacks this size", "methods A1, A2, B1, B2, C"],
    );
    says(
        &refused("2.5 mm2", Some(70.0), 30.0, 62, "iec C"),
        &["62 cores are loaded", "5 to 61 loaded cores"],
    );
    says(
        &refused("2.5 mm2", Some(70.0), 20.0, 5, "iec D1"),
        &["more than three cores are loaded in the ground", "in air"],
    );
    says(
        &refused("2.5 mm2", Some(70.0), 30.0, 2, "iec C 21 circuits"),
        &["no grouping factor for 21 circuits", "1 to 20 circuits"],
    );
    says(
        &refused("2.5 mm2", Some(70.0), 30.0, 2, "iec D1"),
        &["ground hotter than 20 °C"],
    );
    says(
        &refused("2.5 mm2", Some(60.0), 30.0, 2, "iec C"),
        &["rated 60 °C, below 70 °C"],
    );
    says(
        &refused("26 AWG", Some(60.0), 30.0, 8, "us 725.144 bundle 92"),
        &["26 AWG: to 91"],
    );
    says(
        &refused("18 AWG", Some(60.0), 30.0, 4, "us 402.5"),
        &["more than 3 loaded conductors"],
    );
    says(
        &refused("12 AWG", Some(75.0), 30.0, 0, "us 310.16"),
        &["at least one core"],
    );
    says(
        &refused("12 AWG", Some(75.0), f64::NAN, 2, "us 310.16"),
        &["must be a number"],
    );
    says(
        &refused("12 AWG", Some(75.0), 30.0, 2, "stated"),
        &["states no ampacity"],
    );
    let metal = |metal, how: &str| {
        let text = if how.starts_with("iec") {
            "2.5 mm2"
        } else {
            "18 AWG"
        };
        let spec = CableSpec {
            metal,
            insulation_rating: Some(celsius(90.0)),
            ..CableSpec::two_core("clad", size(text))
        };
        let cable = spec.check().unwrap();
        let found = cable.ampacity(celsius(30.0), 2, how.parse().unwrap());
        found.unwrap_err().to_string()
    };
    for how in ["us 402.5", "us 400.5", "us 522.22", "iec C"] {
        let text = metal(Metal::CopperClad10, how);
        says(&text, &["for copper", "copper-clad aluminium"]);
    }
}

/// A national size below the IEC tables at 90 °C takes the 70 °C figure, and says so.
#[test]
fn a_better_insulation_takes_the_lower_column() {
    let spec = CableSpec {
        insulation_rating: Some(celsius(90.0)),
        ..CableSpec::two_core("small", size("0.75 mm2"))
    };
    let found = spec
        .check()
        .unwrap()
        .ampacity(celsius(40.0), 2, "iec B1".parse().unwrap())
        .unwrap();
    // ABNT NBR 5410:2004 table 36: 11 A; IEC 60364-5-52 table B.52.14, PVC at 40 °C: 0.87.
    assert_eq!(found.current.value, 11.0 * 0.87);
    assert!(found.source.to_string().starts_with("ABNT"));
    assert!(found.notes.iter().any(|n| n.contains("70 °C figure")));
}

/// The nearest standard size below a resistance: as thin as it may be, and not one thinner.
#[test]
fn thinnest_size_for_a_resistance() {
    let thinnest = |limit: f64, construction, system| {
        let limit = ohms_per_kilometre(limit);
        thinnest_with_at_most(limit, Metal::Copper, construction, celsius(20.0), system)
    };
    // IEC 60228 class 5: 0.75 mm² 26.0, 1 mm² 19.5, 1.5 mm² 13.3 Ω/km.
    let metric = |limit| thinnest(limit, Construction::Class5, SizeSystem::Metric);
    assert_eq!(metric(19.5), Some(size("1 mm2")));
    assert_eq!(metric(19.49), Some(size("1.5 mm2")));
    assert_eq!(metric(0.1), None);
    assert_eq!(metric(f64::NAN), None);
    // Table 8 at 75 °C: 18 AWG solid 25.5, 16 AWG 16.0 Ω/km; taken to 20 °C by its note 2.
    let at_20 = |r75: f64| r75 * (1.0 - 0.00323 * 55.0);
    let american = |limit| thinnest(limit, Construction::Solid, SizeSystem::American);
    assert_eq!(american(at_20(25.5) * 1.000_001), Some(gauge("18")));
    assert_eq!(american(at_20(25.5) * 0.999_999), Some(gauge("16")));
    assert_eq!(american(0.0), None);
}
