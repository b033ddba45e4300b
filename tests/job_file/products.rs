//! Data sheets that cannot be true.

use crate::edit::{bad, changed, good, told, told_first};

#[test]
fn volts() {
    for written in ["24 V", "24V", "24 VDC", "24 V DC", "24.0 volts"] {
        let job = good(&changed(
            "rated = \"24 V\"",
            &format!("rated = \"{written}\""),
        ));
        assert_eq!(job, good(crate::edit::DEMO), "{written}");
    }
    told(
        "rated = \"24 V\"",
        "rated = \"24 VA\"",
        "strip \"white 24 V, 14.4 W/m\": rated: `24 VA` has the unit `VA`, which is not a unit for a voltage; accepted: V, mV, kV",
    );
    told(
        "rated = \"24 V\"",
        "rated = \"24 v\"",
        "strip \"white 24 V, 14.4 W/m\": rated: `24 v` has the unit `v`, which is not a unit for a voltage; accepted: V, mV, kV; did you mean `V`?",
    );
    told(
        "rated = \"24 V\"",
        "rated = 24",
        "strip \"white 24 V, 14.4 W/m\": rated is 24, a bare number. Write \"24 V\"; accepted: V, mV, kV",
    );
    told(
        "rated = \"24 V\"",
        "rated = \"230 V\"",
        "strip \"white 24 V, 14.4 W/m\": rated is 230 V. It must be above 0 V and at most 120 V DC",
    );
    told(
        "rated = \"24 V\"",
        "rated = \"-24 V\"",
        "strip \"white 24 V, 14.4 W/m\": rated is -24 V. It must be above 0 V and at most 120 V DC",
    );
}

#[test]
fn tape() {
    told(
        "cut_pitch = \"100 mm\"",
        "cut_pitch = 100",
        "strip \"RGBW 24 V, 4 x 4.8 W/m\": cut_pitch is 100, a bare number. Write \"100 mm\" or \"24 per m\"; accepted: a length, a count per m or per ft",
    );
    told(
        "cut_pitch = \"100 mm\"",
        "cut_pitch = \"0 mm\"",
        "strip \"RGBW 24 V, 4 x 4.8 W/m\": cut_pitch: `0 mm` is not a cut pitch: it must be longer than zero and at most 10 m",
    );
    told(
        "bend_radius = \"25 mm\"\nreel = \"5 m\"",
        "bend_radius = \"25 mm\"\nreel = \"40 mm\"",
        "strip \"white 24 V, 14.4 W/m\": reel is 40 mm, shorter than the cut pitch, 50 mm. Correct the one or the other",
    );
    // Six diodes of 4 V need all 24 V: nothing is left for the ballast.
    told(
        "diodes = 6, forward = \"3.0 V\", current = \"30 mA\"",
        "diodes = 6, forward = \"4.0 V\", current = \"30 mA\"",
        "strip \"white 24 V, 14.4 W/m\": emitters 1: forward is 4 V, so that 6 in series need 24 V of the rated 24 V. \
         Leave a voltage for the ballast or the regulator",
    );
    // 18 V + 12·25.69 mV·ln(i/30 mA) + 400 ohm·i = 24 V at i = 15.51 mA, not at 30 mA.
    told(
        "current = \"30 mA\", ballast = \"200 ohm\"",
        "current = \"30 mA\", ballast = \"400 ohm\"",
        "strip \"white 24 V, 14.4 W/m\": emitters contradict: the current of emitter \"white\" is 30 mA, \
         but by its ballast it draws 15.51 mA. Correct the one or the other, or leave the ballast out",
    );
    told(
        "power = \"14.4 W/m\"",
        "power = \"9.6 W/m\"",
        "strip \"white 24 V, 14.4 W/m\": power is 9.6 W/m, but its cells draw 14.4 W/m at 24 V. \
         Make them agree within 10 %, or say that it was not measured on a short piece",
    );
    // A full reel draws less than its cells do at rated voltage: nothing contradicts.
    good(
        &changed("power = \"14.4 W/m\"", "power = \"12.7 W/m\"").replacen(
            "\"short piece\"",
            "\"full reel\"",
            1,
        ),
    );
    told(
        "name = \"green\"",
        "name = \"Red\"",
        "strip \"RGBW 24 V, 4 x 4.8 W/m\": emitters 2: name: `Red` looks like `red`, \
         the name of another emitter of the strip. Names must differ by more than capitals and look-alike letters",
    );
}

#[test]
fn meanings_are_asked_for() {
    let foil = "rails = { known_from = \"foil\", layers = 1, thickness = \"70 µm\", common_width = \"4 mm\", return_width = \"4 mm\" }";
    let line = "strip \"white 24 V, 14.4 W/m\": rails: ";
    // Weight of copper per area is no thickness: it may be on one layer or on two.
    told(
        foil,
        &foil.replace("70 µm", "2 oz"),
        &format!(
            "{line}thickness: `2 oz` has the unit `oz`, which is not a unit for a length; accepted: m, cm, mm, µm, km, ft, in"
        ),
    );
    told(
        foil,
        &foil.replace(" layers = 1,", ""),
        &format!("{line}layers is missing. Write a whole number from 1 to 8"),
    );
    // A maximum run without its meaning is refused.
    let faults = bad(&changed(
        foil,
        "rails = { known_from = \"maximum run\", length = \"5 m\", by = \"10 %\" }",
    ))
    .to_string();
    assert!(
        faults.contains("rails: fed is missing. Write one of \"one end\", \"both ends\""),
        "{faults}"
    );
    assert!(
        faults.contains("rails: falls is missing. Write one of \"volts\", \"light\""),
        "{faults}"
    );
    good(&changed(
        foil,
        "rails = { known_from = \"maximum run\", length = \"5 m\", by = \"10 %\", fed = \"one end\", falls = \"light\" }",
    ));
    told(
        foil,
        "rails = { known_from = \"reading\", length = \"5 m\", fed_volts = \"24 V\", far_volts = \"24.5 V\" }",
        &format!("{line}far_volts is 24.5 V. It must be above 0 V and below the 24 V at the feed"),
    );
}

