//! Quantities from plain numbers, one function a unit.

use super::kinds::*;
use std::marker::PhantomData;
use uom::si::{Dimension, Quantity, SI};

/// A quantity from its value in SI base units.
fn si<D: Dimension + ?Sized>(value: f64) -> Quantity<D, SI<f64>, f64> {
    Quantity {
        dimension: PhantomData,
        units: PhantomData,
        value,
    }
}

macro_rules! build {
    ($($name:ident -> $kind:ident, $factor:expr, $doc:literal;)*) => {$(
        #[doc = $doc]
        #[must_use]
        pub fn $name(value: f64) -> $kind {
            si(value * $factor)
        }
    )*};
}

build! {
    metres -> Length, 1.0, "Length in metres.";
    millimetres -> Length, 1e-3, "Length in millimetres.";
    micrometres -> Length, 1e-6, "Length in micrometres.";
    feet -> Length, 0.3048, "Length in international feet, 0.3048 m exactly.";
    inches -> Length, 0.0254, "Length in international inches, 0.0254 m exactly.";
    square_metres -> Area, 1.0, "Area in square metres.";
    square_millimetres -> Area, 1e-6, "Area in square millimetres.";
    volts -> ElectricPotential, 1.0, "Electric potential in volts.";
    millivolts -> ElectricPotential, 1e-3, "Electric potential in millivolts.";
    amps -> ElectricCurrent, 1.0, "Electric current in amperes.";
    milliamps -> ElectricCurrent, 1e-3, "Electric current in milliamperes.";
    amps_per_metre -> LinearCurrent, 1.0, "Current per length in ampere per metre.";
    ohms -> ElectricalResistance, 1.0, "Resistance in ohms.";
    milliohms -> ElectricalResistance, 1e-3, "Resistance in milliohms.";
    siemens -> ElectricalConductance, 1.0, "Conductance in siemens.";
    ohms_per_metre -> LinearResistance, 1.0, "Resistance per length in ohm per metre.";
    ohms_per_kilometre -> LinearResistance, 1e-3, "Resistance per length in ohm per kilometre.";
    ohms_per_kilofoot -> LinearResistance, 1.0 / 304.8, "Resistance per length in ohm per 1000 ft.";
    watts -> Power, 1.0, "Power in watts.";
    milliwatts -> Power, 1e-3, "Power in milliwatts.";
    watts_per_metre -> LinearPower, 1.0, "Power per length in watt per metre.";
    watts_per_foot -> LinearPower, 1.0 / 0.3048, "Power per length in watt per foot.";
    lumens -> LuminousFlux, 1.0, "Luminous flux in lumens.";
    lumens_per_metre -> LinearLuminousFlux, 1.0, "Luminous flux per length in lumen per metre.";
    lumens_per_foot -> LinearLuminousFlux, 1.0 / 0.3048, "Luminous flux per length in lumen per foot.";
    seconds -> Time, 1.0, "Time in seconds.";
    milliseconds -> Time, 1e-3, "Time in milliseconds.";
    microseconds -> Time, 1e-6, "Time in microseconds.";
    nanoseconds -> Time, 1e-9, "Time in nanoseconds.";
    hertz -> Frequency, 1.0, "Frequency in hertz.";
    kilohertz -> Frequency, 1e3, "Frequency in kilohertz.";
    farads -> Capacitance, 1.0, "Capacitance in farads.";
    picofarads -> Capacitance, 1e-12, "Capacitance in picofarads.";
    farads_per_metre -> LinearCapacitance, 1.0, "Capacitance per length in farad per metre.";
    henries -> Inductance, 1.0, "Inductance in henries.";
    microhenries -> Inductance, 1e-6, "Inductance in microhenries.";
    henries_per_metre -> LinearInductance, 1.0, "Inductance per length in henry per metre.";
    kilograms -> Mass, 1.0, "Mass in kilograms.";
    grams -> Mass, 1e-3, "Mass in grams.";
    kilograms_per_metre -> LinearMass, 1.0, "Mass per length in kilogram per metre.";
    kelvins -> TemperatureInterval, 1.0, "Temperature difference in kelvins.";
    fraction -> Ratio, 1.0, "Ratio from a fraction: 0.8 is 80 %.";
    percent -> Ratio, 1e-2, "Ratio from per cent: 80 is 0.8.";
}

/// Temperature in degrees Celsius; 0 °C is 273.15 K exactly.
#[must_use]
pub fn celsius(value: f64) -> ThermodynamicTemperature {
    si(value + 273.15)
}

/// Degrees Celsius of a temperature.
#[must_use]
pub fn in_celsius(temperature: ThermodynamicTemperature) -> f64 {
    temperature.value - 273.15
}
