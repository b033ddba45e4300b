//! Rules that only odd jobs reach: each with a job that breaks it, and with the base job of `tests/faults`, which does not.

use evenrun::choose::feeding::{RunOutcome, RunProblem};
use evenrun::design::Design;
use evenrun::exact::ExactLength;
use evenrun::finding::{Finding, Verdict};
use evenrun::quantity::amps;
use evenrun::{job, plan, rules};
use std::fmt::Write as _;

const BASE: &str = include_str!("../faults/base.toml");

/// The base job, changed and with more behind it.
fn text(changes: &[(&str, &str)], more: &str) -> String {
    let mut text = BASE.to_string();
    for (from, to) in changes {
        assert!(text.contains(from), "no {from:?} in the base");
        text = text.replacen(from, to, 1);
    }
    text + more
}

fn planned(text: &str) -> Design {
    let job = job::read(text, "job.toml").unwrap_or_else(|faults| panic!("{faults}"));
    plan::plan(&job)
}

fn said(findings: &[Finding], rule: &str) -> Vec<(Verdict, String)> {
    assert!(rules::find(rule).is_some(), "{rule} is no rule");
    let own = findings.iter().filter(|f| f.rule.as_str() == rule);
    own.map(|f| (f.verdict, rules::line(f))).collect()
}

/// A rule says one thing of a job, in these words, and nothing of the base.
fn says_once(text: &str, rule: &str, verdict: Verdict, words: &[&str]) {
    assert_eq!(
        said(&planned(BASE).findings, rule),
        [],
        "{rule} of the base"
    );
    let found = said(&planned(text).findings, rule);
    let [(own, line)] = found.as_slice() else {
        panic!("{rule}: {found:?}");
    };
    assert_eq!(*own, verdict, "{line}");
    for word in words {
        assert!(line.contains(word), "{rule}: no {word:?} in {line}");
    }
}

/// 180 m of profile that is sold in bars of 1 mm: a slip for 1 m.
#[test]
fn bars_that_are_too_many_to_cut() {
    let change = (
        "path = [{ straight = \"2 m\" }]",
        "path = [{ straight = \"180 m\" }]\nprofile = \"fine\"",
    );
    let profile = "\n[[profile]]\nname = \"fine\"\nbars = [{ length = \"1 mm\" }]\n";
    let words = ["stock fine", "more than 100000 full lengths"];
    says_once(
        &text(&[change], profile),
        "stock-cut",
        Verdict::Fail,
        &words,
    );
}

/// Eighty pieces of all lengths from 600 mm to 900 mm out of two bars: more than is proven within the effort.
#[test]
fn a_cutting_that_is_not_proven() {
    let mut more = String::from(
        "\n[[profile]]\nname = \"mixed\"\nkerf = \"3.3 mm\"\nbars = [{ length = \"3 m\", price_minor = 3000 }, { length = \"2.1 m\", price_minor = 2109 }]\n",
    );
    for number in 0..80_u64 {
        // Tenths of a millimetre, spread over the range without an order of their own.
        let length = 6000 + number * number * 7919 % 3001;
        let _ = write!(
            more,
            "\n[[run]]\nname = \"P{number}\"\nzone = \"shelf\"\nroom = \"hall\"\nprofile = \"mixed\"\n\
             path = [{{ straight = \"{}.{} mm\" }}]\n\
             routes = [{{ from = \"cupboard\", to = \"start\", length = \"3 m\", basis = \"measured\" }}]\n",
            length / 10,
            length % 10,
        );
    }
    let text = text(&[("most_supplies = 6\n", "")], &more);
    says_once(
        &text,
        "stock-proof",
        Verdict::NotEvaluated,
        &["stock mixed", "no plan has fewer than the bound"],
    );
}

/// The last universe that there is, full.
#[test]
fn no_slot_up_to_the_last_universe() {
    let changes = [
        ("number = 1\n", "number = 63999\n"),
        ("from = 1, to = 24", "from = 1, to = 512"),
    ];
    let words = [
        "D-C.1",
        "no free slots are left for it up to the last universe",
    ];
    says_once(
        &text(&changes, ""),
        "address-none-free",
        Verdict::Fail,
        &words,
    );
    // The universe before it is full as well, and that is another rule: there is a next one.
    let full = [("number = 1\n", "number = 63998\n"), changes[1]];
    let full = planned(&text(&full, ""));
    assert_eq!(said(&full.findings, "address-none-free"), []);
    assert_eq!(said(&full.findings, "address-space").len(), 1);
}

