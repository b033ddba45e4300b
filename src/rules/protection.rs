//! Every conductor of the design before the protection rules.
//!
//! ```text
//! output of a supply ─ lead ─ decoder ═ its outputs ─ feeder ─ rails of a segment
//!            └──────── of a switched zone ─────────── feeder ─ rails of a segment
//! ```

use super::View;
use crate::design::{
    Ampacity, Cable, Conductor, Design, Fed, Feed, Output, Protection, Segment, Solved, Strip,
    SupplyKind,
};
use crate::device::{Environment, Overload as Label, ShockProtection};
use crate::finding::{Case, Finding, LeadSide, Rule, Subject, Value};
use crate::id::{DecoderId, RunId, SegmentId};
use crate::network::Polarity;
use crate::protect::{
    ConductorKind, ConductorSpec, FaultLoop, JoinKind, MayCarry, OutputId, OutputSpec, Overload,
    PointId, ProfileSpec, ProtectionReport, ProtectionSpec,
};
use crate::quantity::{Amps, ElectricCurrent, Frequency, amps, ohms, volts};
use crate::source::Source;
use std::collections::BTreeMap;

const FAULT: Case =
    Case::open("fault", "protection of the conductors", "{why}").remedy("correct the figure");

pub(super) static RULE: Rule = Rule {
    id: "protection",
    title: "Conductors that can be judged",
    asks: "Can the protection of the conductors be judged as they are stated?",
    source: Source::computed("protection rules"),
    needs: &[],
    cases: &[&FAULT],
};

/// What the protection room answers; else why it cannot.
pub(super) type Judged = Result<ProtectionReport, String>;

/// The whole design before the protection rules.
pub(super) fn all(view: &View<'_>) -> Judged {
    let mut spec = ProtectionSpec::new();
    for output in &view.design.outputs {
        if let Some(kind) = view.supply_kind(&output.supply) {
            add_output(&mut spec, view, output, kind);
        }
    }
    match spec.check() {
        Ok(checked) => Ok(checked.judge()),
        Err(faults) => Err(faults
            .0
            .first()
            .map_or_else(String::new, ToString::to_string)),
    }
}

/// A figure of the design that the room cannot take.
pub(super) fn fault(view: &View<'_>) -> Vec<Finding> {
    let fault = view.protection().as_ref().err();
    fault
        .map(|why| {
            RULE.not_evaluated(&FAULT, Subject::Job)
                .fact("why", Value::note(why.as_str()))
        })
        .into_iter()
        .collect()
}

/// What the rules of the room say.
pub(super) fn conductors(view: &View<'_>) -> Vec<Finding> {
    match view.protection() {
        Ok(report) => report.findings.clone(),
        Err(_) => Vec::new(),
    }
}

/// The protection schedule of a design: its conductors, and what protects each.
#[must_use]
pub fn protection(design: &Design) -> Vec<Protection> {
    rows(&View::of(design))
}

/// The same, of a view.
pub(super) fn rows(view: &View<'_>) -> Vec<Protection> {
    let Ok(report) = view.protection() else {
        return Vec::new();
    };
    let rows = report.rows.iter();
    rows.map(|row| Protection {
        conductor: row.about.clone(),
        load: Amps::finite(row.load.si()),
        device: row.device.as_deref().map(Into::into),
        ampacity: row.ampacity,
        source_limit: row.source_limit,
        fault_near: row.greatest_fault,
        fault_far: row.least_fault,
        worst: row.worst.clone(),
    })
    .collect()
}

/// A label's behaviour on overload as the room names it.
fn overload(label: Label) -> Overload {
    match label {
        Label::ConstantCurrent => Overload::ConstantCurrent,
        Label::FoldBack => Overload::FoldBack { into_short: None },
        Label::Hiccup => Overload::Hiccup,
        Label::LatchOff => Overload::LatchOff,
        Label::Unknown => Overload::Unknown,
    }
}

fn may_carry(ampacity: &Ampacity) -> MayCarry {
    match &ampacity.current {
        Solved::Figures(current) => MayCarry::Current {
            current: current.0,
            source: ampacity.source.clone(),
            largest_device: ampacity
                .largest_device
                .as_ref()
                .map(|(device, source)| (device.0, source.clone())),
        },
        Solved::Not(why) => MayCarry::NoTable(why.to_string()),
    }
}

