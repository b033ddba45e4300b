//! The plan: parts of long pieces, batches, packing, laying, and what the answer rests on.

use super::batch::{Lines, one_per_line};
use super::check::{CheckedStock, MOST_PIECES};
use super::lay::{Cut, bars, concentrate, lay, shorten};
use super::rack::{BAR, Effort, Packed, Row, Slice, pack};
use super::result::{CuttingPlan, RunnerUp};
use super::spec::{Batches, Joints, Objective};
use crate::exact::ExactLength;
use crate::progress::{Go, Progress};
use thiserror::Error;

/// Why there is no plan.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum StockError {
    /// Proven: the limited stock cannot hold the pieces.
    #[error("{what}: the stock listed is not enough for {pieces} pieces; list more of it")]
    NotEnough {
        /// What is cut.
        what: String,
        /// How many pieces.
        pieces: usize,
    },
    /// Nothing found within the work limit.
    #[error(
        "{what}: no plan for {pieces} pieces was found within {steps} steps, and none was excluded; \
         list more stock or allow more work"
    )]
    NotFound {
        /// What is cut.
        what: String,
        /// How many pieces.
        pieces: usize,
        /// Steps spent.
        steps: u64,
    },
    /// A piece needs more full lengths than are taken.
    #[error("{what}: the pieces need more than {MOST_PIECES} full lengths; plan in parts")]
    TooMany {
        /// What is cut.
        what: String,
    },
    /// Cancelled before any plan was found.
    #[error("{what}: cancelled before a plan was found")]
    Cancelled {
        /// What is cut.
        what: String,
    },
}

/// Full lengths of pieces that are longer than all stock, and what remains to pack.
struct Start {
    full: Vec<Row>,
    slices: Vec<Slice>,
    counts: Vec<Option<u32>>,
}

/// Plans the cutting: exact where the work limit allows, else with the gap shown.
///
/// Time grows with the number of different lengths (a dense linear programme of that
/// size) and with the search; both are bounded by the spec's effort. Memory: the square
/// of the number of different lengths, and at most 200 000 remembered states.
///
/// # Errors
/// [`StockError`]: the stock is not enough, nothing was found within the work limit, or
/// the caller cancelled before anything was found.
pub fn plan(stock: &CheckedStock, progress: &mut Progress<'_>) -> Result<CuttingPlan, StockError> {
    let what = &stock.spec.what;
    let start = start(stock)?;
    let lines = Lines::of(stock);
    let effort = stock.spec.effort;
    let mut tick = |done: u64, of: u64| progress.step("cutting stock", done, of) == Go::On;
    let pooled = |tick: &mut dyn FnMut(u64, u64) -> bool| {
        pack(
            stock,
            &start.slices,
            &start.counts,
            &lines.of_kind,
            Effort::Proof(effort),
            tick,
        )
    };
    let tied = lines.batches > 1 && lines.lines > 0;
    let (packed, lower) = match stock.spec.batches {
        Batches::OnePerLine if tied => {
            let (packed, lower) = one_per_line(
                stock,
                &lines,
                &start.slices,
                &start.counts,
                effort,
                &mut tick,
            );
            match (packed, lower) {
                (Some(packed), Some(lower)) => (packed, lower),
                (Some(packed), None) => (packed, pooled(&mut tick).outcome.lower),
                (None, _) => {
                    let packed = pooled(&mut tick);
                    let lower = packed.outcome.lower;
                    (packed, lower)
                }
            }
        }
        Batches::Priced(price) if tied && price > 0 => {
            let free = pooled(&mut tick);
            let lower = free.outcome.lower;
            let (single, _) = one_per_line(
                stock,
                &lines,
                &start.slices,
                &start.counts,
                effort / 2,
                &mut tick,
            );
            let worth = |p: &Packed| priced(stock, &lines, p, price.unsigned_abs());
            match single {
                Some(single) if worth(&single) < worth(&free) => (single, lower),
                _ => (free, lower),
            }
        }
        _ => {
            let packed = pooled(&mut tick);
            let lower = packed.outcome.lower;
            (packed, lower)
        }
    };
    let steps = packed.outcome.steps;
    let pieces = stock.pieces.len();
    let Some(rows) = &packed.rows else {
        let what = what.clone();
        return Err(if packed.outcome.cancelled {
            StockError::Cancelled { what }
        } else if packed.outcome.proven {
            StockError::NotEnough { what, pieces }
        } else {
            StockError::NotFound {
                what,
                pieces,
                steps,
            }
        });
    };
    let mut all = start.full.clone();
    all.extend(rows.iter().cloned());
    let mut cuts = lay(stock, &all);
    improve(stock, &start, &mut cuts);
    let mut plan = describe(stock, &lines, cuts, &start, &packed, lower);
    if !packed.outcome.cancelled {
        plan.runner_up = runner_up(stock, &start, &lines, &plan, &mut tick);
    }
    Ok(plan)
}

