//! What helps the weakest cell of a run, and what a packet looks like at every device: in whole designs.

use evenrun::design::{Binding, Design, LeverKind, Solved, Weakest};
use evenrun::finding::{Figure, Subject, Verdict};
use evenrun::{job, plan, report, rules};
use std::path::Path;

const DEMO: &str = include_str!("../../examples/archive_wing.toml");
const SMALL: &str = include_str!("../plan/small.toml");

fn designed(text: &str) -> Design {
    let job = job::read(text, "job.toml").unwrap_or_else(|faults| panic!("{faults}"));
    plan::plan(&job)
}

fn weakest(design: &Design) -> &Weakest {
    match &design.runs[0].weakest {
        Solved::Figures(weakest) => weakest,
        Solved::Not(why) => panic!("{why}"),
    }
}

fn small(edit: impl Fn(String) -> String) -> Design {
    designed(&edit(SMALL.to_string()))
}

/// Each gain, against the job planned again with the change made, to within a few per cent: the arrangement of this job
/// is the same, and its cells are resistors above their diodes.
#[test]
fn gains_are_those_of_planning_again_with_the_change() {
    let before = small(|text| text);
    let now = weakest(&before);
    let gain = |kind: &dyn Fn(&LeverKind) -> bool| {
        let lever = now.levers.iter().find(|lever| kind(&lever.what));
        lever
            .unwrap_or_else(|| panic!("{:?}", now.levers))
            .gain
            .si()
    };
    let again = |from: &str, to: &str| {
        assert!(SMALL.contains(from), "{from}");
        let design = small(|text| text.replace(from, to));
        assert_eq!(design.segments.len(), before.segments.len());
        weakest(&design).current.si() - now.current.si()
    };
    let near = |what: &str, gain: f64, found: f64, within: f64| {
        assert!(
            (gain - found).abs() <= within * found.abs(),
            "{what}: {gain} for {found}"
        );
    };
    // 10 % less of a feeder's resistance is a feeder of 9/10 of its length: 3 m and 300 mm of slack, 2.67 m and the same.
    let feeder = gain(&|what| matches!(what, LeverKind::Feeder(_)));
    near(
        "feeder",
        feeder,
        again("length = \"3 m\"", "length = \"2.67 m\""),
        0.03,
    );
    let output = gain(&|what| matches!(what, LeverKind::OutputResistance { .. }));
    near("output", output, again("\"10 mΩ\"", "\"9 mΩ\""), 0.03);
    // Foil of 77.8 µm has 9/10 of the resistance of foil of 70 µm.
    let rails = gain(&|what| matches!(what, LeverKind::Rails(_)));
    near("rails", rails, again("\"70 µm\"", "\"77.7778 µm\""), 0.03);
    // A tolerance of 1 % of a volt comes off a volt more.
    let set_point = gain(&|what| matches!(what, LeverKind::SetPoint { .. }));
    near(
        "tenth of a volt",
        0.099 * set_point,
        again("volts = \"24 V\"", "volts = \"24.1 V\""),
        0.03,
    );
}

/// Levers stand by their gain, name what is in the design, and the weakest cell is that of its segment.
#[test]
fn levers_speak_of_what_is_in_the_design() {
    let design = designed(DEMO);
    for run in &design.runs {
        let Solved::Figures(weakest) = &run.weakest else {
            panic!("{}", run.id);
        };
        let own = design
            .segments
            .iter()
            .filter(|segment| segment.run == run.id);
        let figures = own.filter_map(|s| Some((s, s.solved.figures()?)));
        let least = figures.min_by(|a, b| {
            a.1.least_current
                .low
                .si()
                .total_cmp(&b.1.least_current.low.si())
        });
        let (segment, figures) = least.expect("a solved segment");
        assert_eq!(segment.id, weakest.segment);
        assert_eq!(figures.weakest, weakest.emitter);
        assert!((figures.least_current.low.si() - weakest.current.si()).abs() < 1e-9);
        let strip = design.strip(&run.strip).expect("a tape");
        assert_eq!(strip.pitch.length_of(figures.weakest_at), weakest.position);
        assert!(
            weakest
                .levers
                .windows(2)
                .all(|pair| pair[0].gain.si() >= pair[1].gain.si())
        );
        assert!(weakest.levers.iter().all(|lever| lever.gain.si() >= 5e-5));
        for lever in &weakest.levers {
            let known = match &lever.what {
                LeverKind::SetPoint { supply, .. } => {
                    assert!(matches!(lever.change, Figure::Voltage(_)));
                    design.supplies.iter().any(|s| s.id == *supply)
                }
                LeverKind::OutputResistance { supply, .. } => {
                    design.supplies.iter().any(|s| s.id == *supply)
                }
                LeverKind::Lead(cable) | LeverKind::Feeder(cable) => {
                    design.cables.iter().any(|c| c.id == *cable)
                }
                LeverKind::Switch { decoder, output } => design
                    .decoder_outputs
                    .iter()
                    .any(|o| o.decoder == *decoder && o.output == *output),
                LeverKind::Rails(strip) => run.strip == *strip,
                other => panic!("{other:?}"),
            };
            assert!(known, "{}: {:?}", run.id, lever.what);
        }
        assert!(
            matches!(design.nearest_limit(&run.id), Some(Binding::Nearest { .. })),
            "{}",
            run.id
        );
    }
    assert!(
        design
            .runs
            .iter()
            .any(|run| run.weakest.figures().is_some_and(|w| w.levers.len() > 3))
    );
}

