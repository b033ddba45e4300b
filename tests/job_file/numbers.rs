//! Numbers and units: each that cannot be what it stands for is told why.

use crate::edit::{bad, changed, good, told};
use evenrun::exact::ExactLength;

const LENGTH: &str = "path = [{ straight = \"11.4 m\" }]";

fn length(text: &str) -> String {
    format!("path = [{{ straight = {text} }}]")
}

#[test]
fn a_bare_number_is_no_length() {
    told(
        LENGTH,
        &length("7.5"),
        "run \"W1\": path 1: straight is 7.5, a bare number. \
         Write \"7.5 m\" or \"25 ft\"; accepted: m, cm, mm, ft, in",
    );
    told(
        LENGTH,
        &length("7"),
        "run \"W1\": path 1: straight is 7, a bare number. \
         Write \"7 m\" or \"25 ft\"; accepted: m, cm, mm, ft, in",
    );
}

#[test]
fn a_fault_names_file_line_and_column() {
    let faults = bad(&changed("drawn = \"12.3 m\"", "drawn = 12.3"));
    let line = crate::edit::DEMO[..crate::edit::DEMO.find("drawn = ").unwrap()]
        .matches('\n')
        .count()
        + 1;
    assert_eq!(
        faults.to_string(),
        format!(
            "job.toml:{line}:9: run \"S1\": drawn is 12.3, a bare number. \
             Write \"12.3 m\" or \"25 ft\"; accepted: m, cm, mm, ft, in"
        )
    );
}

#[test]
fn numbers_of_toml_that_are_none() {
    for number in ["nan", "inf", "-inf", "1e308", "-0.0", "1e-320", "0x10"] {
        let text = changed(LENGTH, &length(number));
        let faults = bad(&text).to_string();
        assert!(faults.contains("a bare number"), "{number}: {faults}");
    }
}

#[test]
fn a_share_without_its_unit_may_mean_two_things() {
    told(
        "load_factor = \"80 %\"",
        "load_factor = 0.8",
        "limits: load_factor is 0.8, a bare number. \
         Write \"80 %\" or \"0.8 %\", whichever is meant; accepted: %",
    );
    told(
        "load_factor = \"80 %\"",
        "load_factor = \"101 %\"",
        "limits: load_factor is 101 %. It must be above 0 % and at most 100 %",
    );
    told(
        "least_current = \"85 %\"",
        "least_current = \"0 %\"",
        "limits: least_current is 0 %. It must be above 0 % and at most 100 %",
    );
    told(
        "least_current = \"85 %\"",
        "least_current = \"0.85\"",
        "limits: least_current: `0.85` has no unit: a share is written like \"80 %\"; accepted: %",
    );
}

#[test]
fn texts_that_are_no_length() {
    let example = "write a length like \"7.5 m\", \"25 ft\" or \"5 ft 3-1/2 in\"";
    let units = "accepted: m, cm, mm, ft, in";
    for (written, says) in [
        (
            "7,5 m",
            format!(
                "`7,5 m` has a comma in the number: write a point for decimals and no separator for thousands; {example}"
            ),
        ),
        (
            "NaN m",
            format!("`NaN m` does not start with a number; {example}"),
        ),
        (
            "inf m",
            format!("`inf m` does not start with a number; {example}"),
        ),
        (
            "７.５ m",
            format!(
                "`７.５ m` has digits that are not the plain 0 to 9: type them again; {example}"
            ),
        ),
        (
            "7.5 M",
            format!("`7.5 M` has the unit `M`, which is not a unit for a length; {units}"),
        ),
        (
            "7.5 mm2",
            format!("`7.5 mm2` has the unit `mm2`, which is not a unit for a length; {units}"),
        ),
        (
            "1 mil",
            format!("`1 mil` has the unit `mil`, which is not a unit for a length; {units}"),
        ),
        (
            "1e308 m",
            "`1e308 m` is longer than 1000 km, the greatest length taken here".to_string(),
        ),
        (
            "",
            "is empty where a length is needed: write one like \"7.5 m\" or \"5 ft 3-1/2 in\""
                .to_string(),
        ),
        (
            "1/0 in",
            "`1/0 in` has a fraction that cannot be read: write it like 3-1/2 in".to_string(),
        ),
    ] {
        let apart = if says.starts_with('`') { ":" } else { "" };
        told(
            LENGTH,
            &length(&format!("\"{written}\"")),
            &format!("run \"W1\": path 1: straight{apart} {says}"),
        );
    }
}

#[test]
fn lengths_that_cannot_be() {
    told(
        LENGTH,
        &length("\"-3 m\""),
        "run \"W1\": path 1: straight is -3 m, a negative length. It must be above zero",
    );
    told(
        LENGTH,
        &length("\"0 m\""),
        "run \"W1\": path 1: straight is 0 mm. It must be above zero",
    );
    // A subnormal length is nothing in whole nanometres.
    told(
        LENGTH,
        &length("\"1e-320 m\""),
        "run \"W1\": path 1: straight is 0 mm. It must be above zero",
    );
    told(
        "cap = \"25 mm\" }\nend",
        "cap = \"-25 mm\" }\nend",
        "run \"W3\": start: cap is -25 mm, a negative length. It must not be negative",
    );
}

