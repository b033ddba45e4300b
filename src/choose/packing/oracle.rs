//! The best pattern of one bin at given item values, and all patterns worth at least so much.

use super::{Pattern, Problem, Work};

/// What fits into one kind of bin, at given values of the items.
pub struct Oracle<'p, 'f> {
    problem: &'p Problem<'f>,
    bin: usize,
    /// Items in the order they are tried.
    order: Vec<usize>,
    /// Their values, same order.
    value: Vec<i64>,
    /// Largest value per weight from each position on, per dimension.
    ratio: Vec<Vec<f64>>,
    /// Smallest weight from each position on.
    least: Vec<u64>,
}

/// The best pattern found.
pub struct Best {
    /// Its value; -1 when nothing above the floor was found.
    pub value: i64,
    /// No pattern is worth more than this.
    pub upper: i64,
    /// What it takes.
    pub take: Vec<(usize, u32)>,
}

/// How a walk over patterns ends at one of them.
struct Leaf<'a> {
    value: i64,
    /// Position, count.
    chosen: &'a [(usize, u32)],
    left: &'a [u64],
}

impl<'p, 'f> Oracle<'p, 'f> {
    /// `values` are those of all items; `by_ratio` tries the most valuable per weight first.
    pub fn new(
        problem: &'p Problem<'f>,
        bin: usize,
        values: &[i64],
        rest: &[u32],
        by_ratio: bool,
    ) -> Self {
        let kind = &problem.bins[bin];
        let mut order: Vec<usize> = (0..problem.demand.len())
            .filter(|&i| {
                rest[i] > 0 && !problem.blocked(bin, i) && kind.weight[0][i] <= kind.capacity[0]
            })
            .filter(|&i| !by_ratio || values[i] > 0)
            .collect();
        if by_ratio {
            // Cross products keep the order exact; ties by position.
            order.sort_by(|&a, &b| {
                let (wa, wb) = (kind.weight[0][a], kind.weight[0][b]);
                let left = i128::from(values[a]) * i128::from(wb);
                let right = i128::from(values[b]) * i128::from(wa);
                right.cmp(&left).then(a.cmp(&b))
            });
        }
        let value: Vec<i64> = order.iter().map(|&i| values[i]).collect();
        let ratio = kind
            .weight
            .iter()
            .map(|weight| {
                let mut best = 0.0f64;
                let mut suffix = vec![0.0; order.len() + 1];
                for at in (0..order.len()).rev() {
                    best = best.max(value[at].max(0) as f64 / weight[order[at]] as f64);
                    suffix[at] = best;
                }
                suffix
            })
            .collect();
        let mut least = vec![u64::MAX; order.len() + 1];
        for at in (0..order.len()).rev() {
            least[at] = least[at + 1].min(kind.weight[0][order[at]]);
        }
        Self {
            problem,
            bin,
            order,
            value,
            ratio,
            least,
        }
    }

    /// No completion from `at` on is worth more than this.
    fn upper(&self, at: usize, left: &[u64]) -> i64 {
        let mut bound = f64::INFINITY;
        for (ratio, &left) in self.ratio.iter().zip(left) {
            let here = left as f64 * ratio[at];
            if here < bound {
                bound = here;
            }
        }
        if bound < 4e18 {
            // The relative error of two roundings is far below the margin.
            (bound * (1.0 + 1e-12)) as i64 + 1
        } else {
            i64::MAX / 2
        }
    }

