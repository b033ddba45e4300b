//! The cutting plan in words and figures.

use super::batch::Lines;
use super::check::CheckedStock;
use super::lay::{Cut, bars};
use super::plan::Start;
use super::rack::{BAR, Packed};
use super::result::{Bar, CuttingPlan, Joined};
use super::spec::{Batches, Joints, Objective};
use crate::exact::ExactLength;
use crate::order::Order as _;

/// The plan, and what it rests on.
pub fn describe(
    stock: &CheckedStock,
    lines: &Lines,
    cuts: Vec<Cut>,
    start: &Start,
    packed: &Packed,
    lower: u64,
) -> CuttingPlan {
    let used = cuts
        .iter()
        .flat_map(|c| c.parts.iter().map(|(s, _)| (s.piece, c.kind)));
    let batch_changes = lines.changes(used);
    let money: u64 = cuts
        .iter()
        .filter_map(|c| stock.kinds.get(c.kind))
        .map(|k| k.price)
        .sum();
    let bars_bought = cuts
        .iter()
        .filter(|c| stock.kinds.get(c.kind).is_some_and(|k| !k.on_hand))
        .count() as u64;
    let parts: usize = cuts.iter().map(|c| c.parts.len()).sum();
    let joints = parts.saturating_sub(stock.pieces.len()) as u64;
    let joint_price = match stock.spec.joints {
        Joints::WhenLonger { price } | Joints::ByChoice { price } => price.unsigned_abs(),
        Joints::Never => 0,
    };
    let change_price = match stock.spec.batches {
        Batches::Priced(price) => price.unsigned_abs(),
        _ => 0,
    };
    let cost = money
        .saturating_add(joint_price.saturating_mul(joints))
        .saturating_add(change_price.saturating_mul(batch_changes));
    // What the full lengths of long pieces add to every answer.
    let fixed: u64 = match stock.spec.objective {
        Objective::LeastBars => start
            .full
            .iter()
            .filter(|r| stock.kinds.get(r.kind).is_some_and(|k| !k.on_hand))
            .count() as u64,
        Objective::LeastCost => start
            .full
            .iter()
            .filter_map(|r| stock.kinds.get(r.kind))
            .map(|k| k.price + joint_price)
            .sum(),
    };
    let (value, lower_bound) = match stock.spec.objective {
        Objective::LeastCost => (cost, lower.saturating_add(fixed)),
        // Joints stay below the number of bars, so they round off.
        Objective::LeastBars if stock.joins() => (
            bars_bought,
            (lower + BAR - 1).saturating_sub(bars_bought) / BAR,
        ),
        Objective::LeastBars => (bars_bought, lower + fixed),
    };
    let lower_bound = lower_bound.min(value);
    let exact = packed
        .outcome
        .best
        .as_ref()
        .is_some_and(|(c, _)| *c <= lower);
    let proven = value <= lower_bound && (exact || !stock.joins());
    let bars = bars(stock, cuts);
    let joined = joined(stock, &bars);
    let sum = |lengths: &mut dyn Iterator<Item = ExactLength>| lengths.sum::<ExactLength>();
    let kept = sum(&mut bars.iter().filter(|b| b.kept).map(|b| b.offcut));
    let waste = sum(&mut bars.iter().filter(|b| !b.kept).map(|b| b.offcut))
        .saturating_add(sum(&mut bars.iter().map(|b| b.dust)));
    let bought = stock.kinds.len();
    let least_waste =
        waste == ExactLength::ZERO || (proven && stock.spec.keep_from.is_none() && bought == 1);
    let root = packed.outcome.root >= lower;
    CuttingPlan {
        what: stock.spec.what.clone(),
        problem: problem(stock),
        reason: reason(stock, proven, root, lower_bound),
        bars,
        bars_bought,
        cost,
        joints,
        joined,
        batch_changes,
        waste,
        kept,
        value,
        lower_bound,
        proven,
        least_waste,
        binding: Vec::new(),
        runner_up: None,
        steps: packed.outcome.steps,
        cancelled: packed.outcome.cancelled,
    }
}

fn unit(stock: &CheckedStock) -> &'static str {
    match stock.spec.objective {
        Objective::LeastBars => "bars",
        Objective::LeastCost => "minor units of currency",
    }
}

fn problem(stock: &CheckedStock) -> String {
    let joints = match stock.spec.joints {
        Joints::Never => "",
        Joints::WhenLonger { .. } => {
            ", pieces longer than the stock laid as full lengths and one remainder"
        }
        Joints::ByChoice { .. } => ", joints at the ends of reels in rows of one stock length",
    };
    let batches = match stock.spec.batches {
        Batches::Any => "",
        Batches::OnePerLine => ", one batch per sight line",
        Batches::Priced(_) => ", changes of batch within a sight line priced",
    };
    let least = match (stock.spec.objective, stock.joins()) {
        (Objective::LeastBars, true) => "fewest bars bought, then fewest joints",
        (Objective::LeastBars, false) => "fewest bars bought",
        (Objective::LeastCost, _) => "least cost",
    };
    format!(
        "{least} for {} pieces of {}, cuts of {}{joints}{batches}",
        stock.pieces.len(),
        stock.spec.what,
        stock.spec.kerf
    )
}

fn reason(stock: &CheckedStock, proven: bool, root: bool, lower: u64) -> String {
    let unit = unit(stock);
    let by = if root {
        "the linear relaxation over all ways to fill a bar"
    } else {
        "search through the ways to fill bars"
    };
    if proven {
        format!("fewer than {lower} {unit} are excluded by {by}")
    } else {
        format!("fewer than {lower} {unit} are excluded by {by}; the rest of the gap is open")
    }
}

/// Pieces of several parts, and what their joints add.
fn joined(stock: &CheckedStock, bars: &[Bar]) -> Vec<Joined> {
    let parts = bars.iter().flat_map(|bar| &bar.parts);
    let mut joined: Vec<Joined> = parts
        .filter(|part| part.of > 1 && part.part == 1)
        .map(|part| Joined {
            piece: part.piece.clone(),
            joints: part.of - 1,
            resistance: stock.spec.joint_resistance * f64::from(part.of - 1),
        })
        .collect();
    joined.order_by(|a, b| a.piece.cmp(&b.piece));
    joined
}
