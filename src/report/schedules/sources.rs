//! Where figures and limits come from.

use crate::report::references::References;
use crate::report::schedule::{Draft, Schedule};
use crate::source::{Source, SourceKind, Standing, documents};

pub(in crate::report) fn sources(references: &References<'_>) -> Schedule {
    Draft::<(usize, &Source, String)>::new(
        "sources",
        "Sources",
        "Where the figures and limits come from. The plan refers to them by these numbers. \
         Standing: read in its own text; quoted, where another document quotes it; or from memory. \
         Newer: an edition that is known to exist and was not used; which one is in force where the job is, is for whoever signs to say.",
    )
    .name("number", "No.", |r| format!("[{}]", r.0))
    .words("title", "Source", |r| &r.1.title)
    .words("edition", "Edition", |r| &r.1.edition)
    .words("clause", "Clause or table", |r| &r.1.clause)
    .words("newer", "Newer", |r| {
        documents::of(r.1).map_or("", |document| document.newer)
    })
    .words("kind", "Kind", |r| kind(r.1.kind))
    .words("standing", "Standing", |r| standing(r.1))
    .words("used_by", "Used by", |r| r.2.clone())
    .fill(references.rows())
}

/// The words for a kind of source.
fn kind(kind: SourceKind) -> &'static str {
    match kind {
        SourceKind::Standard => "standard",
        SourceKind::Handbook => "handbook",
        SourceKind::Paper => "paper",
        SourceKind::DataSheet => "data sheet",
        SourceKind::CommonPractice => "common practice",
        SourceKind::Assumption => "assumption of this library",
        SourceKind::Computed => "computed here",
        SourceKind::Stated => "stated in the job",
        SourceKind::Invented => "invented",
    }
}

/// How sure it is. Only a document can have been read.
fn standing(source: &Source) -> &'static str {
    match (source.standing, source.kind) {
        (Standing::FromMemory, _) => "from memory",
        (Standing::Quoted, _) => "quoted",
        (_, SourceKind::Standard | SourceKind::Handbook | SourceKind::Paper) => "read",
        _ => "-",
    }
}