/// A run that is not fed says so; the page leaves it out.
#[test]
fn a_run_without_feed_has_no_weakest_cell() {
    let design = small(|text| text.replace("volts = \"24 V\"", "volts = \"12 V\""));
    assert!(
        matches!(&design.runs[0].weakest, Solved::Not(why) if why.as_str() == "the run is not fed")
    );
    assert!(!report::text(&design, 100).contains("Nearest limit"));
}

/// Every device of every chain has a margin; the line that ends open on purpose is named by the rule of terminators, and
/// its short line reads all the same.
#[test]
fn the_demo_sends_a_packet_down_every_chain() {
    let design = designed(DEMO);
    assert_eq!(design.chains.len(), 2);
    let mut devices = 0;
    for chain in &design.chains {
        for device in &chain.devices {
            let Solved::Figures(seen) = &device.margin else {
                panic!("{}, {}", chain.id, device.name);
            };
            assert!((seen.margin.si() - (seen.least.si() - 0.2)).abs() < 1e-12);
            assert!(
                seen.least.si() <= seen.least_at_middle.si()
                    && seen.least_at_middle.si() <= seen.peak.si()
            );
            // An edge doubles at an open end; behind a terminator it stays near a long mark.
            let over = seen.peak.si() / seen.steady.si();
            let open = chain.terminator.is_none();
            assert_eq!(over > 1.4, open, "{}: {over}", chain.id);
            devices += 1;
        }
    }
    let own = |id: &'static str| {
        design
            .findings
            .iter()
            .filter(move |f| f.rule.as_str() == id)
    };
    assert!(devices > 10);
    // Nothing misreads: one answer a chain, about its worst device.
    assert_eq!(
        own("signal-margin")
            .filter(|f| f.verdict == Verdict::Pass)
            .count(),
        2
    );
    assert_eq!(own("signal-margin").count(), 2);
    assert_eq!(own("chain-terminator").filter(|f| f.is_fail()).count(), 1);
}

/// Not evaluated, with why: cable that nobody knows.
#[test]
fn a_chain_of_unknown_cable_is_not_simulated() {
    let text = DEMO.replace("cable = \"shielded category\"", "cable = \"unknown\"");
    let design = designed(&text);
    let chain = design
        .chains
        .iter()
        .find(|chain| chain.id.as_str() == "foyer line")
        .expect("a chain");
    assert!(
        chain
            .devices
            .iter()
            .all(|device| device.margin.figures().is_none())
    );
    let open: Vec<String> = design
        .findings
        .iter()
        .filter(|f| f.rule.as_str() == "signal-margin" && f.is_not_evaluated())
        .map(|f| rules::words(f).reason)
        .collect();
    assert_eq!(open.len(), 1);
    assert!(open.iter().all(|why| why.contains("not known")), "{open:?}");
    assert!(report::text(&design, 200).contains("not simulated"));
}

/// 4 km of category cable leave too little of the weakest driver for every device: each is named, with what to do.
#[test]
fn devices_that_may_misread_are_named_one_by_one() {
    let text = include_str!("../jobs/corner.toml");
    let long = text.replace("length = \"14 m\", between", "length = \"4000 m\", between");
    assert_ne!(long, text);
    let design = designed(&long);
    let own = design
        .findings
        .iter()
        .filter(|f| f.rule.as_str() == "signal-margin");
    let failed: Vec<_> = own.collect();
    assert_eq!(failed.len(), design.chains[0].devices.len());
    for finding in failed {
        assert!(finding.is_fail());
        assert!(
            matches!(&finding.about, Subject::Part { link, .. } if link.chain == design.chains[0].id)
        );
        assert!(rules::words(finding).remedy.contains("terminate"));
    }
    let seen = design.chains[0]
        .devices
        .iter()
        .filter_map(|d| d.margin.figures());
    assert!(
        seen.map(|margin| margin.margin.si())
            .all(|margin| margin < 0.0)
    );
}

/// Designs that were written before these were asked still read, and say so.
#[test]
fn older_designs_read() {
    let design = designed(SMALL);
    let mut value: serde_json::Value =
        serde_json::from_str(&design.to_json().expect("written")).expect("JSON");
    for run in value["runs"].as_array_mut().expect("runs") {
        run.as_object_mut().expect("a run").remove("weakest");
    }
    let read = Design::from_json(&value.to_string()).expect("read");
    assert!(matches!(&read.runs[0].weakest, Solved::Not(why) if why.as_str().contains("before")));
}

/// The same bytes on any number of threads.
#[cfg(feature = "parallel")]
#[test]
fn threads_change_nothing() {
    let job = job::read(DEMO, "job.toml").expect("sound");
    let on = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new()
            .num_threads(threads)
            .build()
            .expect("a pool");
        pool.install(|| plan::plan(&job).to_json().expect("written"))
    };
    let one = on(1);
    assert_eq!(on(2), one);
    assert_eq!(on(5), one);
}

/// The jobs of the repository: every run that is fed says what would help it, or that nothing known does.
#[test]
fn every_job_says_what_would_help() {
    for name in [
        "corner",
        "forty_eight_volt",
        "one_run",
        "several_places",
        "twelve_volt",
        "us_units",
    ] {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("tests/jobs/{name}.toml"));
        let design = designed(&std::fs::read_to_string(path).expect("a job"));
        for run in &design.runs {
            assert!(
                run.weakest.figures().is_some(),
                "{name}, {}: {:?}",
                run.id,
                run.weakest
            );
        }
    }
}
