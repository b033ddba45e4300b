//! Bars and covers that are cut, and what to buy.

use crate::choose::stock::{
    CuttingPlan, Joints, Objective, Piece as Wanted, StockLength, StockSpec, plan as cut,
};
use crate::design::{
    Cover, Decoder, Design, EndWork, Item, Material, Pack, Spare, Stock, StockKind, StockPart,
    UsedIn,
};
use crate::device::IngressCode;
use crate::exact::ExactLength;
use crate::finding::{Figure, Finding};
use crate::id::{PieceId, ProductId, RunId, StockId};
use crate::job::spec::{DataCable, ProfileSpec, StockLength as Sold};
use crate::layout::spec::{Corner, CornerPolicy, LeadOut, Piece as PathPiece};
use crate::order::Order as _;
use crate::plan::SolvedJob;
use crate::plan::phases::{self, Phase};
use crate::progress::Progress;
use crate::quantity::metres;
use crate::rules::stock;
use std::collections::{BTreeMap, BTreeSet};

/// Steps of work for one profile, cover or tape: well under a second.
pub(super) const EFFORT: u64 = 2_000_000;

/// Of a kind of which fewer are used no spare is ordered: a whole supply or reel more is out of proportion to a small job. An
/// assumption of this library.
pub(super) const FEW: u64 = 5;