/// Cost of a packing with its changes of batch, unknown ones last.
fn priced(stock: &CheckedStock, lines: &Lines, packed: &Packed, price: u64) -> (u64, u64) {
    let Some((cost, _)) = &packed.outcome.best else {
        return (u64::MAX, u64::MAX);
    };
    let rows = packed.rows.as_deref().unwrap_or(&[]);
    let used = rows
        .iter()
        .flat_map(|r| r.slices.iter().map(|s| (s.piece, r.kind)));
    let changes = lines.changes(used);
    match stock.spec.objective {
        Objective::LeastCost => (cost.saturating_add(changes.saturating_mul(price)), 0),
        Objective::LeastBars => (*cost, changes),
    }
}

fn start(stock: &CheckedStock) -> Result<Start, StockError> {
    let mut counts: Vec<Option<u32>> = stock.kinds.iter().map(|k| k.count).collect();
    let mut full = Vec::new();
    let mut slices = Vec::with_capacity(stock.pieces.len());
    let longest = stock.kinds.first().map_or(0, |k| k.units);
    for (piece, need) in stock.pieces.iter().enumerate() {
        let mut units = need.units;
        if units > longest && matches!(stock.spec.joints, Joints::WhenLonger { .. }) {
            while units > longest {
                let next = stock.kinds.iter().enumerate().find(|(k, kind)| {
                    kind.units == longest && counts.get(*k).copied().flatten() != Some(0)
                });
                let Some((kind, _)) = next else {
                    let what = stock.spec.what.clone();
                    let pieces = stock.pieces.len();
                    return Err(StockError::NotEnough { what, pieces });
                };
                if let Some(Some(n)) = counts.get_mut(kind) {
                    *n -= 1;
                }
                let slice = Slice {
                    units: longest,
                    piece,
                    batch: None,
                };
                full.push(Row {
                    kind,
                    reels: 1,
                    slices: vec![slice],
                });
                if full.len() > MOST_PIECES {
                    return Err(StockError::TooMany {
                        what: stock.spec.what.clone(),
                    });
                }
                units -= longest;
            }
        }
        slices.push(Slice {
            units,
            piece,
            batch: None,
        });
    }
    Ok(Start {
        full,
        slices,
        counts,
    })
}

fn improve(stock: &CheckedStock, start: &Start, cuts: &mut [Cut]) {
    let mut left = start.counts.clone();
    for cut in cuts.iter().skip(start.full.len()) {
        if let Some(Some(n)) = left.get_mut(cut.kind) {
            *n = n.saturating_sub(1);
        }
    }
    shorten(stock, cuts, &mut left);
    if let Some(keep) = stock.spec.keep_from {
        let keep = match stock.spec.increment {
            Some(pitch) => pitch.count_to_cover(keep),
            None => keep.nanometres().unsigned_abs(),
        };
        concentrate(stock, cuts, keep.max(1));
    }
}

fn describe(
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
        batch_changes,
        waste,
        kept,
        value,
        lower_bound,
        proven,
        least_waste,
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

/// The plan without one of the stock lengths it uses; of one length only, what excludes one bar fewer.
fn runner_up(
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
            let packed = pack(stock, &start.slices, &counts, &lines.of_kind, effort, tick);
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
    if stock.spec.objective == Objective::LeastBars && plan.proven && plan.value > 0 {
        let differs = format!("one bar fewer does not exist: {}", plan.reason);
        return Some(RunnerUp {
            value: None,
            differs,
        });
    }
    None
}
