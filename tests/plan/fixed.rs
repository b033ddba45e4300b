//! What is there already stays; what cannot stay is said.

use crate::{demo, demo_job, said_by, small};
use evenrun::design::{Chosen, Decoder, Design, Item, Terminals};
use evenrun::finding::{Figure, Finding, Subject, Value};
use evenrun::id::{DecoderId, PlaceId, RunId, SegmentId};
use evenrun::job::spec::{FixedFeedSpec, FixedSegmentSpec, InstalledKind, InstalledSpec, Sharing};
use evenrun::layout::lay;
use evenrun::layout::spec::RunPoint;
use evenrun::{job, plan, rules};
use std::fmt::Debug;

/// The job with everything that its plan chose fixed.
fn fixed(job: &job::Job, plan: &Design) -> job::Job {
    let mut spec = job.spec().clone();
    for run in &mut spec.runs {
        let zone = job.zone(&run.zone).expect("known");
        let pitch = job.strip(&zone.strip).expect("known").pitch;
        let layout = lay(&run.layout, pitch).expect("laid before");
        let point = |mark: u64| match mark {
            0 => RunPoint::Start,
            m if m == layout.increments() => RunPoint::End,
            m => RunPoint::At(layout.position_of(m)),
        };
        run.fixed_segments.clear();
        run.fixed_feeds.clear();
        for segment in plan.segments.iter().filter(|s| s.run.as_str() == run.name) {
            run.fixed_segments.push(FixedSegmentSpec {
                from: point(segment.first),
                to: point(segment.last),
                fed: Some(segment.pattern),
            });
            for feed in plan.feeds.iter().filter(|f| f.segment == segment.id) {
                // A fixed feed at a break belongs to the segment that begins there: one that ends
                // there has its pattern fixed, and its cable is found again.
                if feed.mark == segment.last && segment.last != layout.increments() {
                    continue;
                }
                let place: Option<&PlaceId> = match &feed.from {
                    Terminals::Decoder { decoder, .. } => {
                        let own = plan.decoders.iter().find(|d| d.id == *decoder);
                        Some(&own.expect("its decoder").place)
                    }
                    _ => None,
                };
                run.fixed_feeds.push(FixedFeedSpec {
                    at: point(feed.mark),
                    place: place.map(ToString::to_string),
                    cable: Some(feed.kind.to_string()),
                });
            }
        }
    }
    let segments_of = |decoder: &DecoderId| -> Vec<String> {
        let own = plan
            .decoder_outputs
            .iter()
            .filter(|o| o.decoder == *decoder);
        let mut all: Vec<String> = own
            .flat_map(|o| &o.segments)
            .map(ToString::to_string)
            .collect();
        all.sort();
        all.dedup();
        all
    };
    spec.installed.clear();
    for decoder in &plan.decoders {
        spec.installed.push(InstalledSpec {
            name: decoder.id.to_string(),
            kind: InstalledKind::Decoder(decoder.kind.to_string()),
            place: decoder.place.to_string(),
            zone: Some(decoder.zone.to_string()),
            serves: segments_of(&decoder.id),
            address: decoder.address.map(|address| address.first),
            shares_slots: Sharing::No,
        });
    }
    for supply in &plan.supplies {
        let feeds = |decoder: &&Decoder| {
            let from = decoder.supply.as_ref();
            from.is_some_and(|(own, _)| *own == supply.id)
        };
        let fed = plan.decoders.iter().filter(feeds);
        spec.installed.push(InstalledSpec {
            name: supply.id.to_string(),
            kind: InstalledKind::Supply(supply.kind.to_string()),
            place: supply.place.to_string(),
            zone: None,
            serves: fed.flat_map(|d| segments_of(&d.id)).collect(),
            address: None,
            shares_slots: Sharing::No,
        });
    }
    job::check(spec).expect("what a plan chose can be stated")
}

/// Equal rows, or the first that differs.
fn same<R: PartialEq + Debug, I: PartialEq + Debug>(
    again: &[R],
    first: &[R],
    id: impl Fn(&R) -> I,
) {
    let ids = |rows: &[R]| rows.iter().map(&id).collect::<Vec<_>>();
    assert_eq!(ids(again), ids(first));
    for (again, first) in again.iter().zip(first) {
        assert_eq!(again, first);
    }
}

