//! Cables: what a specification may not say, what each core carries, what it weighs.

use crate::common::assert_relative;
use crate::gauge;
use evenrun::cable::{
    Cable, CableSpec, ConductorSize, Construction, CoreFunction, CoreSpec, Installation, Metal,
    StatedAmpacity,
};
use evenrun::quantity::{ElectricCurrent, RouteLength, amps, celsius, metres};
use evenrun::source::Source;

fn core(name: &str, function: CoreFunction) -> CoreSpec {
    CoreSpec {
        name: name.to_string(),
        function,
        size: None,
    }
}

/// One common and four returns of 0.75 mm².
fn five_core() -> CableSpec {
    let mut cores = vec![core("V+", CoreFunction::Common)];
    cores.extend(
        ["R", "G", "B", "W"]
            .iter()
            .enumerate()
            .map(|(k, name)| core(name, CoreFunction::Return(k))),
    );
    CableSpec {
        cores,
        ..CableSpec::two_core("five", "0.75 mm2".parse().unwrap())
    }
}

fn checked(spec: CableSpec) -> Cable {
    spec.check().unwrap_or_else(|e| panic!("{e:?}"))
}

fn carried(cable: &Cable, emitters: &[f64]) -> Vec<f64> {
    let emitters: Vec<ElectricCurrent> = emitters.iter().map(|i| amps(*i)).collect();
    cable
        .core_currents(&emitters)
        .unwrap()
        .iter()
        .map(|i| i.value)
        .collect()
}

/// Kirchhoff: the common carries the sum, 4 A for four times 1 A, and cores of one function share by area.
#[test]
fn the_common_carries_the_sum() {
    let cable = checked(five_core());
    assert_eq!(carried(&cable, &[1.0; 4]), [4.0, 1.0, 1.0, 1.0, 1.0]);
    assert_eq!(
        carried(&cable, &[0.5, 0.0, 0.0, 2.0]),
        [2.5, 0.5, 0.0, 0.0, 2.0]
    );
    let mut two_commons = five_core();
    two_commons.cores.push(CoreSpec {
        size: Some("1.5 mm2".parse().unwrap()),
        ..core("V+ 2", CoreFunction::Common)
    });
    two_commons.cores.push(core("spare", CoreFunction::Spare));
    let shared = carried(&checked(two_commons), &[1.5, 1.5, 0.0, 0.0]);
    assert_eq!(shared, [1.0, 1.5, 1.5, 0.0, 0.0, 2.0, 0.0]);
    let error = cable
        .core_currents(&[amps(1.0); 5])
        .unwrap_err()
        .to_string();
    assert!(
        error.contains("no return core for emitter 4") && error.contains("1 A"),
        "{error}"
    );
}

#[test]
fn all_faults_of_a_specification_at_once() {
    let mut spec = five_core();
    spec.name = " ".to_string();
    spec.cores.remove(0);
    spec.cores[1].name = "R".to_string();
    spec.insulation_rating = Some(celsius(40.0));
    spec.size = "0.82 mm2".parse().unwrap();
    let text: Vec<String> = spec
        .check()
        .unwrap_err()
        .iter()
        .map(ToString::to_string)
        .collect();
    for words in [
        "no name",
        "two cores called `R`",
        "no common core",
        "40 °C",
        "beside it: 0.75 mm² and 1 mm²",
    ] {
        assert!(
            text.iter().any(|line| line.contains(words)),
            "{words}: {text:?}"
        );
    }
    assert_eq!(text.len(), 5, "{text:?}");
    for count in [0, 201] {
        let spec = CableSpec {
            cores: (0..count)
                .map(|k| core(&k.to_string(), CoreFunction::Spare))
                .collect(),
            ..five_core()
        };
        let text = spec.check().unwrap_err()[0].to_string();
        assert!(text.contains(&format!("has {count} cores")), "{text}");
    }
    for rating in [f64::NAN, f64::INFINITY, 59.9, 250.1] {
        let spec = CableSpec {
            insulation_rating: Some(celsius(rating)),
            ..five_core()
        };
        assert!(spec.check().is_err(), "{rating}");
    }
}

#[test]
fn questions_that_have_no_answer() {
    let cable = checked(CableSpec {
        insulation_rating: Some(celsius(70.0)),
        ..five_core()
    });
    let route = RouteLength::new(metres(5.0));
    let says = |found: Result<_, evenrun::cable::CableError>, words: &str| {
        let error = found
            .map(|_: evenrun::quantity::ElectricalResistance| ())
            .unwrap_err()
            .to_string();
        assert!(error.contains(words), "{error}");
    };
    says(
        cable.core_resistance(5, route, celsius(20.0)),
        "there is no core 5",
    );
    says(
        cable.core_resistance(0, route, celsius(70.1)),
        "exceeds its insulation rating, 70 °C",
    );
    says(
        cable.core_resistance(0, route, celsius(-60.0)),
        "-50 °C to 200 °C",
    );
    for length in [-1.0, f64::NAN, f64::INFINITY] {
        says(
            cable.core_resistance(0, RouteLength::new(metres(length)), celsius(20.0)),
            "is not a length",
        );
    }
    let none = cable
        .core_ampacity(9, celsius(30.0), 2, Installation::UsRaceway)
        .unwrap_err();
    assert!(none.to_string().contains("no such core"), "{none}");
    assert_eq!(
        cable
            .core_resistance(0, RouteLength::new(metres(0.0)), celsius(20.0))
            .unwrap()
            .value,
        0.0
    );
}

