//! What is printed for each reader: a sheet a run with every figure of it, a file a reader, a priced order, the units of the job.

use evenrun::design::{Design, Item, LengthUnits, Spare};
use evenrun::report::{self, Placing, Schedule};
use evenrun::{job, plan};
use std::collections::BTreeSet;
use std::sync::OnceLock;

const DEMO: &str = include_str!("../../examples/archive_wing.toml");
const SMALL: &str = include_str!("../plan/small.toml");

fn planned(text: &str) -> Design {
    plan::plan(&job::read(text, "job.toml").unwrap_or_else(|faults| panic!("{faults}")))
}

fn demo() -> &'static Design {
    static PLAN: OnceLock<Design> = OnceLock::new();
    PLAN.get_or_init(|| planned(DEMO))
}

fn us() -> &'static Design {
    static PLAN: OnceLock<Design> = OnceLock::new();
    PLAN.get_or_init(|| planned(include_str!("../jobs/us_units.toml")))
}

/// Columns of rows about a run that its sheet does not repeat, each with the reason.
const NOT_ON_A_SHEET: &[(&str, &str, &str)] = &[
    (
        "readings",
        "instrument",
        "the same for every reading: stands in the site's file",
    ),
    (
        "readings",
        "likely",
        "the same for every reading: stands in the site's file",
    ),
    (
        "choices",
        "problem",
        "what the search was permitted, the same for runs alike: stands in the designer's file",
    ),
    (
        "choices",
        "reason",
        "on what a bound rests: stands in the designer's file",
    ),
    (
        "cables",
        "functions",
        "colours of cores are for whoever makes the lead up: stands in the electrician's file",
    ),
    (
        "cables",
        "basis",
        "how sure a route is: stands in the electrician's file",
    ),
    (
        "protection",
        "answer",
        "what fails and the limits left stand above it on the sheet",
    ),
    (
        "protection",
        "not_evaluated",
        "what was not evaluated stands above it on the sheet",
    ),
    (
        "supplies",
        "why",
        "of the choice of devices, not of a run: stands in the electrician's file",
    ),
    (
        "supplies",
        "feeds",
        "other runs of the same supply: stands in the electrician's file",
    ),
    (
        "bars",
        "order",
        "the saw's order along a bar: stands in the bench's file",
    ),
    (
        "reels",
        "order",
        "the order along a reel: stands in the bench's file",
    ),
];

/// Every number in a text: digits with points between.
fn numbers(text: &str) -> BTreeSet<String> {
    let parts = text.split(|c: char| !(c.is_ascii_digit() || c == '.'));
    let parts = parts.map(|part| part.trim_matches('.'));
    parts
        .filter(|part| !part.is_empty())
        .map(str::to_string)
        .collect()
}

/// Numbers of the rows of a run that a sheet lacks.
fn missing(schedules: &[Schedule], run: &evenrun::id::RunId, sheet: &str) -> Vec<String> {
    let said = numbers(sheet);
    let mut out = Vec::new();
    for schedule in schedules {
        let own = schedule.of_run(run);
        for row in &own.rows {
            for (column, cell) in own.columns.iter().zip(row) {
                let left = NOT_ON_A_SHEET
                    .iter()
                    .any(|(key, name, _)| *key == own.key && *name == column.key);
                if left || column.placing == Placing::File {
                    continue;
                }
                for number in numbers(cell.printed()).difference(&said) {
                    out.push(format!("{}, {}: {number}", own.key, column.key));
                }
            }
        }
    }
    out
}

/// Any figure of a run is found on its sheet.
#[test]
fn every_figure_of_a_run_stands_on_its_sheet() {
    let others = ["corner", "several_places", "forty_eight_volt"].map(|name| {
        let path = format!("{}/tests/jobs/{name}.toml", env!("CARGO_MANIFEST_DIR"));
        planned(&std::fs::read_to_string(path).expect("a job"))
    });
    for design in others.iter().chain([demo(), us()]) {
        let schedules = report::schedules(design);
        let mut rows = 0;
        for run in &design.runs {
            let sheet = report::run_sheet(design, &run.id, 100).expect("a sheet");
            let lacks = missing(&schedules, &run.id, &sheet);
            assert!(lacks.is_empty(), "run {}: {lacks:#?}\n{sheet}", run.id);
            assert!(
                sheet.lines().all(|line| line.chars().count() <= 100),
                "{sheet}"
            );
            rows += schedules
                .iter()
                .map(|s| s.of_run(&run.id).rows.len())
                .sum::<usize>();
        }
        assert!(rows > 10 * design.runs.len(), "{rows} rows speak of runs");
    }
    // The check can fail: the sheet of another run lacks much.
    let [first, .., last] = demo().runs.as_slice() else {
        panic!("several runs");
    };
    let other = report::run_sheet(demo(), &last.id, 100).expect("a sheet");
    assert!(missing(&report::schedules(demo()), &first.id, &other).len() > 20);
}

