//! Cables, supplies, their outputs, connected load.

use super::{corners, feed_id, finite, lead_id};
use crate::choose::feeding;
use crate::design::{
    Ampacity, Cable, Conductor, Core, Design, Energy, Fed, Load, Output, RouteKnown, Solved,
    Supply, Terminals,
};
use crate::device::EnergyLimit;
use crate::exact::ExactLength;
use crate::id::{CableId, PlaceId, ProductId, SupplyId, ZoneId};
use crate::job::spec::InstalledSpec;
use crate::layout::spec::RouteBasis;
use crate::plan::facts::{self, WireFacts};
use crate::plan::longest::Longest;
use crate::plan::{SolvedJob, devices, fixed, kinds};
use crate::progress::Progress;
use crate::quantity::{
    Amps, Corners, ElectricCurrent, Metres, Share, Volts, Watts, amps, ohms, watts,
};
use crate::segment::BranchFigures;
use std::collections::BTreeMap;

impl SolvedJob<'_> {
    /// The output of a supply that feeds a decoder or switched group.
    pub(super) fn supply_terminals(&self, decoder_unit: usize) -> Terminals {
        match self.unit_of(decoder_unit) {
            Some((unit, output)) => Terminals::Supply {
                supply: SupplyId::new(&*self.joint.units[unit].id),
                output: output as u64 + 1,
            },
            None => Terminals::Nothing,
        }
    }

    /// Energy class that the copper of a decoder or switched group inherits.
    pub(super) fn energy_class(&self, decoder_unit: usize) -> EnergyLimit {
        self.unit_of(decoder_unit)
            .map_or(EnergyLimit::Unknown, |(unit, _)| {
                self.joint.units[unit].spec.energy
            })
    }

    /// Figures of a decoder or switched group from the joint solve.
    pub(super) fn branch(&self, decoder_unit: usize) -> Option<Corners<&BranchFigures>> {
        self.joint.branch(decoder_unit)
    }

    /// Leads, feeders and jumpers.
    pub(in crate::plan) fn cables(&self, progress: &mut Progress<'_>) -> Vec<Cable> {
        let longest = self.longest_routes(progress);
        let leads = (0..self.joint.decoder_units.len()).filter_map(|b| self.lead(b, &longest));
        let feeders = self.joint.segments.iter().enumerate().flat_map(|(s, own)| {
            let longest = &longest;
            (0..own.plan.feeds.len()).filter_map(move |n| self.feeder(s, n, longest))
        });
        let jumpers = (0..self.joint.segments.len()).flat_map(|s| self.jumpers(s));
        leads.chain(feeders).chain(jumpers).collect()
    }

    fn lead(&self, b: usize, longest: &Longest) -> Option<Cable> {
        let decoder_unit = &self.joint.decoder_units[b];
        let lead = &self.joint.leads[b];
        let (item, facts) = (lead.cable?, lead.facts.as_ref()?);
        let strip = self.job.strip(&self.job.zones()[decoder_unit.zone].strip);
        let rated = strip.map_or(f64::NAN, |s| s.rated.value);
        let amperes = self
            .branch(b)
            .map_or(decoder_unit.current, |f| f.high.current.value);
        let drop = self
            .branch_bands(b)
            .map_or(f64::NAN, |own| own.lead_drop.value);
        let current = Amps::finite(amperes);
        let core = |number: u64, conductor: Conductor| Core {
            number,
            conductor,
            current,
        };
        Some(Cable {
            id: lead_id(&decoder_unit.id),
            from: self.supply_terminals(b),
            to: Terminals::DecoderSupply(self.decoder_id(b)),
            kind: ProductId::new(&*item.name),
            cores: vec![core(1, Conductor::Plus), core(2, Conductor::Minus)],
            route: lead.length,
            known: RouteKnown::PlaceStates,
            busiest: Conductor::Plus,
            current,
            ampacity: ampacity(facts),
            core_resistance: corners(lead.core.map(|r| ohms(*r)))?,
            hottest_core: finite(facts.hottest * lead.length.to_length()),
            hot: facts.hot(amps(amperes)).and_then(finite),
            drop: Volts::finite(drop),
            drop_share: Share::finite(drop / rated),
            longest: longest.leads.get(&b).copied().and_then(Metres::finite),
            energy: self.energy_class(b),
            copper: (facts.copper * lead.length.to_length()).into(),
            ambient: self.job.places()[decoder_unit.place].ambient.into(),
        })
    }

    fn feeder(&self, number: usize, n: usize, longest: &Longest) -> Option<Cable> {
        let segment = &self.joint.segments[number];
        let feed = &segment.plan.feeds[n];
        let run = &self.runs[segment.run];
        let place = &self.job.places()[segment.place];
        let strip = &self.job.strips()[segment.tape];
        let ambient = kinds::feeder_ambient(run.spec, place);
        let item = self.job.cable(&feed.cable)?;
        let most = kinds::feeder_current(self.job, run.zone, place);
        let facts = facts::wire(item, self.job.limits(), ambient, most).ok()?;
        let found = self.feed_figures(number, n);
        let current_of = |conductor: feeding::Conductor| finite(found?.high.current(conductor)?);
        let busiest = found.map_or(feeding::Conductor::Common, |f| busiest(&f.high.currents));
        let drop = self
            .feed_band(number, n)
            .map_or(f64::NAN, |own| own.drop.value);
        let routes = run.spec.routes.iter().filter(|r| r.place == place.name);
        let length = feed.route_length;
        let id = feed_id(&segment.id, n);
        Some(Cable {
            id: CableId::new(id.as_str()),
            from: self.source_of(number),
            to: Terminals::Segment {
                segment: self.segment_id(number),
                at: strip.pitch.length_of(feed.at),
            },
            kind: ProductId::new(&*item.name),
            cores: feed
                .conductors
                .iter()
                .enumerate()
                .map(|(core, c)| Core {
                    number: core as u64 + 1,
                    conductor: self.conductor(segment.tape, c.conductor),
                    current: current_of(c.conductor),
                })
                .collect(),
            route: length,
            known: RouteKnown::As(routes.map(|r| r.basis).max().unwrap_or(RouteBasis::Guessed)),
            busiest: self.conductor(segment.tape, busiest),
            current: current_of(busiest),
            ampacity: ampacity(&facts),
            core_resistance: corners(facts.per_metre.map(|r| ohms(r.value * length.metres())))?,
            hottest_core: finite(facts.hottest * length.to_length()),
            hot: found
                .and_then(|f| facts.hot(f.high.current(busiest)?))
                .and_then(finite),
            drop: Volts::finite(drop),
            drop_share: Share::finite(drop / strip.rated.value),
            longest: longest
                .feeders
                .get(&(number, n))
                .copied()
                .and_then(Metres::finite),
            energy: self
                .decoder_unit_of(number)
                .map_or(EnergyLimit::Unknown, |b| self.energy_class(b)),
            copper: (facts.copper * length.to_length()).into(),
            ambient: ambient.into(),
        })
    }

    /// Power that a supply gives at the corners, all outputs, or why it is not known.
    fn load_of(&self, unit: usize) -> Load {
        let mut sum = Corners::same(watts(0.0));
        for joined in self.joint.outputs_of(unit) {
            match &joined.figures {
                Ok(f) => sum = Corners::each(|corner| sum[corner] + f[corner].power),
                Err(why) => return Load::Not(why.to_string().into()),
            }
        }
        match corners(sum) {
            Some(power) => Load::Power(power),
            None => Load::Not("the solve gave no finite figures".into()),
        }
    }

    /// Supplies, then those that stand by.
    pub(in crate::plan) fn supplies(&self) -> Vec<Supply> {
        let units = self.joint.units.iter().enumerate();
        let working = units.map(|(number, unit)| {
            let place = &self.job.places()[unit.place];
            let derating = kinds::derating(unit.spec, place.ambient);
            Supply {
                id: SupplyId::new(&*unit.id),
                place: PlaceId::new(&*place.name),
                kind: ProductId::new(&*unit.spec.name),
                derated: watts(unit.spec.power.value * derating.share).into(),
                permitted: watts(devices::permitted_power(self.job, unit.spec, place)).into(),
                derating_stated: derating.stated,
                load: self.load_of(number),
                fixed: unit.fixed,
                why: self.joint.assigned[1]
                    .get(unit.assigned)
                    .map_or_else(String::new, |told| told.why(self.job.currency()))
                    .into(),
            }
        });
        let idle = self.idle_supplies().into_iter();
        let idle = idle.filter_map(|own| self.idle_supply(own));
        working.chain(idle).chain(self.standby_supplies()).collect()
    }

    /// Supplies that are there and that the plan does not use.
    pub(super) fn idle_supplies(&self) -> Vec<&InstalledSpec> {
        let units = self.joint.units.iter();
        let used = units.map(|unit| unit.id.as_str()).collect();
        fixed::idle(self.job, false, &used)
    }

    fn idle_supply(&self, own: &InstalledSpec) -> Option<Supply> {
        let spec = self.job.supply(own.kind.name())?;
        let place = self.job.places().iter().find(|p| p.name == own.place)?;
        let derating = kinds::derating(spec, place.ambient);
        Some(Supply {
            id: SupplyId::new(&*own.name),
            place: PlaceId::new(&*place.name),
            kind: ProductId::new(&*spec.name),
            derated: watts(spec.power.value * derating.share).into(),
            permitted: watts(devices::permitted_power(self.job, spec, place)).into(),
            derating_stated: derating.stated,
            load: Load::Power(Corners::same(watts(0.0).into())),
            fixed: true,
            why: "there already, and nothing hangs on it".into(),
        })
    }

    /// Supplies that stand by: without a load.
    fn standby_supplies(&self) -> impl Iterator<Item = Supply> {
        let all = self.joint.standby[1].iter().enumerate();
        all.filter_map(|(number, (at, kind))| {
            let spec = self.job.supply(kind)?;
            let place = &self.job.places()[*at];
            let derating = kinds::derating(spec, place.ambient);
            Some(Supply {
                id: SupplyId::new(format!("PS-{}-standby-{}", place.name, number + 1)),
                place: PlaceId::new(&*place.name),
                kind: ProductId::new(&**kind),
                derated: watts(spec.power.value * derating.share).into(),
                permitted: watts(devices::permitted_power(self.job, spec, place)).into(),
                derating_stated: derating.stated,
                load: Load::Standby,
                fixed: false,
                why: "one of each kind in use is kept on standby, as the place asks".into(),
            })
        })
    }

    /// Outputs of supplies that carry something.
    pub(in crate::plan) fn outputs(&self) -> Vec<Output> {
        let all = self.joint.joined.iter();
        all.map(|joined| Output {
            supply: SupplyId::new(&*self.joint.units[joined.unit].id),
            output: joined.output as u64 + 1,
            feeds: joined.decoder_units.iter().map(|b| self.fed(*b)).collect(),
            current: match &joined.figures {
                Ok(f) => corners(f.map(|f| f.current)).map_or_else(
                    || Solved::Not("the solve gave no finite figures".into()),
                    Solved::Figures,
                ),
                Err(why) => Solved::Not(why.to_string().into()),
            },
        })
        .collect()
    }

    fn fed(&self, b: usize) -> Fed {
        let decoder_unit = &self.joint.decoder_units[b];
        if decoder_unit.spec.is_some() {
            return Fed::Decoder(self.decoder_id(b));
        }
        Fed::Switched {
            name: (&*decoder_unit.id).into(),
            zone: ZoneId::new(&*self.job.zones()[decoder_unit.zone].name),
            segments: decoder_unit
                .segments()
                .into_iter()
                .map(|s| self.segment_id(s))
                .collect(),
        }
    }

    /// Connected load by zone.
    pub(in crate::plan) fn put_energy(&self, design: &mut Design) {
        let mut own: BTreeMap<usize, Connected> = BTreeMap::new();
        for (number, segment) in self.joint.segments.iter().enumerate() {
            let zone = own.entry(segment.zone).or_default();
            let figures = self.figures(number);
            zone.tape += figures.map_or(f64::NAN, |f| f.nominal.power.value);
            let pitch = self.job.strips()[segment.tape].pitch;
            let length = pitch.length_of(segment.plan.to - segment.plan.from);
            zone.length = zone.length.saturating_add(length);
        }
        for joined in &self.joint.joined {
            let Ok(figures) = &joined.figures else {
                continue;
            };
            let mut all = 0.0;
            let mut of_zones: BTreeMap<usize, f64> = BTreeMap::new();
            for (number, f) in joined.segments(&self.joint.decoder_units) {
                let power = f.nominal.power.value;
                all += power;
                *of_zones
                    .entry(self.joint.segments[number].zone)
                    .or_default() += power;
            }
            let efficiency = self.joint.units[joined.unit].spec.efficiency;
            for (zone, mine) in of_zones.into_iter().filter(|(_, mine)| *mine > 0.0) {
                let share = mine / all * figures.nominal.power.value;
                let zone = own.entry(zone).or_default();
                zone.source += share;
                zone.mains = zone
                    .mains
                    .zip(efficiency)
                    .map(|(sum, e)| sum + share / e.value);
            }
        }
        let zones = own.into_iter().map(|(zone, own)| Energy {
            zone: ZoneId::new(&*self.job.zones()[zone].name),
            length: own.length,
            tape: Watts::finite(own.tape),
            wiring: Watts::finite((own.source - own.tape).max(0.0)),
            mains: own.mains.and_then(Watts::finite),
        });
        design.energy.extend(zones);
    }
}

