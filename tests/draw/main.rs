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
        let all = |figures: Vec<draw::Figure>| {
            let figures: Vec<String> = figures.into_iter().map(|figure| figure.svg).collect();
            figures.join("\n")
        };
        let supplies = all(draw::supply_riser(&design));
        for supply in &design.supplies {
            assert!(supplies.contains(&format!(">{}<", supply.id)), "{}", supply.id);
        }
        for decoder in design.decoders.iter().filter(|d| d.supply.is_some()) {
            assert!(supplies.contains(&format!(">{}<", decoder.id)), "{}", decoder.id);
        }
        let data = all(draw::data_riser(&design));
        for device in design.chains.iter().flat_map(|chain| &chain.devices) {
            let first = device.name.as_str().split(' ').next().unwrap_or("");
            assert!(data.contains(first), "{}", device.name.as_str());
        }
        let stock = all(draw::stock(&design));
        for length in &design.stock {
            assert!(stock.contains(&format!(">{}<", length.id)), "{}", length.id);
        }
        for figure in [&supplies, &data, &stock] {
            for svg in figure.split("\n<svg").filter(|svg| !svg.is_empty()) {
                let start = svg.trim_start_matches("<svg");
                assert!(page.contains(start.lines().next().unwrap_or("")));
            }
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
    let us = planned(US);
    let drawing = draw::run(&us, &us.runs[0].id).expect("a drawing");
    assert!(drawing.contains(">line, ft<") && drawing.contains(" in<"));
    let demo = planned(DEMO);
    let drawing = draw::run(&demo, &demo.runs[0].id).expect("a drawing");
    assert!(drawing.contains(">line, m<") && !drawing.contains(" ft"));
}

#[test]
fn a_run_that_is_not_there_is_not_drawn() {
    let design = planned(CORNER);
    assert_eq!(draw::run(&design, &evenrun::id::RunId::new("none")), None);
}
