//! What every device sees.

use crate::finding::plain::Finding;
use crate::quantity::{ElectricPotential, Length, Time};
use crate::source::Source;

/// A receiver decides at this many volts either way.
const THRESHOLD: f64 = 0.2;
const RECEIVER: Source = Source::standard(
    "TIA-485-A",
    "1998 (R2003)",
    "clause 4.3.2: a receiver decides at 0.2 V either way (as quoted)",
);

/// What the devices of a chain see.
#[derive(Debug, Clone, PartialEq)]
pub struct Signal {
    /// Name of the chain.
    pub chain: String,
    /// Its links, in the order of the tree.
    pub links: Vec<LinkSignal>,
}

/// What the devices of a link see.
#[derive(Debug, Clone, PartialEq)]
pub struct LinkSignal {
    /// The link, in words.
    pub place: String,
    /// Devices and splitter inputs, from the driver outward.
    pub devices: Vec<DeviceSignal>,
}

/// What one device sees. Volts are counted in the sense of the level sent: below zero the bit reads wrong.
#[derive(Debug, Clone, PartialEq)]
pub struct DeviceSignal {
    /// Index of the part in the chain.
    pub part: usize,
    /// Its name.
    pub name: String,
    /// Distance along the cable from the driver.
    pub distance: Length,
    /// When an edge that leaves the driver at zero arrives.
    pub arrival: Time,
    /// Least volts in the middle of a bit.
    pub least_at_middle: ElectricPotential,
    /// Least volts from a quarter to three quarters of a bit.
    pub least_in_window: ElectricPotential,
    /// Largest magnitude.
    pub peak: ElectricPotential,
    /// Volts of a long mark.
    pub steady: ElectricPotential,
}

impl DeviceSignal {
    /// Volts over the 0.2 V a receiver needs, in the sampling window.
    #[must_use]
    pub fn margin(&self) -> f64 {
        self.least_in_window.value - THRESHOLD
    }

    /// How far the peak stands above a long mark, as a part of that mark.
    #[must_use]
    pub fn overshoot(&self) -> f64 {
        self.peak.value / self.steady.value - 1.0
    }

    /// One word: `reads`, `unsure` (within 0.2 V of zero) or `misreads`.
    #[must_use]
    pub fn word(&self) -> &'static str {
        let least = self.least_in_window.value;
        if least >= THRESHOLD {
            "reads"
        } else if least > -THRESHOLD {
            "unsure"
        } else {
            "misreads"
        }
    }

    /// Judges the margin.
    #[must_use]
    pub fn judge(&self, place: &str) -> Finding {
        let least = self.least_in_window.value;
        Finding::judged_at_least(
            "signal-margin",
            format!("{place}, {}", self.name),
            least,
            THRESHOLD,
        )
        .says(format!(
            "{}: at least {least:.2} V while it samples, peak {:.2} V",
            self.word(),
            self.peak.value
        ))
        .figure(format!("{least:.3} V"))
        .limit("at least 0.2 V")
        .source(RECEIVER)
        .remedy("terminate the far end, and take branches and stubs off the line")
    }
}

impl Signal {
    /// All devices, link after link.
    pub fn devices(&self) -> impl Iterator<Item = &DeviceSignal> {
        self.links.iter().flat_map(|link| &link.devices)
    }

    /// The device with the least margin.
    #[must_use]
    pub fn worst(&self) -> Option<&DeviceSignal> {
        self.devices()
            .min_by(|a, b| a.margin().total_cmp(&b.margin()))
    }

    /// Judges every device.
    #[must_use]
    pub fn judge(&self) -> Vec<Finding> {
        let links = self.links.iter();
        links
            .flat_map(|link| link.devices.iter().map(|device| device.judge(&link.place)))
            .collect()
    }
}
