//! Reels of tape: which pieces are cut from which, and where pieces are joined.

use super::stock::{EFFORT, FEW, cut_stock, put_joints, stock_of};
use crate::choose::stock::{Joints, Piece as Wanted, StockLength, StockSpec};
use crate::design::{Design, Item, Material, Pack, Piece, Spare, Stock, StockKind, UsedIn};
use crate::finding::{Figure, Finding};
use crate::id::{PieceId, ProductId, StockId};
use crate::job::spec::LimitKey;
use crate::plan::SolvedJob;
use crate::plan::phases::Phase;
use crate::rules::strip;
use crate::strip::StripSpec;
use std::collections::BTreeMap;

/// What a piece that is cut is of: the piece of the design, and which part of it, of how many.
type Parts = BTreeMap<String, (PieceId, Option<(u64, u64)>)>;

impl SolvedJob<'_> {
    /// Reels that pieces of tape are cut from, and joints where a piece is longer than one.
    pub(super) fn put_reels(
        &self,
        design: &mut Design,
        findings: &mut Vec<Finding>,
        cutting: &mut Phase<'_, '_>,
    ) {
        for (number, tape) in self.job.strips().iter().enumerate() {
            let product = ProductId::new(&*tape.name);
            let own: Vec<Piece> = design
                .pieces
                .iter()
                .filter(|piece| piece.strip == product)
                .cloned()
                .collect();
            if own.is_empty() {
                continue;
            }
            let mut parts = Parts::new();
            let mut spec = StockSpec::new(&*tape.name);
            spec.increment = Some(tape.pitch);
            spec.joints = Joints::WhenLonger { price: 0 };
            spec.effort = EFFORT;
            spec.stock = vec![StockLength::new("reel", tape.reel, 0)];
            spec.pieces = own
                .iter()
                .flat_map(|piece| wanted(tape, piece, &mut parts))
                .collect();
            let Some(done) = cut_stock(spec, findings, cutting) else {
                continue;
            };
            let prefix = format!("R{}", number + 1);
            let reels = stock_of(&done, &prefix, StockKind::Reel, &product, None, |piece| {
                let known = parts.get(piece).cloned();
                known.unwrap_or_else(|| (PieceId::new(piece), None))
            });
            let mut from: BTreeMap<&PieceId, Vec<StockId>> = BTreeMap::new();
            for reel in &reels {
                for part in &reel.parts {
                    let of_piece = from.entry(&part.piece).or_default();
                    if of_piece.last() != Some(&reel.id) {
                        of_piece.push(reel.id.clone());
                    }
                }
            }
            for piece in design.pieces.iter_mut().filter(|p| p.strip == product) {
                piece.reels = from.remove(&piece.id).unwrap_or_default();
            }
            let count = reels.len() as u64;
            let spare = self.job.limits().spare_tape;
            let stated = !self.job.limits().is_assumed(LimitKey::SpareTape);
            // What is left of few reels is their spare, unless the job states how much it wants.
            let few = count < FEW && !stated;
            let more = match few {
                true => 0,
                false => spare_reels(tape, &own, &reels, spare.value),
            };
            design.stock.extend(reels);
            design.materials.push(Material {
                item: Item::Tape(product.clone()),
                needed: Figure::count(count),
                spare: match few {
                    true => Spare::Few,
                    false => Spare::OfPacks {
                        share: spare.into(),
                        packs: more,
                    },
                },
                pack: Pack::Reel(tape.reel),
                order: count + more,
                used: UsedIn::Runs,
                price: None,
            });
            let joined: Vec<(PieceId, u64)> = own
                .iter()
                .map(|piece| (piece.id.clone(), tape.joints_in(piece.increments)))
                .filter(|(_, joints)| *joints > 0)
                .collect();
            let item = Item::ReelJoint(product);
            if tape.reel_joint.is_some() {
                let count = joined.iter().map(|j| j.1).sum();
                let pieces = joined.into_iter().map(|j| j.0).collect();
                put_joints(design, item, count, pieces);
            } else {
                if let Some((first, _)) = joined.first() {
                    let others = joined.len() - 1;
                    let first = first.as_str();
                    findings.push(strip::joint_not_stated(
                        &tape.name, tape.reel, first, others,
                    ));
                }
                let pieces = done.joined.iter().map(|j| PieceId::new(&*j.piece));
                put_joints(design, item, done.joints, pieces.collect());
            }
        }
    }
}

/// Reels that are ordered as spare tape beyond those that are cut.
///
/// A share of the tape that is cut is wanted as spare. Offcuts hold it as far as they are usable: whole increments, and as
/// long as the shortest piece of the plan (an assumption of this library: a shorter one replaces nothing whole). What is
/// still wanted is ordered in whole reels.
fn spare_reels(strip: &StripSpec, cut: &[Piece], reels: &[Stock], share: f64) -> u64 {
    let increments: u64 = cut.iter().map(|piece| piece.increments).sum();
    let wanted = (increments as f64 * share).ceil();
    let shortest = cut.iter().map(|piece| piece.increments).min();
    let offcuts = reels.iter().map(|reel| strip.pitch.count_in(reel.offcut));
    let usable: u64 = offcuts.filter(|own| Some(*own) >= shortest).sum();
    let of_reel = strip.pitch.count_in(strip.reel).max(1);
    ((wanted - usable as f64).max(0.0) / of_reel as f64).ceil() as u64
}

/// What is cut for a piece of tape: whole reels first where the joint between them is stated, as it was solved with them.
fn wanted(strip: &StripSpec, piece: &Piece, parts: &mut Parts) -> Vec<Wanted> {
    let of = match strip.reel_joint {
        Some(_) => strip.joints_in(piece.increments) + 1,
        None => 1,
    };
    if of == 1 {
        return vec![Wanted::new(piece.id.as_str(), piece.length)];
    }
    let reel = strip.pitch.count_in(strip.reel);
    (0..of)
        .map(|number| {
            let name = format!("{}, part {} of {of}", piece.id, number + 1);
            let increments = reel.min(piece.increments - number * reel);
            parts.insert(name.clone(), (piece.id.clone(), Some((number + 1, of))));
            Wanted::new(name, strip.pitch.length_of(increments))
        })
        .collect()
}
