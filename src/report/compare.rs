//! A comparison as text: the candidates side by side, what decides, why some have no plan.

use super::cautions::CAUTIONS;
use super::wrap::{clean, paragraph, width, wrap};
use crate::plan::compare::{Compared, Comparison, Figures, Outcome, Part, Worst};
use crate::quantity::Money;
use crate::quantity::{Power, show};
use crate::rules;

/// No page is set narrower than this.
const NARROWEST: usize = 60;
/// Columns of the words that name a row, and of the least that a candidate gets.
const WORDS: usize = 32;
const COLUMN: usize = 16;
/// Reasons and failures told of each candidate.
const TOLD: usize = 6;

/// The comparison as text, no line wider than `width` columns; a `width` below 60 counts as 60.
///
/// An asterisk marks the least figure of a row in which less is better and no other is as little. More candidates
/// than fit beside each other stand in parts, one beneath the other.
#[must_use]
pub fn comparison(comparison: &Comparison, width: usize) -> String {
    let most = width.max(NARROWEST);
    let mut out = String::new();
    let title = clean(&format!("{}: candidates side by side", comparison.title));
    out.push_str(&paragraph(&title, most, "", ""));
    out.push_str(&"=".repeat(super::wrap::width(&title).min(most)));
    out.push_str("\n\n");
    if !comparison.note.trim().is_empty() {
        out.push_str(&paragraph(&clean(&comparison.note), most, "", ""));
        out.push('\n');
    }
    heading(&mut out, "What decides");
    out.push_str(&paragraph(
        &clean(&comparison.decision.sentence),
        most,
        "",
        "",
    ));
    out.push('\n');
    out.push_str(&paragraph(
        "Asked in this order: whether it can be planned, fewest rules broken, least cost, fewest watts lost in wiring, \
         least fall-off of light, fewest feeds. The sentence is made from the figures below and from nothing else.",
        most,
        "",
        "",
    ));
    out.push('\n');
    heading(&mut out, "Side by side");
    let rows = rows(comparison);
    let beside = ((most - WORDS) / COLUMN).max(1);
    for part in (0..comparison.candidates.len())
        .collect::<Vec<_>>()
        .chunks(beside)
    {
        table(&mut out, comparison, &rows, part, most);
    }
    out.push_str(&paragraph(
        "* least of the row. Worst case, low: sources low, copper hot, cells taking least. Fall-off: how far the current of the \
         dimmest cell lies below its nominal. Colour shift: greatest imbalance between emitters that are \
         lit together. Cost: by the prices of the job, without spares.",
        most,
        "",
        "",
    ));
    out.push('\n');
    exchanged(&mut out, comparison, most);
    failures(&mut out, comparison, most);
    heading(&mut out, "Cautions");
    let own = "A comparison is no advice to buy: it knows the products and prices that the job states, and no others. Read the plan \
               of a candidate, with everything that was not evaluated in it, before it is chosen.";
    out.push_str(&paragraph(own, most, "  ! ", "    "));
    for caution in CAUTIONS {
        let text = format!("{}. {}", caution.title.to_uppercase(), caution.text);
        out.push_str(&paragraph(&text, most, "  ! ", "    "));
    }
    out
}

fn heading(out: &mut String, words: &str) {
    out.push_str(&words.to_uppercase());
    out.push_str("\n\n");
}

/// One row: its words, a cell for each candidate, and the figure of each of which less is better.
struct Row {
    words: String,
    cells: Vec<String>,
    less: Vec<Option<f64>>,
}

