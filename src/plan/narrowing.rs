//! Which facts would narrow the answer most: the job is planned again with each bracketed assumption at its two ends.
//!
//! ```text
//!  copper of the rails    stronger ──► plan ──► supplies, decoders, feeds ┐
//!                         weaker   ──► plan ──► supplies, decoders, feeds ┴─► how far they are apart
//!  forward voltage …      the same, everything else as it was taken
//! ```
//!
//! Those plans are fed, given devices and solved as the plan itself is; what shared copper breaks is not mended in them. Only a
//! job that keeps every limit is asked about, as what breaks one comes first; and one of at most [`MOST_CELLS`] cells.

use super::facts;
use super::phases::{self, Phase};
use super::{decoders, feeding, joined, laid, together};
use crate::design::{Assumed, Extent, NarrowedTo, Narrowing};
use crate::finding::Figure;
use crate::job::spec::taken::decoder_switch;
use crate::job::spec::{
    CellSpec, JobSpec, LimitKey, PowerBasis, RailSpec, StripSpec, Taken, TakenFact,
};
use crate::job::{Job, check};
use crate::network::Workspace;
use crate::order::Order as _;
use crate::progress::Progress;
use crate::quantity::{celsius, fraction, metres, ohms};
use crate::strip::Side;

/// Cut increments by emitters of a job that is planned at both ends of each of its facts.
const MOST_CELLS: u64 = 5_000;
/// Facts that are asked about, in the order of [`TakenFact`].
const MOST_FACTS: usize = 12;
/// Facts that are kept.
const KEPT: usize = 3;
/// Ambient of a place at its cooler end, °C: to which data sheets refer.
const COOL: f64 = 25.0;

/// One end of a fact: its value, and how a job says that it is so.
struct End {
    value: Option<Figure>,
    set: Box<dyn Fn(&mut JobSpec)>,
}

/// A tolerance of the job: its value, and how it is stated.
type Tolerance = (LimitKey, f64, fn(&mut JobSpec, f64));

/// The facts that would narrow the answer most, the first the most.
///
/// Time: two plans for each bracketed fact. None once `progress` is cancelled.
pub(super) fn narrowing(job: &Job, progress: &mut Progress<'_>) -> Vec<Narrowing> {
    if job.taken().is_empty() {
        return Vec::new();
    }
    let mut found: Vec<Narrowing> = Vec::new();
    let mut facts = bracketed(job);
    facts.truncate(MOST_FACTS);
    let mut parts = Phase::new(progress, phases::NARROWING, 2 * facts.len());
    for (what, of, ends) in facts {
        let ends = ends.map(|end| parts.part(|progress| planned_at(job, end, progress)));
        if parts.is_cancelled() {
            return Vec::new();
        }
        let [Some(first), Some(second)] = ends else {
            continue;
        };
        found.push(Narrowing {
            what,
            of: of.map(Into::into),
            ends: [first, second],
        });
    }
    parts.end();
    let apart = |one: &Narrowing| one.ends[0].plan.apart(&one.ends[1].plan);
    let light = |one: &Narrowing| one.ends[0].plan.light_apart(&one.ends[1].plan);
    found.retain(|one| apart(one) > 0 || light(one) > 0.0);
    // Those that are as far apart keep the order of the facts.
    found.order_by(|a, b| {
        let light = light(b).total_cmp(&light(a));
        apart(b).cmp(&apart(a)).then(light)
    });
    found.truncate(KEPT);
    found
}

/// The job with one fact at one end; none where that cannot be, or is too large to be planned so often.
fn planned_at(job: &Job, end: End, progress: &mut Progress<'_>) -> Option<NarrowedTo> {
    let mut spec = job.spec().clone();
    spec.candidates.clear();
    (end.set)(&mut spec);
    let plan = extent(&check(spec).ok()?, progress)?;
    Some(NarrowedTo {
        value: end.value,
        plan,
    })
}

/// What a plan of a job comes to.
fn extent(job: &Job, progress: &mut Progress<'_>) -> Option<Extent> {
    let mut findings = Vec::new();
    let tapes = facts::tapes(job, &mut findings);
    let mut runs = laid::lay_out(job, &tapes, &mut findings);
    let cells = runs.iter().map(|run| {
        let emitters = tapes.get(run.tape).map_or(1, |tape| tape.emitters.len());
        run.layout.increments().saturating_mul(emitters as u64)
    });
    if cells.fold(0_u64, u64::saturating_add) > MOST_CELLS {
        return None;
    }
    let all: Vec<usize> = (0..runs.len()).collect();
    feeding::feed(job, &mut runs, &all, &tapes, progress);
    let whole = together::choose(job, &mut runs, &tapes, None, progress);
    let chosen = decoders(&whole);
    let joint = joined::join(job, &runs, &tapes, chosen, &mut Workspace::new(), progress);
    let solved = joint
        .joined
        .iter()
        .flat_map(|one| one.segments(&joint.decoder_units));
    let least = solved.map(|(_, figures)| figures.low.least_current.value);
    Some(Extent {
        supplies: joint.units.len() as u64,
        decoders: joint
            .decoder_units
            .iter()
            .filter(|d| d.spec.is_some())
            .count() as u64,
        feeds: joint
            .segments
            .iter()
            .map(|s| s.plan.feeds.len() as u64)
            .sum(),
        least_current: least.reduce(f64::min).map(|share| fraction(share).into()),
    })
}

