//! Bars, reels and what to buy.

use super::Worked;
use super::model::{BarRow, MaterialRow, Plan};
use crate::choose::stock::{
    CuttingPlan, Joints, Objective, Piece, StockLength, StockSpec, plan as cut,
};
use crate::exact::ExactLength;
use crate::finding::Finding;
use crate::job::spec::ProfileSpec;
use crate::job::spec::StockLength as Sold;
use crate::layout::spec::{Corner, CornerPolicy, Piece as PathPiece};
use crate::progress::Progress;
use crate::rules::stock;
use std::collections::BTreeMap;

/// Steps of work for one profile, cover or tape: well under a second.
pub(super) const EFFORT: u64 = 2_000_000;

impl Worked<'_> {
    pub(super) fn stock_rows(
        &self,
        plan: &mut Plan,
        findings: &mut Vec<Finding>,
        progress: &mut Progress<'_>,
    ) {
        self.reels(plan, findings, progress);
        for profile in self.job.profiles() {
            let pieces = self.straights(profile);
            if pieces.is_empty() {
                continue;
            }
            let mut spec = StockSpec::new(&*profile.name);
            spec.kerf = profile.kerf;
            spec.keep_from = profile.keep_from;
            spec.pieces = pieces;
            if let Some(cover) = &profile.cover {
                let mut own = spec.clone();
                own.what = format!("{}, {}", profile.name, cover.description);
                own.kerf = cover.kerf;
                self.bars(plan, findings, progress, 'P', spec, &profile.bars);
                self.bars(plan, findings, progress, 'C', own, &cover.bars);
            } else {
                self.bars(plan, findings, progress, 'P', spec, &profile.bars);
            }
        }
        self.bought(plan);
    }

    /// Straights of the runs that lie in a profile, longer by its mitre at each corner.
    fn straights(&self, profile: &ProfileSpec) -> Vec<Piece> {
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
                    let mut one =
                        Piece::new(format!("{} straight {number}", run.spec.name), *length);
                    one.start_allowance = corner(at.checked_sub(1)).unwrap_or_default();
                    one.end_allowance = corner(Some(at + 1)).unwrap_or_default();
                    one.line = run.spec.sight_line.clone();
                    out.push(one);
                }
            }
        }
        out
    }

    fn bars(
        &self,
        plan: &mut Plan,
        findings: &mut Vec<Finding>,
        progress: &mut Progress<'_>,
        letter: char,
        mut spec: StockSpec,
        sold: &[Sold],
    ) {
        let what = spec.what.clone();
        spec.joints = Joints::WhenLonger { price: 0 };
        let priced = sold.iter().all(|s| s.price.is_some());
        spec.objective = if priced {
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
        let Some(done) = run(spec, findings, progress) else {
            return;
        };
        let first = plan.bars.len();
        let number = plan
            .bars
            .iter()
            .filter(|b| b.id.starts_with(letter))
            .filter_map(|b| b.id[1..].split('-').next()?.parse::<usize>().ok())
            .max()
            .unwrap_or(0)
            + 1;
        push_rows(&mut plan.bars, &done, &format!("{letter}{number}"), &what);
        materials(plan, first, &done, sold);
        joints(plan, format!("joint for {}", done.what), &done);
    }

    /// Cables, supplies, decoders, terminators.
    fn bought(&self, plan: &mut Plan) {
        let mut cables: BTreeMap<&str, f64> = BTreeMap::new();
        for row in &plan.cables {
            *cables.entry(&row.kind).or_default() += row.route.length().value;
        }
        let mut rows: Vec<MaterialRow> = cables
            .into_iter()
            .map(|(kind, metres)| MaterialRow {
                item: format!("cable {kind}"),
                needed: format!("{metres:.1} m"),
                spare: "slack is within".to_string(),
                pack: "1 m".to_string(),
                order: format!("{}", metres.ceil()),
                used: "feeders and leads".to_string(),
            })
            .collect();
        let mut counted = |what: &str, kinds: Vec<&str>, used: &str| {
            let mut count: BTreeMap<&str, usize> = BTreeMap::new();
            for kind in kinds {
                *count.entry(kind).or_default() += 1;
            }
            for (kind, n) in count {
                rows.push(MaterialRow {
                    item: format!("{what} {kind}"),
                    needed: n.to_string(),
                    spare: "1 (common practice)".to_string(),
                    pack: "1".to_string(),
                    order: (n + 1).to_string(),
                    used: used.to_string(),
                });
            }
        };
        counted(
            "supply",
            plan.supplies
                .iter()
                .filter(|s| !s.fixed)
                .map(|s| s.kind.as_str())
                .collect(),
            "supplies",
        );
        counted(
            "decoder",
            plan.decoders
                .iter()
                .filter(|d| !d.fixed)
                .map(|d| d.kind.as_str())
                .collect(),
            "decoders",
        );
        let ends = self
            .job
            .chains()
            .iter()
            .filter(|c| c.terminator.is_some())
            .map(|_| "120 Ω");
        counted("terminator", ends.collect(), "chains");
        plan.materials.extend(rows);
    }
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

/// Bars to buy, and what is kept of them.
fn materials(plan: &mut Plan, first: usize, done: &CuttingPlan, sold: &[Sold]) {
    let used = if done.kept > ExactLength::ZERO {
        format!("bars; offcuts of {} in all are kept", done.kept)
    } else {
        "bars".to_string()
    };
    for length in sold {
        let bars = plan.bars[first..].iter();
        let count = bars.filter(|b| b.stock == length.length).count();
        if count > 0 {
            plan.materials.push(MaterialRow {
                item: done.what.clone(),
                needed: format!("{count} bars of {}", length.length),
                spare: "none".to_string(),
                pack: length.length.to_string(),
                order: count.to_string(),
                used: used.clone(),
            });
        }
    }
}

/// Joints within pieces, where there are any.
pub(super) fn joints(plan: &mut Plan, item: String, done: &CuttingPlan) {
    let pieces = done.joined.iter().map(|j| j.piece.as_str());
    joint_row(plan, item, done.joints, pieces);
}

pub(super) fn joint_row<'a>(
    plan: &mut Plan,
    what: String,
    count: u64,
    pieces: impl Iterator<Item = &'a str>,
) {
    if count == 0 {
        return;
    }
    plan.materials.push(MaterialRow {
        item: what,
        needed: count.to_string(),
        spare: "none".to_string(),
        pack: "1".to_string(),
        order: count.to_string(),
        used: pieces.collect::<Vec<_>>().join(", "),
    });
}

