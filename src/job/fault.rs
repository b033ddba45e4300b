//! What is wrong with a job, all of it at once.

use crate::order::Order as _;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt;

/// Most faults kept and printed; the rest are counted.
pub const MOST_FAULTS: usize = 200;

/// Most faults held until they are put in order; later ones are only counted.
const MOST_HELD: usize = 100_000;

/// Most faults that the keys of one table give rise to.
const MOST_OF_A_TABLE: usize = 64;

/// Most near misses looked for in one job: each compares a name with all of its kind.
const MOST_SUGGESTIONS: usize = MOST_FAULTS;

/// Where something stands in a file: line and column from 1, columns in characters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Place {
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
}

/// What kind of fault it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[non_exhaustive]
pub enum FaultKind {
    /// The file as a whole: its size, encoding, nesting, version.
    File,
    /// Text that is not TOML.
    Syntax,
    /// A key that the table does not have.
    UnknownKey,
    /// Something needed is not there.
    Missing,
    /// A number, list or table where something else is needed.
    WrongType,
    /// A bare number where a unit is needed.
    BareNumber,
    /// Text that cannot be read as what is needed.
    Unreadable,
    /// A value outside what it can be.
    OutOfRange,
    /// A name that cannot be one.
    Name,
    /// A name given twice, or two that look alike.
    Duplicate,
    /// A name that nothing has.
    UnknownName,
    /// Parts of the job that contradict each other.
    Contradiction,
}

/// One thing wrong with a job: where, what was found, what is accepted, how to mend it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// Kind, for programs.
    pub kind: FaultKind,
    /// Where it stands, when the job came from a file.
    pub place: Option<Place>,
    /// Table: `run "north cove"`; empty for the file as a whole.
    pub subject: String,
    /// Field in it: `path 3: length`; empty for the table as a whole.
    pub field: String,
    /// What is wrong, with what was found.
    pub says: String,
    /// How to mend it; may be empty.
    pub remedy: String,
    /// What is accepted; may be empty.
    pub accepted: String,
    /// A near miss; may be empty.
    pub suggestion: String,
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.subject)?;
        if !self.subject.is_empty() {
            f.write_str(": ")?;
        }
        f.write_str(&self.field)?;
        // A message that opens with the text found stands apart from the field's name.
        if !self.field.is_empty() {
            f.write_str(if self.says.starts_with('`') {
                ": "
            } else {
                " "
            })?;
        }
        f.write_str(&self.says)?;
        if !self.remedy.is_empty() {
            write!(f, ". {}", self.remedy)?;
        }
        if !self.accepted.is_empty() {
            write!(f, "; accepted: {}", self.accepted)?;
        }
        if !self.suggestion.is_empty() {
            write!(f, "; did you mean `{}`?", self.suggestion)?;
        }
        Ok(())
    }
}

/// Everything that is wrong with a job, in the order of the file.
///
/// At most [`MOST_FAULTS`] are kept; [`JobFaults::count`] counts all. Printed one a line:
///
/// ```text
/// job.toml:41:10: run "north wall": length is 7.5, a bare number. Write "7.5 m" or "25 ft"; accepted: m, cm, mm, ft, in
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct JobFaults {
    file: String,
    faults: Vec<Fault>,
    count: usize,
}

impl JobFaults {
    /// The first of the faults, at most [`MOST_FAULTS`].
    #[must_use]
    pub fn faults(&self) -> &[Fault] {
        &self.faults
    }

    /// How many there are in all.
    #[must_use]
    pub fn count(&self) -> usize {
        self.count
    }

    /// Name of the file; empty for a job built in code.
    #[must_use]
    pub fn file(&self) -> &str {
        &self.file
    }
}

impl fmt::Display for JobFaults {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (index, fault) in self.faults.iter().enumerate() {
            if index > 0 {
                f.write_str("\n")?;
            }
            match (self.file.is_empty(), fault.place) {
                (false, Some(Place { line, column })) => {
                    write!(f, "{}:{line}:{column}: {fault}", self.file)?;
                }
                (false, None) => write!(f, "{}: {fault}", self.file)?,
                (true, _) => write!(f, "{fault}")?,
            }
        }
        if self.count > self.faults.len() {
            write!(
                f,
                "\nand {} more: {} faults in all, the first {} are shown",
                self.count - self.faults.len(),
                self.count,
                self.faults.len()
            )?;
        }
        Ok(())
    }
}

impl std::error::Error for JobFaults {}

/// Where every table and field of a job stands in its file.
///
/// Keys are the words of [`Fault`]: `run "north cove"` and `run "north cove": length`.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct PlaceMap {
    places: BTreeMap<String, Place>,
}

impl PlaceMap {
    /// Notes where something stands; the first mention counts.
    pub(crate) fn note(&mut self, path: String, place: Place) {
        self.places.entry(path).or_insert(place);
    }

    /// Where a field stands, or the table it belongs to.
    #[must_use]
    pub fn find(&self, subject: &str, field: &str) -> Option<Place> {
        if !field.is_empty() {
            let mut path = path(subject, field);
            loop {
                if let Some(place) = self.places.get(&path) {
                    return Some(*place);
                }
                // A field that is not there stands where the list or table it belongs to does.
                match path.rfind(": ") {
                    Some(shorter) if shorter > subject.len() => path.truncate(shorter),
                    _ => break,
                }
            }
        }
        self.places.get(subject).copied()
    }
}

