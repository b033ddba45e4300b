//! Every chain of segments, every pattern, every wire and place; each segment solved as one dense
//! system of linear equations (Kirchhoff), by Gauss elimination. Cells are resistors here, so that this is exact.

use super::{Dice, gauss};
use evenrun::choose::feeding::*;
use evenrun::exact::{CutPitch, ExactLength};
use evenrun::load::{Load, Resistive};
use evenrun::network::Polarity;
use evenrun::quantity::*;
use evenrun::strip::{TapeEmitter, TapeModel};

const PITCH_MM: i64 = 500;
const VOLTS: f64 = 24.0;

/// One small job.
#[derive(Debug, Clone)]
pub struct Case {
    pub n: usize,
    /// Cell of each emitter, ohm.
    pub cells: Vec<f64>,
    pub common: f64,
    pub rails: Vec<f64>,
    /// Ohm a metre and price a metre of each wire.
    pub wires: Vec<(f64, i64)>,
    /// Routes to the start of the run, mm.
    pub places: Vec<i64>,
    pub joint: Option<(usize, f64)>,
    /// The joint parts the tape.
    pub parted: bool,
    /// Increments on a reel, ohm and price of a joint.
    pub reel: Option<(usize, f64, i64)>,
    pub output: f64,
    pub lead: f64,
    pub switch: f64,
    pub least: f64,
    pub segment_amps: Option<f64>,
    pub branch: Option<u64>,
    pub costs: [i64; 3],
}

impl Case {
    pub fn random(dice: &mut Dice) -> Self {
        let n = 1 + dice.next(6) as usize;
        let emitters = 1 + dice.next(2) as usize;
        let cells: Vec<f64> = (0..emitters).map(|_| dice.between(20.0, 60.0)).collect();
        Self {
            n,
            common: dice.between(0.05, 1.5),
            rails: (0..emitters).map(|_| dice.between(0.05, 1.5)).collect(),
            wires: vec![
                (dice.between(0.15, 0.4), 40 + dice.next(40) as i64),
                (dice.between(0.02, 0.1), 120 + dice.next(200) as i64),
            ],
            places: (0..1 + dice.next(2))
                .map(|_| 500 + dice.next(6000) as i64)
                .collect(),
            joint: (n > 1 && dice.next(3) == 0).then(|| {
                (
                    1 + dice.next(n as u64 - 1) as usize,
                    dice.between(0.01, 0.5),
                )
            }),
            parted: dice.next(2) == 0,
            reel: (dice.next(3) == 0).then(|| {
                (
                    1 + dice.next(3) as usize,
                    dice.between(0.0, 0.5),
                    dice.next(200) as i64,
                )
            }),
            output: dice.between(0.0, 0.1),
            lead: dice.between(0.0, 0.2),
            switch: dice.between(0.0, 0.1),
            least: dice.between(0.55, 0.95),
            segment_amps: (dice.next(2) == 0).then(|| dice.between(0.6, 4.0)),
            branch: (dice.next(3) == 0).then(|| 1 + dice.next(3)),
            cells,
            costs: [
                dice.next(600) as i64,
                dice.next(600) as i64,
                dice.next(300) as i64,
            ],
        }
    }

    /// Whether a joint of reels lies at a mark inside a segment: at every whole reel from where its piece of tape
    /// begins.
    fn is_joined(&self, from: usize, mark: usize) -> bool {
        let parted = self
            .joint
            .filter(|j| self.parted && j.0 > from && j.0 <= mark);
        let start = parted.map_or(from, |j| j.0);
        self.reel
            .is_some_and(|reel| mark > start && (mark - start).is_multiple_of(reel.0))
    }

    /// Price of the joints of reels in a segment.
    pub fn joined_price(&self, from: usize, to: usize) -> i64 {
        let count = (from + 1..to)
            .filter(|mark| self.is_joined(from, *mark))
            .count();
        self.reel.map_or(0, |reel| reel.2 * count as i64)
    }

    /// All emitters together, and each alone.
    pub fn states(&self) -> Vec<Vec<usize>> {
        let emitters = self.cells.len();
        let mut states: Vec<Vec<usize>> = vec![(0..emitters).collect()];
        if emitters > 1 {
            states.extend((0..emitters).map(|e| vec![e]));
        }
        states
    }