/// Cuts one kind of stock; what cannot be cut is a finding, and so is a plan without proof.
pub(super) fn run(
    spec: StockSpec,
    findings: &mut Vec<Finding>,
    progress: &mut Progress<'_>,
) -> Option<CuttingPlan> {
    let what = spec.what.clone();
    let checked = match spec.check() {
        Ok(checked) => checked,
        Err(all) => {
            findings.extend(all.iter().map(|fault| stock::no_cut(&what, fault)));
            return None;
        }
    };
    match cut(&checked, progress) {
        Ok(done) => {
            if !done.proven {
                let figures = [done.value, done.lower_bound];
                findings.push(stock::not_proven(&what, done.bars.len(), figures, &done.reason));
            }
            Some(done)
        }
        Err(error) => {
            findings.push(stock::no_cut(&what, &error));
            None
        }
    }
}

pub(super) fn push_rows(rows: &mut Vec<BarRow>, done: &CuttingPlan, prefix: &str, what: &str) {
    for (number, bar) in done.bars.iter().enumerate() {
        rows.push(BarRow {
            id: format!("{prefix}-{:02}", number + 1),
            kind: what.to_string(),
            stock: bar.length,
            pieces: bar
                .parts
                .iter()
                .map(|p| {
                    let id = if p.of > 1 {
                        format!("{}, part {} of {}", p.piece, p.part, p.of)
                    } else {
                        p.piece.clone()
                    };
                    (id, p.length)
                })
                .collect(),
            kerf: bar.dust,
            offcut: bar.offcut,
        });
    }
}