/// The path of a field, as messages print it.
pub(crate) fn path(subject: &str, field: &str) -> String {
    match (subject.is_empty(), field.is_empty()) {
        (_, true) => subject.to_string(),
        (true, false) => field.to_string(),
        (false, false) => format!("{subject}: {field}"),
    }
}

/// Collects faults and carries on.
#[derive(Debug, Default)]
pub(crate) struct Faults {
    found: Vec<Fault>,
    /// Paths that are already known to be wrong: nothing more is said of them.
    broken: BTreeSet<String>,
    /// Subjects of which something else stands where their table should.
    no_tables: BTreeSet<String>,
    suggestions: usize,
    /// Faults that were counted and not held.
    beyond: usize,
    pub(crate) places: PlaceMap,
}

impl Faults {
    /// Notes a fault unless something was said about that very field before.
    pub(crate) fn push(&mut self, mut fault: Fault) {
        let full = path(&fault.subject, &fault.field);
        // Of a table that is none, nothing more is said.
        if fault.field.is_empty() {
            if fault.kind == FaultKind::WrongType {
                self.no_tables.insert(fault.subject.clone());
            }
        } else if self.no_tables.contains(&fault.subject) {
            return;
        }
        if fault.place.is_none() {
            // What the file as a whole lacks stands at its beginning.
            let found = self.places.find(&fault.subject, &fault.field);
            fault.place = found.or_else(|| self.places.find("", ""));
        }
        if self.broken.insert(full) || fault.field.is_empty() {
            if self.found.len() < MOST_HELD {
                self.found.push(fault);
            } else {
                self.beyond += 1;
            }
        }
    }

    /// Says something about a field.
    pub(crate) fn say(
        &mut self,
        kind: FaultKind,
        at: (&str, &str),
        says: impl Into<String>,
        remedy: impl Into<String>,
    ) {
        self.push(Fault {
            kind,
            place: None,
            subject: at.0.to_string(),
            field: at.1.to_string(),
            says: says.into(),
            remedy: remedy.into(),
            accepted: String::new(),
            suggestion: String::new(),
        });
    }

    /// Takes out that a field of the table read last is missing; its remedy, if that was said. The field stays known to be
    /// wrong: what it lacks is a consequence of something that is told.
    pub(crate) fn take_missing(&mut self, subject: &str, field: &str) -> Option<String> {
        self.broken.insert(path(subject, field));
        let last = self.found.iter().enumerate().rev().take(MOST_OF_A_TABLE);
        let mut own = last.filter(|(_, f)| f.subject == subject && f.field == field);
        let (at, _) = own.find(|(_, f)| f.kind == FaultKind::Missing)?;
        Some(self.found.remove(at).remedy)
    }

    /// Whether nothing was said about any of these fields, nor about fields or entries inside them.
    pub(crate) fn sound(&self, subject: &str, fields: &[&str]) -> bool {
        fields.iter().all(|field| {
            let full = path(subject, field);
            let mut near = self
                .broken
                .range(full.clone()..)
                .map_while(|broken| broken.strip_prefix(full.as_str()));
            // `path`, `path: …` and `path 3…` belong to `path`; `paths` does not.
            !near.any(|rest| {
                let entry = rest.strip_prefix(' ');
                rest.is_empty()
                    || rest.starts_with(": ")
                    || entry.is_some_and(|e| e.starts_with(|c: char| c.is_ascii_digit()))
            })
        })
    }

    /// The nearest of `names` to `wrong`, unless none is near or enough were looked for.
    pub(crate) fn nearest<'n>(
        &mut self,
        wrong: &str,
        names: impl Iterator<Item = &'n str>,
    ) -> String {
        if self.suggestions >= MOST_SUGGESTIONS {
            return String::new();
        }
        self.suggestions += 1;
        let wrong_length = wrong.chars().count();
        let most = (wrong_length / 3).clamp(1, 3);
        let low = wrong.to_lowercase();
        names
            .filter(|name| name.chars().count().abs_diff(wrong_length) <= most)
            .map(|name| (strsim::osa_distance(&low, &name.to_lowercase()), name))
            .filter(|(distance, _)| *distance <= most)
            .min()
            .map_or_else(String::new, |(_, name)| name.to_string())
    }

    /// Whether there is none.
    pub(crate) fn is_empty(&self) -> bool {
        self.found.is_empty()
    }

    /// Keeps only the faults for which `keep` holds.
    pub(crate) fn retain(&mut self, keep: impl FnMut(&Fault) -> bool) {
        self.found.retain(keep);
    }

    /// All of them in the order of the file, cut to [`MOST_FAULTS`] and counted.
    pub(crate) fn into_job_faults(mut self, file: &str) -> JobFaults {
        // Stable: faults of one place stay in the order they were found.
        self.found
            .order_by_key(|fault| fault.place.map_or((usize::MAX, 0), |p| (p.line, p.column)));
        let count = self.found.len() + self.beyond;
        self.found.truncate(MOST_FAULTS);
        JobFaults {
            file: crate::quantity::shorten(file),
            faults: self.found,
            count,
        }
    }
}
