//! From a chain to a net, and through time.

use super::super::chain::{Chain, Link, PartKind, SOURCE};
use super::super::timing::BIT_SECONDS;
use super::judge::{Seen, Watch, bit_steps};
use super::line_net::{LineNet, NetError, Node};
use super::packet::Levels;
use super::result::{DeviceSignal, LinkSignal, Signal};
use super::superpose::{Sent, superposed};
use crate::error::SpecErrors;
use crate::quantity::{
    Capacitance, ElectricPotential, ElectricalResistance, Time, farads, ohms, seconds, volts,
};
use thiserror::Error;

/// Differential input resistance of one unit load, ohm: 12 kΩ from each line (TIA-485-A 4.1.1, quoted).
pub(super) const UNIT_LOAD_OHMS: f64 = 24_000.0;
/// Longest stretch of cable whose resistance stands at its two ends, m.
const SECTION: f64 = 20.0;
/// Most slots of one simulation.
const MOST_SLOTS: usize = 512;
/// Most steps of one simulation.
const MOST_STEPS: usize = 50_000_000;

/// Driver, receivers, packet and step of a simulation.
#[derive(Debug, Clone, PartialEq)]
pub struct SignalSpec {
    /// Open-circuit volts of the driver, a mark; a space is the negative.
    pub open_volts: ElectricPotential,
    /// Internal resistance of the driver.
    pub source_resistance: ElectricalResistance,
    /// Length of an edge, from level to level, straight.
    pub rise: Time,
    /// Input capacitance of one receiver.
    pub capacitance: Capacitance,
    /// Slots of the packet sent.
    pub slots: Vec<u8>,
    /// Levels sent instead of a packet.
    pub levels: Option<Levels>,
    /// Time step.
    pub step: Time,
}

impl Default for SignalSpec {
    /// The weakest driver that TIA-485-A permits, on a fast edge: 3 V behind 54 Ω, which is 1.5 V
    /// into 54 Ω (TIA-485-A 4.2.2, as quoted), 50 ns (from memory: fast drivers), receivers of
    /// 20 pF (from memory: data-sheet level), ten slots that alternate and stand still, 1 ns.
    fn default() -> Self {
        Self {
            open_volts: volts(3.0),
            source_resistance: ohms(54.0),
            rise: seconds(50e-9),
            capacitance: farads(20e-12),
            slots: vec![0x55, 0xAA, 0x00, 0xFF, 0x0F, 0xF0, 0x01, 0x80, 0x7F, 0xFE],
            levels: None,
            step: seconds(1e-9),
        }
    }
}

/// What cannot be simulated.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum SignalError {
    /// A number out of range.
    #[error("{what} is {found}; write {accepted}")]
    Number {
        /// Which.
        what: &'static str,
        /// The number, SI.
        found: f64,
        /// What is accepted.
        accepted: &'static str,
    },
    /// A change that cannot be made.
    #[error("`{change}` cannot be made: {reason}")]
    Change {
        /// The change.
        change: String,
        /// Why not.
        reason: String,
    },
    /// The net cannot be built.
    #[error(transparent)]
    Net(#[from] NetError),
}

/// A simulation whose numbers are in range.
#[derive(Debug, Clone, PartialEq)]
pub struct SignalPlan {
    pub(super) spec: SignalSpec,
    pub(super) levels: Levels,
    /// Every step of every bit is taken, even where sums of answers to one bit would do.
    stepped: bool,
}

impl SignalPlan {
    /// The same simulation with every bit carried through the net step by step. The volts are the same
    /// within 10 µV; it takes longer, and is there to be compared with.
    #[must_use]
    pub fn step_by_step(mut self) -> Self {
        self.stepped = true;
        self
    }
}

impl SignalSpec {
    /// Checks the numbers.
    ///
    /// # Errors
    /// Every [`SignalError`] found.
    pub fn check(self) -> Result<SignalPlan, SpecErrors<SignalError>> {
        let mut errors = Vec::new();
        let mut within = |what, found: f64, low: f64, high: f64, accepted| {
            if !(found >= low && found <= high) {
                errors.push(SignalError::Number {
                    what,
                    found,
                    accepted,
                });
            }
        };
        within(
            "the open-circuit volts of the driver",
            self.open_volts.value,
            0.1,
            100.0,
            "0.1 to 100 V",
        );
        within(
            "the source resistance",
            self.source_resistance.value,
            0.1,
            1e5,
            "0.1 to 100000 ohm",
        );
        within(
            "the edge",
            self.rise.value,
            0.0,
            0.9 * BIT_SECONDS,
            "0 to 3.6 µs, below a bit",
        );
        within(
            "the capacitance of a receiver",
            self.capacitance.value,
            0.0,
            1e-6,
            "0 to 1 µF",
        );
        within("the step", self.step.value, 1e-11, 1e-7, "10 ps to 100 ns");
        within(
            "the number of slots",
            self.slots.len() as f64,
            0.0,
            MOST_SLOTS as f64,
            "at most 512 slots",
        );
        let levels = match &self.levels {
            Some(levels) => levels.clone(),
            None => Levels::packet(self.slots.get(..MOST_SLOTS).unwrap_or(&self.slots)),
        };
        let steps = levels.bits().len() as f64 * BIT_SECONDS / self.step.value;
        within(
            "the number of steps",
            steps,
            1.0,
            MOST_STEPS as f64,
            "1 to 50 million: a shorter packet or a longer step",
        );
        if errors.is_empty() {
            Ok(SignalPlan {
                spec: self,
                levels,
                stepped: false,
            })
        } else {
            Err(SpecErrors(errors))
        }
    }
}