/// Each column that is left out exists, so that the list does not outlive what it excuses.
#[test]
fn what_a_sheet_leaves_out_exists() {
    let schedules = report::schedules(demo());
    for (key, name, reason) in NOT_ON_A_SHEET {
        let schedule = schedules.iter().find(|schedule| schedule.key == *key);
        let columns = &schedule.expect("a schedule").columns;
        assert!(
            columns.iter().any(|column| column.key == *name),
            "{key}, {name}"
        );
        assert!(!reason.is_empty());
    }
}

/// Cuts, feeds and supplies of a run are said in metres, on one page of lines that fit.
#[test]
fn a_sheet_says_where_a_run_is_cut_and_fed() {
    for run in &demo().runs {
        let sheet = report::run_sheet(demo(), &run.id, 100).expect("a sheet");
        for heading in [
            "FEEDING, VOLTS AND LIGHT",
            "LIMITS LEFT",
            "CUTS",
            "READINGS TO EXPECT ON SITE",
        ] {
            assert!(sheet.contains(heading), "{heading}: {sheet}");
        }
        let segments = demo()
            .segments
            .iter()
            .filter(|segment| segment.run == run.id);
        for segment in segments {
            for feed in demo()
                .feeds
                .iter()
                .filter(|feed| feed.segment == segment.id)
            {
                let at = format!("feed {} at {:.2} m", feed.id, feed.position.metres());
                assert!(sheet.contains(&at), "{at}: {sheet}");
            }
        }
        assert!(!sheet.contains("increment"), "{sheet}");
    }
    assert_eq!(report::run_sheet(demo(), &"nobody".into(), 100), None);
}

/// The run that a broken chain concerns says so; another does not.
#[test]
fn what_fails_stands_on_the_sheets_that_it_concerns() {
    let sheet = |run: &str| report::run_sheet(demo(), &run.into(), 100).expect("a sheet");
    assert!(sheet("W2").contains("no terminator at the far end"));
    assert!(sheet("S1").contains("Nothing that is judged here fails on this run."));
}

/// Each reader has a file that says whose it is; every schedule with a row stands in one of them.
#[test]
fn each_reader_has_a_file() {
    let files = report::files(demo());
    let text = |name: &str| {
        let found = files.iter().find(|file| file.0 == name);
        found.unwrap_or_else(|| panic!("{name}")).1.clone()
    };
    let readers = [
        "designer",
        "electrician",
        "bench",
        "programmer",
        "purchasing",
        "site",
    ];
    let all: Vec<String> = readers
        .iter()
        .map(|name| text(&format!("{name}.txt")))
        .collect();
    for (name, page) in readers.iter().zip(&all) {
        let says = if *name == "purchasing" {
            "For purchasing:".to_string()
        } else {
            format!("For the {name}:")
        };
        assert!(page.contains(&says), "{page}");
        assert!(
            page.contains("no terminator at the far end"),
            "{name} is not told what fails"
        );
        assert!(
            page.lines().all(|line| line.chars().count() <= 100),
            "{page}"
        );
    }
    for schedule in report::schedules(demo()) {
        let heading = format!("  {}\n", schedule.title.to_uppercase());
        let stands = all.iter().any(|page| page.contains(&heading));
        // The cautions stand as a list.
        assert_eq!(
            stands,
            !schedule.rows.is_empty() && schedule.key != "cautions",
            "{}",
            schedule.key
        );
    }
    assert!(text("run_sheets.txt").matches("LIMITS LEFT").count() == demo().runs.len());
    assert!(!files.iter().any(|file| file.0 == "plan.txt"));
}

/// Passes are counted and not printed, nothing is to be done about them, and what no job can answer is not missing.
#[test]
fn exceptions_are_printed_and_passes_counted() {
    let page = report::text(demo(), 100);
    assert!(page.lines().count() < 3000, "{}", page.lines().count());
    assert!(page.contains("Passed, with the number of places:"));
    let findings = report::schedules(demo());
    let findings = findings
        .iter()
        .find(|schedule| schedule.key == "findings")
        .expect("findings");
    let at = |key: &str| {
        findings
            .columns
            .iter()
            .position(|column| column.key == key)
            .expect("a column")
    };
    let (verdict, remedy) = (at("verdict"), at("remedy"));
    let passes: Vec<_> = findings
        .rows
        .iter()
        .filter(|row| row[verdict].printed() == "pass")
        .collect();
    assert!(passes.len() > 50);
    assert!(passes.iter().all(|row| row[remedy].printed().is_empty()));
    assert!(page.contains("Outside this calculation, whatever the job: "));
    let open = demo()
        .findings
        .iter()
        .filter(|finding| finding.is_not_evaluated());
    let outside = open
        .filter(|finding| evenrun::rules::is_outside(finding.rule.as_str()))
        .count();
    assert_eq!(outside, 4);
    let because = report::incomplete_because(demo());
    assert_eq!(
        because,
        ["1 limit is broken", "3 questions were not evaluated"]
    );
}

