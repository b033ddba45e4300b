//! Drawings and the page: read back by another reader, measured against the design, given hostile names.
//!
//! What a browser makes of them is looked at by `check.py`.

mod hostile;
mod read_back;

use evenrun::design::Design;
use evenrun::draw;

const DEMO: &str = include_str!("../../examples/archive_wing.toml");
const CORNER: &str = include_str!("../jobs/corner.toml");
const PLACES: &str = include_str!("../jobs/several_places.toml");
const US: &str = include_str!("../jobs/us_units.toml");

fn planned(text: &str) -> Design {
    let job = evenrun::job::read(text, "job.toml").unwrap_or_else(|faults| panic!("{faults}"));
    evenrun::plan::plan(&job)
}

/// Every line of words of a drawing.
fn words(svg: &str) -> Vec<String> {
    let drawing = roxmltree::Document::parse(svg).unwrap_or_else(|e| panic!("{e}"));
    let texts = drawing
        .descendants()
        .filter(|node| node.has_tag_name("text"));
    texts
        .map(|node| node.text().unwrap_or("").trim().to_string())
        .collect()
}

#[test]
fn the_same_design_gives_the_same_bytes() {
    let design = planned(DEMO);
    let again = Design::from_json(&design.to_json().expect("JSON")).expect("a design");
    assert_eq!(draw::files(&design), draw::files(&again));
}

#[test]
fn every_run_supply_device_and_stock_length_is_drawn() {
    for text in [DEMO, CORNER, PLACES, US] {
        let design = planned(text);
        let page = draw::page(&design);
        for run in &design.runs {
            assert!(draw::run(&design, &run.id).is_some(), "{}", run.id);
        }
        let mut figures = Vec::new();
        let mut all = |own: Vec<draw::Figure>| {
            let each = own.iter().flat_map(|figure| words(&figure.svg));
            let all: Vec<String> = each.collect();
            figures.extend(own);
            all
        };
        let supplies = all(draw::supply_riser(&design));
        for supply in &design.supplies {
            assert!(supplies.contains(&supply.id.to_string()), "{}", supply.id);
        }
        for decoder in design.decoders.iter().filter(|d| d.supply.is_some()) {
            assert!(supplies.contains(&decoder.id.to_string()), "{}", decoder.id);
        }
        let data = all(draw::data_riser(&design));
        for device in design.chains.iter().flat_map(|chain| &chain.devices) {
            let first = device.name.as_str().split(' ').next().unwrap_or("");
            assert!(data.iter().any(|line| line.starts_with(first)), "{first}");
        }
        let stock = all(draw::stock(&design));
        for length in &design.stock {
            assert!(stock.contains(&length.id.to_string()), "{}", length.id);
        }
        for figure in &figures {
            assert!(page.contains(&figure.svg), "{}", figure.title);
        }
    }
}

#[test]
fn a_design_that_was_written_before_volts_were_kept_is_drawn() {
    let design = Design::from_json(include_str!("../design/first.json")).expect("a design");
    assert!(design.runs.iter().all(|run| run.line.lit.is_empty()));
    for run in &design.runs {
        let drawing = draw::run(&design, &run.id).expect("a drawing");
        assert!(!drawing.contains("Chart:"));
    }
    assert!(draw::page(&design).ends_with("</html>"));
}

#[test]
fn feet_are_written_where_every_cable_is_awg() {
    let drawn = |text: &str| {
        let design = planned(text);
        words(&draw::run(&design, &design.runs[0].id).expect("a drawing"))
    };
    let us = drawn(US);
    assert!(us.contains(&"line, ft".to_string()));
    assert!(
        us.iter().any(|line| line.ends_with(" in")) && !us.iter().any(|line| line.ends_with(" m"))
    );
    let demo = drawn(DEMO);
    assert!(demo.contains(&"line, m".to_string()));
    assert!(
        !demo
            .iter()
            .any(|line| line.ends_with(" ft") || line.ends_with(" in"))
    );
}

#[test]
fn a_run_that_is_not_there_is_not_drawn() {
    let design = planned(CORNER);
    assert_eq!(draw::run(&design, &evenrun::id::RunId::new("none")), None);
}
