//! Necessary conditions in closed form: what they refuse cannot hold.

pub(crate) mod branch_needs;
pub(crate) mod conditions;
pub(crate) mod currents;
pub(crate) mod lengths;
pub(crate) mod longest;
pub(crate) mod uniform_load;
