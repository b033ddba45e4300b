//! Every chain of the design before the rules of the data line.

use super::View;
use super::view::why_not;
use crate::design::{Chain, ChainDevice, Design, Limits, Margin};
use crate::device::UnitLoads;
use crate::dmx::chain::{ChainSpec, Ground, Habits, LineCable, Part};
use crate::dmx::signal;
use crate::finding::{Case, DataLink, Finding, Rule, Subject, Value};
use crate::id::{ChainId, DecoderId, PartId};
use crate::job::spec::DataCable;
use crate::quantity::volts;
use crate::source::Source;
use std::collections::BTreeSet;

const FAULT: Case = Case::open("fault", "the data line", "{why}").remedy("correct the chain");

pub(super) static CHAIN: Rule = Rule {
    id: "chain",
    title: "A chain that can be judged",
    asks: "Can each chain be judged as it is stated?",
    source: Source::job("the job"),
    needs: &[],
    cases: &[&FAULT],
};

/// What the rules of the data line say, chain by chain.
pub(super) fn all(design: &Design) -> Vec<Finding> {
    let limits = &design.limits;
    let chains = design.chains.iter();
    chains
        .flat_map(|chain| match line(chain, limits).check() {
            Ok(line) => line.judge(),
            Err(faults) => faults.iter().map(|why| fault(&chain.id, why)).collect(),
        })
        .collect()
}

/// A chain that cannot be judged as it is stated, and why.
fn fault(chain: &ChainId, why: &impl ToString) -> Finding {
    CHAIN
        .not_evaluated(&FAULT, Subject::Chain(chain.clone()))
        .fact("why", Value::note(why.to_string()))
}

/// Chains that are stated so that they cannot be judged.
pub(super) fn faults(view: &View<'_>) -> Vec<Finding> {
    let own = view.data_line().iter();
    own.filter(|finding| finding.rule.as_str() == CHAIN.id)
        .cloned()
        .collect()
}

/// What the rules of the room say.
pub(super) fn lines(view: &View<'_>) -> Vec<Finding> {
    let own = view.data_line().iter();
    own.filter(|finding| finding.rule.as_str() != CHAIN.id)
        .cloned()
        .collect()
}

/// The signal at every device, as it was simulated: each device that may misread, else the worst of the chain; a chain
/// of which no device was simulated once.
pub(super) fn signals(view: &View<'_>) -> Vec<Finding> {
    view.design.chains.iter().flat_map(signal).collect()
}

fn signal(chain: &Chain) -> Vec<Finding> {
    let each = chain.devices.iter().map(|device| (device, &device.margin));
    let seen = each
        .clone()
        .filter_map(|(d, margin)| Some((d, margin.figures()?)));
    let open = each.filter_map(|(device, margin)| Some((device, why_not(margin)?)));
    let Some(worst) = seen
        .clone()
        .min_by(|a, b| a.1.least.si().total_cmp(&b.1.least.si()))
    else {
        let about = Subject::Chain(chain.id.clone());
        let first = open.map(|(_, why)| signal::not_simulated(about.clone(), why));
        return first.take(1).collect();
    };
    let judged = |(device, seen): (&ChainDevice, &Margin)| {
        signal::judge(device_of(chain, device), seen.least.0, seen.peak.0)
    };
    let mut out: Vec<Finding> = seen.map(judged).filter(Finding::is_fail).collect();
    if out.is_empty() {
        out.push(judged(worst));
    }
    out.extend(open.map(|(device, why)| signal::not_simulated(device_of(chain, device), why)));
    out
}

/// A device on its chain; a chain of a design has one driver.
fn device_of(chain: &Chain, device: &ChainDevice) -> Subject {
    Subject::Part {
        link: DataLink {
            chain: chain.id.clone(),
            output: None,
        },
        part: PartId::new(device.name.as_str()),
    }
}

/// A chain of the design as its line.
pub(crate) fn line(chain: &Chain, limits: &Limits) -> ChainSpec {
    let cable = match chain.cable {
        DataCable::DataPair => LineCable::data_pair(24),
        DataCable::ShieldedCategory => LineCable::shielded_category(),
        DataCable::UnshieldedCategory => LineCable::unshielded_category(),
        DataCable::Unknown => LineCable::unknown(),
    };
    let mut line = ChainSpec::new(chain.id.as_str(), cable);
    line.habits = Habits {
        devices: limits.chain_devices as usize,
        category_length: limits.chain_length.to_length(),
        length: limits
            .chain_length_stated
            .then(|| limits.chain_length.to_length()),
    };
    for device in &chain.devices {
        line.next(part(device));
    }
    if let Some(terminator) = chain.terminator {
        line.terminate(terminator.0);
    }
    line
}

fn part(device: &ChainDevice) -> Part {
    let loads = u32::try_from(device.unit_loads.unit_loads_e4).ok();
    let loads = loads.and_then(UnitLoads::of_ten_thousandths);
    let mut part = Part::device(device.name.as_str(), device.length.to_length())
        .port(loads.unwrap_or(UnitLoads::ONE), device.isolation);
    part.ground = device.ground.as_ref().map(|ground| Ground {
        reference: ground.supply.to_string(),
        least: volts(0.0),
        most: ground.most.0,
    });
    part
}

const NO_CHAIN: Case = Case::open(
    "none",
    "the data line to the decoder",
    "no chain of its universe passes its place",
)
.remedy("add the place to a chain of that universe");

pub(super) static REACHED: Rule = Rule {
    id: "chain-none",
    title: "A chain for every decoder",
    asks: "Does a chain of its universe reach each decoder?",
    source: Source::job("the job"),
    needs: &["chains with their stops"],
    cases: &[&NO_CHAIN],
};

pub(super) fn reached(view: &View<'_>) -> Vec<Finding> {
    let devices = view.design.chains.iter().flat_map(|chain| &chain.devices);
    let on_chains: BTreeSet<&DecoderId> = devices
        .filter_map(|device| device.decoder.as_ref())
        .collect();
    let decoders = view.design.decoders.iter();
    decoders
        .filter(|decoder| !on_chains.contains(&decoder.id))
        .map(|decoder| unreached(&decoder.id))
        .collect()
}

/// A decoder that no chain reaches.
fn unreached(decoder: &DecoderId) -> Finding {
    REACHED.not_evaluated(&NO_CHAIN, Subject::Decoder(decoder.clone()))
}
