//! Rules on one conductor: load, device, ampacity, the source's limit, short circuits, a feed lost.

use super::check::Protection;
use super::classes::{CircuitClass, Classes, greatest_sustained};
use super::fault::{Clearing, adiabatic_time, clearing};
use super::spec::{ConductorSpec, DeviceSpec, MayCarry, OutputSpec};
use crate::finding::plain::Finding;
use crate::quantity::{amps, show};
use crate::source::Source;
use serde::Serialize;

/// Load, device, ampacity.
pub const COORDINATION: Source = Source::standard(
    "IEC 60364-4-43, protection against overcurrent",
    "2008",
    "433.1: Ib <= In <= Iz",
)
.from_memory();
/// A source that cannot give more.
pub const BY_SOURCE: Source = Source::standard(
    "IEC 60364-4-43, protection against overcurrent",
    "2008",
    "436: the supply cannot give more than the conductor may carry",
)
.from_memory();
/// Short circuits.
pub const SHORT_CIRCUIT: Source = Source::standard(
    "IEC 60364-4-43, protection against overcurrent",
    "2008",
    "434.5.2: t = (k S / I)^2",
)
.from_memory();

/// What the rules found about one conductor: a line of the protection schedule.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ConductorRow {
    /// Its name.
    pub conductor: String,
    /// The device upstream.
    pub device: Option<String>,
    /// Load current `Ib`, A.
    pub load_a: f64,
    /// Rating of the device `In`, A.
    pub device_a: Option<f64>,
    /// Ampacity `Iz`, A; `None`: no table covers it.
    pub ampacity_a: Option<f64>,
    /// Greatest current that what feeds it can keep up, A; `None`: not known.
    pub source_limit_a: Option<f64>,
    /// Least fault current, far end, hot, low voltage, A.
    pub least_fault_a: Option<f64>,
    /// Greatest fault current, near end, cold, high voltage, A.
    pub greatest_fault_a: Option<f64>,
    /// Whether the least fault is cleared, and by what.
    pub clearing: Option<Clearing>,
    /// How long the insulation bears the least fault current, s.
    pub adiabatic_s: Option<f64>,
    /// The class of its circuit in fact.
    pub class: CircuitClass,
}

pub(super) struct Case<'p> {
    pub conductor: &'p ConductorSpec,
    pub device: Option<&'p DeviceSpec>,
    pub outputs: Vec<&'p OutputSpec>,
    pub class: CircuitClass,
    /// Greatest sustained current, with whose word it is.
    pub most: Option<f64>,
    pub iz: Option<f64>,
}

/// The row and the findings of one conductor.
pub(super) fn judge(
    protection: &Protection,
    classes: &Classes,
    conductor: &ConductorSpec,
) -> (ConductorRow, Vec<Finding>) {
    let spec = &protection.0;
    let outputs: Vec<&OutputSpec> = classes
        .feeding(conductor)
        .into_iter()
        .filter_map(|id| spec.outputs.get(id.0))
        .collect();
    let most = outputs
        .iter()
        .map(|output| greatest_sustained(output).map(|(amps, _)| amps))
        .try_fold(0.0, |sum, limit| limit.map(|limit| sum + limit))
        .filter(|_| !outputs.is_empty());
    let iz = match &conductor.may_carry {
        MayCarry::Current { current, .. } => Some(current.value),
        MayCarry::NoTable(_) => None,
    };
    let case = Case {
        conductor,
        device: conductor.device.and_then(|id| spec.devices.get(id.0)),
        outputs,
        class: classes.conductor(conductor),
        most,
        iz,
    };
    let mut findings = vec![case.load()];
    findings.extend(case.device_above_load());
    findings.extend(case.device_of_size());
    findings.push(case.protected());
    let faults = case.faults();
    if let Some((least, greatest)) = faults {
        findings.push(case.cleared(least, greatest));
        findings.extend(case.breaking(greatest));
    }
    findings.extend(case.feed_lost());
    let row = ConductorRow {
        conductor: conductor.name.clone(),
        device: case.device.map(|device| device.name.clone()),
        load_a: conductor.load.value,
        device_a: case.device.map(|device| device.rated.value),
        ampacity_a: iz,
        source_limit_a: most,
        least_fault_a: faults.map(|(least, _)| least.amps()),
        greatest_fault_a: faults.map(|(_, greatest)| greatest),
        clearing: faults.map(|(least, _)| clearing(case.device, least)),
        adiabatic_s: faults.and_then(|(least, _)| {
            conductor
                .heat
                .as_ref()
                .map(|heat| adiabatic_time(heat, amps(least.amps())).value)
        }),
        class: case.class,
    };
    (row, findings)
}