/// A maker's figure holds for the ambient and the number of cores that it was stated for; a hotter ambient takes from it
/// by the heat balance of NFPA 70-2023, 310.15(B)(1), where the insulation is rated.
#[test]
fn a_stated_ampacity_holds_where_it_was_stated() {
    let stated = |current| StatedAmpacity {
        current: amps(current),
        ambient: celsius(40.0),
        loaded_cores: 5,
        source: Source::invented("a made-up cable for this test"),
    };
    let cable = checked(CableSpec {
        stated_ampacity: Some(stated(4.5)),
        ..five_core()
    });
    let ask = |ambient, loaded| cable.ampacity(celsius(ambient), loaded, Installation::Stated);
    let found = ask(40.0, 5).unwrap();
    assert_eq!(found.current.value, 4.5);
    assert!(found.source.to_string().contains("made-up cable"));
    assert!(
        ask(40.1, 5)
            .unwrap_err()
            .to_string()
            .contains("no insulation rating says what is left there")
    );
    let rated = checked(CableSpec {
        stated_ampacity: Some(stated(4.5)),
        insulation_rating: Some(celsius(70.0)),
        ..five_core()
    });
    let ask_rated = |ambient| rated.ampacity(celsius(ambient), 5, Installation::Stated);
    // 4.5 A stated for 40 °C: sqrt((70 - 55) / (70 - 40)) of it at 55 °C, no more than it in a cooler place, none at 70 °C.
    let hot = ask_rated(55.0).unwrap();
    assert!((hot.current.value - 4.5 * 0.5_f64.sqrt()).abs() < 1e-12);
    assert_eq!(hot.corrections[0].what, "ambient 55 °C, stated for 40 °C");
    assert_eq!(ask_rated(20.0).unwrap().current.value, 4.5);
    assert!(ask_rated(70.0).is_err());
    assert!(
        ask(30.0, 6)
            .unwrap_err()
            .to_string()
            .contains("6 cores are loaded")
    );
    for current in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        let spec = CableSpec {
            stated_ampacity: Some(stated(current)),
            ..five_core()
        };
        assert!(spec.check().is_err(), "{current}");
    }
}

/// The thinnest core that carries current decides, whichever it is.
#[test]
fn the_thinnest_loaded_core_decides() {
    let mut spec = CableSpec {
        insulation_rating: Some(celsius(70.0)),
        ..five_core()
    };
    spec.size = "2.5 mm2".parse().unwrap();
    spec.cores[2].size = Some("1.5 mm2".parse().unwrap());
    spec.cores.push(CoreSpec {
        size: Some("0.5 mm2".parse().unwrap()),
        ..core("s", CoreFunction::Spare)
    });
    let cable = checked(spec);
    // IEC 60364-5-52:2009, table B.52.2, method B2: 1.5 mm² 16.5 A, 2.5 mm² 23 A.
    let how: Installation = "iec B2".parse().unwrap();
    assert_eq!(
        cable.ampacity(celsius(30.0), 2, how).unwrap().current.value,
        16.5
    );
    assert_eq!(
        cable
            .core_ampacity(0, celsius(30.0), 2, how)
            .unwrap()
            .current
            .value,
        23.0
    );
}

/// Copper: area times 8.89 g/cm³ (IEC 60028), clad metal by its share, aluminium none.
#[test]
fn copper_in_a_cable() {
    let grams = |spec: CableSpec| checked(spec).copper_per_length().value * 1e3;
    assert_relative("5 x 0.75", grams(five_core()), 5.0 * 0.75 * 8.89, 1e-12);
    let of = |metal| CableSpec {
        metal,
        construction: Construction::Solid,
        ..CableSpec::two_core("wire", gauge("14"))
    };
    let solid = 2.0 * 2.080_907 * 8.89;
    assert_relative("copper", grams(of(Metal::Copper)), solid, 1e-6);
    assert_relative("clad", grams(of(Metal::CopperClad15)), 0.15 * solid, 1e-6);
    assert_eq!(grams(of(Metal::Aluminium)), 0.0);
    let cable = checked(five_core());
    let mass = cable.copper_mass(RouteLength::new(metres(30.0)));
    assert_relative("30 m", mass.value, 30.0 * 5.0 * 0.75 * 8.89e-3, 1e-12);
}

/// 18 AWG on a 5 m route: both cores of table 8 make the loop.
#[test]
fn a_loop_is_two_cores() {
    let cable = checked(CableSpec::two_core("feeder", gauge("18")));
    let route = RouteLength::new(metres(5.0));
    let one = cable.core_resistance(0, route, celsius(75.0)).unwrap();
    let two = cable.core_resistance(1, route, celsius(75.0)).unwrap();
    assert_relative("loop", (one + two).value, 10.0 * 26.1e-3, 1e-12);
    assert_eq!(cable.core_for(CoreFunction::Common), Some(0));
    assert_eq!(cable.core_for(CoreFunction::Earth), None);
    assert_eq!(cable.assumptions(), Vec::<String>::new());
    let size: ConductorSize = "0.75 mm2".parse().unwrap();
    let unknown = CableSpec {
        metal: Metal::Unknown,
        ..CableSpec::two_core("cheap", size)
    };
    assert_eq!(checked(unknown).assumptions().len(), 1);
}