fn rows(comparison: &Comparison) -> Vec<Row> {
    let currency = &comparison.currency;
    let words = |sum: Option<Money>| {
        sum.map_or_else(
            || "more than can be held".to_string(),
            |m| currency.words(m),
        )
    };
    let all = &comparison.candidates;
    let mut rows = Vec::new();
    let mut row =
        |words: &str, cell: &dyn Fn(&Figures) -> String, less: &dyn Fn(&Figures) -> Option<f64>| {
            let of = |c: &Compared| match &c.outcome {
                Outcome::Planned { figures, .. } => cell(figures),
                Outcome::NotPlanned { .. } => "-".to_string(),
                Outcome::Stopped => "stopped".to_string(),
            };
            rows.push(Row {
                words: words.to_string(),
                cells: all.iter().map(of).collect(),
                less: all.iter().map(|c| c.figures().and_then(less)).collect(),
            });
        };
    let none = |_: &Figures| None;
    let watts = |p: Power| format!("{:.1} W", p.value);
    let share = |w: &Worst| format!("{:.1} %", w.figure.value * 100.0);
    row(
        "Lit length",
        &|f| format!("{:.3} m", f.lit.to_length().value),
        &none,
    );
    row(
        "Light of bare tape, rated",
        &|f| {
            f.light
                .map_or("not stated".to_string(), |l| format!("{:.0} lm", l.value))
        },
        &none,
    );
    row(
        "Dark ends in all",
        &|f| format!("{:.0} mm", f.dark.to_length().value * 1e3),
        &|f| Some(f.dark.to_length().value),
    );
    row(
        "Longest dark end",
        &|f| {
            let (length, run) = &f.longest_dark;
            format!("{:.0} mm, {run}", length.to_length().value * 1e3)
        },
        &|f| Some(f.longest_dark.0.to_length().value),
    );
    row("Segments", &|f| f.segments.to_string(), &|f| {
        Some(f.segments as f64)
    });
    row("Feeds", &|f| f.feeds.to_string(), &|f| Some(f.feeds as f64));
    row("Supplies", &|f| f.supplies.to_string(), &|f| {
        Some(f.supplies as f64)
    });
    row("Decoders", &|f| f.decoders.to_string(), &|f| {
        Some(f.decoders as f64)
    });
    row("Cable", &|f| format!("{:.1} m", f.cable.value), &|f| {
        Some(f.cable.value)
    });
    row(
        "Copper in it",
        &|f| format!("{:.2} kg", f.copper.value),
        &|f| Some(f.copper.value),
    );
    row("Into the tape, nominal", &|f| watts(f.tape), &none);
    row(
        "Lost in wiring, nominal",
        &|f| {
            let share = 100.0 * f.lost.value / (f.lost.value + f.tape.value);
            format!("{} ({share:.1} %)", watts(f.lost))
        },
        &|f| Some(f.lost.value),
    );
    row(
        "From the mains, nominal",
        &|f| f.mains.map_or("not stated".to_string(), watts),
        &|f| f.mains.map(|m| m.value),
    );
    row(
        "Fall-off of light, worst case, low",
        &|f| share(&f.fall_off),
        &|f| Some(f.fall_off.figure.value),
    );
    row("  at segment", &|f| f.fall_off.at.clone(), &none);
    row(
        "Colour shift, worst case, low",
        &|f| share(&f.shift),
        &|f| Some(f.shift.figure.value),
    );
    row("  at segment", &|f| f.shift.at.clone(), &none);
    row(
        "Cost",
        &|f| match f.bill.total() {
            Some(total) => currency.words(total),
            None => format!("over {}", words(f.bill.priced())),
        },
        &|f| f.bill.total().map(|t| t.minor_units() as f64),
    );
    for part in Part::ALL {
        row(
            &format!("  {}", part.words()),
            &|f| words(f.bill.part(part)),
            &none,
        );
    }
    row("Findings: fail", &|f| f.fails.to_string(), &none);
    row("  rules broken", &|f| f.broken.len().to_string(), &|f| {
        Some(f.broken.len() as f64)
    });
    row("  not evaluated", &|f| f.not_evaluated.to_string(), &none);
    row("  at limit", &|f| f.at_limit.to_string(), &none);
    row("  pass", &|f| f.passes.to_string(), &none);
    rows
}

/// Whether the figure at a place is less than every other of its row.
fn least(less: &[Option<f64>], at: usize) -> bool {
    let Some(own) = less[at] else { return false };
    let others = less.iter().enumerate().filter(|(n, _)| *n != at);
    let mut others = others.filter_map(|(_, v)| *v).peekable();
    others.peek().is_some() && others.all(|v| v - own > 1e-9 * v.abs().max(own.abs()))
}