fn or_nan(current: Option<Amps>) -> ElectricCurrent {
    current.map_or_else(|| amps(f64::NAN), |current| current.0)
}

/// The two poles of a circuit: the one that the emitters share, and the switched one.
#[derive(Clone, Copy)]
struct Poles {
    common: PointId,
    switched: PointId,
}

impl Poles {
    fn of(strip: &Strip, plus: PointId, minus: PointId) -> Self {
        let (common, switched) = match strip.polarity {
            Polarity::CommonPlus => (plus, minus),
            Polarity::CommonMinus => (minus, plus),
        };
        Self { common, switched }
    }
}

/// Where the conductors of segments start.
struct Start<'s> {
    common: PointId,
    /// Where no output of a decoder is known.
    switched: PointId,
    /// Points of the outputs of a decoder, by segment and emitter.
    outputs: BTreeMap<(&'s SegmentId, &'s str), PointId>,
    chopped: Option<Frequency>,
    /// The way from the supply to there.
    ahead: Ahead,
}

/// Loop resistance between the terminals of a supply and where feeders start, Ω.
#[derive(Clone, Copy, Default)]
struct Ahead {
    cold: f64,
    /// With the closed switch of a decoder.
    hot: f64,
}

/// Which pole is earthed is not on a label: of PELV minus is taken, as is usual.
fn minus_earthed(shock: ShockProtection) -> Option<bool> {
    match shock {
        ShockProtection::Selv => Some(false),
        ShockProtection::Pelv => Some(true),
        ShockProtection::Other | ShockProtection::Unknown => None,
    }
}

fn add_output(spec: &mut ProtectionSpec, view: &View<'_>, output: &Output, kind: &SupplyKind) {
    let about = Subject::Output {
        supply: output.supply.clone(),
        output: output.output,
    };
    let plus = spec.point(format!("{about}, plus"));
    let minus = spec.point(format!("{about}, minus"));
    let set_point = kind.set_point.0;
    let (volts_set, tolerance) = (kind.set_point.si(), kind.tolerance.si());
    let id = spec.output(OutputSpec {
        unit: output.supply.to_string(),
        volts_low: volts(volts_set * (1.0 - tolerance)),
        volts_high: kind.highest_settable().0,
        nameplate: Some(kind.power.0 / f64::from(kind.outputs.max(1))),
        limit: kind.limit_current.map(|current| current.0),
        overload: overload(kind.overload),
        resistance: kind.output_resistance.0,
        shock: kind.shock,
        energy: kind.energy,
        minus_earthed: minus_earthed(kind.shock),
        ..OutputSpec::plain(about, plus, minus, set_point, kind.output_current.0)
    });
    let mut profiles = BTreeMap::new();
    for fed in &output.feeds {
        match fed {
            Fed::Decoder(decoder) => {
                add_decoder(spec, view, decoder, plus, minus);
                note_profiles(&mut profiles, view, &view.segments_of(decoder), true);
            }
            Fed::Switched { zone, segments, .. } => {
                let zone = view.zone(zone);
                let Some(strip) = zone.and_then(|zone| view.strip(&zone.strip)) else {
                    continue;
                };
                let poles = Poles::of(strip, plus, minus);
                let start = Start {
                    common: poles.common,
                    switched: poles.switched,
                    outputs: BTreeMap::new(),
                    chopped: None,
                    ahead: Ahead::default(),
                };
                let own: Vec<&Segment> =
                    segments.iter().filter_map(|id| view.segment(id)).collect();
                for segment in &own {
                    add_segment(spec, view, segment, &start);
                }
                note_profiles(&mut profiles, view, &own, false);
            }
        }
    }
    for (run, switched_returns) in profiles {
        let earthed = view.run(run).and_then(|run| run.profile_earthed);
        spec.profile(profile(run, id, earthed, switched_returns));
    }
}

/// A profile round the tape of a run; the way of a fault through it, no job says.
fn profile(
    run: &RunId,
    output: OutputId,
    earthed: Option<bool>,
    switched_returns: bool,
) -> ProfileSpec {
    ProfileSpec {
        earthed,
        switched_returns,
        ..ProfileSpec::plain(Subject::Run(run.clone()), output)
    }
}

