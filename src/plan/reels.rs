//! Reels of tape: which pieces are cut from which, and where pieces are joined.

use super::Worked;
use super::model::{CutRow, MaterialRow, Plan};
use super::stock_rows::{EFFORT, joint_row, joints, push_rows, run};
use crate::choose::stock::{Joints, Piece, StockLength, StockSpec};
use crate::finding::Finding;
use crate::progress::Progress;
use crate::quantity::show;
use crate::rules::strip as strip_rules;
use crate::strip::StripSpec;

impl Worked<'_> {
    /// Reels that pieces of tape are cut from, and joints where a piece is longer than one.
    pub(super) fn reels(
        &self,
        plan: &mut Plan,
        findings: &mut Vec<Finding>,
        progress: &mut Progress<'_>,
    ) {
        for (number, strip) in self.job.strips().iter().enumerate() {
            let cuts: Vec<usize> = (0..plan.cuts.len())
                .filter(|c| plan.cuts[*c].strip == strip.name)
                .collect();
            if cuts.is_empty() {
                continue;
            }
            let mut spec = StockSpec::new(&*strip.name);
            spec.increment = Some(strip.pitch);
            spec.joints = Joints::WhenLonger { price: 0 };
            spec.effort = EFFORT;
            spec.stock = vec![StockLength::new("reel", strip.reel, 0)];
            spec.pieces = cuts
                .iter()
                .flat_map(|c| pieces(strip, &plan.cuts[*c]))
                .collect();
            let Some(done) = run(spec, findings, progress) else {
                continue;
            };
            let first = plan.reels.len();
            push_rows(
                &mut plan.reels,
                &done,
                &format!("R{}", number + 1),
                &strip.name,
            );
            for &cut in &cuts {
                let ids: Vec<String> = plan.reels[first..]
                    .iter()
                    .filter(|r| {
                        r.pieces
                            .iter()
                            .any(|p| p.0.split(", part").next() == Some(&*plan.cuts[cut].id))
                    })
                    .map(|r| r.id.clone())
                    .collect();
                plan.cuts[cut].reel = ids.join(", ");
            }
            let count = plan.reels.len() - first;
            let spare = self.job.limits().spare_tape;
            let with_spare = (count as f64 * (1.0 + spare.value)).ceil() as usize;
            plan.materials.push(MaterialRow {
                item: strip.name.clone(),
                needed: many(count),
                spare: format!("{} ({})", many(with_spare - count), show(spare)),
                pack: format!("reel of {}", strip.reel),
                order: with_spare.to_string(),
                used: "runs".to_string(),
            });
            let joined: Vec<(String, u64)> = cuts
                .iter()
                .map(|c| &plan.cuts[*c])
                .map(|cut| (cut.id.clone(), strip.joints_in(cut.increments)))
                .filter(|(_, joints)| *joints > 0)
                .collect();
            let item = format!("joint between reels of {}", strip.name);
            if strip.reel_joint.is_some() {
                let count = joined.iter().map(|j| j.1).sum();
                joint_row(plan, item, count, joined.iter().map(|j| &*j.0));
                continue;
            }
            findings.extend(not_stated(strip, &joined));
            joints(plan, item, &done);
        }
    }
}

/// `1 reel`, `2 reels`.
fn many(count: usize) -> String {
    format!("{count} reel{}", if count == 1 { "" } else { "s" })
}

/// A piece of tape to be cut: whole reels first where the joint between them is stated, as it was solved with them.
fn pieces(strip: &StripSpec, cut: &CutRow) -> Vec<Piece> {
    let parts = match strip.reel_joint {
        Some(_) => strip.joints_in(cut.increments) + 1,
        None => 1,
    };
    if parts == 1 {
        return vec![Piece::new(&*cut.id, cut.length)];
    }
    let reel = strip.pitch.count_in(strip.reel);
    let part = |number: u64| {
        let id = format!("{}, part {} of {parts}", cut.id, number + 1);
        let increments = reel.min(cut.increments - number * reel);
        Piece::new(id, strip.pitch.length_of(increments))
    };
    (0..parts).map(part).collect()
}

/// What a joint adds is not stated, and there are some.
fn not_stated(strip: &StripSpec, joined: &[(String, u64)]) -> Option<Finding> {
    let (first, _) = joined.first()?;
    let others = joined.len() - 1;
    Some(strip_rules::joint_not_stated(&strip.name, strip.reel, first, others))
}
