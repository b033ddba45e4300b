//! The whole way from a job file to its schedules.

mod control;

use evenrun::finding::plain::Verdict;
use evenrun::progress::{Go, Progress, Step};
use evenrun::report;
use evenrun::{job, plan};
use std::sync::OnceLock;

mod fixed;
#[cfg(feature = "parallel")]
mod threads;
mod together;

const DEMO: &str = include_str!("../../examples/archive_wing.toml");

fn demo_job() -> &'static job::Job {
    static JOB: OnceLock<job::Job> = OnceLock::new();
    JOB.get_or_init(|| job::read(DEMO, "archive_wing.toml").expect("the demo is sound"))
}

fn demo() -> &'static plan::model::Plan {
    static PLAN: OnceLock<plan::model::Plan> = OnceLock::new();
    PLAN.get_or_init(|| plan::plan(demo_job()))
}

/// One short white run with everything it needs; `edit` changes the text.
fn small(edit: impl Fn(String) -> String) -> Result<plan::model::Plan, String> {
    let text = edit(include_str!("small.toml").to_string());
    job::read(&text, "small.toml")
        .map(|job| plan::plan(&job))
        .map_err(|f| f.to_string())
}

/// Minor units or bodies of a cost.
fn minor(cost: evenrun::quantity::Cost) -> i64 {
    cost.printed(&evenrun::quantity::Currency::default()).0
}

#[test]
fn the_demo_breaks_the_one_rule_it_means_to() {
    let fails: Vec<&str> = demo()
        .findings
        .iter()
        .filter(|f| f.is_fail())
        .map(|f| f.id)
        .collect();
    assert_eq!(fails, ["chain-terminator"]);
    assert!(demo().runs.len() >= 8);
    let zones: std::collections::BTreeSet<&str> =
        demo().runs.iter().map(|r| r.zone.as_str()).collect();
    assert_eq!(zones.len(), 3);
}

#[test]
fn drawn_is_lit_plus_dark_on_straight_runs_and_pieces_add_up() {
    for run in &demo().runs {
        let sum = run.lit.nanometres()
            + run.dark_start.nanometres()
            + run.dark_between.nanometres()
            + run.dark_end.nanometres();
        if !run.path.contains("corner") {
            assert_eq!(sum, run.drawn.nanometres(), "{}", run.id);
        }
        let cut: u64 = demo()
            .cuts
            .iter()
            .filter(|c| c.run == run.id)
            .map(|c| c.increments)
            .sum();
        assert_eq!(cut, run.increments, "{}", run.id);
    }
}

#[test]
fn the_joint_solve_keeps_what_was_planned() {
    for segment in &demo().segments {
        assert!(
            segment.least_current.low.value >= 0.70 - 1e-9,
            "{}",
            segment.id
        );
        assert!(segment.least_current.low <= segment.least_current.nominal);
        assert!(segment.power.low < segment.power.high);
        assert!(segment.volt_error_bound.value < 1e-6);
    }
    for supply in &demo().supplies {
        assert!(supply.share.value <= 0.8 + 1e-9, "{}", supply.id);
    }
    // Power: tape and wiring together are what the supplies give.
    let given: f64 = demo().supplies.iter().map(|s| s.load.nominal.value).sum();
    let taken: f64 = demo()
        .energy
        .iter()
        .map(|e| e.tape.value + e.wiring.value)
        .sum();
    assert!((given - taken).abs() < 1e-6 * given, "{given} {taken}");
}

#[test]
fn slots_never_overlap_and_never_leave_the_universe() {
    let mut seen = std::collections::BTreeSet::new();
    for row in &demo().addresses {
        assert!((1..=512).contains(&row.slot));
        assert!(row.slot > 24, "slots 1 to 24 are taken");
        assert!(seen.insert((row.universe, row.slot)), "{row:?}");
    }
}

#[test]
fn the_same_job_in_another_order_gives_the_same_bytes() {
    let head = DEMO.find("[[strip]]").expect("strips");
    let tail = &DEMO[head..];
    let mut tables: Vec<String> = Vec::new();
    for line in tail.lines() {
        if line.starts_with("[[") || tables.is_empty() {
            tables.push(String::new());
        }
        let table = tables.last_mut().expect("one table");
        table.push_str(line);
        table.push('\n');
    }
    tables.reverse();
    let turned = format!("{}{}", &DEMO[..head], tables.concat());
    let other = plan::plan(&job::read(&turned, "archive_wing.toml").expect("the same job"));
    assert_eq!(report::files(&other), report::files(demo()));
}

