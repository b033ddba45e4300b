//! Runs, cuts, segments and feeds.

use super::Worked;
use super::devices::SegmentWork;
use super::model::{CutRow, FeedConductor, FeedRow, Plan, RunRow, SegmentRow};
use crate::exact::ExactLength;
use crate::layout::spec::LeadOut;
use crate::quantity::{Corners, ElectricPotential, show, volts, watts_per_metre};
use crate::segment::{Conductor, FeedFigures, SegmentFigures};

/// Letters of feeds: a, b, c.
pub(super) fn letter(number: usize) -> char {
    (b'a' + (number % 26) as u8) as char
}

/// `output 3`, `outputs 1 to 4`, `outputs 1, 2, 4`.
fn outputs_words(used: &[usize]) -> String {
    match used {
        [one] => format!("output {one}"),
        [first, .., last] if last - first + 1 == used.len() && used.is_sorted() => {
            format!("outputs {first} to {last}")
        }
        all => {
            let all: Vec<String> = all.iter().map(ToString::to_string).collect();
            format!("outputs {}", all.join(", "))
        }
    }
}

impl Worked<'_> {
    /// Figures of a segment from the joint solve.
    pub(super) fn figures(&self, segment: usize) -> Option<Corners<&SegmentFigures>> {
        let joined = self.joint.joined.iter();
        joined
            .flat_map(|j| j.segments(&self.joint.bodies))
            .find(|s| s.0 == segment)
            .map(|s| s.1)
    }

    /// Figures of a feed from the joint solve.
    pub(super) fn feed_figures(
        &self,
        segment: usize,
        feed: usize,
    ) -> Option<Corners<&FeedFigures>> {
        let all = self.figures(segment)?;
        Some(Corners {
            low: all.low.feeders.get(feed)?,
            nominal: all.nominal.feeders.get(feed)?,
            high: all.high.feeders.get(feed)?,
        })
    }

    /// Bound on the error of the voltages of a segment, nominal.
    fn volt_error_bound(&self, segment: usize) -> Option<ElectricPotential> {
        let body = self.body_of(segment)?;
        let joined = self
            .joint
            .joined
            .iter()
            .find(|j| j.bodies.contains(&body))?;
        Some(joined.figures.as_ref().ok()?.nominal.volt_error_bound)
    }

    /// The body that serves a segment.
    pub(super) fn body_of(&self, segment: usize) -> Option<usize> {
        self.joint
            .bodies
            .iter()
            .position(|body| body.outputs.iter().any(|o| o.segments.contains(&segment)))
    }

    /// Name of a conductor in this tape: `plus`, `red return`.
    pub(super) fn conductor_name(&self, segment: &SegmentWork, conductor: Conductor) -> String {
        let strip = &self.job.strips()[segment.tape];
        match conductor {
            Conductor::Common => match strip.polarity {
                crate::network::Polarity::CommonPlus => "plus".to_string(),
                crate::network::Polarity::CommonMinus => "minus".to_string(),
            },
            Conductor::Return(e) => strip
                .emitters
                .get(e)
                .map_or_else(String::new, |e| format!("{} return", e.name)),
        }
    }

    pub(super) fn tape_rows(&self, plan: &mut Plan) {
        for (at, run) in self.runs.iter().enumerate() {
            let strip = &self.job.strips()[run.tape];
            let layout = &run.layout;
            let profile = run
                .spec
                .profile
                .as_ref()
                .and_then(|name| self.job.profile(name));
            let cover = profile.and_then(|p| p.cover.as_ref());
            let colour: Vec<&str> = strip.emitters.iter().map(|e| e.name.as_str()).collect();
            plan.runs.push(RunRow {
                id: run.spec.name.clone(),
                zone: run.zone.name.clone(),
                room: run.spec.room.clone(),
                drawing: run.spec.drawing.clone(),
                strip: strip.name.clone(),
                colour: colour.join(", "),
                power_per_length: self
                    .models
                    .get(run.tape)
                    .map_or(watts_per_metre(0.0), |m| m.power_per_length().nominal),
                drawn: layout.drawn(),
                lit: layout.lit(),
                dark_start: layout.dark_start(),
                dark_end: layout.dark_end(),
                dark_between: layout.dark_between(),
                increments: layout.increments(),
                path: layout.path_words(),
                profile: match (profile, cover) {
                    (Some(p), Some(c)) => format!("{}, {}", p.name, c.description),
                    (Some(p), None) => p.name.clone(),
                    (None, _) => String::new(),
                },
                environment: format!(
                    "{}, {}",
                    run.spec.environment.word(),
                    show(run.spec.ambient)
                ),
                service: run.zone.service.word().to_string(),
            });
            for (number, segment) in self.joint.segments.iter().enumerate() {
                if segment.run == at {
                    self.segment_rows(plan, number, segment);
                }
            }
        }
    }

    fn segment_rows(&self, plan: &mut Plan, number: usize, segment: &SegmentWork) {
        let run = &self.runs[segment.run];
        let strip = &self.job.strips()[segment.tape];
        let pitch = strip.pitch;
        let at = |mark: u64| pitch.length_of(mark);
        let own = &segment.plan;
        let figures = self.figures(number);
        if let (Some(f), Some(bound)) = (figures, self.volt_error_bound(number)) {
            plan.segments.push(SegmentRow {
                id: segment.id.clone(),
                run: run.spec.name.clone(),
                length: at(own.to - own.from),
                pattern: own.pattern.words().to_string(),
                least_volts: f.map(|f| f.least_volts),
                least_current: f.map(|f| f.least_current),
                weakest: strip
                    .emitters
                    .get(f.low.weakest.emitter)
                    .map_or_else(String::new, |e| e.name.clone()),
                balance: f.low.imbalance,
                power: f.map(|f| f.power),
                volt_error_bound: bound,
            });
        }
        self.cuts(plan, segment);
        for (n, feed) in own.feeds.iter().enumerate() {
            let found = self.feed_figures(number, n);
            let source = match self.body_of(number) {
                Some(b) if self.joint.bodies[b].spec.is_some() => {
                    let body = &self.joint.bodies[b];
                    let used: Vec<usize> = (0..strip.emitters.len())
                        .filter_map(|e| Some(body.output_of(number, e)? + 1))
                        .collect();
                    format!("decoder {}, {}", body.id, outputs_words(&used))
                }
                Some(b) => format!(
                    "supply {}",
                    self.unit_of(b)
                        .map_or("", |u| self.joint.units[u.0].id.as_str())
                ),
                None => String::new(),
            };
            plan.feeds.push(FeedRow {
                id: format!("F-{}{}", segment.id, letter(n)),
                segment: segment.id.clone(),
                position: at(feed.at),
                conductors: feed
                    .conductors
                    .iter()
                    .map(|c| {
                        let joint = found
                            .and_then(|f| f.high.current(c.conductor))
                            .unwrap_or(c.current);
                        FeedConductor {
                            function: self.conductor_name(segment, c.conductor),
                            node: match feed.at {
                                m if m == own.from => "start".to_string(),
                                m if m == own.to => "end".to_string(),
                                m => at(m).to_string(),
                            },
                            current: joint,
                        }
                    })
                    .collect(),
                cable: feed.cable.clone(),
                source,
                volts: found.map_or(Corners::same(volts(f64::NAN)), |f| {
                    f.map(|f| f.volts.unwrap_or_default())
                }),
                joint: "soldered, strain relief".to_string(),
            });
        }
    }

    /// Pieces of tape of a segment: it is cut where a leg of the path ends.
    fn cuts(&self, plan: &mut Plan, segment: &SegmentWork) {
        let run = &self.runs[segment.run];
        let strip = &self.job.strips()[segment.tape];
        let (from, to) = (segment.plan.from, segment.plan.to);
        let pieces = run.pieces(from, to);
        let end = |mark: u64, first: bool| -> String {
            if segment.plan.feeds.iter().any(|f| f.at == mark) {
                let out = if first {
                    run.spec.layout.start.lead_out
                } else {
                    run.spec.layout.end.lead_out
                };
                let way = match out {
                    LeadOut::Back if mark == 0 || mark == run.layout.increments() => {
                        ", out at the back"
                    }
                    _ => "",
                };
                format!("lead{way}")
            } else if mark == from || mark == to {
                "end cap".to_string()
            } else {
                "jumper".to_string()
            }
        };
        for (n, (a, b)) in pieces.iter().enumerate() {
            let id = if pieces.len() == 1 {
                segment.id.clone()
            } else {
                format!("{}-{}", segment.id, n + 1)
            };
            let length: ExactLength = strip.pitch.length_of(b - a);
            plan.cuts.push(CutRow {
                label: format!("{id} {length}"),
                id,
                run: run.spec.name.clone(),
                segment: segment.number + 1,
                strip: strip.name.clone(),
                increments: b - a,
                length,
                from: strip.pitch.length_of(*a),
                start: end(*a, true),
                end: end(*b, false),
                reel: String::new(),
            });
        }
    }

    /// The supply and output that feed a body.
    pub(super) fn unit_of(&self, body: usize) -> Option<(usize, usize)> {
        self.joint
            .joined
            .iter()
            .find(|j| j.bodies.contains(&body))
            .map(|j| (j.unit, j.output))
    }
}
