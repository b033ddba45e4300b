//! Checks a [`ProtectionSpec`] once, so that the rules can trust every index.

use super::spec::{DeviceId, OutputId, PointId, ProtectionSpec};
use crate::finding::Subject;
use thiserror::Error;

/// Most points, conductors or joins of one case.
pub const MOST_ITEMS: usize = 1_000_000;
/// Most faults that are listed at once.
const MOST_ERRORS: usize = 200;

/// One thing wrong with the facts that protection is judged on.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum ProtectionError {
    /// Too many of something.
    #[error("{found} {what}: at most {MOST_ITEMS} are judged together; split the job")]
    TooMany {
        /// What.
        what: &'static str,
        /// How many.
        found: usize,
    },
    /// A point that does not exist.
    #[error("{place} refers to point {point}, but there are {points} points, numbered from 0")]
    NoPoint {
        /// Where.
        place: Subject,
        /// Which.
        point: usize,
        /// How many there are.
        points: usize,
    },
    /// A device that does not exist.
    #[error("{place} refers to device {device}, but there are {devices} devices, numbered from 0")]
    NoDevice {
        /// Where.
        place: Subject,
        /// Which.
        device: usize,
        /// How many there are.
        devices: usize,
    },
    /// An output that does not exist.
    #[error("{place} refers to output {output}, but there are {outputs} outputs, numbered from 0")]
    NoOutput {
        /// Where.
        place: Subject,
        /// Which.
        output: usize,
        /// How many there are.
        outputs: usize,
    },
    /// A figure that cannot be.
    #[error("{place}: {what} is {found}, which cannot be; {accepted}")]
    Figure {
        /// Where.
        place: Subject,
        /// What.
        what: &'static str,
        /// The figure in SI units.
        found: f64,
        /// What is taken.
        accepted: &'static str,
    },
    /// A curve that does not fall, or has no points.
    #[error(
        "{place}: the time-current curve must have at least one point, by rising current with times that do not rise; point {point} breaks that"
    )]
    Curve {
        /// Where.
        place: Subject,
        /// Which point, from 0.
        point: usize,
    },
}

/// All that is wrong with the facts, at least one fault.
#[derive(Debug, Clone, PartialEq, Error)]
#[error("{}", self.text())]
pub struct ProtectionErrors(pub Vec<ProtectionError>);

impl ProtectionErrors {
    fn text(&self) -> String {
        let lines: Vec<String> = self.0.iter().map(ToString::to_string).collect();
        lines.join("\n")
    }
}

/// Facts that were checked: every index exists, every figure is finite and has the right sign.
#[derive(Debug, Clone, PartialEq)]
pub struct Protection(pub(super) ProtectionSpec);

struct Check<'s> {
    spec: &'s ProtectionSpec,
    errors: Vec<ProtectionError>,
}

impl ProtectionSpec {
    /// Checks everything at once.
    ///
    /// # Errors
    /// Every [`ProtectionError`], up to 200.
    pub fn check(self) -> Result<Protection, ProtectionErrors> {
        let mut check = Check {
            spec: &self,
            errors: Vec::new(),
        };
        check.counts();
        if check.errors.is_empty() {
            check.outputs();
            check.devices();
            check.conductors();
            check.joins();
        }
        let mut errors = check.errors;
        errors.truncate(MOST_ERRORS);
        if errors.is_empty() {
            Ok(Protection(self))
        } else {
            Err(ProtectionErrors(errors))
        }
    }
}

