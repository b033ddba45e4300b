//! Which units each quantity is read in, and which it is shown in.

use super::kinds::*;
use super::measured::{Measured, Unit, unit};
use super::{LoopLength, RouteLength, build};

macro_rules! measured {
    ($($kind:ty, $called:literal, $si:literal, [$($spelling:literal = $factor:expr),* $(,)?], [$($least:expr => $shown:literal),* $(,)?];)*) => {$(
        impl Measured for $kind {
            const CALLED: &'static str = $called;
            const SI: &'static str = $si;
            const UNITS: &'static [Unit] = &[$(unit($spelling, $factor)),*];
            const SHOWN: &'static [(f64, &'static str)] = &[$(($least, $shown)),*];
            fn from_si(value: f64) -> Self {
                Self { dimension: std::marker::PhantomData, units: std::marker::PhantomData, value }
            }
            fn si(self) -> f64 {
                self.value
            }
        }
    )*};
}

measured! {
    Length, "a length", "m",
        ["m" = 1.0, "cm" = 1e-2, "mm" = 1e-3, "µm" = 1e-6, "μm" = 1e-6, "um" = 1e-6, "km" = 1e3,
         "ft" = 0.3048, "foot" = 0.3048, "feet" = 0.3048, "in" = 0.0254, "inch" = 0.0254, "inches" = 0.0254,
         "metre" = 1.0, "metres" = 1.0, "meter" = 1.0, "meters" = 1.0],
        [1.0 => "m", 1e-4 => "mm", 0.0 => "µm"];
    Area, "an area", "m2",
        ["mm²" = 1e-6, "mm2" = 1e-6, "m²" = 1.0, "m2" = 1.0, "cm²" = 1e-4, "cm2" = 1e-4],
        [1e-2 => "m²", 0.0 => "mm²"];
    ElectricPotential, "a voltage", "V",
        ["V" = 1.0, "VDC" = 1.0, "V DC" = 1.0, "Vdc" = 1.0, "V dc" = 1.0, "volt" = 1.0, "volts" = 1.0, "mV" = 1e-3, "kV" = 1e3],
        [0.1 => "V", 0.0 => "mV"];
    ElectricCurrent, "a current", "A",
        ["A" = 1.0, "amp" = 1.0, "amps" = 1.0, "mA" = 1e-3, "µA" = 1e-6, "μA" = 1e-6, "uA" = 1e-6],
        [0.1 => "A", 1e-4 => "mA", 0.0 => "µA"];
    ElectricalResistance, "a resistance", "ohm",
        ["Ω" = 1.0, "\u{2126}" = 1.0, "ohm" = 1.0, "ohms" = 1.0, "Ohm" = 1.0, "Ohms" = 1.0,
         "mΩ" = 1e-3, "m\u{2126}" = 1e-3, "mohm" = 1e-3, "milliohm" = 1e-3, "milliohms" = 1e-3,
         "kΩ" = 1e3, "k\u{2126}" = 1e3, "kohm" = 1e3],
        [1e3 => "kΩ", 1.0 => "Ω", 0.0 => "mΩ"];
    LinearResistance, "a resistance per length", "ohm/m",
        ["Ω/m" = 1.0, "ohm/m" = 1.0, "mΩ/m" = 1e-3, "mohm/m" = 1e-3, "Ω/km" = 1e-3, "ohm/km" = 1e-3,
         "Ω/kft" = 1.0 / 304.8, "ohm/kft" = 1.0 / 304.8, "ohm/1000 ft" = 1.0 / 304.8,
         "Ω/ft" = 1.0 / 0.3048, "ohm/ft" = 1.0 / 0.3048],
        [1.0 => "Ω/m", 0.0 => "mΩ/m"];
    Power, "a power", "W", ["W" = 1.0, "watt" = 1.0, "watts" = 1.0, "mW" = 1e-3, "kW" = 1e3],
        [1e4 => "kW", 0.1 => "W", 0.0 => "mW"];
    LinearPower, "a power per length", "W/m",
        ["W/m" = 1.0, "W/ft" = 1.0 / 0.3048, "mW/m" = 1e-3], [0.1 => "W/m", 0.0 => "mW/m"];
    LinearCurrent, "a current per length", "A/m",
        ["A/m" = 1.0, "mA/m" = 1e-3, "A/ft" = 1.0 / 0.3048], [0.1 => "A/m", 0.0 => "mA/m"];
    LuminousFlux, "a luminous flux", "lm", ["lm" = 1.0, "lumen" = 1.0, "lumens" = 1.0], [0.0 => "lm"];
    LinearLuminousFlux, "a luminous flux per length", "lm/m",
        ["lm/m" = 1.0, "lm/ft" = 1.0 / 0.3048], [0.0 => "lm/m"];
    Time, "a time", "s",
        ["s" = 1.0, "ms" = 1e-3, "µs" = 1e-6, "μs" = 1e-6, "us" = 1e-6, "ns" = 1e-9, "min" = 60.0, "h" = 3600.0],
        [1.0 => "s", 1e-3 => "ms", 1e-6 => "µs", 0.0 => "ns"];
    Frequency, "a frequency", "Hz", ["Hz" = 1.0, "kHz" = 1e3, "MHz" = 1e6],
        [1e6 => "MHz", 1e4 => "kHz", 0.0 => "Hz"];
    Capacitance, "a capacitance", "F",
        ["F" = 1.0, "mF" = 1e-3, "µF" = 1e-6, "μF" = 1e-6, "uF" = 1e-6, "nF" = 1e-9, "pF" = 1e-12],
        [1e-6 => "µF", 1e-9 => "nF", 0.0 => "pF"];
    LinearCapacitance, "a capacitance per length", "F/m",
        ["pF/m" = 1e-12, "pF/ft" = 1e-12 / 0.3048, "nF/m" = 1e-9, "nF/km" = 1e-12], [0.0 => "pF/m"];
    Inductance, "an inductance", "H",
        ["H" = 1.0, "mH" = 1e-3, "µH" = 1e-6, "μH" = 1e-6, "uH" = 1e-6, "nH" = 1e-9],
        [1e-3 => "mH", 1e-6 => "µH", 0.0 => "nH"];
    LinearInductance, "an inductance per length", "H/m",
        ["µH/m" = 1e-6, "μH/m" = 1e-6, "uH/m" = 1e-6, "nH/m" = 1e-9, "µH/ft" = 1e-6 / 0.3048, "uH/ft" = 1e-6 / 0.3048],
        [0.0 => "µH/m"];
    Mass, "a mass", "kg", ["kg" = 1.0, "g" = 1e-3, "lb" = 0.453_592_37], [1.0 => "kg", 0.0 => "g"];
    LinearMass, "a mass per length", "kg/m", ["g/m" = 1e-3, "kg/m" = 1.0, "kg/km" = 1e-3], [1.0 => "kg/m", 0.0 => "g/m"];
    Ratio, "a share", "share", ["%" = 1e-2, "percent" = 1e-2, "per cent" = 1e-2], [0.0 => "%"];
    TemperatureInterval, "a temperature difference", "K_difference",
        ["K" = 1.0, "kelvin" = 1.0], [0.0 => "K"];
}

