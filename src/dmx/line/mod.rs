//! Closed forms of the data line: echoes, stubs, loss, reach.
//!
//! ```text
//! echo of a load          (Z − Z0)/(Z + Z0)            a split into m lines: (1 − m)/(1 + m)
//! echo of a capacitor     (τ/t)(1 − e^(−t/τ)), τ = Z0 C/2, t the edge
//! evenly loaded line      Z0/k, v/k, k = √(1 + Z0 C/d), d the delay between loads
//! stub                    at most t v/10 one way, or there and back
//! direct volts at the end V Rt/(Rt + R)                 R the loop resistance
//! loss                    Re √((2 Zi + jωL) jωC)        Zi of a round wire with skin effect
//! ```
//!
//! They answer at a desk what [`signal`](super::signal) answers in time; the tests hold
//! the two against each other.
//!
//! ```
//! use evenrun::dmx::line;
//! use evenrun::quantity::ohms;
//! assert_eq!(line::reflection(ohms(120.0), ohms(60.0)), -1.0 / 3.0);
//! assert_eq!(line::split(2), -1.0 / 3.0);
//! ```
//!
//! Left out: proximity effect, loss of the insulation, crosstalk.

mod echo;
mod loss;
mod reach;
pub(super) mod stub;

pub use echo::{Loaded, across, capacitor_echo, loaded, reflection, return_loss, split};
pub use loss::{CATEGORY_5E_MEGAHERTZ, category_5e_limit, estimated_loss, warmer};
pub use reach::{RateRule, length_for_share, steady_share};
pub use stub::{StubRule, stub_departure};
