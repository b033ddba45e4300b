//! The plan of a job as data: what is cut, fed, wired, supplied, controlled,
//! bought and measured, and what the rules say about it.
//!
//! Figures are typed quantities; words are text. The [`report`](crate::report)
//! layer lays them out and does no physics. Three figures stand beside each
//! other wherever tolerance matters ([`Corners`]): a light minimum comes from
//! the low corner, a current or heat maximum from the high one.

use crate::exact::ExactLength;
use crate::finding::Finding;
use crate::quantity::{
    ElectricCurrent, ElectricPotential, ElectricalResistance, Frequency, LinearPower, Mass, Power,
    Ratio, RouteLength, ThermodynamicTemperature,
};
use crate::source::Source;

pub use crate::quantity::Corners;

/// The whole plan of one job.
#[derive(Debug, Clone, Default, PartialEq)]
#[non_exhaustive]
pub struct Plan {
    /// Title of the job.
    pub title: String,
    /// What the job file says about its data, such as that it is invented.
    pub note: String,
    /// Hash of the checked input, the tables, the rule set and the version of this crate:
    /// never of floating-point results.
    pub fingerprint: String,
    /// Name of the rule set, with its version.
    pub rule_set: String,
    /// Version of this crate.
    pub crate_version: String,
    /// What keeps this plan from calling itself complete; empty when nothing does.
    pub incomplete_because: Vec<String>,
    /// Runs as drawn and as lit.
    pub runs: Vec<RunRow>,
    /// Pieces of tape.
    pub cuts: Vec<CutRow>,
    /// Light and volts of each segment.
    pub segments: Vec<SegmentRow>,
    /// Where copper enters the tape.
    pub feeds: Vec<FeedRow>,
    /// Cables.
    pub cables: Vec<CableRow>,
    /// Supplies.
    pub supplies: Vec<SupplyRow>,
    /// Conductors and what protects them.
    pub protection: Vec<ProtectionRow>,
    /// Decoders.
    pub decoders: Vec<DecoderRow>,
    /// Outputs of decoders.
    pub outputs: Vec<OutputRow>,
    /// DMX slots, a row each.
    pub addresses: Vec<AddressRow>,
    /// Devices in the order of their data cable.
    pub chains: Vec<ChainRow>,
    /// Bars of profile and lengths of cover, with the pieces cut from each.
    pub bars: Vec<BarRow>,
    /// Reels of tape, with the pieces cut from each.
    pub reels: Vec<BarRow>,
    /// What to buy.
    pub materials: Vec<MaterialRow>,
    /// Readings to expect on site.
    pub readings: Vec<ReadingRow>,
    /// Connected load by zone.
    pub energy: Vec<EnergyRow>,
    /// What the rules say.
    pub findings: Vec<Finding>,
    /// What was assumed where the job is silent.
    pub assumptions: Vec<Assumption>,
    /// Every source that a figure or limit of this plan rests on, in order of first use.
    pub sources: Vec<Source>,
}

/// A value taken where the job is silent.
#[derive(Debug, Clone, PartialEq)]
pub struct Assumption {
    /// What was assumed, with the value.
    pub what: String,
    /// Where the value comes from.
    pub source: Source,
}

/// A run as drawn and as lit.
#[derive(Debug, Clone, PartialEq)]
pub struct RunRow {
    /// Run id.
    pub id: String,
    /// Zone it dims with.
    pub zone: String,
    /// Room.
    pub room: String,
    /// Reference of the drawing.
    pub drawing: String,
    /// Tape.
    pub strip: String,
    /// Colour in words, such as `red, green, blue, white`.
    pub colour: String,
    /// Rated power per length.
    pub power_per_length: LinearPower,
    /// Length drawn.
    pub drawn: ExactLength,
    /// Length that lights.
    pub lit: ExactLength,
    /// Dark at the start of the run.
    pub dark_start: ExactLength,
    /// Dark at its end.
    pub dark_end: ExactLength,
    /// Dark between: gaps and corners.
    pub dark_between: ExactLength,
    /// Cut increments.
    pub increments: u64,
    /// Straight pieces and corners, such as `3 pieces, 2 inside corners`.
    pub path: String,
    /// Profile and cover; empty where there is none.
    pub profile: String,
    /// Environment, such as `dry, 25 °C`.
    pub environment: String,
    /// `normal`, `emergency` or `both`.
    pub service: String,
}

/// A piece of tape to be cut.
#[derive(Debug, Clone, PartialEq)]
pub struct CutRow {
    /// Piece id, stable when the job changes elsewhere: `A1.2`.
    pub id: String,
    /// Run.
    pub run: String,
    /// Segment of the run, from 1.
    pub segment: usize,
    /// Tape.
    pub strip: String,
    /// Increments.
    pub increments: u64,
    /// Length.
    pub length: ExactLength,
    /// First cut mark, from the start of the run's tape.
    pub from: ExactLength,
    /// What is done at the start of the piece: lead, jumper, end cap.
    pub start: String,
    /// What is done at its end.
    pub end: String,
    /// Reel it is cut from.
    pub reel: String,
    /// Text of its label.
    pub label: String,
}