/// Supplies and decoders on the order list.
fn devices_to_buy(plan: &Design) -> Vec<&Item> {
    let device = |item: &&Item| matches!(item, Item::Supply(_) | Item::Decoder(_));
    plan.materials
        .iter()
        .map(|m| &m.item)
        .filter(device)
        .collect()
}

/// Everything that the plan of the demonstration chose, given back as fixed, stays: the same pieces,
/// feeds, cables, devices and addresses with the same figures; only what is bought and what it costs differ.
#[test]
fn fixing_everything_the_plan_chose_gives_the_same_plan() {
    let first = demo();
    let again = plan::plan(&fixed(demo_job(), first));
    same(&again.runs, &first.runs, |row| row.id.clone());
    same(&again.pieces, &first.pieces, |row| row.id.clone());
    same(&again.cables, &first.cables, |row| row.id.clone());
    same(&again.feeds, &first.feeds, |row| row.id.clone());
    same(&again.segments, &first.segments, |row| row.id.clone());
    same(&again.outputs, &first.outputs, |row| {
        (row.supply.clone(), row.output)
    });
    same(&again.decoder_outputs, &first.decoder_outputs, |row| {
        (row.decoder.clone(), row.output)
    });
    same(&again.slots, &first.slots, |row| (row.universe, row.slot));
    same(&again.chains, &first.chains, |row| row.id.clone());
    same(&again.protection, &first.protection, |row| {
        row.conductor.clone()
    });
    same(&again.stock, &first.stock, |row| row.id.clone());
    same(&again.readings, &first.readings, |row| row.at.clone());
    same(&again.energy, &first.energy, |row| row.zone.clone());
    let mut decoders = again.decoders.clone();
    for (own, first) in decoders.iter_mut().zip(&first.decoders) {
        assert!(own.fixed, "{}", own.id);
        own.fixed = first.fixed;
    }
    same(&decoders, &first.decoders, |row| row.id.clone());
    let mut supplies = again.supplies.clone();
    for (own, first) in supplies.iter_mut().zip(&first.supplies) {
        assert!(own.fixed, "{}", own.id);
        own.fixed = first.fixed;
        own.why.clone_from(&first.why);
    }
    same(&supplies, &first.supplies, |row| row.id.clone());
    assert!(devices_to_buy(&again).is_empty() && !devices_to_buy(first).is_empty());
    let devices = again.choices.iter();
    let devices = devices.filter(|c| matches!(c.chosen, Chosen::Devices(_)));
    assert!(devices.clone().count() > 0);
    for choice in devices {
        assert_eq!(crate::minor(choice.cost), 0, "{}", choice.about);
    }
}

#[test]
fn a_supply_that_is_there_is_used_and_not_bought() {
    let there = "\n[[installed]]\nname = \"old\"\nsupply = \"60 W\"\nplace = \"box\"\n";
    let plan = small(|text| text + there).expect("sound");
    let supply = &plan.supplies[0];
    assert_eq!((supply.id.as_str(), supply.fixed), ("old", true));
    assert!(devices_to_buy(&plan).is_empty());
}

/// What is said of fixed items that cannot stay.
fn told(edit: &str) -> Vec<Finding> {
    let plan = small(|text| text + edit).expect("sound");
    let found = said_by(&plan, "fixed-item").into_iter().cloned();
    let found: Vec<Finding> = found.collect();
    assert!(!found.is_empty(), "{:#?}", plan.findings);
    assert!(found.iter().all(Finding::is_fail), "{found:#?}");
    found
}

/// The device that is there.
fn old() -> Subject {
    Subject::Installed("old".into())
}

#[test]
fn a_segment_that_the_plan_does_not_have_is_told_with_what_it_has() {
    let found = told(
        "\n[[installed]]\nname = \"old\"\nsupply = \"60 W\"\nplace = \"box\"\nserves = [\"A.7\"]\n",
    );
    let [found] = found.as_slice() else {
        panic!("{found:#?}")
    };
    assert_eq!((&*found.case, &found.about), ("no-segment", &old()));
    let fact = |name: &str| found.value(name).cloned();
    let segment = Subject::Segment(SegmentId::new("A.7"));
    assert_eq!(fact("segment"), Some(segment.into()));
    assert_eq!(fact("run"), Some(Subject::Run(RunId::new("A")).into()));
    assert_eq!(fact("segments"), Some(Figure::count(1).into()));
    let words = rules::words(found);
    assert_eq!(
        format!("{}: {}", words.place, words.says),
        "installed old: segment A.7 is to stay on it, and the plan has no such segment"
    );
    assert_eq!(
        (&*words.figure, &*words.limit),
        ("segment A.7", "run A has 1")
    );
    assert_eq!(
        words.remedy,
        "fix the segments of the run as well, or name one that it has"
    );
}

