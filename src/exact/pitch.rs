//! The distance between cut marks as an exact ratio.

use super::length::{ExactError, ExactLength};
use crate::quantity::{Length, metres, shorten};
use std::fmt;
use std::str::FromStr;

/// The distance between two permitted cuts: `nanometres / counts`, lowest terms.
///
/// `"50 mm"` is 50 mm for 1; `"24 per m"` and `"1000/24 mm"` are 1 m for 24.
///
/// In data: `{"nm": 1000000000, "counts": 24}`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, serde::Serialize)]
#[serde(into = "Ratio")]
pub struct CutPitch {
    nanometres: i64,
    counts: i64,
}

impl CutPitch {
    /// One increment a millimetre.
    #[cfg(feature = "job")]
    pub(crate) const MILLIMETRE: Self = Self {
        nanometres: 1_000_000,
        counts: 1,
    };

    /// So many increments in a length: `CutPitch::new(1 m, 24)`.
    ///
    /// # Errors
    /// [`ExactError::Pitch`] unless the pitch is above nothing and at most 10 m.
    pub fn new(length: ExactLength, counts: u32) -> Result<Self, ExactError> {
        let nanometres = length.nanometres();
        let counts = i64::from(counts);
        let fits = nanometres > 0 && counts > 0 && nanometres / counts <= 10_000_000_000;
        if !fits {
            return Err(ExactError::Pitch {
                found: format!("{length} for {counts}"),
            });
        }
        let divisor = gcd(nanometres, counts);
        Ok(Self {
            nanometres: nanometres / divisor,
            counts: counts / divisor,
        })
    }

    /// Whole nanometres, and how many increments they are, as a fraction in lowest terms.
    #[must_use]
    pub const fn nanometres_for(self) -> (i64, i64) {
        (self.nanometres, self.counts)
    }

    /// How many whole increments fit into a length: `⌊length / pitch⌋`, 0 for a negative length.
    #[must_use]
    pub fn count_in(self, length: ExactLength) -> u64 {
        let numerator = i128::from(length.nanometres()) * i128::from(self.counts);
        u64::try_from(numerator / i128::from(self.nanometres)).unwrap_or(0)
    }

    /// How many increments are needed to cover a length: `⌈length / pitch⌉`.
    #[must_use]
    pub fn count_to_cover(self, length: ExactLength) -> u64 {
        let numerator = i128::from(length.nanometres()) * i128::from(self.counts);
        let per = i128::from(self.nanometres);
        u64::try_from((numerator + per - 1) / per).unwrap_or(0)
    }

    /// The length of so many increments, to the nearest nanometre.
    ///
    /// Saturates far beyond any length of this trade.
    #[must_use]
    pub fn length_of(self, count: u64) -> ExactLength {
        let numerator = i128::from(count) * i128::from(self.nanometres);
        let counts = i128::from(self.counts);
        let rounded = (2 * numerator + counts) / (2 * counts);
        ExactLength::from_nanometres(i64::try_from(rounded).unwrap_or(i64::MAX))
    }

    /// One increment as a quantity, for physics.
    #[must_use]
    pub fn to_length(self) -> Length {
        metres(self.nanometres as f64 / self.counts as f64 / 1e9)
    }

    /// Increments in one metre, for physics.
    #[must_use]
    pub fn per_metre(self) -> f64 {
        self.counts as f64 * 1e9 / self.nanometres as f64
    }
}

/// A pitch as data.
#[derive(serde::Serialize, serde::Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
struct Ratio {
    nm: i64,
    counts: u32,
}

/// Read as a whole number of nanometres over so many counts, or as the text that a person writes: `"50 mm"`.
impl<'de> serde::Deserialize<'de> for CutPitch {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        #[derive(serde::Deserialize)]
        #[serde(
            untagged,
            expecting = "a cut pitch as {\"nm\": whole number, \"counts\": whole number} or as text such as \"50 mm\""
        )]
        enum Written {
            Ratio(Ratio),
            Text(String),
        }
        match Written::deserialize(deserializer)? {
            Written::Ratio(ratio) => ratio.try_into(),
            Written::Text(text) => text.parse(),
        }
        .map_err(serde::de::Error::custom)
    }
}

#[cfg(feature = "schema")]
impl schemars::JsonSchema for CutPitch {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "CutPitch".into()
    }
    fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        Ratio::json_schema(generator)
    }
}

impl TryFrom<Ratio> for CutPitch {
    type Error = ExactError;

    fn try_from(ratio: Ratio) -> Result<Self, ExactError> {
        Self::new(ExactLength::from_nanometres(ratio.nm), ratio.counts)
    }
}

