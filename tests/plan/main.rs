//! The whole way from a job file to its schedules.

mod bought;
mod control;
mod copper;
mod drop;

use evenrun::design::{
    Assumed, Cable, Design, Item, LengthUnits, Segment, SegmentFigures, Solved, Stock, StockKind,
    Terminals, UsedIn,
};
use evenrun::finding::{Figure, Finding, Limit, Subject, Verdict};
use evenrun::id::ProductId;
use evenrun::job::spec::LimitKey;
use evenrun::progress::{Go, Progress, Step};
use evenrun::quantity::{amps, celsius, percent};
use evenrun::{job, plan, report, rules};
use std::sync::OnceLock;

mod fixed;
mod lacks;
mod limits;
mod overview;
mod relaxed;
#[cfg(feature = "parallel")]
mod threads;
mod together;

const DEMO: &str = include_str!("../../examples/archive_wing.toml");

fn demo_job() -> &'static job::Job {
    static JOB: OnceLock<job::Job> = OnceLock::new();
    JOB.get_or_init(|| job::read(DEMO, "archive_wing.toml").expect("the demo is sound"))
}

fn demo() -> &'static Design {
    static PLAN: OnceLock<Design> = OnceLock::new();
    PLAN.get_or_init(|| plan::plan(demo_job()))
}

/// One short white run with everything it needs; `edit` changes the text.
fn small(edit: impl Fn(String) -> String) -> Result<Design, String> {
    let text = edit(include_str!("small.toml").to_string());
    job::read(&text, "small.toml")
        .map(|job| plan::plan(&job))
        .map_err(|f| f.to_string())
}

/// What the rule of this id says.
fn said_by<'d>(design: &'d Design, rule: &str) -> Vec<&'d Finding> {
    assert!(rules::find(rule).is_some(), "{rule} is no rule");
    let all = design.findings.iter();
    all.filter(|f| f.rule.as_str() == rule).collect()
}

/// Figures of a segment that was solved.
fn figures(segment: &Segment) -> &SegmentFigures {
    let figures = segment.solved.figures();
    figures.unwrap_or_else(|| panic!("{segment:?}"))
}

/// Stock lengths of one kind.
fn stock(design: &Design, kind: StockKind) -> Vec<&Stock> {
    design.stock.iter().filter(|s| s.kind == kind).collect()
}

/// The feeder of the first feed.
fn feeder(design: &Design) -> &Cable {
    let to_tape = |cable: &&Cable| matches!(cable.to, Terminals::Segment { .. });
    let first = design.cables.iter().find(to_tape).expect("a feeder");
    assert_eq!(first.id, design.feeds[0].cable);
    first
}

/// Minor units or bodies of a cost.
fn minor(cost: evenrun::quantity::Cost) -> i64 {
    cost.printed(&evenrun::quantity::Currency::default()).0
}

#[test]
fn the_demo_breaks_the_one_rule_it_means_to() {
    let fails: Vec<&Finding> = demo().findings.iter().filter(|f| f.is_fail()).collect();
    let [fail] = fails.as_slice() else {
        panic!("{fails:#?}")
    };
    assert_eq!(fail.rule.as_str(), "chain-terminator");
    let Subject::Point { link, at } = &fail.about else {
        panic!("{fail:?}")
    };
    // The one chain without a terminator, at its far end.
    let open = demo().chains.iter().filter(|c| c.terminator.is_none());
    let [open] = open.collect::<Vec<_>>()[..] else {
        panic!("{:#?}", demo().chains)
    };
    assert_eq!((&link.chain, &link.output), (&open.id, &None));
    let last = open.devices.last().expect("devices on it");
    assert_eq!(at.as_str(), last.name.as_str());
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
        if run.path.inside_corners + run.path.outside_corners == 0 {
            assert_eq!(sum, run.drawn.nanometres(), "{}", run.id);
        }
        let pieces = || demo().pieces.iter().filter(|piece| piece.run == run.id);
        let cut: u64 = pieces().map(|piece| piece.increments).sum();
        assert_eq!(cut, run.increments, "{}", run.id);
        let lit: i64 = pieces().map(|piece| piece.length.nanometres()).sum();
        assert_eq!(lit, run.lit.nanometres(), "{}", run.id);
        // Segments cover the run, mark by mark.
        let segments = demo().segments.iter().filter(|s| s.run == run.id);
        let end = segments.fold(0, |from, segment| {
            assert_eq!(segment.first, from, "{}", segment.id);
            segment.last
        });
        assert_eq!(end, run.increments, "{}", run.id);
    }
}

