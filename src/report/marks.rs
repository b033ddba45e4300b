//! Places on a run in the units of the job: a mark is counted by the library and read by a person as a length.

use super::lengths::length;
use crate::design::Design;
use crate::finding::Subject;
use std::collections::BTreeMap;

/// Where a finding or a limit stands: `run S1, white, at 5.95 m`; other subjects as they are called.
pub(super) fn place(design: &Design, about: &Subject) -> String {
    at_length(design, about).unwrap_or_else(|| about.to_string())
}

fn at_length(design: &Design, about: &Subject) -> Option<String> {
    let Subject::Mark {
        run: id,
        emitter,
        number,
        ..
    } = about
    else {
        return None;
    };
    let run = design.runs.iter().find(|run| run.id == *id)?;
    let at = design.strip(&run.strip)?.pitch.length_of(*number);
    let emitter = emitter.as_ref().map_or(String::new(), |e| format!(", {e}"));
    Some(format!(
        "run {id}{emitter}, at {}",
        length(design.job.units, at)
    ))
}

/// The marks of all findings by the names that their subjects have.
pub(super) struct Marks(BTreeMap<String, String>);

impl Marks {
    pub(super) fn of(design: &Design) -> Self {
        let each = design.findings.iter();
        let marks = each.filter_map(|finding| {
            let said = at_length(design, &finding.about)?;
            Some((finding.about.to_string(), said))
        });
        Self(marks.collect())
    }

    /// A list of places with each mark as a length.
    pub(super) fn said(&self, places: &str) -> String {
        if self.0.is_empty() {
            return places.to_string();
        }
        let each = places.split("; ");
        let said = each.map(|place| self.0.get(place).map_or(place, String::as_str));
        said.collect::<Vec<_>>().join("; ")
    }
}
