//! Chains of the data line, a line a device.

use crate::design::{Chain, ChainDevice, Design};
use crate::device::UnitLoads;
use crate::exact::ExactLength;
use crate::report::of_runs::OfRuns;
use crate::report::schedule::{Draft, MILLIVOLT, OHM, Schedule};
use crate::report::words::isolation;

/// A device on a chain, with what adds up from the source to it.
struct Row<'a> {
    chain: &'a Chain,
    device: &'a ChainDevice,
    order: u64,
    from_source: ExactLength,
    loads_e4: u64,
    is_last: bool,
}

pub(in crate::report) fn chains(design: &Design, runs: &OfRuns<'_>) -> Schedule {
    let schedule = Draft::<Row<'_>>::new(
        "chains",
        "Chains",
        "Devices in the order of the data cable, from the source outwards. Lengths and unit loads add up from the source. Minus: how far the minus terminal stands above its supply's at most. Margin: how far the least volts while a device samples stand above the 0.2 V a receiver needs, with the weakest driver that TIA-485-A permits.",
    )
    .name("chain", "Chain", |r| &r.chain.id)
    .count("order", "Order", |r| r.order)
    .words("device", "Device", |r| &r.device.name)
    .words("cable", "Cable in", |r| r.chain.cable.words())
    .metres("length", "Length", |r| r.device.length)
    .metres("from_source", "From source", |r| r.from_source)
    .words("unit_loads", "Unit loads", |r| unit_loads(r.loads_e4))
    .words("isolated", "Data port", |r| isolation(r.device.isolation))
    .figure_or("minus", "Minus", MILLIVOLT, 0, "-", |r| {
        r.device.ground.as_ref().map(|ground| ground.most)
    })
    .figure_or("margin", "Margin", MILLIVOLT, 0, "not simulated", |r| {
        r.device.margin.figures().map(|seen| seen.margin)
    })
    .figure_or("terminator", "Terminator", OHM, 0, "none", |r| {
        r.chain.terminator.filter(|_| r.is_last)
    })
    .of(|r| r.device.decoder.as_ref().map_or_else(Vec::new, |id| runs.decoder(id)))
    .fill(design.chains.iter().flat_map(rows));
    design
        .splitters
        .iter()
        .fold(schedule, |schedule, splitter| {
            let outputs = splitter.chains.iter().enumerate();
            let outputs: Vec<String> = outputs
                .map(|(at, chain)| format!("output {} to {chain}", at + 1))
                .collect();
            schedule.note(format!(
                "At {}: a powered splitter, {}. Lengths count from it.",
                splitter.port,
                outputs.join(", ")
            ))
        })
}

fn rows(chain: &Chain) -> impl Iterator<Item = Row<'_>> {
    let (mut from_source, mut loads_e4) = (ExactLength::ZERO, 0_u64);
    chain.devices.iter().enumerate().map(move |(n, device)| {
        from_source = from_source.saturating_add(device.length);
        loads_e4 = loads_e4.saturating_add(device.unit_loads.unit_loads_e4);
        Row {
            chain,
            device,
            order: n as u64 + 1,
            from_source,
            loads_e4,
            is_last: n + 1 == chain.devices.len(),
        }
    })
}

/// Ten-thousandths of a unit load as text: `1 1/8`.
fn unit_loads(ten_thousandths: u64) -> String {
    let one = u64::from(UnitLoads::ONE.ten_thousandths());
    let (whole, rest) = (ten_thousandths / one, ten_thousandths % one);
    if rest == 0 {
        return whole.to_string();
    }
    match [2_u64, 4, 8]
        .into_iter()
        .find(|d| (rest * d).is_multiple_of(one))
    {
        Some(d) if whole == 0 => format!("{}/{d}", rest * d / one),
        Some(d) => format!("{whole} {}/{d}", rest * d / one),
        None => format!("{}", ten_thousandths as f64 / one as f64),
    }
}

#[cfg(test)]
mod tests {
    use super::unit_loads;

    #[test]
    fn unit_loads_are_fractions_where_they_can_be() {
        for (e4, words) in [
            (0, "0"),
            (1_250, "1/8"),
            (2_500, "1/4"),
            (5_000, "1/2"),
            (11_250, "1 1/8"),
            (20_000, "2"),
            (3_000, "0.3"),
        ] {
            assert_eq!(unit_loads(e4), words);
        }
    }
}
