//! What holds a cutting plan back, and the next best one.

use super::batch::Lines;
use super::check::CheckedStock;
use super::plan::Start;
use super::rack::{Effort, Known, pack};
use super::result::{Binding, CuttingPlan, Limit, RunnerUp};
use super::spec::{Batches, Joints, Objective};

/// Pieces up to which the limits that bind are looked for.
const EXPLAINED: usize = 400;
/// Steps for an answer without one limit.
const QUICK: u64 = 4_000;

/// The plan without one of the stock lengths it uses; of one length only, what excludes one bar fewer.
pub fn runner_up(
    stock: &CheckedStock,
    start: &Start,
    lines: &Lines,
    plan: &CuttingPlan,
    tick: &mut dyn FnMut(u64, u64) -> bool,
) -> Option<RunnerUp> {
    let bought = stock.kinds.iter().filter(|k| !k.on_hand).count();
    let simple = start.full.is_empty() && stock.spec.batches == Batches::Any && !stock.joins();
    if bought > 1 && bought <= 8 && simple {
        let mut best: Option<(u64, String)> = None;
        for (index, kind) in stock.kinds.iter().enumerate() {
            if kind.on_hand || !plan.bars.iter().any(|b| b.stock == kind.name) {
                continue;
            }
            let mut counts = start.counts.clone();
            if let Some(count) = counts.get_mut(index) {
                *count = Some(0);
            }
            let effort = Effort::First(stock.spec.effort / 32);
            let known = Known {
                least: plan.lower_bound,
                most: best
                    .as_ref()
                    .map_or(u64::MAX, |(least, _)| least.saturating_sub(1)),
            };
            let packed = pack(
                stock,
                &start.slices,
                &counts,
                &lines.of_kind,
                effort,
                known,
                tick,
            );
            if let Some((cost, _)) = packed.outcome.best
                && best.as_ref().is_none_or(|(least, _)| cost < *least)
            {
                best = Some((cost, kind.name.clone()));
            }
        }
        if let Some((value, name)) = best {
            let differs = format!("without the stock length `{name}`, best found");
            return Some(RunnerUp {
                value: Some(value),
                differs,
            });
        }
    }
    if let Some(value) = without_joints(stock, start, lines, tick) {
        let differs = "without joints by choice, best found".to_owned();
        return Some(RunnerUp {
            value: Some(value),
            differs,
        });
    }
    (plan.value > 0).then(|| {
        let next = match stock.spec.objective {
            Objective::LeastBars => "one bar fewer",
            Objective::LeastCost => "a lower cost",
        };
        let differs = if plan.proven {
            format!("{next} does not exist: {}", plan.reason)
        } else {
            format!("whether {next} exists is open: {}", plan.reason)
        };
        RunnerUp {
            value: None,
            differs,
        }
    })
}

/// Value with every piece whole, where each fits on one reel.
fn without_joints(
    stock: &CheckedStock,
    start: &Start,
    lines: &Lines,
    tick: &mut dyn FnMut(u64, u64) -> bool,
) -> Option<u64> {
    if !stock.joins() {
        return None;
    }
    let mut whole = stock.clone();
    whole.spec.joints = Joints::Never;
    let effort = Effort::First(stock.spec.effort / 32);
    let packed = pack(
        &whole,
        &start.slices,
        &start.counts,
        &lines.of_kind,
        effort,
        Known::NOTHING,
        tick,
    );
    packed.outcome.best.map(|(cost, _)| cost)
}

/// Limits without which a smaller value is found.
pub fn binding(
    stock: &CheckedStock,
    start: &Start,
    lines: &Lines,
    plan: &CuttingPlan,
    tick: &mut dyn FnMut(u64, u64) -> bool,
) -> Vec<Binding> {
    if start.slices.len() > EXPLAINED || !start.full.is_empty() || stock.joins() {
        return Vec::new();
    }
    let mut bound = |limit: Limit, without: &CheckedStock, counts: &[Option<u32>]| {
        let effort = Effort::First(QUICK);
        let known = Known {
            least: 0,
            most: plan.value.checked_sub(1)?,
        };
        let packed = pack(
            without,
            &start.slices,
            counts,
            &lines.of_kind,
            effort,
            known,
            tick,
        );
        let (value_without, _) = packed.outcome.best?;
        (value_without < plan.value).then_some(Binding {
            limit,
            value_without,
        })
    };
    let mut found = Vec::new();
    if stock.kerf > 0 {
        let mut without = stock.clone();
        without.kerf = 0;
        found.extend(bound(Limit::Kerf, &without, &start.counts));
    }
    let bought = |n: usize| stock.kinds.get(n).is_some_and(|k| !k.on_hand);
    let limited = |(n, count): (usize, &Option<u32>)| bought(n) && count.is_some();
    if start.counts.iter().enumerate().any(limited) {
        let counts = start.counts.iter().enumerate();
        let counts: Vec<Option<u32>> = counts
            .map(|(n, count)| if bought(n) { None } else { *count })
            .collect();
        found.extend(bound(Limit::Count, stock, &counts));
    }
    if stock.spec.joints == Joints::Never && stock.spec.increment.is_some() {
        let mut without = stock.clone();
        without.spec.joints = Joints::ByChoice { price: 0 };
        without.spec.objective = Objective::LeastCost;
        if stock.spec.objective == Objective::LeastBars {
            for kind in &mut without.kinds {
                kind.price = u64::from(!kind.on_hand);
            }
        }
        found.extend(bound(Limit::Joints, &without, &start.counts));
    }
    if stock.spec.batches != Batches::Any && lines.batches > 1 && lines.lines > 0 {
        found.extend(bound(Limit::Batches, stock, &start.counts));
    }
    found
}
