//! Tape: from its data sheet to the electrical model of one cut increment.
//!
//! ```text
//!  cut mark        cell          cut mark
//!     ●──Rc/2──────┬──────Rc/2──────●   common rail
//!                 ─┴─ emitter e: I(V)
//!     ●──Re/2──────┬──────Re/2──────●   return rail of emitter e
//! ```
//!
//! [`StripSpec`] is what a sheet states; [`StripSpec::model`] makes a [`TapeModel`] of it:
//!
//! * **cells** become [`Law`](crate::load::Law)s. Of a diode a sheet states one point; the curve
//!   through it is taken as [`cells::diode_source`] says. A cell draws `1 − tolerance` of its stated
//!   current, cold, at the low corner and `1 + tolerance`, hot, at the high one.
//! * **rails** follow from what is known ([`RailSpec`]): stated; from foil, `R' = ρ/(layers·t·w)` with
//!   [`COPPER_RESISTIVITY`]; or, from a maximum run or a reading, the resistance, the same for every
//!   rail, that makes the solver ([`crate::network`]) show what was stated, all emitters lit.
//!   Temperature: [`TemperatureRule::COPPER`](crate::cable::TemperatureRule::COPPER).
//! * **factory splices** are spread along the tape where the rails are stated or of foil; a
//!   maximum run or a reading has them within it.
//!
//! Leaves out: heating of the tape by itself (give the corner temperatures), spread between cells.

pub mod cells;
mod error;
mod model;
mod rails;
mod spec;

pub use error::{StripError, StripErrors};
pub use model::{CornerSet, TapeEmitter, TapeModel};
pub use rails::COPPER_RESISTIVITY;
pub use spec::{
    CellSpec, EmitterSpec, Falls, FedFrom, PowerBasis, RailSpec, SpliceSpec, StripSpec,
};

use crate::network::MOST_EMITTERS;
use crate::quantity::{Corners, LinearPower, watts_per_metre};

impl StripSpec {
    /// The model of one cut increment at the corners of tolerance.
    ///
    /// # Errors
    /// [`StripErrors`]: every emitter that is no load, a rail figure out of range, a maximum run or
    /// reading that no resistance explains.
    pub fn model(&self, corners: &CornerSet) -> Result<TapeModel, StripErrors> {
        let mut faults = Vec::new();
        if !(1..=MOST_EMITTERS).contains(&self.emitters.len()) {
            faults.push(StripError::Emitters {
                strip: self.name.clone(),
                found: self.emitters.len(),
                most: MOST_EMITTERS,
            });
        }
        let mut laws = Vec::with_capacity(self.emitters.len());
        for emitter in &self.emitters {
            match cells::laws(self, emitter, corners) {
                Ok(own) => laws.push(own),
                Err(fault) => faults.push(fault),
            }
        }
        if !faults.is_empty() {
            return Err(StripErrors(faults));
        }
        let [common, returns] =
            rails::rails(self, corners, &laws).map_err(|fault| StripErrors(vec![fault]))?;
        Ok(TapeModel {
            strip: self.name.clone(),
            pitch: self.pitch,
            rated: self.rated,
            polarity: self.polarity,
            common,
            emitters: self
                .emitters
                .iter()
                .zip(laws)
                .map(|(emitter, law)| TapeEmitter {
                    name: emitter.name.clone(),
                    rail: returns,
                    law,
                })
                .collect(),
            branch: self
                .longest_branch
                .map(|length| self.pitch.count_in(length)),
        })
    }
}

impl TapeModel {
    /// Power per length at the rated voltage with every emitter lit, no drop: `V·ΣI/pitch`.
    #[must_use]
    pub fn power_per_length(&self) -> Corners<LinearPower> {
        let of = |pick: fn(&Corners<crate::load::Law>) -> &crate::load::Law| {
            let amps: f64 = self
                .emitters
                .iter()
                .map(|emitter| pick(&emitter.law).current(self.rated).value)
                .sum();
            watts_per_metre(self.rated.value * amps / self.pitch.to_length().value)
        };
        Corners {
            low: of(|law| &law.low),
            nominal: of(|law| &law.nominal),
            high: of(|law| &law.high),
        }
    }
}
