//! The order list.

use crate::design::{Design, Item, LengthUnits, Material, Pack, Spare, UsedIn};
use crate::exact::ExactLength;
use crate::job::spec::DataCable;
use crate::network::Polarity;
use crate::quantity::{Amps, Cost, Money};
use crate::report::schedule::{Draft, Schedule};
use crate::report::words::{joined, listed, many, profile};

pub(in crate::report) fn materials(design: &Design) -> Schedule {
    let currency = &design.job.currency;
    let units = design.job.units;
    let printed = |amount: Option<Money>| {
        let cost = amount.map(Cost::Priced)?;
        Some(cost.printed(currency))
    };
    let schedule = Draft::<&Material>::new(
        "materials",
        "What to buy",
        "What is needed, what is added as spare, how it is sold, and what to order in packs. Spare (an assumption of this \
         library): one more of a kind of which five or more are used, none of fewer; tape by the share that the limits \
         state, less usable offcuts, and none for fewer than five reels unless the job states a share.",
    )
    .name("item", "Item", |r| item(&r.item))
    .words("needed", "Needed", |r| needed(r))
    .words("spare", "Spare", |r| spare(r.spare))
    .words("pack", "Sold as", |r| pack(r.pack))
    .words("order", "Order", move |r| match r.pack {
        Pack::Metre => whole(units, r.order),
        _ => r.order.to_string(),
    })
    .amount_or_dash("price", "Unit price", move |r| printed(r.price))
    .amount_or_dash("sum", "Sum", move |r| printed(r.sum()))
    .words("used", "Used in", |r| used(&r.used))
    .in_file()
    .fill(&design.materials);
    match bill(design) {
        Some(bill) => schedule.note(bill),
        None => schedule,
    }
}

/// The total of what the job prices, and what it does not price; none where nothing is ordered.
fn bill(design: &Design) -> Option<String> {
    ordered_rows(design).next()?;
    let mut open: Vec<String> = unpriced(design).map(|row| item(&row.item)).collect();
    open.dedup();
    Some(match open.is_empty() {
        true => total(design),
        false => format!("{}: {}.", total(design), joined(open, "; ")),
    })
}

/// `Total of what the job prices: EUR 1234.50. Without a price: 12 items.`
pub(in crate::report) fn total(design: &Design) -> String {
    let sums: Vec<Money> = ordered_rows(design).filter_map(Material::sum).collect();
    let total = match (sums.is_empty(), Money::sum(sums)) {
        (true, _) => "The job states no price of what is bought.".to_string(),
        (false, None) => "The total is too large to be held.".to_string(),
        (false, Some(total)) => format!(
            "Total of what the job prices: {}.",
            design.job.currency.words(total)
        ),
    };
    match unpriced(design).count() {
        0 => format!("{total} Everything has a price."),
        open => format!("{total} Without a price: {}", many(open, "line", "lines")),
    }
}

fn ordered_rows(design: &Design) -> impl Iterator<Item = &Material> {
    design.materials.iter().filter(|row| row.order > 0)
}

fn unpriced(design: &Design) -> impl Iterator<Item = &Material> {
    ordered_rows(design).filter(|row| row.sum().is_none())
}

/// A line of the order for each item: `9 reels of 5 m: white 24 V`.
pub(in crate::report) fn ordered(design: &Design) -> impl Iterator<Item = String> {
    let currency = &design.job.currency;
    let units = design.job.units;
    ordered_rows(design).map(move |row| {
        let (order, what) = (row.order, item(&row.item));
        let line = match row.pack {
            Pack::One => format!("{order} x {what}"),
            Pack::Metre => format!("{} of {what}", whole(units, order)),
            Pack::Reel(length) => format!("{} of {length}: {what}", reels(order)),
            Pack::Bar(length) => {
                let bars = many(usize::try_from(order).unwrap_or(usize::MAX), "bar", "bars");
                format!("{bars} of {length}: {what}")
            }
        };
        match row.sum() {
            Some(sum) => format!("{line}, {}", currency.words(sum)),
            None => line,
        }
    })
}

/// Whole metres, or the whole feet that hold them.
fn whole(units: LengthUnits, metres: u64) -> String {
    match units {
        LengthUnits::Us => format!("{:.0} ft", (metres as f64 / 0.3048).ceil()),
        _ => format!("{metres} m"),
    }
}

