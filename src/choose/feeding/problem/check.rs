//! From a run problem to a checked one: every fault of it at once.

use super::checked::CheckedRun;
use super::error::{FeedError, FeedErrors};
use super::spec::{LitStates, Positions, RunProblem, SourceModel};
use crate::load::Trend;
use crate::network::MOST_EMITTERS;
use crate::quantity::Corners;
use crate::quantity::{ElectricCurrent, Ratio};

/// Most increments of one run.
pub const MOST_INCREMENTS: u64 = 4_000;
/// Most places, and most wires, of one run.
pub const MOST_CANDIDATES: usize = 32;
/// Most listed marks inside the run of which every pair and triple is tried.
pub(crate) const MOST_LISTED: usize = 24;
/// Highest single price, minor units.
pub const MOST_PRICE: i64 = 1_000_000_000_000;

impl RunProblem {
    /// Checks the problem.
    ///
    /// # Errors
    /// [`FeedErrors`]: every fault found, each with its value, what is accepted and what to do.
    pub fn check(self) -> Result<CheckedRun, FeedErrors> {
        let mut check = Check {
            p: &self,
            faults: Vec::new(),
        };
        check.sizes();
        // What is too long is not walked; what is empty hides nothing.
        let too_long = |fault: &FeedError| match fault {
            FeedError::Count { count, limit, .. } => count > limit,
            other => matches!(other, FeedError::TooLong { .. }),
        };
        if check.faults.iter().any(too_long) {
            return Err(FeedErrors(check.faults));
        }
        check.numbers();
        check.marks();
        check.names();
        check.prices();
        if !check.faults.is_empty() {
            return Err(FeedErrors(check.faults));
        }
        let built = check.build();
        let faults = check.faults;
        match built {
            Some(model) if faults.is_empty() => Ok(CheckedRun {
                spec: self,
                ..model
            }),
            _ => Err(FeedErrors(faults)),
        }
    }
}

pub(crate) struct Check<'a> {
    pub p: &'a RunProblem,
    pub faults: Vec<FeedError>,
}

