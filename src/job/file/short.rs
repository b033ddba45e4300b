//! The short job: what is taken where a file names no place, no zone, no universe, no decoder, or no more of a feeder than
//! its length.
//!
//! | where the file has no | there is |
//! | --- | --- |
//! | `cores` of a cable | a core for each emitter and one in common, of the strip that has most |
//! | `[[place]]` | one place |
//! | `[[zone]]` | one zone of the only strip, `control` at the top of the file |
//! | `strip`, `places` of a zone; `zone`, `cables` of a run | the only one; all; the only one; all that have cores enough |
//! | `routes` of a run, but its `feeder` | one route to its start, guessed |
//! | `[[universe]]`, of a dimmed zone | the first |
//! | `[[decoder]]`, of a dimmed zone | one that is not named: how many outputs of which current are needed is found, and asked for |

use super::places;
use super::table::Table;
use crate::exact::ExactLength;
use crate::job::fault::FaultKind;
use crate::job::spec::{
    Control, DecoderSpec, Edges, EnergyLimit, Environment, JobSpec, LevelBits, LevelCurve,
    PlaceSpec, PortIsolation, Service, SignalLoss, Standby, StripSpec, TakenFact, Together,
    UnitLoads, UniverseSpec, ZoneSpec, taken,
};
use crate::layout::spec::{RouteBasis, RouteSpec, RunPoint};
use crate::quantity::{amps, hertz};

/// The place of a job that names none.
const PLACE: &str = "supply place";
/// The zone of a job that names none.
const ZONE: &str = "all runs";

/// Cores of a cable that states none: those of the strip with most emitters, and two at least.
pub(super) fn cores(job: &JobSpec) -> u32 {
    let emitters = job.strips.iter().map(|strip| strip.emitters.len());
    emitters.max().unwrap_or(1).clamp(1, 99) as u32 + 1
}

/// One place where none is named.
pub(super) fn place(root: &Table<'_>, job: &mut JobSpec) {
    if root.has("place") || !root.has("run") {
        return;
    }
    root.take(TakenFact::OnePlace, PLACE);
    root.take(TakenFact::PlaceAmbient, PLACE);
    job.places.push(PlaceSpec {
        name: PLACE.to_string(),
        room: String::new(),
        access: String::new(),
        environment: Environment::default(),
        ingress: None,
        ambient: taken::place_ambient(),
        circuit: String::new(),
        service: Service::default(),
        supplies: Vec::new(),
        decoders: Vec::new(),
        most_supplies: None,
        most_decoders: None,
        standby: Standby::default(),
        lead: None,
        lead_cables: Vec::new(),
        ways: Vec::new(),
    });
}

/// One zone where none is named; its `control` stands at the top of the file.
pub(super) fn zone(root: &Table<'_>, job: &mut JobSpec) {
    const WORDS: &str = "control = \"switched\", \"8 bit\" or \"16 bit\"";
    if root.has("zone") {
        if root.has("control") {
            root.say(
                FaultKind::Contradiction,
                "control",
                "stands at the top of a job that has zones",
                "Write it in each [[zone]]",
                "",
            );
        }
        return;
    }
    let stated = root.has("control");
    if !root.has("run") || job.strips.is_empty() {
        return;
    }
    let [strip] = job.strips.as_slice() else {
        root.say(
            FaultKind::Missing,
            "zone",
            format!("is missing: the job has {} strips", job.strips.len()),
            format!("Write a [[zone]] for what is lit together, with its strip and {WORDS}"),
            "",
        );
        return;
    };
    if !stated {
        root.missing("control", &format!("{WORDS}, or a [[zone]]"));
    }
    root.take(TakenFact::OneZone, ZONE);
    job.zones.push(ZoneSpec {
        name: ZONE.to_string(),
        strip: strip.name.clone(),
        control: match stated {
            true => places::control(root),
            false => Control::Switched,
        },
        together: Together::default(),
        places: job.places.iter().map(|place| place.name.clone()).collect(),
        supplies: Vec::new(),
        decoders: Vec::new(),
        cables: Vec::new(),
        service: Service::default(),
        universe: None,
    });
}

