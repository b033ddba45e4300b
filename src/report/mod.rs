//! The design on paper: schedules, text, Markdown, CSV. No physics, no files: strings only.
//!
//! ```text
//! Design ─► Printed    findings in words, the same at several places together; sources numbered
//!             ├─► overview  the answers first, on two pages at most
//!             └─► Schedule  (a file each in `schedules`: heading, unit, key, how a cell is got)
//!                   ├─► text       a page of so many columns, opened by summary and cautions
//!                   ├─► markdown   the same document
//!                   └─► csv        one sheet a schedule, figures as numbers
//! ```
//!
//! Every finding is printed: failures first, then what was not evaluated, then what is at its
//! limit, then what passes. Every source is listed once and referred to by its number. The
//! [`CAUTIONS`] open every document. The same design gives the same bytes.
//!
//! Rounding is for reading only: volts and amperes to 0.01, watts and per cent to 0.1, cuts to
//! whole millimetres. Lengths in the CSV files are exact; every other figure stands there as
//! printed.
//!
//! ```
//! use evenrun::report;
//! # let text = include_str!("../../examples/archive_wing.toml");
//! let job = evenrun::job::read(text, "archive_wing.toml")?;
//! let design = evenrun::plan::plan(&job);
//! let page = report::text(&design, 100);
//! assert!(page.starts_with(design.job.title.as_str()));
//! assert!(page.contains(report::CAUTIONS[0].text.split_whitespace().next().unwrap()));
//! assert!(report::files(&design).iter().any(|(name, _)| name == "runs.csv"));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod cautions;
mod compare;
mod document;
mod drawing;
pub(crate) mod lengths;
mod markdown;
mod marks;
mod merged;
mod of_runs;
mod overview;
mod page;
mod printed;
mod readers;
mod references;
mod run_sheet;
mod schedule;
mod schedules;
mod sheet;
mod summary;
mod table;
mod text;
mod trade_off;
mod words;
pub(crate) mod wrap;

pub use cautions::{CAUTIONS, Caution};
pub use compare::comparison;
pub use markdown::markdown;
pub use overview::overview;
pub use run_sheet::{run_sheet, run_sheets};
pub use schedule::{Alignment, Cell, Column, Placing, Schedule, Unit};
pub use sheet::csv;
pub use text::text;
pub use trade_off::trade_off;
pub use wrap::wrap;

use crate::design::Design;

/// Every schedule of a design, in the order of the document: also those without a row.
#[must_use]
pub fn schedules(design: &Design) -> Vec<Schedule> {
    document::schedules(&printed::Printed::of(design))
}

/// What a page opens with: what keeps a design from calling itself complete, as its first line says it; what is outside
/// of every plan; and the schedules with a row, exceptions printed and passes counted.
#[cfg(feature = "draw")]
pub(crate) struct Opening {
    pub because: Vec<String>,
    pub outside: String,
    pub schedules: Vec<Schedule>,
}

/// The same for a design.
#[cfg(feature = "draw")]
pub(crate) fn opening(design: &Design) -> Opening {
    let printed = printed::Printed::of(design);
    let all = document::schedules(&printed);
    let schedules = all
        .iter()
        .filter_map(|own| document::on_paper(&printed, own));
    Opening {
        because: printed.tally.first_words(),
        outside: document::outside(&printed),
        schedules: schedules.collect(),
    }
}

/// What keeps a design from calling itself complete, as its opening says it: so many limits that are broken, so many
/// questions that were not evaluated; empty when nothing does.
#[must_use]
pub fn incomplete_because(design: &Design) -> Vec<String> {
    printed::Printed::of(design).tally.incomplete_because()
}

/// Columns of the text among [`files`].
pub const PAGE_WIDTH: usize = 100;

/// Every file of a design as its name and content: `overview.txt`; a text a reader (designer, electrician, bench,
/// programmer, purchasing, site); `run_sheets.txt`; the whole as `plan.md`; and a CSV file a schedule, each with the
/// fingerprint of the design in a last row. Writing them is the caller's.
#[must_use]
pub fn files(design: &Design) -> Vec<(String, String)> {
    let mut files = vec![("overview.txt".to_string(), overview(design, PAGE_WIDTH))];
    files.extend(readers::files(design, PAGE_WIDTH));
    files.push(("run_sheets.txt".to_string(), run_sheets(design, PAGE_WIDTH)));
    files.push(("plan.md".to_string(), markdown(design)));
    for schedule in schedules(design) {
        files.push((
            format!("{}.csv", schedule.key),
            sheet::sealed(&schedule, &design.job.fingerprint.0),
        ));
    }
    files
}
