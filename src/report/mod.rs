//! The plan on paper: schedules, text, Markdown, CSV. No physics, no files: strings only.
//!
//! ```text
//! Plan ──► Schedule (columns defined once: heading, unit, key, how a cell is got)
//!            ├─► text       a page of so many columns, opened by summary and cautions
//!            ├─► markdown   the same document
//!            └─► csv        one sheet a schedule, figures as numbers
//! ```
//!
//! Every finding is printed: failures first, then what was not evaluated, then what is at its
//! limit, then what passes. Every source is listed once and referred to by its number. The
//! [`CAUTIONS`] open every document. The same plan gives the same bytes.
//!
//! Rounding is for reading only: volts and amperes to 0.01, watts and per cent to 0.1, cuts to
//! whole millimetres. Lengths in the CSV files are exact; every other figure stands there as
//! printed.
//!
//! ```
//! use evenrun::plan::model::Plan;
//! use evenrun::report;
//! let mut plan = Plan::default();
//! plan.title = "North stair (invented)".to_string();
//! let page = report::text(&plan, 100);
//! assert!(page.starts_with("North stair (invented)\n"));
//! assert!(page.contains(report::CAUTIONS[0].text.split_whitespace().next().unwrap()));
//! assert!(report::files(&plan).iter().any(|(name, _)| name == "runs.csv"));
//! ```

mod answers;
mod cautions;
mod choices;
mod compare;
mod control;
mod document;
mod markdown;
mod power;
mod references;
mod schedule;
mod sheet;
mod site;
mod tape;
mod text;
mod trade_off;
mod wrap;

pub use cautions::{CAUTIONS, Caution};
pub use compare::comparison;
pub use markdown::markdown;
pub use schedule::{Alignment, Cell, Column, Placing, Schedule, Unit};
pub use sheet::csv;
pub use text::text;
pub use trade_off::trade_off;
pub use wrap::wrap;

use crate::plan::model::Plan;

/// Every schedule of a plan, in the order of the document: also those without a row.
#[must_use]
pub fn schedules(plan: &Plan) -> Vec<Schedule> {
    document::schedules(plan)
}

/// Columns of the text among [`files`].
pub const PAGE_WIDTH: usize = 100;

/// Every file of a plan as its name and content: `plan.txt`, `plan.md`, and a CSV file a
/// schedule. Writing them is the caller's.
#[must_use]
pub fn files(plan: &Plan) -> Vec<(String, String)> {
    let mut files = vec![
        ("plan.txt".to_string(), text(plan, PAGE_WIDTH)),
        ("plan.md".to_string(), markdown(plan)),
    ];
    for schedule in schedules(plan) {
        files.push((format!("{}.csv", schedule.key), csv(&schedule)));
    }
    files
}