fn price(text: &toml::Table, list: &str, name: &str, key: &str) -> i64 {
    let all = text[list].as_array().expect("a list");
    let own = all.iter().find(|one| one["name"].as_str() == Some(name));
    own.unwrap_or_else(|| panic!("{name}"))[key]
        .as_integer()
        .expect("a price")
}

/// Each line costs what the job file says a pack costs, and the total is their sum: read from the file apart from the library.
#[test]
fn the_order_is_priced_as_the_job_says() {
    let text: toml::Table = DEMO.parse().expect("TOML");
    let mut total = 0;
    for line in &demo().materials {
        let stated = match &line.item {
            Item::Tape(id) => Some(price(&text, "strip", id.as_str(), "price_minor")),
            Item::Cable(id) => Some(price(&text, "cable", id.as_str(), "price_per_metre_minor")),
            Item::Supply(id) => Some(price(&text, "supply", id.as_str(), "price_minor")),
            Item::Decoder(id) => Some(price(&text, "decoder", id.as_str(), "price_minor")),
            Item::ReelJoint(_) | Item::Bar { .. } => line.price.map(|price| price.minor_units()),
            _ => None,
        };
        assert_eq!(
            line.price.map(|price| price.minor_units()),
            stated,
            "{:?}",
            line.item
        );
        total += stated.unwrap_or(0) * line.order as i64;
    }
    // Bars and joints by hand: 16 at 26.00, 2 at 21.50, 10 at 31.00, 15 at 33.50, covers 2 at 7.40, 10 at 10.80, 15 at 6.90;
    // four joints at 1.80.
    let by_hand = 41_600 + 4_300 + 31_000 + 50_250 + 1_480 + 10_800 + 10_350 + 720;
    let own: i64 = demo()
        .materials
        .iter()
        .filter(|line| matches!(line.item, Item::ReelJoint(_) | Item::Bar { .. }))
        .filter_map(|line| Some(line.sum()?.minor_units()))
        .sum();
    assert_eq!(own, by_hand);
    let said = format!(
        "Total of what the job prices: EUR {}.{:02}",
        total / 100,
        total % 100
    );
    assert!(report::overview(demo(), 100).contains(&said), "{said}");
    let purchasing = report::files(demo());
    let page = purchasing
        .iter()
        .find(|file| file.0 == "purchasing.txt")
        .expect("the file");
    let page = page.1.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        page.contains(&said) && page.contains("Without a price: 13 lines: joint for cove profile;"),
        "{page}"
    );
}

/// A small job is not sold a second reel, a second supply or a second terminator; a stated share is kept.
#[test]
fn a_small_job_has_no_spare_of_few() {
    let small = planned(SMALL);
    for line in &small.materials {
        if line.used != evenrun::design::UsedIn::Cables
            && line.used != evenrun::design::UsedIn::Chains
        {
            assert_eq!(line.order as f64, line.needed.value(), "{:?}", line.item);
        }
        assert_ne!(line.spare, Spare::One, "{:?}", line.item);
    }
    // From reels of 2 m nothing is left of 2 m: five per cent, where the job asks for them, are one reel more.
    let asks = |limits: &str| {
        let text = SMALL
            .replace("reel = \"5 m\"", "reel = \"2 m\"")
            .replace("[limits]", limits);
        let design = planned(&text);
        let tape = design
            .materials
            .iter()
            .find(|line| matches!(line.item, Item::Tape(_)));
        tape.expect("tape").order
    };
    assert_eq!(asks("[limits]"), 1);
    assert_eq!(asks("[limits]\nspare_tape = \"5 %\""), 2);
    // Five and more of a kind have one more.
    let decoders = demo()
        .materials
        .iter()
        .find(|line| matches!(line.item, Item::Decoder(_)));
    let decoders = decoders.expect("decoders");
    assert_eq!(decoders.order as f64, decoders.needed.value() + 1.0);
}

