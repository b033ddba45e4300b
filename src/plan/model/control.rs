//! Rows of the control side: decoders, outputs, slots, chains.

use crate::exact::ExactLength;
use crate::quantity::{ElectricCurrent, ElectricPotential, ElectricalResistance, Frequency};

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
    /// Whether it is there already, or was chosen by hand.
    pub fixed: bool,
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
    /// How far its minus terminal stands above its supply's at most; none: not of this plan.
    pub minus: Option<ElectricPotential>,
    /// Terminator here: ohms, or none.
    pub terminator: Option<ElectricalResistance>,
}