/// A net and where the parts of a link stand in it.
struct Laid {
    net: LineNet,
    /// Node and arrival, steps, of every part of the link.
    places: Vec<(Node, usize)>,
}

/// Sends the packet through the net step by step.
fn stepped(laid: &mut Laid, plan: &SignalPlan) -> Vec<Seen> {
    let step = plan.spec.step.value;
    let mut watch = Watch::new(&plan.levels, step);
    for &(node, arrival) in &laid.places {
        watch.add(node, arrival);
    }
    let arrivals = laid.places.iter().map(|&(_, arrival)| arrival);
    let last = arrivals.max().unwrap_or(0);
    let bits = plan.levels.bits().len() as f64 * bit_steps(step);
    let (high, rise) = (plan.spec.open_volts.value, plan.spec.rise.value);
    laid.net.run(
        bits as usize + last,
        |first, out| plan.levels.fill(high, rise, step, first, out),
        |node, first, volts| watch.see(node, first, volts),
    );
    let places = laid.places.iter();
    places.map(|&(node, _)| watch.seen(node)).collect()
}

impl Chain {
    /// Sends the packet of `plan` down every link and says what each device sees.
    ///
    /// Every link is driven by a driver like that of the port: a splitter's outputs are not told apart.
    /// Delays are rounded to whole steps along the cable; cable shorter than half a step is a joint.
    ///
    /// # Errors
    /// [`SignalError`] when the net would be too large.
    pub fn simulate(&self, plan: &SignalPlan) -> Result<Signal, SignalError> {
        let mut links = Vec::new();
        for link in self.links() {
            links.push(self.simulate_link(&link, plan)?);
        }
        Ok(Signal {
            chain: self.spec.name.clone(),
            links,
        })
    }

    fn simulate_link(&self, link: &Link, plan: &SignalPlan) -> Result<LinkSignal, SignalError> {
        let spec = &plan.spec;
        let step = spec.step.value;
        let mut laid = self.lay_link(link, plan)?;
        let bit = bit_steps(step);
        let sent = Sent {
            levels: &plan.levels,
            high: spec.open_volts.value,
            rise: spec.rise.value / step,
            bit: bit as usize,
        };
        let seen = (libm::floor(bit) >= bit && !plan.stepped)
            .then(|| superposed(laid.net.clone(), &laid.places, sent))
            .flatten()
            .unwrap_or_else(|| stepped(&mut laid, plan));
        let steady = self.steady_volts(link, plan);
        let mut devices = Vec::new();
        for ((((&part, &(_, arrival)), seen), &distance), &steady) in link
            .parts
            .iter()
            .zip(&laid.places)
            .zip(&seen)
            .zip(&link.distances)
            .zip(&steady)
        {
            let Some(written) = self.spec.parts.get(part) else {
                continue;
            };
            if written.kind == PartKind::Joint {
                continue;
            }
            devices.push(DeviceSignal {
                part,
                name: written.name.clone(),
                distance: crate::quantity::metres(distance),
                arrival: seconds(arrival as f64 * step),
                least_at_middle: volts(seen.least_at_middle),
                least_in_window: volts(seen.least_in_window),
                peak: volts(seen.peak),
                steady: volts(steady),
            });
        }
        Ok(LinkSignal {
            link: link.subject(&self.spec.name),
            devices,
        })
    }

    fn lay_link(&self, link: &Link, plan: &SignalPlan) -> Result<Laid, SignalError> {
        let step = plan.spec.step.value;
        let mut net = LineNet::new(step)?;
        let driver = net.node()?;
        net.source(driver, plan.spec.source_resistance.value)?;
        if let (SOURCE, Some(terminator)) = (link.driver.as_str(), self.spec.source_terminator) {
            net.resistor(driver, terminator.value)?;
        }
        // Node, time and step at which each part of the chain is reached.
        let mut reached = vec![(driver, 0.0, 0_usize); self.spec.parts.len()];
        let mut places = Vec::with_capacity(link.parts.len());
        for &index in &link.parts {
            let Some(part) = self.spec.parts.get(index) else {
                continue;
            };
            let parent = self.parents.get(index).copied().flatten();
            let on_link = parent.filter(|&parent| !self.is_splitter(parent));
            let before = on_link.and_then(|parent| reached.get(parent).copied());
            let (from, time, arrival) = before.unwrap_or((driver, 0.0, 0));
            let cable = self.cable_of(index);
            let length = part.length.value;
            let time = time + length * cable.delay_per_metre();
            let here = libm::round(time / step) as usize;
            let delay = here.saturating_sub(arrival);
            let node = if delay == 0 {
                from
            } else {
                let sections = (libm::ceil(length / SECTION) as usize).clamp(1, delay);
                let resistance = length * cable.loop_resistance.value / sections as f64;
                let mut end = from;
                for section in 0..sections {
                    let steps = (section + 1) * delay / sections - section * delay / sections;
                    let next = net.node()?;
                    net.line([end, next], cable.impedance.value, steps, resistance)?;
                    end = next;
                }
                end
            };
            match part.kind {
                PartKind::Device { unit_loads, .. } | PartKind::Splitter { unit_loads, .. } => {
                    let loads = f64::from(unit_loads.ten_thousandths()) / 1e4;
                    net.resistor(node, UNIT_LOAD_OHMS / loads)?;
                    net.capacitor(node, plan.spec.capacitance.value)?;
                }
                PartKind::Joint => {}
            }
            if let Some(terminator) = part.terminator {
                net.resistor(node, terminator.value)?;
            }
            if let Some(place) = reached.get_mut(index) {
                *place = (node, time, here);
            }
            places.push((node, here));
        }
        Ok(Laid { net, places })
    }
}
