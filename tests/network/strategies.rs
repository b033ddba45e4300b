//! Random networks for the property tests.
use crate::build::*;
use evenrun::load::Law;
use evenrun::network::*;
use evenrun::quantity::*;
use proptest::prelude::*;

/// So many cases, the same on every run, nothing written.
pub fn config(cases: u32) -> ProptestConfig {
    ProptestConfig {
        cases,
        failure_persistence: None,
        rng_seed: proptest::test_runner::RngSeed::Fixed(20_240_229),
        ..ProptestConfig::default()
    }
}

/// Any monotone cell for about 24 V: strings, straight lines, plateaus, resistors.
pub fn any_law() -> impl Strategy<Value = Law> {
    prop_oneof![
        (3_u32..=7, 50.0..600.0).prop_map(|(count, ballast)| string("white", count, ballast)),
        (10.0..20.0, 50.0..500.0).prop_map(|(knee, slope)| line(knee, slope, None)),
        (15.0..21.0, 20.0..100.0, 0.005..0.03).prop_map(|(knee, slope, limit)| line(
            knee,
            slope,
            Some(limit)
        )),
        (200.0..5000.0).prop_map(resistor),
    ]
}

/// Links from nothing to starved, in ohm.
pub fn any_ohms() -> impl Strategy<Value = f64> {
    prop_oneof![1 => Just(0.0), 8 => (-3.0..0.5).prop_map(|e: f64| 10_f64.powf(e)), 1 => (-9.0..3.0).prop_map(|e: f64| 10_f64.powf(e))]
}

/// A two-rail ladder with the same share of plus copper everywhere: one loop.
#[derive(Debug, Clone)]
pub struct OneLoop {
    pub law: Law,
    pub links: Vec<f64>,
    pub feeds: Vec<(usize, f64)>,
    pub share: f64,
    pub volts: f64,
}

impl OneLoop {
    /// The same as a network with both rails.
    pub fn network(&self) -> (NetworkSpec, TapeId) {
        let mut spec = NetworkSpec::new();
        let (plus, minus) = (spec.node("plus"), spec.node("minus"));
        spec.stiff_source("supply", plus, minus, volts(self.volts));
        let law = spec.law(self.law.clone());
        let rail = |node, share: f64| RailSpec {
            links: Along::Each(self.links.iter().map(|r| ohms(r * share)).collect()),
            attachments: self
                .feeds
                .iter()
                .map(|&(k, r)| Attachment::through(k, node, ohms(r * share)))
                .collect(),
        };
        let tape = spec.tape(TapeSpec {
            name: "tape".into(),
            polarity: Polarity::CommonPlus,
            cells: self.links.len() + 1,
            common: rail(plus, self.share),
            emitters: vec![emitter("white", law, rail(minus, 1.0 - self.share))],
        });
        (spec, tape)
    }
}

/// One loop of 1 to `most` cells with 1 to 3 feeds.
pub fn one_loop(law: impl Strategy<Value = Law>, most: usize) -> impl Strategy<Value = OneLoop> {
    (law, 1..=most, 0.1..0.9, 20.0..26.0).prop_flat_map(|(law, cells, share, volts)| {
        let links = prop::collection::vec(any_ohms(), cells - 1);
        let feeds = prop::collection::vec((0..cells, any_ohms()), 1..=3);
        (links, feeds).prop_map(move |(links, feeds)| OneLoop {
            law: law.clone(),
            links,
            feeds,
            share,
            volts,
        })
    })
}

/// Law, links and feeders (cell and ohm).
pub type RandomRail = (Law, Vec<f64>, Vec<(usize, f64)>);

/// A tape of several emitters behind its own feeders, any rail fed anywhere.
#[derive(Debug, Clone)]
pub struct AnyTape {
    pub cells: usize,
    pub polarity: Polarity,
    pub volts: f64,
    /// Common rail first; law of its cells (unused for the common), links, feeders.
    pub rails: Vec<RandomRail>,
}