impl SolvedJob<'_> {
    /// Bars, covers and reels with what is cut from each, and the order list.
    pub(in crate::plan) fn put_stock(
        &self,
        design: &mut Design,
        findings: &mut Vec<Finding>,
        progress: &mut Progress<'_>,
    ) {
        let kinds = self.job.strips().len() + 2 * self.job.profiles().len();
        let mut parts = Phase::new(progress, phases::CUTTING, kinds);
        self.put_reels(design, findings, &mut parts);
        for profile in self.job.profiles() {
            let pieces = self.straights(profile);
            if pieces.is_empty() {
                continue;
            }
            let mut spec = StockSpec::new(&*profile.name);
            spec.kerf = profile.kerf;
            spec.keep_from = profile.keep_from;
            spec.pieces = pieces;
            let product = ProductId::new(&*profile.name);
            let own = profile.cover.as_ref().map(|cover| {
                let mut own = spec.clone();
                own.what = format!("{}, {}", profile.name, cover.description);
                own.kerf = cover.kerf;
                (own, cover)
            });
            put_bars(
                design,
                findings,
                &mut parts,
                (&product, None),
                spec,
                &profile.bars,
            );
            if let Some((own, cover)) = own {
                let words = Cover {
                    description: (&*cover.description).into(),
                };
                let kind = (&product, Some(words));
                put_bars(design, findings, &mut parts, kind, own, &cover.bars);
            }
        }
        parts.end();
        self.put_bought(design);
        self.put_prices(design);
    }

    /// Straights of the runs that lie in a profile, longer by its mitre at each corner.
    fn straights(&self, profile: &ProfileSpec) -> Vec<Wanted> {
        let mut out = Vec::new();
        for run in &self.runs {
            if run.spec.profile.as_deref() != Some(&*profile.name) {
                continue;
            }
            let path = &run.spec.layout.pieces;
            let corner = |at: Option<usize>| match path.get(at?)? {
                PathPiece::Corner(corner) => Some(mitre(profile.width?, corner)),
                _ => None,
            };
            let mut number = 0;
            for (at, piece) in path.iter().enumerate() {
                if let PathPiece::Straight { length } = piece {
                    number += 1;
                    let id = format!("{} straight {number}", run.spec.name);
                    let mut one = Wanted::new(id, *length);
                    one.start_allowance = corner(at.checked_sub(1)).unwrap_or_default();
                    one.end_allowance = corner(Some(at + 1)).unwrap_or_default();
                    one.line = run.spec.sight_line.clone();
                    out.push(one);
                }
            }
        }
        out
    }

    /// Cables, supplies, decoders, terminators, splitters, data cable, end caps.
    fn put_bought(&self, design: &mut Design) {
        let mut cables: BTreeMap<&ProductId, Vec<ExactLength>> = BTreeMap::new();
        for cable in &design.cables {
            cables.entry(&cable.kind).or_default().push(cable.route);
        }
        let mut rows: Vec<Material> = cables
            .into_iter()
            .map(|(kind, routes)| Material {
                item: Item::Cable(kind.clone()),
                needed: metres(routes.iter().map(|route| route.metres()).sum()).into(),
                spare: Spare::SlackIncluded,
                pack: self.reel(kind).map_or(Pack::Metre, Pack::Reel),
                order: match self.reel(kind) {
                    Some(reel) => reels_for(reel, &routes),
                    None => routes.iter().map(|r| r.metres()).sum::<f64>().ceil() as u64,
                },
                used: UsedIn::Cables,
                price: None,
            })
            .collect();
        let mut counted = |items: Vec<Item>, used: UsedIn| {
            rows.extend(count(items).into_iter().map(|(item, n)| Material {
                item,
                needed: Figure::count(n),
                spare: if n < FEW { Spare::Few } else { Spare::One },
                pack: Pack::One,
                order: n + u64::from(n >= FEW),
                used: used.clone(),
                price: None,
            }));
        };
        let supplies = design.supplies.iter().filter(|s| !s.fixed);
        counted(
            supplies.map(|s| Item::Supply(s.kind.clone())).collect(),
            UsedIn::Supplies,
        );
        let named = |d: &&Decoder| design.decoder_kind(&d.kind).is_none_or(|kind| kind.named);
        let decoders = design.decoders.iter().filter(|d| !d.fixed).filter(named);
        counted(
            decoders.map(|d| Item::Decoder(d.kind.clone())).collect(),
            UsedIn::Decoders,
        );
        let chains = self.job.chains().iter();
        let ends = chains.filter_map(|chain| chain.terminator);
        counted(
            ends.map(|ohms| Item::Terminator(ohms.into())).collect(),
            UsedIn::Chains,
        );
        let splitters = design.splitters.iter();
        let mut outputs: Vec<u64> = splitters.map(|s| s.chains.len() as u64).collect();
        outputs.sort_unstable();
        let items = outputs
            .into_iter()
            .map(|outputs| Item::Splitter { outputs });
        counted(items.collect(), UsedIn::Chains);
        let closed = self.end_caps(design);
        counted(closed, UsedIn::Ends);
        rows.extend(self.decoders_to_name(design));
        design.materials.extend(rows);
        put_data_cable(design);
    }

    /// Length of a reel of a cable, where it is bought in whole ones.
    fn reel(&self, kind: &ProductId) -> Option<ExactLength> {
        self.job.cable(kind.as_str())?.reel
    }

    /// End caps: of a profile at the ends of each run in it and on either side of a gap, with an exit where a lead leaves
    /// through the cap; of tape at each cut end that is closed, where it lies in no profile or must stay tight.
    fn end_caps(&self, design: &Design) -> Vec<Item> {
        let mut out = Vec::new();
        // Whether a lead enters at the start and at the end of each run.
        let mut fed = vec![[false; 2]; self.runs.len()];
        for segment in &self.joint.segments {
            let last = self.runs[segment.run].layout.increments();
            let ends = &mut fed[segment.run];
            for feed in &segment.plan.feeds {
                ends[0] |= feed.at == 0;
                ends[1] |= feed.at == last;
            }
        }
        for (run, [at_start, at_end]) in self.runs.iter().zip(fed) {
            let Some(profile) = &run.spec.profile else {
                continue;
            };
            let layout = &run.spec.layout;
            let mut cap = |exit: bool| {
                out.push(Item::ProfileEnd {
                    profile: ProductId::new(&**profile),
                    exit,
                });
            };
            cap(at_start && layout.start.lead_out == LeadOut::ThroughCap);
            cap(at_end && layout.end.lead_out == LeadOut::ThroughCap);
            for piece in &layout.pieces {
                if let PathPiece::Gap(gap) = piece {
                    // A jumper passes through both.
                    cap(gap.jumper.is_some());
                    cap(gap.jumper.is_some());
                }
            }
        }
        let bare = design.runs.iter().filter(|run| run.profile.is_none());
        let bare: BTreeSet<&RunId> = bare.map(|run| &run.id).collect();
        for piece in &design.pieces {
            let tight = design.strip(&piece.strip).is_some_and(|s| {
                let code = s.ingress.unwrap_or(IngressCode::NONE);
                code.water() > 0
            });
            let ends = [piece.start, piece.end].into_iter();
            for _ in
                ends.filter(|end| *end == EndWork::EndCap && (tight || bare.contains(&piece.run)))
            {
                out.push(Item::TapeEnd(piece.strip.clone()));
            }
        }
        out
    }
}

