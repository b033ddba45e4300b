//! Limits, products in use, places and zones.

use crate::cable::Installation;
use crate::design::{
    CableKind, DecoderKind, Derating, Emitter, Limits, Name, Note, PerBreaker, Place, Strip,
    SupplyKind, Zone,
};
use crate::device::{DecoderSpec, SupplySpec};
use crate::id::{PlaceId, ProductId, UniverseId, ZoneId};
use crate::job::Job;
use crate::job::spec::{CableItem, Control, LimitKey, TakenFact};
use crate::layout::PathJointKind;
use crate::order::Order as _;
use crate::plan::{SolvedJob, facts};
use crate::quantity::{amps, fraction};
use crate::source::Source;
use crate::strip::PowerBasis;

/// The limits of a job.
pub(in crate::plan) fn limits(job: &Job) -> Limits {
    let own = job.limits();
    Limits {
        least_current: own.least_current.into(),
        visible_step: own.visible_step.map(Into::into),
        balance: own.balance.map(Into::into),
        voltage_drop: own.voltage_drop.map(Into::into),
        voltage_drop_stated: own.voltage_drop_stated,
        connector_current: own.connector_current.map(Into::into),
        core_current: own.core_current.map(Into::into),
        load_factor: own.load_factor.into(),
        conductor: own.conductor.map(|t| (*t).into()),
        cell: own.cell.map(|t| (*t).into()),
        current_tolerance: own.current_tolerance.into(),
        chopped_feeder: own.chopped_feeder,
        chain_devices: own.chain_devices,
        chain_length: own.chain_length,
        chain_length_stated: !own.is_assumed(LimitKey::ChainLength),
    }
}

impl SolvedJob<'_> {
    /// Tapes of the runs.
    pub(in crate::plan) fn strips(&self) -> Vec<Strip> {
        let used = |at: usize| self.runs.iter().any(|run| run.tape == at);
        let all = self.job.strips().iter().enumerate();
        all.filter(|(at, _)| used(*at))
            .filter_map(|(at, strip)| {
                let model = self.models.get(at)?;
                Some(Strip {
                    id: ProductId::new(&*strip.name),
                    rated: strip.rated.into(),
                    pitch: strip.pitch,
                    polarity: strip.polarity,
                    emitters: strip
                        .emitters
                        .iter()
                        .map(|e| Emitter {
                            name: Name::from(&*e.name),
                        })
                        .collect(),
                    power_stated: strip.power.map(Into::into),
                    power_length_stated: strip.power_basis != PowerBasis::Unknown,
                    power: model.power_per_length().nominal.into(),
                    pad_current: strip.pad_current.map(Into::into),
                    bend_radius: strip.bend_radius,
                    highest_volts: strip.highest_volts.map(Into::into),
                    highest_ambient: strip.highest_ambient.map(Into::into),
                    ingress: strip.ingress,
                    reel: strip.reel,
                    reel_joint_stated: strip.reel_joint.is_some(),
                })
            })
            .collect()
    }

    /// Kinds of cable in use, by name.
    pub(in crate::plan) fn cable_kinds(&self) -> Vec<CableKind> {
        let mut used: Vec<&CableItem> = self.joint.leads.iter().filter_map(|l| l.cable).collect();
        for segment in &self.joint.segments {
            for feed in &segment.plan.feeds {
                used.extend(self.job.cable(&feed.cable));
            }
        }
        for run in &self.runs {
            for joint in run.layout.joints() {
                if let PathJointKind::Jumper(jumper) = &joint.kind {
                    used.extend(self.job.cable(&jumper.cable));
                }
            }
        }
        used.order_by(|a, b| a.name.cmp(&b.name));
        used.dedup_by(|a, b| a.name == b.name);
        used.into_iter().map(|item| self.cable_kind(item)).collect()
    }

    fn cable_kind(&self, item: &CableItem) -> CableKind {
        let limits = self.job.limits();
        let facts = facts::wire(item, limits, limits.conductor.nominal, amps(f64::INFINITY));
        let (assumed, source) = match facts {
            Ok(facts) => (facts.assumed, facts.resistance_source),
            Err(why) => (vec![why], Source::stated("the job")),
        };
        CableKind {
            id: ProductId::new(&*item.name),
            cores: item.cores,
            area: item.size.area().into(),
            size: Name::from(item.size.to_string()),
            insulation: item.insulation.into(),
            us_tables: item.installed.is_some_and(Installation::is_us),
            environment: item.environment,
            resistance_assumed: assumed.into_iter().map(Note::from).collect(),
            resistance_source: source,
        }
    }

    /// Kinds of supply in use, in the order of the job.
    pub(in crate::plan) fn supply_kinds(&self) -> Vec<SupplyKind> {
        let idle = self.idle_supplies();
        let used = |name: &str| {
            self.joint.units.iter().any(|u| u.spec.name == name)
                || self.joint.standby[1].iter().any(|s| s.1 == name)
                || idle.iter().any(|own| own.kind.name() == name)
        };
        let all = self.job.supplies().iter();
        all.filter(|s| used(&s.name)).map(supply_kind).collect()
    }

    /// Kinds of decoder in use, in the order of the job.
    pub(in crate::plan) fn decoder_kinds(&self) -> Vec<DecoderKind> {
        let idle = self.idle_decoders();
        let used = |name: &str| {
            self.joint
                .decoder_units
                .iter()
                .any(|b| b.spec.is_some_and(|d| d.name == name))
                || self.joint.standby[0].iter().any(|s| s.1 == name)
                || idle.iter().any(|own| own.kind.name() == name)
        };
        let all = self.job.decoders().iter();
        all.filter(|d| used(&d.name))
            .map(|d| decoder_kind(d, !self.job.is_taken(TakenFact::DecoderSwitch, &d.name)))
            .collect()
    }

    /// Places of the job.
    pub(in crate::plan) fn places(&self) -> Vec<Place> {
        let standby = |of: usize, at: usize| {
            let all = self.joint.standby[of].iter();
            all.filter(|s| s.0 == at).count() as u64
        };
        let all = self.job.places().iter().enumerate();
        all.map(|(at, place)| Place {
            id: PlaceId::new(&*place.name),
            environment: place.environment,
            ingress: place.ingress,
            ambient: place.ambient.into(),
            service: place.service,
            most_supplies: place.most_supplies,
            most_decoders: place.most_decoders,
            standby_supplies: standby(1, at),
            standby_decoders: standby(0, at),
            has_ways: !place.ways.is_empty(),
            circuit: (&*place.circuit).into(),
            access: (&*place.access).into(),
        })
        .collect()
    }

    /// Zones of the job.
    pub(in crate::plan) fn zones(&self) -> Vec<Zone> {
        let all = self.job.zones().iter();
        all.map(|zone| Zone {
            id: ZoneId::new(&*zone.name),
            strip: ProductId::new(&*zone.strip),
            service: zone.service,
            dimmed: matches!(zone.control, Control::Dmx { .. }),
            universe: self
                .job
                .universe_of(zone)
                .map(|universe| UniverseId::new(&*universe.name)),
        })
        .collect()
    }
}