#[test]
fn every_schedule_is_printed_and_every_caution_opens_it() {
    let page = report::text(demo(), report::PAGE_WIDTH);
    assert!(
        page.lines()
            .all(|line| line.chars().count() <= report::PAGE_WIDTH)
    );
    for caution in report::CAUTIONS {
        let first: Vec<&str> = caution.text.split_whitespace().take(3).collect();
        assert!(page.contains(&first.join(" ")), "{}", caution.text);
    }
    assert!(page.contains("WORK FOR LICENSED PERSONS"));
    assert!(page.contains("not evaluated"));
    let files = report::files(demo());
    for name in [
        "runs.csv",
        "cuts.csv",
        "feeds.csv",
        "cables.csv",
        "supplies.csv",
        "protection.csv",
        "decoders.csv",
        "outputs.csv",
        "addresses.csv",
        "chains.csv",
        "materials.csv",
        "findings.csv",
        "sources.csv",
        "plan.md",
    ] {
        let found = files.iter().find(|f| f.0 == name);
        assert!(found.is_some_and(|f| f.1.lines().count() > 1), "{name}");
    }
}

#[test]
fn planning_can_be_stopped_and_reports_its_steps() {
    let job = job::read(DEMO, "archive_wing.toml").expect("sound");
    let mut steps = 0;
    let mut stop = |_: Step| {
        steps += 1;
        if steps > 3 { Go::Cancel } else { Go::On }
    };
    let answer = plan::plan_watched(&job, &mut Progress::new(&mut stop));
    assert_eq!(
        answer.err().map(|e| e.to_string()).as_deref(),
        Some("planning was stopped by the caller at 0 of 9, feeding runs; no plan is given")
    );
    assert_eq!(steps, 4);
}

#[test]
fn a_run_shorter_than_one_cut_is_refused_with_its_place() {
    let told = small(|text| text.replace("straight = \"2 m\"", "straight = \"40 mm\""));
    assert_eq!(
        told.err().as_deref(),
        Some(
            "small.toml:49:8: run \"A\": path leaves 40 mm for the longest piece of tape, less than one cut \
             increment of `white` (50 mm). Lengthen the run, or take tape with shorter increments"
        )
    );
}

#[test]
fn a_cable_hotter_than_its_insulation_fails() {
    let plan = small(|text| text.replace("insulation = \"90 °C\"", "insulation = \"60 °C\""))
        .expect("sound");
    let found = plan
        .findings
        .iter()
        .find(|f| f.id == "cable-insulation")
        .expect("a finding");
    assert_eq!(found.verdict, Verdict::Fail);
}

#[test]
fn a_cable_without_a_way_of_installation_is_not_evaluated() {
    let plan = small(|text| text).expect("sound");
    let why = plan
        .cables
        .iter()
        .find(|c| c.id.starts_with("F-"))
        .map(|c| c.ampacity.clone());
    assert_eq!(
        why,
        Some(Err("the job does not say how it is installed".to_string()))
    );
    assert!(
        plan.findings
            .iter()
            .any(|f| f.id == "conductor-load" && f.is_not_evaluated())
    );
}

#[test]
fn a_far_place_and_a_thin_wire_end_in_a_finding_with_a_remedy() {
    let plan = small(|text| text.replace("length = \"3 m\"", "length = \"300 m\"")).expect("sound");
    let found = plan
        .findings
        .iter()
        .find(|f| f.id == "feed-least-current")
        .expect("a finding");
    assert!(
        found.is_fail() && found.remedy.contains("thicker wire"),
        "{found:?}"
    );
    // The best effort is shown all the same.
    assert!(!plan.segments.is_empty());
}

#[test]
fn feet_and_metres_give_the_same_plan() {
    let with = |straight: &str, route: &str| {
        let plan = small(|text| {
            text.replace("straight = \"2 m\"", &format!("straight = \"{straight}\""))
                .replace("length = \"3 m\"", &format!("length = \"{route}\""))
        });
        report::files(&plan.expect("sound"))
    };
    assert_eq!(with("5 ft", "10 ft"), with("1.524 m", "3.048 m"));
    assert_ne!(with("5 ft", "10 ft"), with("1.5 m", "3.048 m"));
}

/// A run that must not be cut and is too long for one end: fed at both, and judged with either feed lost.
#[test]
fn a_run_fed_at_both_ends_is_judged_with_either_feed_lost() {
    let plan = small(|text| {
        text.replace("straight = \"2 m\"", "straight = \"9 m\"")
            .replace("insulation = \"90 °C\"", "insulation = \"90 °C\"\nampacity = \"6 A\"")
            .replace("output_current = \"2.5 A\"", "output_current = \"8 A\"")
            .replace("power = \"60 W\"", "power = \"250 W\"")
            .replace(
                "routes = [",
                "uncut = [{ from = \"0 m\", to = \"9 m\" }]\nroutes = [{ from = \"box\", to = \"end\", length = \"6 m\", basis = \"measured\" }, ",
            )
    })
    .expect("sound");
    assert_eq!(plan.segments.len(), 1);
    assert_eq!(plan.feeds.len(), 2, "{:?}", plan.segments);
    let lost: Vec<_> = plan
        .findings
        .iter()
        .filter(|f| f.says.contains("lost it carries"))
        .collect();
    assert!(!lost.is_empty());
    assert!(lost.iter().all(|f| !f.is_fail()), "{lost:?}");
}