#[test]
fn the_joint_solve_keeps_what_was_planned() {
    for segment in &demo().segments {
        let own = figures(segment);
        assert!(own.least_current.low.si() >= 0.70 - 1e-9, "{}", segment.id);
        assert!(own.least_current.low <= own.least_current.nominal);
        assert!(own.power.low < own.power.high);
        assert!(own.volt_error_bound.si() < 1e-6);
    }
    for supply in &demo().supplies {
        let load = supply.load.power().expect("solved").nominal.si();
        let derated = supply.derated.si();
        assert!(load <= (0.8 + 1e-9) * derated, "{}", supply.id);
        assert!((supply.permitted.si() - 0.8 * derated).abs() < 1e-9 * derated);
    }
    // Power: tape and wiring together are what the supplies give.
    let loads = demo().supplies.iter().map(|s| s.load.power());
    let given: f64 = loads.map(|load| load.expect("solved").nominal.si()).sum();
    let zones = demo().energy.iter().map(|e| (e.tape, e.wiring));
    let taken: f64 = zones
        .map(|(tape, wiring)| tape.expect("solved").si() + wiring.expect("solved").si())
        .sum();
    assert!((given - taken).abs() < 1e-6 * given, "{given} {taken}");
}

#[test]
fn slots_never_overlap_and_never_leave_the_universe() {
    let mut seen = std::collections::BTreeSet::new();
    for row in &demo().slots {
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
        assert!(found.is_some_and(|f| f.1.lines().count() > 2), "{name}");
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

/// What the job states of its places and decoders stands in the schedules that are for it.
#[test]
fn access_circuit_and_shortest_pulse_are_used() {
    let files = report::files(demo());
    let sheet = |name: &str| &files.iter().find(|file| file.0 == name).expect("a sheet").1;
    assert!(sheet("supplies.csv").contains("\"ceiling hatch, ladder needed\""));
    assert!(sheet("findings.csv").contains("supplies on circuit DB2 / 7"));
    // 2 µs of the 500 µs of a period at 2 kHz.
    let mut decoders = csv::Reader::from_reader(sheet("decoders.csv").as_bytes());
    let headings = decoders.headers().expect("headings").clone();
    let at = headings.iter().position(|key| key == "shortest_percent");
    let row = decoders
        .records()
        .next()
        .expect("a decoder")
        .expect("a row");
    assert_eq!(
        at.and_then(|at| row.get(at)),
        Some("0.40"),
        "{headings:?} {row:?}"
    );
}

#[test]
fn a_run_shorter_than_one_cut_is_refused_with_its_place() {
    let told = small(|text| text.replace("straight = \"2 m\"", "straight = \"40 mm\""));
    assert_eq!(
        told.err().as_deref(),
        Some(
            "small.toml:49:8: run \"A\": path leaves 40 mm for the longest piece of tape, less than the cut \
             pitch of `white`, 50 mm. Take a tape with a shorter cut pitch, or leave this run out"
        )
    );
}

#[test]
fn a_cable_hotter_than_its_insulation_fails() {
    let rated_60 = |text: String| text.replace("insulation = \"90 °C\"", "insulation = \"60 °C\"");
    // What is taken when the job is silent fits the cable.
    let silent = small(rated_60).expect("sound");
    assert!(said_by(&silent, "cable-insulation").is_empty());
    let plan = small(|text| rated_60(text) + "conductor_hot = \"75 °C\"\n").expect("sound");
    let found = said_by(&plan, "cable-insulation");
    assert!(!found.is_empty());
    for found in found {
        assert_eq!(found.verdict, Verdict::Fail);
        assert_eq!(
            found.about,
            Subject::Cable(ProductId::new("2 x 18 AWG")),
            "{found:?}"
        );
    }
}

#[test]
fn a_cable_without_a_way_of_installation_is_not_evaluated() {
    let plan = small(|text| text).expect("sound");
    let why = feeder(&plan).ampacity.current.clone();
    let none = Solved::Not("the job does not say how it is installed".into());
    assert_eq!(why, none);
    let own = said_by(&plan, "conductor-load");
    let feed = &plan.feeds[0].id;
    let of_feeder =
        |f: &&&Finding| matches!(&f.about, Subject::Feeder { feed: own, .. } if own == feed);
    let judged: Vec<&&Finding> = own.iter().filter(of_feeder).collect();
    assert_eq!(judged.len(), 2, "plus and return: {own:#?}");
    assert!(judged.iter().all(|f| f.is_not_evaluated()));
}

#[test]
fn a_far_place_and_a_thin_wire_end_in_a_finding_with_a_remedy() {
    let plan = small(|text| text.replace("length = \"3 m\"", "length = \"300 m\"")).expect("sound");
    let found = said_by(&plan, "feed-least-current");
    let found = found.first().expect("a finding");
    assert!(
        found.is_fail() && rules::words(found).remedy.contains("thicker wire"),
        "{found:?}"
    );
    let light = found.figure.expect("the least current").value();
    assert_eq!(found.limit, Some(Limit::AtLeast(percent(70.0).into())));
    assert!(light > 0.0 && light < 0.7, "{found:?}");
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
        let mut plan = plan.expect("sound");
        // What is planned is the same; in what it is printed is not.
        plan.job.units = LengthUnits::Metric;
        report::files(&plan)
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
    let lost = said_by(&plan, "conductor-feed-lost");
    // Either feeder, plus and return, with the other feed lost: judged against 6 A, and within it.
    for [own, other] in [[0, 1], [1, 0]].map(|pair| pair.map(|at| &plan.feeds[at].id)) {
        let about = |f: &&&Finding| matches!(&f.about, Subject::Feeder { feed, .. } if feed == own);
        let judged: Vec<&&Finding> = lost.iter().filter(about).collect();
        assert_eq!(judged.len(), 2, "{lost:#?}");
        for finding in judged {
            assert_eq!(finding.case, "lost");
            assert!(finding.verdict >= Verdict::AtLimit, "{finding:?}");
            assert_eq!(finding.limit, Some(Limit::AtMost(amps(6.0).into())));
            assert_eq!(
                finding.value("feed"),
                Some(&Subject::Feed(other.clone()).into())
            );
        }
    }
    assert!(lost.iter().all(|f| !f.is_fail()), "{lost:?}");
}

/// Two legs of 1 m meet in a mitred square corner: a profile 20 mm wide is cut 10 mm longer at the
/// mitre, so two legs and a 4 mm kerf take 2.024 m and no bar of 2.02 m.
#[test]
fn bars_show_mitres_and_offcuts() {
    let shelf = ProductId::new("shelf");
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
    let (bars, covers) = (stock(&plan, StockKind::Bar), stock(&plan, StockKind::Cover));
    assert_eq!((bars.len(), covers.len()), (2, 2));
    for bar in bars.iter().chain(&covers) {
        assert_eq!(bar.product, shelf, "{bar:?}");
        assert_eq!(bar.parts.len(), 1, "{bar:?}");
        assert_eq!(bar.parts[0].length.nanometres(), 1_010_000_000, "{bar:?}");
    }
    let cover = |stock: &&Stock| stock.cover.as_ref().map(|c| c.description.to_string());
    assert!(bars.iter().all(|bar| cover(bar).is_none()));
    assert!(
        covers
            .iter()
            .all(|one| cover(one).as_deref() == Some("opal"))
    );
    // 2.02 m less 1.01 m and a cut of 4 mm.
    for bar in bars {
        assert_eq!(bar.offcut.nanometres(), 1_006_000_000);
        assert_eq!(bar.kerf.nanometres(), 4_000_000);
    }
    let bar = Item::Bar {
        profile: shelf,
        cover: None,
    };
    let bought = plan.materials.iter().find(|m| m.item == bar);
    let kept = "2.012 m".parse().expect("a length");
    assert_eq!(bought.expect("bars to buy").used, UsedIn::Bars { kept });
}

/// The joint between reels of the tape `white`.
fn joint_of_reels() -> Item {
    Item::ReelJoint(ProductId::new("white"))
}

/// A run of 2 m from reels of 1 m: two reels and one joint, in the schedule and on the order list.
#[test]
fn reels_show_their_joints() {
    let plan = small(|text| text.replace("reel = \"5 m\"", "reel = \"1 m\"")).expect("a plan");
    let reels = stock(&plan, StockKind::Reel);
    assert_eq!(reels.len(), 2);
    for (part, reel) in (1..).zip(&reels) {
        assert_eq!(
            (reel.parts[0].part, reel.parts[0].of),
            (part, 2),
            "{reel:?}"
        );
        assert_eq!(reel.parts[0].piece, plan.pieces[0].id);
        assert_eq!(reel.parts[0].length.nanometres(), 1_000_000_000);
    }
    let own: Vec<_> = reels.iter().map(|reel| reel.id.clone()).collect();
    assert_eq!(plan.pieces[0].reels, own);
    let joint = plan.materials.iter().find(|m| m.item == joint_of_reels());
    assert_eq!(joint.expect("a joint to make").needed, Figure::count(1));
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
    let low = |plan: &Design| figures(&plan.segments[0]).least_volts.low.si();
    assert_eq!(none.segments.len(), 1);
    let taken = low(&none) - low(&some);
    // 20 increments of 20 mA at most, twice 100 mΩ; at the low corner they draw less, and less again behind the joint.
    let most = 2.0 * 0.1 * 20.0 * 0.02;
    assert!(taken > 0.7 * most && taken < most, "{taken} V of {most} V");
    let says = |plan: &Design| !said_by(plan, "reel-joint").is_empty();
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
    assert!(parted.materials.iter().all(|m| m.item != joint_of_reels()));
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
    let routes = |plan: &Design| {
        let row = feeder(plan);
        (row.route.metres(), row.longest.map(|longest| longest.si()))
    };
    let (route, longest) = routes(&at(3.0));
    let more = longest.expect("light ends somewhere") - route;
    assert!(more > 1.0, "{more}");
    let light = |plan: &Design| {
        let found = said_by(plan, "feed-least-current");
        found.iter().filter(|f| f.is_fail()).count()
    };
    let last = at(3.0 + more);
    assert_eq!(light(&last), 0);
    let (route, longest) = routes(&last);
    assert!((longest.expect("the same limit") - route).abs() < 0.011);
    assert_eq!(light(&at(3.0 + more + 0.02)), 1);
}

/// What was assumed.
fn assumed(plan: &Design) -> Vec<Assumed> {
    plan.assumed.iter().map(|a| a.what).collect()
}

#[test]
fn assumed_means_that_the_job_was_silent() {
    let plan_with = |limits: &str| {
        let limits = format!("[limits]\n{limits}");
        small(|text| text.replace("[limits]\n", &limits)).expect("sound")
    };
    let silent = plan_with("");
    let keys = [
        (LimitKey::LoadFactor, "load_factor = \"80 %\""),
        (LimitKey::Slack, "slack = \"300 mm\""),
        (LimitKey::ChoppedFeeder, "chopped_feeder = \"25 ft\""),
        (LimitKey::ChainDevices, "chain_devices = 20"),
        (LimitKey::ChainLength, "chain_length = \"300 ft\""),
        (LimitKey::SpareTape, "spare_tape = \"5 %\""),
    ];
    for (key, stated) in keys {
        let what = Assumed::Limit(key);
        let own = plan_with(&format!("{stated}\n"));
        let mut rest = assumed(&silent);
        assert!(rest.contains(&what), "{key:?}: {rest:?}");
        rest.retain(|other| *other != what);
        assert_eq!(assumed(&own), rest, "{key:?}");
        // The same value, stated, gives the same plan; only where it comes from differs.
        assert_eq!(own.segments, silent.segments, "{key:?}");
    }
    // Of three temperatures one is stated: the other two were assumed.
    let cold = assumed(&plan_with("cell_cold = \"15 °C\"\n"));
    let cells = silent.assumed.iter().find(|a| a.what == Assumed::Cells);
    let warm = [15.0, 45.0, 70.0].map(|degrees| Figure::from(celsius(degrees)));
    assert_eq!(cells.map(|a| a.values.as_slice()), Some(&warm[..]));
    for key in [LimitKey::CellNominal, LimitKey::CellHot] {
        assert!(cold.contains(&Assumed::Limit(key)), "{key:?}");
        assert!(!assumed(&silent).contains(&Assumed::Limit(key)), "{key:?}");
    }
    for what in [Assumed::Cells, Assumed::Limit(LimitKey::CellCold)] {
        assert!(!cold.contains(&what), "{what:?}");
    }
}
