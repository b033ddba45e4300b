//! Decoders, their outputs, addresses, chains.

use super::{corners, finite};
use crate::design::{
    Address, Chain, ChainDevice, Decoder, DecoderOutput, Design, Ground, Margin, PortSplitter,
    Slot, SlotUse, Solved, Universe,
};
use crate::device::{LevelBits, PortIsolation, UnitLoads};
use crate::dmx::address::{AddressProblem, Footprint, Patch, Reserved};
use crate::exact::ExactLength;
use crate::finding::{Finding, Loads};
use crate::id::{ChainId, DecoderId, PlaceId, ProductId, RunId, SupplyId, UniverseId, ZoneId};
use crate::job::spec::{
    ChainSpec, ChainStop, Control, InstalledSpec, Sharing, UniverseSpec, ZoneSpec,
};
use crate::plan::{SolvedJob, fixed, signal};
use crate::progress::Progress;
use crate::quantity::{Volts, amps};
use crate::rules::address;
use std::collections::{BTreeMap, BTreeSet};

/// The slots that every decoder was given, by its place in the list of all.
type Addresses = BTreeMap<usize, Address>;
/// The same of decoders that are there and idle, by name.
type IdleAddresses<'j> = BTreeMap<&'j str, Address>;

/// Decoders by the name of something that they share, in their order.
type Groups<'a> = BTreeMap<&'a str, Vec<usize>>;