/// Two legs of 1 m meet in a mitred square corner: a profile 20 mm wide is cut 10 mm longer at the
/// mitre, so two legs and a 4 mm kerf take 2.024 m and no bar of 2.02 m.
#[test]
fn bars_show_mitres_and_offcuts() {
    let plan = small(|text| {
        text.replace(
            "path = [{ straight = \"2 m\" }]",
            "profile = \"shelf\"\npath = [{ straight = \"1 m\" }, { corner = \"inside\", made = \"moulded joint\", \
             resistance = \"4 mΩ\" }, { straight = \"1 m\" }]",
        ) + "\n[[profile]]\nname = \"shelf\"\nbars = [{ length = \"2.02 m\" }]\nkerf = \"4 mm\"\n\
             width = \"20 mm\"\nkeep_from = \"1 m\"\n\
             cover = { description = \"opal\", bars = [{ length = \"1.5 m\" }], kerf = \"3 mm\" }\n"
    })
    .expect("a plan");
    let of = |kind: &str| plan.bars.iter().filter(|b| b.kind == kind).count();
    assert_eq!((of("shelf"), of("shelf, opal")), (2, 2));
    for bar in &plan.bars {
        assert_eq!(bar.pieces[0].1.nanometres(), 1_010_000_000, "{bar:?}");
    }
    // 2.02 m less 1.01 m and a cut of 4 mm.
    assert_eq!(plan.bars[0].offcut.nanometres(), 1_006_000_000);
    let kept = plan.materials.iter().find(|m| m.item == "shelf");
    assert_eq!(
        kept.expect("bars to buy").used,
        "bars; offcuts of 2.012 m in all are kept"
    );
}

/// A run of 2 m from reels of 1 m: two reels and one joint, in the schedule and on the order list.
#[test]
fn reels_show_their_joints() {
    let plan = small(|text| text.replace("reel = \"5 m\"", "reel = \"1 m\"")).expect("a plan");
    assert_eq!(plan.reels.len(), 2);
    assert!(plan.reels[0].pieces[0].0.ends_with(", part 1 of 2"));
    let joint = plan
        .materials
        .iter()
        .find(|m| m.item == "joint between reels of white");
    assert_eq!(joint.expect("a joint to make").needed, "1");
}

/// The joint lies in the way of what the far half draws: on both rails, in the planning and in the last solve.
#[test]
fn joints_of_reels_take_their_volts() {
    let with = |milliohms: u32, fed: &str| {
        small(|text| {
            let reel = format!(
                "reel = \"1 m\"\nreel_joint = {{ resistance = \"{milliohms} mΩ\", price_minor = 90 }}"
            );
            text.replace("reel = \"5 m\"", &reel).replace(
                "basis = \"measured\" }]",
                &format!("basis = \"measured\" }}]\n{fed}"),
            )
        })
        .expect("sound")
    };
    let at_start = "feed_points = [\"0 m\"]";
    let (none, some) = (with(0, at_start), with(100, at_start));
    let low = |plan: &plan::model::Plan| plan.segments[0].least_volts.low.value;
    assert_eq!(none.segments.len(), 1);
    let taken = low(&none) - low(&some);
    // 20 increments of 20 mA at most, twice 100 mΩ; at the low corner they draw less, and less again behind the joint.
    let most = 2.0 * 0.1 * 20.0 * 0.02;
    assert!(taken > 0.7 * most && taken < most, "{taken} V of {most} V");
    let says = |plan: &plan::model::Plan| plan.findings.iter().any(|f| f.id == "reel-joint");
    assert!(!says(&none) && !says(&some));
    // Not stated, it is not left out in silence.
    assert!(says(
        &small(|text| text.replace("reel = \"5 m\"", "reel = \"1 m\"")).expect("a plan")
    ));
    // Where it would take more than the limit leaves, the run is broken at it.
    let parted = with(9000, "");
    let pieces: Vec<f64> = parted.segments.iter().map(|s| s.length.metres()).collect();
    assert_eq!(pieces.iter().sum::<f64>(), 2.0);
    assert!(pieces.len() > 1, "{pieces:?}");
    assert!(
        parted
            .materials
            .iter()
            .all(|m| m.item != "joint between reels of white")
    );
}

