//! From full solves of one chosen segment to its figures and its use of every limit.

use super::circuit::candidate::Candidate;
use super::circuit::rails::RailFlow;
use super::full::{self, CORNERS, Solved};
use super::problem::checked::{CheckedRun, HIGH, LOW, NOMINAL};
use super::result::plan::{Conductor, ConductorFeed, FeedPoint, Segment, SegmentFigures};
use super::verdict::measure::{LimitKind, Measured, current_figures, light_figures, step};
use crate::exact::ExactLength;
use crate::network::Workspace;
use crate::quantity::Corners;
use crate::quantity::{amps, fraction, ohms, volts, watts};

/// A chosen segment, solved in full, with every limit's figure.
#[derive(Debug, Clone)]
pub(crate) struct Chosen {
    pub segment: Segment,
    pub measured: Vec<Measured>,
    /// Relative currents of the cells at its two ends, by emitter and state in which it is lit.
    pub edges: [Vec<f64>; 2],
}

/// Solves a segment at the three corners in every state.
pub(crate) fn choose(
    m: &CheckedRun,
    c: &Candidate,
    work: &mut Workspace,
) -> Result<Chosen, String> {
    let n = c.cells();
    let emitters = m.emitters();
    let mut solved: Vec<Vec<Solved>> = Vec::with_capacity(3);
    for corner in CORNERS {
        let mut states = Vec::with_capacity(m.states.len());
        for state in 0..m.states.len() {
            states.push(full::solve(m, c, corner, state, work)?);
        }
        solved.push(states);
    }
    let mut least_current = [f64::INFINITY; 3];
    let mut least_volts = [f64::INFINITY; 3];
    let mut current = [0.0_f64; 3];
    let mut power = [0.0_f64; 3];
    let (mut weakest, mut weakest_cell, mut balance, mut rail) = (0, 0, 0.0_f64, 0.0_f64);
    let mut lost = 0.0;
    let mut edges = [Vec::new(), Vec::new()];
    let mut shown = [vec![f64::NAN; emitters], vec![f64::NAN; emitters]];
    let mut most = vec![[0.0_f64; 3]; emitters + 1];
    for corner in CORNERS {
        for (state, s) in solved[corner].iter().enumerate() {
            let lit = &m.states[state];
            let relative = |q: usize, k: usize| s.amps[q * n + k] / m.nominal[lit[q]];
            for (q, &e) in lit.iter().enumerate() {
                for k in 0..n {
                    let r = relative(q, k);
                    if r < least_current[corner] {
                        least_current[corner] = r;
                        if corner == LOW {
                            (weakest, weakest_cell) = (e, k);
                        }
                    }
                    least_volts[corner] = least_volts[corner].min(s.volts[q * n + k]);
                }
                if corner == LOW {
                    for (side, k) in [(0, 0), (1, n - 1)] {
                        edges[side].push(relative(q, k));
                        if shown[side][e].is_nan() {
                            shown[side][e] = relative(q, k);
                        }
                    }
                }
            }
            if corner == LOW {
                for k in 0..n {
                    let all = (0..lit.len()).map(|q| relative(q, k));
                    balance = balance.max(step(
                        all.clone().fold(f64::INFINITY, f64::min),
                        all.fold(0.0, f64::max),
                    ));
                }
            }
            current[corner] = current[corner].max(s.totals[0]);
            if state == 0 {
                power[corner] = s.power;
                if corner == NOMINAL {
                    let output = m.sources[c.place(m)].output;
                    lost = s.lost + output * s.totals[0] * s.totals[0];
                }
            }
            if corner != NOMINAL {
                rail = rail.max(s.most_link);
                for (r, feeders) in s.feeders.iter().enumerate() {
                    let conductor = r.checked_sub(1).map_or(0, |q| lit[q] + 1);
                    for (to, from) in most[conductor].iter_mut().zip(feeders) {
                        *to = to.max(*from);
                    }
                }
            }
        }
    }
    let mut measured: Vec<Measured> = Vec::new();
    let mut keep = |f: Measured| match measured.iter_mut().find(|g| g.kind == f.kind) {
        Some(g) if f.used() > g.used() => *g = f,
        Some(_) => {}
        None => measured.push(f),
    };
    for (state, s) in solved[LOW].iter().enumerate() {
        light_figures(m, c, state, &s.volts)
            .into_iter()
            .for_each(&mut keep);
    }
    let worst_corners = [HIGH, LOW].map(|corner| solved[corner].iter().enumerate());
    for (state, s) in worst_corners.into_iter().flatten() {
        let flows: Vec<RailFlow> = s
            .feeders
            .iter()
            .enumerate()
            .map(|(r, all)| {
                let mut feeders = [0.0; 3];
                for (slot, feed) in c.entered_by(r == 0).enumerate() {
                    feeders[slot] = all[feed];
                }
                RailFlow {
                    feeders,
                    total: s.totals[r],
                    most_link: s.most_link,
                    ..RailFlow::default()
                }
            })
            .collect();
        current_figures(m, c, state, &flows)
            .into_iter()
            .for_each(&mut keep);
    }
    if m.branch < usize::MAX {
        keep(Measured {
            kind: LimitKind::Branch,
            figure: c.longest_branch() as f64,
            limit: m.branch as f64,
            emitter: None,
            at: c.from,
        });
    }
    for feed in 0..c.count {
        let route = c.option(m, feed).route;
        // A fixed feed is as long as it is.
        let fixed = m.fixed_feeds.contains(&c.feeds[feed].0);
        if let Some(limit) = m.limits.feeder_length.filter(|_| !fixed) {
            keep(Measured {
                kind: LimitKind::FeederLength,
                figure: route as f64 * 1e-9,
                limit: limit.metres(),
                emitter: None,
                at: c.feeds[feed].0,
            });
        }
    }
    let feeds = (0..c.count)
        .map(|feed| {
            let option = c.option(m, feed);
            let conductors = (0..=emitters)
                .filter(|r| c.entered_by(*r == 0).contains(&feed))
                .map(|r| ConductorFeed {
                    conductor: r
                        .checked_sub(1)
                        .map_or(Conductor::Common, Conductor::Return),
                    resistance: ohms(option.core[LOW]),
                    current: amps(most[r][feed]),
                })
                .collect();
            FeedPoint {
                at: c.feeds[feed].0 as u64,
                cable: m.wire_names[option.wire].clone(),
                route_length: ExactLength::from_nanometres(option.route),
                conductors,
            }
        })
        .collect();
    let corners = |v: [f64; 3]| Corners {
        low: v[0],
        nominal: v[1],
        high: v[2],
    };
    fn typed<Q>(c: Corners<f64>, unit: fn(f64) -> Q) -> Corners<Q> {
        Corners {
            low: unit(c.low),
            nominal: unit(c.nominal),
            high: unit(c.high),
        }
    }
    let segment = Segment {
        from: c.from as u64,
        to: c.to as u64,
        pattern: c.pattern,
        place: m.place_names[c.place(m)].clone(),
        feeds,
        cost: c.price(m),
        figures: SegmentFigures {
            least_current: typed(corners(least_current), fraction),
            weakest,
            weakest_increment: (c.from + weakest_cell) as u64,
            least_volts: typed(corners(least_volts), volts),
            current: typed(corners(current), amps),
            power: typed(corners(power), watts),
            lost: watts(lost),
            rail_current: amps(rail),
            balance: fraction(balance),
            edges: shown.map(|list| list.into_iter().map(fraction).collect()),
        },
    };
    Ok(Chosen {
        segment,
        measured,
        edges,
    })
}