/// Light and volts of one segment.
#[derive(Debug, Clone, PartialEq)]
pub struct SegmentRow {
    /// Segment id.
    pub id: String,
    /// Run.
    pub run: String,
    /// Lit length.
    pub length: ExactLength,
    /// How it is fed: `start`, `both ends`, …
    pub pattern: String,
    /// Least cell voltage, all emitters of the worst state.
    pub least_volts: Corners<ElectricPotential>,
    /// Least cell current relative to nominal.
    pub least_current: Corners<Ratio>,
    /// Emitter that has it.
    pub weakest: String,
    /// Greatest change of emitter balance along the segment; 0 with one emitter.
    pub balance: Ratio,
    /// Power into the tape, all emitters on.
    pub power: Corners<Power>,
    /// Bound on the error of the nominal voltages.
    pub volt_error_bound: ElectricPotential,
}

/// Where one conductor enters the tape, and what it carries.
#[derive(Debug, Clone, PartialEq)]
pub struct FeedConductor {
    /// Function: `plus`, `red return`, …
    pub function: String,
    /// Node of the tape: `start`, `end`, or the distance from the start of the run's tape.
    pub node: String,
    /// Greatest current over the lit states at the high corner.
    pub current: ElectricCurrent,
}

/// A feed.
#[derive(Debug, Clone, PartialEq)]
pub struct FeedRow {
    /// Feed id.
    pub id: String,
    /// Segment.
    pub segment: String,
    /// Distance from the start of the run's tape.
    pub position: ExactLength,
    /// Conductors.
    pub conductors: Vec<FeedConductor>,
    /// Cable.
    pub cable: String,
    /// Output it comes from: `decoder D2, outputs 1-4`.
    pub source: String,
    /// Volts between plus and the weakest return at the feed.
    pub volts: Corners<ElectricPotential>,
    /// Joint kind.
    pub joint: String,
}

/// A cable.
#[derive(Debug, Clone, PartialEq)]
pub struct CableRow {
    /// Cable id.
    pub id: String,
    /// Terminals it starts from.
    pub from: String,
    /// Terminals it goes to.
    pub to: String,
    /// Kind, from the job's list.
    pub kind: String,
    /// Cores and size as it is sold, with the other system's figure: `4 × 18 AWG (0.823 mm²)`.
    pub size: String,
    /// Core, function: `1 plus, 2 red return`.
    pub functions: String,
    /// Route, one way.
    pub route: RouteLength,
    /// `measured`, `scaled` or `guessed`.
    pub basis: String,
    /// Greatest current of any core at the high corner.
    pub current: ElectricCurrent,
    /// Core that carries it.
    pub busiest: String,
    /// Ampacity in this place, or why there is none.
    pub ampacity: Result<ElectricCurrent, String>,
    /// Source of the ampacity.
    pub ampacity_source: Source,
    /// Drop over the loop at the low corner, worst emitter.
    pub drop: ElectricPotential,
    /// Drop as a share of the rated voltage.
    pub drop_share: Ratio,
    /// Longest route at which the limits still hold with everything else as planned.
    pub longest: Option<RouteLength>,
    /// Energy class inherited from the source.
    pub energy_class: String,
    /// Copper in it.
    pub copper: Mass,
    /// Cable ambient temperature.
    pub ambient: ThermodynamicTemperature,
}

/// A supply.
#[derive(Debug, Clone, PartialEq)]
pub struct SupplyRow {
    /// Supply id.
    pub id: String,
    /// Place.
    pub place: String,
    /// Kind, from the job's list.
    pub kind: String,
    /// Set point.
    pub set_point: ElectricPotential,
    /// Rated power.
    pub rated: Power,
    /// Rated power at the ambient assumed.
    pub derated: Power,
    /// Ambient assumed.
    pub ambient: ThermodynamicTemperature,
    /// Load at nominal, and at the high corner.
    pub load: Corners<Power>,
    /// Greatest load as a share of the derated power.
    pub share: Ratio,
    /// Heat given off at nominal load, where an efficiency is stated.
    pub heat: Option<Power>,
    /// Shock protection class, from the label.
    pub shock_class: String,
    /// Energy class, from the label.
    pub energy_class: String,
    /// What it feeds.
    pub feeds: String,
}

