//! `conductor`: resistance, drop and ampacity of a conductor of a standard size, or resistance and drop of any area of metal.

use super::fault::{Fault, Kind, Refusal, write};
use super::form::read;
use evenrun::cable::drop::loop_drop;
use evenrun::cable::resistance::area_resistance;
use evenrun::cable::{
    Ampacity, Cable, CableSpec, ConductorSize, Construction, Installation, Metal, NoTable,
    Resistance,
};
use evenrun::quantity::{
    Amps, Metres, Ohms, RouteLength, SquareMetres, Temperature, Volts, celsius, ohms,
};
use serde::{Deserialize, Serialize};

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Input {
    /// A standard size; or else an area of metal.
    size: Option<ConductorSize>,
    area: Option<SquareMetres>,
    /// Copper unless stated.
    metal: Option<Metal>,
    /// Stranded (class 5 for a size in mm²) unless stated.
    construction: Option<Construction>,
    /// Of the conductor; 20 °C unless stated.
    temperature: Option<Temperature>,
    /// One way.
    length: Option<Metres>,
    current: Option<Amps>,
    /// How it is installed, where an ampacity is asked for.
    installed: Option<Installation>,
    /// 30 °C unless stated.
    ambient: Option<Temperature>,
    /// Rating of the insulation.
    insulation: Option<Temperature>,
    /// Loaded conductors close by, this one included; 2 unless stated.
    loaded: Option<usize>,
}

#[derive(Serialize)]
struct Answer {
    resistance: Resistance,
    /// Of one conductor, one way.
    #[serde(skip_serializing_if = "Option::is_none")]
    one_way: Option<Ohms>,
    /// Of `current`, out and back.
    #[serde(skip_serializing_if = "Option::is_none")]
    drop: Option<Volts>,
    #[serde(skip_serializing_if = "Option::is_none")]
    ampacity: Option<AmpacityAnswer>,
}

#[derive(Serialize)]
#[serde(rename_all = "snake_case")]
enum AmpacityAnswer {
    Found(Ampacity),
    /// An answer too: nothing is extrapolated.
    None(NoTable),
}

pub fn answer(input: &str) -> Result<String, Refusal> {
    let input: Input = read(input)?;
    let mut faults = Vec::new();
    figures(&input, &mut faults);
    let metal = conductor(&input, &mut faults);
    Refusal::unless(faults)?;
    let Some((resistance, ampacity)) = metal else {
        return Err(Refusal::of(Kind::Program, "no conductor and no fault"));
    };
    let per_length = resistance.per_length;
    let route = input.length.map(|length| RouteLength::new(length.0));
    let drop = |route: RouteLength, current: Amps| {
        Volts::from(loop_drop(per_length, route.there_and_back(), current.0))
    };
    write(&Answer {
        one_way: route.map(|route| ohms(per_length.value * route.length().value).into()),
        drop: route
            .zip(input.current)
            .map(|(route, current)| drop(route, current)),
        ampacity,
        resistance,
    })
}

/// What is wrong with figures that stand by themselves.
fn figures(input: &Input, faults: &mut Vec<Fault>) {
    for (name, figure) in [
        ("length", input.length.map(|l| l.si())),
        ("current", input.current.map(|i| i.si())),
    ] {
        if let Some(figure) = figure
            && !(0.0..=1e9).contains(&figure)
        {
            faults.push(Fault::at(
                name,
                format!("{figure} is not within 0 to 1000000000"),
            ));
        }
    }
    if input.loaded == Some(0) {
        faults.push(Fault::at(
            "loaded",
            "0 loaded conductors carry nothing; write 2 or more, this one included, or leave it out",
        ));
    }
}

/// Resistance and ampacity of the conductor, or what is wrong with it.
fn conductor(
    input: &Input,
    faults: &mut Vec<Fault>,
) -> Option<(Resistance, Option<AmpacityAnswer>)> {
    let at = input.temperature.map_or(celsius(20.0), |t| t.0);
    match (input.size, input.area) {
        (Some(size), None) => {
            let checked = cable(input, size).check();
            let cable = checked.map_err(|found| faults.extend(found.iter().map(Fault::plain)));
            let found = cable.ok().map(|cable| {
                let found = cable.core_resistance_per_length(0, at);
                (
                    found,
                    input.installed.map(|way| ampacity(input, &cable, way)),
                )
            });
            match found {
                Some((Ok(resistance), ampacity)) => Some((resistance, ampacity)),
                Some((Err(error), _)) => {
                    faults.push(Fault::at("temperature", error));
                    None
                }
                None => None,
            }
        }
        (None, Some(area)) => {
            if input.installed.is_some() {
                faults.push(Fault::at(
                    "installed",
                    "tables of ampacity know standard sizes only, and nothing is extrapolated: give `size`, or leave out `installed`",
                ));
            }
            let metal = input.metal.unwrap_or(Metal::Copper);
            let construction = input.construction.unwrap_or(Construction::Stranded);
            let found = area_resistance(area.0, metal, construction, at);
            let found = found.map_err(|error| faults.push(Fault::plain(error)));
            found.ok().map(|resistance| (resistance, None))
        }
        _ => {
            faults.push(Fault::at(
                "size",
                "give either `size`, such as \"18 AWG\", or `area`, such as \"12.5 mm²\"",
            ));
            None
        }
    }
}

fn cable(input: &Input, size: ConductorSize) -> CableSpec {
    let usual = CableSpec::two_core(size.to_string(), size);
    CableSpec {
        metal: input.metal.unwrap_or(usual.metal),
        construction: input.construction.unwrap_or(usual.construction),
        insulation_rating: input.insulation.map(|rating| rating.0),
        ..usual
    }
}

fn ampacity(input: &Input, cable: &Cable, installed: Installation) -> AmpacityAnswer {
    let ambient = input.ambient.map_or(celsius(30.0), |t| t.0);
    match cable.ampacity(ambient, input.loaded.unwrap_or(2), installed) {
        Ok(found) => AmpacityAnswer::Found(found),
        Err(none) => AmpacityAnswer::None(none),
    }
}
