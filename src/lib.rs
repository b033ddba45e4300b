//! Engineering of linear LED lighting: tape in aluminium profile, fed at 12, 24 or 48 V DC
//! over copper, dimmed, controlled over DMX512.
//!
//! A job file goes in; a plan comes out: cuts, feeds, wires, supplies, decoders,
//! addresses, chains, protection, materials, the readings to expect on site, and
//! what each rule says, every figure with its source.
//!
//! # Cautions
//! This crate calculates; it approves nothing. That no encoded limit is exceeded
//! is not conformity with any code. Mains work, protection, emergency lighting
//! and final conformity belong to licensed people and to the code in force at the
//! place. Every plan lists what was *not evaluated*, and why.
//!
//! # Rooms
//! Imports point down only.
//!
//! ```text
//! report    schedules, calculation sheet                        (no physics)
//! plan      the pipeline: job -> layout -> choice -> solve -> plan | compare
//! job       input file, check
//! choose layout protect | dmx                one room per question
//! segment   tape with its feeders behind a source: figures at the corners
//! network   supply, cable, decoder, tape -> volts, amps, error bound
//! load strip cable device                    what is bought
//! quantity exact source finding progress     units, exact counts, sources, answers
//! ```
//!
//! *Specs* are plain public data; `check` turns a spec into an opaque checked
//! type or says everything that is wrong with it; solvers take checked types only.
#![forbid(unsafe_code)]
#![warn(missing_docs)]

pub mod error;
pub mod exact;
pub mod faults;
pub mod finding;
pub mod id;
mod many;
pub mod progress;
pub mod quantity;
pub mod source;

pub mod cable;
pub mod device;
pub mod load;
pub mod strip;

pub mod network;
pub mod segment;

pub mod choose;
pub mod design;
pub mod dmx;
pub mod layout;
pub mod protect;
pub mod rules;

pub mod job;
pub mod plan;
pub mod report;