fn item(item: &Item) -> String {
    match item {
        Item::Tape(strip) => strip.to_string(),
        Item::ReelJoint(strip) => format!("joint between reels of {strip}"),
        Item::Bar {
            profile: own,
            cover,
        } => profile(own, cover.as_ref()),
        Item::BarJoint {
            profile: own,
            cover,
        } => {
            format!("joint for {}", profile(own, cover.as_ref()))
        }
        Item::Cable(kind) => format!("cable {kind}"),
        Item::Supply(kind) => format!("supply {kind}"),
        Item::Decoder(kind) => format!("decoder {kind}"),
        Item::DecoderNotNamed {
            outputs,
            output_current,
            total_current,
            volts,
            polarity,
        } => {
            let least = |of: &Option<Amps>| {
                // Up, so that what is asked for is never less than what was found.
                of.map_or_else(
                    || "a current that was not solved".to_string(),
                    |amps| format!("{:.1} A", libm::ceil(amps.si() * 10.0 - 1e-9) / 10.0),
                )
            };
            let volts = volts.map_or_else(String::new, |v| format!(" at up to {v}"));
            let side = match polarity {
                Polarity::CommonPlus => "plus",
                Polarity::CommonMinus => "minus",
            };
            format!(
                "decoder, to be chosen: {outputs} outputs of at least {} each, {} in all{volts}, common {side}",
                least(output_current),
                least(total_current)
            )
        }
        Item::Terminator(ohms) => format!("terminator {ohms}"),
        Item::Splitter { outputs } => {
            format!("DMX512 splitter, powered, {outputs} outputs or more")
        }
        Item::DataCable(DataCable::Unknown) => "data cable, kind not stated".to_string(),
        Item::DataCable(kind) => format!("data cable: {}", kind.words()),
        Item::ProfileEnd {
            profile,
            exit: true,
        } => format!("end cap of {profile}, with exit for a lead"),
        Item::ProfileEnd { profile, .. } => format!("end cap of {profile}, closed"),
        Item::TapeEnd(strip) => format!("end cap of tape {strip}"),
    }
}

/// `8 reels`, `16 bars of 2.5 m`, `94.9 m`, `4`.
fn needed(row: &Material) -> String {
    let value = row.needed.value();
    match row.pack {
        Pack::One => format!("{value}"),
        Pack::Metre => format!("{value:.1} m"),
        // Tape is needed in reels, cable in metres.
        Pack::Reel(_) if matches!(row.item, Item::Cable(_)) => format!("{value:.1} m"),
        Pack::Reel(_) => reels(value as u64),
        Pack::Bar(length) => format!("{value} bars of {length}"),
    }
}

fn reels(count: u64) -> String {
    many(count as usize, "reel", "reels")
}

fn spare(spare: Spare) -> String {
    match spare {
        Spare::None => "none".to_string(),
        Spare::SlackIncluded => "slack included".to_string(),
        Spare::One => "1".to_string(),
        Spare::Few => "none".to_string(),
        Spare::OfPacks { share, .. } if share.si() <= 0.0 => "none".to_string(),
        Spare::OfPacks { share, packs: 0 } => format!("in usable offcuts ({share})"),
        Spare::OfPacks { share, packs } => format!("{} ({share})", reels(packs)),
    }
}

fn pack(pack: Pack) -> String {
    match pack {
        Pack::One => "1".to_string(),
        Pack::Metre => "by the metre".to_string(),
        Pack::Reel(length) => format!("reel of {length}"),
        Pack::Bar(length) => length.to_string(),
    }
}

fn used(used: &UsedIn) -> String {
    match used {
        UsedIn::Runs => "runs".to_string(),
        UsedIn::Cables => "feeders, leads and jumpers".to_string(),
        UsedIn::Supplies => "supplies".to_string(),
        UsedIn::Decoders => "decoders".to_string(),
        UsedIn::Chains => "chains".to_string(),
        UsedIn::Ends => "ends".to_string(),
        UsedIn::Bars { kept } if *kept > ExactLength::ZERO => {
            format!("bars; offcuts of {kept} in all are kept")
        }
        UsedIn::Bars { .. } => "bars".to_string(),
        UsedIn::Pieces(pieces) => listed(pieces),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::Figure;
    use crate::id::ProductId;
    use crate::quantity::{metres, ohms, percent};

    #[test]
    fn an_order_reads_as_it_is_sold() {
        let words = |row: &Material| {
            [
                item(&row.item),
                needed(row),
                spare(row.spare),
                pack(row.pack),
                used(&row.used),
            ]
        };
        let reel = ExactLength::from_millimetres(5_000);
        let tape = Material {
            item: Item::Tape(ProductId::new("white")),
            needed: Figure::count(8),
            spare: Spare::OfPacks {
                share: percent(5.0).into(),
                packs: 1,
            },
            pack: Pack::Reel(reel),
            order: 9,
            used: UsedIn::Runs,
            price: None,
        };
        assert_eq!(
            words(&tape),
            ["white", "8 reels", "1 reel (5 %)", "reel of 5 m", "runs"]
        );
        let cable = Material {
            item: Item::Cable(ProductId::new("18/2")),
            needed: metres(13.24).into(),
            spare: Spare::SlackIncluded,
            pack: Pack::Metre,
            order: 14,
            used: UsedIn::Cables,
            price: None,
        };
        assert_eq!(
            words(&cable),
            [
                "cable 18/2",
                "13.2 m",
                "slack included",
                "by the metre",
                "feeders, leads and jumpers"
            ]
        );
        let bars = Material {
            item: Item::Bar {
                profile: ProductId::new("cove"),
                cover: None,
            },
            needed: Figure::count(16),
            spare: Spare::None,
            pack: Pack::Bar(ExactLength::from_millimetres(2_500)),
            order: 16,
            used: UsedIn::Bars {
                kept: ExactLength::from_millimetres(1_200),
            },
            price: None,
        };
        assert_eq!(
            words(&bars),
            [
                "cove",
                "16 bars of 2.5 m",
                "none",
                "2.5 m",
                "bars; offcuts of 1.2 m in all are kept"
            ]
        );
        let end = item(&Item::Terminator(ohms(120.0).into()));
        assert_eq!(end, "terminator 120 Ω");
    }
}
