//! Every node of 35 circuits against the general circuit simulator ngspice (`tests/reference/ngspice`), to 1e-6 V.
use crate::build::{diode, law, solved};
use evenrun::load::*;
use evenrun::network::*;
use evenrun::quantity::*;
use serde_json::Value;
use std::collections::BTreeMap;
use std::path::Path;
use std::sync::Arc;

#[derive(Debug)]
struct PowerLaw {
    siemens: f64,
    exponent: f64,
}

impl Characteristic for PowerLaw {
    fn amps_and_siemens(&self, volts: f64) -> (f64, f64) {
        let i = self.siemens * volts.powf(self.exponent);
        (
            i,
            if volts > 0.0 {
                self.exponent * i / volts
            } else {
                0.0
            },
        )
    }
}

fn number(value: &Value, key: &str) -> f64 {
    value[key]
        .as_f64()
        .unwrap_or_else(|| panic!("no number `{key}` in {value}"))
}

fn text<'a>(value: &'a Value, key: &str) -> &'a str {
    value[key]
        .as_str()
        .unwrap_or_else(|| panic!("no text `{key}` in {value}"))
}

fn list<'a>(value: &'a Value, key: &str) -> &'a [Value] {
    value[key]
        .as_array()
        .unwrap_or_else(|| panic!("no list `{key}` in {value}"))
}

fn load(v: &Value) -> Load {
    match text(v, "kind") {
        "series" => Load::Series(SeriesString {
            diode: diode(text(v, "diode")),
            count: number(v, "count") as u32,
            ballast: ohms(number(v, "ballast_ohm")),
        }),
        "line" => Load::Straight(StraightLine {
            knee: volts(number(v, "knee_v")),
            resistance: ohms(number(v, "ohm")),
            limit: v["limit_a"].as_f64().map(amps),
            volts_per_kelvin: 0.0,
        }),
        "constant_current" => Load::ConstantCurrent(ConstantCurrent {
            current: amps(number(v, "amps")),
            diode: diode(text(v, "diode")),
            count: number(v, "count") as u32,
            drop_out: volts(number(v, "drop_out_v")),
        }),
        "pixel" => Load::Pixel(Pixel {
            idle: amps(number(v, "idle_a")),
            idle_from: volts(number(v, "idle_from_v")),
            regulated: amps(number(v, "regulated_a")),
            level: fraction(number(v, "level")),
            dark_below: volts(number(v, "dark_below_v")),
            full_from: volts(number(v, "full_from_v")),
        }),
        "resistor" => Load::Resistive(Resistive {
            resistance: ohms(number(v, "ohm")),
        }),
        "power" => Load::ConstantPower(ConstantPower {
            power: watts(number(v, "watts")),
            works_from: volts(number(v, "works_from_v")),
        }),
        "power_law" => Load::Custom(Arc::new(PowerLaw {
            siemens: number(v, "siemens"),
            exponent: number(v, "exponent"),
        })),
        "readings" => {
            let pair = |r: &Value| {
                (
                    volts(r[0].as_f64().expect("volts")),
                    amps(r[1].as_f64().expect("amps")),
                )
            };
            Load::Readings(Readings {
                rows: list(v, "rows").iter().map(pair).collect(),
            })
        }
        "open" => Load::Open,
        kind => panic!("a kind the test does not know: {kind}"),
    }
}

/// A resistance; none is open.
fn resistance(v: &Value) -> ElectricalResistance {
    ohms(v.as_f64().unwrap_or(f64::INFINITY))
}

struct Reader {
    spec: NetworkSpec,
    nodes: BTreeMap<String, NodeId>,
}

impl Reader {
    fn node(&mut self, name: &Value) -> NodeId {
        let name = name.as_str().expect("a node");
        let spec = &mut self.spec;
        *self
            .nodes
            .entry(name.to_string())
            .or_insert_with(|| spec.node(name))
    }

    fn rail(&mut self, v: &Value) -> RailSpec {
        let links = match &v["links_ohm"] {
            Value::Array(each) => Along::Each(each.iter().map(resistance).collect()),
            one => Along::Uniform(resistance(one)),
        };
        let attach = list(v, "attach").iter();
        let attachments = attach
            .map(|a| {
                Attachment::through(
                    a[0].as_u64().expect("a cell") as usize,
                    self.node(&a[1]),
                    resistance(&a[2]),
                )
            })
            .collect();
        RailSpec { links, attachments }
    }

