//! The plan: parts of long pieces, batches, packing, laying, and what the answer rests on.

use super::batch::{Lines, one_per_line};
use super::check::{CheckedStock, MOST_PIECES};
use super::compare::{binding, runner_up};
use super::describe::describe;
use super::lay::{Cut, concentrate, lay, shorten};
use super::rack::{Effort, Known, Packed, Row, Slice, pack};
use super::result::CuttingPlan;
use super::spec::{Batches, Joints, Objective};
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
pub struct Start {
    /// Laid already.
    pub full: Vec<Row>,
    /// To be packed.
    pub slices: Vec<Slice>,
    /// What is left of each kind of stock.
    pub counts: Vec<Option<u32>>,
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
///
/// ```
/// use evenrun::choose::stock::{Piece, StockLength, StockSpec, plan};
/// use evenrun::{exact::ExactLength, progress::Progress};
/// let mm = ExactLength::from_millimetres;
/// let mut spec = StockSpec::new("profile");
/// spec.kerf = mm(4);
/// spec.stock = vec![StockLength::new("2 m", mm(2000), 100)];
/// // 998 + 4 + 998 = 2000: two pieces of a bar.
/// spec.pieces = vec![Piece::new("left", mm(998)), Piece::new("right", mm(998))];
/// let found = plan(&spec.check().expect("no faults"), &mut Progress::silent())?;
/// assert_eq!((found.bars_bought, found.proven), (1, true));
/// # Ok::<(), evenrun::choose::stock::StockError>(())
/// ```
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
            Known::NOTHING,
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
        plan.binding = binding(stock, &start, &lines, &plan, &mut tick);
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

/// Lays the full lengths of pieces that are longer than all stock.
pub fn start(stock: &CheckedStock) -> Result<Start, StockError> {
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