/// Where every break is seen, segments of unlike ends may not meet. A dearer or worse joint makes that harder to find and
/// never impossible: the segments planned with a cheap one can be cut within their reels.
#[test]
fn no_price_and_no_joint_makes_a_seen_run_impossible() {
    use evenrun::choose::feeding::{Reel, RunOutcome};
    use evenrun::quantity::ohms;
    let problem = plan::run_problem(demo_job(), "S1").expect("a run of the demo");
    let own = problem.reel.expect("its joint is stated");
    for (resistance, price) in [
        (own.resistance, 1_100),
        (own.resistance, 3_000),
        (ohms(0.9), own.price),
        (ohms(9.0), own.price),
    ] {
        let mut problem = problem.clone();
        problem.reel = Some(Reel {
            resistance,
            price,
            ..own
        });
        let outcome = problem.check().expect("sound").plan().expect("solved");
        let RunOutcome::Planned(plan) = outcome else {
            panic!("{resistance:?}, {price}: {outcome:#?}")
        };
        assert!(plan.lower_bound <= plan.cost);
        // The next best begins with another kind of segment, and costs no less.
        if let Some(other) = &plan.runner_up {
            let first = &plan.segments[0];
            let cable = &first.feeds[0].cable;
            let own = format!("fed at {} through {cable} from", first.pattern.words());
            let begins = other.what.split("; ").next().expect("a first segment");
            assert!(!begins.contains(&own), "{}", other.what);
            assert!(other.cost >= plan.cost);
        }
    }
}

/// The longest route against planning the run again with a route as long, and with one a little longer.
#[test]
fn a_cable_at_its_longest_route_holds_and_beyond_it_does_not() {
    let at = |metres: f64| {
        small(|text| {
            text.replace("length = \"3 m\"", &format!("length = \"{metres:.2} m\""))
                .replace(
                    "basis = \"measured\" }]",
                    "basis = \"measured\" }]\nfeed_points = [\"0 m\"]",
                )
        })
        .expect("sound")
    };
    let feeder = |plan: &plan::model::Plan| {
        let row = plan.cables.iter().find(|c| c.id.starts_with("F-"));
        let row = row.expect("a feeder");
        let metres = |r: evenrun::quantity::RouteLength| r.length().value;
        (metres(row.route), row.longest.map(metres))
    };
    let (route, longest) = feeder(&at(3.0));
    let more = longest.expect("light ends somewhere") - route;
    assert!(more > 1.0, "{more}");
    let light = |plan: &plan::model::Plan| {
        let found = plan
            .findings
            .iter()
            .filter(|f| f.id == "feed-least-current");
        found.filter(|f| f.is_fail()).count()
    };
    let last = at(3.0 + more);
    assert_eq!(light(&last), 0);
    let (route, longest) = feeder(&last);
    assert!((longest.expect("the same limit") - route).abs() < 0.011);
    assert_eq!(light(&at(3.0 + more + 0.02)), 1);
}

/// What was assumed, by the words before the colon.
fn assumed(plan: &plan::model::Plan) -> Vec<String> {
    let words = plan.assumptions.iter().map(|a| a.what.as_str());
    words
        .filter_map(|what| Some(what.split_once(':')?.0.to_string()))
        .collect()
}

#[test]
fn assumed_means_that_the_job_was_silent() {
    let plan_with = |limits: &str| {
        let limits = format!("[limits]\n{limits}");
        small(|text| text.replace("[limits]\n", &limits)).expect("sound")
    };
    let silent = plan_with("");
    let keys = [
        ("load factor", "load_factor = \"80 %\""),
        ("slack", "slack = \"300 mm\""),
        ("chopped feeder", "chopped_feeder = \"25 ft\""),
        ("chain devices", "chain_devices = 20"),
        ("chain length", "chain_length = \"300 ft\""),
        ("spare tape", "spare_tape = \"5 %\""),
    ];
    for (words, stated) in keys {
        let own = assumed(&plan_with(&format!("{stated}\n")));
        let mut rest = assumed(&silent);
        assert!(rest.iter().any(|what| what == words), "{words}: {rest:?}");
        rest.retain(|what| what != words);
        assert_eq!(own, rest, "{words}");
    }
    // Of three temperatures one is stated: the other two were assumed.
    let cold = assumed(&plan_with("cell_cold = \"15 °C\"\n"));
    assert!(assumed(&silent).contains(&"cell cold, nominal, hot".to_string()));
    assert!(cold.iter().any(|what| what == "cell nominal"));
    assert!(cold.iter().any(|what| what == "cell hot"));
    assert!(
        !cold
            .iter()
            .any(|what| what.contains("cold,") || what == "cell cold")
    );
}