    fn tape(&mut self, number_of: usize, v: &Value) {
        let common = self.rail(&v["common"]);
        let mut emitters = Vec::new();
        for (e, emitter) in list(v, "emitters").iter().enumerate() {
            let usual = self.spec.law(law(load(&emitter["load"])));
            let mut exceptions = Vec::new();
            for odd in list(v, "exceptions")
                .iter()
                .filter(|x| x[0].as_u64() == Some(e as u64))
            {
                let law = self.spec.law(law(load(&odd[2])));
                exceptions.push((odd[1].as_u64().expect("a cell") as usize, law));
            }
            let rail = self.rail(&emitter["rail"]);
            emitters.push(EmitterSpec {
                name: format!("e{e}"),
                lit: true,
                law: usual,
                exceptions,
                rail,
            });
        }
        let polarity = if text(v, "polarity") == "plus" {
            Polarity::CommonPlus
        } else {
            Polarity::CommonMinus
        };
        let cells = number(v, "cells") as usize;
        self.spec.tape(TapeSpec {
            name: format!("t{number_of}"),
            polarity,
            cells,
            common,
            emitters,
        });
    }
}

fn network(v: &Value) -> (NetworkSpec, BTreeMap<String, NodeId>) {
    let mut reader = Reader {
        spec: NetworkSpec::new(),
        nodes: BTreeMap::new(),
    };
    for (k, s) in list(v, "sources").iter().enumerate() {
        let (plus, minus) = (reader.node(&s["plus"]), reader.node(&s["minus"]));
        reader.spec.source(SourceSpec {
            name: format!("s{k}"),
            plus,
            minus,
            set_point: volts(number(s, "volts")),
            tolerance: percent(0.0),
            output_resistance: ohms(number(s, "ohm")),
            limit: s["limit_a"]
                .as_f64()
                .map_or(Limit::None, |i| Limit::ConstantCurrent(amps(i))),
        });
    }
    for (k, l) in list(v, "links").iter().enumerate() {
        let (a, b) = (reader.node(&l[0]), reader.node(&l[1]));
        reader.spec.link(format!("l{k}"), a, b, resistance(&l[2]));
    }
    for (k, l) in list(v, "loads").iter().enumerate() {
        let (a, b) = (reader.node(&l[0]), reader.node(&l[1]));
        let id = reader.spec.law(law(load(&l[2])));
        reader.spec.load(format!("load {k}"), a, b, id);
    }
    for (k, t) in list(v, "tapes").iter().enumerate() {
        reader.tape(k, t);
    }
    (reader.spec, reader.nodes)
}

/// Voltage of a node by the netlist's name: `c<tape>_<rail>_<cell>` for pads.
fn volts_of(s: &Solution, nodes: &BTreeMap<String, NodeId>, name: &str) -> f64 {
    if let Some(node) = nodes.get(name) {
        return s.node_voltage(*node).expect("a live node").value;
    }
    let parts: Vec<usize> = name
        .trim_start_matches('c')
        .split('_')
        .map(|p| p.parse().expect("a pad"))
        .collect();
    let rail = if parts[1] == 0 {
        Rail::Common
    } else {
        Rail::Return(parts[1] - 1)
    };
    s.tape(TapeId(parts[0])).expect("a tape").rail_volts(rail)[parts[2]]
}

#[test]
fn every_node_of_every_circuit() {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/reference/ngspice/circuits.json");
    let circuits: Vec<Value> =
        serde_json::from_str(&std::fs::read_to_string(file).expect("circuits.json"))
            .expect("circuits");
    assert!(circuits.len() >= 35, "{} circuits", circuits.len());
    let rows = crate::common::rows("ngspice/node_volts.csv", 2017);
    let (mut errors, mut kinds) = (Vec::new(), BTreeMap::new());
    for circuit in &circuits {
        let name = text(circuit, "name");
        let (spec, nodes) = network(circuit);
        let mine: Vec<_> = rows.iter().filter(|r| r.text("circuit") == name).collect();
        assert!(mine.len() > 20, "{name}: {} rows", mine.len());
        let worst = solved(spec, |s| {
            mine.iter()
                .map(|row| (volts_of(s, &nodes, row.text("node")) - row.number("volts")).abs())
                .collect::<Vec<_>>()
        });
        kinds.insert(name, worst.iter().copied().fold(0.0, f64::max));
        errors.extend(worst);
    }
    assert_eq!(errors.len(), rows.len(), "a node was not compared");
    errors.sort_by(f64::total_cmp);
    let at = |share: f64| errors[((errors.len() - 1) as f64 * share) as usize];
    println!(
        "75 % within {:.1e} V, 99 % within {:.1e} V, worst {:.1e} V",
        at(0.75),
        at(0.99),
        at(1.0)
    );
    assert!(at(1.0) <= 1e-6, "{kinds:#?}");
}