impl SolvedJob<'_> {
    /// Decoders with their outputs, slots and chains.
    pub(in crate::plan) fn put_control(
        &self,
        design: &mut Design,
        findings: &mut Vec<Finding>,
        progress: &mut Progress<'_>,
    ) {
        let unused = self.idle_decoders();
        let (of_universes, at_places) = self.groups();
        let (addresses, idle) = self.addresses(&of_universes, &unused, findings);
        for b in 0..self.joint.decoder_units.len() {
            design.decoders.extend(self.decoder(b, &addresses));
            design.decoder_outputs.extend(self.decoder_outputs(b));
        }
        let there = unused.iter();
        design
            .decoders
            .extend(there.filter_map(|own| self.idle_decoder(own, &idle)));
        for universe in self.job.universes() {
            design.universes.push(Universe {
                id: UniverseId::new(&*universe.name),
                number: universe.number,
                port: (&*universe.port).into(),
            });
            design.splitters.extend(self.port_splitter(universe));
            for b in of_universes.get(&*universe.name).into_iter().flatten() {
                if let Some(address) = addresses.get(b) {
                    design.slots.extend(self.slots(*b, *address));
                }
            }
            for own in self.idle_of(universe, &unused) {
                if let Some(address) = idle.get(own.name.as_str()) {
                    design.slots.extend(idle_slots(own, *address));
                }
            }
        }
        let chains = self.job.chains().iter();
        let chains = chains.map(|chain| self.chain(chain, &at_places, &unused));
        design.chains = signal::with_margins(chains.collect(), &design.limits, progress);
    }

    fn decoder(&self, b: usize, addresses: &Addresses) -> Option<Decoder> {
        let decoder_unit = &self.joint.decoder_units[b];
        let spec = decoder_unit.spec?;
        let zone = &self.job.zones()[decoder_unit.zone];
        let figures = self.branch(b);
        Some(Decoder {
            id: self.decoder_id(b),
            place: PlaceId::new(&*self.job.places()[decoder_unit.place].name),
            kind: ProductId::new(&*spec.name),
            zone: ZoneId::new(&*zone.name),
            address: addresses.get(&b).copied(),
            outputs_used: decoder_unit.outputs.len() as u64,
            current: figures.and_then(|f| finite(f.high.current)),
            current_limit: amps(spec.total_current.value.min(spec.terminal_current.value)).into(),
            least_volts: figures.and_then(|f| finite(f.low.least_volts)),
            volts: self.branch_bands(b).and_then(|own| corners(own.volts)),
            minus_rise: self.ground(b).map(|ground| ground.most),
            curve: match zone.control {
                Control::Dmx { curve, .. } => Some(curve),
                Control::Switched => None,
            },
            supply: self.unit_of(b).map(|(unit, output)| {
                let supply = SupplyId::new(&*self.joint.units[unit].id);
                (supply, output as u64 + 1)
            }),
            fixed: decoder_unit.fixed,
        })
    }

    /// Decoders that are there and that the plan does not use.
    pub(super) fn idle_decoders(&self) -> Vec<&InstalledSpec> {
        let units = self.joint.decoder_units.iter();
        let used = units.map(|unit| unit.id.as_str()).collect();
        fixed::idle(self.job, true, &used)
    }

    /// Those whose zone is in a universe.
    fn idle_of<'j>(
        &self,
        universe: &UniverseSpec,
        unused: &[&'j InstalledSpec],
    ) -> Vec<&'j InstalledSpec> {
        let mut own = unused.to_vec();
        own.retain(|own| {
            let of = self.zone_of(own).and_then(|z| self.job.universe_of(z));
            of.is_some_and(|u| u.name == universe.name)
        });
        own
    }

    fn zone_of(&self, own: &InstalledSpec) -> Option<&ZoneSpec> {
        self.job.zone(own.zone.as_deref()?)
    }

    fn idle_decoder(&self, own: &InstalledSpec, addresses: &IdleAddresses<'_>) -> Option<Decoder> {
        let spec = self.job.decoder(own.kind.name())?;
        let zone = self.zone_of(own)?;
        Some(Decoder {
            id: DecoderId::new(&*own.name),
            place: PlaceId::new(&*own.place),
            kind: ProductId::new(&*spec.name),
            zone: ZoneId::new(&*zone.name),
            address: addresses.get(own.name.as_str()).copied(),
            outputs_used: 0,
            current: None,
            current_limit: amps(spec.total_current.value.min(spec.terminal_current.value)).into(),
            least_volts: None,
            volts: None,
            minus_rise: None,
            curve: match zone.control {
                Control::Dmx { curve, .. } => Some(curve),
                Control::Switched => None,
            },
            supply: None,
            fixed: true,
        })
    }

    fn decoder_outputs(&self, b: usize) -> Vec<DecoderOutput> {
        let decoder_unit = &self.joint.decoder_units[b];
        let Some(spec) = decoder_unit.spec else {
            return Vec::new();
        };
        let zone = &self.job.zones()[decoder_unit.zone];
        let tape = self.job.strips().iter().position(|s| s.name == zone.strip);
        let figures = self.branch(b);
        let all = decoder_unit.outputs.iter().enumerate();
        all.map(|(number, output)| DecoderOutput {
            decoder: self.decoder_id(b),
            output: number as u64 + 1,
            emitter: tape.map_or_else(Default::default, |t| self.emitter(t, output.emitter)),
            zone: ZoneId::new(&*zone.name),
            segments: output
                .segments
                .iter()
                .map(|s| self.segment_id(*s))
                .collect(),
            current: figures
                .and_then(|f| f.high.outputs.get(number).copied())
                .and_then(finite),
            limit: spec.output_current.into(),
        })
        .collect()
    }

    /// Decoders by their universe, and by their place.
    fn groups(&self) -> (Groups<'_>, Groups<'_>) {
        let (mut universes, mut places) = (Groups::new(), Groups::new());
        for (b, decoder_unit) in self.joint.decoder_units.iter().enumerate() {
            let zone = &self.job.zones()[decoder_unit.zone];
            if let (Some(_), Some(of)) = (decoder_unit.spec, self.job.universe_of(zone)) {
                universes.entry(&*of.name).or_default().push(b);
                let place = &self.job.places()[decoder_unit.place];
                places.entry(&*place.name).or_default().push(b);
            }
        }
        (universes, places)
    }

    fn bits(&self, b: usize) -> LevelBits {
        zone_bits(&self.job.zones()[self.joint.decoder_units[b].zone])
    }

    fn addresses<'j>(
        &self,
        of_universes: &Groups<'_>,
        idle: &[&'j InstalledSpec],
        findings: &mut Vec<Finding>,
    ) -> (Addresses, IdleAddresses<'j>) {
        let (mut out, mut unused) = (Addresses::new(), IdleAddresses::new());
        for universe in self.job.universes() {
            let own = of_universes
                .get(&*universe.name)
                .map_or(&[][..], Vec::as_slice);
            let idle = self.idle_of(universe, idle);
            let Some(patch) = self.patch(universe, own, &idle, findings) else {
                continue;
            };
            let mut given = |name: &str| {
                let at = patch.row(name)?;
                if at.universe != universe.number {
                    findings.push(address::no_space(name, at.slots(), universe.number));
                    return None;
                }
                Some(Address {
                    universe: u32::from(universe.number),
                    first: at.first,
                    slots: at.slots(),
                })
            };
            for b in own {
                let address = given(&self.joint.decoder_units[*b].id);
                out.extend(address.map(|address| (*b, address)));
            }
            for own in idle {
                let address = given(&own.name);
                unused.extend(address.map(|address| (own.name.as_str(), address)));
            }
        }
        (out, unused)
    }

    fn patch(
        &self,
        universe: &UniverseSpec,
        own: &[usize],
        idle: &[&InstalledSpec],
        findings: &mut Vec<Finding>,
    ) -> Option<Patch> {
        let sharing = self.job.installed().iter();
        let sharing: BTreeSet<&str> = sharing
            .filter(|own| own.shares_slots == Sharing::OnPurpose)
            .map(|own| own.name.as_str())
            .collect();
        let device = |name: &str, outputs: u32, bits: LevelBits, address: Option<u16>| {
            let outputs = u16::try_from(outputs).unwrap_or(u16::MAX);
            let mut device = Footprint::new(name, outputs, bits);
            device.may_share = sharing.contains(name);
            match address {
                Some(first) => device.at(universe.number, first),
                None => device,
            }
        };
        let used = own.iter().map(|b| {
            let unit = &self.joint.decoder_units[*b];
            let outputs = unit.spec.map_or(0, |s| s.outputs);
            device(&unit.id, outputs, self.bits(*b), unit.address)
        });
        let unused = idle.iter().filter_map(|own| {
            let outputs = self.job.decoder(own.kind.name())?.outputs;
            let bits = zone_bits(self.zone_of(own)?);
            Some(device(&own.name, outputs, bits, own.address))
        });
        let problem = AddressProblem {
            devices: used.chain(unused).collect(),
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
        match problem.check() {
            Ok(problem) => {
                let patch = problem.assign();
                findings.extend(patch.findings.iter().cloned());
                Some(patch)
            }
            Err(all) => {
                let faults = all.iter();
                findings.extend(faults.map(|error| address::not_given(&universe.name, error)));
                None
            }
        }
    }

    fn slots(&self, b: usize, address: Address) -> Vec<Slot> {
        let decoder_unit = &self.joint.decoder_units[b];
        let zone = &self.job.zones()[decoder_unit.zone];
        let Some(strip) = self.job.strip(&zone.strip) else {
            return Vec::new();
        };
        let outputs = decoder_unit.spec.map_or(0, |s| s.outputs as usize);
        let per = usize::from(self.bits(b).slots());
        let mut out = Vec::with_capacity(outputs * per);
        for output in 0..outputs {
            let used = decoder_unit.outputs.get(output);
            let emitter = used
                .and_then(|o| strip.emitters.get(o.emitter))
                .map_or("", |e| e.name.as_str());
            let mut runs: Vec<RunId> = used
                .into_iter()
                .flat_map(|o| &o.segments)
                .map(|s| RunId::new(&*self.runs[self.joint.segments[*s].run].spec.name))
                .collect();
            runs.dedup();
            for fine in 0..per {
                let offset = (output * per + fine) as u16;
                out.push(Slot {
                    universe: address.universe,
                    slot: address.first + offset,
                    device: self.decoder_id(b),
                    offset,
                    sets: match (used.is_some(), fine) {
                        (false, _) => SlotUse::Unused,
                        (true, 0) => SlotUse::Level(emitter.into()),
                        (true, _) => SlotUse::Fine(emitter.into()),
                    },
                    zone: ZoneId::new(&*zone.name),
                    runs: runs.clone(),
                });
            }
        }
        out
    }

    /// Where the minus terminal of a decoder stands: dark it is its supply's, lit the solve says how far above.
    fn ground(&self, decoder_unit: usize) -> Option<Ground> {
        let rise = self.branch(decoder_unit)?.map(|b| b.minus_rise.value);
        let (unit, _) = self.unit_of(decoder_unit)?;
        let finite = rise.low.is_finite() && rise.nominal.is_finite() && rise.high.is_finite();
        let most = rise.low.max(rise.nominal).max(rise.high);
        Some(Ground {
            supply: SupplyId::new(&*self.joint.units[unit].id),
            most: Volts::finite(most).filter(|_| finite)?,
        })
    }

    /// Where several chains of a universe begin at its port: two cables on one driver are a passive branch.
    fn port_splitter(&self, universe: &UniverseSpec) -> Option<PortSplitter> {
        let own = self.job.chains().iter();
        let own = own.filter(|chain| chain.universe == universe.name);
        let chains: Vec<ChainId> = own.map(|chain| ChainId::new(&*chain.name)).collect();
        (chains.len() > 1).then(|| PortSplitter {
            universe: UniverseId::new(&*universe.name),
            port: (&*universe.port).into(),
            chains,
        })
    }

    /// A chain with its devices in the order of its cable.
    fn chain(&self, spec: &ChainSpec, at_places: &Groups<'_>, unused: &[&InstalledSpec]) -> Chain {
        let mut devices = Vec::new();
        let loads = |own: UnitLoads| Loads {
            unit_loads_e4: u64::from(own.ten_thousandths()),
        };
        for stop in &spec.stops {
            match stop {
                ChainStop::Other {
                    name,
                    length,
                    unit_loads,
                    isolation,
                } => devices.push(ChainDevice {
                    name: (&**name).into(),
                    decoder: None,
                    length: *length,
                    unit_loads: loads(*unit_loads),
                    isolation: *isolation,
                    ground: None,
                    margin: unsent(),
                }),
                ChainStop::Place {
                    place,
                    length,
                    between,
                } => {
                    let mut cable = *length;
                    for b in at_places.get(&**place).into_iter().flatten() {
                        let decoder_unit = &self.joint.decoder_units[*b];
                        let zone = &self.job.zones()[decoder_unit.zone];
                        let universe = self.job.universe_of(zone);
                        let here = universe.is_some_and(|u| u.name == spec.universe);
                        let Some(decoder) = decoder_unit.spec.filter(|_| here) else {
                            continue;
                        };
                        let device = (loads(decoder.unit_loads), decoder.port);
                        devices.push(self.on_chain(*b, cable, device));
                        cable = *between;
                    }
                    for own in unused {
                        let zone = self.zone_of(own);
                        let universe = zone.and_then(|zone| self.job.universe_of(zone));
                        let here = own.place == *place
                            && universe.is_some_and(|u| u.name == spec.universe);
                        let kind = self.job.decoder(own.kind.name());
                        let Some(kind) = kind.filter(|_| here) else {
                            continue;
                        };
                        devices.push(ChainDevice {
                            name: (&*own.name).into(),
                            decoder: Some(DecoderId::new(&*own.name)),
                            length: cable,
                            unit_loads: loads(kind.unit_loads),
                            isolation: kind.port,
                            ground: None,
                            margin: unsent(),
                        });
                        cable = *between;
                    }
                }
            }
        }
        Chain {
            id: ChainId::new(&*spec.name),
            universe: UniverseId::new(&*spec.universe),
            cable: spec.cable,
            terminator: spec.terminator.map(Into::into),
            devices,
        }
    }

    fn on_chain(
        &self,
        b: usize,
        length: ExactLength,
        (unit_loads, isolation): (Loads, PortIsolation),
    ) -> ChainDevice {
        ChainDevice {
            name: (&*self.joint.decoder_units[b].id).into(),
            decoder: Some(self.decoder_id(b)),
            length,
            unit_loads,
            isolation,
            ground: self.ground(b),
            margin: unsent(),
        }
    }
}

fn zone_bits(zone: &ZoneSpec) -> LevelBits {
    match zone.control {
        Control::Dmx { bits, .. } => bits,
        Control::Switched => LevelBits::Eight,
    }
}

/// Slots of a decoder with nothing on its outputs.
fn idle_slots(own: &InstalledSpec, address: Address) -> impl Iterator<Item = Slot> {
    (0..address.slots).map(move |offset| Slot {
        universe: address.universe,
        slot: address.first + offset,
        device: DecoderId::new(&*own.name),
        offset,
        sets: SlotUse::Unused,
        zone: ZoneId::new(own.zone.as_deref().unwrap_or_default()),
        runs: Vec::new(),
    })
}

/// What a device sees before a packet is sent down its chain.
fn unsent() -> Solved<Margin> {
    Solved::Not("no packet was sent down the chain".into())
}
