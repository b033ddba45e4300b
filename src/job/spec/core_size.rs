//! Size of a core: a gauge or a cross-section, as it is sold.

use crate::quantity::{Area, parse, shorten, show};
use std::fmt;
use std::str::FromStr;
use thiserror::Error;

/// Size of a core in the system it is sold in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum CoreSize {
    /// American wire gauge, 40 to -3: 0 is 1/0, -1 is 2/0, -2 is 3/0, -3 is 4/0.
    Awg(i32),
    /// Cross-section of the metal.
    Section(Area),
}

/// A text is no size of a core.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error(
    "`{found}` is no size of a core{why}: write one like \"18 AWG\", \"4/0 AWG\" or \"1.5 mm2\""
)]
pub struct CoreSizeError {
    /// The text.
    pub found: String,
    /// Why, where there is more to say; begins with a comma.
    pub why: String,
}

impl FromStr for CoreSize {
    type Err = CoreSizeError;

    /// Reads `"18 AWG"`, `"4/0 AWG"`, `"1.5 mm2"`, `"1.5 mm²"`.
    fn from_str(text: &str) -> Result<Self, CoreSizeError> {
        let found = text.trim();
        let fail = |why: &str| CoreSizeError {
            found: shorten(found),
            why: why.to_string(),
        };
        let Some(gauge) = found.strip_suffix("AWG") else {
            if found.to_ascii_uppercase().ends_with("AWG") {
                return Err(fail(", as `AWG` is written in capitals"));
            }
            let section: Area = parse(found).map_err(|_| {
                fail(if found.bytes().all(|b| b.is_ascii_digit() || b == b'.') {
                    ", as it has no unit"
                } else {
                    ""
                })
            })?;
            if !(section.value >= 1e-9 && section.value <= 1e-3) {
                return Err(fail(", which lies between 0.001 mm² and 1000 mm²"));
            }
            return Ok(Self::Section(section));
        };
        let gauge = gauge.trim();
        if let Some(noughts) = gauge.strip_suffix("/0") {
            return match noughts {
                "1" => Ok(Self::Awg(0)),
                "2" => Ok(Self::Awg(-1)),
                "3" => Ok(Self::Awg(-2)),
                "4" => Ok(Self::Awg(-3)),
                _ => Err(fail(", as gauges end at 4/0")),
            };
        }
        match gauge.parse::<u8>() {
            Ok(number @ 1..=40) if gauge.bytes().all(|b| b.is_ascii_digit()) => {
                Ok(Self::Awg(i32::from(number)))
            }
            Ok(0) => Ok(Self::Awg(0)),
            _ => Err(fail(", as gauges go from 40 to 4/0")),
        }
    }
}

impl fmt::Display for CoreSize {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Awg(gauge @ 1..) => f.pad(&format!("{gauge} AWG")),
            Self::Awg(noughts) => f.pad(&format!("{}/0 AWG", 1 - noughts)),
            Self::Section(area) => f.pad(&show(*area)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::square_millimetres;

    #[test]
    fn sizes_are_read() {
        for (text, size) in [
            ("18 AWG", CoreSize::Awg(18)),
            ("18AWG", CoreSize::Awg(18)),
            ("1/0 AWG", CoreSize::Awg(0)),
            ("4/0 AWG", CoreSize::Awg(-3)),
            ("1.5 mm2", CoreSize::Section(square_millimetres(1.5))),
            ("1.5 mm²", CoreSize::Section(square_millimetres(1.5))),
        ] {
            assert_eq!(text.parse(), Ok(size), "{text}");
        }
        assert_eq!(CoreSize::Awg(-3).to_string(), "4/0 AWG");
        for (text, words) in [
            ("18 awg", "written in capitals"),
            ("-1 AWG", "go from 40 to 4/0"),
            ("5/0 AWG", "end at 4/0"),
            ("41 AWG", "go from 40 to 4/0"),
            ("1.5", "has no unit"),
            ("0 mm2", "between 0.001 mm²"),
            ("2 oz", "no size of a core: write"),
        ] {
            let error = text.parse::<CoreSize>().unwrap_err().to_string();
            assert!(error.contains(words), "{text}: {error}");
        }
    }
}
