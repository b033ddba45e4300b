//! What is to be supplied, and from what.

use crate::quantity::{ElectricCurrent, ElectricPotential, Power, Ratio, fraction};

/// Steps of work unless the spec says otherwise.
pub const DEFAULT_EFFORT: u64 = 4_000_000;

/// Share of the derated power that a supply is loaded to unless the spec says
/// otherwise: 0.8, common practice for a longer life and a reserve; no clause asks for it.
pub const DEFAULT_LOAD_FACTOR: f64 = 0.8;

/// Loads, and the supplies that may carry them.
#[derive(Debug, Clone, serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SupplyProblem {
    /// What is supplied, for messages.
    pub what: String,
    /// The loads; each lies whole on one output.
    pub loads: Vec<SupplyLoad>,
    /// Kinds of supply that can be bought.
    pub kinds: Vec<SupplyKind>,
    /// What holds beside the limits of the supplies.
    #[serde(default)]
    pub rules: Rules,
    /// Share of the derated power that may be used, above 0 up to 1.
    #[serde(default = "default_load_factor", with = "crate::quantity::valued")]
    pub load_factor: Ratio,
}

/// A load: what one feeder draws at its worst.
#[derive(Debug, Clone, serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SupplyLoad {
    /// Id, unlike every other.
    pub id: String,
    /// Nominal voltage.
    #[serde(with = "crate::quantity::valued")]
    pub volts: ElectricPotential,
    /// Greatest current.
    #[serde(with = "crate::quantity::valued")]
    pub current: ElectricCurrent,
    /// Greatest power at the supply's terminals.
    #[serde(with = "crate::quantity::valued")]
    pub power: Power,
    /// Zone, for [`Rules::separate`].
    #[serde(default)]
    pub zone: String,
    /// Place whose supplies alone may carry it.
    #[serde(default)]
    pub place: String,
    /// Whether it is fed in an outage: never on one supply with a load that is not.
    #[serde(default)]
    pub emergency: bool,
}

/// A kind of supply.
#[derive(Debug, Clone, serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SupplyKind {
    /// Name, unlike every other.
    pub name: String,
    /// Nominal voltage.
    #[serde(with = "crate::quantity::valued")]
    pub volts: ElectricPotential,
    /// Rated power, all outputs together.
    #[serde(with = "crate::quantity::valued")]
    pub power: Power,
    /// Outputs.
    pub outputs: u32,
    /// Current of one output.
    #[serde(with = "crate::quantity::valued")]
    pub output_current: ElectricCurrent,
    /// Share of the rated power left at the ambient of the job, above 0 up to 1.
    #[serde(with = "crate::quantity::valued")]
    pub derating: Ratio,
    /// Price of one, minor units.
    pub price: u64,
}

/// Emitters' currents, and the decoders that may carry them.
#[derive(Debug, Clone)]
pub struct DecoderProblem {
    /// What is driven, for messages.
    pub what: String,
    /// The loads; each lies whole on one decoder.
    pub loads: Vec<DecoderLoad>,
    /// Kinds of decoder that can be bought.
    pub kinds: Vec<DecoderKind>,
    /// What holds beside the limits of the decoders.
    pub rules: Rules,
}

/// A segment as its decoder sees it.
#[derive(Debug, Clone)]
pub struct DecoderLoad {
    /// Id, unlike every other.
    pub id: String,
    /// Voltage of its decoder's terminal.
    pub volts: ElectricPotential,
    /// Name and greatest current of each emitter.
    pub emitters: Vec<(String, ElectricCurrent)>,
    /// What dims together: only equal emitters of one zone may share an output.
    pub zone: String,
    /// Place whose decoders alone may carry it.
    pub place: String,
    /// Whether it is fed in an outage: never on one decoder with a load that is not.
    pub emergency: bool,
}

/// A kind of decoder.
#[derive(Debug, Clone)]
pub struct DecoderKind {
    /// Name, unlike every other.
    pub name: String,
    /// Lowest and highest voltage of its terminal.
    pub volts: (ElectricPotential, ElectricPotential),
    /// Outputs.
    pub outputs: u32,
    /// Current of one output.
    pub output_current: ElectricCurrent,
    /// Current of the whole unit: the lesser of its total and its supply terminal.
    pub total_current: ElectricCurrent,
    /// Price of one, minor units.
    pub price: u64,
}

/// What holds beside the limits of one unit.
#[derive(Debug, Clone, serde::Serialize, serde::Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Rules {
    /// Pairs of zones that never share a unit.
    pub separate: Vec<(String, String)>,
    /// Places that hold only so many units, those installed and spares included.
    pub rooms: Vec<Room>,
    /// What is there already, with the loads that stay on it.
    pub installed: Vec<Installed>,
    /// Whether a spare stands by.
    pub spares: Spares,
    /// Work limit in steps; the same everywhere, unlike seconds.
    pub effort: u64,
}

impl Default for Rules {
    fn default() -> Self {
        Self {
            separate: Vec::new(),
            rooms: Vec::new(),
            installed: Vec::new(),
            spares: Spares::None,
            effort: DEFAULT_EFFORT,
        }
    }
}

/// A place that holds only so many units.
#[derive(Debug, Clone, serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Room {
    /// The place.
    #[serde(default)]
    pub place: String,
    /// How many.
    pub most: u32,
}

/// A unit that is there already: it costs nothing more and may take further loads.
#[derive(Debug, Clone, serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Installed {
    /// Name, unlike every other.
    pub name: String,
    /// Its kind.
    pub kind: String,
    /// Its place.
    #[serde(default)]
    pub place: String,
    /// Voltage at its outputs.
    #[serde(with = "crate::quantity::valued")]
    pub volts: ElectricPotential,
    /// Whether it is fed in an outage.
    #[serde(default)]
    pub emergency: bool,
    /// Loads that stay on it.
    #[serde(default)]
    pub loads: Vec<String>,
}

/// Redundancy.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
#[non_exhaustive]
pub enum Spares {
    /// None.
    #[default]
    None,
    /// n + 1: for each kind in use, one more of it stands by at the same place, apart for
    /// emergency and normal loads and for each voltage. Whichever one fails is replaced whole.
    OneOfEachKind,
}

fn default_load_factor() -> Ratio {
    fraction(DEFAULT_LOAD_FACTOR)
}

impl SupplyProblem {
    /// Nothing to supply yet, at the customary load factor.
    pub fn new(what: impl Into<String>) -> Self {
        Self {
            what: what.into(),
            loads: Vec::new(),
            kinds: Vec::new(),
            rules: Rules::default(),
            load_factor: fraction(DEFAULT_LOAD_FACTOR),
        }
    }
}

impl DecoderProblem {
    /// Nothing to drive yet.
    pub fn new(what: impl Into<String>) -> Self {
        Self {
            what: what.into(),
            loads: Vec::new(),
            kinds: Vec::new(),
            rules: Rules::default(),
        }
    }
}
