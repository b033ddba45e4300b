//! Random networks for the property tests.
use crate::build::*;
use evenrun::load::Law;
use evenrun::network::*;
use evenrun::quantity::*;
use proptest::prelude::*;

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

/// Any cell, falling ones left out, by a law that is smooth.
pub fn string_law() -> impl Strategy<Value = Law> {
    (4_u32..=7, 100.0..600.0).prop_map(|(count, ballast)| string("white", count, ballast))
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
