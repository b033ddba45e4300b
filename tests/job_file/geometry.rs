//! Paths, positions and chains that cannot be.

use crate::edit::{bad, changed, good, told};

const W1: &str = "path = [{ straight = \"11.4 m\" }]";
const C3: &str = "path = [{ straight = \"8.08 m\" }]\ndrawn = \"8.08 m\"";

#[test]
fn a_run_shorter_than_one_cut() {
    told(
        C3,
        "path = [{ straight = \"60 mm\" }]",
        "run \"C3\": path leaves 37 mm for the longest piece of tape, less than the cut pitch of \
         `tunable white 24 V, 2 x 9.6 W/m`, 50 mm. Take a tape with a shorter cut pitch, or leave this run out",
    );
    // Exactly one increment: 50 mm of tape, two caps of 10 mm, 3 mm of site tolerance.
    good(&changed(C3, "path = [{ straight = \"73 mm\" }]"));
}

#[test]
fn paths_that_are_none() {
    told(
        W1,
        "path = []",
        "run \"W1\": path is empty. Write at least one { straight = \"…\" }",
    );
    told(
        W1,
        "path = [{ gap = \"1 m\" }]",
        "run \"W1\": path has no straight piece: nothing of it can be lit. Write at least one { straight = \"…\" }",
    );
    told(
        W1,
        "path = [{ straight = \"11.4 m\", gap = \"1 m\" }]",
        "run \"W1\": path 1 is straight and gap at once. \
         Write one of { straight = \"2 m\" }, { corner = \"inside\", … } or { gap = \"1 m\", … }",
    );
    told(
        W1,
        "path = [{ }, { straight = \"11.4 m\" }]",
        "run \"W1\": path 1 is not a piece of a path. \
         Write one of { straight = \"2 m\" }, { corner = \"inside\", … } or { gap = \"1 m\", … }",
    );
    told(
        W1,
        "path = \"11.4 m\"",
        "run \"W1\": path is the text \"11.4 m\", where a list of tables is needed. Write entries between [ and ], with commas",
    );
    told(
        W1,
        "path = [\"11.4 m\"]",
        "run \"W1\": path 1 is the text \"11.4 m\", where a table in braces is needed. Write keys with their values between { and }",
    );
    told(
        W1,
        "path = [{ straight = \"1100 m\" }]",
        "run \"W1\": path adds up to 1100 m. Split the run: at most 1000 m is planned",
    );
    told(
        "made = \"bend\", radius = \"40 mm\"",
        "made = \"bend\", radius = \"0 mm\"",
        "run \"C2\": path 2: radius is 0 mm. It must be above zero",
    );
    told(
        "made = \"bend\", radius = \"40 mm\"",
        "made = \"bend\"",
        "run \"C2\": path 2: radius is missing. Write a length like \"7.5 m\" or \"25 ft\"",
    );
    told(
        "drawn = \"9.6 m\"",
        "drawn = \"9.5 m\"",
        "run \"S3\": drawn is 9.5 m, but straights and gaps of its path add up to 9.6 m. \
         Make them agree: corners have no length of their own",
    );
}

#[test]
fn positions_off_the_run() {
    let points = "feed_points = [\"2.4 m\", \"4.8 m\"]";
    told(
        points,
        "feed_points = [\"-1 mm\", \"4.8 m\"]",
        "run \"W3\": feed_points is -1 mm from the start of the run. It must lie on the run, 0 m to 7.2 m",
    );
    told(
        points,
        "feed_points = [\"2.4 m\", \"7201 mm\"]",
        "run \"W3\": feed_points is 7.201 m from the start of the run. It must lie on the run, 0 m to 7.2 m",
    );
    told(
        points,
        "feed_points = [\"2.4 m\", \"2400 mm\"]",
        "run \"W3\": feed_points names the point 2.4 m twice. Write each once",
    );
    told(
        points,
        "feed_points = []",
        "run \"W3\": feed_points is empty. Write \"ends\", \"anywhere\" or a list of points",
    );
    told(
        points,
        "feed_points = \"midle\"",
        "run \"W3\": feed_points is `midle`, which is not an accepted word; accepted: \"ends\", \"anywhere\", \"start\", \"end\"",
    );
    told(
        "length = \"12.8 m\", basis = \"scaled\" },\n]\nprofile",
        "length = \"12.8 m\", basis = \"scaled\" },\n]\nfeed_points = [\"5 m\"]\nprofile",
        "run \"S3\": feed_points is 5 m from the start, inside the gap from 4.8 m to 5.4 m. Feed where there is tape",
    );
    told(
        "uncut = [{ from = \"9.1 m\", to = \"9.3 m\" }]",
        "uncut = [{ from = \"9.3 m\", to = \"9.1 m\" }]",
        "run \"C2\": uncut 1 goes from 9.3 m to 9.1 m. It must run forward and lie on the run, 0 m to 15.2 m",
    );
    told(
        "breaks = [\"5.4 m\"]",
        "breaks = [\"8.4 m\"]",
        "run \"W2\": breaks has one at 8.4 m. A break lies inside the run, between 0 m and 8.4 m",
    );
    told(
        "breaks = [\"5.4 m\"]",
        "breaks = [\"5.4 m\", \"540 cm\"]",
        "run \"W2\": breaks has 5.4 m twice. Write each once",
    );
    told(
        "uncut = [{ from = \"9.1 m\", to = \"9.3 m\" }]",
        "uncut = [{ from = \"9.1 m\", to = \"9.3 m\" }]\nbreaks = [\"9.2 m\"]",
        "run \"C2\": breaks has one at 9.2 m, where `uncut` forbids cuts from 9.1 m to 9.3 m. Move the one or the other",
    );
}

