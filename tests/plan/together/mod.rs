//! Small jobs: feeding, decoders and supplies chosen together, against trying everything.

mod brute;
#[path = "../../common/dice.rs"]
mod dice;
#[path = "../../common/gauss.rs"]
mod gauss;

use crate::{minor, said_by};
use brute::Case;
use dice::Dice;
use evenrun::design::{Choice, Chosen, Design, Problem, Proof};
use evenrun::finding::Subject;
use evenrun::id::RunId;
use evenrun::job::{self, Job};
use evenrun::plan;
use evenrun::progress::{Go, Progress, Step};
use evenrun::quantity::{Currency, Money};
use gauss::gauss;

impl Dice {
    fn from(&mut self, low: i64, high: i64) -> i64 {
        low + self.next((high - low + 1) as u64) as i64
    }

    /// A number from `low` to `high`, in thousandths.
    fn between(&mut self, low: f64, high: f64) -> f64 {
        self.from((low * 1000.0) as i64, (high * 1000.0) as i64) as f64 / 1000.0
    }

    fn case(
        &mut self,
        runs: &[usize],
        wires: usize,
        places: usize,
        dimmed: bool,
        ends: bool,
    ) -> Case {
        let thin = [
            ("0.75 mm2", self.from(30, 80)),
            ("1.5 mm2", self.from(80, 150)),
        ];
        let standby = self.next(4) == 0;
        let room = self.next(3) == 0;
        let mut all = vec![thin[self.next(2) as usize], ("4 mm2", self.from(160, 400))];
        all.drain(..2 - wires);
        Case {
            runs: runs.to_vec(),
            wires: all,
            routes: runs
                .iter()
                .map(|_| {
                    (0..places)
                        .map(|_| [self.from(1000, 8000), self.from(1000, 8000)])
                        .collect()
                })
                .collect(),
            dimmed,
            ends,
            amps: self.between(0.4, 1.1),
            knee: self.between(2.0, 14.0),
            rail: self.between(0.01, 0.12),
            least: self.between(0.75, 0.93),
            costs: [self.from(20, 200), self.from(50, 300), self.from(20, 150)],
            supplies: vec![
                (
                    self.from(50, 100) as f64,
                    1,
                    self.between(2.0, 3.2),
                    self.from(1200, 2600),
                ),
                (
                    self.from(120, 250) as f64,
                    self.from(1, 2) as usize,
                    self.between(2.8, 6.0),
                    self.from(2500, 5000),
                ),
            ],
            decoders: vec![
                (1, self.between(2.5, 4.0), 4.0, self.from(500, 2500)),
                (
                    2,
                    self.between(1.2, 2.6),
                    self.between(2.4, 5.0),
                    self.from(700, 3000),
                ),
            ],
            output: 1e-4,
            standby,
            room: room.then(|| [self.from(1, 4) as usize, self.from(1, 4) as usize]),
        }
    }
}

fn planned(text: &str) -> (Job, Design) {
    let job = job::read(text, "shelves.toml").unwrap_or_else(|faults| panic!("{faults}\n{text}"));
    let plan = plan::plan(&job);
    (job, plan)
}

fn choice<'d>(plan: &'d Design, about: &Subject) -> Option<&'d Choice> {
    plan.choices.iter().find(|c| c.about == *about)
}

/// The problem of everything together, in words.
fn stated(choice: &Choice) -> &str {
    match &choice.problem {
        Problem::Stated(words) => words.as_str(),
        Problem::Feeding(run) => panic!("{run}"),
    }
}

/// What the bound rests on.
fn reason(choice: &Choice) -> &str {
    choice.reason.as_str()
}

/// Whether shared copper needed a reserve, with which the plan was chosen again.
fn has_reserve(choice: &Choice) -> bool {
    reason(choice).contains("needs a reserve")
}

fn whole(plan: &Design) -> Option<&Choice> {
    choice(plan, &Subject::Job)
}

