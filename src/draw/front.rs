//! The trade-off of a run: cost against the fall-off of light, a point an arrangement.

use super::canvas::{Canvas, Fill, Letters, SMALL, Stroke, WIDTH};
use super::scale::Scale;
use crate::choose::feeding::{Standing, TradeOff};
use crate::quantity::{Currency, Money};

const LEFT: f64 = 62.0;
const TOP: f64 = 40.0;
const HIGH: f64 = 300.0;

/// The arrangements of a run that none found beats, as a graph: cost to the right, fall-off of light upwards.
///
/// A filled point is proven: nothing as bright costs less. An open one is the best that was found. Numbers are those of the
/// [text](crate::report::trade_off).
///
/// ```
/// use evenrun::choose::feeding::TradeOffSpec;
/// use evenrun::progress::Progress;
/// let job = evenrun::job::read(include_str!("../../tests/jobs/one_run.toml"), "one_run.toml").map_err(|f| f.to_string())?;
/// let problem = evenrun::plan::run_problem(&job, &job.runs()[0].name).map_err(|e| e.to_string())?;
/// let run = problem.check().map_err(|e| e.to_string())?;
/// let spec = TradeOffSpec { most: 3, ..TradeOffSpec::default() };
/// let answer = run.trade_off(&spec, &mut Progress::silent()).map_err(|e| e.to_string())?;
/// let drawing = evenrun::draw::trade_off(&job.runs()[0].name, job.currency(), &answer);
/// assert!(drawing.contains("<title>"));
/// # Ok::<(), String>(())
/// ```
#[must_use]
pub fn trade_off(run: &str, currency: &Currency, answer: &TradeOff) -> String {
    let mut canvas = Canvas::new();
    let title = format!("Run {run}: what less fall-off of light costs");
    canvas.text((0.0, 12.0), &title, Letters::WORDS.bold());
    let points: Vec<(f64, f64)> = answer
        .arrangements
        .iter()
        .map(|a| (a.bought as f64, a.fall_off.value * 100.0))
        .collect();
    if points.is_empty() {
        let none =
            "No arrangement was found: the plan of the job names the limits that prevent it.";
        canvas.text((0.0, 32.0), none, Letters::SMALL);
        return canvas.finish(44.0, &title, none);
    }
    let across = around(points.iter().map(|p| p.0), LEFT, WIDTH - 30.0);
    let up = around(points.iter().map(|p| p.1), TOP + HIGH, TOP);
    axes(&mut canvas, currency, across, up);
    let on_paper: Vec<(f64, f64)> = points
        .iter()
        .map(|(cost, fall)| (across.at(*cost), up.at(*fall)))
        .collect();
    // Between two arrangements nothing cheaper is brighter: a stair.
    for two in on_paper.windows(2) {
        let corner = (two[1].0, two[0].1);
        canvas.path(&[two[0], corner, two[1]], Stroke::Thin, Fill::None);
    }
    let mut told = Vec::new();
    let mut last: Option<(f64, f64)> = None;
    for ((number, a), (x, y)) in (1..).zip(&answer.arrangements).zip(&on_paper) {
        let proven = a.standing == Standing::NotBeaten;
        canvas.circle(
            (*x, *y),
            3.2,
            if proven { Fill::Black } else { Fill::White },
        );
        // Where the number before stands too near, it speaks for both; all stand in the table.
        let near = last.is_some_and(|(a, b)| (a - x).abs() < 20.0 && (b - y).abs() < 14.0);
        if !near {
            canvas.text((x + 6.0, y - 5.0), &number.to_string(), Letters::SMALL);
            last = Some((*x, *y));
        }
        told.push(format!(
            "{number}: {}, {:.1} % fall-off",
            currency.words(Money::from_minor_units(a.bought)),
            a.fall_off.value * 100.0
        ));
    }
    let y = TOP + HIGH + 52.0;
    let words = "Each point: an arrangement of cuts, feeds and cables, by its number in the table of the trade-off. Filled: proven, nothing as \
                 bright costs less. Open: the best that was found. Fall-off: how far the current of the dimmest cell lies below \
                 nominal, worst case low.";
    let high = canvas.paragraph((0.0, y), words, WIDTH, 4, Letters::SMALL);
    canvas.finish(y + high, &title, &told.join("; "))
}

/// A scale around figures.
fn around(figures: impl Iterator<Item = f64> + Clone, from: f64, to: f64) -> Scale {
    let low = figures.clone().fold(f64::INFINITY, f64::min);
    let high = figures.fold(f64::NEG_INFINITY, f64::max);
    let margin = ((high - low) * 0.08).max(high.abs().max(1.0) * 1e-3);
    Scale {
        low: low - margin,
        high: high + margin,
        from,
        to,
    }
}

fn axes(canvas: &mut Canvas, currency: &Currency, across: Scale, up: Scale) {
    let (ticks, _) = across.ticks(6);
    for tick in ticks {
        let x = across.at(tick);
        canvas.line((x, TOP), (x, TOP + HIGH), Stroke::Faint);
        let words = currency.words(Money::from_minor_units(tick.round() as i64));
        canvas.text((x, TOP + HIGH + 14.0), &words, Letters::SMALL.middle());
    }
    let (ticks, decimals) = up.ticks(6);
    for tick in ticks {
        let y = up.at(tick);
        canvas.line((LEFT, y), (WIDTH - 30.0, y), Stroke::Faint);
        let words = format!("{tick:.decimals$} %");
        canvas.text((LEFT - 5.0, y + SMALL * 0.35), &words, Letters::SMALL.end());
    }
    let size = (WIDTH - 30.0 - LEFT, HIGH);
    canvas.rectangle((LEFT, TOP), size, Stroke::Thin, Fill::None);
    canvas.text((0.0, TOP - 10.0), "Fall-off of light", Letters::SMALL);
    let foot = (WIDTH - 30.0, TOP + HIGH + 30.0);
    canvas.text(
        foot,
        "Cost of cable, segments, feeds, breaks and joints of this run",
        Letters::SMALL.end(),
    );
}
