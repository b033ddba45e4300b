//! The quantities used in this crate: those of [`uom`] under their own names,
//! and the few that it lacks.

use uom::si::{ISQ, Quantity, SI};
use uom::typenum::{N1, N2, N3, P1, P2, Z0};

pub use uom::si::f64::{
    Area, Capacitance, ElectricCurrent, ElectricPotential, ElectricalConductance,
    ElectricalResistance, Frequency, Inductance, Length, Mass, Power, Ratio, TemperatureInterval,
    ThermodynamicTemperature, Time,
};

/// Marks luminous flux, so that lumens and candelas are two types.
pub trait LuminousFluxKind: uom::Kind {}

/// Luminous flux, lumen.
pub type LuminousFlux =
    Quantity<ISQ<Z0, Z0, Z0, Z0, Z0, Z0, P1, dyn LuminousFluxKind>, SI<f64>, f64>;

/// Luminous flux that leaves one metre of tape, lumen per metre.
pub type LinearLuminousFlux =
    Quantity<ISQ<N1, Z0, Z0, Z0, Z0, Z0, P1, dyn LuminousFluxKind>, SI<f64>, f64>;

/// Electrical resistance of one metre of conductor or rail, ohm per metre.
pub type LinearResistance = Quantity<ISQ<P1, P1, N3, N2, Z0, Z0, Z0>, SI<f64>, f64>;

/// Electrical power of one metre of tape, watt per metre.
pub type LinearPower = Quantity<ISQ<P1, P1, N3, Z0, Z0, Z0, Z0>, SI<f64>, f64>;

/// Electric current of one metre of tape, ampere per metre.
pub type LinearCurrent = Quantity<ISQ<N1, Z0, Z0, P1, Z0, Z0, Z0>, SI<f64>, f64>;

/// Mass of one metre of conductor, kilogram per metre.
pub type LinearMass = Quantity<ISQ<N1, P1, Z0, Z0, Z0, Z0, Z0>, SI<f64>, f64>;

/// Capacitance of one metre of pair, farad per metre.
pub type LinearCapacitance =
    Quantity<ISQ<uom::typenum::N3, N1, uom::typenum::P4, P2, Z0, Z0, Z0>, SI<f64>, f64>;

/// Inductance of one metre of pair, henry per metre.
pub type LinearInductance = Quantity<ISQ<P1, P1, N2, N2, Z0, Z0, Z0>, SI<f64>, f64>;
