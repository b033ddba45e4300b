//! A segment as a network: every chosen segment is solved again by the general solver.
//!
//! ```text
//!  source plus ─[lead]─ bus ─[core]─ mark ─[half increment]─ cells … common rail
//!  source minus ─[switch]─ output of an emitter ─[core]─ mark ─[half increment]─ cells … its return
//! ```
//! A feed inside cuts the tape at its mark into two tapes joined at one node for each conductor.

use super::circuit::candidate::Candidate;
use super::problem::checked::{CheckedRun, HIGH, LOW, NOMINAL};
use crate::network::{
    Along, Attachment, Limit, NetworkSpec, NodeId, Polarity, Rail, RailSpec, Solution,
    SolveOptions, SourceSpec, TapeId, TapeSpec, Workspace,
};
use crate::quantity::{fraction, ohms, volts};

/// One state of one candidate at one corner, solved.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Solved {
    /// Cell voltages and currents of each lit emitter, in the order of the state.
    pub volts: Vec<f64>,
    pub amps: Vec<f64>,
    /// Feeder currents of the common and of each lit return, by feed of the candidate.
    pub feeders: Vec<[f64; 3]>,
    /// Sum over the feeders of each of these.
    pub totals: Vec<f64>,
    /// Greatest rail current.
    pub most_link: f64,
    /// Power of the source, heat of the copper, W.
    pub power: f64,
    pub lost: f64,
}

/// Pieces of tape between the feeds inside: first and last mark, and the marks' joints to nodes.
struct Piece {
    from: usize,
    to: usize,
}

/// The network of a candidate with one state lit.
pub(crate) fn network(
    m: &CheckedRun,
    c: &Candidate,
    corner: usize,
    state: &[usize],
) -> (NetworkSpec, Vec<usize>) {
    let source = &m.sources[c.place(m)];
    let copper = &m.corners[corner];
    let polarity = m.spec.tape.polarity;
    let mut spec = NetworkSpec::new();
    let far = spec.node("source, far terminal");
    let near = spec.node("source, common terminal");
    let bus = spec.node("common bus");
    let (plus, minus) = match polarity {
        Polarity::CommonPlus => (near, far),
        Polarity::CommonMinus => (far, near),
    };
    spec.source(SourceSpec {
        name: "source".into(),
        plus,
        minus,
        set_point: volts(source.volts[corner]),
        tolerance: fraction(0.0),
        output_resistance: ohms(source.output),
        limit: Limit::None,
    });
    spec.link("lead", near, bus, ohms(source.lead));
    let mut hubs = vec![bus];
    for e in state {
        let hub = spec.node(format!("output {e}"));
        spec.link(format!("switch {e}"), far, hub, ohms(source.switch));
        hubs.push(hub);
    }
    // Marks inside with feeds cut the tape; every conductor enters there.
    let inner: Vec<usize> = c
        .marks()
        .iter()
        .map(|f| f.0)
        .filter(|f| *f > c.from && *f < c.to)
        .collect();
    let mut bounds = vec![c.from];
    bounds.extend(&inner);
    bounds.push(c.to);
    let pieces: Vec<Piece> = bounds
        .windows(2)
        .map(|w| Piece {
            from: w[0],
            to: w[1],
        })
        .collect();
    let mut nodes: Vec<Vec<NodeId>> = Vec::new();
    for (k, _) in inner.iter().enumerate() {
        let mut conductors = Vec::new();
        for (r, hub) in hubs.iter().enumerate() {
            let node = spec.node(format!("mark {k}, conductor {r}"));
            let feed = c.marks().iter().position(|f| f.0 == inner[k]).unwrap_or(0);
            spec.link(
                format!("core {r} to mark {k}"),
                *hub,
                node,
                ohms(c.option(m, feed).core[corner]),
            );
            conductors.push(node);
        }
        nodes.push(conductors);
    }
    let laws: Vec<_> = state
        .iter()
        .map(|e| spec.law(copper.laws[*e].clone()))
        .collect();
    for (p, piece) in pieces.iter().enumerate() {
        let cells = piece.to - piece.from;
        let rail = |r: usize| {
            let increment = match r.checked_sub(1) {
                None => copper.common,
                Some(q) => copper.rails[state[q]],
            };
            let joint = |mark: usize| m.joint(r == 0, c.from, mark);
            let entered = c.entered_by(r == 0);
            let end_core = |mark: usize| {
                entered
                    .clone()
                    .find(|f| c.feeds[*f].0 == mark)
                    .map(|f| c.option(m, f).core[corner])
            };
            let mut attachments = Vec::new();
            let mut attach = |cell: usize, mark: usize, inside: Option<NodeId>| match inside {
                Some(node) => attachments.push(Attachment::through(
                    cell,
                    node,
                    ohms(0.5 * (increment + joint(mark))),
                )),
                None => {
                    if let Some(core) = end_core(mark) {
                        attachments.push(Attachment::through(
                            cell,
                            hubs[r],
                            ohms(0.5 * increment + core),
                        ));
                    }
                }
            };
            attach(0, piece.from, p.checked_sub(1).map(|k| nodes[k][r]));
            attach(cells - 1, piece.to, nodes.get(p).map(|n| n[r]));
            let links = if m.is_plain(c.from, c.to) {
                Along::Uniform(ohms(increment))
            } else {
                Along::Each(
                    (piece.from + 1..piece.to)
                        .map(|k| ohms(increment + joint(k)))
                        .collect(),
                )
            };
            RailSpec { links, attachments }
        };
        spec.tape(TapeSpec::lit(
            format!("piece {p}"),
            polarity,
            cells,
            &laws,
            rail,
        ));
    }
    let lengths = pieces.iter().map(|p| p.to - p.from).collect();
    (spec, lengths)
}