/// The bound of the whole job is the least cost of all whole plans, each tried; and the plan costs
/// no more, but where copper that is shared takes what was left.
#[test]
fn small_jobs_cost_what_trying_every_whole_plan_says() {
    let mut dice = Dice(0x51AE_77C3_90D1_24F7);
    let (mut proven, mut reserved, mut none, mut cheaper, mut parted) = (0, 0, 0, 0, 0);
    for (runs, wires, places, dimmed, ends) in [
        (&[2, 2][..], 2, 1, true, true),
        (&[2, 2], 1, 2, true, false),
        (&[3, 2], 1, 1, true, false),
        (&[3, 2], 2, 1, false, true),
        (&[1, 1, 2], 1, 2, true, true),
        (&[3], 2, 1, true, false),
        (&[2, 1], 2, 2, false, false),
        (&[1, 1, 1, 1], 1, 2, true, true),
    ] {
        for _ in 0..6 {
            let case = dice.case(runs, wires, places, dimmed, ends);
            let (job, plan) = planned(&case.text());
            let Some(least) = case.cheapest(&job) else {
                assert!(plan.findings.iter().any(|f| f.is_fail()), "{case:?}");
                none += 1;
                continue;
            };
            let row = whole(&plan).unwrap_or_else(|| panic!("{:#?}\n{case:?}", plan.findings));
            assert!(stated(row).contains("together"), "{}", stated(row));
            assert_eq!(minor(row.lower_bound), least, "{row:?}\n{case:?}");
            if has_reserve(row) {
                assert!(minor(row.cost) >= least);
                reserved += 1;
            } else {
                assert_eq!(minor(row.cost), least, "{row:?}\n{case:?}");
                assert_eq!(row.proof, Proof::Cheapest);
                proven += 1;
            }
            let of_decoders = |c: &Choice| matches!(c.about, Subject::Decoders { .. });
            let with_the_whole = |c: &Choice| c.proof == Proof::WithTheWhole;
            let mut choices = plan.choices.iter();
            parted += usize::from(choices.any(|c| of_decoders(c) && with_the_whole(c)));
            cheaper += usize::from(!reason(row).contains("run by run it costs the same"));
            // The parts of a cost are its cost.
            let Chosen::Whole { feeding, devices } = row.chosen else {
                panic!("{row:?}")
            };
            let parts = feeding.minor_units() + devices.minor_units();
            assert_eq!(parts, minor(row.cost), "{row:?}");
        }
    }
    println!(
        "{proven} proven, {reserved} with a reserve, {none} without a plan, {cheaper} cheaper together, \
         {parted} on decoders that are not the cheapest"
    );
    assert!(proven > 30 && reserved < 6 && cheaper > 5 && parted > 0);
}

/// Two runs on one output of a supply of 0.3 Ω: for some light limits each holds by itself through the thin wire, and not
/// with the other beside it. The bound is then still the least cost of all whole plans whose segments hold by themselves;
/// the plan says that it needs a reserve, and claims no proof.
#[test]
fn a_plan_that_needs_a_reserve_claims_no_proof() {
    let (mut proven, mut reserved) = (0, 0);
    for step in 0..36 {
        let case = Case {
            wires: vec![("1.5 mm2", 40), ("4 mm2", 160)],
            routes: vec![vec![[4000, 6000]], vec![[5000, 6000]]],
            supplies: vec![(150.0, 1, 2.2, 3000)],
            output: 0.3,
            least: 0.8 + 0.005 * f64::from(step),
            ..two_runs()
        };
        let (job, plan) = planned(&case.text());
        let (Some(least), Some(row)) = (case.cheapest(&job), whole(&plan)) else {
            continue;
        };
        assert_eq!(minor(row.lower_bound), least, "{row:?}\n{case:?}");
        if has_reserve(row) {
            assert!(
                minor(row.cost) > least && row.proof == Proof::Gap,
                "{row:?}"
            );
            reserved += 1;
        } else {
            assert!(
                minor(row.cost) == least && row.proof == Proof::Cheapest,
                "{row:?}"
            );
            proven += 1;
        }
    }
    println!("{proven} proven, {reserved} with a reserve");
    assert!(proven > 0 && reserved > 0);
}

