//! What is answered: segments, feeds, figures, proof.

pub(crate) mod plan;