    pub fn problem(&self) -> RunProblem {
        let all = |r: f64| Corners::same(ohms(r));
        let law = |r: f64| {
            let load = Load::Resistive(Resistive {
                resistance: ohms(r),
            });
            Corners::same(load.law(celsius(25.0)).expect("a resistor is a load"))
        };
        RunProblem {
            run: "R".into(),
            tape: TapeModel {
                strip: "tape".into(),
                pitch: CutPitch::new(ExactLength::from_millimetres(PITCH_MM), 1).expect("a pitch"),
                rated: volts(VOLTS),
                polarity: Polarity::CommonPlus,
                common: all(self.common),
                emitters: self
                    .cells
                    .iter()
                    .zip(&self.rails)
                    .enumerate()
                    .map(|(e, (cell, rail))| TapeEmitter {
                        name: format!("e{e}"),
                        rail: all(*rail),
                        law: law(*cell),
                    })
                    .collect(),
                branch: None,
            },
            increments: self.n as u64,
            joints: self
                .joint
                .iter()
                .map(|(at, r)| Joint {
                    at: *at as u64,
                    common: ohms(*r),
                    returns: ohms(*r),
                    parts_tape: self.parted,
                    visible: false,
                    cut: JointCut::AsListed,
                    price: 0,
                })
                .collect(),
            breaks: Positions::Any,
            feed_points: Positions::At((0..=self.n as u64).collect()),
            reel: self.reel.map(|(increments, r, price)| Reel {
                increments: increments as u64,
                resistance: ohms(r),
                price,
            }),
            patterns: Pattern::ALL.to_vec(),
            places: self
                .places
                .iter()
                .enumerate()
                .map(|(p, mm)| PlaceRoutes {
                    place: format!("P{p}"),
                    to_start: Some(ExactLength::from_millimetres(*mm)),
                    to_end: None,
                    to_marks: Vec::new(),
                    slack: ExactLength::ZERO,
                    source: None,
                })
                .collect(),
            wires: self
                .wires
                .iter()
                .enumerate()
                .map(|(w, (r, price))| CandidateWire {
                    cable: format!("W{w}"),
                    cores: self.cells.len() + 1,
                    core: Corners::same(ohms_per_metre(*r)),
                    ampacity: None,
                    price_per_metre: *price,
                })
                .collect(),
            source: SourceModel {
                set_point: Corners::same(volts(VOLTS)),
                output_resistance: ohms(self.output),
                lead_resistance: ohms(self.lead),
                switch_resistance: ohms(self.switch),
                reserve: volts(0.0),
            },
            limits: FeedLimits {
                branch: self.branch,
                segment_current: self.segment_amps.map(amps),
                ..FeedLimits::light_alone(fraction(self.least))
            },
            states: LitStates::AllAndEachAlone,
            costs: CostModel {
                per_segment: self.costs[0],
                per_feed: self.costs[1],
                per_break: self.costs[2],
                energy: None,
            },
            fixed: Fixed::default(),
            effort: 1_000_000,
        }
    }

    /// Ohm of one core and price of a feeder to a mark.
    fn feeder(&self, place: usize, wire: usize, mark: usize) -> (f64, i64) {
        let mm = self.places[place] + PITCH_MM * mark as i64;
        let (r, price) = self.wires[wire];
        let copper = (price * mm + 999) / 1000;
        (r * mm as f64 / 1000.0, copper + self.costs[1])
    }
}

/// A feed: mark, core, and whether the common and the returns enter there.
pub type Feed = (usize, f64, bool, bool);

/// The cheapest chain that holds, or none.
pub fn cheapest(case: &Case) -> Option<i64> {
    let mut best: Vec<Option<i64>> = vec![None; case.n + 1];
    best[case.n] = Some(0);
    for from in (0..case.n).rev() {
        for to in from + 1..=case.n {
            let (Some(rest), Some(own)) = (best[to], segment(case, from, to)) else {
                continue;
            };
            let cut = if to < case.n { case.costs[2] } else { 0 };
            let joined = case.joined_price(from, to);
            let total = case.costs[0] + own + cut + joined + rest;
            best[from] = Some(best[from].map_or(total, |b| b.min(total)));
        }
    }
    best[0]
}

/// The cheapest feeders of one segment that hold.
fn segment(case: &Case, from: usize, to: usize) -> Option<i64> {
    let mut best: Option<i64> = None;
    ways(case, from, to, &mut |cost, feeds| {
        if best.is_none_or(|b| cost < b) && holds(case, from, to, feeds) {
            best = Some(cost);
        }
    });
    best
}

