//! Packets, addresses, chains and the signal against values from outside.

#[path = "../common/mod.rs"]
mod common;

mod addresses;
mod answers;
mod chains;
mod disagreements;
mod electrical;
mod formulas;
mod grounds;
mod levels;
mod limits;
mod line;
mod line_in_time;
mod pixels;
mod rdm;
mod rules;
mod sacn;
mod signal;
mod timing;
mod worked;
