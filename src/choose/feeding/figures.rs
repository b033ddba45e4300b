//! From the full solve of one chosen segment to its figures and its use of every limit.

use super::circuit::candidate::Candidate;
use super::circuit::rails::RailFlow;
use super::full;
use super::problem::checked::CheckedRun;
use super::result::limit::LimitKind;
use super::result::plan::{ConductorFeed, FeedPoint, Segment};
use super::verdict::measured::{self, Measured, current_figures, light_figures};
use crate::exact::ExactLength;
use crate::network::Workspace;
use crate::quantity::{Corner, Corners, watts};
use crate::segment::{
    CircuitFigures, Conductor, Feeder, OperatingPoint, SegmentFigures, SegmentPoint,
};

/// A chosen segment, solved in full, with every limit's figure.
#[derive(Debug, Clone)]
pub(crate) struct Chosen {
    pub segment: Segment,
    pub measured: Vec<Measured>,
    /// Relative currents of the cells at its two ends, by emitter and state in which it is lit.
    pub edges: [Vec<f64>; 2],
}

/// The figure that uses most of each limit.
#[derive(Default)]
struct Worst(Vec<Measured>);

impl Worst {
    fn keep(&mut self, figure: Measured) {
        match self.0.iter_mut().find(|known| known.kind == figure.kind) {
            Some(known) if figure.used() > known.used() => *known = figure,
            Some(_) => {}
            None => self.0.push(figure),
        }
    }
}

/// Solves a segment at the three corners in every state.
pub(crate) fn choose(
    m: &CheckedRun,
    c: &Candidate,
    work: &mut Workspace,
) -> Result<Chosen, String> {
    let circuit = full::circuit(m, c, &m.states)?;
    let mut edges = [Vec::new(), Vec::new()];
    let mut light = Worst::default();
    let mut currents = Worst::default();
    let mut solve = |corner| {
        let read = |state: usize, point: &OperatingPoint<'_>| {
            let Some(own) = point.segment(0, 0) else {
                return;
            };
            if corner == Corner::Low {
                let all = (0..own.lit().len()).flat_map(|place| own.cell_volts(place));
                let volts: Vec<f64> = all.collect();
                let figures = light_figures(m, c, state, &volts);
                figures.into_iter().for_each(|f| light.keep(f));
                add_edges(m, &own, &mut edges);
            }
            if corner != Corner::Nominal {
                let figures = current_figures(m, c, state, &flows(c, &own));
                figures.into_iter().for_each(|f| currents.keep(f));
            }
        };
        let solved = circuit.solve_with(corner, work, read);
        solved.map_err(|e| e.to_string())
    };
    // Of two that use as much of a limit, the one at the high corner is named.
    let high = solve(Corner::High)?;
    let low = solve(Corner::Low)?;
    let nominal = solve(Corner::Nominal)?;
    let mut worst = light;
    currents.0.into_iter().for_each(|f| worst.keep(f));
    if m.branch < usize::MAX {
        worst.keep(measured::branch(m, c));
    }
    feeder_lengths(m, c, &mut worst);
    let all = Corners { low, nominal, high };
    let output = circuit.circuit().output_resistance;
    let lost = all.nominal.lost + output * all.nominal.current * all.nominal.current;
    let source_power = all.map(|f| f.power);
    let Some(figures) = own_figures(all) else {
        return Err("no figures of the segment".to_string());
    };
    let feeders = circuit.circuit().branches.iter().flat_map(|b| &b.segments);
    let feeds = feeders
        .flat_map(|s| s.feeders.iter().enumerate())
        .map(|(feed, feeder)| feed_point(m, c, feed, feeder, &figures))
        .collect();
    let segment = Segment {
        from: c.from as u64,
        to: c.to as u64,
        pattern: c.pattern,
        place: m.place_names[c.place(m)].clone(),
        feeds,
        cost: c.price(m),
        figures,
        source_power,
        lost: watts(lost.value),
    };
    Ok(Chosen {
        segment,
        measured: worst.0,
        edges,
    })
}

/// The figures of the only segment of a circuit.
fn own_figures(all: Corners<CircuitFigures>) -> Option<Corners<SegmentFigures>> {
    let own = |mut of: CircuitFigures| of.branches.pop()?.segments.pop();
    Some(Corners {
        low: own(all.low)?,
        nominal: own(all.nominal)?,
        high: own(all.high)?,
    })
}

/// Relative currents of the cells at the two ends, in the order of the lit emitters.
fn add_edges(m: &CheckedRun, own: &SegmentPoint<'_>, edges: &mut [Vec<f64>; 2]) {
    for (place, emitter) in own.lit().iter().enumerate() {
        let relative = |amps: f64| amps / m.nominal[*emitter];
        edges[0].extend(own.cell_amps(place).next().map(relative));
        edges[1].extend(own.cell_amps(place).last().map(relative));
    }
}

/// Currents of the common and of each lit return.
fn flows(c: &Candidate, own: &SegmentPoint<'_>) -> Vec<RailFlow> {
    let most_link = own.rail_current().value.max(own.entry_current().value);
    let returns = own.lit().iter().map(|emitter| Conductor::Return(*emitter));
    std::iter::once(Conductor::Common)
        .chain(returns)
        .map(|conductor| {
            let mut flow = RailFlow {
                total: own.total(conductor).value,
                most_link,
                ..RailFlow::default()
            };
            let entered = c.entered_by(conductor == Conductor::Common);
            for (to, feed) in flow.feeders.iter_mut().zip(entered) {
                let mut entering = own.entering(feed);
                let found = entering.find(|e| e.0 == conductor);
                *to = found.map_or(0.0, |e| e.1.value.abs());
            }
            flow
        })
        .collect()
}

fn feeder_lengths(m: &CheckedRun, c: &Candidate, worst: &mut Worst) {
    for feed in 0..c.count {
        // A fixed feed is as long as it is.
        let fixed = m.fixed_feeds.contains(&c.feeds[feed].0);
        if let Some(limit) = m.limits.feeder_length.filter(|_| !fixed) {
            worst.keep(Measured {
                kind: LimitKind::FeederLength,
                figure: c.option(m, feed).route as f64 * 1e-9,
                limit: limit.metres(),
                emitter: None,
                at: c.feeds[feed].0,
            });
        }
    }
}

fn feed_point(
    m: &CheckedRun,
    c: &Candidate,
    feed: usize,
    feeder: &Feeder,
    figures: &Corners<SegmentFigures>,
) -> FeedPoint {
    let option = c.option(m, feed);
    let current = |corner: Corner, conductor| {
        let own = figures[corner].feeders.get(feed);
        own.and_then(|f| f.current(conductor)).unwrap_or_default()
    };
    let conductors = feeder.conductors.iter().map(|conductor| {
        let [low, high] = [Corner::Low, Corner::High].map(|k| current(k, *conductor));
        ConductorFeed {
            conductor: *conductor,
            resistance: feeder.core.low,
            current: if low > high { low } else { high },
        }
    });
    FeedPoint {
        at: feeder.mark,
        cable: m.wire_names[option.wire].clone(),
        route_length: ExactLength::from_nanometres(option.route),
        conductors: conductors.collect(),
    }
}