impl Measured for ThermodynamicTemperature {
    const CALLED: &'static str = "a temperature";
    const SI: &'static str = "K";
    const UNITS: &'static [Unit] = &[
        Unit {
            spelling: "°C",
            factor: 1.0,
            offset: 273.15,
        },
        Unit {
            spelling: "C",
            factor: 1.0,
            offset: 273.15,
        },
        Unit {
            spelling: "degC",
            factor: 1.0,
            offset: 273.15,
        },
        Unit {
            spelling: "℃",
            factor: 1.0,
            offset: 273.15,
        },
        Unit {
            spelling: "°F",
            factor: 5.0 / 9.0,
            offset: 459.67 * 5.0 / 9.0,
        },
        Unit {
            spelling: "F",
            factor: 5.0 / 9.0,
            offset: 459.67 * 5.0 / 9.0,
        },
        Unit {
            spelling: "degF",
            factor: 5.0 / 9.0,
            offset: 459.67 * 5.0 / 9.0,
        },
        Unit {
            spelling: "K",
            factor: 1.0,
            offset: 0.0,
        },
    ];
    const SHOWN: &'static [(f64, &'static str)] = &[(0.0, "°C")];
    fn from_si(value: f64) -> Self {
        build::celsius(value - 273.15)
    }
    fn si(self) -> f64 {
        self.value
    }
}

impl Measured for RouteLength {
    const CALLED: &'static str = "a route length";
    const SI: &'static str = "m";
    const UNITS: &'static [Unit] = Length::UNITS;
    const SHOWN: &'static [(f64, &'static str)] = Length::SHOWN;
    fn from_si(value: f64) -> Self {
        Self::new(build::metres(value))
    }
    fn si(self) -> f64 {
        self.length().value
    }
}

impl Measured for LoopLength {
    const CALLED: &'static str = "a loop length";
    const SI: &'static str = "m_loop";
    const UNITS: &'static [Unit] = Length::UNITS;
    const SHOWN: &'static [(f64, &'static str)] = Length::SHOWN;
    fn from_si(value: f64) -> Self {
        RouteLength::new(build::metres(value / 2.0)).there_and_back()
    }
    fn si(self) -> f64 {
        self.length().value
    }
}