#[test]
fn what_people_write_for_one_length() {
    let usual = good(&changed(LENGTH, &length("\"7.62 m\"")).replace("\"5.7 m\"", "\"4 m\""));
    for written in [
        "7.62m",
        "25 ft",
        "25'",
        "24 ft 12 in",
        "7620 mm",
        "762 cm",
        "300 in",
    ] {
        let written = written.replace('"', "\\\"");
        let text = changed(LENGTH, &length(&format!("\"{written}\"")));
        let job = good(&text.replace("\"5.7 m\"", "\"4 m\""));
        assert_eq!(job, usual, "{written}");
    }
    let odd = good(
        &changed(LENGTH, &length("'5''"))
            .replace("'5''", "\"5'3-1/2\\\"\"")
            .replace("\"5.7 m\"", "\"1 m\""),
    );
    let length = odd
        .run("W1")
        .and_then(|run| match run.layout.pieces.first() {
            Some(evenrun::layout::spec::Piece::Straight { length }) => Some(*length),
            _ => None,
        });
    assert_eq!(length, Some(ExactLength::from_nanometres(1_612_900_000)));
}

#[test]
fn other_quantities() {
    told(
        "ambient = \"35 °C\"",
        "ambient = \"35\"",
        "place \"riser cupboard\": ambient: `35` has no unit: a temperature is written like \"30 °C\"; accepted: °C, °F, K",
    );
    told(
        "ambient = \"35 °C\"",
        "ambient = \"-300 °C\"",
        "place \"riser cupboard\": ambient: `-300 °C` is outside what a temperature can be: nothing is colder than 0 K (-273.15 °C)",
    );
    told(
        "ambient = \"35 °C\"",
        "ambient = \"350 °C\"",
        "place \"riser cupboard\": ambient is 350 °C. It must be between -60 °C and 200 °C",
    );
    told(
        "conductor_hot = \"60 °C\"",
        "conductor_hot = \"10 °C\"",
        "limits: conductor_hot is 10 °C, with conductor_nominal of 30 °C and conductor_cold of 15 °C. \
         The conductors are hot, nominal and cold in this order, each at least the next",
    );
    let of_cable = |stated: &str| format!("name = \"2 x 1 mm2\"\n{stated}\ncores");
    told(
        "name = \"2 x 1 mm2\"\ncores",
        &of_cable("ampacity_ambient = \"30 °C\""),
        "cable \"2 x 1 mm2\": ampacity_ambient is 30 °C, and no ampacity is stated. State `ampacity`, or leave \
         `ampacity_ambient` out",
    );
    told(
        "name = \"2 x 1 mm2\"\ncores",
        &of_cable("ampacity = \"9 A\"\nampacity_ambient = \"70 °C\""),
        "cable \"2 x 1 mm2\": ampacity_ambient is 70 °C. It must be below the insulation, 70 °C",
    );
    told(
        "slack = \"400 mm\"",
        "cable_tolerance = \"60 %\"",
        "limits: cable_tolerance is 60 %. It must be between 0 % and 50 %",
    );
    told(
        "terminator = \"120 ohm\"",
        "terminator = 120",
        "chain \"reading room line\": terminator is 120, a bare number. Write \"120 Ω\"; accepted: Ω, mΩ, kΩ",
    );
    told(
        "angle = \"90 deg\"",
        "angle = 90",
        "run \"C1\": path 2: angle is the number 90, where an angle like \"90 deg\" is needed",
    );
    told(
        "angle = \"90 deg\"",
        "angle = \"180 deg\"",
        "run \"C1\": path 2: angle: `180 deg` is not a change of direction: a corner turns by more than 0° and less than 180°",
    );
    told(
        "segment_minor = 350",
        "segment_minor = -350",
        "costs: segment_minor is -350. Write a whole number from 0 to 1000000000",
    );
    told(
        "segment_minor = 350",
        "segment_minor = 99999999999999999999",
        "costs: segment_minor is 99999999999999999999. Write a whole number from 0 to 1000000000",
    );
}

#[test]
fn a_price_is_refused_above_what_sums_can_bear() {
    use evenrun::job::{check, spec::JobSpec};
    use evenrun::quantity::MOST_PRICE;

    let job = good(crate::edit::DEMO);
    let most = MOST_PRICE;
    assert!(check(job.spec().clone()).is_ok());
    type Price = fn(&mut JobSpec) -> &mut u64;
    let prices: [(&str, Price); 6] = [
        ("price_minor", |spec| {
            spec.decoders[0].price.get_or_insert(0)
        }),
        ("price_minor", |spec| {
            spec.supplies[0].price.get_or_insert(0)
        }),
        ("price_minor", |spec| spec.strips[0].price.get_or_insert(0)),
        ("price_per_metre_minor", |spec| {
            spec.cables[0].price_per_metre.get_or_insert(0)
        }),
        ("bars 1: price_minor", |spec| {
            spec.profiles[0].bars[0].price.get_or_insert(0)
        }),
        ("feed_minor", |spec| &mut spec.costs.feed),
    ];
    for (field, price) in prices {
        let with = |value: u64| {
            let mut spec = job.spec().clone();
            spec.currency = Some("EUR".to_string());
            *price(&mut spec) = value;
            check(spec)
        };
        assert!(with(most).is_ok(), "{field}");
        // The least at which a plan once fell over, and the greatest there is.
        for above in [most + 1, 1_020_004_757, u64::MAX] {
            let told = with(above).map(|_| ()).unwrap_err().to_string();
            assert!(
                told.ends_with(&format!(
                    "{field} is {above}. Write a whole number from 0 to {most}, in minor units of the currency"
                )),
                "{told}"
            );
        }
    }
    let faults = bad(&changed("price_minor = 7400", "price_minor = 1020004757")).to_string();
    let told = format!("price_minor is 1020004757. Write a whole number from 0 to {most}");
    assert!(faults.ends_with(&told), "{faults}");
}