/// Reels from which every cable is cut in one piece: the longest first, each from the first reel that still holds it. A cable
/// that is longer than a reel takes as many as it needs.
fn reels_for(reel: ExactLength, routes: &[ExactLength]) -> u64 {
    let mut routes = routes.to_vec();
    routes.sort_unstable_by(|a, b| b.cmp(a));
    let mut left: Vec<ExactLength> = Vec::new();
    let mut whole = 0_u64;
    for route in routes {
        if route > reel {
            let size = reel.nanometres().max(1);
            whole += route
                .nanometres()
                .unsigned_abs()
                .div_ceil(size.unsigned_abs());
            continue;
        }
        match left.iter_mut().find(|left| **left >= route) {
            Some(left) => *left = left.saturating_sub(route),
            None => left.push(reel.saturating_sub(route)),
        }
    }
    whole + left.len() as u64
}

/// Data cable by kind, in whole metres.
fn put_data_cable(design: &mut Design) {
    let mut lengths: Vec<(DataCable, ExactLength)> = Vec::new();
    for chain in &design.chains {
        let own = chain.devices.iter();
        let length = own.fold(ExactLength::ZERO, |sum, d| sum.saturating_add(d.length));
        match lengths.iter_mut().find(|(kind, _)| *kind == chain.cable) {
            Some((_, sum)) => *sum = sum.saturating_add(length),
            None => lengths.push((chain.cable, length)),
        }
    }
    for (kind, length) in lengths {
        if length > ExactLength::ZERO {
            design.materials.push(Material {
                item: Item::DataCable(kind),
                needed: metres(length.metres()).into(),
                spare: Spare::None,
                pack: Pack::Metre,
                order: length.metres().ceil() as u64,
                used: UsedIn::Chains,
                price: None,
            });
        }
    }
}

/// How many of each, in the order of their names.
fn count(mut items: Vec<Item>) -> Vec<(Item, u64)> {
    let name = |item: &Item| match item {
        Item::Supply(kind) | Item::Decoder(kind) | Item::TapeEnd(kind) => kind.to_string(),
        Item::ProfileEnd { profile, exit } => format!("{profile} {exit}"),
        _ => String::new(),
    };
    items.order_by_key(name);
    let mut out: Vec<(Item, u64)> = Vec::new();
    for item in items {
        match out.last_mut() {
            Some((last, n)) if *last == item => *n += 1,
            _ => out.push((item, 1)),
        }
    }
    out
}

fn put_bars(
    design: &mut Design,
    findings: &mut Vec<Finding>,
    parts: &mut Phase<'_, '_>,
    (profile, cover): (&ProductId, Option<Cover>),
    mut spec: StockSpec,
    sold: &[Sold],
) {
    spec.joints = Joints::WhenLonger { price: 0 };
    spec.objective = if sold.iter().all(|s| s.price.is_some()) {
        Objective::LeastCost
    } else {
        Objective::LeastBars
    };
    spec.effort = EFFORT;
    spec.stock = sold
        .iter()
        .map(|s| {
            let price = i64::try_from(s.price.unwrap_or(0)).unwrap_or(i64::MAX);
            StockLength::new(s.length.to_string(), s.length, price)
        })
        .collect();
    let Some(done) = cut_stock(spec, findings, parts) else {
        return;
    };
    let (letter, kind) = match cover {
        None => ('P', StockKind::Bar),
        Some(_) => ('C', StockKind::Cover),
    };
    // Each profile or cover that was cut has a number of its own.
    let mut cut_before: Vec<_> = design
        .stock
        .iter()
        .filter(|s| s.kind == kind)
        .map(|s| (&s.product, &s.cover))
        .collect();
    cut_before.dedup();
    let prefix = format!("{letter}{}", cut_before.len() + 1);
    let bars = stock_of(&done, &prefix, kind, profile, cover.as_ref(), |piece| {
        (PieceId::new(piece), None)
    });
    for length in sold {
        let count = bars.iter().filter(|b| b.length == length.length).count() as u64;
        if count > 0 {
            design.materials.push(Material {
                item: Item::Bar {
                    profile: profile.clone(),
                    cover: cover.clone(),
                },
                needed: Figure::count(count),
                spare: Spare::None,
                pack: Pack::Bar(length.length),
                order: count,
                used: UsedIn::Bars { kept: done.kept },
                price: None,
            });
        }
    }
    design.stock.extend(bars);
    let item = Item::BarJoint {
        profile: profile.clone(),
        cover,
    };
    let pieces = done.joined.iter().map(|j| PieceId::new(&*j.piece));
    put_joints(design, item, done.joints, pieces.collect());
}

