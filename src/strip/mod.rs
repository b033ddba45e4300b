//! Tape: its data sheet, what its rails are, and the model that solvers take.

mod model;
mod spec;

pub use model::{CornerSet, TapeEmitter, TapeModel};
pub use spec::{
    CellSpec, EmitterSpec, Falls, FedFrom, PowerBasis, RailSpec, SpliceSpec, StripSpec,
};