    /// Walks every pattern (with one of item `forced` in it) whose bound reaches
    /// `need`; `leaf` may raise `need`. False when the work ran out.
    fn walk(
        &self,
        rest: &[u32],
        forced: Option<usize>,
        mut need: i64,
        work: &mut Work,
        mut leaf: impl FnMut(&Leaf<'_>) -> Option<i64>,
    ) -> bool {
        let kind = &self.problem.bins[self.bin];
        let mut left = kind.capacity.clone();
        let mut value = 0i64;
        let mut content: Vec<(usize, u32)> = Vec::new();
        if let Some(item) = forced {
            for (left, weight) in left.iter_mut().zip(kind.weight.iter()) {
                if weight[item] > *left {
                    return true;
                }
                *left -= weight[item];
            }
            if let Some(at) = self.order.iter().position(|&i| i == item) {
                value += self.value[at];
            }
            content.push((item, 1));
            if !self.problem.plain && !self.problem.fit.fits(self.bin, &content) {
                return true;
            }
        }
        let base = content.len();
        let mut chosen: Vec<(usize, u32)> = Vec::new();
        let mut at = 0;
        loop {
            // Forward: as many as fit of each item.
            let mut reached = true;
            while at < self.order.len() {
                if left[0] < self.least[at] {
                    break;
                }
                if value.saturating_add(self.upper(at, &left)) < need {
                    reached = false;
                    break;
                }
                if !work.spend(1) {
                    return false;
                }
                let item = self.order[at];
                let mut count = rest[item] - u32::from(forced == Some(item));
                for (left, weight) in left.iter().zip(kind.weight.iter()) {
                    if let Some(room) = left.checked_div(weight[item]) {
                        count = count.min(u32::try_from(room).unwrap_or(u32::MAX));
                    }
                }
                if count > 0 && !self.problem.plain {
                    content.push((item, count));
                    while count > 0 && !self.problem.fit.fits(self.bin, &content) {
                        count -= 1;
                        if let Some(last) = content.last_mut() {
                            last.1 = count;
                        }
                    }
                    if count == 0 {
                        content.pop();
                    }
                }
                if count > 0 {
                    for (left, weight) in left.iter_mut().zip(kind.weight.iter()) {
                        *left -= weight[item] * u64::from(count);
                    }
                    value += self.value[at] * i64::from(count);
                    chosen.push((at, count));
                }
                at += 1;
            }
            if reached && value >= need {
                let end = Leaf {
                    value,
                    chosen: &chosen,
                    left: &left,
                };
                match leaf(&end) {
                    Some(higher) => need = higher,
                    None => return false,
                }
            }
            // Back: one fewer of the last item taken.
            let Some((last, count)) = chosen.pop() else {
                return true;
            };
            let item = self.order[last];
            for (left, weight) in left.iter_mut().zip(kind.weight.iter()) {
                *left += weight[item];
            }
            value -= self.value[last];
            if !self.problem.plain {
                content.pop();
            }
            if count > 1 {
                chosen.push((last, count - 1));
                if !self.problem.plain {
                    content.push((item, count - 1));
                }
            }
            debug_assert!(content.len() >= base);
            at = last + 1;
        }
    }

    fn take(&self, chosen: &[(usize, u32)], forced: Option<usize>) -> Vec<(usize, u32)> {
        let mut take: Vec<(usize, u32)> =
            chosen.iter().map(|&(at, n)| (self.order[at], n)).collect();
        if let Some(item) = forced {
            match take.iter_mut().find(|(i, _)| *i == item) {
                Some((_, n)) => *n += 1,
                None => take.push((item, 1)),
            }
        }
        take.sort_unstable();
        take
    }

    /// The most valuable pattern above `floor` with one of `forced` in it; what it
    /// says holds even if the work runs out.
    pub fn best(&self, rest: &[u32], forced: Option<usize>, floor: i64, work: &mut Work) -> Best {
        let mut best = Best {
            value: -1,
            upper: 0,
            take: Vec::new(),
        };
        let complete = self.walk(rest, forced, floor.saturating_add(1), work, |end| {
            best.value = end.value;
            best.take = self.take(end.chosen, forced);
            Some(end.value + 1)
        });
        best.upper = if complete {
            best.value.max(floor)
        } else {
            self.upper(0, &self.problem.bins[self.bin].capacity)
        };
        best
    }

    /// All undominated patterns with one of `forced` in them and a value in
    /// `least..=most`, at most `cap`; false when there may be more.
    pub fn all(
        &self,
        rest: &[u32],
        forced: usize,
        (least, most): (i64, i64),
        cap: usize,
        work: &mut Work,
        found: &mut Vec<(i64, Pattern)>,
    ) -> bool {
        self.walk(rest, Some(forced), least, work, |end| {
            if end.value <= most && !self.dominated(rest, forced, end) {
                if found.len() >= cap {
                    return None;
                }
                let take = self.take(end.chosen, Some(forced));
                let bin = self.bin;
                found.push((end.value, Pattern { bin, take }));
            }
            Some(least)
        })
    }

    /// All patterns worth at least `least` that nothing can be added to; false when there are
    /// more than `cap` in `found`, or the work ran out.
    pub fn maximal(
        &self,
        rest: &[u32],
        least: i64,
        cap: usize,
        work: &mut Work,
        found: &mut Vec<Pattern>,
    ) -> bool {
        let mut used = vec![0u32; self.order.len()];
        self.walk(rest, None, least, work, |end| {
            used.fill(0);
            for &(at, n) in end.chosen {
                used[at] = n;
            }
            let open = |at: usize| rest[self.order[at]] > used[at];
            if !self.grows(end, None, open) {
                if found.len() >= cap {
                    return None;
                }
                let take = self.take(end.chosen, None);
                let bin = self.bin;
                found.push(Pattern { bin, take });
            }
            Some(least)
        })
    }

    /// Whether one more of an open item fits beside what is chosen.
    fn grows(&self, end: &Leaf<'_>, forced: Option<usize>, open: impl Fn(usize) -> bool) -> bool {
        let weight = &*self.problem.bins[self.bin].weight;
        if self.problem.plain {
            // Items stand largest first.
            let small = (0..self.order.len()).rev();
            return small
                .take_while(|&at| weight[0][self.order[at]] <= end.left[0])
                .any(open);
        }
        let room = |item: usize| {
            let mut sizes = end.left.iter().zip(weight);
            sizes.all(|(&left, w)| w[item] <= left)
        };
        let mut places = (0..self.order.len()).filter(|&at| open(at) && room(self.order[at]));
        let content = self.take(end.chosen, forced);
        places.any(|at| {
            let item = self.order[at];
            let mut more = content.clone();
            match more.iter_mut().find(|(i, _)| *i == item) {
                Some((_, n)) => *n += 1,
                None => more.push((item, 1)),
            }
            self.problem.fit.fits(self.bin, &more)
        })
    }

    /// Whether another pattern of the same bin is at least as good: one with an item
    /// more, or (plain problems) with a larger item in place of a smaller one.
    fn dominated(&self, rest: &[u32], forced: usize, end: &Leaf<'_>) -> bool {
        let weight = &*self.problem.bins[self.bin].weight;
        let mut used = vec![0u32; self.order.len()];
        for &(at, n) in end.chosen {
            used[at] = n;
        }
        let open =
            |at: usize| rest[self.order[at]] - u32::from(self.order[at] == forced) > used[at];
        if self.grows(end, Some(forced), open) {
            return true;
        }
        if !self.problem.plain {
            return false;
        }
        let (left, weight) = (end.left[0], &weight[0]);
        // Items stand largest first: look upward from each chosen one.
        end.chosen.iter().any(|&(at, _)| {
            let own = weight[self.order[at]];
            (0..at)
                .rev()
                .map(|larger| (larger, weight[self.order[larger]]))
                .take_while(|&(_, w)| w - own <= left)
                .any(|(larger, w)| w > own && open(larger))
        })
    }
}