impl Check<'_> {
    pub fn value(&mut self, what: impl Into<String>, found: impl ToString, accepted: &'static str) {
        self.faults.push(FeedError::Value {
            run: self.p.run.clone(),
            what: what.into(),
            found: found.to_string(),
            accepted,
        });
    }

    pub fn contradiction(&mut self, why: String) {
        self.faults.push(FeedError::Contradiction {
            run: self.p.run.clone(),
            why,
        });
    }

    fn sizes(&mut self) {
        let p = self.p;
        let run = || p.run.clone();
        if p.increments == 0 {
            self.faults.push(FeedError::TooShort { run: run() });
        }
        if p.increments > MOST_INCREMENTS {
            self.faults.push(FeedError::TooLong {
                run: run(),
                increments: p.increments,
                limit: MOST_INCREMENTS,
            });
        }
        let many = MOST_INCREMENTS as usize;
        let list = |positions: &Positions| match positions {
            Positions::At(marks) => marks.len(),
            _ => 1,
        };
        let states = match &p.states {
            LitStates::AllAndEachAlone => 1,
            LitStates::Listed(states) => states.len(),
        };
        for (what, count, least, limit) in [
            ("places to feed from", p.places.len(), 1, MOST_CANDIDATES),
            ("wires to feed through", p.wires.len(), 1, MOST_CANDIDATES),
            ("emitters", p.tape.emitters.len(), 1, MOST_EMITTERS),
            ("patterns", p.patterns.len(), 1, 64),
            ("lit states", states, 1, 64),
            ("joints", p.joints.len(), 0, many),
            ("permitted breaks", list(&p.breaks), 0, many + 1),
            ("permitted feed points", list(&p.feed_points), 0, many + 1),
            ("fixed segments", p.fixed.segments.len(), 0, many),
            ("fixed feeds", p.fixed.feeds.len(), 0, many + 1),
        ] {
            if count < least || count > limit {
                self.faults.push(FeedError::Count {
                    run: run(),
                    what,
                    count,
                    limit,
                });
            }
        }
    }

    fn corners(
        &mut self,
        what: &str,
        all: Corners<f64>,
        low: f64,
        high: f64,
        accepted: &'static str,
    ) {
        for (corner, v) in [
            ("low", all.low),
            ("nominal", all.nominal),
            ("high", all.high),
        ] {
            if !(v >= low && v <= high) {
                self.value(format!("{what}, {corner} corner"), v, accepted);
            }
        }
    }

    fn optional_amps(&mut self, what: &'static str, current: Option<ElectricCurrent>) {
        if let Some(current) = current
            && !(current.value > 0.0)
        {
            self.value(what, current.value, "above 0 A");
        }
    }

    fn optional_share(&mut self, what: &'static str, share: Option<Ratio>) {
        if let Some(share) = share
            && !(share.value >= 0.0 && share.value <= 1.0)
        {
            self.value(what, share.value, "0 to 1 (0 % to 100 %)");
        }
    }

    fn numbers(&mut self) {
        const OHMS: &str = "0 ohm to 1 Mohm";
        let p = self.p;
        let l = &p.limits;
        if !(p.tape.rated.value > 0.0 && p.tape.rated.value <= 1000.0) {
            self.value(
                "the rated voltage",
                p.tape.rated.value,
                "above 0 V, to 1000 V",
            );
        }
        const RAIL: &str = "1 nohm to 1 Mohm an increment";
        self.corners(
            "the common rail (ohm)",
            plain(&p.tape.common, |r| r.value),
            1e-9,
            1e6,
            RAIL,
        );
        for e in &p.tape.emitters {
            let what = format!("the return rail of `{}` (ohm)", e.name);
            self.corners(&what, plain(&e.rail, |r| r.value), 1e-9, 1e6, RAIL);
            for law in [&e.law.low, &e.law.nominal, &e.law.high] {
                if law.trend() == Trend::Falling {
                    self.value(
                        format!("the load of `{}`", e.name),
                        "a constant-power cell",
                        "cells whose current does not fall as the voltage rises: with others more copper can mean two solutions or none, and the search proves nothing",
                    );
                    break;
                }
            }
        }
        for wire in &p.wires {
            let what = format!("the core resistance of `{}` (ohm/m)", wire.cable);
            self.corners(
                &what,
                plain(&wire.core, |r| r.value),
                0.0,
                1e3,
                "0 to 1000 ohm/m",
            );
            if wire.cores <= p.tape.emitters.len() {
                self.faults.push(FeedError::Cores {
                    run: p.run.clone(),
                    cable: wire.cable.clone(),
                    cores: wire.cores,
                    needed: p.tape.emitters.len() + 1,
                });
            }
            self.optional_amps("an ampacity", wire.ampacity);
        }
        self.source("the source", &p.source);
        for place in &p.places {
            if let Some(source) = &place.source {
                self.source(&format!("the source at `{}`", place.place), source);
            }
        }
        for joint in &p.joints {
            for r in [joint.common.value, joint.returns.value] {
                if !(0.0..=1e6).contains(&r) {
                    self.value(
                        format!("a resistance of the joint at mark {}", joint.at),
                        r,
                        OHMS,
                    );
                }
            }
        }
        if let Some(reel) = &p.reel {
            if reel.increments == 0 {
                self.value(
                    "the increments on a reel",
                    reel.increments,
                    "at least 1; a reel holds whole cut increments",
                );
            }
            if !(0.0..=1e6).contains(&reel.resistance.value) {
                self.value(
                    "the resistance of a joint of reels",
                    reel.resistance.value,
                    OHMS,
                );
            }
        }
        if !(l.least_current.value >= 0.0 && l.least_current.value <= 1.5) {
            self.value(
                "the least relative current",
                l.least_current.value,
                "0 to 1.5 (0 % to 150 %)",
            );
        }
        self.optional_share("the visible step", l.visible_step);
        self.optional_share("the balance of emitters", l.balance);
        self.optional_share("the voltage drop", l.voltage_drop);
        self.optional_amps("the rail current limit", l.rail_current);
        self.optional_amps("the connector current limit", l.connector_current);
        self.optional_amps("the core current limit", l.core_current);
        self.optional_amps("the output current limit", l.output_current);
        self.optional_amps("the segment current limit", l.segment_current);
        if let LitStates::Listed(states) = &p.states {
            for state in states {
                if state.len() != p.tape.emitters.len() || !state.contains(&true) {
                    self.value(
                        "a lit state",
                        format!("{state:?}"),
                        "one entry for each emitter, at least one lit",
                    );
                }
            }
        }
        if let Some(energy) = &p.costs.energy
            && !(energy.time.value >= 0.0 && energy.time.value <= 1e10)
        {
            self.value(
                "the time at full level (s)",
                energy.time.value,
                "0 to 1e10 s",
            );
        }
    }

    fn source(&mut self, what: &str, s: &SourceModel) {
        let set_point = plain(&s.set_point, |v| v.value);
        self.corners(
            &format!("{what}: set point (V)"),
            set_point,
            1e-3,
            1000.0,
            "1 mV to 1000 V",
        );
        if !(set_point.low <= set_point.nominal && set_point.nominal <= set_point.high) {
            self.value(
                format!("{what}: set points"),
                format!(
                    "{}, {} and {}",
                    set_point.low, set_point.nominal, set_point.high
                ),
                "low at most nominal, nominal at most high",
            );
        }
        for (name, r) in [
            ("output resistance", s.output_resistance.value),
            ("lead resistance", s.lead_resistance.value),
            ("switch resistance", s.switch_resistance.value),
        ] {
            if !(0.0..=1e6).contains(&r) {
                self.value(format!("{what}: {name}"), r, "0 ohm to 1 Mohm");
            }
        }
        if !(s.reserve.value >= 0.0 && s.reserve.value < set_point.low) {
            self.value(
                format!("{what}: reserve (V)"),
                s.reserve.value,
                "at least 0 V and below the low set point",
            );
        }
    }

    fn prices(&mut self) {
        const PRICE: &str = "0 to 1,000,000,000,000 minor units";
        let p = self.p;
        let energy = p.costs.energy.as_ref().map_or(0, |e| e.per_kilowatt_hour);
        let wires = p
            .wires
            .iter()
            .map(|w| (format!("the price of `{}`", w.cable), w.price_per_metre));
        let joints = p
            .joints
            .iter()
            .map(|j| (format!("the price of the joint at mark {}", j.at), j.price));
        let plain = [
            ("the price of a segment", p.costs.per_segment),
            ("the price of a feed", p.costs.per_feed),
            ("the price of a break", p.costs.per_break),
            ("the price of a kilowatt-hour", energy),
            (
                "the price of a joint of reels",
                p.reel.map_or(0, |r| r.price),
            ),
        ];
        let plain = plain
            .into_iter()
            .map(|(what, price)| (what.to_owned(), price));
        let all: Vec<_> = plain.chain(wires).chain(joints).collect();
        for (what, price) in all {
            if !(0..=MOST_PRICE).contains(&price) {
                self.value(what, price, PRICE);
            }
        }
    }
}

/// The values of three corners.
pub(crate) fn plain<Q>(corners: &Corners<Q>, value: impl Fn(&Q) -> f64) -> Corners<f64> {
    Corners {
        low: value(&corners.low),
        nominal: value(&corners.nominal),
        high: value(&corners.high),
    }
}
