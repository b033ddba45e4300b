//! Lengths as the job writes them: metres, feet and inches, or both.

use crate::design::LengthUnits;
use crate::exact::ExactLength;

/// Sixteenths of an inch in a nanometre's count: 25.4 mm over 16, exact.
const SIXTEENTH_NM: i64 = 1_587_500;

/// A length for a person: metres to the centimetre, or feet and inches to the sixteenth.
pub(super) fn length(units: LengthUnits, length: ExactLength) -> String {
    in_units(units, format!("{:.2} m", length.metres()), length)
}

/// A length to cut or drill by: metres to the millimetre, or feet and inches to the sixteenth.
pub(super) fn exact(units: LengthUnits, length: ExactLength) -> String {
    in_units(units, format!("{:.3} m", length.metres()), length)
}

fn in_units(units: LengthUnits, metric: String, length: ExactLength) -> String {
    match units {
        LengthUnits::Metric => metric,
        LengthUnits::Us => feet(length),
        LengthUnits::Both => format!("{metric} ({})", feet(length)),
    }
}

/// `17 ft 5-1/4 in`, `5/16 in`, `16 ft`: to the nearest sixteenth of an inch.
pub(crate) fn feet(length: ExactLength) -> String {
    let nanometres = length.nanometres();
    let sign = if nanometres < 0 { "-" } else { "" };
    let size = nanometres.unsigned_abs();
    let step = SIXTEENTH_NM.unsigned_abs();
    let sixteenths = (size + step / 2) / step;
    let (feet, rest) = (sixteenths / 192, sixteenths % 192);
    let (inches, part) = (rest / 16, rest % 16);
    let part = match part {
        0 => String::new(),
        part => {
            let shift = part.trailing_zeros();
            format!("{}/{}", part >> shift, 16_u64 >> shift)
        }
    };
    let inches = match (inches, part.is_empty()) {
        (0, true) => String::new(),
        (0, false) => format!("{part} in"),
        (inches, true) => format!("{inches} in"),
        (inches, false) => format!("{inches}-{part} in"),
    };
    match (feet, inches.is_empty()) {
        (0, true) => "0 in".to_string(),
        (0, false) => format!("{sign}{inches}"),
        (feet, true) => format!("{sign}{feet} ft"),
        (feet, false) => format!("{sign}{feet} ft {inches}"),
    }
}

/// Figures that a rule gave, in the units of the job: `33.1 m` is `108 ft 7-1/8 in`, `70 °C` is `158 °F`.
///
/// Only a number with the unit right behind it is read, so that a product's own name is left as it is unless it holds one.
pub(super) fn figures(units: LengthUnits, text: &str) -> String {
    if units != LengthUnits::Us {
        return text.to_string();
    }
    let mut words: Vec<String> = text.split(' ').map(str::to_string).collect();
    for at in 1..words.len() {
        let Ok(number) = words[at - 1].trim_start_matches('(').parse::<f64>() else {
            continue;
        };
        let unit = words[at]
            .trim_end_matches([',', ';', ':', ')', '.'])
            .to_string();
        let Some(said) = us(number, &unit) else {
            continue;
        };
        let behind = words[at].strip_prefix(&*unit).unwrap_or("").to_string();
        let before = if words[at - 1].starts_with('(') {
            "("
        } else {
            ""
        };
        words[at - 1] = format!("{before}{said}{behind}");
        words[at].clear();
        before_it(&mut words, at - 1, &unit);
    }
    let kept = words.into_iter().filter(|word| !word.is_empty());
    kept.collect::<Vec<_>>().join(" ")
}

/// The figures of a list that share the unit of the last: `60, 75 and 90 °C`. What has no such word before the last is none:
/// in `segment Shelf 3.1, 2 m` the first number is a name.
fn before_it(words: &mut [String], last: usize, unit: &str) {
    let listed = |word: &String| matches!(word.as_str(), "and" | "or" | "to");
    if !last
        .checked_sub(1)
        .and_then(|at| words.get(at))
        .is_some_and(listed)
    {
        return;
    }
    for at in (0..last).rev() {
        let Some(word) = words.get_mut(at) else {
            return;
        };
        if matches!(word.as_str(), "and" | "or" | "to") {
            continue;
        }
        let number = word.trim_end_matches(',');
        let Some(said) = number.parse().ok().and_then(|number: f64| us(number, unit)) else {
            return;
        };
        let behind = word.strip_prefix(number).unwrap_or("").to_string();
        let said = said.strip_suffix(" °F").unwrap_or(&said).to_string();
        *word = said + &behind;
    }
}

/// A metric figure in the customary unit of the US; none for what is said alike.
fn us(number: f64, unit: &str) -> Option<String> {
    let metres = match unit {
        "m" => number,
        "cm" => number / 100.0,
        "mm" => number / 1000.0,
        "km" => number * 1000.0,
        "°C" => return Some(format!("{:.0} °F", number * 1.8 + 32.0)),
        _ => return None,
    };
    let nanometres = (metres * 1e9).round();
    (nanometres.abs() < 1e18).then(|| feet(ExactLength::from_nanometres(nanometres as i64)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn feet_are_as_a_job_writes_them() {
        for (text, words) in [
            ("17 ft 5-1/4 in", "17 ft 5-1/4 in"),
            ("3/8 in", "3/8 in"),
            ("16 ft", "16 ft"),
            ("12 in", "1 ft"),
            ("8 ft 2-1/2 in", "8 ft 2-1/2 in"),
            ("1 m", "3 ft 3-3/8 in"),
            ("0 m", "0 in"),
        ] {
            let length = ExactLength::parse(text).expect("a length");
            assert_eq!(feet(length), words);
        }
        let length = ExactLength::parse("9.1 m").expect("a length");
        assert_eq!(super::length(LengthUnits::Metric, length), "9.10 m");
        assert_eq!(
            super::length(LengthUnits::Both, length),
            "9.10 m (29 ft 10-1/4 in)"
        );
    }

    #[test]
    fn figures_of_a_rule_are_said_in_feet_and_degrees() {
        let of = |text| figures(LengthUnits::Us, text);
        assert_eq!(of("at most 300 m"), "at most 984 ft 3 in");
        assert_eq!(of("9.1 m, then (70 °C)"), "29 ft 10-1/4 in, then (158 °F)");
        assert_eq!(of("60, 75 and 90 °C cable"), "140, 167 and 194 °F cable");
        assert_eq!(of("Shelf 3.1 2.4 m"), "Shelf 3.1 7 ft 10-1/2 in");
        assert_eq!(of("segment Shelf 3.1, 0 mm"), "segment Shelf 3.1, 0 in");
        assert_eq!(of("2 x 1.5 mm2 at 14.4 W/m"), "2 x 1.5 mm2 at 14.4 W/m");
        assert_eq!(figures(LengthUnits::Metric, "300 m"), "300 m");
    }
}
