//! Lengths as people of the job read them: metres, or feet and inches.

use crate::design::{Design, LengthUnits};
use crate::exact::ExactLength;
use crate::report::lengths::feet;

/// In which units lengths are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Lengths {
    Metres,
    Feet,
}

/// Metres in a foot, exactly (international foot).
const FOOT: f64 = 0.3048;

impl Lengths {
    /// As the job writes them; metres where it writes both.
    pub fn of(design: &Design) -> Self {
        match design.job.units {
            LengthUnits::Us => Self::Feet,
            LengthUnits::Metric | LengthUnits::Both => Self::Metres,
        }
    }

    /// `4.90 m`, `16 ft 1 in`: to a centimetre, to a sixteenth of an inch.
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn feet_are_written_as_in_the_schedules() {
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
