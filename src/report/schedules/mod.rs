//! Every schedule of a design, a file each: its columns once, with heading, unit, CSV key and value.
//!
//! To add one, write its file and a line of [`SCHEDULES`]; to add a column, add it to the columns of its file.

mod addresses;
mod assumptions;
mod bars;
mod cables;
mod cautions;
mod chains;
mod choices;
mod cuts;
mod data_cables;
mod decoders;
mod energy;
mod feeds;
mod findings;
mod levers;
mod materials;
mod not_evaluated;
mod outputs;
mod protection;
mod readings;
mod reels;
mod runs;
mod segments;
mod sources;
mod stock;
mod supplies;

pub(super) use materials::{ordered, total};
pub(super) use reels::reels_of;
pub(super) use segments::solved;
pub(super) use supplies::share;

use super::printed::Printed;
use super::schedule::Schedule;

/// Every schedule, in the order of the document.
pub(super) const SCHEDULES: &[fn(&Printed<'_>) -> Schedule] = &[
    |p| findings::findings(&p.findings, p.tally, &p.references),
    |p| not_evaluated::not_evaluated(&p.findings),
    |p| runs::runs(p.design),
    |p| choices::choices(p.design, &p.runs),
    |p| cuts::cuts(p.design),
    |p| segments::segments(p.design),
    |p| levers::levers(p.design),
    |p| feeds::feeds(p.design, &p.runs),
    |p| cables::cables(p.design, &p.references, &p.runs),
    |p| data_cables::data_cables(p.design, &p.runs),
    |p| supplies::supplies(p.design, &p.runs),
    |p| protection::protection(p.design, &p.runs),
    |p| decoders::decoders(p.design, &p.runs),
    |p| outputs::outputs(p.design, &p.runs),
    |p| addresses::addresses(p.design),
    |p| chains::chains(p.design, &p.runs),
    |p| bars::bars(p.design, &p.runs),
    |p| reels::reels(p.design, &p.runs),
    |p| materials::materials(p.design),
    |p| readings::readings(p.design, &p.runs),
    |p| energy::energy(p.design),
    |p| assumptions::assumptions(p.design, &p.references),
    |_| cautions::cautions(),
    |p| sources::sources(&p.references),
];