#[test]
fn an_installed_supply_that_is_too_weak_is_told_with_its_limit() {
    let weak = "\n[[supply]]\nname = \"5 W\"\npower = \"5 W\"\nvolts = \"24 V\"\ntolerance = \"1 %\"\noutput_current = \"0.2 A\"\n\
                derating = [{ ambient = \"50 °C\", share = \"100 %\" }]\n\
                [[installed]]\nname = \"old\"\nsupply = \"5 W\"\nplace = \"box\"\nserves = [\"A.1\"]\n";
    let found = told(weak);
    let [left_out, too_small] = found.as_slice() else {
        panic!("{found:#?}")
    };
    let at_box = Subject::Supplies {
        place: PlaceId::new("box"),
        service: None,
    };
    assert_eq!((&*left_out.case, &left_out.about), ("left-out", &at_box));
    let Some(Value::Note { note }) = left_out.value("why") else {
        panic!("{left_out:?}")
    };
    assert!(
        note.contains("the loads fixed to `old` break its limit of"),
        "{note}"
    );
    assert_eq!((&*too_small.case, &too_small.about), ("too-small", &old()));
    let segment = Subject::Segment(SegmentId::new("A.1"));
    assert_eq!(too_small.value("segment"), Some(&segment.into()));
    assert_eq!(too_small.value("kind"), Some(&Value::name("5 W")));
}

/// Segments that cannot both stay are refused in the words of the file, not in marks of a search.
#[test]
fn fixed_segments_that_overlap_are_refused() {
    let told = small(|text| {
        text.replace(
            "routes = [",
            "fixed_segments = [{ from = \"start\", to = \"1 m\" }, { from = \"0.5 m\", to = \"end\" }]\nroutes = [",
        )
    });
    let told = told.err().unwrap_or_default();
    assert!(
        told.contains("run \"A\": fixed_segments 2 goes from 500 mm to 2 m, and fixed_segments 1 from 0 mm to 1 m"),
        "{told}"
    );
    assert!(!told.contains("mark"), "{told}");
}

#[test]
fn faults_of_what_is_fixed_are_told_by_place() {
    for (text, says) in [
        (
            "[[installed]]\nname = \"x\"\nplace = \"box\"\n",
            "is missing, and so is `decoder`",
        ),
        (
            "[[installed]]\nname = \"x\"\nsupply = \"60 W\"\nplace = \"attic\"\n",
            "attic",
        ),
        (
            "[[installed]]\nname = \"x\"\nsupply = \"60 W\"\nplace = \"box\"\naddress = 7\n",
            "is stated for a supply",
        ),
        (
            "[[installed]]\nname = \"x\"\nsupply = \"60 W\"\nplace = \"box\"\nserves = [\"Q.1\"]\n",
            "`Q.1` is not a segment of a run of this job",
        ),
        (
            "[[installed]]\nname = \"x\"\nsupply = \"60 W\"\nplace = \"box\"\nserves = [\"A.1\"]\n\
             [[installed]]\nname = \"y\"\nsupply = \"60 W\"\nplace = \"box\"\nserves = [\"A.1\"]\n",
            "stays on installed \"x\" already",
        ),
    ] {
        let told = small(|own| own + "\n" + text).expect_err(text);
        assert!(
            told.contains(says) && told.contains("small.toml:"),
            "{told}"
        );
    }
    let outside = small(|text| {
        text.replace(
            "routes = [",
            "fixed_segments = [{ from = \"start\", to = \"3 m\" }, { from = \"1 m\", to = \"1 m\" }]\nroutes = [",
        )
    });
    let told = outside.expect_err("outside");
    assert!(told.contains("3 m from the start"), "{told}");
    assert!(told.contains("ends where it begins, or before"), "{told}");
}