fn table(out: &mut String, comparison: &Comparison, rows: &[Row], part: &[usize], most: usize) {
    let column = ((most - WORDS) / part.len()).min(24);
    let mut line = |words: &str, cells: Vec<String>| {
        let mut wrapped: Vec<Vec<String>> = vec![wrap(words, WORDS - 2)];
        // A word that stands in keeps its indent.
        if let Some(first) = wrapped[0].first_mut()
            && words.starts_with("  ")
            && !first.starts_with("  ")
        {
            first.insert_str(0, "  ");
        }
        wrapped.extend(cells.iter().map(|c| wrap(c, column - 2)));
        let height = wrapped.iter().map(Vec::len).max().unwrap_or(0);
        for n in 0..height {
            let mut text = String::new();
            for (at, cell) in wrapped.iter().enumerate() {
                let piece = cell.get(n).map_or("", String::as_str);
                let room = if at == 0 { WORDS } else { column };
                text.push_str(piece);
                text.push_str(&" ".repeat(room.saturating_sub(width(piece))));
            }
            out.push_str(text.trim_end());
            out.push('\n');
        }
    };
    let named = |at: &usize| clean(&comparison.candidates[*at].name);
    line("", part.iter().map(named).collect());
    let rule = |_: &usize| "-".repeat(column - 2);
    line(&"-".repeat(WORDS - 2), part.iter().map(rule).collect());
    let volts = |at: &usize| {
        let all = comparison.candidates[*at].volts.iter();
        all.map(|v| show(*v)).collect::<Vec<_>>().join(", ")
    };
    line(
        "Rated voltage of the tape",
        part.iter().map(volts).collect(),
    );
    for row in rows {
        let cell = |at: &usize| {
            let mark = if least(&row.less, *at) { " *" } else { "" };
            format!("{}{mark}", clean(&row.cells[*at]))
        };
        line(&row.words, part.iter().map(cell).collect());
    }
    out.push('\n');
}

/// What each candidate exchanges.
fn exchanged(out: &mut String, comparison: &Comparison, most: usize) {
    heading(out, "What each candidate is");
    for c in &comparison.candidates {
        let what = if c.exchanged.is_empty() {
            "the job as it is written".to_string()
        } else {
            format!("the job with {}", c.exchanged.join("; "))
        };
        let text = clean(&format!("{}: {what}.", c.name));
        out.push_str(&paragraph(&text, most, "  - ", "    "));
    }
    out.push('\n');
}

/// Why candidates have no plan, which limits the others break, and which prices are missing.
fn failures(out: &mut String, comparison: &Comparison, most: usize) {
    heading(out, "What fails");
    let mut any = false;
    for c in &comparison.candidates {
        let (opening, told): (String, Vec<String>) = match &c.outcome {
            Outcome::NotPlanned { why } => ("cannot be planned".to_string(), why.clone()),
            Outcome::Stopped => {
                let why = "the caller stopped the comparison".to_string();
                ("was not planned".to_string(), vec![why])
            }
            Outcome::Planned { plan, figures } => {
                let merged = rules::merged(&plan.findings);
                let fails = merged.iter().filter(|f| f.is_fail());
                let fails = fails.map(|f| {
                    let figure = format!("found {}, required {}", f.figure, f.limit);
                    format!("{}: {}; {figure}", f.place, f.says)
                });
                let missing = figures.bill.missing.iter();
                let missing = missing.map(|what| format!("no price is stated for {what}"));
                ("falls short".to_string(), fails.chain(missing).collect())
            }
        };
        if told.is_empty() {
            continue;
        }
        any = true;
        let opening = clean(&format!("{} {opening}:", c.name));
        out.push_str(&paragraph(&opening, most, "  ", "  "));
        for reason in told.iter().take(TOLD) {
            out.push_str(&paragraph(&clean(reason), most, "  - ", "    "));
        }
        if told.len() > TOLD {
            let more = format!("and {} more: see its plan", told.len() - TOLD);
            out.push_str(&paragraph(&more, most, "  - ", "    "));
        }
        out.push('\n');
    }
    if !any {
        let none = "No limit encoded here is exceeded by any candidate. Read the cautions before drawing a conclusion from that.";
        out.push_str(&paragraph(none, most, "", ""));
        out.push('\n');
    }
}
