//! `network`: nodes, links, sources, single loads and tapes of several emitters, named, to voltages and currents.

use super::fault::{Fault, Kind, Refusal, near, write};
use super::form::read;
use super::solution;
use evenrun::load::{Load, Resistive};
use evenrun::network::{
    Along, Attachment, Corner, EmitterSpec, LawId, Limit, LinkSpec, LoadSpec, NetworkSpec, NodeId,
    Polarity, RailSpec, SolveOptions, SourceSpec, TapeSpec, Workspace,
};
use evenrun::quantity::{
    ElectricPotential, ElectricalResistance, Ohms, Ratio, Temperature, celsius, ohms, valued,
};
use serde::Deserialize;

/// Most cells times emitters of a line: its answer lists each.
pub const MOST_CELLS: usize = 200_000;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Input {
    pub nodes: Vec<String>,
    #[serde(default)]
    pub links: Vec<Link>,
    pub sources: Vec<Source>,
    /// What loads and cells draw, by name.
    #[serde(default)]
    pub laws: Vec<NamedLaw>,
    #[serde(default)]
    pub loads: Vec<SingleLoad>,
    #[serde(default)]
    pub tapes: Vec<Tape>,
    /// Corner of the sources' tolerance; nominal unless stated.
    #[serde(default)]
    pub corner: Corner,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Link {
    pub name: String,
    from: String,
    to: String,
    #[serde(with = "valued")]
    resistance: ElectricalResistance,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Source {
    pub name: String,
    plus: String,
    minus: String,
    #[serde(with = "valued")]
    set_point: ElectricPotential,
    #[serde(default, with = "valued")]
    tolerance: Ratio,
    #[serde(default, with = "valued")]
    output_resistance: ElectricalResistance,
    #[serde(default)]
    limit: Limit,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct NamedLaw {
    name: String,
    load: Load,
    /// Of the junctions; 25 °C unless stated.
    temperature: Option<Temperature>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SingleLoad {
    pub name: String,
    plus: String,
    minus: String,
    law: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Tape {
    pub name: String,
    #[serde(default)]
    polarity: Polarity,
    cells: usize,
    pub common: Rail,
    pub emitters: Vec<Emitter>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Emitter {
    pub name: String,
    #[serde(default = "yes")]
    lit: bool,
    law: String,
    /// Cells that differ, each with its law.
    #[serde(default)]
    exceptions: Vec<(usize, String)>,
    pub rail: Rail,
}

fn yes() -> bool {
    true
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Rail {
    links: Links,
    pub attachments: Vec<Joint>,
}

/// From each cell to the next.
#[derive(Deserialize)]
#[serde(
    untagged,
    expecting = "a resistance, or a list of one for each link, each as {\"ohm\": number} or as text such as \"5 mΩ\""
)]
enum Links {
    Same(Ohms),
    Each(Vec<Ohms>),
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Joint {
    cell: usize,
    node: String,
    #[serde(default, with = "valued")]
    resistance: ElectricalResistance,
}

pub fn answer(input: &str) -> Result<String, Refusal> {
    let input: Input = read(input)?;
    let each = input.tapes.iter();
    let cells = each.map(|tape| tape.cells.saturating_mul(tape.emitters.len()));
    let cells = cells.fold(0, usize::saturating_add);
    let (spec, mut faults) = spec(&input);
    let mut network = None;
    if cells > MOST_CELLS {
        faults.push(format!(
            "{cells} cells of all emitters in one line; at most {MOST_CELLS} are answered: ask in parts"
        ));
    } else if input.sources.is_empty() || !spec.sources.is_empty() {
        match spec.check() {
            Ok(checked) => network = Some(checked),
            Err(found) => faults.extend(found.0.iter().map(ToString::to_string)),
        }
    }
    faults.truncate(1000);
    Refusal::unless(faults.into_iter().map(Fault::plain).collect())?;
    let Some(network) = network else {
        return Err(Refusal::of(Kind::Program, "no network and no fault"));
    };
    let options = SolveOptions {
        corner: input.corner,
        ..SolveOptions::default()
    };
    let mut work = Workspace::new();
    let solution = network
        .solve(&options, &mut work)
        .map_err(|error| Refusal::of(Kind::Answer, error))?;
    write(&solution::answer(&input, &solution))
}

/// Names to places; every name that means nothing is a fault.
struct Names<'a> {
    nodes: Vec<&'a str>,
    laws: Vec<&'a str>,
    faults: Vec<String>,
}

impl Names<'_> {
    fn node(&mut self, by: &str, name: &str) -> Option<NodeId> {
        find(&self.nodes, "node", by, name, &mut self.faults).map(NodeId)
    }

    fn law(&mut self, by: &str, name: &str) -> Option<LawId> {
        find(&self.laws, "law", by, name, &mut self.faults).map(LawId)
    }
}

fn find(all: &[&str], what: &str, by: &str, name: &str, faults: &mut Vec<String>) -> Option<usize> {
    if let Some(at) = all.iter().position(|known| *known == name) {
        return Some(at);
    }
    let short: String = name.chars().take(60).collect();
    let hint = match near(name, all.iter().copied()) {
        Some(meant) => format!("did you mean `{meant}`?"),
        None => format!("list it under `{what}s`, or mend the name"),
    };
    faults.push(format!(
        "{by} names {what} `{short}`, which is not listed; {hint}"
    ));
    None
}

/// The spec with names as places, and what is wrong with them. What names nothing is left out, so that the rest can be checked.
fn spec(input: &Input) -> (NetworkSpec, Vec<String>) {
    let mut spec = NetworkSpec::new();
    let mut names = Names {
        nodes: input.nodes.iter().map(String::as_str).collect(),
        laws: input.laws.iter().map(|law| law.name.as_str()).collect(),
        faults: Vec::new(),
    };
    for node in &input.nodes {
        spec.node(node);
    }
    for law in &input.laws {
        let at = law.temperature.map_or(celsius(25.0), |t| t.0);
        match law.load.law(at) {
            Ok(checked) => {
                spec.law(checked);
            }
            Err(error) => {
                names.faults.push(format!("law `{}`: {error}", law.name));
                // Another in its place, so that the next laws keep theirs.
                let stand_in = Load::Resistive(Resistive {
                    resistance: ohms(1e3),
                });
                if let Ok(law) = stand_in.law(at) {
                    spec.law(law);
                }
            }
        }
    }
    for link in &input.links {
        let by = format!("link `{}`", link.name);
        let (from, to) = (names.node(&by, &link.from), names.node(&by, &link.to));
        if let (Some(from), Some(to)) = (from, to) {
            spec.links
                .push(LinkSpec::new(&link.name, from, to, link.resistance));
        }
    }
    for source in &input.sources {
        let by = format!("source `{}`", source.name);
        let (plus, minus) = (
            names.node(&by, &source.plus),
            names.node(&by, &source.minus),
        );
        if let (Some(plus), Some(minus)) = (plus, minus) {
            spec.source(SourceSpec {
                tolerance: source.tolerance,
                output_resistance: source.output_resistance,
                limit: source.limit,
                ..SourceSpec::stiff(&source.name, plus, minus, source.set_point)
            });
        }
    }
    for load in &input.loads {
        let by = format!("load `{}`", load.name);
        let (plus, minus) = (names.node(&by, &load.plus), names.node(&by, &load.minus));
        let law = names.law(&by, &load.law);
        if let (Some(plus), Some(minus), Some(law)) = (plus, minus, law) {
            spec.loads.push(LoadSpec::new(&load.name, plus, minus, law));
        }
    }
    for tape in &input.tapes {
        let before = names.faults.len();
        let made = tape.spec(&mut names);
        if names.faults.len() == before {
            spec.tape(made);
        }
    }
    (spec, names.faults)
}

impl Tape {
    fn spec(&self, names: &mut Names<'_>) -> TapeSpec {
        let by = format!("tape `{}`", self.name);
        let lit = self.emitters.iter().any(|emitter| emitter.lit);
        self.common.fed(&format!("{by}: its common"), lit, names);
        TapeSpec {
            name: self.name.clone(),
            polarity: self.polarity,
            cells: self.cells,
            common: self.common.spec(&by, names),
            emitters: self
                .emitters
                .iter()
                .map(|emitter| emitter.spec(&by, names))
                .collect(),
        }
    }
}

impl Emitter {
    fn spec(&self, tape: &str, names: &mut Names<'_>) -> EmitterSpec {
        let by = format!("{tape}, emitter `{}`", self.name);
        let exceptions = self.exceptions.iter();
        self.rail.fed(&format!("{by}: its return"), self.lit, names);
        let nothing = LawId(0);
        EmitterSpec {
            name: self.name.clone(),
            lit: self.lit,
            law: names.law(&by, &self.law).unwrap_or(nothing),
            exceptions: exceptions
                .map(|(cell, law)| (*cell, names.law(&by, law).unwrap_or(nothing)))
                .collect(),
            rail: self.rail.spec(&by, names),
        }
    }
}

impl Rail {
    /// A rail of what is lit must be joined to something.
    fn fed(&self, what: &str, lit: bool, names: &mut Names<'_>) {
        if lit && self.attachments.is_empty() {
            names.faults.push(format!(
                "{what} has no attachment, so that no current can flow; write one at least, like {{\"cell\": 0, \"node\": \"plus\"}}, or \"lit\": false"
            ));
        }
    }

    fn spec(&self, by: &str, names: &mut Names<'_>) -> RailSpec {
        RailSpec {
            links: match &self.links {
                Links::Same(each) => Along::Uniform(each.0),
                Links::Each(all) => Along::Each(all.iter().map(|each| each.0).collect()),
            },
            attachments: self
                .attachments
                .iter()
                .filter_map(|joint| {
                    let node = names.node(by, &joint.node)?;
                    Some(Attachment::through(joint.cell, node, joint.resistance))
                })
                .collect(),
        }
    }
}
