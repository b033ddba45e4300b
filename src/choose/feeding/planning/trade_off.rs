//! What more money buys: every arrangement of a run that no other beats.
//!
//! ```text
//!  fall-off │ ●                    each ●: nothing as bright costs less (exact search), and
//!           │   ●                          nothing that costs no more is brighter by the resolution
//!           │        ●
//!           │                ●
//!           └──────────────────── cost
//! ```
//!
//! The light limit is tightened step by step (the ε-constraint method): the cheapest arrangement is found
//! with the limit of the run, then the cheapest whose dimmest cell is brighter than that one's by the
//! resolution, and so on until nothing is. Watts lost count through prices: for each price of a watt the walk is repeated
//! with that price added to the cost. Such a walk finds the arrangements that are cheapest at one of
//! the prices named, not those that only a limit on the watts would find.
//!
//! Y. Y. Haimes, L. S. Lasdon, D. A. Wismer, On a bicriterion formulation of the problems of integrated
//! system identification and system optimization, IEEE Transactions on Systems, Man, and Cybernetics 1 (1971), from memory.

use super::solve::{SolvedChain, assemble, hold};
use super::words;
use crate::choose::feeding::problem::checked::CheckedRun;
use crate::choose::feeding::problem::error::FeedError;
use crate::choose::feeding::problem::spec::EnergyCost;
use crate::choose::feeding::result::limit::LimitKind;
use crate::choose::feeding::result::plan::FeedProblem;
use crate::choose::feeding::result::plan::{Proof, RunFeedPlan};
use crate::choose::feeding::search::chain::Search;
use crate::network::Workspace;
use crate::order::Order as _;
use crate::progress::{Progress, Step};
use crate::quantity::{Power, Ratio, fraction, seconds, watts};

/// Most arrangements that one walk may be asked for.
pub const MOST_ARRANGEMENTS: usize = 1_000;
/// Most prices of a watt.
const MOST_WATT_PRICES: usize = 100;
/// Greatest price of a watt, minor units.
const MOST_WATT_PRICE: i64 = 1_000_000;
/// Hours in which a watt lost makes a kilowatt-hour, in seconds.
const KILOWATT_HOUR: f64 = 3.6e6;

/// What is asked of [`CheckedRun::trade_off`].
#[derive(Debug, Clone, PartialEq)]
pub struct TradeOffSpec {
    /// Two arrangements whose dimmest cells differ by less than this share of the nominal current count as
    /// equally bright. From 1e-6 to 1.
    pub resolution: Ratio,
    /// Most arrangements of one walk, from 1 to [`MOST_ARRANGEMENTS`].
    pub most: usize,
    /// Prices of a watt lost, minor units, for each of which the walk is made. Empty: watts lost are told
    /// and not weighed, other than as the costs of the run say.
    pub watt_prices: Vec<i64>,
}

impl Default for TradeOffSpec {
    /// Half a per cent of nominal current, at most 24 arrangements, watts not weighed.
    fn default() -> Self {
        Self {
            resolution: fraction(0.005),
            most: 24,
            watt_prices: Vec::new(),
        }
    }
}

/// The arrangements of a run that no other found beats, cheapest first.
#[derive(Debug, Clone, PartialEq)]
pub struct TradeOff {
    /// The arrangements. Empty where none keeps every limit: [`CheckedRun::plan`] says which stands in the way.
    pub arrangements: Vec<Arrangement>,
    /// As asked: arrangements that differ by less count as equally bright.
    pub resolution: Ratio,
    /// Why each walk ended, with its price of a watt.
    pub ends: Vec<(i64, TradeOffEnd)>,
}

/// One arrangement of a run.
#[derive(Debug, Clone, PartialEq)]
pub struct Arrangement {
    /// The arrangement with its figures. Its cost holds the watts lost at the price of its walk; its proof says
    /// whether anything as bright costs less.
    pub plan: RunFeedPlan,
    /// Cost without watts lost, minor units.
    pub bought: i64,
    /// How far the current of the dimmest cell lies below nominal, low corner; below zero where it lies above.
    pub fall_off: Ratio,
    /// Watts lost in feeders, rails and source, nominal, every emitter of the strongest state lit.
    pub lost: Power,
    /// Price of a watt in the walk that found it, minor units.
    pub watt_price: i64,
    /// What is known of it beside the others.
    pub standing: Standing,
}