/// One run of four increments of 1 A, switched. In one segment it needs the large supply; in two, one small
/// supply of two outputs does.
///
/// By hand: one segment 50 + 100 + 2 m of 100 a metre = 350, and 9000; two segments, fed at the two ends of the
/// run, 2 · 350 + a break of 70 = 770, and 3000.
fn one_run() -> Case {
    Case {
        runs: vec![4],
        wires: vec![("4 mm2", 100)],
        routes: vec![vec![[2000, 2000]]],
        dimmed: false,
        ends: true,
        amps: 1.0,
        knee: 12.0,
        rail: 0.005,
        least: 0.8,
        costs: [50, 100, 70],
        supplies: vec![(250.0, 1, 6.0, 9000), (150.0, 2, 2.2, 3000)],
        decoders: vec![],
        output: 1e-4,
        standby: false,
        room: None,
    }
}

/// Two runs of 1 A: R0 is near P0, R1 near P1, and each place needs a supply of its own, or one run a feeder of 5 m more.
///
/// By hand: apart 2 · (50 + 100 + 200) and two supplies of 3000; together 500 more for 5 m and one supply.
pub fn two_runs() -> Case {
    Case {
        runs: vec![2, 2],
        routes: vec![
            vec![[2000, 9000], [12_000, 15_000]],
            vec![[7000, 9000], [2000, 9000]],
        ],
        amps: 0.5,
        supplies: vec![(150.0, 2, 2.2, 3000)],
        ..one_run()
    }
}

#[test]
fn cutting_a_run_in_two_saves_the_large_supply() {
    let (job, plan) = planned(&one_run().text());
    let row = whole(&plan).expect("everything has a price");
    assert_eq!(
        (minor(row.cost), minor(row.lower_bound), row.proof),
        (770 + 3000, 770 + 3000, Proof::Cheapest)
    );
    assert_eq!(one_run().cheapest(&job), Some(3770));
    assert!(
        reason(row).contains(&format!(
            "costs {} more",
            Currency::of(Some("EUR")).words(Money::from_minor_units(350 + 9000 - 3770))
        )),
        "{}",
        row.reason
    );
    assert_eq!((plan.segments.len(), plan.supplies.len()), (2, 1));
    // The run says why it costs more than it could by itself.
    let run = choice(&plan, &Subject::Run(RunId::new("R0"))).expect("a run");
    assert_eq!(
        (minor(run.cost), minor(run.lower_bound), run.proof),
        (770, 350, Proof::WithTheWhole)
    );
    assert_eq!(
        run.chosen,
        Chosen::Feeding {
            segments: 2,
            feeds: 2
        }
    );
    assert!(said_by(&plan, "feed-proof").is_empty());
    assert!(reason(run).contains("whole job"), "{}", run.reason);
    let other = run.runner_up.as_ref().expect("one by itself");
    assert!(other.what.as_str().ends_with("by itself"), "{}", other.what);
    assert_eq!(other.cost.map(minor), Some(350));
}

/// A run of 2.24 A at 24 V in one segment. Through 3 m of the thick wire it draws too much for the small supply's output
/// of 2.2 A; through as much of the thin one, which is dearer here, it loses 0.3 V of the 12 V over its knee.
///
/// By hand: 50 + 100 + 300 and 9000, or 50 + 100 + 900 and 3000.
#[test]
fn a_dearer_wire_to_the_same_segment_draws_less() {
    let case = Case {
        wires: vec![("0.75 mm2", 300), ("4 mm2", 100)],
        routes: vec![vec![[3000, 9000]]],
        amps: 0.56,
        costs: [50, 100, 5000],
        supplies: vec![(250.0, 1, 6.0, 9000), (150.0, 1, 2.2, 3000)],
        ..one_run()
    };
    let (job, plan) = planned(&case.text());
    let row = whole(&plan).expect("everything has a price");
    assert_eq!(
        (minor(row.cost), row.proof),
        (1050 + 3000, Proof::Cheapest),
        "{row:?}"
    );
    assert_eq!(case.cheapest(&job), Some(4050));
    assert!(plan.feeds.iter().all(|f| f.kind.as_str() == "0.75 mm2"));
}

#[test]
fn a_longer_feeder_saves_a_supply() {
    let (job, plan) = planned(&two_runs().text());
    let row = whole(&plan).expect("everything has a price");
    assert_eq!(
        (minor(row.cost), row.proof),
        (2 * 350 + 500 + 3000, Proof::Cheapest)
    );
    assert_eq!(two_runs().cheapest(&job), Some(4200));
    assert!(
        reason(row).contains("costs EUR 25.00 more"),
        "{}",
        row.reason
    );
    assert!(plan.supplies.iter().all(|s| s.place.as_str() == "P0"));
}

