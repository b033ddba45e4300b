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
use crate::device::{Environment, Overload as Label};
use crate::finding::{Case, Finding, Rule, Subject, Value};
use crate::id::{DecoderId, SegmentId};
use crate::network::Polarity;
use crate::protect::{
    ConductorKind, ConductorSpec, FaultLoop, JoinKind, MayCarry, OutputSpec, Overload, PointId,
    ProtectionReport, ProtectionSpec,
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
    let highest = kind.highest.map_or(volts_set, |highest| highest.si());
    spec.output(OutputSpec {
        unit: output.supply.to_string(),
        volts_low: volts(volts_set * (1.0 - tolerance)),
        volts_high: volts(highest * (1.0 + tolerance)),
        nameplate: Some(kind.power.0 / f64::from(kind.outputs.max(1))),
        limit: kind.limit_current.map(|current| current.0),
        overload: overload(kind.overload),
        resistance: kind.output_resistance.0,
        shock: kind.shock,
        energy: kind.energy,
        ..OutputSpec::plain(about, plus, minus, set_point, kind.output_current.0)
    });
    for fed in &output.feeds {
        match fed {
            Fed::Decoder(decoder) => add_decoder(spec, view, decoder, plus, minus),
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
                };
                for segment in segments.iter().filter_map(|id| view.segment(id)) {
                    add_segment(spec, view, segment, &start);
                }
            }
        }
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
    if let Some(lead) = view.lead_of(id) {
        let to_common = spec.point(format!("decoder {id}, common"));
        let to_switched = spec.point(format!("decoder {id}, switched side"));
        for (conductor, from, to) in [
            ("common", poles.common, to_common),
            ("switched side", poles.switched, to_switched),
        ] {
            let about = Subject::Lead {
                decoder: id.clone(),
                conductor: conductor.to_string(),
            };
            spec.conductor(ConductorSpec {
                may_carry: may_carry(&lead.ampacity),
                fault_loop: Some(there_and_back(lead)),
                ..ConductorSpec::plain(about, from, to, or_nan(lead.current))
            });
        }
        poles = Poles {
            common: to_common,
            switched: to_switched,
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
    let start = Start {
        common: poles.common,
        switched: poles.switched,
        outputs,
        chopped: view.decoder_kind(id).map(|kind| kind.frequency.0),
    };
    for segment in view.segments_of(id) {
        add_segment(spec, view, segment, &start);
    }
}

/// A loop of two cores of a cable, as hot as they get.
/// The least fault current is that of copper as hot as its insulation may get.
fn there_and_back(cable: &Cable) -> FaultLoop {
    let core = cable.hottest_core.unwrap_or(cable.core_resistance.low).si();
    FaultLoop {
        near_cold: ohms(0.0),
        far_hot: ohms(2.0 * core),
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
                conductor: words(&own.conductor),
            };
            spec.conductor(ConductorSpec {
                load_with_feed_lost: with_feed_lost(feeds, feed, &own.conductor),
                may_carry: may_carry(&cable.ampacity),
                fault_loop: Some(there_and_back(cable)),
                chopped: start.chopped,
                wet,
                ..ConductorSpec::plain(about, from, to, own.current.0)
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

/// A conductor as a person calls it: `plus`, `red return`.
fn words(conductor: &Conductor) -> String {
    match conductor {
        Conductor::Plus => "plus".to_string(),
        Conductor::Minus => "minus".to_string(),
        Conductor::Return(emitter) => format!("{emitter} return"),
    }
}
