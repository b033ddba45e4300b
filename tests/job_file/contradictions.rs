//! Figures of which each can be, and all together cannot; and figures that no thing has.

use crate::edit::{good, told, told_first};

#[test]
fn a_saw_takes_less_than_the_bar() {
    told(
        "kerf = \"4 mm\"",
        "kerf = \"2 m\"",
        "profile \"shelf profile\": kerf is 2 m, and the shortest bar is 2 m. It must be less than the bar: it is what one cut \
         of the saw takes",
    );
    told_first(
        "kerf = \"3 mm\" }",
        "kerf = \"9 m\" }",
        "profile \"shelf profile\": cover: kerf is 9 m, and the shortest bar is 2 m",
    );
}

#[test]
fn outputs_give_what_the_supply_has() {
    told(
        "output_current = \"4 A\"\n",
        "outputs = 64\noutput_current = \"3.9 A\"\n",
        "supply \"24 V, 96 W, class 2\": outputs is 64, of 3.9 A each, which is 5990 W at 24 V. Read the label again: at most 4 \
         times the rated 96 W are taken (an assumption of this library)",
    );
    told(
        "output_current = \"10 A\"\nlimit_current = \"11 A\"",
        "output_current = \"100 A\"\nlimit_current = \"110 A\"",
        "supply \"24 V, 240 W\": output_current is 100 A, which is 2400 W at 24 V. Read the label again: at most 4 times the \
         rated 240 W are taken (an assumption of this library)",
    );
}

#[test]
fn sixteen_bits_need_more_than_eight() {
    told(
        "bits = 16",
        "bits = 8",
        "decoder \"4 outputs, 6 A each\": bits is 8, and its `levels` have \"16 bit\". Leave \"16 bit\" out, or state the bits \
         that it dims with: the steps would be those of 8 bit",
    );
}

#[test]
fn a_pulse_is_shorter_than_its_period() {
    told(
        "shortest_pulse = \"2 µs\"",
        "shortest_pulse = \"10 s\"",
        "decoder \"4 outputs, 6 A each\": shortest_pulse is 10 s. It must be shorter than the period of 2000 Hz, 500 µs",
    );
}

#[test]
fn thin_cable_is_not_for_a_thousand_amperes() {
    told(
        "insulation = \"70 °C\"\n",
        "insulation = \"70 °C\"\nampacity = \"1000 A\"\n",
        "cable \"2 x 1 mm2\": ampacity is 1000 A for cores of 1 mm². It must be at most 100 A, 100 A for each mm² (an assumption of \
         this library)",
    );
}

/// What is stated is what is ordered.
#[test]
fn a_terminator_is_ordered_as_it_is_stated() {
    use evenrun::design::Item;
    let text = include_str!("../jobs/twelve_volt.toml");
    let text = text.replace("terminator = \"120 ohm\"", "terminator = \"100 ohm\"");
    let design = evenrun::plan::plan(&good(&text));
    let ordered: Vec<f64> = design
        .materials
        .iter()
        .filter_map(|row| match &row.item {
            Item::Terminator(ohms) => Some(ohms.si()),
            _ => None,
        })
        .collect();
    assert_eq!(ordered, [100.0]);
}

#[test]
fn two_routes_reach_as_far_as_what_lies_between_their_ends() {
    told(
        "to = \"end\", length = \"9.7 m\"",
        "to = \"end\", length = \"2.9 m\"",
        "run \"C3\": routes 2: length is 2.9 m, and that of routes 1 from `foyer store` is 5.1 m: the two points are 8.08 m apart \
         in a straight line. Measure again: two ways from one place reach at least as far as what lies between their ends",
    );
    // From between the two ends is near enough.
    good(&crate::edit::changed(
        "to = \"end\", length = \"9.7 m\"",
        "to = \"end\", length = \"2.98 m\"",
    ));
}

#[test]
fn segments_that_stay_leave_each_other_room() {
    told(
        "feed_points = \"anywhere\"\nprofile = \"shelf profile\"",
        "feed_points = \"anywhere\"\nprofile = \"shelf profile\"\n\
         fixed_segments = [{ from = \"start\", to = \"6 m\" }, { from = \"5.9 m\", to = \"end\" }]",
        "run \"S1\": fixed_segments 2 goes from 5.9 m to 12.3 m, and fixed_segments 1 from 0 mm to 6 m. Segments that stay \
         cannot overlap: correct the one or the other",
    );
    told(
        "feed_points = \"anywhere\"\nprofile = \"shelf profile\"",
        "feed_points = \"anywhere\"\nprofile = \"shelf profile\"\n\
         breaks = [\"3 m\"]\nfixed_segments = [{ from = \"start\", to = \"6 m\" }]",
        "run \"S1\": breaks has one at 3 m, inside fixed_segments 1. Move the one or the other: a segment that stays is not cut",
    );
}

#[test]
fn no_tape_is_cut_every_half_millimetre() {
    told(
        "cut_pitch = \"50 mm\"\nemitters = [{ name = \"white\"",
        "cut_pitch = \"0.5 mm\"\nemitters = [{ name = \"white\"",
        "strip \"white 24 V, 14.4 W/m\": cut_pitch is 0.5 mm. It must be at least 1 mm (an assumption of this library: no tape is \
         cut shorter)",
    );
}