/// What is known of an arrangement beside all others of the candidates.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Standing {
    /// Proven: nothing as bright costs less, and nothing brighter by the resolution costs no more, watts
    /// counted at the price of its walk.
    NotBeaten,
    /// None found beats it.
    Unproven {
        /// Why there is no proof.
        reason: String,
    },
}

/// Why a walk ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TradeOffEnd {
    /// No arrangement is brighter by the resolution: proven.
    NothingBrighter,
    /// As many arrangements as asked for.
    Count,
    /// The effort of one search was spent before it found or excluded anything.
    Effort,
    /// The caller stopped it.
    Stopped,
}

impl TradeOffEnd {
    /// The end in words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::NothingBrighter => "nothing brighter keeps the other limits",
            Self::Count => "as many arrangements as were asked for; brighter ones may exist",
            Self::Effort => "the effort of one search was spent; brighter ones may exist",
            Self::Stopped => "stopped by the caller; brighter ones may exist",
        }
    }
}

impl CheckedRun {
    /// The arrangements that no other beats in cost and in the fall-off of light (and, with prices of
    /// a watt, in watts lost).
    ///
    /// One exact search an arrangement; the callback sees the phase `trading cost against light`. When it cancels, what was
    /// found until then is the answer, and [`TradeOff::ends`] says so. Where the walk did not run its
    /// course its last arrangement is [`Standing::Unproven`]: a brighter one might cost the same.
    ///
    /// # Errors
    /// [`FeedError::Value`] for a spec outside its ranges; [`FeedError::Mismatch`] (a fault of this crate).
    pub fn trade_off(
        &self,
        spec: &TradeOffSpec,
        progress: &mut Progress<'_>,
    ) -> Result<TradeOff, FeedError> {
        spec.check(&self.spec.run)?;
        let own = [0];
        let prices: &[i64] = if spec.watt_prices.is_empty() {
            &own
        } else {
            &spec.watt_prices
        };
        let mut answer = TradeOff {
            arrangements: Vec::new(),
            resolution: spec.resolution,
            ends: Vec::new(),
        };
        for (number, &price) in prices.iter().enumerate() {
            let mut walk = TradeOffWalk {
                spec,
                run: self.clone(),
                asked: self.limits.least_current.value,
                price,
                found: Vec::new(),
                before: (number * spec.most) as u64,
                of: (prices.len() * spec.most) as u64,
            };
            if !spec.watt_prices.is_empty() {
                walk.run.spec.costs.energy = (price > 0).then(|| EnergyCost {
                    time: seconds(KILOWATT_HOUR),
                    per_kilowatt_hour: price,
                });
            }
            let end = walk.go(progress)?;
            answer.arrangements.append(&mut walk.found);
            answer.ends.push((price, end));
            if end == TradeOffEnd::Stopped {
                break;
            }
        }
        not_beaten(&mut answer.arrangements, !spec.watt_prices.is_empty());
        Ok(answer)
    }
}

impl TradeOffSpec {
    fn check(&self, run: &str) -> Result<(), FeedError> {
        let refuse = |what: &str, found: String, accepted| {
            Err(FeedError::Value {
                run: run.to_string(),
                what: what.to_string(),
                found,
                accepted,
            })
        };
        if !(1e-6..=1.0).contains(&self.resolution.value) {
            let found = self.resolution.value.to_string();
            return refuse("the resolution of the trade-off", found, "from 1e-6 to 1");
        }
        if !(1..=MOST_ARRANGEMENTS).contains(&self.most) {
            let found = self.most.to_string();
            return refuse("the count of arrangements", found, "from 1 to 1000");
        }
        if self.watt_prices.len() > MOST_WATT_PRICES {
            let found = self.watt_prices.len().to_string();
            return refuse("the count of prices of a watt", found, "at most 100");
        }
        let outside = |price: &&i64| !(0..=MOST_WATT_PRICE).contains(*price);
        if let Some(price) = self.watt_prices.iter().find(outside) {
            let accepted = "from 0 to 1000000 minor units";
            return refuse("a price of a watt", price.to_string(), accepted);
        }
        Ok(())
    }
}

/// One walk towards more light.
struct TradeOffWalk<'s> {
    spec: &'s TradeOffSpec,
    run: CheckedRun,
    /// The light limit of the run itself.
    asked: f64,
    price: i64,
    found: Vec<Arrangement>,
    /// Arrangements that walks before this one may have found, and that all may find.
    before: u64,
    of: u64,
}

