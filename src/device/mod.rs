//! The device room.

pub mod class;

pub use class::{ClassError, EnergyLimit, ShockProtection};