/// What a mitre adds to a profile drawn along its middle: half its width by the tangent of half
/// the angle, up to the next nanometre. Nothing where the tape bends round.
fn mitre(width: ExactLength, corner: &Corner) -> ExactLength {
    if matches!(corner.policy, CornerPolicy::Bend { .. }) {
        return ExactLength::ZERO;
    }
    let tangent = libm::tan(corner.angle.degrees().to_radians() / 2.0);
    let added = libm::ceil(width.nanometres() as f64 / 2.0 * tangent - 1e-3);
    ExactLength::from_nanometres(added.clamp(0.0, 1e15) as i64)
}

/// Joints within pieces, where there are any.
pub(super) fn put_joints(design: &mut Design, item: Item, count: u64, pieces: Vec<PieceId>) {
    if count > 0 {
        design.materials.push(Material {
            item,
            needed: Figure::count(count),
            spare: Spare::None,
            pack: Pack::One,
            order: count,
            used: UsedIn::Pieces(pieces),
            price: None,
        });
    }
}

/// Cuts one kind of stock; what cannot be cut is a finding, and so is a plan without proof.
pub(super) fn cut_stock(
    spec: StockSpec,
    findings: &mut Vec<Finding>,
    parts: &mut Phase<'_, '_>,
) -> Option<CuttingPlan> {
    let what = spec.what.clone();
    let checked = match spec.check() {
        Ok(checked) => checked,
        Err(all) => {
            let faults = all.iter().map(|fault| stock::no_cut(&what, fault));
            findings.extend(faults);
            return None;
        }
    };
    match parts.part(|progress| cut(&checked, progress)) {
        Ok(done) => {
            if !done.proven {
                let value = [done.value, done.lower_bound];
                findings.push(stock::not_proven(
                    &what,
                    done.bars.len(),
                    value,
                    &done.reason,
                ));
            }
            Some(done)
        }
        Err(error) => {
            findings.push(stock::no_cut(&what, &error));
            None
        }
    }
}

/// Stock lengths with their pieces. `part` tells which piece of the design a piece that was cut is, and which part of
/// it where it was parted before.
pub(super) fn stock_of(
    done: &CuttingPlan,
    prefix: &str,
    kind: StockKind,
    product: &ProductId,
    cover: Option<&Cover>,
    part: impl Fn(&str) -> (PieceId, Option<(u64, u64)>),
) -> Vec<Stock> {
    let bars = done.bars.iter().enumerate();
    bars.map(|(number, bar)| Stock {
        id: StockId::new(format!("{prefix}-{:02}", number + 1)),
        kind,
        product: product.clone(),
        cover: cover.cloned(),
        length: bar.length,
        parts: bar
            .parts
            .iter()
            .map(|p| {
                let (piece, parted) = part(&p.piece);
                let (part, of) = parted.unwrap_or((p.part as u64, p.of as u64));
                StockPart {
                    piece,
                    part,
                    of,
                    length: p.length,
                }
            })
            .collect(),
        kerf: bar.dust,
        offcut: bar.offcut,
    })
    .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: 60 + 40 and 50 + 30 of 100 m; 250 m are three reels.
    #[test]
    fn cables_are_cut_whole_from_reels() {
        let of = |metres: &[i64]| {
            let routes = metres
                .iter()
                .map(|m| ExactLength::from_millimetres(m * 1000));
            reels_for(
                ExactLength::from_millimetres(100_000),
                &routes.collect::<Vec<_>>(),
            )
        };
        assert_eq!(of(&[30, 40, 50, 60]), 2);
        // 120 m, and no two of 60 m from one reel.
        assert_eq!(of(&[60, 60]), 2);
        assert_eq!(of(&[250]), 3);
        assert_eq!(of(&[]), 0);
    }
}
