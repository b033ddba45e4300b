//! Lengths as people of the job read them: metres, or feet and inches.

use crate::design::Design;
use crate::exact::ExactLength;

/// In which units lengths are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Lengths {
    Metres,
    Feet,
}

/// Metres in a foot, exactly (international foot).
const FOOT: f64 = 0.3048;

impl Lengths {
    /// Feet where every cable of the design is sized by the American Wire Gauge: an assumption of ours about who reads it.
    pub fn of(design: &Design) -> Self {
        let mut sizes = design.cable_kinds.iter().map(|kind| kind.size.as_str());
        let feet = !design.cable_kinds.is_empty() && sizes.all(|size| size.contains("AWG"));
        if feet { Self::Feet } else { Self::Metres }
    }

    /// `4.90 m`, `16 ft 1 in`: to a centimetre, to an eighth of an inch.
    pub fn words(self, length: ExactLength) -> String {
        match self {
            Self::Metres => format!("{:.2} m", length.metres()),
            Self::Feet => feet(length),
        }
    }

    /// `292 mm`, `11-1/2 in`: what is cut at the bench.
    pub fn cut(self, length: ExactLength) -> String {
        match self {
            Self::Metres => format!("{:.0} mm", length.metres() * 1000.0),
            Self::Feet => feet(length),
        }
    }

    /// Name of the unit of a scale.
    pub fn unit(self) -> &'static str {
        match self {
            Self::Metres => "m",
            Self::Feet => "ft",
        }
    }

    /// Metres in a unit of a scale.
    pub fn metres(self) -> f64 {
        match self {
            Self::Metres => 1.0,
            Self::Feet => FOOT,
        }
    }
}

/// `16 ft 1-1/8 in`.
fn feet(length: ExactLength) -> String {
    /// Nanometres in an eighth of an inch.
    const EIGHTH: i64 = 3_175_000;
    let nanometres = length.nanometres();
    let sign = if nanometres < 0 { "-" } else { "" };
    let eighths = (nanometres.unsigned_abs() + EIGHTH.unsigned_abs() / 2) / EIGHTH.unsigned_abs();
    let (feet, rest) = (eighths / 96, eighths % 96);
    let (inches, mut part, mut of) = (rest / 8, rest % 8, 8);
    while part > 0 && part % 2 == 0 {
        (part, of) = (part / 2, of / 2);
    }
    let inches = match (inches, part) {
        (whole, 0) => format!("{whole} in"),
        (0, part) => format!("{part}/{of} in"),
        (whole, part) => format!("{whole}-{part}/{of} in"),
    };
    match (feet, rest) {
        (0, _) => format!("{sign}{inches}"),
        (feet, 0) => format!("{sign}{feet} ft"),
        (feet, _) => format!("{sign}{feet} ft {inches}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn feet_are_written_to_an_eighth_of_an_inch() {
        for (text, words) in [
            ("25 ft", "25 ft"),
            ("5 ft 3-1/2 in", "5 ft 3-1/2 in"),
            ("1 in", "1 in"),
            ("3.175 mm", "1/8 in"),
            ("1 m", "3 ft 3-3/8 in"),
            ("0 m", "0 in"),
        ] {
            let length = ExactLength::parse(text).expect(text);
            assert_eq!(Lengths::Feet.words(length), words);
        }
        let metre = ExactLength::parse("4.9 m").expect("a length");
        assert_eq!(Lengths::Metres.words(metre), "4.90 m");
        assert_eq!(Lengths::Metres.cut(metre), "4900 mm");
    }
}
