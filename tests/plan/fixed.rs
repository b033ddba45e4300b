//! What is there already stays; what cannot stay is said.

use crate::{demo, demo_job, small};
use evenrun::job;
use evenrun::job::spec::{FixedFeedSpec, FixedSegmentSpec, InstalledKind, InstalledSpec};
use evenrun::layout::lay;
use evenrun::layout::spec::RunPoint;
use evenrun::plan::{self, model::Plan};

/// The job with everything that its plan chose fixed.
fn fixed(job: &job::Job, plan: &Plan) -> job::Job {
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
        let mut from = 0;
        for segment in plan.segments.iter().filter(|s| s.run == run.name) {
            let to = from + pitch.count_in(segment.length);
            run.fixed_segments.push(FixedSegmentSpec {
                from: point(from),
                to: point(to),
                fed: evenrun::choose::feeding::Pattern::ALL
                    .into_iter()
                    .find(|p| p.words() == segment.pattern),
            });
            from = to;
            for feed in plan.feeds.iter().filter(|f| f.segment == segment.id) {
                // A fixed feed at a break belongs to the segment that begins there: one that ends
                // there has its pattern fixed, and its cable is found again.
                if pitch.count_in(feed.position) == to && to != layout.increments() {
                    continue;
                }
                let decoder = plan
                    .decoders
                    .iter()
                    .find(|d| feed.source.starts_with(&format!("decoder {},", d.id)));
                run.fixed_feeds.push(FixedFeedSpec {
                    at: point(pitch.count_in(feed.position)),
                    place: decoder.map(|d| d.place.clone()),
                    cable: Some(feed.cable.clone()),
                });
            }
        }
    }
    let segments_of = |decoder: &str| -> Vec<String> {
        let own = plan.outputs.iter().filter(|o| o.decoder == decoder);
        let mut all: Vec<String> = own
            .flat_map(|o| o.segments.split(", ").map(String::from))
            .collect();
        all.sort();
        all.dedup();
        all
    };
    spec.installed.clear();
    for decoder in &plan.decoders {
        let zone = plan.outputs.iter().find(|o| o.decoder == decoder.id);
        spec.installed.push(InstalledSpec {
            name: decoder.id.clone(),
            kind: InstalledKind::Decoder(decoder.kind.clone()),
            place: decoder.place.clone(),
            zone: zone.map(|o| o.zone.clone()),
            serves: segments_of(&decoder.id),
            address: Some(decoder.address),
        });
    }
    for supply in &plan.supplies {
        let fed = plan
            .decoders
            .iter()
            .filter(|d| d.supply.starts_with(&format!("{}, output", supply.id)));
        spec.installed.push(InstalledSpec {
            name: supply.id.clone(),
            kind: InstalledKind::Supply(supply.kind.clone()),
            place: supply.place.clone(),
            zone: None,
            serves: fed.flat_map(|d| segments_of(&d.id)).collect(),
            address: None,
        });
    }
    job::check(spec).expect("what a plan chose can be stated")
}

/// Equal rows, or the first that differs.
fn same<R: PartialEq + std::fmt::Debug>(again: &[R], first: &[R], id: impl Fn(&R) -> &String) {
    let ids = |rows: &[R]| rows.iter().map(|r| id(r).clone()).collect::<Vec<_>>();
    assert_eq!(ids(again), ids(first));
    for (again, first) in again.iter().zip(first) {
        assert_eq!(again, first);
    }
}

