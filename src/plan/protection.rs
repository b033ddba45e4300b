//! Every conductor of the plan before the protection rules.

use super::Worked;
use super::facts::{self, WireFacts};
use super::kinds;
use super::model::{Plan, ProtectionRow};
use super::tape_rows::letter;
use crate::choose::feeding::Conductor;
use crate::device::Overload as Label;
use crate::finding::Subject;
use crate::finding::plain::Finding;
use crate::id::{DecoderId, FeedId, SegmentId, SupplyId};
use crate::network::Polarity;
use crate::protect::{
    ConductorKind, ConductorSpec, FaultLoop, JoinKind, MayCarry, OutputSpec, Overload, PointId,
    ProtectionSpec,
};
use crate::quantity::{amps, ohms, volts};
use crate::source::Source;

/// A label's behaviour on overload as the rules name it.
fn overload(label: Label) -> Overload {
    match label {
        Label::ConstantCurrent => Overload::ConstantCurrent,
        Label::FoldBack => Overload::FoldBack { into_short: None },
        Label::Hiccup => Overload::Hiccup,
        Label::LatchOff => Overload::LatchOff,
        Label::Unknown => Overload::Unknown,
    }
}

fn may_carry(facts: &WireFacts) -> MayCarry {
    match &facts.ampacity {
        Ok(current) => MayCarry::Current {
            current: *current,
            source: facts.ampacity_source.clone(),
            largest_device: facts.largest_device.clone(),
        },
        Err(why) => MayCarry::NoTable(why.clone()),
    }
}