/// Every way to feed one segment within the branch limit: its price and its feeds.
pub fn ways(case: &Case, from: usize, to: usize, found: &mut dyn FnMut(i64, &[Feed])) {
    let mut offer = |cost: i64, feeds: &[Feed], branch: usize| {
        if case.branch.is_none_or(|limit| branch as u64 <= limit) {
            found(cost, feeds);
        }
    };
    let n = to - from;
    for place in 0..case.places.len() {
        for w in 0..case.wires.len() {
            let at = |mark: usize| case.feeder(place, w, mark);
            let one = |mark: usize| {
                let (r, price) = at(mark);
                (price, (mark, r, true, true))
            };
            for mark in from..=to {
                let (price, feed) = one(mark);
                offer(price, &[feed], (mark - from).max(to - mark));
            }
            for v in 0..case.wires.len() {
                let (left, right) = (case.feeder(place, w, from), case.feeder(place, v, to));
                let price = left.1 + right.1;
                let ends = [(from, left.0), (to, right.0)];
                let feeds = |a: (bool, bool), b: (bool, bool)| {
                    [
                        (ends[0].0, ends[0].1, a.0, a.1),
                        (ends[1].0, ends[1].1, b.0, b.1),
                    ]
                };
                offer(price, &feeds((true, true), (true, true)), n.div_ceil(2));
                offer(price, &feeds((true, false), (false, true)), n);
                offer(price, &feeds((false, true), (true, false)), n);
            }
            // Several feeds through one wire: two inside; both ends and one inside; three inside.
            let inner: Vec<usize> = (from + 1..to).collect();
            let mut sets: Vec<Vec<usize>> = Vec::new();
            for (a, first) in inner.iter().enumerate() {
                sets.push(vec![from, *first, to]);
                for (b, second) in inner.iter().enumerate().skip(a + 1) {
                    sets.push(vec![*first, *second]);
                    for third in &inner[b + 1..] {
                        sets.push(vec![*first, *second, *third]);
                    }
                }
            }
            for set in sets {
                let feeds: Vec<(i64, Feed)> = set.iter().map(|m| one(*m)).collect();
                let price = feeds.iter().map(|f| f.0).sum();
                let gaps = set
                    .windows(2)
                    .map(|p| (p[1] - p[0]).div_ceil(2))
                    .max()
                    .unwrap_or(0);
                let ends = (set[0] - from).max(to - set[set.len() - 1]);
                let list: Vec<Feed> = feeds.iter().map(|f| f.1).collect();
                offer(price, &list, gaps.max(ends));
            }
        }
    }
}

/// Whether a segment keeps the limits in every state.
fn holds(case: &Case, from: usize, to: usize, feeds: &[Feed]) -> bool {
    case.states().iter().all(|lit| {
        let (least, total, _) = solve(case, from, to, feeds, lit);
        least >= case.least && case.segment_amps.is_none_or(|limit| total <= limit)
    })
}

/// Least relative current, the current of the source, and the watts that no cell gets.
pub fn solve(
    case: &Case,
    from: usize,
    to: usize,
    feeds: &[Feed],
    lit: &[usize],
) -> (f64, f64, f64) {
    let n = to - from;
    let rails = lit.len() + 1;
    // Nodes: bus, a hub for each lit emitter, then for each rail mark, cell, mark, cell, …, mark.
    let along = 2 * n + 1;
    let node = |rail: usize, k: usize| rails + rail * along + k;
    let size = rails + rails * along;
    let mut a = vec![vec![0.0; size + 1]; size];
    let mut link = |x: usize, y: usize, r: f64| {
        let g = 1.0 / r.max(1e-9);
        a[x][x] += g;
        a[y][y] += g;
        a[x][y] -= g;
        a[y][x] -= g;
    };
    for rail in 0..rails {
        let own = if rail == 0 {
            case.common
        } else {
            case.rails[lit[rail - 1]]
        };
        for k in 0..n {
            for (side, mark) in [(0, from + k), (1, from + k + 1)] {
                let inside = mark > from && mark < to;
                let joint = case
                    .joint
                    .filter(|j| inside && j.0 == mark)
                    .map_or(0.0, |j| j.1)
                    + case
                        .reel
                        .filter(|_| inside && case.is_joined(from, mark))
                        .map_or(0.0, |reel| reel.1);
                link(
                    node(rail, 2 * k + side),
                    node(rail, 2 * k + side + 1),
                    0.5 * (own + joint),
                );
            }
        }
        for (mark, core, common, returns) in feeds {
            if (rail == 0 && *common) || (rail > 0 && *returns) {
                link(rail, node(rail, 2 * (mark - from)), *core);
            }
        }
    }
    for (q, e) in lit.iter().enumerate() {
        for k in 0..n {
            link(node(0, 2 * k + 1), node(q + 1, 2 * k + 1), case.cells[*e]);
        }
    }
    // Source: set point behind its resistances at the bus; the switch of each hub to 0 V.
    let shared = 1.0 / (case.output + case.lead).max(1e-9);
    a[0][0] += shared;
    a[0][size] += VOLTS * shared;
    for row in a.iter_mut().enumerate().skip(1).take(lit.len()) {
        row.1[row.0] += 1.0 / case.switch.max(1e-9);
    }
    let v = gauss(a);
    let (mut least, mut used) = (f64::INFINITY, 0.0);
    for (q, e) in lit.iter().enumerate() {
        for k in 0..n {
            let across = v[node(0, 2 * k + 1)] - v[node(q + 1, 2 * k + 1)];
            least = least.min(across / VOLTS);
            used += across * across / case.cells[*e];
        }
    }
    let total = (VOLTS - v[0]) * shared;
    (least, total, VOLTS * total - used)
}
