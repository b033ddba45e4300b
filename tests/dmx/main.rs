//! Packets, addresses, chains and the signal against values from outside.

#[path = "../common/mod.rs"]
mod common;

mod addresses;
mod chains;
mod levels;
mod sacn;
mod signal;
mod timing;
