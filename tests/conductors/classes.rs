//! Shock and energy are two fields, and class II is neither.

use evenrun::device::{EnergyLimit, ShockProtection};

#[test]
fn class_two_roman_is_refused_with_the_reason() {
    for text in [
        "class II",
        "Class II",
        "CLASS Ⅱ",
        "class-ii",
        "II",
        "class III",
        "class ll",
    ] {
        let error = text.parse::<EnergyLimit>().unwrap_err().to_string();
        assert!(
            error.contains("double insulation") && error.contains("write \"class 2\""),
            "{text}: {error}"
        );
    }
}

#[test]
fn words_are_read_and_sent_to_their_field() {
    for (text, class) in [
        ("class 2", EnergyLimit::Class2),
        ("Class 2", EnergyLimit::Class2),
        ("CLASS2", EnergyLimit::Class2),
        ("limited power", EnergyLimit::LimitedPower),
        ("LPS", EnergyLimit::LimitedPower),
        ("none", EnergyLimit::None),
        ("unknown", EnergyLimit::Unknown),
    ] {
        assert_eq!(text.parse(), Ok(class), "{text}");
        assert_eq!(class.to_string().parse(), Ok(class));
    }
    for (text, shock) in [
        ("SELV", ShockProtection::Selv),
        ("pelv", ShockProtection::Pelv),
        ("other", ShockProtection::Other),
        ("unknown", ShockProtection::Unknown),
    ] {
        assert_eq!(text.parse(), Ok(shock), "{text}");
    }
    let says = |error: String, words: &str| assert!(error.contains(words), "{error}");
    says(
        "SELV".parse::<EnergyLimit>().unwrap_err().to_string(),
        "still start a fire",
    );
    says(
        "class 2"
            .parse::<ShockProtection>()
            .unwrap_err()
            .to_string(),
        "belongs in the energy field",
    );
    says(
        "class 3".parse::<EnergyLimit>().unwrap_err().to_string(),
        "not a limit that is counted on",
    );
    says(
        "safe".parse::<EnergyLimit>().unwrap_err().to_string(),
        "class 2, limited power, none, unknown",
    );
    says(
        "class II"
            .parse::<ShockProtection>()
            .unwrap_err()
            .to_string(),
        "selv, pelv, other, unknown",
    );
}
