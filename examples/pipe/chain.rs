//! `chain`: a DMX chain to its links, what the rules say, and what every device of it sees.

use super::fault::{Kind, Refusal, write};
use super::form::read;
use evenrun::dmx::chain::{ChainSpec, Link};
use evenrun::dmx::signal::{Signal, SignalSpec};
use evenrun::finding::Finding;
use evenrun::quantity::{Metres, metres};
use serde::{Deserialize, Serialize};

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Input {
    chain: ChainSpec,
    /// Whether the line is simulated in time, from the weakest driver that is permitted.
    #[serde(default = "yes")]
    signal: bool,
}

fn yes() -> bool {
    true
}

#[derive(Serialize)]
struct Answer {
    links: Vec<LinkAnswer>,
    findings: Vec<Finding>,
    #[serde(skip_serializing_if = "Option::is_none")]
    signal: Option<Signal>,
}

#[derive(Serialize)]
struct LinkAnswer {
    driver: String,
    output: usize,
    devices: usize,
    unit_loads: f64,
    length: Metres,
}

impl LinkAnswer {
    fn of(link: &Link) -> Self {
        Self {
            driver: link.driver.clone(),
            output: link.output,
            devices: link.devices,
            unit_loads: link.unit_loads(),
            length: metres(link.length()).into(),
        }
    }
}

pub fn answer(input: &str) -> Result<String, Refusal> {
    let input: Input = read(input)?;
    let chain = input.chain.check().map_err(Refusal::check)?;
    let mut findings = chain.judge();
    let mut signal = None;
    if input.signal {
        let spec = SignalSpec::default().check().map_err(Refusal::check)?;
        let seen = chain
            .simulate(&spec)
            .map_err(|error| Refusal::of(Kind::Answer, error))?;
        findings.extend(seen.judge());
        signal = Some(seen);
    }
    write(&Answer {
        links: chain.links().iter().map(LinkAnswer::of).collect(),
        findings,
        signal,
    })
}
