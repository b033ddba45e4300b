//! Names: twice, look-alike, unknown, unprintable; keys that are not known.

use crate::edit::{bad, changed, told};

#[test]
fn a_name_twice() {
    told(
        "name = \"S2\"",
        "name = \"S1\"",
        "run \"S1\" (2): name: `S1` is the name of another run as well. Give each its own name",
    );
}

#[test]
fn names_that_differ_by_case_or_look_alike_letters() {
    for name in ["s1", "Ѕ1", "Sl", "Ｓ1"] {
        let faults = bad(&changed("name = \"S2\"", &format!("name = \"{name}\"")));
        assert_eq!(
            faults.faults()[0].to_string(),
            format!(
                "run \"{name}\": name: `{name}` looks like `S1`, the name of another run. \
                 Names must differ by more than capitals and look-alike letters"
            )
        );
        assert_eq!(faults.count(), 1, "{faults}");
    }
}

#[test]
fn unknown_names_with_near_misses() {
    told(
        "strip = \"white 24 V, 14.4 W/m\"",
        "strip = \"whte 24 V, 14.4 W/m\"",
        "zone \"shelf accent\": strip: `whte 24 V, 14.4 W/m` is not the name of a strip of this job. \
         It has `RGBW 24 V, 4 x 4.8 W/m`, `tunable white 24 V, 2 x 9.6 W/m`, `white 24 V, 14.4 W/m`; \
         did you mean `white 24 V, 14.4 W/m`?",
    );
    told(
        "strip = \"white 24 V, 14.4 W/m\"",
        "strip = \"neon\"",
        "zone \"shelf accent\": strip: `neon` is not the name of a strip of this job. \
         It has `RGBW 24 V, 4 x 4.8 W/m`, `tunable white 24 V, 2 x 9.6 W/m`, `white 24 V, 14.4 W/m`",
    );
    // Another case: the same name to a reader, not to the job.
    told(
        "zone = \"wall wash\"\nroom = \"foyer, long wall\"",
        "zone = \"Wall wash\"\nroom = \"foyer, long wall\"",
        "run \"W1\": zone: `Wall wash` is not the name of a zone of this job. \
         It has `ceiling cove`, `shelf accent`, `wall wash`; did you mean `wall wash`?",
    );
    told(
        "places = [\"riser cupboard\", \"foyer store\"]",
        "places = [\"riser cupboard\", \"foyer stor\", \"foyer store\"]",
        "zone \"ceiling cove\": places 2: `foyer stor` is not the name of a place of this job. \
         It has `foyer store`, `riser cupboard`; did you mean `foyer store`?",
    );
    told(
        "places = [\"riser cupboard\", \"foyer store\"]",
        "places = [\"riser cupboard\", \"foyer store\", \"riser cupboard\"]",
        "zone \"ceiling cove\": places 3: `riser cupboard` is listed twice. Name each once",
    );
    told(
        "together = [[\"warm\"], [\"cool\"], [\"warm\", \"cool\"]]",
        "together = [[\"warm\"], [\"cold\"]]",
        "zone \"ceiling cove\": together: `cold` is not an emitter of the strip `tunable white 24 V, 2 x 9.6 W/m`. \
         It has `warm`, `cool`",
    );
    told(
        "jumper_cable = \"2 x 1 mm2\"",
        "jumper_cable = \"bell wire\"",
        "run \"S3\": path 2: jumper_cable: `bell wire` is not the name of a cable of this job. \
         It has `2 x 1 mm2`, `2 x 1.5 mm2`, `2 x 2.5 mm2`, `3 x 1 mm2`, `3 x 1.5 mm2`, `3 x 2.5 mm2`, `5 x 1 mm2`, `5 x 1.5 mm2`",
    );
}

#[test]
fn a_way_back_to_itself() {
    told(
        "ways = [{ to = \"foyer store\"",
        "ways = [{ to = \"riser cupboard\"",
        "place \"riser cupboard\": ways 1: to leads back to the place itself. \
         Name another place; the lead inside a place is its `lead`",
    );
}

#[test]
fn names_that_cannot_be_printed() {
    let needed =
        "A name is printable text of 1 to 80 characters on one line, with plain blanks inside only";
    for (written, says) in [
        ("a\\nb", "holds the character U+000A"),
        ("a\\u0000b", "holds the character U+0000"),
        ("a\\u202Eb", "holds the character U+202E"),
        ("a\\u200Bb", "holds the character U+200B"),
        ("a\\u00A0b", "holds the character U+00A0"),
        (" a", "\" a\" begins or ends with a blank"),
        (&"x".repeat(81), "has 81 characters"),
    ] {
        let faults = bad(&changed("name = \"S2\"", &format!("name = \"{written}\"")));
        let text = faults.to_string();
        assert!(
            text.contains(&format!(": name {says}. {needed}"))
                || text.contains(&format!(": name: {says}. {needed}")),
            "{text}"
        );
        assert_eq!(faults.count(), 1, "{text}");
        // The message itself stays on one line.
        assert!(!text.contains('\n'), "{text:?}");
    }
    told(
        "name = \"S2\"",
        "name = \"\"",
        "run 2: name is empty. A name is printable text of 1 to 80 characters on one line, with plain blanks inside only",
    );
    told(
        "room = \"reading room, north shelves\"",
        "room = \"north\\nshelves\"",
        "run \"S1\": room holds the character U+000A. Write printable text on one line, with plain blanks",
    );
}

#[test]
fn a_cell_of_a_spreadsheet_is_a_name_like_any_other() {
    // The report escapes it; the file may hold it.
    crate::edit::good(&changed("drawing = \"A-201 / 1\"", "drawing = \"=1+1\""));
}

#[test]
fn unknown_keys() {
    told(
        "slack = \"400 mm\"",
        "slak = \"400 mm\"",
        "limits: slak is not a key of this table; accepted: least_current, visible_step, balance, voltage_drop, \
         connector_current, core_current, load_factor, conductor_hot, conductor_nominal, conductor_cold, cell_cold, \
         cell_nominal, cell_hot, rail_tolerance, current_tolerance, cable_tolerance, current_margin, site_tolerance, slack, \
         chopped_feeder, chain_devices, chain_length, spare_tape; did you mean `slack`?",
    );
    let faults = bad(&changed("[costs]", "[cost]"));
    assert!(
        faults
            .to_string()
            .contains("cost is not a key of this table; accepted: schema, ")
            && faults.to_string().contains("did you mean `costs`?"),
        "{faults}"
    );
    // A key of another kind of piece is refused by name.
    told(
        "{ straight = \"11.4 m\" }",
        "{ straight = \"11.4 m\", radius = \"1 m\" }",
        "run \"W1\": path 1: radius is not a key of this table; accepted: straight, corner, gap",
    );
}