impl Check<'_> {
    fn counts(&mut self) {
        let s = self.spec;
        for (what, found) in [
            ("points", s.points.len()),
            ("outputs", s.outputs.len()),
            ("devices", s.devices.len()),
            ("conductors", s.conductors.len()),
            ("joins", s.joins.len()),
            ("profiles", s.profiles.len()),
        ] {
            if found > MOST_ITEMS {
                self.errors.push(ProtectionError::TooMany { what, found });
            }
        }
    }

    fn point(&mut self, place: &Subject, PointId(point): PointId) {
        let points = self.spec.points.len();
        if point >= points {
            self.errors.push(ProtectionError::NoPoint {
                place: place.clone(),
                point,
                points,
            });
        }
    }

    fn device(&mut self, place: &Subject, device: Option<DeviceId>) {
        let devices = self.spec.devices.len();
        if let Some(DeviceId(device)) = device.filter(|d| d.0 >= devices) {
            self.errors.push(ProtectionError::NoDevice {
                place: place.clone(),
                device,
                devices,
            });
        }
    }

    fn output(&mut self, place: &Subject, OutputId(output): OutputId) {
        let outputs = self.spec.outputs.len();
        if output >= outputs {
            self.errors.push(ProtectionError::NoOutput {
                place: place.clone(),
                output,
                outputs,
            });
        }
    }

    fn above_zero(&mut self, place: &Subject, what: &'static str, found: f64) {
        if !(found > 0.0 && found.is_finite()) {
            let accepted = "a number above zero is needed";
            self.errors.push(ProtectionError::Figure {
                place: place.clone(),
                what,
                found,
                accepted,
            });
        }
    }

    fn not_negative(&mut self, place: &Subject, what: &'static str, found: f64) {
        if !(found >= 0.0 && found.is_finite()) {
            let accepted = "zero or more is needed";
            self.errors.push(ProtectionError::Figure {
                place: place.clone(),
                what,
                found,
                accepted,
            });
        }
    }

    fn outputs(&mut self) {
        for output in &self.spec.outputs {
            let place = &output.about;
            self.point(place, output.plus);
            self.point(place, output.minus);
            self.above_zero(place, "the lowest voltage", output.volts_low.value);
            self.above_zero(place, "the highest voltage", output.volts_high.value);
            if output.volts_high.value < output.volts_low.value {
                self.errors.push(ProtectionError::Figure {
                    place: place.clone(),
                    what: "the highest voltage",
                    found: output.volts_high.value,
                    accepted: "it may not lie below the lowest",
                });
            }
            self.above_zero(place, "the rated current", output.rated.value);
            if let Some(limit) = output.limit {
                self.above_zero(place, "the limit", limit.value);
            }
            if let Some(power) = output.nameplate {
                self.above_zero(place, "the nameplate power", power.value);
            }
            self.not_negative(place, "the output resistance", output.resistance.value);
        }
    }

    fn devices(&mut self) {
        for device in &self.spec.devices {
            let place = &Subject::from(&*device.name);
            self.above_zero(place, "the rated current", device.rated.value);
            if let Some(volts) = device.dc_volts {
                self.above_zero(place, "the dc voltage rating", volts.value);
            }
            if let Some(breaking) = device.breaking {
                self.above_zero(place, "the breaking capacity", breaking.value);
            }
            let Some(curve) = &device.curve else { continue };
            let sound = |point: &(crate::quantity::ElectricCurrent, crate::quantity::Time)| {
                point.0.value > 0.0
                    && point.0.value.is_finite()
                    && point.1.value > 0.0
                    && point.1.value.is_finite()
            };
            let broken = if curve.points.is_empty() {
                Some(0)
            } else {
                (0..curve.points.len()).find(|&k| {
                    let here = curve.points.get(k);
                    let before = k.checked_sub(1).and_then(|b| curve.points.get(b));
                    match (before, here) {
                        (None, Some(here)) => !sound(here),
                        (Some(before), Some(here)) => {
                            !sound(here)
                                || !(here.0.value > before.0.value)
                                || !(here.1.value <= before.1.value)
                        }
                        _ => false,
                    }
                })
            };
            if let Some(point) = broken {
                self.errors.push(ProtectionError::Curve {
                    place: place.clone(),
                    point,
                });
            }
        }
    }

    fn conductors(&mut self) {
        for conductor in &self.spec.conductors {
            let place = &conductor.about;
            self.point(place, conductor.from);
            self.point(place, conductor.to);
            self.device(place, conductor.device);
            for output in &conductor.fed_by {
                self.output(place, *output);
            }
            self.not_negative(place, "the load current", conductor.load.value);
            for (_, load) in &conductor.load_with_feed_lost {
                self.not_negative(place, "the load current with a feed lost", load.value);
            }
            if let super::spec::MayCarry::Current {
                current,
                largest_device,
                ..
            } = &conductor.may_carry
            {
                self.above_zero(place, "the ampacity", current.value);
                if let Some((rating, _)) = largest_device {
                    self.above_zero(place, "the greatest device", rating.value);
                }
            }
            if let Some(fault) = conductor.fault_loop {
                self.not_negative(place, "the near loop resistance", fault.near_cold.value);
                self.not_negative(place, "the far loop resistance", fault.far_hot.value);
            }
            if let Some(heat) = &conductor.heat {
                self.above_zero(place, "k", heat.k);
                self.above_zero(place, "the area", heat.area.value);
            }
            if let Some(chopped) = conductor.chopped {
                self.above_zero(place, "the chopping frequency", chopped.value);
            }
        }
    }

    fn joins(&mut self) {
        for join in &self.spec.joins {
            self.point(&join.about, join.from);
            self.point(&join.about, join.to);
        }
        for profile in &self.spec.profiles {
            self.device(&profile.about, profile.device);
            self.output(&profile.about, profile.output);
            if let Some(way) = profile.fault_way {
                self.not_negative(&profile.about, "the fault path", way.value);
            }
        }
    }
}
