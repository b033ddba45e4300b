//! From a run problem to a checked one: every fault of it at once.

use super::error::{FeedError, FeedErrors};
use super::model::{BAND, CheckedRun, CornerModel, FeedOption, SourceNumbers};
use super::spec::{
    FixedFeed, JointCut, LitStates, PlaceRoutes, Positions, RunProblem, SourceModel,
};
use crate::load::{Law, Trend};
use crate::network::MOST_EMITTERS;
use crate::quantity::Corners;
use crate::quantity::{ElectricCurrent, Ratio, amps};
use std::collections::BTreeSet;

/// Most increments of one run.
pub const MOST_INCREMENTS: u64 = 4_000;
/// Most places, and most wires, of one run.
pub const MOST_CANDIDATES: usize = 32;
/// Most listed marks inside the run of which every pair and triple is tried.
pub(super) const MOST_LISTED: usize = 24;
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
        if !check.faults.is_empty() {
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

struct Check<'a> {
    p: &'a RunProblem,
    faults: Vec<FeedError>,
}

impl Check<'_> {
    fn value(&mut self, what: impl Into<String>, found: impl ToString, accepted: &'static str) {
        self.faults.push(FeedError::Value {
            run: self.p.run.clone(),
            what: what.into(),
            found: found.to_string(),
            accepted,
        });
    }

    fn contradiction(&mut self, why: String) {
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
                format!("{set_point:?}"),
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

    fn mark(&mut self, what: &'static str, at: u64, first: u64, last: u64) {
        if !(at >= first && at <= last) {
            self.faults.push(FeedError::Mark {
                run: self.p.run.clone(),
                what,
                at,
                first,
                last,
            });
        }
    }

    fn marks(&mut self) {
        let p = self.p;
        let n = p.increments;
        let mut seen = BTreeSet::new();
        for joint in &p.joints {
            self.mark("a joint", joint.at, 1, n.saturating_sub(1));
            if !seen.insert(joint.at) {
                self.twice("a joint at mark", &joint.at.to_string());
            }
        }
        for (what, positions) in [("a break", &p.breaks), ("a feed point", &p.feed_points)] {
            if let Positions::At(marks) = positions {
                for at in marks {
                    self.mark(what, *at, 0, n);
                }
            }
        }
        for place in &p.places {
            let mut seen = BTreeSet::new();
            for (at, route) in &place.to_marks {
                self.mark("a route", *at, 0, n);
                if !seen.insert(*at) {
                    self.twice("a route to mark", &at.to_string());
                }
                self.route(&place.place, *route);
            }
            for route in [place.to_start, place.to_end, Some(place.slack)]
                .into_iter()
                .flatten()
            {
                self.route(&place.place, route);
            }
            if place.to_start.is_none() && place.to_end.is_none() && place.to_marks.is_empty() {
                self.value(
                    format!("the routes of `{}`", place.place),
                    "empty",
                    "a route to the start, to the end or to a mark",
                );
            }
        }
        for s in &p.fixed.segments {
            self.mark("a fixed segment", s.from, 0, n);
            self.mark("a fixed segment", s.to, s.from.saturating_add(1), n);
        }
        let mut seen = BTreeSet::new();
        for f in &p.fixed.feeds {
            self.mark("a fixed feed", f.at, 0, n);
            if !seen.insert(f.at) {
                self.twice("a fixed feed at mark", &f.at.to_string());
            }
        }
    }

    fn route(&mut self, place: &str, route: crate::exact::ExactLength) {
        if !(0..=10_000_000_000_000).contains(&route.nanometres()) {
            self.value(
                format!("a route or slack of `{place}`"),
                route,
                "0 to 10 km",
            );
        }
    }

    fn twice(&mut self, what: &'static str, name: &str) {
        self.faults.push(FeedError::Twice {
            run: self.p.run.clone(),
            what,
            name: name.to_owned(),
        });
    }

    fn names(&mut self) {
        let p = self.p;
        let mut seen = BTreeSet::new();
        for place in &p.places {
            if !seen.insert(place.place.as_str()) {
                self.twice("the place", &place.place);
            }
        }
        let places = seen;
        let mut seen = BTreeSet::new();
        for wire in &p.wires {
            if !seen.insert(wire.cable.as_str()) {
                self.twice("the wire", &wire.cable);
            }
        }
        for feed in &p.fixed.feeds {
            for (what, name, among) in [
                ("the place of a fixed feed", &feed.place, &places),
                ("the wire of a fixed feed", &feed.cable, &seen),
            ] {
                if let Some(name) = name
                    && !among.contains(name.as_str())
                {
                    self.faults.push(FeedError::Unknown {
                        run: p.run.clone(),
                        what,
                        name: name.clone(),
                    });
                }
            }
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

    fn build(&mut self) -> Option<CheckedRun> {
        let p = self.p;
        let n = p.increments as usize;
        let emitters = p.tape.emitters.len();
        let corner = |pick: fn(&Corners<f64>) -> f64, law: fn(&Corners<Law>) -> &Law| CornerModel {
            common: pick(&plain(&p.tape.common, |r| r.value)),
            rails: p
                .tape
                .emitters
                .iter()
                .map(|e| pick(&plain(&e.rail, |r| r.value)))
                .collect(),
            laws: p
                .tape
                .emitters
                .iter()
                .map(|e| law(&e.law).clone())
                .collect(),
        };
        let corners = [
            corner(|c| c.low, |c| &c.low),
            corner(|c| c.nominal, |c| &c.nominal),
            corner(|c| c.high, |c| &c.high),
        ];
        let nominal: Vec<f64> = p
            .tape
            .emitters
            .iter()
            .map(|e| e.law.nominal.current(p.tape.rated).value)
            .collect();
        for (e, amps) in p.tape.emitters.iter().zip(&nominal) {
            if !(*amps > 0.0 && amps.is_finite()) {
                self.value(
                    format!("the nominal current of `{}` at rated voltage (A)", e.name),
                    amps,
                    "above 0 A",
                );
            }
        }
        let mut states: Vec<Vec<usize>> = match &p.states {
            LitStates::AllAndEachAlone => std::iter::once((0..emitters).collect())
                .chain((0..emitters).map(|e| vec![e]))
                .collect(),
            LitStates::Listed(states) => states
                .iter()
                .map(|s| (0..emitters).filter(|e| s[*e]).collect())
                .collect(),
        };
        states.sort_by(|a, b| b.len().cmp(&a.len()).then(a.cmp(b)));
        states.dedup();
        let (can_break, forced) = self.breaks(n);
        let mut next_forced = vec![n; n + 1];
        for mark in (0..n).rev() {
            next_forced[mark] = if forced[mark + 1] {
                mark + 1
            } else {
                next_forced[mark + 1]
            };
        }
        let mut joint_common = vec![0.0; n + 1];
        let mut joint_returns = vec![0.0; n + 1];
        let mut joint_price = vec![0_i64; n + 1];
        let mut visible = vec![false; n + 1];
        for j in &p.joints {
            let at = j.at as usize;
            (joint_common[at], joint_returns[at]) = (j.common.value, j.returns.value);
            (joint_price[at], visible[at]) = (j.price, j.visible);
        }
        let mut joint_price_before = vec![0_i64; n + 2];
        for at in 0..=n {
            joint_price_before[at + 1] = joint_price_before[at].saturating_add(joint_price[at]);
        }
        // A feed at a joint inside a segment replaces nothing: the joint stays, half on each side.
        let break_cost: Vec<i64> = (0..=n)
            .map(|m| {
                if m == 0 || m == n || forced[m] {
                    0
                } else {
                    p.costs.per_break
                }
            })
            .collect();

        let mut places: Vec<&PlaceRoutes> = p.places.iter().collect();
        places.sort_by(|a, b| a.place.cmp(&b.place));
        let mut wires: Vec<_> = p.wires.iter().collect();
        wires.sort_by(|a, b| a.cable.cmp(&b.cable));
        let numbers = |s: &SourceModel| {
            let set_point = [
                s.set_point.low.value,
                s.set_point.nominal.value,
                s.set_point.high.value,
            ];
            SourceNumbers {
                volts: set_point.map(|v| v - s.reserve.value),
                set_point,
                output: s.output_resistance.value,
                lead: s.lead_resistance.value,
                switch: s.switch_resistance.value,
            }
        };
        let sources: Vec<_> = places
            .iter()
            .map(|place| numbers(place.source.as_ref().unwrap_or(&p.source)))
            .collect();
        let (options, end_options) = self.options(n, &places, &wires);
        let most_option = options
            .iter()
            .chain(&end_options)
            .flatten()
            .map(|o| i128::from(o.cost))
            .max()
            .unwrap_or(0);
        let each =
            i128::from(p.costs.per_segment) + i128::from(p.costs.per_break) + 3 * most_option;
        let most = each * n as i128 + i128::from(joint_price_before[n + 1]);
        if most > i128::from(i64::MAX / 8) {
            self.faults.push(FeedError::PriceOverflow {
                run: p.run.clone(),
                what: "the dearest arrangement".into(),
                limit: i64::MAX / 8,
            });
        }
        let fixed_segments: Vec<_> = {
            let mut all: Vec<_> = p
                .fixed
                .segments
                .iter()
                .map(|s| (s.from as usize, s.to as usize, s.pattern))
                .collect();
            all.sort();
            all
        };
        for pair in fixed_segments.windows(2) {
            if pair[1].0 < pair[0].1 {
                self.contradiction(format!(
                    "segments {} to {} and {} to {} overlap",
                    pair[0].0, pair[0].1, pair[1].0, pair[1].1
                ));
            }
        }
        let mut fixed_feeds: Vec<usize> = p.fixed.feeds.iter().map(|f| f.at as usize).collect();
        fixed_feeds.sort_unstable();
        let listed_inside = match &p.feed_points {
            Positions::At(marks) => {
                let marks: BTreeSet<usize> = marks
                    .iter()
                    .map(|m| *m as usize)
                    .chain(fixed_feeds.iter().copied())
                    .filter(|m| *m > 0 && *m < n)
                    .collect();
                (marks.len() <= MOST_LISTED).then(|| marks.into_iter().collect())
            }
            Positions::Ends => Some(
                fixed_feeds
                    .iter()
                    .copied()
                    .filter(|m| *m > 0 && *m < n)
                    .collect(),
            ),
            Positions::Any => None,
        };
        let mut patterns = p.patterns.clone();
        patterns.extend(fixed_segments.iter().filter_map(|s| s.2));
        patterns.sort_unstable();
        patterns.dedup();
        let stated = p.limits.core_current.map_or(f64::INFINITY, |c| c.value);
        let branch = p
            .limits
            .branch
            .unwrap_or(u64::MAX)
            .min(p.tape.branch.unwrap_or(u64::MAX));
        let mut model = CheckedRun {
            spec: p.clone(),
            n,
            corners,
            nominal,
            least_volts: Vec::new(),
            least_amps: Vec::new(),
            most_cells: usize::MAX,
            states,
            uniform: joint_common.iter().chain(&joint_returns).all(|r| *r == 0.0),
            resistive: (0..=n)
                .filter(|k| joint_common[*k] > 0.0 || joint_returns[*k] > 0.0)
                .collect(),
            seen_inside: (0..=n)
                .map(|k| visible[k] && (joint_common[k] > 0.0 || joint_returns[k] > 0.0))
                .collect(),
            joint_common,
            joint_returns,
            joint_price_before,
            visible,
            can_break,
            next_forced,
            break_cost,
            options,
            end_options,
            fixed_feeds,
            fixed_segments,
            sources,
            place_names: places.iter().map(|p| p.place.clone()).collect(),
            wire_names: wires.iter().map(|w| w.cable.clone()).collect(),
            core_limit: wires
                .iter()
                .map(|w| w.ampacity.map_or(stated, |a| a.value.min(stated)))
                .collect(),
            branch: usize::try_from(branch).unwrap_or(usize::MAX),
            limits: p.limits.clone(),
            patterns,
            listed_inside,
        };
        model.set_light(p.limits.least_current.value);
        Some(model)
    }

    /// Where the run may be, and must be, broken.
    fn breaks(&mut self, n: usize) -> (Vec<bool>, Vec<bool>) {
        let p = self.p;
        let mut can = vec![matches!(p.breaks, Positions::Any); n + 1];
        if let Positions::At(marks) = &p.breaks {
            for m in marks {
                can[*m as usize] = true;
            }
        }
        let mut forced = vec![false; n + 1];
        for joint in &p.joints {
            match joint.cut {
                JointCut::AsListed => {}
                JointCut::Forced => forced[joint.at as usize] = true,
                JointCut::Forbidden => can[joint.at as usize] = false,
            }
        }
        for s in &p.fixed.segments {
            let (from, to) = (s.from as usize, s.to as usize);
            for inside in from + 1..to {
                can[inside] = false;
                if forced[inside] {
                    self.contradiction(format!(
                        "segment {from} to {to} is fixed, and a break at mark {inside} is forced"
                    ));
                }
            }
            forced[from] = true;
            forced[to] = true;
        }
        for m in 0..=n {
            can[m] |= forced[m] || m == 0 || m == n;
        }
        (can, forced)
    }

    /// Feeders by mark.
    fn options(
        &mut self,
        n: usize,
        places: &[&PlaceRoutes],
        wires: &[&super::spec::CandidateWire],
    ) -> (Vec<Vec<FeedOption>>, Vec<Vec<FeedOption>>) {
        let p = self.p;
        let mut permitted = vec![matches!(p.feed_points, Positions::Any); n + 1];
        match &p.feed_points {
            Positions::Any => {}
            Positions::Ends => (permitted[0], permitted[n]) = (true, true),
            Positions::At(marks) => {
                for m in marks {
                    permitted[*m as usize] = true;
                }
            }
        }
        let mut overflow = false;
        let mut build = |mark: usize, fixed: Option<&FixedFeed>| {
            let mut list = Vec::new();
            for (place, routes) in places.iter().enumerate() {
                let Some(route) = route_to(p, routes, mark as u64) else {
                    continue;
                };
                let long = p
                    .limits
                    .feeder_length
                    .is_some_and(|most| route > most.nanometres());
                for (wire, candidate) in wires.iter().enumerate() {
                    let named =
                        |name: &Option<String>, own: &str| name.as_ref().is_none_or(|n| n == own);
                    if fixed.is_some_and(|f| {
                        !named(&f.place, &routes.place) || !named(&f.cable, &candidate.cable)
                    }) {
                        continue;
                    }
                    if long && fixed.is_none() {
                        continue;
                    }
                    let copper = (i128::from(candidate.price_per_metre) * i128::from(route)
                        + 999_999_999)
                        / 1_000_000_000;
                    let cost = i64::try_from(copper)
                        .ok()
                        .and_then(|c| c.checked_add(p.costs.per_feed));
                    overflow |= cost.is_none();
                    let metres = route as f64 * 1e-9;
                    let core = &candidate.core;
                    list.push(FeedOption {
                        place,
                        wire,
                        core: [
                            core.low.value * metres,
                            core.nominal.value * metres,
                            core.high.value * metres,
                        ],
                        cost: if fixed.is_some() {
                            0
                        } else {
                            cost.unwrap_or(0)
                        },
                        route,
                    });
                }
            }
            list
        };
        let mut options = Vec::with_capacity(n + 1);
        let mut ends = Vec::with_capacity(n + 1);
        for (mark, permitted) in permitted.into_iter().enumerate() {
            let plain = if permitted {
                build(mark, None)
            } else {
                Vec::new()
            };
            match p.fixed.feeds.iter().find(|f| f.at == mark as u64) {
                Some(feed) => {
                    let own = build(mark, Some(feed));
                    ends.push(if mark == n { own.clone() } else { plain });
                    options.push(own);
                }
                None => {
                    ends.push(plain.clone());
                    options.push(plain);
                }
            }
        }
        if overflow {
            self.faults.push(FeedError::PriceOverflow {
                run: p.run.clone(),
                what: "one feeder".into(),
                limit: i64::MAX / 8,
            });
        }
        (options, ends)
    }
}

/// Shortest route to a mark over the named points of a place, slack included, nanometres.
fn route_to(p: &RunProblem, place: &PlaceRoutes, mark: u64) -> Option<i64> {
    let along = |from: u64| p.tape.pitch.length_of(from.abs_diff(mark)).nanometres();
    let ends = [(0, place.to_start), (p.increments, place.to_end)];
    ends.into_iter()
        .filter_map(|(at, route)| route.map(|r| (at, r)))
        .chain(place.to_marks.iter().copied())
        .map(|(at, route)| route.nanometres().saturating_add(along(at)))
        .min()
        .map(|route| route.saturating_add(place.slack.nanometres()))
}

/// The values of three corners.
pub(super) fn plain<Q>(corners: &Corners<Q>, value: impl Fn(&Q) -> f64) -> Corners<f64> {
    Corners {
        low: value(&corners.low),
        nominal: value(&corners.nominal),
        high: value(&corners.high),
    }
}

impl CheckedRun {
    /// Sets the light limit, and the cell voltages at the low corner that keep it.
    pub(super) fn set_light(&mut self, least: f64) {
        self.limits.least_current = crate::quantity::fraction(least);
        let of = |e: &f64| e * least * (1.0 - BAND);
        self.least_amps = self.nominal.iter().map(of).collect();
        self.least_volts = self
            .least_amps
            .iter()
            .zip(&self.corners[0].laws)
            .map(|(i, law)| law.voltage_for(amps(*i)).map_or(f64::INFINITY, |v| v.value))
            .collect();
        let cap = |limit: Option<ElectricCurrent>| limit.map_or(f64::INFINITY, |a| a.value);
        let limits = (
            cap(self.limits.segment_current),
            cap(self.limits.output_current),
        );
        let mut most = f64::INFINITY;
        for state in &self.states {
            let sum: f64 = state.iter().map(|e| self.least_amps[*e]).sum();
            most = most.min(limits.0 / sum);
            for e in state {
                most = most.min(limits.1 / self.least_amps[*e]);
            }
        }
        // Rounding must not lose a segment that just holds.
        let whole = (most * (1.0 + 1e-6)).floor();
        self.most_cells = if whole < 1e9 {
            (whole as usize).max(1)
        } else {
            usize::MAX
        };
    }
}
