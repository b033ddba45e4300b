//! Schedules as tables: headings by scope, figures to the right, scrolled where the screen is narrow.

use crate::report::{Alignment, Placing, Schedule};
use maud::{Markup, html};

pub(super) fn schedule(schedule: &Schedule) -> Markup {
    html! {
        div class="schedule" {
            h3 id={ "schedule-" (schedule.key) } { (schedule.title) }
            p { (schedule.intro) }
            (table(schedule.title, schedule))
            @for note in &schedule.notes { p { (note) } }
        }
    }
}

/// The same under another title, without its introduction.
pub(super) fn titled(title: &str, schedule: &Schedule) -> Markup {
    html! {
        h3 { (title) }
        (table(title, schedule))
    }
}

fn table(label: &str, schedule: &Schedule) -> Markup {
    html! {
        div class="scroll" tabindex="0" role="region" aria-label=(label) {
            table {
                thead {
                    tr {
                        @for column in &schedule.columns {
                            th scope="col" class=[(column.alignment == Alignment::Right).then_some("figure")] {
                                (column.printed())
                            }
                        }
                    }
                }
                tbody {
                    @for row in &schedule.rows {
                        tr {
                            @for (column, cell) in schedule.columns.iter().zip(row) {
                                td class=(class(column.alignment, column.placing, cell.printed())) {
                                    (cell.printed())
                                }
                            }
                        }
                    }
                }
            }
        }
    }
}

/// Long words take a column of their own width, short ones and figures no more than they need.
fn class(alignment: Alignment, placing: Placing, words: &str) -> &'static str {
    match (alignment, placing) {
        (Alignment::Right, _) => "figure",
        (_, Placing::Beneath) => "sentence",
        _ if words.chars().count() > 40 => "sentence",
        _ => "words",
    }
}
