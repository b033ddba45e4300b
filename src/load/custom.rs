//! The open way: a characteristic of your own.

/// A current-voltage characteristic brought by the embedding program.
///
/// Contract, relied on by the solver and probed by [`crate::load::Load::law`] at
/// a few hundred voltages: for `V >= 0` the current is finite, not negative and
/// *never falls* as the voltage rises; the slope is `dI/dV`, finite, at least 0
/// (at a kink: either side). Below 0 V it is not called: a cell draws nothing.
pub trait Characteristic: std::fmt::Debug + Send + Sync {
    /// Current in ampere and slope in siemens at a cell voltage of `volts` (at least 0).
    fn amps_and_siemens(&self, volts: f64) -> (f64, f64);
}
