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
use crate::layout::spec::RouteBasis;
use crate::plan::facts::{self, WireFacts};
use crate::plan::longest::Longest;
use crate::plan::{SolvedJob, devices, kinds};
use crate::progress::Progress;
use crate::quantity::{Amps, Corners, Metres, Share, Volts, Watts, amps, ohms, watts};
use crate::segment::{BranchFigures, FeedFigures};

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
    fn energy_class(&self, decoder_unit: usize) -> EnergyLimit {
        self.unit_of(decoder_unit)
            .map_or(EnergyLimit::Unknown, |(unit, _)| {
                self.joint.units[unit].spec.energy
            })
    }

    /// Figures of a decoder or switched group from the joint solve.
    pub(super) fn branch(&self, decoder_unit: usize) -> Option<Corners<&BranchFigures>> {
        self.joint
            .joined
            .iter()
            .find_map(|j| j.branch(decoder_unit))
    }

    /// Leads and feeders.
    pub(in crate::plan) fn cables(&self, progress: &mut Progress<'_>) -> Vec<Cable> {
        let longest = self.longest_routes(progress);
        let leads = (0..self.joint.decoder_units.len()).filter_map(|b| self.lead(b, &longest));
        let feeders = self.joint.segments.iter().enumerate().flat_map(|(s, own)| {
            let longest = &longest;
            (0..own.plan.feeds.len()).filter_map(move |n| self.feeder(s, n, longest))
        });
        leads.chain(feeders).collect()
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
        let busiest = found.map_or(feeding::Conductor::Common, |f| busiest(f.high));
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
        for joined in self.joint.joined.iter().filter(|j| j.unit == unit) {
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
                derated: watts(unit.spec.power.value * derating.unwrap_or(1.0)).into(),
                permitted: watts(devices::permitted_power(self.job, unit.spec, place)).into(),
                derating_stated: derating.is_some(),
                load: self.load_of(number),
                fixed: unit.fixed,
                why: self.joint.assigned[1]
                    .get(unit.assigned)
                    .map_or_else(String::new, |told| told.why(self.job.currency()))
                    .into(),
            }
        });
        working.chain(self.standby_supplies()).collect()
    }

    /// Supplies that stand by: without a load.
    fn standby_supplies(&self) -> impl Iterator<Item = Supply> {
        let all = self.joint.standby[1].iter().enumerate();
        all.filter_map(|(number, (at, kind))| {
            let spec = self.job.supply(kind)?;
            let place = &self.job.places()[*at];
            let derating = kinds::derating(spec, place.ambient);
            Some(Supply {
                id: SupplyId::new(format!("PS-standby-{}", number + 1)),
                place: PlaceId::new(&*place.name),
                kind: ProductId::new(&**kind),
                derated: watts(spec.power.value * derating.unwrap_or(1.0)).into(),
                permitted: watts(devices::permitted_power(self.job, spec, place)).into(),
                derating_stated: derating.is_some(),
                load: Load::Standby,
                fixed: false,
                why: "one of each kind in use stands by, as the place asks".into(),
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
        for (z, zone) in self.job.zones().iter().enumerate() {
            let own: Vec<usize> = (0..self.joint.segments.len())
                .filter(|s| self.joint.segments[*s].zone == z)
                .collect();
            if own.is_empty() {
                continue;
            }
            let nominal = |s: usize| self.figures(s).map_or(f64::NAN, |f| f.nominal.power.value);
            let tape: f64 = own.iter().map(|s| nominal(*s)).sum();
            let mut source = 0.0;
            let mut mains = Some(0.0);
            for joined in &self.joint.joined {
                let Ok(figures) = &joined.figures else {
                    continue;
                };
                let powers = || {
                    let segments = joined.segments(&self.joint.decoder_units);
                    segments.map(|(number, f)| (number, f.nominal.power.value))
                };
                let all: f64 = powers().map(|p| p.1).sum();
                let mine: f64 = powers()
                    .filter(|p| self.joint.segments[p.0].zone == z)
                    .map(|p| p.1)
                    .sum();
                let share = if all > 0.0 {
                    mine / all * figures.nominal.power.value
                } else {
                    0.0
                };
                source += share;
                mains = match (mains, self.joint.units[joined.unit].spec.efficiency) {
                    (Some(sum), Some(e)) => Some(sum + share / e.value),
                    (Some(sum), None) if share == 0.0 => Some(sum),
                    _ => None,
                };
            }
            let length = own.iter().fold(ExactLength::ZERO, |sum, s| {
                let segment = &self.joint.segments[*s];
                let pitch = self.job.strips()[segment.tape].pitch;
                sum.saturating_add(pitch.length_of(segment.plan.to - segment.plan.from))
            });
            design.energy.push(Energy {
                zone: ZoneId::new(&*zone.name),
                length,
                tape: Watts::finite(tape),
                wiring: Watts::finite((source - tape).max(0.0)),
                mains: mains.and_then(Watts::finite),
            });
        }
    }
}

/// The conductor that carries most; of equal ones the first.
fn busiest(feed: &FeedFigures) -> feeding::Conductor {
    let mut most = (feeding::Conductor::Common, 0.0);
    for (conductor, current) in &feed.currents {
        if current.value > most.1 * (1.0 + 1e-9) {
            most = (*conductor, current.value);
        }
    }
    most.0
}

fn ampacity(facts: &WireFacts) -> Ampacity {
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
