//! What the rules say about the figures of the joint solve.

use super::Worked;
use super::facts;
use super::joined;
use super::kinds;
use super::power_rows::SOLVE;
use crate::choose::feeding::Proof;
use crate::finding::plain::Finding;
use crate::job::spec::{CableItem, Control};
use crate::layout::spec::Sight;
use crate::quantity::{Power, amps, fraction, show, watts};
use crate::segment::step;
use crate::source::Source;

impl Worked<'_> {
    pub(super) fn judge(&self, findings: &mut Vec<Finding>) {
        for run in &self.runs {
            findings.extend(run.findings.iter().cloned());
            if let Some(plan) = &run.plan
                && let Proof::Gap { reason, .. } = &plan.proof
                && run.holds
                && !run.with_the_whole
            {
                findings.push(
                    Finding::not_evaluated(
                        "feed-proof",
                        format!("run {}", run.spec.name),
                        reason.clone(),
                    )
                    .says("whether a cheaper arrangement exists; the problem stands under Choices")
                    .figure(format!("cost {}", plan.cost))
                    .limit(format!("bound {}", plan.lower_bound))
                    .source(Source::computed("break and feed search"))
                    .remedy("list fewer feed points"),
                );
            }
        }
        findings.extend(self.joint.findings.iter().cloned());
        findings.extend(joined::unsolved(&self.joint));
        self.light(findings);
        self.steps(findings);
        self.loads(findings);
        self.decoders(findings);
        self.cables(findings);
        self.places(findings);
        self.strips(findings);
        self.silences(findings);
    }

    fn light(&self, findings: &mut Vec<Finding>) {
        let limits = self.job.limits();
        for (number, segment) in self.joint.segments.iter().enumerate() {
            let Some(f) = self.figures(number) else {
                continue;
            };
            let place = format!("segment {}", segment.id);
            let strip = &self.job.strips()[segment.tape];
            findings.push(
                Finding::judged_at_least("segment-light", &*place, f.low.least_current.value, limits.least_current.value)
                    .says("least current of a cell against its nominal, low corner, with everything that shares its copper")
                    .figure(show(f.low.least_current))
                    .limit(show(limits.least_current))
                    .source(SOLVE)
                    .remedy("feed at more points, offer a thicker wire, raise the set point within the trim range"),
            );
            if let Some(limit) = limits.balance {
                findings.push(
                    Finding::judged_at_most(
                        "segment-balance",
                        &*place,
                        f.low.imbalance.value,
                        limit.value,
                    )
                    .says("departure from even balance between emitters lit together, low corner")
                    .figure(show(f.low.imbalance))
                    .limit(show(limit))
                    .source(SOLVE)
                    .remedy("shorten the branches, or feed from both ends"),
                );
            }
            if let Some(limit) = strip.pad_current {
                let most = f
                    .high
                    .feeders
                    .iter()
                    .flat_map(|x| &x.currents)
                    .map(|c| c.1.value)
                    .fold(0.0, f64::max);
                findings.push(
                    Finding::judged_at_most("segment-pads", &*place, most, limit.value)
                        .says("greatest current through one connection to the tape, high corner")
                        .figure(show(amps(most)))
                        .limit(show(limit))
                        .source(Source::stated("the job: pad_current of the strip"))
                        .remedy("share the current over more feeds"),
                );
            }
        }
    }

    /// Steps of light where two segments meet in sight, and across path joints inside.
    fn steps(&self, findings: &mut Vec<Finding>) {
        let Some(limit) = self.job.limits().visible_step else {
            return;
        };
        let mut say = |place: String, step: f64| {
            findings.push(
                Finding::judged_at_most("segment-step", place, step, limit.value)
                    .says("step of light at a joint that is seen, low corner")
                    .figure(show(fraction(step)))
                    .limit(show(limit))
                    .source(SOLVE)
                    .remedy("feed both sides alike, or move the break"),
            );
        };
        for (number, segment) in self.joint.segments.iter().enumerate() {
            let run = &self.runs[segment.run];
            let seen = |mark: u64| run.joints.iter().any(|j| j.at == mark && j.visible);
            if let Some(f) = self.figures(number) {
                let steps = f.low.joint_steps.iter();
                let worst = steps
                    .filter(|s| seen(s.mark))
                    .map(|s| s.step.value)
                    .fold(0.0, f64::max);
                if worst > limit.value {
                    say(format!("segment {}", segment.id), worst);
                }
            }
            let next = number + 1;
            if self
                .joint
                .segments
                .get(next)
                .is_some_and(|s| s.run == segment.run)
                && (run.spec.layout.sight == Sight::Seen || seen(segment.plan.to))
                && let (Some(a), Some(b)) = (self.figures(number), self.figures(next))
            {
                let step = a.low.ends[1]
                    .iter()
                    .zip(&b.low.ends[0])
                    .filter_map(|(a, b)| Some(step((*a)?, (*b)?).value))
                    .fold(0.0, f64::max);
                say(
                    format!(
                        "between segments {} and {}",
                        segment.id, self.joint.segments[next].id
                    ),
                    step,
                );
            }
        }
    }

    fn loads(&self, findings: &mut Vec<Finding>) {
        for (number, unit) in self.joint.units.iter().enumerate() {
            let place = format!("supply {}", unit.id);
            let load = self.load_of(number);
            let permitted = self.permitted(number);
            let word = |w: f64| show(watts(w) as Power);
            findings.push(
                Finding::judged_at_most("supply-load", &*place, load.nominal, permitted)
                    .says("nominal load against the load factor times the derated power")
                    .figure(word(load.nominal))
                    .limit(word(permitted))
                    .source(Source::common_practice(
                        "supplies planned to a share of their rated power, as the job states",
                    ))
                    .remedy("move a segment to another supply, or take a stronger kind"),
            );
            if kinds::derating(unit.spec, self.job.places()[unit.place].ambient).is_none() {
                findings.push(
                    Finding::not_evaluated(
                        "supply-derating",
                        &*place,
                        "the supply states no derating for the ambient of its place; full power was taken",
                    )
                    .says("power of the supply at its ambient")
                    .source(Source::stated("the job"))
                    .remedy("state its derating points"),
                );
            }
            for joined in self.joint.joined.iter().filter(|j| j.unit == number) {
                if let Ok(f) = &joined.figures {
                    findings.push(
                        Finding::judged_at_most(
                            "supply-output",
                            format!("{place}, output {}", joined.output + 1),
                            f.high.current.value,
                            unit.spec.output_current.value,
                        )
                        .says("greatest current of one output, high corner")
                        .figure(show(f.high.current))
                        .limit(show(unit.spec.output_current))
                        .source(Source::stated("the job: output_current of the supply"))
                        .remedy("move a segment to another output"),
                    );
                }
            }
        }
    }

    fn decoders(&self, findings: &mut Vec<Finding>) {
        for (b, body) in self.joint.bodies.iter().enumerate() {
            let (Some(spec), Some(f)) = (body.spec, self.branch(b)) else {
                continue;
            };
            let place = format!("decoder {}", body.id);
            let outputs = f.high.outputs.iter().map(|a| a.value);
            let most = outputs.fold(0.0, f64::max);
            let mut say = |id, what: &str, figure: f64, limit: f64| {
                findings.push(
                    Finding::judged_at_most(id, &*place, figure, limit)
                        .says(what.to_string())
                        .figure(show(amps(figure)))
                        .limit(show(amps(limit)))
                        .source(Source::stated("the job: label of the decoder"))
                        .remedy("spread the segments over more outputs"),
                );
            };
            say(
                "decoder-output",
                "greatest current of one output, high corner",
                most,
                spec.output_current.value,
            );
            let body_limit = spec.total_current.value.min(spec.terminal_current.value);
            say(
                "decoder-total",
                "current of the whole decoder, high corner",
                f.high.current.value,
                body_limit,
            );
            let least = spec.volts.0.value;
            findings.push(
                Finding::judged_at_least("decoder-volts", &*place, f.low.least_volts.value, least)
                    .says("least voltage at its supply terminals, low corner")
                    .figure(show(f.low.least_volts))
                    .limit(show(spec.volts.0))
                    .source(Source::stated("the job: label of the decoder"))
                    .remedy("shorten or thicken its lead"),
            );
            let zone = &self.job.zones()[body.zone];
            if let (Control::Dmx { .. }, Some(habit)) =
                (zone.control, self.job.limits().chopped_feeder)
            {
                for s in body.segments() {
                    let segment = &self.joint.segments[s];
                    for feed in segment.plan.feeds.iter().filter(|f| f.route_length > habit) {
                        findings.push(
                            Finding::not_evaluated(
                                "feeder-chopped",
                                format!("segment {}", segment.id),
                                "the rise of the current along a long chopped feeder is not computed; a rule of thumb is exceeded",
                            )
                            .says("length of a feeder that carries chopped current")
                            .figure(feed.route_length.to_string())
                            .limit(habit.to_string())
                            .source(Source::common_practice("chopped feeders kept to 25 ft, or as the job states"))
                            .remedy("bring the decoder nearer, or try the length with the decoder at low level"),
                        );
                    }
                }
            }
        }
    }

    fn cables(&self, findings: &mut Vec<Finding>) {
        let mut used: Vec<&CableItem> = self.joint.leads.iter().filter_map(|l| l.cable).collect();
        for segment in &self.joint.segments {
            for feed in &segment.plan.feeds {
                used.extend(self.job.cable(&feed.cable));
            }
        }
        used.sort_by(|a, b| a.name.cmp(&b.name));
        used.dedup_by(|a, b| a.name == b.name);
        facts::insulation(self.job, &used, findings);
        let hottest = self.job.limits().conductor.low;
        for item in used {
            if let Ok(facts) = facts::wire(item, self.job.limits(), hottest) {
                for what in facts.assumed {
                    findings.push(
                        Finding::not_evaluated(
                            "cable-resistance",
                            format!("cable {}", item.name),
                            what,
                        )
                        .says("resistance of its conductors")
                        .source(facts.resistance_source.clone())
                        .remedy("state a conductor that the tables list"),
                    );
                }
            }
        }
    }

    fn places(&self, findings: &mut Vec<Finding>) {
        for (p, place) in self.job.places().iter().enumerate() {
            let supplies = self.joint.units.iter().filter(|u| u.place == p).count();
            let decoders = self
                .joint
                .bodies
                .iter()
                .filter(|b| b.place == p && b.spec.is_some())
                .count();
            for (what, count, most) in [
                ("supplies", supplies, place.most_supplies),
                ("decoders", decoders, place.most_decoders),
            ] {
                let standby = &self.joint.standby[usize::from(what == "supplies")];
                let count = count + standby.iter().filter(|s| s.0 == p).count();
                if let Some(most) = most {
                    findings.push(
                        Finding::judged_at_most(
                            "place-room",
                            format!("place {}", place.name),
                            count as f64,
                            f64::from(most),
                        )
                        .says(format!("{what} put there"))
                        .figure(count.to_string())
                        .limit(most.to_string())
                        .source(Source::stated("the job"))
                        .remedy("offer another place, or larger units"),
                    );
                }
            }
        }
    }

    /// Stated power against what the cells draw.
    fn strips(&self, findings: &mut Vec<Finding>) {
        for (number, strip) in self.job.strips().iter().enumerate() {
            if !self.runs.iter().any(|r| r.tape == number) {
                continue;
            }
            let (Some(stated), Some(model)) = (strip.power, self.models.get(number)) else {
                continue;
            };
            let found = model.power_per_length().nominal;
            let off = (found.value / stated.value - 1.0).abs();
            findings.push(
                Finding::judged_at_most(
                    "strip-power",
                    format!("strip {}", strip.name),
                    off,
                    self.job.limits().current_tolerance.value,
                )
                .says("power of its cells at rated voltage, warm, against the power stated")
                .figure(format!("{} for {}", show(found), show(stated)))
                .limit(show(self.job.limits().current_tolerance))
                .source(Source::stated(
                    "the job: cells, power and current tolerance",
                ))
                .remedy("check cells, cut pitch and what the power was measured on"),
            );
        }
    }
}
