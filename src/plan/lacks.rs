//! Why a run has no place to be fed from: the one thing that is missing at the place that comes nearest.
//!
//! Each kind is asked in one order, and the kind that gets farthest says what it lacks. What is asked is what
//! [`kinds`](super::kinds) asks.

use super::kinds::{decoders, named, same_voltage};
use super::laid::RunWork;
use crate::device::{DecoderSpec, LevelBits, LevelCurve};
use crate::finding::Finding;
use crate::job::Job;
use crate::job::spec::{Control, PlaceSpec, StripSpec, ZoneSpec};
use crate::rules::feed_problem;

/// What a kind of decoder lacks, in the order it is asked.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Lack {
    Place,
    Polarity,
    Volts,
    Outputs,
    Levels,
    Curve,
}

/// What the nearest place lacks, in the order it is asked; with the place, and the kind that gets farthest there.
enum Cause<'j> {
    Volts(&'j PlaceSpec),
    Permit(&'j PlaceSpec, &'j str),
    Decoder(&'j PlaceSpec, Lack, &'j DecoderSpec),
}

impl Cause<'_> {
    fn rank(&self) -> (u8, Option<Lack>) {
        match self {
            Self::Volts(_) => (0, None),
            Self::Permit(..) => (1, None),
            Self::Decoder(_, lack, _) => (2, Some(*lack)),
        }
    }
}

/// Why no place that a run has a route from can feed it.
pub(super) fn no_place(job: &Job, work: &RunWork<'_>) -> Finding {
    let (run, zone) = (work.spec, work.zone);
    let Some(strip) = job.strip(&zone.strip) else {
        return feed_problem::no_model(&run.name);
    };
    let of_zone = |place: &&PlaceSpec| named(&zone.places, &place.name);
    let reached = |place: &&PlaceSpec| run.routes.iter().any(|route| route.place == place.name);
    let places = job.places().iter().filter(of_zone).filter(reached);
    let mut nearest: Option<Cause<'_>> = None;
    for place in places {
        let cause = lacking(job, zone, strip, place);
        // The first of those that come as near.
        if let Some(cause) = cause
            && nearest
                .as_ref()
                .is_none_or(|before| before.rank() < cause.rank())
        {
            nearest = Some(cause);
        }
    }
    told(&run.name, zone, strip, nearest)
}

/// What a place lacks; none where it lacks nothing.
fn lacking<'j>(
    job: &'j Job,
    zone: &ZoneSpec,
    strip: &StripSpec,
    place: &'j PlaceSpec,
) -> Option<Cause<'j>> {
    let mut of_voltage = job
        .supplies()
        .iter()
        .filter(|s| same_voltage(s, strip))
        .peekable();
    let Some(first) = of_voltage.peek().map(|s| s.name.as_str()) else {
        return Some(Cause::Volts(place));
    };
    if !of_voltage.any(|s| named(&zone.supplies, &s.name) && named(&place.supplies, &s.name)) {
        return Some(Cause::Permit(place, first));
    }
    if !decoders(job, zone, place).is_empty() {
        return None;
    }
    let each = job.decoders().iter();
    let lacks = each.filter_map(|d| Some((lack(d, zone, place, strip)?, d)));
    // The first by name of those that get farthest.
    let (lack, kind) = lacks.reduce(|a, b| if b.0 > a.0 { b } else { a })?;
    Some(Cause::Decoder(place, lack, kind))
}

/// What a kind of decoder lacks to serve a zone from a place.
fn lack(d: &DecoderSpec, zone: &ZoneSpec, place: &PlaceSpec, strip: &StripSpec) -> Option<Lack> {
    let (bits, curve) = asked(zone)?;
    let rated = strip.rated.value;
    let holds = [
        (
            Lack::Place,
            named(&zone.decoders, &d.name) && named(&place.decoders, &d.name),
        ),
        (Lack::Polarity, d.polarity == strip.polarity),
        (
            Lack::Volts,
            rated >= d.volts.0.value && rated <= d.volts.1.value,
        ),
        (Lack::Outputs, d.outputs as usize >= strip.emitters.len()),
        (Lack::Levels, d.levels.contains(&bits)),
        (Lack::Curve, d.curves.contains(&curve)),
    ];
    holds
        .into_iter()
        .find_map(|(lack, holds)| (!holds).then_some(lack))
}

/// Whether a kind of decoder can serve a zone from a place.
pub(super) fn serves(
    d: &DecoderSpec,
    zone: &ZoneSpec,
    place: &PlaceSpec,
    strip: &StripSpec,
) -> bool {
    asked(zone).is_some() && lack(d, zone, place, strip).is_none()
}

/// What a zone asks of a decoder; none where it is switched.
fn asked(zone: &ZoneSpec) -> Option<(LevelBits, LevelCurve)> {
    match zone.control {
        Control::Dmx { bits, curve } => Some((bits, curve)),
        Control::Switched => None,
    }
}

fn told(run: &str, zone: &ZoneSpec, strip: &StripSpec, cause: Option<Cause<'_>>) -> Finding {
    let Some(cause) = cause else {
        return feed_problem::no_route(run, &zone.name);
    };
    let (place, lack, d) = match cause {
        Cause::Volts(place) => return feed_problem::no_supply(run, &place.name, strip.rated),
        Cause::Permit(place, supply) => {
            return feed_problem::supply_not_permitted(run, &place.name, supply, strip.rated);
        }
        Cause::Decoder(place, lack, d) => (&place.name, lack, d),
    };
    let asked = asked(zone);
    match lack {
        Lack::Place => feed_problem::decoder_not_permitted(run, place, &d.name),
        Lack::Polarity => feed_problem::polarity(run, place, &d.name, strip.polarity),
        Lack::Volts => feed_problem::decoder_volts(run, place, &d.name, strip.rated, d.volts),
        Lack::Outputs => {
            feed_problem::outputs(run, place, &d.name, d.outputs, strip.emitters.len())
        }
        Lack::Levels => feed_problem::levels(
            run,
            place,
            &d.name,
            asked.map_or("", |(bits, _)| bits.words()),
        ),
        Lack::Curve => feed_problem::curve(
            run,
            place,
            &d.name,
            asked.map_or("", |(_, curve)| curve.words()),
        ),
    }
}
