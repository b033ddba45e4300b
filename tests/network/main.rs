//! The network solver against closed forms, hand cases, a circuit simulator and its own laws.
#[path = "../common/mod.rs"]
mod common;
#[path = "../common/gauss.rs"]
mod gauss;

mod across;
mod build;
mod closed_forms;
mod continuum;
mod dimming;
mod folded;
mod hand_cases;
mod hostile;
mod invariants;
mod ladder;
mod loads;
mod ngspice;
mod sensitivities;
mod spreads;
mod strategies;
