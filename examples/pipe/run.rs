//! `run`: break and feed one run, a [`RunProblem`] to its plan or to what stands in the way.

use super::fault::{Fault, Kind, Refusal, write};
use super::form::read;
use evenrun::choose::feeding::{
    CandidateWire, CostModel, FeedLimits, Fixed, Joint, LitStates, Pattern, PlaceRoutes, Positions,
    Reel, RunProblem, SourceModel,
};
use evenrun::exact::CutPitch;
use evenrun::load::{Law, Load, Resistive};
use evenrun::network::Polarity;
use evenrun::quantity::{
    Corners, ElectricPotential, ElectricalResistance, Temperature, celsius, ohms, valued,
};
use evenrun::strip::{TapeEmitter, TapeModel};
use serde::Deserialize;

/// Most segments evaluated unless the input says otherwise, as for the runs of a job.
const EFFORT: u64 = 1_000_000;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Input {
    #[serde(default = "unnamed")]
    run: String,
    tape: Tape,
    increments: u64,
    #[serde(default)]
    joints: Vec<Joint>,
    #[serde(default = "any")]
    breaks: Positions,
    #[serde(default = "any")]
    feed_points: Positions,
    reel: Option<Reel>,
    #[serde(default = "every")]
    patterns: Vec<Pattern>,
    places: Vec<PlaceRoutes>,
    wires: Vec<CandidateWire>,
    source: SourceModel,
    limits: FeedLimits,
    #[serde(default)]
    states: LitStates,
    #[serde(default)]
    costs: CostModel,
    #[serde(default)]
    fixed: Fixed,
    effort: Option<u64>,
}

/// One cut increment of the tape.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Tape {
    #[serde(default = "unnamed")]
    strip: String,
    pitch: CutPitch,
    #[serde(with = "valued")]
    rated: ElectricPotential,
    #[serde(default)]
    polarity: Polarity,
    #[serde(with = "valued::corners")]
    common: Corners<ElectricalResistance>,
    emitters: Vec<Emitter>,
    branch: Option<u64>,
}

#[derive(Clone, Deserialize)]
#[serde(deny_unknown_fields)]
struct Emitter {
    name: String,
    #[serde(with = "valued::corners")]
    rail: Corners<ElectricalResistance>,
    /// What one increment draws.
    load: Load,
    /// Of its junctions; 25 °C at every corner unless stated.
    temperature: Option<Corners<Temperature>>,
}

fn unnamed() -> String {
    "unnamed".to_string()
}

fn any() -> Positions {
    Positions::Any
}

fn every() -> Vec<Pattern> {
    Pattern::ALL.to_vec()
}

pub fn answer(input: &str) -> Result<String, Refusal> {
    let input: Input = read(input)?;
    let mut faults = Vec::new();
    let problem = RunProblem {
        tape: tape(input.tape, &mut faults),
        run: input.run,
        increments: input.increments,
        joints: input.joints,
        breaks: input.breaks,
        feed_points: input.feed_points,
        reel: input.reel,
        patterns: input.patterns,
        places: input.places,
        wires: input.wires,
        source: input.source,
        limits: input.limits,
        states: input.states,
        costs: input.costs,
        fixed: input.fixed,
        effort: input.effort.unwrap_or(EFFORT),
    };
    let checked = problem.check();
    if let Err(found) = &checked {
        faults.extend(found.0.iter().map(Fault::plain));
    }
    Refusal::unless(faults)?;
    let run = checked.map_err(|faults| Refusal::check(faults.0))?;
    let outcome = run
        .plan()
        .map_err(|error| Refusal::of(Kind::Answer, error))?;
    write(&outcome)
}

/// The tape with its loads checked; another load stands where one cannot be.
fn tape(tape: Tape, faults: &mut Vec<Fault>) -> TapeModel {
    let mut emitters = Vec::with_capacity(tape.emitters.len());
    for (number, emitter) in tape.emitters.into_iter().enumerate() {
        let law = laws(&emitter).or_else(|says| {
            faults.push(Fault::at(&format!("tape.emitters[{number}].load"), says));
            laws(&Emitter {
                load: Load::Resistive(Resistive {
                    resistance: ohms(1e3),
                }),
                ..emitter.clone()
            })
        });
        if let Ok(law) = law {
            emitters.push(TapeEmitter {
                name: emitter.name,
                rail: emitter.rail,
                law,
            });
        }
    }
    TapeModel {
        strip: tape.strip,
        pitch: tape.pitch,
        rated: tape.rated,
        polarity: tape.polarity,
        common: tape.common,
        emitters,
        branch: tape.branch,
    }
}

fn laws(emitter: &Emitter) -> Result<Corners<Law>, String> {
    let usual = Corners::same(Temperature::from(celsius(25.0)));
    let at = emitter.temperature.unwrap_or(usual);
    let law = |at: Temperature| emitter.load.law(at.0).map_err(|error| error.to_string());
    Ok(Corners {
        low: law(at.low)?,
        nominal: law(at.nominal)?,
        high: law(at.high)?,
    })
}
