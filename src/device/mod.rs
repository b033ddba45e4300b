//! What is bought beside tape and cable: supplies and decoders, as their labels state them.

pub mod class;
mod decoder;
mod levels;
mod port;
mod supply;
mod surroundings;

pub use class::{ClassError, EnergyLimit, ShockProtection};
pub use decoder::{DecoderSpec, Edges, SignalLoss};
pub use levels::{LevelBits, LevelCurve};
pub use port::{PortIsolation, UnitLoads, UnitLoadsError};
pub use supply::{Overload, SupplySpec};
pub use surroundings::{Environment, IngressCode, IngressCodeError};