impl From<CutPitch> for Ratio {
    fn from(pitch: CutPitch) -> Self {
        Self {
            nm: pitch.nanometres,
            counts: u32::try_from(pitch.counts).unwrap_or(u32::MAX),
        }
    }
}

fn gcd(mut a: i64, mut b: i64) -> i64 {
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a.max(1)
}

impl FromStr for CutPitch {
    type Err = ExactError;

    /// Reads `"50 mm"`, `"1000/24 mm"`, `"24 per m"`, `"24/m"`, `"8 per ft"`.
    fn from_str(text: &str) -> Result<Self, ExactError> {
        let found = text.trim();
        let pitch = || ExactError::Pitch {
            found: shorten(found),
        };
        let count = |text: &str| text.trim().parse::<u32>().map_err(|_| pitch());
        if let Some((counts, unit)) = found.split_once("per") {
            return Self::new(
                ExactLength::parse(&format!("1 {}", unit.trim()))?,
                count(counts)?,
            );
        }
        if let Some((above, below)) = found.split_once('/') {
            let below = below.trim();
            if below
                .bytes()
                .next()
                .is_some_and(|b| b.is_ascii_alphabetic())
            {
                return Self::new(ExactLength::parse(&format!("1 {below}"))?, count(above)?);
            }
            let digits = below.bytes().take_while(u8::is_ascii_digit).count();
            let (below, unit) = below.split_at(digits);
            if !above.trim().contains(['-', ' ']) {
                let length = ExactLength::parse(&format!("{} {}", above.trim(), unit.trim()))?;
                return Self::new(length, count(below)?);
            }
        }
        Self::new(ExactLength::parse(found)?, 1).map_err(|_| pitch())
    }
}

/// Prints millimetres where they are exact to a micrometre, else the count per metre or the ratio.
impl fmt::Display for CutPitch {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let text = if self.counts == 1 {
            let mm = ExactLength::from_nanometres(self.nanometres);
            if self.nanometres < 1_000_000_000 {
                mm.to_string()
            } else {
                format!("{mm}")
            }
        } else if 1_000_000_000 % self.nanometres == 0 {
            format!("{} per m", self.counts * (1_000_000_000 / self.nanometres))
        } else if self.nanometres % 1_000_000 == 0 {
            format!("{}/{} mm", self.nanometres / 1_000_000, self.counts)
        } else {
            format!("{}/{} mm", self.nanometres as f64 / 1e6, self.counts)
        };
        f.pad(&text)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn count(pitch: &str, length: &str) -> u64 {
        pitch
            .parse::<CutPitch>()
            .unwrap()
            .count_in(length.parse().unwrap())
    }

    #[test]
    fn counts_are_floors_of_integers() {
        assert_eq!(count("50 mm", "4.35 m"), 87);
        assert_eq!(count("50 mm", "5 m"), 100);
        assert_eq!(count("100 mm", "2.9 m"), 29);
        assert_eq!(count("24 per m", "5 m"), 120);
        assert_eq!(count("1000/24 mm", "5 m"), 120);
        assert_eq!(count("24/m", "4.999999999 m"), 119);
        assert_eq!(count("8 per ft", "10 ft"), 80);
        assert_eq!(count("1-1/2 in", "3 ft"), 24);
        assert_eq!(count("50 mm", "49.999999 mm"), 0);
        assert_eq!(count("50 mm", "-1 m"), 0);
    }

    #[test]
    fn every_tenth_of_a_millimetre_counts_right() {
        let pitch: CutPitch = "0.1 m".parse().unwrap();
        for tenths in 0..4000_i64 {
            let length = ExactLength::from_millimetres(tenths * 100);
            assert_eq!(pitch.count_in(length), tenths as u64);
        }
    }

    #[test]
    fn length_of_count_is_the_nearest_nanometre() {
        let pitch: CutPitch = "24 per m".parse().unwrap();
        assert_eq!(pitch.length_of(1).nanometres(), 41_666_667);
        assert_eq!(pitch.length_of(120), "5 m".parse().unwrap());
        assert_eq!(pitch.count_to_cover("5.001 m".parse().unwrap()), 121);
        assert_eq!(pitch.to_string(), "24 per m");
        assert_eq!("50 mm".parse::<CutPitch>().unwrap().to_string(), "50 mm");
        assert_eq!("125/3 mm".parse::<CutPitch>().unwrap(), pitch);
    }

    #[test]
    fn refuses_what_is_no_pitch() {
        for text in ["0 mm", "-50 mm", "0 per m", "1/0 mm", "11 m", "50"] {
            assert!(text.parse::<CutPitch>().is_err(), "{text}");
        }
    }
}