/// A conductor, what it carries and what protects it.
#[derive(Debug, Clone, PartialEq)]
pub struct ProtectionRow {
    /// Conductor: `cable C3, core plus`, `tape A1.1, common rail`.
    pub conductor: String,
    /// Load current at the high corner.
    pub load: ElectricCurrent,
    /// Protective device upstream, or none.
    pub device: String,
    /// Ampacity, or why there is none.
    pub ampacity: Result<ElectricCurrent, String>,
    /// What the source can push, and how it behaves on overload.
    pub source_limit: String,
    /// Fault current at the near end, high corner, where it was evaluated.
    pub fault_near: Option<ElectricCurrent>,
    /// Fault current at the far end, low corner, where it was evaluated.
    pub fault_far: Option<ElectricCurrent>,
    /// The answer in words.
    pub verdict: String,
}

/// A decoder.
#[derive(Debug, Clone, PartialEq)]
pub struct DecoderRow {
    /// Decoder id.
    pub id: String,
    /// Place.
    pub place: String,
    /// Kind, from the job's list.
    pub kind: String,
    /// Universe; 0 where it has no address.
    pub universe: u32,
    /// Start address; 0 where it has none.
    pub address: u16,
    /// Slots it uses.
    pub slots: u16,
    /// Outputs in use and present.
    pub outputs: String,
    /// Total current at the high corner.
    pub current: ElectricCurrent,
    /// Limit of the total.
    pub current_limit: ElectricCurrent,
    /// PWM frequency.
    pub frequency: Frequency,
    /// Bits.
    pub bits: u8,
    /// Dimming curve.
    pub curve: String,
    /// What it does when the signal is lost.
    pub signal_loss: String,
    /// Whether its data port is isolated.
    pub isolated: String,
    /// Supply output that feeds it.
    pub supply: String,
}

/// One output of a decoder.
#[derive(Debug, Clone, PartialEq)]
pub struct OutputRow {
    /// Decoder.
    pub decoder: String,
    /// Output, from 1.
    pub output: usize,
    /// Emitter.
    pub emitter: String,
    /// Zone.
    pub zone: String,
    /// Segments on it.
    pub segments: String,
    /// Current at the high corner.
    pub current: ElectricCurrent,
    /// Its limit.
    pub limit: ElectricCurrent,
}

/// One DMX slot.
#[derive(Debug, Clone, PartialEq)]
pub struct AddressRow {
    /// Universe.
    pub universe: u32,
    /// Slot, 1 to 512.
    pub slot: u16,
    /// Device.
    pub device: String,
    /// Offset within the device, from 0.
    pub offset: u16,
    /// What it sets: `red`, `red, fine`.
    pub function: String,
    /// Zone.
    pub zone: String,
    /// Runs that answer to it.
    pub runs: String,
}

/// A device on a chain, in the order of the data cable.
#[derive(Debug, Clone, PartialEq)]
pub struct ChainRow {
    /// Chain.
    pub chain: String,
    /// Order from the source, from 1.
    pub order: usize,
    /// Device.
    pub device: String,
    /// Cable into it.
    pub cable: String,
    /// Length of that cable.
    pub length: ExactLength,
    /// Cable from the source to here.
    pub cumulative: ExactLength,
    /// Unit loads from the source to here, as text (exact fraction).
    pub unit_loads: String,
    /// Port isolated?
    pub isolated: String,
    /// Terminator here: ohms, or none.
    pub terminator: Option<ElectricalResistance>,
}

/// A stock length and what is cut from it.
#[derive(Debug, Clone, PartialEq)]
pub struct BarRow {
    /// Number: `P1-03`.
    pub id: String,
    /// What it is.
    pub kind: String,
    /// Stock length.
    pub stock: ExactLength,
    /// Pieces in cutting order: id and length.
    pub pieces: Vec<(String, ExactLength)>,
    /// Lost to the saw.
    pub kerf: ExactLength,
    /// Left over.
    pub offcut: ExactLength,
}

/// A line of the order list.
#[derive(Debug, Clone, PartialEq)]
pub struct MaterialRow {
    /// Item.
    pub item: String,
    /// Needed, with unit.
    pub needed: String,
    /// Spare, with unit and rule.
    pub spare: String,
    /// How it is sold.
    pub pack: String,
    /// To be ordered, in packs.
    pub order: String,
    /// Where it is used.
    pub used: String,
}

/// A reading to expect on site.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadingRow {
    /// Probe points.
    pub point: String,
    /// Emitters on, level, minutes warm.
    pub condition: String,
    /// Instrument and range.
    pub instrument: String,
    /// Predicted, with its band.
    pub volts: Option<Corners<ElectricPotential>>,
    /// Predicted, with its band.
    pub amps: Option<Corners<ElectricCurrent>>,
    /// Likely causes when the reading is out of its band.
    pub likely: String,
}

/// Connected load of a zone.
#[derive(Debug, Clone, PartialEq)]
pub struct EnergyRow {
    /// Zone.
    pub zone: String,
    /// Lit length.
    pub length: ExactLength,
    /// Power into the tape at nominal.
    pub tape: Power,
    /// Lost in copper and switches at nominal.
    pub wiring: Power,
    /// From the mains at nominal, where every supply states an efficiency.
    pub mains: Option<Power>,
}
