//! How many supplies of which size.

use super::error::AskError;
use super::sheet::Sheet;
use crate::job::spec::{LimitKey, Limits};
use crate::quantity::{Power, Ratio, Share, Watts, show, watts};
use serde::Serialize;

/// How many supplies of which size for this load: `n = ⌈P / (f · P_rated)⌉`, or whole pieces a supply where the load is
/// in equal pieces that are not divided: `n = ⌈pieces / ⌊f · P_rated / p⌋⌉`.
#[derive(Debug, Clone, PartialEq)]
pub struct Supplies {
    /// Pieces of load that are not divided.
    pub pieces: u64,
    /// Power of each.
    pub each: Power,
    /// Rated powers of the supplies that may be taken, after derating for their ambient.
    pub sizes: Vec<Power>,
    /// Share of its rating that a supply is loaded to.
    pub load_factor: Ratio,
}

/// Supplies of one size.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SupplyCount {
    /// Rated power.
    pub size: Watts,
    /// How many; none: one piece is more than it may carry.
    pub count: Option<u64>,
    /// Load of the fullest, as a share of its rating.
    pub load: Option<Share>,
}

/// How many.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SuppliesAnswer {
    /// Power of the whole load.
    pub power: Watts,
    /// By size, as they were given.
    pub sizes: Vec<SupplyCount>,
    #[serde(skip)]
    asked: Supplies,
}

impl Supplies {
    /// `pieces` of `each`, on supplies of 60 W, 100 W, 150 W, 240 W and 320 W (an assumption of this library), loaded as a job
    /// is that says nothing.
    #[must_use]
    pub fn new(pieces: u64, each: Power) -> Self {
        Self {
            pieces,
            each,
            sizes: [60.0, 100.0, 150.0, 240.0, 320.0].map(watts).to_vec(),
            load_factor: Limits::default().load_factor,
        }
    }

    /// Divides.
    ///
    /// # Errors
    /// [`AskError::Figure`]: a figure that is not above zero; no sizes; more than a million pieces.
    pub fn answer(&self) -> Result<SuppliesAnswer, AskError> {
        let refuse = |what, found: String, accepted: &str| {
            Err(AskError::figure(what, found, accepted, "Correct it"))
        };
        if !(1..=1_000_000).contains(&self.pieces) {
            return refuse(
                "the number of pieces",
                self.pieces.to_string(),
                "1 to 1 000 000",
            );
        }
        if !(self.load_factor.value > 0.0 && self.load_factor.value <= 1.0) {
            return refuse(
                "the load factor",
                show(self.load_factor),
                "above 0 %, at most 100 %",
            );
        }
        if self.sizes.is_empty() {
            return refuse(
                "the list of sizes",
                "empty".to_string(),
                "one rated power at least",
            );
        }
        for power in self.sizes.iter().chain([&self.each]) {
            if !(power.value > 0.0 && power.value <= 1e6) {
                return refuse("a power", show(*power), "above 0 W, at most 1 MW");
            }
        }
        let sizes = self.sizes.iter().map(|size| self.of(*size)).collect();
        Ok(SuppliesAnswer {
            power: (self.each * self.pieces as f64).into(),
            sizes,
            asked: self.clone(),
        })
    }

    fn of(&self, size: Power) -> SupplyCount {
        // A load that fills the limit exactly fits, whatever the last bit says.
        let fits =
            (size.value * self.load_factor.value / self.each.value * (1.0 + 1e-12)).floor() as u64;
        let count = (fits > 0).then(|| self.pieces.div_ceil(fits));
        SupplyCount {
            size: size.into(),
            count,
            load: count.map(|count| {
                let fullest = self.pieces.div_ceil(count);
                (self.each * fullest as f64 / size).into()
            }),
        }
    }
}

impl SuppliesAnswer {
    /// The answer as a person reads it.
    #[must_use]
    pub fn sheet(&self) -> Sheet {
        let words = |row: &SupplyCount| row.count.map(|n| format!("{n} of {}", row.size));
        let all: Vec<String> = self.sizes.iter().filter_map(words).collect();
        let answer = if all.is_empty() {
            "None of these sizes: one piece alone is more than any of them may carry.".to_string()
        } else {
            format!("{}.", all.join(", or "))
        };
        let mut sheet = Sheet::new(answer).because(format!(
            "{} in pieces of {}, supplies loaded to {} of their rating at most.",
            self.power,
            show(self.asked.each),
            show(self.asked.load_factor)
        ));
        let loads: Vec<String> = self
            .sizes
            .iter()
            .map(|row| match row.load {
                Some(load) => format!("{} at {load}", row.size),
                None => format!("{} too small for one piece", row.size),
            })
            .collect();
        sheet = sheet.because(format!("Loaded: {}.", loads.join(", ")));
        sheet
            .because(
                "Derate each for its ambient first; its outputs may be limited below its power.",
            )
            .source(LimitKey::LoadFactor.source())
    }
}
