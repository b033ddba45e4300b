//! What a message says: one cause, where it stands, an example of the right kind, the key that was meant.

use crate::edit::{bad, changed, only_fault, told, told_first};

#[test]
fn what_the_file_lacks_stands_at_its_beginning() {
    let faults = bad("title = \"x\"\n");
    for fault in faults.faults() {
        let place = fault.place.unwrap_or_else(|| panic!("no place: {fault}"));
        assert_eq!((place.line, place.column), (1, 1), "{fault}");
    }
    assert!(
        faults
            .to_string()
            .contains("job.toml:1:1: schema is missing")
    );
    assert!(
        faults
            .to_string()
            .contains("job.toml:1:1: supply is missing: the job has none")
    );
}

#[test]
fn a_common_word_is_known_for_what_it_means() {
    for (word, key) in [
        ("[[tape]]", "strip"),
        ("[[wire]]", "cable"),
        ("[[driver]]", "supply"),
        ("[[dimmer]]", "decoder"),
    ] {
        let faults = bad(&changed(
            "[[universe]]",
            &format!("{word}\nname = \"x\"\n\n[[universe]]"),
        ));
        let said = faults.to_string();
        assert!(said.contains(&format!("did you mean `{key}`?")), "{said}");
    }
    let tail = |from: &str, to: &str, key: &str| {
        let faults = bad(&changed(from, to));
        let said = faults.to_string();
        assert!(said.contains(&format!("did you mean `{key}`?")), "{said}");
    };
    tail("\nvolts = \"24 V\"", "\nvoltage = \"24 V\"", "volts");
    tail("rated = \"24 V\"", "voltage = \"24 V\"", "rated");
    tail("stops = [", "devices = [", "stops");
}

/// A word that was meant for a key is one fault: that the key is missing, and what follows from that, is not told beside it.
#[test]
fn a_common_word_is_one_fault() {
    let tape = crate::edit::DEMO.replace("[[strip]]", "[[tape]]");
    let (_, fault) = only_fault(&tape);
    assert_eq!((&*fault.field, &*fault.suggestion), ("tape", "strip"));
    let (_, fault) = only_fault(&changed("rated = \"24 V\"", "voltage = \"24 V\""));
    assert_eq!((&*fault.field, &*fault.suggestion), ("voltage", "rated"));
    assert_eq!(fault.remedy, "Write a voltage like \"24 V\"");
    let (_, fault) = only_fault(&changed("stops = [", "devices = ["));
    assert_eq!((&*fault.field, &*fault.suggestion), ("devices", "stops"));
    // What stands beside the right key is still refused, and the right one still looked at.
    let both = changed("rated = \"24 V\"", "voltage = \"24 V\"\nrated = \"240 V\"");
    assert_eq!(bad(&both).count(), 2);
}

#[test]
fn a_table_that_is_none_is_one_fault() {
    let (_, fault) = only_fault(&changed("[limits]", "[[limits]]"));
    assert!(
        fault.to_string().contains("a table [limits] is needed"),
        "{fault}"
    );
    // A place without its name is not called unknown wherever it is named.
    let (_, fault) = only_fault(&changed("name = \"foyer store\"\n", ""));
    assert_eq!(
        fault.to_string(),
        "place 2: name is missing. Write the name of the place"
    );
}

/// A figure of a tape that cannot be is told at its own key.
#[test]
fn a_figure_of_a_tape_names_its_key() {
    let base = include_str!("../faults/base.toml");
    for (from, to, key) in [
        (
            "pad_current = \"5 A\"",
            "pad_current = \"5000 A\"",
            "pad_current",
        ),
        (
            "resistance = \"2 mΩ\"",
            "resistance = \"4295 kΩ\"",
            "splices",
        ),
        (
            "resistance = \"4 mΩ\"",
            "resistance = \"99 ohm\"",
            "reel_joint",
        ),
    ] {
        assert!(base.contains(from), "{from}");
        let (_, fault) = only_fault(&base.replacen(from, to, 1));
        assert!(fault.field.starts_with(key), "{key}: {fault}");
    }
}

/// A curve is for dimming.
#[test]
fn a_switched_zone_has_no_curve() {
    let text = include_str!("../faults/base.toml");
    let text = text.replace(
        "control = \"switched\"",
        "control = \"switched\"\ncurve = \"square\"",
    );
    let (_, fault) = only_fault(&text);
    assert_eq!(
        fault.to_string(),
        "zone \"shelf\": curve is stated for a switched zone. Leave it out, or write control = \"8 bit\" or \"16 bit\""
    );
}

#[test]
fn an_example_is_of_the_right_kind() {
    told(
        "insulation = \"70 °C\"",
        "insulation = \"70\"",
        "cable \"2 x 1 mm2\": insulation: `70` has no unit: a temperature is written like \"70 °C\"; accepted: °C, °F, K",
    );
    for (without, says) in [
        (
            "volts = \"24 V\"\n",
            "volts is missing. Write a voltage like \"24 V\"",
        ),
        (
            "output_current = \"6 A\"\n",
            "output_current is missing. Write a current like",
        ),
    ] {
        let said = bad(&changed(without, "")).to_string();
        assert!(said.contains(says), "{said}");
    }
    told_first(
        "rated = \"24 V\"",
        "rated = true",
        "strip \"white 24 V, 14.4 W/m\": rated is true, where a voltage like \"24 V\" is needed",
    );
}

#[test]
fn a_blank_between_digits_is_called_one() {
    for blank in [" ", "\u{a0}", "\u{202f}"] {
        told_first(
            "straight = \"12.3 m\"",
            &format!("straight = \"12{blank}300 mm\""),
            "run \"S1\": path 1: straight: `12 300 mm` has a blank between its digits: write it without, like 1000",
        );
    }
    told_first(
        "power = \"240 W\"",
        "power = \"1 240 W\"",
        "supply \"24 V, 240 W\": power: `1 240 W` has a blank between its digits: write it without, like 1000",
    );
}

#[test]
fn nothing_in_a_message_acts_on_a_terminal() {
    let text = changed("name = \"S1\"", "name = \"S\u{202e}1\u{200b}\"");
    let said = bad(&text.replacen("title = \"", "\u{7f}\u{9b}tilte\u{feff} = \"", 1)).to_string();
    assert!(
        said.lines().all(|line| !line.chars().any(|c| c.is_control()
            || matches!(u32::from(c), 0x200b..=0x200f | 0x202a..=0x202e | 0xfeff))),
        "{said:?}"
    );
}
