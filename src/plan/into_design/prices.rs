//! What the job says things cost.

use crate::design::{Design, Item, Pack};
use crate::id::ProductId;
use crate::plan::SolvedJob;
use crate::quantity::Money;

impl SolvedJob<'_> {
    /// The price of a pack to each line of the order, where the job states one.
    pub(super) fn put_prices(&self, design: &mut Design) {
        for line in &mut design.materials {
            line.price = self.price(&line.item, line.pack).and_then(Money::of_price);
        }
    }

    fn price(&self, item: &Item, pack: Pack) -> Option<u64> {
        let strip = |id: &ProductId| {
            let all = self.job.strips().iter();
            all.into_iter().find(|strip| *strip.name == *id.as_str())
        };
        match item {
            Item::Tape(id) => strip(id)?.price,
            Item::ReelJoint(id) => strip(id)?.reel_joint.as_ref()?.price,
            Item::Bar { profile, cover } => {
                let Pack::Bar(length) = pack else {
                    return None;
                };
                let all = self.job.profiles().iter();
                let own = all.into_iter().find(|own| *own.name == *profile.as_str())?;
                let sold = match cover {
                    None => &own.bars,
                    Some(_) => &own.cover.as_ref()?.bars,
                };
                sold.iter().find(|sold| sold.length == length)?.price
            }
            Item::Cable(id) => {
                let metre = self.job.cable(id.as_str())?.price_per_metre?;
                match pack {
                    Pack::Reel(reel) => Some((reel.metres() * metre as f64).round() as u64),
                    _ => Some(metre),
                }
            }
            Item::Supply(id) => self.job.supply(id.as_str())?.price,
            Item::Decoder(id) => {
                let all = self.job.decoders().iter();
                all.into_iter().find(|own| *own.name == *id.as_str())?.price
            }
            // No job states a price of these.
            _ => None,
        }
    }
}
