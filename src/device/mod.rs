//! What is bought beside tape and cable: supplies and decoders, as their labels state them.
//!
//! ```text
//!  mains        supply                      lead                decoder              feeder         tape
//!    ~ ───┤ E, Ro, limit_current ├──(+)───/\/\/\/──────┬──────── common ────────────/\/\/─── common rail
//!         │ power · derating     ├──(−)───/\/\/\/──┐   │
//!                                                  └─ switch ─── output 1 ─────────/\/\/─── return, emitter 1
//!                                                  └─ switch ─── output 2 ─────────/\/\/─── return, emitter 2
//! ```
//! Drawn for a common plus. Without a decoder a switched zone hangs on the supply output itself.
//!
//! # Supply
//! | input of [`SupplySpec`] | symbol, unit | accepted in a job |
//! | --- | --- | --- |
//! | `volts` (set point), `tolerance`, `trim` | `E`, V; share; V | above 0 V, at most 120 V; the set point within the trim range |
//! | `power`, `derating` | W; share at an ambient | points by rising ambient, shares that do not rise |
//! | `outputs`, `output_current`, `limit_current` | A each | 1 to 100 outputs; the limit at least the rated current |
//! | `output_resistance` | `Ro`, Ω | 0 is stiff |
//! | `overload` | | constant current is solved; fold-back, hiccup and latch-off are reported |
//! | `shock`, `energy` | | read from the label; not stated counts as none |
//!
//! Equations: `V = E − Ro·I`, one way; derated rating `P(T) = power · share(T)`, the share on the straight line between
//! two points, the first point's share below it. Without points the share is 1, above the last point it is that point's, and
//! both are said (`supply-derating`, not evaluated); planned load at most `load factor · P(T)`.
//!
//! # Decoder
//! | input of [`DecoderSpec`] | unit | accepted in a job |
//! | --- | --- | --- |
//! | `outputs`, `output_current` | A | 1 to 64 outputs |
//! | `total_current`, `terminal_current` | A | whole decoder: the lesser of both |
//! | `switch` | Ω | of one closed switch |
//! | `volts` | V | lowest and highest supply voltage |
//! | `frequency`, `bits`, `curves`, `levels` | Hz | 8 to 32 bits |
//! | `unit_loads`, `port` | unit loads | above 0, at most 32; isolated, joined or unknown |
//!
//! # Results
//! Volts, amps and load of each unit in a [`Design`](crate::design::Design), findings `supply-load`, `supply-output`,
//! `decoder-output`, `decoder-total`, `decoder-volts`.
//!
//! # Traps
//! - Class II (double insulation) is no energy limit, and Class 2 (arabic) no shock protection.
//! - Rated power holds up to one ambient only; in a ceiling void look for the derating first.
//! - Outputs in parallel need a declared parallel mode: one of them carries nearly everything.
//! - The sum of the outputs of a decoder is usually more than its supply terminal carries.
//! - A decoder for a common plus cannot drive tape with a common minus.

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
