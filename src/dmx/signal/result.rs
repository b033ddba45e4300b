//! What every device sees.

#[cfg(feature = "job")]
use crate::finding::Value;
use crate::finding::{Case, DataLink, Finding, Rule, Subject};
use crate::id::PartId;
use crate::quantity::{ElectricPotential, Length, Time, volts};
use crate::source::{Source, documents};

/// A receiver decides at this many volts either way (TIA-485-A, as below).
pub(crate) const THRESHOLD: f64 = 0.2;
const RECEIVER: Source =
    documents::TIA_485_A.at("clause 4.3.2: a receiver decides at 0.2 V either way");

/// What the devices of a chain see.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Signal {
    /// Name of the chain.
    pub chain: String,
    /// Its links, in the order of the tree.
    pub links: Vec<LinkSignal>,
}

/// What the devices of a link see.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct LinkSignal {
    /// The link.
    pub link: DataLink,
    /// Devices and splitter inputs, from the driver outward.
    pub devices: Vec<DeviceSignal>,
}

/// What one device sees. Volts are counted in the sense of the level sent: below zero the bit reads wrong.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct DeviceSignal {
    /// Index of the part in the chain.
    pub part: usize,
    /// Its name.
    pub name: String,
    /// Distance along the cable from the driver.
    #[serde(with = "crate::quantity::valued")]
    pub distance: Length,
    /// When an edge that leaves the driver at zero arrives.
    #[serde(with = "crate::quantity::valued")]
    pub arrival: Time,
    /// Least volts in the middle of a bit.
    #[serde(with = "crate::quantity::valued")]
    pub least_at_middle: ElectricPotential,
    /// Least volts from a quarter to three quarters of a bit.
    #[serde(with = "crate::quantity::valued")]
    pub least_in_window: ElectricPotential,
    /// Largest magnitude.
    #[serde(with = "crate::quantity::valued")]
    pub peak: ElectricPotential,
    /// Volts of a long mark.
    #[serde(with = "crate::quantity::valued")]
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
        word(self.least_in_window)
    }

    /// Judges the margin.
    #[must_use]
    pub fn judge(&self, link: &DataLink) -> Finding {
        let about = Subject::Part {
            link: link.clone(),
            part: PartId::new(&*self.name),
        };
        if !self.least_in_window.value.is_finite() {
            return SIGNAL_MARGIN.not_evaluated(&NOT_JUDGED, about);
        }
        judge(about, self.least_in_window, self.peak)
    }
}

/// One word for the least volts while a receiver samples.
fn word(least: ElectricPotential) -> &'static str {
    if least.value >= THRESHOLD {
        "reads"
    } else if least.value > -THRESHOLD {
        "unsure"
    } else {
        "misreads"
    }
}

/// Judges the least volts that a device sees while it samples.
pub(crate) fn judge(about: Subject, least: ElectricPotential, peak: ElectricPotential) -> Finding {
    let case = match word(least) {
        "reads" => &READS,
        "unsure" => &UNSURE,
        _ => &MISREADS,
    };
    SIGNAL_MARGIN
        .at_least(case, about, least, volts(THRESHOLD))
        .fact("peak", peak)
}

/// The signal at a device of a line that was not simulated, and why.
#[cfg(feature = "job")]
pub(crate) fn not_simulated(about: Subject, why: &str) -> Finding {
    SIGNAL_MARGIN
        .not_evaluated(&NOT_SIMULATED, about)
        .fact("why", Value::note(why))
}

/// Words of a margin.
const fn margin(key: &'static str, says: &'static str) -> Case {
    Case::judged(key, says)
        .figure("{figure:.3} V")
        .limit("at least {limit:.1 V}")
}
const REMEDY: &str = "terminate the far end, and take branches and stubs off the line";
const READS: Case = margin(
    "reads",
    "reads: at least {figure:.2} V while it samples, peak {peak:.2} V",
);
const UNSURE: Case = margin(
    "unsure",
    "unsure: at least {figure:.2} V while it samples, peak {peak:.2} V",
)
.remedy(REMEDY);
const MISREADS: Case = margin(
    "misreads",
    "misreads: at least {figure:.2} V while it samples, peak {peak:.2} V",
)
.remedy(REMEDY);
const NOT_JUDGED: Case = Case::open(
    "not_judged",
    "the least volts while it samples",
    "no bit of the levels sent can be judged",
);

const NOT_SIMULATED: Case =
    Case::open("not_simulated", "the least volts while it samples", "{why}")
        .remedy("state cable and devices of the chain so that its line can be simulated");

pub(in crate::dmx) const SIGNAL_MARGIN: Rule = Rule {
    id: "signal-margin",
    title: "Signal at every device",
    asks: "Does every device see at least 0.2 V the right way while it samples?",
    source: RECEIVER,
    needs: &[],
    cases: &[&READS, &UNSURE, &MISREADS, &NOT_JUDGED, &NOT_SIMULATED],
};

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
            .flat_map(|link| link.devices.iter().map(|device| device.judge(&link.link)))
            .collect()
    }
}