/// Runs in a profile, and whether returns of their tape are switched.
fn note_profiles<'d>(
    profiles: &mut BTreeMap<&'d RunId, bool>,
    view: &View<'d>,
    segments: &[&'d Segment],
    dimmed: bool,
) {
    for segment in segments {
        let run = view.run(&segment.run).filter(|run| run.profile.is_some());
        let (Some(run), Some(strip)) = (run, view.strip(&segment.strip)) else {
            continue;
        };
        let switched = dimmed && strip.polarity == Polarity::CommonPlus;
        *profiles.entry(&run.id).or_default() |= switched;
    }
}

/// Lead, outputs, feeders and rails of one decoder.
fn add_decoder(
    spec: &mut ProtectionSpec,
    view: &View<'_>,
    id: &DecoderId,
    plus: PointId,
    minus: PointId,
) {
    let decoder = view.decoder(id);
    let zone = decoder.and_then(|decoder| view.zone(&decoder.zone));
    let Some(strip) = zone.and_then(|zone| view.strip(&zone.strip)) else {
        return;
    };
    let mut poles = Poles::of(strip, plus, minus);
    let mut ahead = Ahead::default();
    if let Some(lead) = view.lead_of(id) {
        let to_common = spec.point(format!("decoder {id}, common"));
        let to_switched = spec.point(format!("decoder {id}, switched side"));
        for (side, from, to) in [
            (LeadSide::Common, poles.common, to_common),
            (LeadSide::Switched, poles.switched, to_switched),
        ] {
            let about = Subject::Lead {
                decoder: id.clone(),
                side,
            };
            spec.conductor(ConductorSpec {
                may_carry: may_carry(&lead.ampacity),
                fault_loop: Some(Ahead::default().then(lead)),
                ..ConductorSpec::plain(about, from, to, or_nan(lead.current))
            });
        }
        poles = Poles {
            common: to_common,
            switched: to_switched,
        };
        ahead = Ahead {
            cold: 2.0 * lead.core_resistance.high.si(),
            hot: 2.0 * hottest(lead),
        };
    }
    let mut outputs = BTreeMap::new();
    for output in view.outputs_of(id) {
        let point = spec.point(format!("decoder {id}, output {}", output.output));
        let about = Subject::Decoder(id.clone());
        spec.join(about, JoinKind::Inside, poles.switched, point);
        for segment in &output.segments {
            outputs.insert((segment, output.emitter.as_str()), point);
        }
    }
    let kind = view.decoder_kind(id);
    ahead.hot += kind.map_or(0.0, |kind| kind.switch.si());
    let start = Start {
        common: poles.common,
        switched: poles.switched,
        outputs,
        chopped: kind.map(|kind| kind.frequency.0),
        ahead,
    };
    for segment in view.segments_of(id) {
        add_segment(spec, view, segment, &start);
    }
}

/// One core of a cable as hot as its insulation may get: what the least fault current flows through.
fn hottest(cable: &Cable) -> f64 {
    cable.hottest_core.unwrap_or(cable.core_resistance.low).si()
}

impl Ahead {
    /// Short circuits at both ends of a cable behind it, out and back: near as cold, far as hot as copper gets.
    fn then(self, cable: &Cable) -> FaultLoop {
        FaultLoop {
            near_cold: ohms(self.cold),
            far_hot: ohms(self.hot + 2.0 * hottest(cable)),
        }
    }
}