/// The facts of which both ends are known.
fn bracketed(job: &Job) -> Vec<(Assumed, Option<String>, [End; 2])> {
    let mut out = Vec::new();
    for taken in job.taken() {
        if let Some(ends) = ends(job, taken) {
            out.push((Assumed::Fact(taken.fact), Some(taken.of.clone()), ends));
        }
    }
    let limits = job.limits();
    let tolerances: [Tolerance; 2] = [
        (
            LimitKey::RailTolerance,
            limits.rail_tolerance.value,
            |spec, at| {
                spec.limits.rail_tolerance = Some(fraction(at));
            },
        ),
        (
            LimitKey::CurrentTolerance,
            limits.current_tolerance.value,
            |spec, at| {
                spec.limits.current_tolerance = Some(fraction(at));
            },
        ),
    ];
    for (key, most, set) in tolerances {
        if limits.is_assumed(key) {
            let end = |at: f64| End {
                value: Some(fraction(at).into()),
                set: Box::new(move |spec| set(spec, at)),
            };
            out.push((Assumed::Limit(key), None, [end(0.0), end(most)]));
        }
    }
    out
}

/// Both ends of a fact that was taken of a thing; none where it has not two.
fn ends(job: &Job, taken: &Taken) -> Option<[End; 2]> {
    let name = taken.of.clone();
    Some(match taken.fact {
        TakenFact::Copper => {
            let strip = job.strip(&name)?;
            let RailSpec::Class { copper } = strip.rails else {
                return None;
            };
            let [[least, most], _] = copper.resistance(strip.emitters.len());
            let end = |rail: crate::quantity::LinearResistance, side| End {
                value: Some((rail * metres(1.0)).into()),
                set: on_strip(&name, move |strip: &mut StripSpec| {
                    strip.rails = copper.side(side, strip.emitters.len());
                }),
            };
            [end(least, Side::Stronger), end(most, Side::Weaker)]
        }
        TakenFact::Strings => {
            let strip = job.strip(&name)?;
            let strings = strip.emitters.iter().find_map(|e| match e.cell {
                CellSpec::Class { strings, .. } => Some(strings),
                _ => None,
            })?;
            let [low, high] = strings.forward();
            let end = |forward: crate::quantity::ElectricPotential, side| End {
                value: Some(forward.into()),
                set: on_strip(&name, move |strip: &mut StripSpec| strings_of(strip, side)),
            };
            [end(low, Side::Stronger), end(high, Side::Weaker)]
        }
        TakenFact::PowerBasis => [PowerBasis::ShortPiece, PowerBasis::FullReel].map(|basis| End {
            value: None,
            set: on_strip(&name, move |strip: &mut StripSpec| {
                strip.power_basis = basis
            }),
        }),
        TakenFact::SupplyTolerance => {
            let most = job.supply(&name)?.tolerance;
            [fraction(0.0), most].map(|at| {
                let name = name.clone();
                End {
                    value: Some(at.into()),
                    set: Box::new(move |spec| {
                        for supply in spec.supplies.iter_mut().filter(|s| s.name == name) {
                            supply.tolerance = at;
                        }
                    }),
                }
            })
        }
        TakenFact::PlaceAmbient => {
            let hot = job.place(&name)?.ambient;
            [celsius(COOL), hot].map(|at| {
                let name = name.clone();
                End {
                    value: Some(at.into()),
                    set: Box::new(move |spec| {
                        for place in spec.places.iter_mut().filter(|p| p.name == name) {
                            place.ambient = at;
                        }
                    }),
                }
            })
        }
        TakenFact::DecoderSwitch => [ohms(0.0), decoder_switch() * 2.0].map(|at| {
            let name = name.clone();
            End {
                value: Some(at.into()),
                set: Box::new(move |spec| {
                    for decoder in spec.decoders.iter_mut().filter(|d| d.name == name) {
                        decoder.switch = at;
                    }
                }),
            }
        }),
        _ => return None,
    })
}

/// A change of the strip of one name.
fn on_strip(name: &str, change: impl Fn(&mut StripSpec) + 'static) -> Box<dyn Fn(&mut JobSpec)> {
    let name = name.to_string();
    Box::new(move |spec| {
        for strip in spec.strips.iter_mut().filter(|strip| strip.name == name) {
            change(strip);
        }
    })
}

/// The strings of one side in the place of those of a class.
fn strings_of(strip: &mut StripSpec, side: Side) {
    let rated = strip.rated;
    for emitter in &mut strip.emitters {
        if let CellSpec::Class { strings, current } = emitter.cell {
            emitter.cell = strings.side(side, rated, current);
        }
    }
}