/// Cables with cores enough for the strip of a zone.
pub(super) fn cables(job: &JobSpec, zone: &ZoneSpec) -> Vec<String> {
    let strip = job.strips.iter().find(|strip| strip.name == zone.strip);
    let needed = strip.map_or(2, |strip| strip.emitters.len() + 1);
    let all = job.cables.iter();
    all.filter(|cable| cable.cores as usize >= needed)
        .map(|cable| cable.name.clone())
        .collect()
}

/// The route that `feeder` stands for: to the start of the run from the only place of its zone.
pub(super) fn feeder(table: &Table<'_>, run: &str, zone: Option<&ZoneSpec>) -> Option<RouteSpec> {
    let length: ExactLength = table.maybe_length("feeder")?;
    table.both(
        "feeder",
        "routes",
        "Keep `routes`, or `feeder` where its length to the start is all that is known",
    );
    if table.has("routes") {
        return None;
    }
    let places = zone.map_or(&[][..], |zone| &zone.places);
    if places.len() > 1 {
        table.say(
            FaultKind::Contradiction,
            "feeder",
            format!("does not say from where: its zone has {} places", places.len()),
            "Write routes = [{ from = \"…\", to = \"start\", length = \"…\", basis = \"guessed\" }] instead",
            "",
        );
    }
    table.take(TakenFact::Feeder, run);
    Some(RouteSpec {
        place: places.first().cloned().unwrap_or_default(),
        to: RunPoint::Start,
        length,
        basis: RouteBasis::Guessed,
    })
}

/// A universe, and decoders that are not named, where a zone is dimmed and the file has none.
pub(super) fn control(root: &Table<'_>, job: &mut JobSpec) {
    let dimmed = |zone: &&ZoneSpec| matches!(zone.control, Control::Dmx { .. });
    if !job.zones.iter().any(|zone| dimmed(&zone)) {
        return;
    }
    if !root.has("universe") {
        root.take(TakenFact::Universe, "1");
        job.universes.push(UniverseSpec {
            name: "1".to_string(),
            number: 1,
            port: String::new(),
            taken: Vec::new(),
        });
    }
    if root.has("decoder") {
        return;
    }
    let strips = job.zones.iter().filter(dimmed);
    let strips = strips.filter_map(|zone| job.strips.iter().find(|s| s.name == zone.strip));
    let most = job
        .supplies
        .iter()
        .map(|supply| supply.output_current.value);
    let most = most.fold(0.0, f64::max);
    let mut decoders: Vec<DecoderSpec> = Vec::new();
    for strip in strips {
        let one = not_named(strip, most);
        if decoders.iter().all(|other| other.name != one.name) {
            root.take(TakenFact::DecoderSwitch, &one.name);
            decoders.push(one);
        }
    }
    job.decoders = decoders;
}

/// A decoder that is not named, wide enough for everything that the plan may put on it. Only its outputs and its switch have a
/// meaning: no rule reads the rest.
fn not_named(strip: &StripSpec, most: f64) -> DecoderSpec {
    let outputs = taken::DECODER_OUTPUTS.max(strip.emitters.len() as u32);
    let all = most * f64::from(outputs);
    DecoderSpec {
        name: format!(
            "not named, for {}",
            strip.name.chars().take(60).collect::<String>()
        ),
        outputs,
        output_current: amps(most),
        total_current: amps(all),
        terminal_current: amps(all),
        volts: (strip.rated * 0.5, strip.rated * 1.5),
        polarity: strip.polarity,
        switch: taken::decoder_switch(),
        // The slow side: a limit for chopped current below 200 Hz is then kept too.
        frequency: hertz(100.0),
        bits: 16,
        levels: vec![LevelBits::Eight, LevelBits::Sixteen],
        curves: vec![LevelCurve::Linear, LevelCurve::Square, LevelCurve::Cubic],
        shortest_pulse: None,
        edges: Edges::Unknown,
        signal_loss: SignalLoss::Unknown,
        port: PortIsolation::Unknown,
        unit_loads: UnitLoads::ONE,
        energy: EnergyLimit::Unknown,
        ingress: None,
        price: None,
    }
}
