//! Words that people write for a key of the job file, and the keys that they may mean.

/// A word, and the keys that it stands for, the likeliest first.
const WORDS: &[(&str, &[&str])] = &[
    ("address", &["number", "taken"]),
    ("amps", &["output_current", "current", "ampacity"]),
    ("area", &["size"]),
    ("awg", &["size"]),
    ("box", &["place", "places"]),
    ("breaker", &["per_breaker", "circuit"]),
    ("cabinet", &["place", "places"]),
    ("cable_length", &["routes"]),
    ("channel", &["profile", "emitters", "outputs"]),
    ("channels", &["outputs", "emitters"]),
    ("colors", &["emitters"]),
    ("colours", &["emitters"]),
    ("conductor", &["cable"]),
    ("conductors", &["cores"]),
    ("controller", &["decoder", "decoders"]),
    ("cost", &["price_minor", "price_per_metre_minor", "costs"]),
    ("cuts", &["breaks"]),
    ("device", &["decoder", "supply"]),
    ("devices", &["stops", "decoders", "chain_devices"]),
    ("dimmer", &["decoder", "decoders"]),
    ("distance", &["length", "routes"]),
    ("driver", &["supply", "supplies"]),
    ("extrusion", &["profile"]),
    ("feeds", &["feed_points", "fixed_feeds"]),
    ("fixture", &["run"]),
    ("gauge", &["size"]),
    ("group", &["zone"]),
    ("increment", &["cut_pitch"]),
    ("ip", &["ingress"]),
    ("leds", &["emitters", "strip"]),
    ("length", &["path", "reel", "lead"]),
    ("line", &["run", "chain"]),
    ("location", &["place", "room"]),
    ("metal", &["material"]),
    ("pitch", &["cut_pitch"]),
    ("points", &["feed_points"]),
    ("power_supply", &["supply", "supplies"]),
    ("price", &["price_minor", "price_per_metre_minor"]),
    ("psu", &["supply", "supplies"]),
    ("resistor", &["terminator", "ballast"]),
    ("rope", &["strip"]),
    ("route", &["routes"]),
    ("segments", &["fixed_segments"]),
    ("slots", &["taken"]),
    ("tape", &["strip"]),
    ("temperature", &["ambient", "insulation"]),
    ("volt", &["volts", "rated"]),
    ("voltage", &["volts", "rated", "forward", "fed_volts"]),
    ("wall", &["run"]),
    ("watt", &["power"]),
    ("wattage", &["power"]),
    ("watts", &["power"]),
    ("width", &["common_width"]),
    ("wire", &["cable", "cables"]),
    ("wires", &["cables", "cores"]),
];

/// The key of a table that a common word stands for there.
pub(super) fn meant(word: &str, known: &[&'static str]) -> Option<&'static str> {
    let low = word.to_lowercase().replace('-', "_");
    let at = WORDS
        .binary_search_by(|(common, _)| (*common).cmp(&low))
        .ok()?;
    let (_, keys) = WORDS.get(at)?;
    keys.iter().copied().find(|key| known.contains(key))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_stand_in_order_and_keys_are_those_of_the_table() {
        assert!(
            WORDS.windows(2).all(|pair| pair[0].0 < pair[1].0),
            "{WORDS:?}"
        );
        assert_eq!(meant("Voltage", &["name", "rated"]), Some("rated"));
        assert_eq!(meant("voltage", &["name", "volts", "rated"]), Some("volts"));
        assert_eq!(meant("voltage", &["name"]), None);
        assert_eq!(meant("something", &["name"]), None);
    }
}
