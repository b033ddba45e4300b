//! From a problem without faults to the numbers that the search works on.

use super::check::{Check, MOST_LISTED, plain};
use super::checked::{CheckedRun, CornerModel, FeedOption, SourceNumbers};
use super::error::FeedError;
use super::reels::Reels;
use super::spec::{
    FixedFeed, JointCut, LitStates, PlaceRoutes, Positions, RunProblem, SourceModel,
};
use crate::load::Law;
use crate::order::Order as _;
use crate::quantity::Corners;
use std::collections::BTreeSet;

impl Check<'_> {
    pub fn build(&mut self) -> Option<CheckedRun> {
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
        states.order_by(|a, b| b.len().cmp(&a.len()).then(a.cmp(b)));
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
        places.order_by(|a, b| a.place.cmp(&b.place));
        let mut wires: Vec<_> = p.wires.iter().collect();
        wires.order_by(|a, b| a.cable.cmp(&b.cable));
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
            most: Default::default(),
            one_loop: false,
            high_is_stronger: false,
            states,
            uniform: joint_common.iter().chain(&joint_returns).all(|r| *r == 0.0),
            reels: Reels::new(p, n),
            resistive: (0..=n)
                .filter(|k| joint_common[*k] > 0.0 || joint_returns[*k] > 0.0)
                .collect(),
            seen_inside: (0..=n)
                .map(|k| visible[k] && (joint_common[k] > 0.0 || joint_returns[k] > 0.0))
                .collect(),
            joint_common,
            joint_returns,
            joint_price_before,
            no_joints: vec![0.0; n + 1],
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
            wire_core: wires
                .iter()
                .map(|w| [w.core.low.value, w.core.nominal.value, w.core.high.value])
                .collect(),
            core_limit: wires
                .iter()
                .map(|w| w.ampacity.map_or(stated, |a| a.value.min(stated)))
                .collect(),
            branch: usize::try_from(branch).unwrap_or(usize::MAX),
            limits: p.limits.clone(),
            patterns,
            switched_off: None,
            listed_inside,
        };
        model.one_loop = model.folds_to_one_loop();
        model.high_is_stronger = model.is_stronger_at_high();
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
                        core: [core.low, core.nominal, core.high].map(|r| r.value * metres),
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
