//! One job planned with each of its candidates: what decides follows the figures.

mod trade_page;

use evenrun::design::{Piece, StockKind};
use evenrun::id::RuleId;
use evenrun::plan::compare::{Comparison, Criterion, Figures, Outcome, Part, compare};
use evenrun::progress::{Go, Progress, Step};
use evenrun::report;
use evenrun::{
    job::{self, Job},
    plan,
};

const SHELF: &str = include_str!("shelf.toml");

fn job(edit: impl Fn(&str) -> String) -> Job {
    job::read(&edit(SHELF), "shelf.toml").unwrap_or_else(|f| panic!("{f}"))
}

fn compared(edit: impl Fn(&str) -> String) -> Comparison {
    compare(&job(edit), &mut Progress::silent())
}

fn figures<'c>(comparison: &'c Comparison, name: &str) -> &'c Figures {
    let found = comparison.candidates.iter().find(|c| c.name == name);
    let found = found.and_then(|c| c.figures());
    found.unwrap_or_else(|| panic!("{name} has no figures"))
}

fn ahead(comparison: &Comparison) -> &str {
    comparison
        .decision
        .ahead
        .map_or("", |at| &comparison.candidates[at].name)
}

/// Replaces the price in the table that begins with the given name.
fn with_price(text: &str, name: &str, price: &str) -> String {
    let at = text.find(&format!("name = \"{name}\"")).expect("the table");
    let (head, tail) = text.split_at(at);
    let start = tail.find("\nprice_minor = ").expect("its price") + 1;
    let end = start + tail[start..].find('\n').expect("a line");
    format!("{head}{}{price}{}", &tail[..start], &tail[end..])
}

/// Minor units of an amount that there is.
fn minor(money: Option<evenrun::quantity::Money>) -> u64 {
    money.expect("an amount").minor_units() as u64
}

#[test]
fn the_candidate_without_exchange_is_the_plan_of_the_job() {
    let comparison = compared(str::to_string);
    let alone = job(|text| text[..text.find("[[candidate]]").expect("candidates")].to_string());
    let own = plan::plan(&alone);
    let found = comparison.candidates.iter().find(|c| c.name == "24 V");
    match found.map(|c| &c.outcome) {
        Some(Outcome::Planned { plan, .. }) => {
            assert_eq!(report::files(plan), report::files(&own));
        }
        other => panic!("{other:?}"),
    }
}

/// Ohm's law alone: the same watts at half the voltage are twice the current, four times the loss for the same copper,
/// and the finer cut pitch leaves the shorter dark end.
#[test]
fn lower_voltage_loses_more_and_cuts_finer() {
    let comparison = compared(|text| {
        // One wire, one feed a run: nothing else changes between the candidates.
        text.replace("feed_points = \"anywhere\"", "feed_points = \"start\"")
            .replace(
                "cables = [\"2 x 1.5 mm2\", \"2 x 4 mm2\"]",
                "cables = [\"2 x 4 mm2\"]",
            )
            .replace("least_current = \"70 %\"", "least_current = \"10 %\"")
    });
    let [low, mid, high] = ["12 V", "24 V", "48 V"].map(|name| figures(&comparison, name));
    assert!(low.lost.value > mid.lost.value && mid.lost.value > high.lost.value);
    assert!(low.fall_off.figure > mid.fall_off.figure);
    assert!(mid.fall_off.figure > high.fall_off.figure);
    let dark = |f: &Figures| f.dark.to_string();
    // 4.02 m and 6.03 m in whole increments of 25, 50 and 100 mm: 20 and 5; 20 and 30; 20 and 30 mm remain.
    assert_eq!(
        [dark(low), dark(mid), dark(high)],
        ["25 mm", "50 mm", "50 mm"]
    );
    for f in [low, mid, high] {
        assert_eq!(f.shift.figure.value, 0.0, "one emitter has no balance");
        let mains = f.mains.expect("efficiencies are stated").value;
        assert!((mains - (f.tape.value + f.lost.value) / 0.9).abs() < 1e-6 * mains);
        assert!((f.light.expect("stated").value - 900.0 * f.lit.to_length().value).abs() < 1e-6);
    }
}