/// A job in feet is printed in feet, inches and degrees Fahrenheit; its files keep metres under headings that say so.
#[test]
fn a_job_in_feet_is_printed_in_feet() {
    assert_eq!(us().job.units, LengthUnits::Us);
    assert_eq!(demo().job.units, LengthUnits::Metric);
    let metric = |word: &str, next: &str| {
        let next = next.trim_end_matches([',', ';', '.', ':', ')']);
        word.trim_start_matches('(').parse::<f64>().is_ok()
            && matches!(next, "m" | "mm" | "cm" | "°C" | "kg" | "W/m")
    };
    let sheets = report::run_sheets(us(), 100);
    let page = report::overview(us(), 100) + &sheets;
    let words: Vec<&str> = page.split_whitespace().collect();
    let found: Vec<&[&str]> = words
        .windows(2)
        .filter(|two| metric(two[0], two[1]))
        .collect();
    assert!(found.is_empty(), "{found:?}");
    assert!(
        !page.contains(", mm") && !page.contains("Route, m"),
        "{page}"
    );
    // As the drawing has it, and as it is fed.
    assert!(
        page.contains("17 ft 5-1/4 in drawn") && page.contains("AWG"),
        "{page}"
    );
    let cuts = report::files(us());
    let cuts = &cuts
        .iter()
        .find(|file| file.0 == "cuts.csv")
        .expect("cuts")
        .1;
    assert!(cuts.contains("length_mm"), "{cuts}");
    // 17 ft 2 in are 5232.4 mm.
    assert!(cuts.contains("5232.4"), "{cuts}");
    let both = SMALL.replace("length = \"3 m\"", "length = \"10 ft\"");
    assert_ne!(both, SMALL);
    let both = planned(&both);
    assert_eq!(both.job.units, LengthUnits::Both);
    assert!(report::overview(&both, 100).contains("2.00 m (6 ft 6-3/4 in) lit"));
}

/// Supplies are called by their places and numbered there, in the order of the runs; one more run in another place renames none.
#[test]
fn supplies_are_numbered_by_place() {
    let mut numbers = std::collections::BTreeMap::new();
    let fixed: Vec<&str> = demo()
        .supplies
        .iter()
        .filter(|s| s.fixed)
        .map(|s| s.id.as_str())
        .collect();
    assert_eq!(fixed, ["PS-store"]);
    for supply in demo().supplies.iter().filter(|supply| !supply.fixed) {
        let number: &mut usize = numbers.entry(&supply.place).or_default();
        *number += 1;
        assert_eq!(supply.id.as_str(), format!("PS-{}-{number}", supply.place));
    }
    let ids: BTreeSet<&str> = demo().supplies.iter().map(|s| s.id.as_str()).collect();
    assert_eq!(ids.len(), demo().supplies.len());
    // Without the runs that only the foyer store feeds, the riser cupboard's keep their names.
    let cupboard = |design: &Design| -> Vec<String> {
        let own = design
            .supplies
            .iter()
            .filter(|s| s.place.as_str() == "riser cupboard");
        own.map(|s| s.id.to_string()).collect()
    };
    let at = DEMO.find("[[run]]\nname = \"W1\"").expect("run W1");
    let end = DEMO[at + 1..]
        .find("\n[[")
        .map(|n| at + 2 + n)
        .expect("what follows");
    let without = planned(&format!("{}{}", &DEMO[..at], &DEMO[end..]));
    assert_eq!(without.runs.len() + 1, demo().runs.len());
    assert_eq!(cupboard(&without), cupboard(demo()));
}

/// Cable is bought in whole reels where the job states their length: each route in one piece, the price by the metre of it.
#[test]
fn cable_is_bought_in_whole_reels_where_they_are_stated() {
    let text = DEMO.replacen(
        "price_per_metre_minor = 84\n",
        "price_per_metre_minor = 84\nreel = \"25 m\"\n",
        1,
    );
    assert_ne!(text, DEMO);
    let design = planned(&text);
    let is_cable = |item: &Item| matches!(item, Item::Cable(id) if id.as_str() == "2 x 1.5 mm2");
    let line = design
        .materials
        .iter()
        .find(|line| is_cable(&line.item))
        .expect("the cable");
    let routes: f64 = design
        .cables
        .iter()
        .filter(|cable| cable.kind.as_str() == "2 x 1.5 mm2")
        .map(|cable| cable.route.metres())
        .sum();
    assert!((line.needed.value() - routes).abs() < 1e-9);
    assert!(
        line.order as f64 * 25.0 >= routes && (line.order as f64) < routes / 25.0 + 2.0,
        "{line:?}"
    );
    assert_eq!(line.price.map(|price| price.minor_units()), Some(25 * 84));
    let page = report::overview(&design, 100);
    assert!(
        page.contains(&format!("{} reels of 25 m: cable 2 x 1.5 mm2", line.order)),
        "{page}"
    );
}
