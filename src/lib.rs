//! Engineering of linear LED lighting: tape in aluminium profile, fed at 12, 24 or 48 V DC
//! over copper, dimmed, controlled over DMX512.
//!
//! A job file goes in; a [`design::Design`] comes out: cuts, feeds, wires, supplies, decoders,
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
//! ask       quick answers, each from a few facts of a sheet
//! report    columns over a design: pages, schedules                    (no physics, no decisions)
//! draw      the same in pictures, and as one page (feature `draw`)
//! plan      the pipeline: job -> layout -> choice -> solve -> judge -> Design | compare
//! rules     one file a subject, judged from the design; one registry of all
//! design    the plan as data: ids, quantities, reasons where nothing was solved
//! job       input file, check
//! choose    feeding | devices | stock, over packing: searches with proof or gap
//! layout protect | dmx                       one room per question
//! segment   tape with its feeders behind a source: figures at the corners
//! network   supply, cable, decoder, tape -> volts, amps, error bound
//! load strip cable device                    what is bought
//! quantity exact id source finding progress error     units, exact counts, names, sources, answers
//! ```
//!
//! The feature `job` (a default) gives `job` and everything above it, `choose` the searches alone;
//! without either the rooms from `layout`, `protect` and `dmx` down are left.
//!
//! The page `glossary` says what each word means, with symbol, unit and type.
//!
//! *Specs* are plain public data; `check` turns a spec into an opaque checked
//! type or says everything that is wrong with it; solvers take checked types only.
#![forbid(unsafe_code)]
#![warn(missing_docs)]

pub mod error;
pub mod exact;
pub mod finding;
pub mod id;
#[cfg(feature = "choose")]
mod many;
mod order;
pub mod progress;
pub mod quantity;
pub mod source;

pub mod cable;
pub mod device;
pub mod load;
pub mod strip;

pub mod network;
pub mod segment;

pub mod dmx;
pub mod layout;
pub mod protect;

#[cfg(feature = "choose")]
pub mod choose;

#[cfg(feature = "job")]
pub mod design;
#[cfg(feature = "job")]
pub mod job;
#[cfg(feature = "job")]
pub mod plan;
#[cfg(feature = "job")]
pub mod report;
#[cfg(feature = "job")]
pub mod rules;

#[cfg(feature = "draw")]
pub mod draw;

#[cfg(feature = "job")]
pub mod ask;

#[doc = include_str!("glossary.md")]
pub mod glossary {}

/// The code of the README, compiled and run as a test.
#[cfg(doctest)]
#[doc = include_str!("../README.md")]
struct Readme;
