//! What the rules say about the figures of the joint solve.

use super::Worked;
use super::facts;
use super::kinds;
use super::power_rows::SOLVE;
use super::solved::step_between;
use crate::choose::feeding::Proof;
use crate::finding::plain::Finding;
use crate::job::spec::{CableItem, Control};
use crate::layout::spec::Sight;
use crate::quantity::{Power, amps, fraction, show, watts};
use crate::rules;
use crate::source::Source;

impl Worked<'_> {
    pub(super) fn judge(&self, findings: &mut Vec<Finding>) {
        self.ingress(findings);
        for run in &self.runs {
            findings.extend(run.findings.iter().map(rules::plain));
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
        findings.extend(self.joint.findings.iter().map(rules::plain));
        findings.extend(self.unsolved());
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
                Finding::judged_at_least("segment-light", &*place, f.least_current.low, limits.least_current.value)
                    .says("least current of a cell against its nominal, low corner, with everything that shares its copper")
                    .figure(show(fraction(f.least_current.low)))
                    .limit(show(limits.least_current))
                    .source(SOLVE)
                    .remedy("feed at more points, offer a thicker wire, raise the set point within the trim range"),
            );
            if let Some(limit) = limits.balance {
                findings.push(
                    Finding::judged_at_most("segment-balance", &*place, f.balance, limit.value)
                        .says(
                            "departure from even balance between emitters lit together, low corner",
                        )
                        .figure(show(fraction(f.balance)))
                        .limit(show(limit))
                        .source(SOLVE)
                        .remedy("shorten the branches, or feed from both ends"),
                );
            }
            if let Some(limit) = strip.pad_current {
                let most = f
                    .feeds
                    .iter()
                    .flat_map(|x| &x.currents)
                    .map(|c| c.1)
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
                let worst = f
                    .inner_steps
                    .iter()
                    .filter(|s| seen(s.0))
                    .map(|s| s.1)
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
                let step = a.edges[1]
                    .iter()
                    .zip(&b.edges[0])
                    .filter_map(|(a, b)| Some(step_between((*a)?, (*b)?)))
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
                            f.current.high,
                            unit.spec.output_current.value,
                        )
                        .says("greatest current of one output, high corner")
                        .figure(show(amps(f.current.high)))
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
            let most = f.outputs.iter().copied().fold(0.0, f64::max);
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
                f.current,
                body_limit,
            );
            let least = spec.volts.0.value;
            findings.push(
                Finding::judged_at_least("decoder-volts", &*place, f.least_volts, least)
                    .says("least voltage at its supply terminals, low corner")
                    .figure(show(crate::quantity::volts(f.least_volts)))
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
        let hottest = self.job.limits().conductor.low;
        for item in &used {
            if !(hottest.value <= item.insulation.value) {
                findings.push(
                    Finding::fail("cable-insulation", format!("cable {}", item.name))
                        .says("the conductor temperature of the low corner is above what the insulation bears")
                        .figure(show(hottest))
                        .limit(show(item.insulation))
                        .source(Source::stated("the job: conductor_hot and insulation"))
                        .remedy("lower conductor_hot, or take a cable of a higher temperature rating"),
                );
            }
        }
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

    fn ingress(&self, findings: &mut Vec<Finding>) {
        for work in &self.runs {
            let strip = &self.job.strips()[work.tape];
            let place = format!("run {}", work.spec.name);
            if let Some(needed) = work.spec.ingress {
                findings.push(match strip.ingress {
                    Some(has) if has.covers(needed) => Finding::pass("strip-ingress", &*place)
                        .says("protection of the tape against dust and water")
                        .figure(has.to_string())
                        .limit(needed.to_string())
                        .source(Source::stated("the job")),
                    Some(has) => Finding::fail("strip-ingress", &*place)
                        .says("the tape is less protected than this run needs")
                        .figure(has.to_string())
                        .limit(needed.to_string())
                        .source(Source::stated("the job"))
                        .remedy("take a tape or a cover with that code"),
                    None => Finding::not_evaluated(
                        "strip-ingress",
                        &*place,
                        "the strip states no ingress code",
                    )
                    .says("protection of the tape against dust and water")
                    .limit(needed.to_string())
                    .source(Source::stated("the job"))
                    .remedy("state the code of the strip"),
                });
            }
        }
    }

    fn unsolved(&self) -> Vec<Finding> {
        let outputs = self.joint.joined.iter();
        outputs
            .filter_map(|joined| {
                let why = joined.figures.as_ref().err()?;
                let unit = &self.joint.units[joined.unit];
                Some(
                    Finding::fail("circuit-unsolved", format!("supply {}, output {}", unit.id, joined.output + 1))
                        .says(why.clone())
                        .figure("no operating point")
                        .limit("one")
                        .source(SOLVE)
                        .remedy("shorten or thicken the feeders, or take a tape whose cells do not draw constant power"),
                )
            })
            .collect()
    }
}