/// The bill by hand, from the counts of the plan.
#[test]
fn the_bill_is_what_counts_and_prices_make() {
    let comparison = compared(str::to_string);
    for c in &comparison.candidates {
        let Outcome::Planned { plan, figures } = &c.outcome else {
            panic!("{} is planned", c.name)
        };
        let (reel, supply) = match c.name.as_str() {
            "12 V" => (4_000, 4_000),
            "24 V" => (4_400, 4_200),
            _ => (5_200, 4_600),
        };
        let bill = &figures.bill;
        let reels = plan.stock.iter().filter(|s| s.kind == StockKind::Reel);
        assert_eq!(minor(bill.part(Part::Tape)), reels.count() as u64 * reel);
        assert_eq!(
            minor(bill.part(Part::Supplies)),
            plan.supplies.len() as u64 * supply
        );
        let of = |kind: &str| -> u64 {
            let rows = plan.cables.iter().filter(|row| row.kind.as_str() == kind);
            let metres: f64 = rows.map(|row| row.route.metres()).sum();
            (metres - 1e-9).ceil() as u64
        };
        let cable = 84 * of("2 x 1.5 mm2") + 205 * of("2 x 4 mm2");
        assert_eq!(minor(bill.part(Part::Cable)), cable);
        let (segments, feeds) = (plan.segments.len() as u64, plan.feeds.len() as u64);
        // Two runs, no forced break.
        let breaks = 250 * (segments - 2);
        // A joint at every whole reel of 5 m inside a piece.
        let before_end = |piece: &Piece| piece.length.nanometres() - 1;
        let joints = plan.pieces.iter().map(|p| before_end(p) / 5_000_000_000);
        let making = 350 * segments + 900 * feeds + breaks + 130 * joints.sum::<i64>() as u64;
        assert_eq!(minor(bill.part(Part::Making)), making);
        let sum: i64 = bill.parts.values().map(|m| m.minor_units()).sum();
        assert_eq!(minor(bill.total()), sum as u64);
        assert!(bill.beyond.is_empty());
    }
}

#[test]
fn what_decides_follows_the_prices() {
    let first = compared(str::to_string);
    assert_eq!(first.decision.by, Criterion::Cost);
    let winner = ahead(&first).to_string();
    let total = figures(&first, &winner).bill.total().expect("priced");
    for c in &first.candidates {
        assert!(c.figures().and_then(|f| f.bill.total()) >= Some(total));
    }
    let total = minor(Some(total));
    let told = format!("EUR {}.{:02}", total / 100, total % 100);
    let sentence = &first.decision.sentence;
    assert!(
        sentence.contains(&told) && sentence.contains(&winner),
        "{sentence}"
    );
    // The supply of the winner becomes dear: another wins, and the sentence says so.
    let dear =
        compared(|text| with_price(text, &format!("{winner}, 100 W"), "price_minor = 900000"));
    assert_eq!(dear.decision.by, Criterion::Cost);
    assert_ne!(ahead(&dear), winner);
    assert_ne!(dear.decision.sentence, *sentence);
    // Between the two alone the difference lies in the supplies, and the sentence says by how much.
    let other = ahead(&dear).to_string();
    let pair = compared(|text| {
        let text = with_price(text, &format!("{winner}, 100 W"), "price_minor = 900000");
        let (head, tail) = text.split_once("[[candidate]]").expect("candidates");
        let blocks = tail.split("[[candidate]]");
        let kept = blocks.filter(|b| {
            b.contains(&format!("name = \"{winner}\""))
                || b.contains(&format!("name = \"{other}\""))
        });
        kept.fold(head.to_string(), |all, b| {
            format!("{all}[[candidate]]{b}\n")
        })
    });
    assert_eq!(
        (pair.decision.by, ahead(&pair)),
        (Criterion::Cost, other.as_str())
    );
    let supplies = |name: &str| minor(figures(&pair, name).bill.part(Part::Supplies));
    let saved = supplies(&winner) - supplies(&other);
    let told = format!(
        "most of it in supplies (EUR {}.{:02} less)",
        saved / 100,
        saved % 100
    );
    assert!(
        pair.decision.sentence.contains(&told),
        "{}",
        pair.decision.sentence
    );
}