/// A supply that is there at the other place costs nothing: then the other run takes the longer feeder, of 12 m.
#[test]
fn what_is_installed_stays_and_costs_nothing() {
    let text = two_runs().text()
        + "[[installed]]\nname = \"old\"\nsupply = \"S0\"\nplace = \"P1\"\nserves = [\"R1.1\"]\n";
    let (_, plan) = planned(&text);
    let row = whole(&plan).expect("everything has a price");
    assert_eq!(
        (minor(row.cost), row.proof),
        (350 + 150 + 1200, Proof::Cheapest),
        "{row:?}"
    );
    let [old] = plan.supplies.as_slice() else {
        panic!("{:?}", plan.supplies);
    };
    assert!(old.fixed);
    assert_eq!((old.id.as_str(), old.place.as_str()), ("old", "P1"));
}

/// What is to stay where the cheapest feeding would not have it: run by run it cannot stay, together it does.
#[test]
fn what_is_installed_decides_where_a_run_is_fed() {
    let text = two_runs().text()
        + "[[installed]]\nname = \"old\"\nsupply = \"S0\"\nplace = \"P1\"\nserves = [\"R0.1\"]\n";
    let (_, plan) = planned(&text);
    let row = whole(&plan).expect("everything has a price");
    assert_eq!(
        (minor(row.cost), row.proof),
        (350 + 150 + 1200, Proof::Cheapest),
        "{row:?}"
    );
    assert!(plan.supplies.iter().all(|s| s.id.as_str() == "old"));
    assert!(
        reason(row).contains("run by run no devices hold it"),
        "{}",
        row.reason
    );
    assert!(said_by(&plan, "fixed-item").is_empty());
}

/// Four runs that must be cut, at two places: the work is spent before the proof. The plan is still far cheaper than run by
/// run, and claims no more than its bound.
#[test]
fn where_the_work_is_spent_the_bound_is_told() {
    let case = Case {
        runs: vec![4; 4],
        routes: (0..4)
            .map(|run| {
                vec![
                    [2000 + 1000 * run, 3000 + 1000 * run],
                    [9000 - 2000 * run, 12_000],
                ]
            })
            .collect(),
        dimmed: true,
        amps: 0.56,
        decoders: vec![(1, 4.0, 4.0, 1000)],
        ..one_run()
    };
    let (_, plan) = planned(&case.text());
    let row = whole(&plan).expect("everything has a price");
    assert!(
        reason(row).starts_with("the work was spent"),
        "{}",
        row.reason
    );
    assert!(
        minor(row.lower_bound) < minor(row.cost) && row.proof == Proof::Gap,
        "{row:?}"
    );
    let (_, more) = reason(row)
        .split_once("run by run it costs EUR ")
        .expect("told");
    let more: f64 = more
        .split(' ')
        .next()
        .and_then(|n| n.parse().ok())
        .expect("a number");
    assert!(
        100.0 * more > 0.5 * minor(row.cost) as f64,
        "{}",
        row.reason
    );
}

/// A job that is too large says so by its bound.
#[test]
fn a_job_of_many_runs_is_planned_run_by_run() {
    let case = Case {
        runs: vec![1; 5],
        routes: vec![vec![[2000, 9000]]; 5],
        ..two_runs()
    };
    let (_, plan) = planned(&case.text());
    let row = whole(&plan).expect("everything has a price");
    assert!(reason(row).starts_with("run by run"), "{}", row.reason);
}

#[test]
fn choosing_together_can_be_stopped() {
    let job = job::read(&two_runs().text(), "shelves.toml").expect("sound");
    // At its beginning, while segments are listed, and while they are chosen.
    for from in [0, 1, 240] {
        let phase = "choosing together";
        let mut stop = |step: Step| {
            if step.phase == phase && step.done >= from {
                Go::Cancel
            } else {
                Go::On
            }
        };
        let told = plan::plan_watched(&job, &mut Progress::new(&mut stop)).err();
        assert!(told.is_some_and(|e| e.last.phase == phase), "{from}");
    }
}
