//! Necessary conditions in closed form: what they refuse cannot hold.

pub(crate) mod alike;
pub(crate) mod conditions;
pub(crate) mod longest;
pub(crate) mod march;
pub(crate) mod most;
pub(crate) mod totals;