/// Connected load of a zone.
struct Connected {
    length: ExactLength,
    /// Nominal, W: of its tape, and from the sources.
    tape: f64,
    source: f64,
    /// From the mains, where every supply that carries something of it states its efficiency.
    mains: Option<f64>,
}

impl Default for Connected {
    fn default() -> Self {
        Self {
            length: ExactLength::ZERO,
            tape: 0.0,
            source: 0.0,
            mains: Some(0.0),
        }
    }
}

/// The conductor that carries most; of equal ones the first.
pub(super) fn busiest(currents: &[(feeding::Conductor, ElectricCurrent)]) -> feeding::Conductor {
    let mut most = (feeding::Conductor::Common, 0.0);
    for (conductor, current) in currents {
        if current.value > most.1 * (1.0 + 1e-9) {
            most = (*conductor, current.value);
        }
    }
    most.0
}

pub(super) fn ampacity(facts: &WireFacts) -> Ampacity {
    Ampacity {
        current: match &facts.ampacity {
            Ok(current) => Solved::Figures((*current).into()),
            Err(why) => Solved::Not((&**why).into()),
        },
        largest_device: facts
            .largest_device
            .as_ref()
            .map(|(current, source)| ((*current).into(), source.clone())),
        source: facts.ampacity_source.clone(),
        grouping: facts.grouping,
    }
}