impl TradeOffWalk<'_> {
    fn go(&mut self, progress: &mut Progress<'_>) -> Result<TradeOffEnd, FeedError> {
        let mut work = Workspace::new();
        let mut light = self.asked;
        let end = loop {
            if self.found.len() == self.spec.most {
                break TradeOffEnd::Count;
            }
            self.run.set_light(light);
            let mut search = Search::new(&self.run);
            let done = self.before + self.found.len() as u64;
            let mut step = |_: Step| progress.step("trading cost against light", done, self.of);
            let mut watched = Progress::every(&mut step);
            let found = match hold(&self.run, &mut search, &mut watched, &mut work, None) {
                Err(FeedError::Stopped { .. }) => break TradeOffEnd::Stopped,
                other => other?,
            };
            let Some(found) = found else {
                if search.verdicts.is_exhausted(&self.run) {
                    break TradeOffEnd::Effort;
                }
                break TradeOffEnd::NothingBrighter;
            };
            let evaluated = search.verdicts.solver.evaluated;
            drop(search);
            self.judge_last(&found);
            let (one, least) = self.arrangement(found, light, evaluated);
            self.found.push(one);
            light = least.max(light) + self.spec.resolution.value;
        };
        if let Some(last) = self.found.last_mut()
            && !matches!(end, TradeOffEnd::NothingBrighter)
            && last.standing == Standing::NotBeaten
        {
            last.standing = Standing::Unproven {
                reason: end.words().to_string(),
            };
        }
        Ok(end)
    }

    /// What the next search says about the arrangement before it.
    fn judge_last(&mut self, next: &SolvedChain) {
        if let Some(last) = self.found.last_mut()
            && last.standing == Standing::NotBeaten
            && next.lower <= last.plan.cost
            && next.chain.key.cost > last.plan.cost
        {
            last.standing = Standing::Unproven {
                reason: "the bound on what is brighter does not exclude the same cost".to_string(),
            };
        }
    }

    fn arrangement(
        &self,
        mut found: SolvedChain,
        light: f64,
        evaluated: u64,
    ) -> (Arrangement, f64) {
        let m = &self.run;
        // Its figures stand beside the limit of the run, not beside that of the walk.
        for figure in found.chosen.iter_mut().flat_map(|c| &mut c.measured) {
            if figure.kind == LimitKind::LeastCurrent {
                figure.limit = self.asked;
            }
        }
        let segments = &found.chain.segments;
        let bought = segments
            .iter()
            .map(|c| c.price(m) + m.break_cost[c.to])
            .sum();
        let least = found
            .chosen
            .iter()
            .map(|c| c.segment.figures.low.least_current.value)
            .fold(f64::INFINITY, f64::min);
        let lost = found.chosen.iter().map(|c| c.segment.lost.value).sum();
        let problem = FeedProblem {
            light: Some(fraction(light).into()),
            ..words::problem(m)
        };
        let (proof, standing) = match &found.stopped {
            None => (Proof::Cheapest { problem }, Standing::NotBeaten),
            Some(reason) => {
                let reason = reason.clone();
                let proof = Proof::Gap {
                    problem,
                    reason: reason.clone(),
                };
                (proof, Standing::Unproven { reason })
            }
        };
        let one = Arrangement {
            plan: assemble(m, found, proof, None, None, evaluated),
            bought,
            fall_off: fraction(1.0 - least),
            lost: watts(lost),
            watt_price: self.price,
            standing,
        };
        (one, least)
    }
}

/// Leaves what none of the others beats, cheapest first.
fn not_beaten(all: &mut Vec<Arrangement>, with_watts: bool) {
    let figures = |a: &Arrangement| {
        let lost = if with_watts { a.lost.value } else { 0.0 };
        // Without prices of a watt the run's own cost counts, whatever it holds.
        let cost = if with_watts { a.bought } else { a.plan.cost };
        (cost, a.fall_off.value, lost)
    };
    let keep: Vec<bool> = all
        .iter()
        .enumerate()
        .map(|(at, one)| {
            let own = figures(one);
            !all.iter().enumerate().any(|(other_at, other)| {
                let f = figures(other);
                let no_worse = f.0 <= own.0 && f.1 <= own.1 && f.2 <= own.2;
                // Of equals the first stays.
                no_worse && (f != own || other_at < at)
            })
        })
        .collect();
    let mut keep = keep.into_iter();
    all.retain(|_| keep.next() == Some(true));
    all.order_by(|a, b| {
        let (a, b) = (figures(a), figures(b));
        a.0.cmp(&b.0)
            .then(a.1.total_cmp(&b.1))
            .then(a.2.total_cmp(&b.2))
    });
}