impl Worked<'_> {
    pub(super) fn protect(&self, plan: &mut Plan, findings: &mut Vec<Finding>) {
        let mut spec = ProtectionSpec::new();
        for (u, unit) in self.joint.units.iter().enumerate() {
            for joined in self.joint.joined.iter().filter(|j| j.unit == u) {
                let about = Subject::Output {
                    supply: SupplyId::new(&*unit.id),
                    output: joined.output as u64 + 1,
                };
                let plus = spec.point(format!("{about}, plus"));
                let minus = spec.point(format!("{about}, minus"));
                let label = unit.spec;
                let high = label.trim.map_or(label.volts.value, |t| t.1.value)
                    * (1.0 + label.tolerance.value);
                spec.output(OutputSpec {
                    unit: unit.id.clone(),
                    volts_low: volts(label.volts.value * (1.0 - label.tolerance.value)),
                    volts_high: volts(high),
                    nameplate: Some(label.power / f64::from(label.outputs.max(1))),
                    limit: label.limit_current,
                    overload: overload(label.overload),
                    resistance: label.output_resistance,
                    shock: label.shock,
                    energy: label.energy,
                    ..OutputSpec::plain(about, plus, minus, label.volts, label.output_current)
                });
                for b in &joined.bodies {
                    self.body_conductors(&mut spec, *b, plus, minus);
                }
            }
        }
        let checked = match spec.check() {
            Ok(checked) => checked,
            Err(all) => {
                let why = all.0.first().map_or_else(String::new, ToString::to_string);
                findings.push(
                    Finding::not_evaluated("protection", "whole job", why)
                        .says("protection of the conductors")
                        .source(Source::computed("protection rules"))
                        .remedy("correct the figure"),
                );
                return;
            }
        };
        let report = checked.judge();
        let worst = report.worst();
        let rows = report.rows.iter().map(|row| {
            let worst = worst
                .get(&row.about)
                .map(|worst| crate::rules::plain(worst));
            ProtectionRow {
                conductor: row.about.to_string(),
                load: row.load.0,
                device: row
                    .device
                    .clone()
                    .unwrap_or_else(|| "none but the supply itself".to_string()),
                ampacity: row
                    .ampacity
                    .map(|current| current.0)
                    .ok_or_else(|| "no table covers it".to_string()),
                source_limit: row
                    .source_limit
                    .map_or_else(|| "not known".to_string(), |limit| limit.to_string()),
                fault_near: row.greatest_fault.map(|current| current.0),
                fault_far: row.least_fault.map(|current| current.0),
                verdict: worst.map_or_else(
                    || "nothing against it".to_string(),
                    |f| format!("{}: {}", f.verdict.words(), f.says),
                ),
            }
        });
        plan.protection.extend(rows);
        findings.extend(report.findings.iter().map(crate::rules::plain));
    }

    /// Lead, decoder, feeders and rails of one body.
    fn body_conductors(&self, spec: &mut ProtectionSpec, b: usize, plus: PointId, minus: PointId) {
        let body = &self.joint.bodies[b];
        let zone = &self.job.zones()[body.zone];
        let Some(strip) = self.job.strip(&zone.strip) else {
            return;
        };
        let (common, far) = match strip.polarity {
            Polarity::CommonPlus => (plus, minus),
            Polarity::CommonMinus => (minus, plus),
        };
        let (mut bus, mut terminal) = (common, far);
        let lead = &self.joint.leads[b];
        let amperes = self
            .branch(b)
            .map_or(body.current, |f| f.high.current.value);
        if let Some(facts) = &lead.facts {
            let (to_bus, to_terminal) = (
                spec.point(format!("decoder {}, common", body.id)),
                spec.point(format!("decoder {}, switched side", body.id)),
            );
            for (conductor, from, to) in [
                ("common", common, to_bus),
                ("switched side", far, to_terminal),
            ] {
                let about = Subject::Lead {
                    decoder: DecoderId::new(&*body.id),
                    conductor: conductor.to_string(),
                };
                spec.conductor(ConductorSpec {
                    may_carry: may_carry(facts),
                    fault_loop: Some(FaultLoop {
                        near_cold: ohms(0.0),
                        far_hot: ohms(2.0 * lead.core.low),
                    }),
                    ..ConductorSpec::plain(about, from, to, amps(amperes))
                });
            }
            (bus, terminal) = (to_bus, to_terminal);
        }
        let outputs: Vec<PointId> = (0..body.outputs.len())
            .map(|number| {
                if body.spec.is_none() {
                    return terminal;
                }
                let point = spec.point(format!("decoder {}, output {}", body.id, number + 1));
                spec.join(
                    Subject::Decoder(DecoderId::new(&*body.id)),
                    JoinKind::Inside,
                    terminal,
                    point,
                );
                point
            })
            .collect();
        for s in body.segments() {
            let own: Vec<PointId> = (0..strip.emitters.len())
                .map(|e| {
                    let at = body.output_of(s, e).and_then(|at| outputs.get(at));
                    at.copied().unwrap_or(terminal)
                })
                .collect();
            self.segment_conductors(spec, s, bus, &own, body);
        }
    }

    fn segment_conductors(
        &self,
        spec: &mut ProtectionSpec,
        s: usize,
        bus: PointId,
        outputs: &[PointId],
        body: &super::devices::Body<'_>,
    ) {
        let segment = &self.joint.segments[s];
        let strip = &self.job.strips()[segment.tape];
        let run = &self.runs[segment.run];
        let place = &self.job.places()[segment.place];
        let ambient = kinds::feeder_ambient(run.spec, place);
        let figures = self.figures(s);
        let on_tape: Vec<PointId> = (0..=strip.emitters.len())
            .map(|r| spec.point(format!("tape {}, rail {r}", segment.id)))
            .collect();
        let index = |c: Conductor| match c {
            Conductor::Common => 0,
            Conductor::Return(e) => e + 1,
        };
        let wet = run.spec.environment != crate::device::Environment::Dry;
        for (n, feed) in segment.plan.feeds.iter().enumerate() {
            let Some(facts) = self
                .job
                .cable(&feed.cable)
                .and_then(|item| facts::wire(item, self.job.limits(), ambient).ok())
            else {
                continue;
            };
            let found = self.feed_figures(s, n);
            let one = facts.per_metre.low.value * feed.route_length.metres();
            for c in &feed.conductors {
                let load = found
                    .and_then(|f| f.high.current(c.conductor))
                    .unwrap_or(c.current);
                let from = match c.conductor {
                    Conductor::Common => bus,
                    Conductor::Return(e) => outputs.get(e).copied().unwrap_or(bus),
                };
                let feed = |k| FeedId::new(format!("F-{}{}", segment.id, letter(k)));
                let about = Subject::Feeder {
                    feed: feed(n),
                    conductor: self.conductor_name(segment, c.conductor),
                };
                // With another feed lost, this one carries at most what all carry together now.
                let together: f64 = (0..segment.plan.feeds.len())
                    .filter_map(|k| {
                        let found = self.feed_figures(s, k)?;
                        found.high.current(c.conductor)
                    })
                    .map(|current| current.value)
                    .sum();
                let lost = (0..segment.plan.feeds.len())
                    .filter(|k| *k != n)
                    .filter(|k| {
                        segment.plan.feeds[*k]
                            .conductors
                            .iter()
                            .any(|o| o.conductor == c.conductor)
                    })
                    .map(|k| (Subject::Feed(feed(k)), amps(together)))
                    .collect();
                spec.conductor(ConductorSpec {
                    load_with_feed_lost: lost,
                    may_carry: may_carry(&facts),
                    fault_loop: Some(FaultLoop {
                        near_cold: ohms(0.0),
                        far_hot: ohms(2.0 * one),
                    }),
                    chopped: body.spec.map(|d| d.frequency),
                    wet,
                    ..ConductorSpec::plain(about, from, on_tape[index(c.conductor)], load)
                });
            }
        }
        // Rails carry at most what enters them; what they may carry is the maker's word alone.
        let end = spec.point(format!("tape {}, inside", segment.id));
        spec.conductor(ConductorSpec {
            kind: ConductorKind::Rail,
            may_carry: match strip.pad_current {
                Some(current) => MayCarry::Current {
                    current,
                    source: Source::stated(format!("the job: pad_current of strip {}", strip.name)),
                    largest_device: None,
                },
                None => MayCarry::NoTable(
                    "no table rates the rails of a tape, and its sheet states nothing".to_string(),
                ),
            },
            chopped: body.spec.map(|d| d.frequency),
            wet,
            ..ConductorSpec::plain(
                Subject::Rail(SegmentId::new(&*segment.id)),
                on_tape[0],
                end,
                figures.map_or(amps(f64::NAN), |f| f.high.rail_current),
            )
        });
    }
}
