//! The data line, a line a cable.

use crate::design::{Chain, ChainDevice, Design};
use crate::report::of_runs::OfRuns;
use crate::report::schedule::{Draft, Schedule};

/// A cable from one device of a chain, or from its port, to the next.
struct Row<'a> {
    chain: &'a Chain,
    number: usize,
    from: String,
    to: &'a ChainDevice,
}

pub(in crate::report) fn data_cables(design: &Design, runs: &OfRuns<'_>) -> Schedule {
    Draft::<Row<'_>>::new(
        "data_cables",
        "Data cables",
        "The cables of the data line, from the source outwards. They carry no load current; what a line passes, and its terminator, stand under Chains.",
    )
    .name("cable", "Cable", |r| format!("{}-{}", r.chain.id, r.number))
    .words("from", "From", |r| r.from.clone())
    .words("to", "To", |r| &r.to.name)
    .words("kind", "Kind", |r| r.chain.cable.words())
    .metres("length", "Length", |r| r.to.length)
    .of(|r| r.to.decoder.as_ref().map_or_else(Vec::new, |id| runs.decoder(id)))
    .fill(design.chains.iter().flat_map(rows))
}

fn rows(chain: &Chain) -> impl Iterator<Item = Row<'_>> {
    let mut from = format!("port of universe {}", chain.universe);
    chain.devices.iter().enumerate().map(move |(n, device)| {
        let to = device.name.to_string();
        Row {
            chain,
            number: n + 1,
            from: std::mem::replace(&mut from, to),
            to: device,
        }
    })
}