impl Case<'_> {
    pub fn place(&self) -> &str {
        &self.conductor.name
    }

    /// Why there is no ampacity, with what does limit the current.
    fn no_ampacity(&self) -> String {
        let reason = match &self.conductor.may_carry {
            MayCarry::NoTable(reason) => reason.as_str(),
            MayCarry::Current { .. } => "",
        };
        match self.most {
            Some(most) if self.class.energy.is_limited() => format!(
                "{reason}; what feeds it is {} and gives {} at most: compare with the maker's figure for the conductor",
                self.class.energy,
                show(amps(most))
            ),
            Some(most) => format!("{reason}; what feeds it can keep up {}", show(amps(most))),
            None => format!("{reason}; what feeds it states no limit"),
        }
    }

    fn load(&self) -> Finding {
        let id = "conductor-load";
        let load = self.conductor.load;
        match (&self.conductor.may_carry, self.iz) {
            (
                MayCarry::Current {
                    current, source, ..
                },
                Some(iz),
            ) => Finding::judged_at_most(id, self.place(), load.value, iz)
                .says(format!(
                    "load {} against ampacity {}",
                    show(load),
                    show(*current)
                ))
                .figure(show(load))
                .limit(show(*current))
                .source(source.clone())
                .remedy(
                    "thicker or more conductors, less load, or a cooler or looser installation",
                ),
            _ => Finding::not_evaluated(id, self.place(), self.no_ampacity())
                .figure(show(load))
                .source(COORDINATION)
                .remedy("state an ampacity with its source, or take a cable that a table covers"),
        }
    }

    fn device_above_load(&self) -> Option<Finding> {
        let device = self.device?;
        let load = self.conductor.load;
        Some(
            Finding::judged_at_most(
                "conductor-device-load",
                self.place(),
                load.value,
                device.rated.value,
            )
            .says(format!(
                "load {} against {} of {}",
                show(load),
                show(device.rated),
                device.name
            ))
            .figure(show(load))
            .limit(show(device.rated))
            .source(COORDINATION)
            .remedy("a device of a higher rating, if the conductor bears it; else divide the load"),
        )
    }

    fn device_of_size(&self) -> Option<Finding> {
        let device = self.device?;
        let MayCarry::Current {
            largest_device: Some((largest, source)),
            ..
        } = &self.conductor.may_carry
        else {
            return None;
        };
        Some(
            Finding::judged_at_most(
                "conductor-device-size",
                self.place(),
                device.rated.value,
                largest.value,
            )
            .says(format!(
                "{} of {} against {} for a conductor of this size",
                device.name,
                show(device.rated),
                show(*largest)
            ))
            .figure(show(device.rated))
            .limit(show(*largest))
            .source(source.clone())
            .remedy("a device of a lower rating, or a thicker conductor"),
        )
    }

    /// Can more than the ampacity flow for long, and does anything open if it does?
    fn protected(&self) -> Finding {
        let id = "conductor-protected";
        let place = self.place();
        let Some(iz) = self.iz else {
            return Finding::not_evaluated(id, place, self.no_ampacity()).source(COORDINATION);
        };
        let limit = show(amps(iz));
        if let Some(most) = self.most.filter(|most| *most <= iz) {
            return Finding::judged_at_most(id, place, most, iz)
                .says(format!(
                    "what feeds it can keep up {}, and it may carry {limit}",
                    show(amps(most))
                ))
                .figure(show(amps(most)))
                .limit(limit)
                .source(BY_SOURCE);
        }
        let push = self.most.map_or_else(
            || "what feeds it states no limit".to_string(),
            |most| format!("what feeds it can keep up {}", show(amps(most))),
        );
        match self.device {
            Some(device) => Finding::judged_at_most(id, place, device.rated.value, iz)
                .says(format!(
                    "{push}; {} opens above {}, and the conductor may carry {limit}",
                    device.name,
                    show(device.rated)
                ))
                .figure(show(device.rated))
                .limit(limit)
                .source(COORDINATION)
                .remedy("a device of a rating at or below the ampacity, at or above the load; or a thicker conductor"),
            None => Finding::fail(id, place)
                .says(format!(
                    "conductor not protected: {push}, it may carry {limit}, and nothing in between opens"
                ))
                .figure(self.most.map_or_else(|| "no limit stated".to_string(), |most| show(amps(most))))
                .limit(limit)
                .source(COORDINATION)
                .remedy("a fuse at the start of this conductor, a thicker conductor, or a source that cannot give more"),
        }
    }

    /// One feed of several lost: what is left carries all.
    fn feed_lost(&self) -> Vec<Finding> {
        let id = "conductor-feed-lost";
        let device = self.device.map(|device| device.rated.value);
        self.conductor
            .load_with_feed_lost
            .iter()
            .map(|(feed, load)| {
                let Some(iz) = self.iz else {
                    return Finding::not_evaluated(id, self.place(), self.no_ampacity())
                        .figure(show(*load))
                        .source(COORDINATION);
                };
                let limit = device.map_or(iz, |rating| rating.min(iz));
                Finding::judged_at_most(id, self.place(), load.value, limit)
                    .says(format!(
                        "with {feed} lost it carries {} against {}",
                        show(*load),
                        show(amps(limit))
                    ))
                    .figure(show(*load))
                    .limit(show(amps(limit)))
                    .source(COORDINATION)
                    .remedy("size each feed for the whole load, or interlock the feeds")
            })
            .collect()
    }
}
