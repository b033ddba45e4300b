//! Addresses and chains.

use super::Worked;
use super::model::{AddressRow, ChainRow, Plan};
use super::power_rows::isolation_words;
use crate::device::{LevelBits, UnitLoads};
use crate::dmx::address::{AddressProblem, Footprint, Reserved};
use crate::dmx::chain::{ChainSpec as Line, Ground, Habits, LineCable, Part};
use crate::exact::ExactLength;
use crate::finding::plain::Finding;
use crate::job::spec::{ChainSpec, ChainStop, Control, DataCable, LimitKey};
use crate::quantity::volts;
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
                    .map(|b| {
                        let outputs = u16::try_from(outputs(*b)).unwrap_or(u16::MAX);
                        let body = &self.joint.bodies[*b];
                        let device = Footprint::new(body.id.clone(), outputs, bits(*b));
                        match body.address {
                            Some(first) => device.at(universe.number, first),
                            None => device,
                        }
                    })
                    .collect(),
                reserved: universe
                    .taken
                    .iter()
                    .map(|t| Reserved {
                        universe: universe.number,
                        first: t.from,
                        last: t.to,
                    })
                    .collect(),
                first_universe: universe.number,
            };
            let patch = match problem.check() {
                Ok(problem) => problem.assign(),
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
            findings.extend(patch.findings.iter().map(crate::rules::plain));
            for b in own {
                let body = &self.joint.bodies[b];
                let Some(at) = patch.row(&body.id) else {
                    continue;
                };
                if at.universe != universe.number {
                    findings.push(
                        Finding::fail("address-space", format!("decoder {}", body.id))
                            .says("the universe of its zone has no free slots left for it")
                            .figure(format!("{} slots", at.slots()))
                            .limit(format!("universe {}, slots 1 to 512", universe.number))
                            .source(Source::stated("the job"))
                            .remedy("give a zone another universe, or free a taken range"),
                    );
                    continue;
                }
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
        let outputs = body.spec.map_or(0, |s| s.outputs as usize);
        let per = usize::from(bits.slots());
        for output in 0..outputs {
            let used = body.outputs.get(output);
            let emitter = used
                .and_then(|o| strip.emitters.get(o.emitter))
                .map_or("", |e| e.name.as_str());
            let mut runs: Vec<&str> = used
                .into_iter()
                .flat_map(|o| &o.segments)
                .map(|s| self.runs[self.joint.segments[*s].run].spec.name.as_str())
                .collect();
            runs.dedup();
            for fine in 0..per {
                let offset = (output * per + fine) as u16;
                plan.addresses.push(AddressRow {
                    universe,
                    slot: first + offset,
                    device: body.id.clone(),
                    offset,
                    function: match (used.is_some(), fine) {
                        (false, _) => "not used".to_string(),
                        (true, 0) => emitter.to_string(),
                        (true, _) => format!("{emitter}, fine"),
                    },
                    zone: zone.name.clone(),
                    runs: runs.join(", "),
                });
            }
        }
    }

    /// Where the minus terminal of a decoder stands: dark it is its supply's, lit the solve says how far above.
    fn ground(&self, body: usize) -> Option<Ground> {
        let joined = self
            .joint
            .joined
            .iter()
            .find(|j| j.bodies.contains(&body))?;
        let rise = joined.branch(body)?.map(|b| b.minus_rise.value);
        let most = rise.low.max(rise.nominal).max(rise.high);
        let sound = rise.low.is_finite() && rise.nominal.is_finite() && rise.high.is_finite();
        sound.then(|| Ground {
            reference: self.joint.units[joined.unit].id.clone(),
            least: volts(0.0),
            most: volts(most),
        })
    }

    /// What the job keeps to beside the published rules.
    fn habits(&self) -> Habits {
        let own = self.job.limits();
        let stated = !own.is_assumed(LimitKey::ChainLength);
        Habits {
            devices: own.chain_devices as usize,
            category_length: own.chain_length.to_length(),
            length: stated.then(|| own.chain_length.to_length()),
        }
    }

    /// Devices on a chain in the order of its cable, with the exact length of the cable into each.
    fn stops(&self, spec: &ChainSpec) -> Vec<(ExactLength, Part, UnitLoads, &'static str)> {
        let mut stops = Vec::new();
        let mut add = |name: &str, cable: ExactLength, loads, isolation, ground| {
            let mut part = Part::device(name, cable.to_length()).port(loads, isolation);
            part.ground = ground;
            stops.push((cable, part, loads, isolation_words(isolation)));
        };
        for stop in &spec.stops {
            match stop {
                ChainStop::Other {
                    name,
                    length,
                    unit_loads,
                    isolation,
                } => add(name, *length, *unit_loads, *isolation, None),
                ChainStop::Place {
                    place,
                    length,
                    between,
                } => {
                    let mut cable = *length;
                    for (number, body) in self.joint.bodies.iter().enumerate() {
                        let zone = &self.job.zones()[body.zone];
                        let here = self.job.places()[body.place].name == *place
                            && self
                                .job
                                .universe_of(zone)
                                .is_some_and(|u| u.name == spec.universe);
                        if let (true, Some(decoder)) = (here, body.spec) {
                            let ground = self.ground(number);
                            add(&body.id, cable, decoder.unit_loads, decoder.port, ground);
                            cable = *between;
                        }
                    }
                }
            }
        }
        stops
    }

    fn chain(&self, spec: &ChainSpec, plan: &mut Plan, findings: &mut Vec<Finding>) {
        let stops = self.stops(spec);
        let mut line = Line::new(
            &*spec.name,
            match spec.cable {
                DataCable::DataPair => LineCable::data_pair(24),
                DataCable::ShieldedCategory => LineCable::shielded_category(),
                DataCable::UnshieldedCategory => LineCable::unshielded_category(),
                DataCable::Unknown => LineCable::unknown(),
            },
        );
        line.habits = self.habits();
        stops.iter().for_each(|stop| line.next(stop.1.clone()));
        if let Some(ohms) = spec.terminator {
            line.terminate(ohms);
        }
        match line.check() {
            Ok(line) => findings.extend(line.judge().iter().map(crate::rules::plain)),
            Err(all) => findings.extend(all.iter().map(|error| {
                Finding::not_evaluated("chain", format!("chain {}", spec.name), error.to_string())
                    .says("the data line")
                    .source(Source::stated("the job"))
                    .remedy("correct the chain")
            })),
        }
        let mut length = ExactLength::ZERO;
        let mut loads = 0_u64;
        let last = stops.len();
        for (n, (cable, part, own, isolated)) in stops.into_iter().enumerate() {
            length = length.saturating_add(cable);
            loads += u64::from(own.ten_thousandths());
            plan.chains.push(ChainRow {
                chain: spec.name.clone(),
                order: n + 1,
                device: part.name,
                cable: spec.cable.words().to_string(),
                length: cable,
                cumulative: length,
                unit_loads: loads_words(loads),
                isolated: isolated.to_string(),
                minus: part.ground.map(|ground| ground.most),
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
