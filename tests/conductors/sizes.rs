//! Sizes as people write them, and the errors that teach.

use evenrun::cable::{ConductorSize, SizeSystem};
use evenrun::quantity::square_millimetres;

fn size(text: &str) -> ConductorSize {
    text.parse().unwrap_or_else(|e| panic!("{text}: {e}"))
}

#[test]
fn spellings_that_people_write() {
    for (text, shown) in [
        ("18 AWG", "18 AWG"),
        ("18 awg", "18 AWG"),
        ("18awg", "18 AWG"),
        ("#18 AWG", "18 AWG"),
        ("4/0 AWG", "4/0 AWG"),
        ("4/0", "4/0 AWG"),
        ("0000", "4/0 AWG"),
        ("000 AWG", "3/0 AWG"),
        ("1/0", "1/0 AWG"),
        ("0 AWG", "1/0 AWG"),
        ("250 kcmil", "250 kcmil"),
        ("500 MCM", "500 kcmil"),
        ("0.75 mm2", "0.75 mm²"),
        ("0.75mm²", "0.75 mm²"),
        ("1 mm²", "1 mm²"),
        ("1.5 mm^2", "1.5 mm²"),
        ("0.34 sq mm", "0.34 mm²"),
        (" 50 mm² ", "50 mm²"),
    ] {
        assert_eq!(size(text).to_string(), shown, "{text}");
        assert_eq!(size(shown), size(text), "{shown} reads back");
    }
}

#[test]
fn refusals_say_what_to_write() {
    for (text, words) in [
        ("", "18 AWG"),
        ("18", "\"18 AWG\" or \"18 mm²\""),
        ("1.5", "\"1.5 AWG\" or \"1.5 mm²\""),
        ("0", "\"0 AWG\" or \"0 mm²\""),
        ("-1 AWG", "2/0, 3/0, 4/0"),
        ("18.5 AWG", "gauges are whole"),
        ("41 AWG", "runs from 40"),
        ("250 AWG", "above 4/0 write kcmil"),
        ("5/0", "above 4/0 write kcmil"),
        ("7.5 mm", "an area is written mm²"),
        ("1,5 mm2", "comma"),
        ("１８ AWG", "plain 0 to 9"),
        ("18 ga", "write AWG"),
        ("1 mil", "kcmil"),
        ("NaN mm2", "does not start with a number"),
        ("inf AWG", "does not start with a number"),
        ("1e308 mm2", "0.01 mm² to 2500 mm²"),
        ("1e-320 mm2", "0.01 mm² to 2500 mm²"),
        ("-0.75 mm2", "0.01 mm² to 2500 mm²"),
        ("0.12345 mm2", "three decimals"),
        ("100 kcmil", "212 kcmil"),
        ("0.75 MM2", "did you mean mm²?"),
        ("2 oz", "unit `oz`"),
        ("24 VA", "unit `VA`"),
        ("#0.75 mm2", "accepted: AWG, kcmil, mm²"),
        ("/0", "runs from 40"),
        ("é", "does not start with a number"),
    ] {
        let error = text.parse::<ConductorSize>().unwrap_err().to_string();
        assert!(error.contains(words), "`{text}`: {error}");
    }
}

#[test]
fn neighbours_a_person_expects() {
    // ASTM B258 area of 18 AWG is 0.823 mm²: thicker than 0.75, thinner than 1.
    assert_eq!(
        size("18 AWG").nearest_in(SizeSystem::Metric),
        Some(size("0.75 mm²"))
    );
    assert_eq!(
        size("1 mm²").nearest_in(SizeSystem::American),
        Some(size("18 AWG"))
    );
    assert_eq!(
        size("2.5 mm²").nearest_in(SizeSystem::American),
        Some(size("14 AWG"))
    );
    let over = |mm2, system| ConductorSize::at_least(square_millimetres(mm2), system);
    assert_eq!(over(0.8, SizeSystem::Metric), Some(size("1 mm²")));
    assert_eq!(over(0.8, SizeSystem::American), Some(size("18 AWG")));
    assert_eq!(over(0.83, SizeSystem::American), Some(size("16 AWG")));
    assert_eq!(over(100.0, SizeSystem::American), Some(size("4/0 AWG")));
    // Above 4/0 there are kcmil; which of them are stocked is from memory and not asserted.
    assert!(over(120.0, SizeSystem::American).unwrap().area().value >= 120e-6);
    assert_eq!(over(60.0, SizeSystem::Metric), None);
    assert_eq!(over(f64::NAN, SizeSystem::Metric), None);
    assert!(size("18 AWG") < size("1 mm²") && size("0.75 mm²") < size("18 AWG"));
}