/// Solves one state of a candidate at one corner.
pub(crate) fn solve(
    m: &CheckedRun,
    c: &Candidate,
    corner: usize,
    state: usize,
    work: &mut Workspace,
) -> Result<Solved, String> {
    let lit = &m.states[state];
    let (spec, lengths) = network(m, c, corner, lit);
    let network = spec.check().map_err(|all| {
        let lines: Vec<String> = all.iter().map(ToString::to_string).collect();
        lines.join("; ")
    })?;
    let solution = network
        .solve(&SolveOptions::default(), work)
        .map_err(|e| e.to_string())?;
    Ok(read(c, lit.len(), &lengths, &solution))
}

fn read(c: &Candidate, lit: usize, lengths: &[usize], solution: &Solution<'_>) -> Solved {
    let n = c.cells();
    let mut solved = Solved {
        volts: Vec::with_capacity(lit * n),
        amps: Vec::with_capacity(lit * n),
        power: solution.total_source_power().value,
        lost: solution.total_copper_loss().value,
        ..Solved::default()
    };
    let tapes: Vec<_> = (0..lengths.len())
        .filter_map(|p| solution.tape(TapeId(p)))
        .collect();
    for q in 0..lit {
        for tape in &tapes {
            solved.volts.extend_from_slice(tape.cell_volts(q));
            solved.amps.extend_from_slice(tape.cell_amps(q));
        }
    }
    for r in 0..=lit {
        let rail = r.checked_sub(1).map_or(Rail::Common, Rail::Return);
        let mut feeders = [0.0; 3];
        let entered = c.entered_by(r == 0);
        for (p, tape) in tapes.iter().enumerate() {
            // Attachments in the order they were made: start of the piece, then its end.
            let mut slot = 0;
            let start = c.from + lengths[..p].iter().sum::<usize>();
            for mark in [start, start + lengths[p]] {
                let feed = entered.clone().find(|f| c.feeds[*f].0 == mark);
                if let Some(feed) = feed {
                    let amps = tape.attachment_current(rail, slot).map_or(0.0, |a| a.value);
                    feeders[feed] += amps;
                    solved.most_link = solved.most_link.max(amps.abs());
                    slot += 1;
                }
            }
            for amps in tape.rail_amps(rail) {
                solved.most_link = solved.most_link.max(amps.abs());
            }
        }
        solved.totals.push(feeders.iter().sum::<f64>().abs());
        solved.feeders.push(feeders.map(f64::abs));
    }
    solved
}

/// Cell voltages of one state, for the judge where its own bounds do not close; not a number
/// where the solver fails, so that every limit counts as broken.
pub(crate) fn cell_volts(m: &CheckedRun, c: &Candidate, corner: usize, state: usize) -> Vec<f64> {
    let mut work = Workspace::new();
    solve(m, c, corner, state, &mut work).map_or_else(
        |_| vec![f64::NAN; m.states[state].len() * c.cells()],
        |s| s.volts,
    )
}

/// The three corners in order.
pub(crate) const CORNERS: [usize; 3] = [LOW, NOMINAL, HIGH];
