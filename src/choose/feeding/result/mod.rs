//! What is answered: segments, feeds, figures, proof.

pub(crate) mod limit;
pub(crate) mod plan;
