//! Decoders that the job does not name: what they must bear, for the order list.

use crate::design::{Decoder, Design, Item, Material, Pack, Spare, SupplyKind, UsedIn};
use crate::finding::Figure;
use crate::id::{DecoderId, SupplyId};
use crate::plan::SolvedJob;
use crate::quantity::{Amps, Volts};
use std::collections::{BTreeMap, BTreeSet};

impl SolvedJob<'_> {
    /// One line for each kind that stands in for decoders that are not named.
    pub(in crate::plan) fn decoders_to_name(&self, design: &Design) -> Vec<Material> {
        let kinds = design.decoder_kinds.iter().filter(|kind| !kind.named);
        let supplies: BTreeMap<&SupplyId, &SupplyKind> = design
            .supplies
            .iter()
            .filter_map(|supply| Some((&supply.id, design.supply_kind(&supply.kind)?)))
            .collect();
        kinds
            .filter_map(|kind| {
                let all = design.decoders.iter();
                let own: Vec<&Decoder> = all.filter(|one| one.kind == kind.id).collect();
                let ids: BTreeSet<&DecoderId> = own.iter().map(|decoder| &decoder.id).collect();
                let outputs = design.decoder_outputs.iter();
                let outputs = outputs.filter(|output| ids.contains(&output.decoder));
                let volts = own.iter().filter_map(|decoder| {
                    let (supply, _) = decoder.supply.as_ref()?;
                    Some(supplies.get(supply)?.highest_settable())
                });
                let polarity = self.job.decoder(kind.id.as_str())?.polarity;
                let count = own.len() as u64;
                (count > 0).then(|| Material {
                    item: Item::DecoderNotNamed {
                        outputs: kind.outputs,
                        output_current: greatest(outputs.map(|output| output.current)),
                        total_current: greatest(own.iter().map(|decoder| decoder.current)),
                        volts: volts.reduce(|a: Volts, b| if b.si() > a.si() { b } else { a }),
                        polarity,
                    },
                    needed: Figure::count(count),
                    spare: Spare::None,
                    pack: Pack::One,
                    order: count,
                    price: None,
                    used: UsedIn::Decoders,
                })
            })
            .collect()
    }
}

/// The greatest of currents; none where one was not solved.
fn greatest(all: impl Iterator<Item = Option<Amps>>) -> Option<Amps> {
    let all = all.collect::<Option<Vec<Amps>>>()?;
    all.into_iter()
        .reduce(|a, b| if b.si() > a.si() { b } else { a })
}
