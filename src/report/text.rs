//! The design as text for a screen or a printer with letters of one width.

use super::document::{Block, blocks};
use super::printed::Printed;
use super::table::{notes, table};
use super::wrap::{paragraph, width};
use crate::design::Design;

/// No table is set narrower than this.
const NARROWEST: usize = 60;

/// The design as text, no line wider than `width` columns.
///
/// A table too wide for the page is printed in parts, one beneath the other, the names of
/// its rows repeated; sentences (a remedy, a reason) stand beneath their row in full width.
/// A `width` below 60 counts as 60. Control characters and marks that turn text around are
/// made visible, so that no name in a job can disturb the page.
///
/// Time and memory are near-linear in the design.
///
/// ```
/// let job = evenrun::job::read(include_str!("../../examples/archive_wing.toml"), "demo.toml").map_err(|f| f.to_string())?;
/// let design = evenrun::plan::plan(&job);
/// let page = evenrun::report::text(&design, 100);
/// assert!(page.starts_with("Archive wing, reading room and foyer\n===="));
/// assert!(page.lines().all(|line| line.chars().count() <= 100));
/// # Ok::<(), String>(())
/// ```
#[must_use]
pub fn text(design: &Design, width: usize) -> String {
    set(blocks(&Printed::of(design)), width)
}

/// Blocks as text, no line wider than `width` columns.
pub(super) fn set(blocks: Vec<Block>, width: usize) -> String {
    let most = width.max(NARROWEST);
    let mut out = String::new();
    let mut section = 0;
    for block in blocks {
        match block {
            Block::Title(title) => {
                out.push_str(&paragraph(&title, most, "", ""));
                let underline = super::wrap::width(&title).min(most);
                out.push_str(&"=".repeat(underline));
                out.push_str("\n\n");
            }
            Block::Heading(heading) => {
                out.push_str(&heading.to_uppercase());
                out.push_str("\n\n");
            }
            Block::Paragraph(words) => {
                out.push_str(&paragraph(&words, most, "", ""));
                out.push('\n');
            }
            Block::Points(points) => {
                for point in points {
                    out.push_str(&paragraph(&point, most, "  - ", "    "));
                }
                out.push('\n');
            }
            Block::Numbered(points) => {
                for (n, point) in points.iter().enumerate() {
                    let first = format!("{:>3}. ", n + 1);
                    out.push_str(&paragraph(point, most, &first, "     "));
                }
                out.push('\n');
            }
            Block::Pairs(pairs) => {
                for (word, words) in pairs {
                    let first = format!("  {word:<10}");
                    out.push_str(&paragraph(&words, most, &first, "            "));
                }
                out.push('\n');
            }
            Block::Warnings(warnings) => {
                for (title, words) in warnings {
                    out.push_str(&paragraph(
                        &format!("{}. {words}", title.to_uppercase()),
                        most,
                        "  ! ",
                        "    ",
                    ));
                }
                out.push('\n');
            }
            Block::Table(schedule) => {
                section += 1;
                let heading = format!("{section}  {}", schedule.title.to_uppercase());
                out.push_str(&heading);
                out.push('\n');
                out.push_str(&"-".repeat(self::width(&heading)));
                out.push_str("\n\n");
                out.push_str(&paragraph(&schedule.intro, most, "", ""));
                out.push('\n');
                table(&schedule, most, &mut out);
                notes(&schedule, most, &mut out);
            }
        }
    }
    out
}