impl AnyTape {
    /// The network; every resistance times `by_ohms`, the laws as `law` gives them.
    pub fn network(&self) -> (NetworkSpec, TapeId) {
        let mut spec = NetworkSpec::new();
        let (plus, minus) = (spec.node("plus"), spec.node("minus"));
        spec.stiff_source("supply", plus, minus, volts(self.volts));
        let (near, far) = if self.polarity == Polarity::CommonPlus {
            (plus, minus)
        } else {
            (minus, plus)
        };
        let rail = |number: usize, node: NodeId, spec: &mut NetworkSpec| {
            let (_, links, feeders) = &self.rails[number];
            let attachments = feeders.iter().enumerate().map(|(k, &(cell, r))| {
                let end = spec.node(format!("feed {number} {k}"));
                spec.link(format!("feeder {number} {k}"), node, end, ohms(r));
                Attachment::at(cell, end)
            });
            let attachments = attachments.collect();
            RailSpec {
                links: Along::Each(links.iter().map(|&r| ohms(r)).collect()),
                attachments,
            }
        };
        let common = rail(0, near, &mut spec);
        let emitters = (1..self.rails.len()).map(|e| {
            let law = spec.law(self.rails[e].0.clone());
            emitter(&format!("e{e}"), law, rail(e, far, &mut spec))
        });
        let emitters = emitters.collect();
        let tape = TapeSpec {
            name: "tape".into(),
            polarity: self.polarity,
            cells: self.cells,
            common,
            emitters,
        };
        let tape = spec.tape(tape);
        (spec, tape)
    }

    /// The same seen from the other end.
    pub fn mirrored(&self) -> Self {
        let mut tape = self.clone();
        for (_, links, feeders) in &mut tape.rails {
            links.reverse();
            feeders.iter_mut().for_each(|f| f.0 = self.cells - 1 - f.0);
        }
        tape
    }
}

/// Up to `most` cells, 1 to `emitters` emitters, 1 or 2 feeders on each rail.
pub fn any_tape(most: usize, emitters: usize) -> impl Strategy<Value = AnyTape> {
    (1..=most, 1..=emitters, any::<bool>(), 20.0..26.0).prop_flat_map(
        |(cells, emitters, plus, volts)| {
            let ordinary = (-3.0..0.5).prop_map(|e: f64| 10_f64.powf(e));
            let rail = (
                any_law(),
                prop::collection::vec(ordinary.clone(), cells - 1),
                prop::collection::vec((0..cells, ordinary), 1..=2),
            );
            prop::collection::vec(rail, emitters + 1).prop_map(move |rails| AnyTape {
                cells,
                polarity: if plus {
                    Polarity::CommonPlus
                } else {
                    Polarity::CommonMinus
                },
                volts,
                rails,
            })
        },
    )
}

/// Links from joined to open, through eighteen decades.
pub fn extreme_ohms() -> impl Strategy<Value = f64> {
    prop_oneof![
        2 => Just(0.0),
        1 => Just(f64::INFINITY),
        6 => (-9.0..9.0).prop_map(|e: f64| 10_f64.powf(e)),
        6 => (-3.0..0.0).prop_map(|e: f64| 10_f64.powf(e)),
    ]
}

/// The same tapes with links and feeders from joined to open.
pub fn extreme_tape(most: usize, emitters: usize) -> impl Strategy<Value = AnyTape> {
    (
        any_tape(most, emitters),
        prop::collection::vec(extreme_ohms(), 64),
    )
        .prop_map(|(mut tape, roll)| {
            let mut next = roll.into_iter().cycle();
            for (_, links, feeders) in &mut tape.rails {
                links
                    .iter_mut()
                    .chain(feeders.iter_mut().map(|f| &mut f.1))
                    .for_each(|r| *r = next.next().unwrap_or(1.0));
            }
            tape
        })
}