/// Everything that the plan of the demonstration chose, given back as fixed, stays: the same pieces,
/// feeds, cables, devices and addresses with the same figures; only what is bought and what it costs differ.
#[test]
fn fixing_everything_the_plan_chose_gives_the_same_plan() {
    let first = demo();
    let again = plan::plan(&fixed(demo_job(), first));
    same(&again.cuts, &first.cuts, |row| &row.id);
    same(&again.cables, &first.cables, |row| &row.id);
    same(&again.feeds, &first.feeds, |row| &row.id);
    same(&again.segments, &first.segments, |row| &row.id);
    same(&again.outputs, &first.outputs, |row| &row.decoder);
    same(&again.addresses, &first.addresses, |row| &row.device);
    same(&again.chains, &first.chains, |row| &row.device);
    same(&again.protection, &first.protection, |row| &row.conductor);
    let mut supplies = again.supplies.clone();
    for (own, first) in supplies.iter_mut().zip(&first.supplies) {
        assert!(own.fixed, "{}", own.id);
        own.fixed = first.fixed;
        own.why.clone_from(&first.why);
    }
    same(&supplies, &first.supplies, |row| &row.id);
    let bought = |plan: &Plan| -> Vec<String> {
        let device = |item: &&String| item.starts_with("supply ") || item.starts_with("decoder ");
        plan.materials
            .iter()
            .map(|m| m.item.clone())
            .filter(|item| device(&item))
            .collect()
    };
    assert!(bought(&again).is_empty() && !bought(first).is_empty());
    let devices = again
        .choices
        .iter()
        .filter(|c| !c.what.starts_with("run ") && c.what != "whole job");
    assert!(devices.clone().count() > 0);
    for choice in devices {
        assert_eq!(crate::minor(choice.cost), 0, "{}", choice.what);
    }
}

#[test]
fn a_supply_that_is_there_is_used_and_not_bought() {
    let there = "\n[[installed]]\nname = \"old\"\nsupply = \"60 W\"\nplace = \"box\"\n";
    let plan = small(|text| text + there).expect("sound");
    let supply = &plan.supplies[0];
    assert_eq!((supply.id.as_str(), supply.fixed), ("old", true));
    assert!(!plan.materials.iter().any(|m| m.item.starts_with("supply")));
}

/// Finding of a fixed item that cannot stay, in its words.
fn told(edit: &str) -> String {
    let plan = small(|text| text + edit).expect("sound");
    let found = plan.findings.iter().find(|f| f.id == "fixed-item");
    let f = found.unwrap_or_else(|| panic!("{:#?}", plan.findings));
    assert!(f.is_fail());
    format!(
        "{}: {} | {} | {} | {}",
        f.place, f.says, f.figure, f.limit, f.remedy
    )
}

#[test]
fn a_segment_that_the_plan_does_not_have_is_told_with_what_it_has() {
    assert_eq!(
        told(
            "\n[[installed]]\nname = \"old\"\nsupply = \"60 W\"\nplace = \"box\"\nserves = [\"A.7\"]\n"
        ),
        "installed old: segment A.7 is to stay on it, and the plan has no such segment | segment A.7 | run A has 1 | \
         fix the segments of the run as well, or name one that it has"
    );
}

#[test]
fn an_installed_supply_that_is_too_weak_is_told_with_its_limit() {
    let weak = "\n[[supply]]\nname = \"5 W\"\npower = \"5 W\"\nvolts = \"24 V\"\ntolerance = \"1 %\"\noutput_current = \"0.2 A\"\n\
                derating = [{ ambient = \"50 °C\", share = \"100 %\" }]\n\
                [[installed]]\nname = \"old\"\nsupply = \"5 W\"\nplace = \"box\"\nserves = [\"A.1\"]\n";
    let words = told(weak);
    assert!(
        words.contains("the loads fixed to `old` break its limit of"),
        "{words}"
    );
}

/// Segments that cannot both stay end in a finding, not in a plan without them.
#[test]
fn fixed_segments_that_overlap_are_a_finding() {
    let plan = small(|text| {
        text.replace(
            "routes = [",
            "fixed_segments = [{ from = \"start\", to = \"1 m\" }, { from = \"0.5 m\", to = \"end\" }]\nroutes = [",
        )
    })
    .expect("sound");
    let found = plan.findings.iter().find(|f| f.id == "feed-problem");
    assert!(
        found.is_some_and(|f| f.is_fail() && f.says.contains("fixed items contradict")),
        "{found:?}"
    );
}

#[test]
fn faults_of_what_is_fixed_are_told_by_place() {
    for (text, says) in [
        (
            "[[installed]]\nname = \"x\"\nplace = \"box\"\n",
            "is neither a supply nor a decoder",
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
            "`Q.1` is no segment of a run of this job",
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