#[test]
fn routes_that_contradict() {
    told(
        "    { from = \"foyer store\", to = \"end\", length = \"9.7 m\", basis = \"scaled\" },",
        "    { from = \"foyer store\", to = \"8.08 m\", length = \"9.7 m\", basis = \"scaled\" },\n    { from = \"foyer store\", to = \"end\", length = \"9.8 m\", basis = \"scaled\" },",
        "run \"C3\": routes 3 is a second route from `foyer store` to the same point. Write one length for each place and point",
    );
    told(
        "{ from = \"riser cupboard\", to = \"6 m\", length = \"9 m\", basis = \"measured\" }",
        "{ from = \"foyer store\", to = \"6 m\", length = \"9 m\", basis = \"measured\" }",
        "run \"S1\": routes 2: from is `foyer store`, which is not a place of the zone `shelf accent`. Leave the route out, or name the place in the zone",
    );
}

#[test]
fn chains_and_universes() {
    told(
        "number = 1",
        "number = 0",
        "universe \"house\": number is 0. Write a whole number from 1 to 63999",
    );
    told(
        "taken = [{ from = 1, to = 24 }]",
        "taken = [{ from = 510, to = 513 }]",
        "universe \"house\": taken 1: to is 513. Write a whole number from 1 to 512",
    );
    told(
        "taken = [{ from = 1, to = 24 }]",
        "taken = [{ from = 1, to = 24 }, { from = 24, to = 30 }]",
        "universe \"house\": taken 2 overlaps another range. Write every slot once",
    );
    told(
        "taken = [{ from = 1, to = 24 }]",
        "taken = [{ from = 24, to = 1 }]",
        "universe \"house\": taken 1 goes from 24 to 1. Slots go from 1 to 512 (ANSI E1.11)",
    );
    told(
        "unit_loads = \"1\"",
        "unit_loads = \"0\"",
        "chain \"reading room line\": stops 1: unit_loads: `0` is not a number of unit loads: write \"1\", \"1/8\" or \"0.125\", above zero and at most 32",
    );
    told(
        "stops = [{ place = \"foyer store\", length = \"31 m\", between = \"300 mm\" }]",
        "stops = [{ place = \"riser cupboard\", length = \"31 m\", between = \"300 mm\" }]",
        "chain \"foyer line\": stops 1: place is `riser cupboard`, which the chain `reading room line` \
         of the same universe passes as well. Pass each place once: its decoders stand on one chain",
    );
    // A terminator must be stated, also where there is none.
    let text = changed("terminator = \"none\"", "");
    assert_eq!(
        bad(&text).faults()[0].to_string(),
        "chain \"foyer line\": terminator is missing. Write \"120 ohm\", or \"none\" where there is none"
    );
}

#[test]
fn unit_loads_are_exact() {
    use evenrun::job::spec::UnitLoads;
    for (text, ten_thousandths) in [
        ("1", 10_000),
        ("1/8", 1250),
        ("0.125", 1250),
        ("32", 320_000),
    ] {
        let read: UnitLoads = text.parse().unwrap();
        assert_eq!(read.ten_thousandths(), ten_thousandths, "{text}");
    }
    for text in [
        "0",
        "-1",
        "1/0",
        "1/3",
        "32.0001",
        "",
        "one",
        "1.",
        "99999999999",
    ] {
        assert!(text.parse::<UnitLoads>().is_err(), "{text}");
    }
}