/// A segment that is to be fed from both ends, on a run that may be fed at its start.
#[test]
fn no_arrangement_that_is_permitted() {
    let change = (
        "feed_points = \"ends\"",
        "feed_points = \"start\"\nfixed_segments = [{ from = \"start\", to = \"end\", fed = \"both ends\" }]",
    );
    let words = [
        "run C",
        "no chain of permitted segments with permitted feeds covers the run",
    ];
    says_once(&text(&[change], ""), "feed-none", Verdict::Fail, &words);
}

/// A thousand and one kinds of decoder, of which any may be taken.
fn too_many_kinds() -> String {
    let (_, from) = BASE.split_once("[[decoder]]").expect("a decoder");
    let (decoder, _) = from.split_once("[[profile]]").expect("what follows");
    let mut more = String::new();
    for number in 1..=1000 {
        let other = decoder.replacen("4 x 5 A", &format!("kind {number}"), 1);
        let _ = write!(more, "\n[[decoder]]{other}");
    }
    let any = ("decoders = [\"4 x 5 A\"]\n", "");
    text(&[any, any], &more)
}

#[test]
fn devices_that_cannot_be_chosen() {
    let words = [
        "decoders of cove at cupboard",
        "1001 kinds, and at most 1000 are taken",
    ];
    says_once(&too_many_kinds(), "devices-none", Verdict::Fail, &words);
}

/// A decoder that is bought without an assignment does not take the name of one that is there: that one would be gone.
#[test]
fn a_bought_decoder_leaves_an_installed_one_its_name() {
    let there = "\n[[installed]]\nname = \"D-C.1\"\ndecoder = \"4 x 5 A\"\nplace = \"loft\"\nzone = \"cove\"\n\
                 \n[[place]]\nname = \"loft\"\nroom = \"loft\"\nambient = \"30 °C\"\n";
    let text = too_many_kinds() + there;
    let places = "places = [\"cupboard\"]";
    let text = text.replacen(places, "places = [\"cupboard\", \"loft\"]", 1);
    let design = planned(&text);
    let at = |place: &str| {
        let own = design.decoders.iter().filter(|d| d.place.as_str() == place);
        own.map(|d| d.id.as_str()).collect::<Vec<_>>()
    };
    assert_eq!(at("loft"), ["D-C.1"]);
    assert_eq!(at("cupboard"), ["D-C.1b"]);
}

/// The shelf of the base as the search for its feeding has it.
fn shelf(limit: impl Fn(&mut RunProblem)) -> RunOutcome {
    let job = job::read(BASE, "base.toml").expect("a sound job");
    let mut problem = plan::run_problem(&job, "S").expect("a run of the job");
    limit(&mut problem);
    problem.check().expect("sound").plan().expect("solved")
}

/// Limits that the search takes and no job states: from a program, or through the pipe.
fn keeps_or_says(limit: impl Fn(&mut RunProblem, f64), [kept, broken]: [f64; 2], rule: &str) {
    let RunOutcome::Planned(_) = shelf(|problem| limit(problem, kept)) else {
        panic!("{rule} at {kept}");
    };
    let RunOutcome::Infeasible(answer) = shelf(|problem| limit(problem, broken)) else {
        panic!("{rule} at {broken}");
    };
    let own = said(&answer.findings, rule);
    assert!(!own.is_empty(), "{rule}: {:?}", answer.findings);
    assert!(own.iter().all(|(verdict, _)| *verdict == Verdict::Fail));
    assert_eq!(
        said(&planned(BASE).findings, rule),
        [],
        "{rule} of the base"
    );
}

/// The shelf draws 0.8 A at its rated voltage: a rail that may carry 2 A holds it, one of 100 mA does not.
#[test]
fn a_rail_carries_less_than_the_run_draws() {
    let limit =
        |problem: &mut RunProblem, most: f64| problem.limits.rail_current = Some(amps(most));
    keeps_or_says(limit, [2.0, 0.1], "feed-rail-current");
}

/// The way to the shelf is 3 m and 300 mm of slack.
#[test]
fn a_feeder_under_chopping_is_longer_than_it_may_be() {
    let limit = |problem: &mut RunProblem, most: f64| {
        let most = ExactLength::from_nanometres((most * 1e9) as i64);
        problem.limits.feeder_length = Some(most);
    };
    keeps_or_says(limit, [3.31, 3.29], "feed-feeder-length");
}
