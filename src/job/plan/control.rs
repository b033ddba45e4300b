//! Addresses and chains.

use super::Worked;
use super::model::{AddressRow, ChainRow, Plan};
use super::power_rows::isolation_words;
use crate::device::{LevelBits, UnitLoads};
use crate::dmx::address::{AddressProblem, Footprint, Order, Taken};
use crate::dmx::chain::{Chain, Stop};
use crate::exact::ExactLength;
use crate::finding::Finding;
use crate::job::spec::{ChainSpec, ChainStop, Control, DataCable};
use crate::source::Source;

impl Worked<'_> {
    pub(super) fn control_rows(&self, plan: &mut Plan, findings: &mut Vec<Finding>) {
        self.addresses(plan, findings);
        for chain in self.job.chains() {
            self.chain(chain, plan, findings);
        }
        for (b, body) in self.joint.bodies.iter().enumerate() {
            if body.spec.is_some() && !self.job.chains().iter().any(|c| self.reaches(c, b)) {
                findings.push(
                    Finding::not_evaluated(
                        "chain-none",
                        format!("decoder {}", body.id),
                        "no chain of its universe passes its place",
                    )
                    .says("the data line to the decoder")
                    .source(Source::stated("the job"))
                    .remedy("add the place to a chain of that universe"),
                );
            }
        }
    }

    /// Whether a chain of the right universe passes the place of a body.
    fn reaches(&self, chain: &ChainSpec, body: usize) -> bool {
        let body = &self.joint.bodies[body];
        let zone = &self.job.zones()[body.zone];
        let own = self
            .job
            .universe_of(zone)
            .is_some_and(|u| u.name == chain.universe);
        let place = &self.job.places()[body.place].name;
        own && chain
            .stops
            .iter()
            .any(|s| matches!(s, ChainStop::Place { place: p, .. } if p == place))
    }

    fn addresses(&self, plan: &mut Plan, findings: &mut Vec<Finding>) {
        for universe in self.job.universes() {
            let own: Vec<usize> = (0..self.joint.bodies.len())
                .filter(|b| self.joint.bodies[*b].spec.is_some())
                .filter(|b| {
                    let zone = &self.job.zones()[self.joint.bodies[*b].zone];
                    self.job
                        .universe_of(zone)
                        .is_some_and(|u| u.name == universe.name)
                })
                .collect();
            let bits = |b: usize| match self.job.zones()[self.joint.bodies[b].zone].control {
                Control::Dmx { bits, .. } => bits,
                Control::Switched => LevelBits::Eight,
            };
            let outputs = |b: usize| self.joint.bodies[b].spec.map_or(0, |s| s.outputs);
            let problem = AddressProblem {
                devices: own
                    .iter()
                    .map(|b| Footprint {
                        device: self.joint.bodies[*b].id.clone(),
                        slots: u16::try_from(outputs(*b) * u32::from(bits(*b).slots()))
                            .unwrap_or(u16::MAX),
                        fixed: None,
                    })
                    .collect(),
                taken: universe
                    .taken
                    .iter()
                    .map(|t| Taken {
                        universe: universe.number,
                        from: t.from,
                        to: t.to,
                    })
                    .collect(),
                universes: vec![universe.number],
                order: Order::AsListed,
            };
            let patch = match problem.assign() {
                Ok(patch) => patch,
                Err(all) => {
                    for error in all {
                        findings.push(
                            Finding::fail("address-device", format!("universe {}", universe.name))
                                .says(error.to_string())
                                .figure("no address")
                                .limit("one")
                                .source(Source::stated("the job"))
                                .remedy("take decoders with fewer outputs"),
                        );
                    }
                    continue;
                }
            };
            findings.extend(patch.findings);
            for b in own {
                let body = &self.joint.bodies[b];
                let Some(at) = patch.devices.iter().find(|d| d.device == body.id) else {
                    continue;
                };
                if let Some(row) = plan.decoders.iter_mut().find(|d| d.id == body.id) {
                    row.universe = u32::from(universe.number);
                    row.address = at.first;
                    row.slots = at.last - at.first + 1;
                }
                self.slots(plan, b, u32::from(universe.number), at.first, bits(b));
            }
        }
    }

    fn slots(&self, plan: &mut Plan, b: usize, universe: u32, first: u16, bits: LevelBits) {
        let body = &self.joint.bodies[b];
        let zone = &self.job.zones()[body.zone];
        let Some(strip) = self.job.strip(&zone.strip) else {
            return;
        };
        let emitters = strip.emitters.len();
        let outputs = body.spec.map_or(0, |s| s.outputs as usize);
        let per = usize::from(bits.slots());
        for output in 0..outputs {
            let group = body.groups.get(output / emitters.max(1));
            let emitter = &strip.emitters[output % emitters.max(1)].name;
            let runs: Vec<&str> = group
                .into_iter()
                .flatten()
                .map(|s| self.runs[self.joint.segments[*s].run].spec.name.as_str())
                .collect();
            for fine in 0..per {
                let offset = (output * per + fine) as u16;
                plan.addresses.push(AddressRow {
                    universe,
                    slot: first + offset,
                    device: body.id.clone(),
                    offset,
                    function: match (group.is_some(), fine) {
                        (false, _) => "not used".to_string(),
                        (true, 0) => emitter.clone(),
                        (true, _) => format!("{emitter}, fine"),
                    },
                    zone: zone.name.clone(),
                    runs: runs.join(", "),
                });
            }
        }
    }

    fn chain(&self, spec: &ChainSpec, plan: &mut Plan, findings: &mut Vec<Finding>) {
        let mut stops: Vec<Stop> = Vec::new();
        for stop in &spec.stops {
            match stop {
                ChainStop::Other {
                    name,
                    length,
                    unit_loads,
                    isolation,
                } => stops.push(Stop {
                    device: name.clone(),
                    cable: *length,
                    unit_loads: *unit_loads,
                    isolation: *isolation,
                }),
                ChainStop::Place {
                    place,
                    length,
                    between,
                } => {
                    let mut cable = *length;
                    for body in &self.joint.bodies {
                        let zone = &self.job.zones()[body.zone];
                        let here = self.job.places()[body.place].name == *place
                            && self
                                .job
                                .universe_of(zone)
                                .is_some_and(|u| u.name == spec.universe);
                        if let (true, Some(decoder)) = (here, body.spec) {
                            stops.push(Stop {
                                device: body.id.clone(),
                                cable,
                                unit_loads: decoder.unit_loads,
                                isolation: decoder.port,
                            });
                            cable = *between;
                        }
                    }
                }
            }
        }
        let limits = self.job.limits();
        let chain = Chain {
            name: spec.name.clone(),
            category_cable: matches!(
                spec.cable,
                DataCable::ShieldedCategory | DataCable::UnshieldedCategory
            ),
            cable_known: spec.cable != DataCable::Unknown,
            stops,
            terminator: spec.terminator,
            most_devices: limits.chain_devices,
            longest_by_habit: limits.chain_length,
        };
        findings.extend(chain.judge());
        let mut length = ExactLength::ZERO;
        let mut loads = 0_u64;
        let last = chain.stops.len();
        for (n, stop) in chain.stops.iter().enumerate() {
            length = length.saturating_add(stop.cable);
            loads += u64::from(stop.unit_loads.ten_thousandths());
            plan.chains.push(ChainRow {
                chain: spec.name.clone(),
                order: n + 1,
                device: stop.device.clone(),
                cable: spec.cable.words().to_string(),
                length: stop.cable,
                cumulative: length,
                unit_loads: loads_words(loads),
                isolated: isolation_words(stop.isolation).to_string(),
                terminator: if n + 1 == last { spec.terminator } else { None },
            });
        }
    }
}

/// Ten-thousandths of a unit load as text: `1 1/8`.
fn loads_words(ten_thousandths: u64) -> String {
    let one = u64::from(UnitLoads::ONE.ten_thousandths());
    let (whole, rest) = (ten_thousandths / one, ten_thousandths % one);
    if rest == 0 {
        return whole.to_string();
    }
    match [8_u64, 4, 2]
        .into_iter()
        .rev()
        .find(|d| (rest * d).is_multiple_of(one))
    {
        Some(d) if whole == 0 => format!("{}/{d}", rest * d / one),
        Some(d) => format!("{whole} {}/{d}", rest * d / one),
        None => format!("{}", ten_thousandths as f64 / one as f64),
    }
}