#[test]
fn without_a_price_the_watts_decide_and_the_sentence_says_why() {
    let comparison = compared(|text| with_price(text, "white 24 V", ""));
    assert_eq!(comparison.decision.by, Criterion::Lost);
    assert!(comparison.decision.sentence.contains("prices are missing"));
    let least = figures(&comparison, ahead(&comparison)).lost.value;
    for c in &comparison.candidates {
        assert!(c.figures().is_some_and(|f| f.lost.value >= least));
    }
    let missing = &figures(&comparison, "24 V").bill.missing;
    assert_eq!(missing.iter().collect::<Vec<_>>(), ["tape white 24 V"]);
    assert_eq!(figures(&comparison, "24 V").bill.total(), None);
}

#[test]
fn a_candidate_that_breaks_more_limits_is_not_ahead_however_cheap() {
    // From one end through thin wire 12 V cannot keep the light.
    let comparison = compared(|text| {
        let text = text
            .replace(
                "feed_points = \"anywhere\"",
                "feed_points = \"start\"\nuncut = [{ from = \"0 m\", to = \"4 m\" }]",
            )
            .replace("\"2 x 1.5 mm2\", \"2 x 4 mm2\"]", "\"2 x 1.5 mm2\"]");
        with_price(
            &with_price(&text, "white 12 V", "price_minor = 1"),
            "12 V, 100 W",
            "price_minor = 1",
        )
    });
    let (low, high) = (figures(&comparison, "12 V"), figures(&comparison, "48 V"));
    assert!(low.bill.total() < high.bill.total());
    assert!(
        low.broken.contains(&RuleId::new("feed-least-current")),
        "{:?}",
        low.broken
    );
    assert!(high.broken.is_empty(), "{:?}", high.broken);
    assert_ne!(ahead(&comparison), "12 V");
    // With 24 V left out only the limits can decide.
    let two = compared(|text| {
        let text = text
            .replace(
                "feed_points = \"anywhere\"",
                "feed_points = \"start\"\nuncut = [{ from = \"0 m\", to = \"4 m\" }]",
            )
            .replace("\"2 x 1.5 mm2\", \"2 x 4 mm2\"]", "\"2 x 1.5 mm2\"]");
        text.replace("[[candidate]]\nname = \"24 V\"\n", "")
    });
    assert_eq!(
        (two.decision.by, ahead(&two)),
        (Criterion::BrokenLimits, "48 V")
    );
}

#[test]
fn what_cannot_be_planned_says_why() {
    // No supply of 48 V, and the 12 V tape has an increment longer than a run.
    let comparison = compared(|text| {
        text.replace("volts = \"48 V\"", "volts = \"36 V\"")
            .replace("cut_pitch = \"25 mm\"", "cut_pitch = \"5 m\"")
    });
    assert_eq!(
        (comparison.decision.by, ahead(&comparison)),
        (Criterion::OnlyOne, "24 V")
    );
    let why = |name: &str| {
        let found = comparison.candidates.iter().find(|c| c.name == name);
        match found.map(|c| &c.outcome) {
            Some(Outcome::NotPlanned { why }) => why.join("\n"),
            other => panic!("{other:?}"),
        }
    };
    assert!(why("48 V").contains("no supply of the job has the voltage of its tape, 48 V"));
    assert!(
        why("12 V").contains("less than the cut pitch of `white 12 V`"),
        "{}",
        why("12 V")
    );
    let page = report::comparison(&comparison, 100);
    assert!(page.contains("48 V cannot be planned:"), "{page}");
    let none = compared(|text| {
        text.replace("volts = \"48 V\"", "volts = \"36 V\"")
            .replace("volts = \"24 V\"", "volts = \"36 V\"")
            .replace("volts = \"12 V\"", "volts = \"36 V\"")
    });
    assert_eq!(
        (none.decision.by, none.decision.ahead),
        (Criterion::NoneCanBePlanned, None)
    );
}