/// Feeders and rails of one segment.
fn add_segment(spec: &mut ProtectionSpec, view: &View<'_>, segment: &Segment, start: &Start<'_>) {
    let Some(strip) = view.strip(&segment.strip) else {
        return;
    };
    let run = view.run(&segment.run);
    let wet = run.is_some_and(|run| run.environment != Environment::Dry);
    let on_tape: Vec<PointId> = (0..=strip.emitters.len())
        .map(|rail| spec.point(format!("tape {}, rail {rail}", segment.id)))
        .collect();
    let Some(&common_rail) = on_tape.first() else {
        return;
    };
    let rail_of = |emitter: &str| {
        let at = strip
            .emitters
            .iter()
            .position(|e| e.name.as_str() == emitter);
        at.and_then(|at| on_tape.get(at + 1).copied())
            .unwrap_or(common_rail)
    };
    let feeds = view.feeds_of(&segment.id);
    for feed in feeds {
        let Some(cable) = view.cable(&feed.cable) else {
            continue;
        };
        for own in &feed.conductors {
            let (from, to) = match &own.conductor {
                Conductor::Plus | Conductor::Minus => (start.common, common_rail),
                Conductor::Return(emitter) => {
                    let output = start.outputs.get(&(&segment.id, emitter.as_str()));
                    let from = output.copied().unwrap_or(start.switched);
                    (from, rail_of(emitter.as_str()))
                }
            };
            let about = Subject::Feeder {
                feed: feed.id.clone(),
                conductor: own.conductor.clone(),
            };
            spec.conductor(ConductorSpec {
                load_with_feed_lost: with_feed_lost(feeds, feed, &own.conductor),
                may_carry: may_carry(&cable.ampacity),
                fault_loop: Some(start.ahead.then(cable)),
                chopped: start.chopped,
                wet,
                ..ConductorSpec::plain(about, from, to, own.current.0)
            });
        }
    }
    for jumper in view.jumpers_of(&segment.id) {
        for core in &jumper.cores {
            let far = spec.point(format!("jumper {}, core {}", jumper.id, core.number));
            let near = match &core.conductor {
                Conductor::Plus | Conductor::Minus => common_rail,
                Conductor::Return(emitter) => rail_of(emitter.as_str()),
            };
            let about = Subject::Jumper {
                jumper: jumper.id.clone(),
                conductor: core.conductor.clone(),
            };
            // Its fault current is that of the feeder less what the rails take, which no sheet states.
            spec.conductor(ConductorSpec {
                load_with_feed_lost: all_through(feeds, &core.conductor),
                may_carry: may_carry(&jumper.ampacity),
                chopped: start.chopped,
                wet,
                ..ConductorSpec::plain(about, near, far, or_nan(core.current))
            });
        }
    }
    // Rails carry at most what enters them; what they may carry is the maker's word alone.
    let end = spec.point(format!("tape {}, inside", segment.id));
    let rail_current = segment.solved.figures().map(|figures| figures.rail_current);
    spec.conductor(ConductorSpec {
        kind: ConductorKind::Rail,
        may_carry: match strip.pad_current {
            Some(current) => MayCarry::Current {
                current: current.0,
                source: Source::stated(format!("the job: pad_current of strip {}", strip.id)),
                largest_device: None,
            },
            None => MayCarry::NoTable(
                "no table rates the rails of a tape, and its sheet states nothing".to_string(),
            ),
        },
        chopped: start.chopped,
        wet,
        ..ConductorSpec::plain(
            Subject::Rail(segment.id.clone()),
            common_rail,
            end,
            or_nan(rail_current),
        )
    });
}

/// With another feed lost, this one carries at most what all carry together now.
fn with_feed_lost(
    feeds: &[&Feed],
    feed: &Feed,
    conductor: &Conductor,
) -> Vec<(Subject, ElectricCurrent)> {
    let having = || {
        feeds.iter().filter_map(|other| {
            let mut own = other.conductors.iter();
            let own = own.find(|own| own.conductor == *conductor)?;
            Some((*other, own.current.si()))
        })
    };
    let together: f64 = having().map(|(_, current)| current).sum();
    having()
        .filter(|(other, _)| other.id != feed.id)
        .map(|(other, _)| (Subject::Feed(other.id.clone()), amps(together)))
        .collect()
}

/// With one of several feeds lost, a jumper carries at most what all carry together now.
fn all_through(feeds: &[&Feed], conductor: &Conductor) -> Vec<(Subject, ElectricCurrent)> {
    let own = |feed: &&Feed| {
        let mut own = feed.conductors.iter();
        let own = own.find(|own| own.conductor == *conductor)?;
        Some(own.current.si())
    };
    let together: f64 = feeds.iter().filter_map(own).sum();
    let lost = feeds.iter().filter(|_| feeds.len() > 1);
    lost.map(|feed| (Subject::Feed(feed.id.clone()), amps(together)))
        .collect()
}