#[test]
fn cables() {
    for (written, says) in [
        ("-1 AWG", "`-1 AWG` is not a gauge: AWG runs from 40 (thin)"),
        (
            "1.5",
            "`1.5` has no unit, and a gauge and an area are far apart",
        ),
        (
            "1.5 mm",
            "`1.5 mm` has the unit `mm`, which no conductor size has",
        ),
    ] {
        told_first(
            "size = \"2.5 mm2\"",
            &format!("size = \"{written}\""),
            &format!("cable \"2 x 2.5 mm2\": size: {says}"),
        );
    }
    told_first(
        "price_per_metre_minor = 128\n\n[[cable]]\nname = \"3 x 1 mm2\"\ncores = 3\nsize = \"1 mm2\"\nmaterial = \"copper\"\nstrands = \"flexible\"\ninsulation = \"70 °C\"\ninstalled = \"iec C\"",
        "price_per_metre_minor = 128\n\n[[cable]]\nname = \"3 x 1 mm2\"\ncores = 3\nsize = \"1 mm2\"\nmaterial = \"copper\"\nstrands = \"flexible\"\ninsulation = \"70 °C\"\ninstalled = \"iec Z\"",
        "cable \"3 x 1 mm2\": installed: `iec Z` is not a way of installation",
    );
    good(&changed("size = \"2.5 mm2\"", "size = \"4/0 AWG\""));
    told(
        "cables = [\"3 x 1.5 mm2\", \"3 x 2.5 mm2\"]",
        "cables = [\"3 x 1.5 mm2\", \"2 x 2.5 mm2\"]",
        "zone \"ceiling cove\": cables 2 is `2 x 2.5 mm2` of 2 cores, and the tape needs 3: \
         the common and one for each emitter. Name a cable with enough cores",
    );
    told(
        "material = \"copper\"",
        "material = \"cooper\"",
        "cable \"2 x 1 mm2\": material is `cooper`, which is not an accepted word; accepted: \"copper\", \"tinned copper\", \"copper-clad aluminium\", \"unknown\"; did you mean `copper`?",
    );
    told(
        "price_per_metre_minor = 62",
        "price_per_metre_minor = \"0.62 EUR\"",
        "cable \"2 x 1 mm2\": price_per_metre_minor is the text \"0.62 EUR\". Write a whole number from 0 to 1000000000",
    );
}

#[test]
fn supplies() {
    told(
        "efficiency = \"92 %\"",
        "efficiency = \"101 %\"",
        "supply \"24 V, 240 W\": efficiency is 101 %. It must be between 1 % and 100 %",
    );
    told(
        "{ ambient = \"70 °C\", share = \"60 %\" }",
        "{ ambient = \"40 °C\", share = \"60 %\" }",
        "supply \"24 V, 240 W\": derating 2 is 60 % at 40 °C, after 100 % at 50 °C. \
         List points by rising ambient, none with a larger share than the one before",
    );
    told(
        "trim = { low = \"23.5 V\", high = \"26 V\" }",
        "trim = { low = \"24.5 V\", high = \"26 V\" }",
        "supply \"24 V, 240 W\": trim goes from 24.5 V to 26 V, and the set point of 24 V is not between. \
         The set point must lie within the trim range",
    );
    told(
        "energy_class = \"class 2\"",
        "energy_class = \"class II\"",
        "supply \"24 V, 96 W, class 2\": energy_class is `class II`, which is a class of insulation. \
         Class 2 (arabic) is the class of energy; write what the label says; \
         accepted: \"class 2\", \"limited power\", \"none\", \"unknown\"",
    );
    told(
        "limit_current = \"11 A\"",
        "limit_current = \"9 A\"",
        "supply \"24 V, 240 W\": limit_current is 9 A. It must be at least the rated 10 A",
    );
    let faults = bad(&changed("currency = \"EUR\"\n", ""));
    assert_eq!(
        faults.to_string(),
        "job.toml:1:1: currency is missing, and there are prices. \
         Write the currency whose minor units they are, like currency = \"EUR\""
    );
}

#[test]
fn decoders() {
    told(
        "volts = { low = \"12 V\", high = \"36 V\" }",
        "volts = { low = \"36 V\", high = \"12 V\" }",
        "decoder \"4 outputs, 6 A each\": volts goes from 36 V to 12 V. The low end comes first",
    );
    told(
        "curves = [\"linear\", \"square\"]",
        "curves = []",
        "decoder \"4 outputs, 6 A each\": curves is empty; accepted: \"linear\", \"square\", \"cube\"",
    );
    told(
        "curves = [\"linear\", \"square\"]",
        "curves = \"linear\"",
        "decoder \"4 outputs, 6 A each\": curves is the text \"linear\", where a list of texts is needed. Write entries between [ and ], with commas",
    );
    told(
        "outputs = 4\n",
        "outputs = 4.5\n",
        "decoder \"4 outputs, 6 A each\": outputs is the number 4.5. Write a whole number from 1 to 64",
    );
}
