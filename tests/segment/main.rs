//! The model of a segment with its feeders: against nodal equations set up by another way and solved densely, its own
//! symmetries, hostile input.
mod along;
#[path = "../common/gauss.rs"]
mod gauss;
mod hostile;
mod nodal;
mod sensitivity;

use evenrun::exact::{CutPitch, ExactLength};
use evenrun::load::{Load, Resistive};
use evenrun::network::Polarity;
use evenrun::quantity::{Corners, celsius, ohms, volts};
use evenrun::strip::{TapeEmitter, TapeModel};

/// A tape whose cells are resistors, by emitter: cell and rail of one increment, ohm.
pub fn resistive_tape(polarity: Polarity, common: f64, emitters: &[(f64, f64)]) -> TapeModel {
    let law = |resistance: f64| {
        let cell = Load::Resistive(Resistive {
            resistance: ohms(resistance),
        });
        cell.law(celsius(25.0)).expect("a resistor")
    };
    TapeModel {
        strip: "test".into(),
        pitch: CutPitch::new(ExactLength::parse("50 mm").expect("a length"), 1).expect("a pitch"),
        rated: volts(24.0),
        polarity,
        common: three(common),
        emitters: emitters
            .iter()
            .enumerate()
            .map(|(number, (cell, rail))| TapeEmitter {
                name: format!("emitter {number}"),
                rail: three(*rail),
                law: three(*cell).map(|r| law(r.value)),
            })
            .collect(),
        branch: None,
    }
}

/// A resistance that differs at every corner.
pub fn three(of: f64) -> Corners<evenrun::quantity::ElectricalResistance> {
    Corners {
        low: ohms(1.2 * of),
        nominal: ohms(of),
        high: ohms(0.9 * of),
    }
}