fn supply_kind(spec: &SupplySpec) -> SupplyKind {
    SupplyKind {
        id: ProductId::new(&*spec.name),
        power: spec.power.into(),
        set_point: spec.volts.into(),
        tolerance: spec.tolerance.into(),
        highest: spec.trim.map(|(_, highest)| highest.into()),
        outputs: spec.outputs,
        output_current: spec.output_current.into(),
        limit_current: spec.limit_current.map(Into::into),
        overload: spec.overload,
        output_resistance: spec.output_resistance.into(),
        shock: spec.shock,
        energy: spec.energy,
        derating: spec
            .derating
            .iter()
            .map(|(ambient, share)| Derating {
                ambient: (*ambient).into(),
                share: (*share).into(),
            })
            .collect(),
        efficiency: spec.efficiency.map(Into::into),
        ingress: spec.ingress,
        per_breaker: spec
            .per_breaker
            .as_ref()
            .map(|(count, breaker)| PerBreaker {
                count: *count,
                breaker: (&**breaker).into(),
            }),
    }
}

fn decoder_kind(spec: &DecoderSpec, named: bool) -> DecoderKind {
    DecoderKind {
        id: ProductId::new(&*spec.name),
        named,
        outputs: spec.outputs,
        output_current: spec.output_current.into(),
        total_current: spec.total_current.into(),
        terminal_current: spec.terminal_current.into(),
        least_volts: spec.volts.0.into(),
        most_volts: spec.volts.1.into(),
        switch: spec.switch.into(),
        frequency: spec.frequency.into(),
        bits: spec.bits.min(255) as u8,
        shortest_on: spec
            .shortest_pulse
            .map(|pulse| fraction(pulse.value * spec.frequency.value).into()),
        curves: spec.curves.clone(),
        signal_loss: spec.signal_loss,
        port: spec.port,
        energy: spec.energy,
        ingress: spec.ingress,
    }
}