#[test]
fn equals_are_not_told_apart() {
    let comparison = compared(|text| {
        let head = &text[..text.find("[[candidate]]").expect("candidates")];
        format!("{head}[[candidate]]\nname = \"one\"\n[[candidate]]\nname = \"two\"\n")
    });
    assert_eq!(
        (comparison.decision.by, comparison.decision.ahead),
        (Criterion::Nothing, None)
    );
    let alone =
        compared(|text| text[..text.find("[[candidate]]").expect("candidates")].to_string());
    assert_eq!(alone.candidates.len(), 1);
    assert!(alone.decision.sentence.contains("only candidate"));
}

#[test]
fn a_stopped_comparison_keeps_what_was_planned_and_decides_nothing() {
    let whole = compared(str::to_string);
    let mut steps = 0;
    let mut stop = |step: Step| {
        assert_eq!((step.phase, step.of), ("comparing candidates", 300));
        steps += 1;
        if step.done >= 100 { Go::Cancel } else { Go::On }
    };
    let part = compare(&job(str::to_string), &mut Progress::new(&mut stop));
    assert!(steps > 2);
    assert_eq!(
        (part.decision.by, part.decision.ahead),
        (Criterion::Stopped, None)
    );
    assert_eq!(part.candidates[0], whole.candidates[0]);
    assert_eq!(part.candidates[1].outcome, Outcome::Stopped);
    assert_eq!(part.candidates[2].outcome, Outcome::Stopped);
    assert!(report::comparison(&part, 100).contains("Nothing is decided"));
}

#[test]
fn the_page_fits_names_everything_and_is_the_same_in_any_order() {
    let comparison = compared(str::to_string);
    for width in [60, 80, 100, 160] {
        let page = report::comparison(&comparison, width);
        assert!(
            page.lines().all(|line| line.chars().count() <= width),
            "{page}"
        );
        for name in ["12 V", "24 V", "48 V"] {
            assert!(page.contains(name));
        }
    }
    let page = report::comparison(&comparison, 100);
    for caution in report::CAUTIONS {
        assert!(page.contains(&caution.title.to_uppercase()));
    }
    let turned = compared(|text| {
        let (head, tail) = text.split_once("[[candidate]]").expect("candidates");
        let mut blocks: Vec<&str> = tail.split("[[candidate]]").collect();
        blocks.reverse();
        format!("{head}[[candidate]]{}", blocks.join("\n[[candidate]]"))
    });
    assert_eq!(report::comparison(&turned, 100), page);
}

#[test]
fn names_that_nothing_has_and_double_exchanges_are_faults() {
    let told = |edit: &dyn Fn(&str) -> String| match job::read(&edit(SHELF), "shelf.toml") {
        Ok(_) => panic!("it was accepted"),
        Err(faults) => faults.to_string(),
    };
    let unknown = told(&|text| text.replace("take = \"white 48 V\"", "take = \"white 48V\""));
    assert!(
        unknown.contains("`white 48V` is not the name of a strip"),
        "{unknown}"
    );
    assert!(unknown.contains("did you mean `white 48 V`?"), "{unknown}");
    let twice = told(&|text| {
        let swap = "{ instead_of = \"white 24 V\", take = \"white 48 V\" }";
        text.replace(swap, &format!("{swap}, {swap}"))
    });
    assert!(
        twice.contains("candidate \"48 V\": strips 2: instead_of: `white 24 V` is exchanged twice"),
        "{twice}"
    );
    let missing = told(&|text| text.replace(", take = \"white 48 V\"", ""));
    assert!(missing.contains("take is missing"), "{missing}");
    let double = told(&|text| text.replace("name = \"24 V\"\n", "name = \"12 V\"\n"));
    assert!(
        double.contains("is the name of another candidate as well"),
        "{double}"
    );
}
