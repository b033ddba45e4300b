//! `network`: nodes, links, sources, single loads and tapes of several emitters, named, to voltages and currents.

use super::fault::{Kind, Refusal, near, read, write};
use super::solution;
use evenrun::load::Load;
use evenrun::network::{
    Along, Attachment, Corner, EmitterSpec, LawId, Limit, LinkSpec, LoadSpec, NetworkSpec, NodeId,
    Polarity, RailSpec, SolveOptions, SourceSpec, TapeSpec, Workspace,
};
use evenrun::quantity::{
    ElectricPotential, ElectricalResistance, Ohms, Ratio, Temperature, celsius, valued,
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
    if cells > MOST_CELLS {
        return Err(Refusal::check([format!(
            "{cells} cells of all emitters in one line; at most {MOST_CELLS} are answered: ask in parts"
        )]));
    }
    let network = spec(&input)?
        .check()
        .map_err(|faults| Refusal::check(faults.0))?;
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
    fn node(&mut self, by: &str, name: &str) -> NodeId {
        NodeId(find(&self.nodes, "node", by, name, &mut self.faults))
    }

    fn law(&mut self, by: &str, name: &str) -> LawId {
        LawId(find(&self.laws, "law", by, name, &mut self.faults))
    }
}

fn find(all: &[&str], what: &str, by: &str, name: &str, faults: &mut Vec<String>) -> usize {
    if let Some(at) = all.iter().position(|known| *known == name) {
        return at;
    }
    let short: String = name.chars().take(60).collect();
    let hint = match near(name, all.iter().copied()) {
        Some(meant) => format!("did you mean `{meant}`?"),
        None => format!("list it under `{what}s`, or mend the name"),
    };
    faults.push(format!(
        "{by} names {what} `{short}`, which is not listed; {hint}"
    ));
    0
}

/// The spec with names as places.
fn spec(input: &Input) -> Result<NetworkSpec, Refusal> {
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
            Err(error) => names.faults.push(format!("law `{}`: {error}", law.name)),
        }
    }
    for link in &input.links {
        let by = format!("link `{}`", link.name);
        let (from, to) = (names.node(&by, &link.from), names.node(&by, &link.to));
        spec.links
            .push(LinkSpec::new(&link.name, from, to, link.resistance));
    }
    for source in &input.sources {
        let by = format!("source `{}`", source.name);
        let (plus, minus) = (
            names.node(&by, &source.plus),
            names.node(&by, &source.minus),
        );
        spec.source(SourceSpec {
            tolerance: source.tolerance,
            output_resistance: source.output_resistance,
            limit: source.limit,
            ..SourceSpec::stiff(&source.name, plus, minus, source.set_point)
        });
    }
    for load in &input.loads {
        let by = format!("load `{}`", load.name);
        let (plus, minus) = (names.node(&by, &load.plus), names.node(&by, &load.minus));
        let law = names.law(&by, &load.law);
        spec.loads.push(LoadSpec::new(&load.name, plus, minus, law));
    }
    for tape in &input.tapes {
        let tape = tape.spec(&mut names);
        spec.tape(tape);
    }
    if names.faults.is_empty() {
        Ok(spec)
    } else {
        names.faults.truncate(1000);
        Err(Refusal::check(names.faults))
    }
}

impl Tape {
    fn spec(&self, names: &mut Names<'_>) -> TapeSpec {
        let by = format!("tape `{}`", self.name);
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
        EmitterSpec {
            name: self.name.clone(),
            lit: self.lit,
            law: names.law(&by, &self.law),
            exceptions: exceptions
                .map(|(cell, law)| (*cell, names.law(&by, law)))
                .collect(),
            rail: self.rail.spec(&by, names),
        }
    }
}

impl Rail {
    fn spec(&self, by: &str, names: &mut Names<'_>) -> RailSpec {
        RailSpec {
            links: match &self.links {
                Links::Same(each) => Along::Uniform(each.0),
                Links::Each(all) => Along::Each(all.iter().map(|each| each.0).collect()),
            },
            attachments: self
                .attachments
                .iter()
                .map(|joint| {
                    let node = names.node(by, &joint.node);
                    Attachment::through(joint.cell, node, joint.resistance)
                })
                .collect(),
        }
    }
}
