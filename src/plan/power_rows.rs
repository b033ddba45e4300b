//! Cables, supplies, decoders and their outputs, connected load.

use super::Worked;
use super::devices;
use super::facts::{self, WireFacts};
use super::kinds;
use super::model::{CableRow, DecoderRow, EnergyRow, OutputRow, Plan, SupplyRow};
use super::tape_rows::letter;
use crate::device::{EnergyLimit, PortIsolation, SignalLoss};
use crate::exact::ExactLength;
use crate::job::spec::{CableItem, Control};
use crate::layout::spec::RouteBasis;
use crate::progress::Progress;
use crate::quantity::{
    Corners, Power, RouteLength, amps, fraction, hertz, metres, square_millimetres, volts, watts,
};
use crate::segment::{BranchFigures, Conductor};
use crate::source::Source;

/// `4 × 18 AWG (0.823 mm²)`: as it is sold, with its area.
pub(super) fn size_words(item: &CableItem) -> String {
    let mm2 = item.size.area().value / square_millimetres(1.0).value;
    let size = item.size.to_string();
    if size.contains("mm") {
        format!("{} × {size}", item.cores)
    } else {
        format!("{} × {size} ({mm2:.3} mm²)", item.cores)
    }
}

impl Worked<'_> {
    pub(super) fn power_rows(&self, plan: &mut Plan, progress: &mut Progress<'_>) {
        self.cable_rows(plan, progress);
        self.supply_rows(plan);
        self.decoder_rows(plan);
        self.energy_rows(plan);
    }

    /// Words of the energy class that a body's copper inherits.
    pub(super) fn energy_words(&self, body: usize) -> String {
        match self.unit_of(body) {
            Some((unit, _)) => match self.joint.units[unit].spec.energy {
                EnergyLimit::Unknown => "unknown".to_string(),
                class => class.word().to_string(),
            },
            None => "unknown".to_string(),
        }
    }

    fn cable_row(&self, item: &CableItem, facts: &WireFacts, route: ExactLength) -> CableRow {
        let length = route.to_length();
        CableRow {
            id: String::new(),
            from: String::new(),
            to: String::new(),
            kind: item.name.clone(),
            size: size_words(item),
            functions: String::new(),
            route: RouteLength::new(length),
            basis: String::new(),
            current: amps(0.0),
            busiest: String::new(),
            ampacity: facts.ampacity.clone(),
            ampacity_source: facts.ampacity_source.clone(),
            drop: volts(0.0),
            drop_share: fraction(0.0),
            longest: None,
            energy_class: String::new(),
            copper: facts.copper * length,
            ambient: crate::quantity::celsius(0.0),
        }
    }

    fn cable_rows(&self, plan: &mut Plan, progress: &mut Progress<'_>) {
        let longest = self.longest_routes(progress);
        let route = |most: Option<&f64>| most.map(|m| RouteLength::new(metres(*m)));
        for (b, body) in self.joint.bodies.iter().enumerate() {
            let lead = &self.joint.leads[b];
            let (Some(item), Some(facts)) = (lead.cable, &lead.facts) else {
                continue;
            };
            let place = &self.job.places()[body.place];
            let rated = self
                .job
                .strip(&self.job.zones()[body.zone].strip)
                .map_or(f64::NAN, |s| s.rated.value);
            let supply = self.unit_of(b).map_or_else(String::new, |(u, o)| {
                format!("supply {}, output {}", self.joint.units[u].id, o + 1)
            });
            let amperes = self
                .branch(b)
                .map_or(body.current, |f| f.high.current.value);
            let drop = 2.0 * lead.core.low * amperes;
            plan.cables.push(CableRow {
                id: format!("L-{}", body.id.trim_start_matches("D-")),
                from: supply,
                to: format!("decoder {}, supply terminals", body.id),
                functions: "1 plus, 2 minus".to_string(),
                basis: "as the place states".to_string(),
                current: amps(amperes),
                busiest: "plus".to_string(),
                drop: volts(drop),
                drop_share: fraction(drop / rated),
                longest: route(longest.leads.get(&b)),
                energy_class: self.energy_words(b),
                ambient: place.ambient,
                ..self.cable_row(item, facts, lead.length)
            });
        }
        for (number, segment) in self.joint.segments.iter().enumerate() {
            let run = &self.runs[segment.run];
            let place = &self.job.places()[segment.place];
            let strip = &self.job.strips()[segment.tape];
            let ambient = kinds::feeder_ambient(run.spec, place);
            let body = self.body_of(number);
            for (n, feed) in segment.plan.feeds.iter().enumerate() {
                let Some(item) = self.job.cable(&feed.cable) else {
                    continue;
                };
                let Ok(facts) = facts::wire(item, self.job.limits(), ambient) else {
                    continue;
                };
                let found = self.feed_figures(number, n);
                let busiest = found
                    .and_then(|f| {
                        f.high
                            .currents
                            .iter()
                            .max_by(|a, b| a.1.value.total_cmp(&b.1.value))
                            .copied()
                    })
                    .unwrap_or((Conductor::Common, amps(f64::NAN)));
                let drop = found.map_or(f64::NAN, |f| f.low.drop.value);
                let functions: Vec<String> = feed
                    .conductors
                    .iter()
                    .enumerate()
                    .map(|(core, c)| {
                        format!("{} {}", core + 1, self.conductor_name(segment, c.conductor))
                    })
                    .collect();
                let routes = run.spec.routes.iter().filter(|r| r.place == place.name);
                let basis = routes.map(|r| r.basis).max().unwrap_or(RouteBasis::Guessed);
                plan.cables.push(CableRow {
                    id: format!("F-{}{}", segment.id, letter(n)),
                    from: match body {
                        Some(b) if self.joint.bodies[b].spec.is_some() => {
                            format!("decoder {}", self.joint.bodies[b].id)
                        }
                        Some(b) => self.unit_of(b).map_or_else(String::new, |(u, o)| {
                            format!("supply {}, output {}", self.joint.units[u].id, o + 1)
                        }),
                        None => String::new(),
                    },
                    to: format!("segment {}, {}", segment.id, strip.pitch.length_of(feed.at)),
                    functions: functions.join(", "),
                    basis: basis.word().to_string(),
                    current: busiest.1,
                    busiest: self.conductor_name(segment, busiest.0),
                    drop: volts(drop),
                    drop_share: fraction(drop / strip.rated.value),
                    longest: route(longest.feeders.get(&(number, n))),
                    energy_class: body.map_or_else(String::new, |b| self.energy_words(b)),
                    ambient,
                    ..self.cable_row(item, &facts, feed.route_length)
                });
            }
        }
    }

    /// Figures of a body from the joint solve.
    pub(super) fn branch(&self, body: usize) -> Option<Corners<&BranchFigures>> {
        self.joint.joined.iter().find_map(|j| j.branch(body))
    }

    /// Power that a supply gives at the corners, all outputs.
    pub(super) fn load_of(&self, unit: usize) -> Corners<f64> {
        let mut sum = Corners::same(0.0);
        for joined in self.joint.joined.iter().filter(|j| j.unit == unit) {
            match &joined.figures {
                Ok(f) => sum = Corners::each(|corner| sum[corner] + f[corner].power.value),
                Err(_) => sum = Corners::same(f64::NAN),
            }
        }
        sum
    }

    fn supply_rows(&self, plan: &mut Plan) {
        for (number, unit) in self.joint.units.iter().enumerate() {
            let place = &self.job.places()[unit.place];
            let load = self.load_of(number);
            let share = kinds::derating(unit.spec, place.ambient).unwrap_or(1.0);
            let derated = unit.spec.power.value * share;
            let feeds: Vec<String> = unit
                .outputs
                .iter()
                .enumerate()
                .filter(|(_, list)| !list.is_empty())
                .map(|(o, list)| {
                    let names: Vec<&str> = list
                        .iter()
                        .map(|b| self.joint.bodies[*b].id.as_str())
                        .collect();
                    format!("output {}: {}", o + 1, names.join(", "))
                })
                .collect();
            plan.supplies.push(SupplyRow {
                id: unit.id.clone(),
                place: place.name.clone(),
                kind: unit.spec.name.clone(),
                set_point: unit.spec.volts,
                rated: unit.spec.power,
                derated: watts(derated),
                ambient: place.ambient,
                load: load.map(|w| watts(*w)),
                share: fraction(load.nominal / derated),
                heat: unit
                    .spec
                    .efficiency
                    .map(|e| watts(load.nominal * (1.0 / e.value - 1.0))),
                shock_class: unit.spec.shock.word().to_string(),
                energy_class: unit.spec.energy.word().to_string(),
                feeds: feeds.join("; "),
                fixed: unit.fixed,
                why: self.joint.assigned[1]
                    .get(unit.assigned)
                    .map_or_else(String::new, |told| told.why(self.job.currency())),
            });
        }
        self.standby_supplies(plan);
    }

    /// Supplies that stand by: without a load.
    fn standby_supplies(&self, plan: &mut Plan) {
        for (number, (at, kind)) in self.joint.standby[1].iter().enumerate() {
            let (Some(spec), place) = (self.job.supply(kind), &self.job.places()[*at]) else {
                continue;
            };
            let share = kinds::derating(spec, place.ambient).unwrap_or(1.0);
            plan.supplies.push(SupplyRow {
                id: format!("PS-standby-{}", number + 1),
                place: place.name.clone(),
                kind: kind.clone(),
                set_point: spec.volts,
                rated: spec.power,
                derated: watts(spec.power.value * share),
                ambient: place.ambient,
                load: Corners::same(watts(0.0)),
                share: fraction(0.0),
                heat: None,
                shock_class: spec.shock.word().to_string(),
                energy_class: spec.energy.word().to_string(),
                feeds: "nothing: it stands by for any of its kind here".to_string(),
                fixed: false,
                why: "one of each kind in use stands by, as the place asks".to_string(),
            });
        }
    }

    fn decoder_rows(&self, plan: &mut Plan) {
        for (b, body) in self.joint.bodies.iter().enumerate() {
            let Some(spec) = body.spec else { continue };
            let zone = &self.job.zones()[body.zone];
            let strip = self.job.strip(&zone.strip);
            let figures = self.branch(b);
            let curve = match zone.control {
                Control::Dmx { curve, .. } => curve.words(),
                Control::Switched => "",
            };
            plan.decoders.push(DecoderRow {
                id: body.id.clone(),
                place: self.job.places()[body.place].name.clone(),
                kind: spec.name.clone(),
                universe: 0,
                address: 0,
                slots: 0,
                outputs: format!("{} of {}", body.outputs.len(), spec.outputs),
                current: figures.map_or(amps(f64::NAN), |f| f.high.current),
                current_limit: amps(spec.total_current.value.min(spec.terminal_current.value)),
                frequency: hertz(spec.frequency.value),
                bits: spec.bits.min(255) as u8,
                curve: curve.to_string(),
                signal_loss: match spec.signal_loss {
                    SignalLoss::Hold => "holds the last levels",
                    SignalLoss::Dark => "goes dark",
                    SignalLoss::Full => "goes to full",
                    SignalLoss::Unknown => "not stated",
                }
                .to_string(),
                isolated: isolation_words(spec.port).to_string(),
                fixed: body.fixed,
                supply: self.unit_of(b).map_or_else(String::new, |(u, o)| {
                    format!("{}, output {}", self.joint.units[u].id, o + 1)
                }),
            });
            for (number, output) in body.outputs.iter().enumerate() {
                let ids: Vec<&str> = output
                    .segments
                    .iter()
                    .map(|s| self.joint.segments[*s].id.as_str())
                    .collect();
                plan.outputs.push(OutputRow {
                    decoder: body.id.clone(),
                    output: number + 1,
                    emitter: strip
                        .and_then(|s| s.emitters.get(output.emitter))
                        .map_or_else(String::new, |e| e.name.clone()),
                    zone: zone.name.clone(),
                    segments: ids.join(", "),
                    current: figures
                        .and_then(|f| f.high.outputs.get(number).copied())
                        .unwrap_or(amps(f64::NAN)),
                    limit: spec.output_current,
                });
            }
        }
    }

    fn energy_rows(&self, plan: &mut Plan) {
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
                    let segments = joined.segments(&self.joint.bodies);
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
            plan.energy.push(EnergyRow {
                zone: zone.name.clone(),
                length,
                tape: watts(tape),
                wiring: watts((source - tape).max(0.0)),
                mains: mains.map(watts) as Option<Power>,
            });
        }
    }

    /// What one supply may give by the load factor.
    pub(super) fn permitted(&self, unit: usize) -> f64 {
        let unit = &self.joint.units[unit];
        devices::permitted_power(self.job, unit.spec, &self.job.places()[unit.place])
    }
}

/// Whether a port is isolated, in words.
pub(super) fn isolation_words(port: PortIsolation) -> &'static str {
    match port {
        PortIsolation::Isolated => "isolated",
        PortIsolation::Joined => "joined to supply minus",
        PortIsolation::Unknown => "not stated",
    }
}

/// Where figures of this plan come from that no table holds.
pub(super) const SOLVE: Source =
    Source::computed("solve of one supply output with all its copper and tape");
