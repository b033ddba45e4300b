//! Supplies with the decoders and addresses behind them, and the data chains.

use super::{MOST_CHAINS, MOST_SUPPLIES};
use crate::design::{Decoder, Design, Fed, Load, Output, Supply};
use crate::id::{DecoderId, SupplyId};
use crate::report::page::Page;
use crate::report::words::{joined, listed, many};
use std::collections::BTreeMap;

pub(super) fn supplies(design: &Design, page: &mut Page) {
    let decoders: BTreeMap<&DecoderId, &Decoder> =
        design.decoders.iter().map(|d| (&d.id, d)).collect();
    let mut outputs: BTreeMap<&SupplyId, Vec<&Output>> = BTreeMap::new();
    for output in &design.outputs {
        outputs.entry(&output.supply).or_default().push(output);
    }
    let heading = "Supplies, and the decoders behind them with their first slots";
    page.part(heading, design.supplies.len(), MOST_SUPPLIES, |page| {
        for supply in design.supplies.iter().take(MOST_SUPPLIES) {
            let own = outputs.get(&supply.id).map_or(&[][..], Vec::as_slice);
            page.line("  ", &line(supply, own, &decoders));
        }
    });
}

/// `PS-C1.1 at cupboard: 24 V 100 W, 62 of 80 W: D-C1.1 1.001, D-C1.2 1.005`.
fn line(supply: &Supply, outputs: &[&Output], decoders: &BTreeMap<&DecoderId, &Decoder>) -> String {
    let load = match &supply.load {
        Load::Standby => "standby".to_string(),
        Load::Power(power) => format!(
            "{:.0} of {:.0} W",
            power.nominal.si(),
            supply.permitted.si()
        ),
        Load::Not(why) => format!("not solved: {why}"),
    };
    let behind = outputs
        .iter()
        .flat_map(|output| &output.feeds)
        .map(|fed| match fed {
            Fed::Decoder(id) => {
                let address = decoders.get(id).and_then(|d| d.address.as_ref());
                address.map_or_else(
                    || id.to_string(),
                    |a| format!("{id} {}.{:03}", a.universe, a.first),
                )
            }
            Fed::Switched { name, .. } => name.to_string(),
        });
    let behind = listed(behind);
    let behind = if behind.is_empty() {
        behind
    } else {
        format!(": {behind}")
    };
    format!(
        "{} at {}, {}, {load}{behind}",
        supply.id, supply.place, supply.kind
    )
}

pub(super) fn chains(design: &Design, page: &mut Page) {
    let used = || {
        design
            .chains
            .iter()
            .filter(|chain| !chain.devices.is_empty())
    };
    page.part("Data chains", used().count(), MOST_CHAINS, |page| {
        for chain in used().take(MOST_CHAINS) {
            let end = chain.terminator.map_or_else(
                || "no terminator".to_string(),
                |ohms| format!("{ohms} at the end"),
            );
            let devices = many(chain.devices.len(), "device", "devices");
            let order = joined(chain.devices.iter().map(|device| &device.name), " > ");
            page.line(
                "  ",
                &format!(
                    "{}, universe {}: {devices}, {end}: {order}",
                    chain.id, chain.universe
                ),
            );
        }
    });
}
