//! How many devices on a chain, and how long.

use super::error::AskError;
use super::sheet::Sheet;
use crate::dmx::chain::{ChainSpec, LineCable, Part};
use crate::finding::{Finding, Verdict};
use crate::quantity::{Length, Metres, metres, ohms, show};
use crate::rules;
use serde::Serialize;

/// Does a chain of so many devices, so far apart, keep the rules of its line?
///
/// One unit load a device, a data pair of 24 AWG, 120 ohm at the far end; judged by [`dmx::chain`](crate::dmx::chain).
#[derive(Debug, Clone, PartialEq)]
pub struct DataChain {
    /// Devices.
    pub devices: u32,
    /// Cable between two of them, and to the first.
    pub spacing: Length,
}

/// What the rules say of it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DataChainAnswer {
    /// Cable in all.
    pub length: Metres,
    /// Most devices, so far apart, of which no rule says that they fail.
    pub most_devices: u32,
    /// What fails or only just holds.
    pub findings: Vec<Finding>,
    #[serde(skip)]
    asked: DataChain,
}

impl DataChain {
    /// Judges it.
    ///
    /// # Errors
    /// [`AskError::Figure`]: no devices, more than 500, or a spacing that is not above zero.
    pub fn answer(&self) -> Result<DataChainAnswer, AskError> {
        if !(1..=500).contains(&self.devices) {
            return Err(AskError::figure(
                "the number of devices",
                self.devices,
                "1 to 500",
                "Give those on one chain",
            ));
        }
        if !(self.spacing.value > 0.0 && self.spacing.value <= 1000.0) {
            return Err(AskError::figure(
                "the cable between two devices",
                show(self.spacing),
                "above 0 m, at most 1000 m",
                "Give its length with a unit",
            ));
        }
        let findings = self.judged(self.devices)?;
        let mut most_devices = 0;
        for count in 1..=64 {
            if self.judged(count)?.iter().any(Finding::is_fail) {
                break;
            }
            most_devices = count;
        }
        let tells = |f: &Finding| matches!(f.verdict, Verdict::Fail | Verdict::AtLimit);
        Ok(DataChainAnswer {
            length: metres(self.spacing.value * f64::from(self.devices)).into(),
            most_devices,
            findings: findings.into_iter().filter(tells).collect(),
            asked: self.clone(),
        })
    }

    fn judged(&self, devices: u32) -> Result<Vec<Finding>, AskError> {
        let mut chain = ChainSpec::new("chain", LineCable::data_pair(24));
        for number in 1..=devices {
            chain.next(Part::device(format!("device {number}"), self.spacing));
        }
        chain.terminate(ohms(120.0));
        let chain = chain.check();
        chain
            .map(|chain| chain.judge())
            .map_err(|all| AskError::Unsolved(all.to_string()))
    }
}

impl DataChainAnswer {
    /// The answer as a person reads it.
    #[must_use]
    pub fn sheet(&self) -> Sheet {
        let fails = self.findings.iter().any(Finding::is_fail);
        let mut sheet = Sheet::new(format!(
            "{}: {} devices, {} apart, {} in all. At this distance {} at most.",
            if fails { "No" } else { "Yes" },
            self.asked.devices,
            show(self.asked.spacing),
            self.length,
            self.most_devices
        ));
        for finding in self.findings.iter().take(4) {
            let words = rules::words(finding);
            sheet = sheet
                .because(format!("{}: {}.", finding.verdict, words.says))
                .source(finding.source.clone());
        }
        sheet
            .because("Behind a splitter a new chain begins, with its own devices, length and terminator.")
            .assumed(&["one unit load a device; a data pair of 24 AWG, 120 ohm at the far end".to_string()])
    }
}
