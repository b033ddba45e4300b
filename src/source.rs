//! Where a number comes from.
//!
//! Every table, limit and check of this crate carries a [`Source`], so that a
//! figure in a plan can be followed back to its document. Facts of the trade
//! that no document was found for say so ([`SourceKind::CommonPractice`]); a
//! value that was not confirmed in a document says that too
//! ([`Standing::FromMemory`]), and so does one that only other documents quote
//! ([`Standing::Quoted`]). What the crate takes on its own is an
//! [assumption](SourceKind::Assumption).
//!
//! The [`documents`] stand in one list, each with the one edition that the crate holds to.
//!
//! ```
//! use evenrun::source::documents;
//! let table_8 = documents::NEC.at("chapter 9, table 8");
//! assert_eq!(table_8.to_string(), "National Electrical Code, NFPA 70-2023, chapter 9, table 8");
//! let classes = documents::IEC_60228.at("tables 1 to 4");
//! assert!(classes.to_string().ends_with("2004, tables 1 to 4 (quoted)"));
//! ```

pub mod documents;

use serde::{Deserialize, Serialize};
use std::borrow::Cow;
use std::fmt;

/// What kind of document or knowledge a number comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum SourceKind {
    /// A standard or code.
    Standard,
    /// A handbook or textbook.
    Handbook,
    /// A paper.
    Paper,
    /// The maker's data sheet or label.
    DataSheet,
    /// A habit of the trade; no published source is claimed.
    CommonPractice,
    /// Taken by this library, without a source; the job can state it otherwise.
    Assumption,
    /// Worked out by this crate from the inputs named.
    Computed,
    /// Stated by whoever wrote the job.
    Stated,
    /// Invented for a demonstration.
    Invented,
}

/// How sure the reference is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Standing {
    /// Read in its own text.
    Confirmed,
    /// Quoted by another document; its own text was not read.
    Quoted,
    /// Remembered, and not confirmed in a document: check before citing.
    FromMemory,
}

/// A citation: title, edition, clause or table, and how sure it is.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Source {
    /// Title of the document, or what the habit or computation is.
    pub title: Cow<'static, str>,
    /// Edition or year; empty where there is none.
    pub edition: Cow<'static, str>,
    /// Clause, table or equation; empty where there is none.
    pub clause: Cow<'static, str>,
    /// What kind of source.
    pub kind: SourceKind,
    /// How sure.
    pub standing: Standing,
}

impl Source {
    const fn fixed(
        kind: SourceKind,
        title: &'static str,
        edition: &'static str,
        clause: &'static str,
    ) -> Self {
        Self {
            title: Cow::Borrowed(title),
            edition: Cow::Borrowed(edition),
            clause: Cow::Borrowed(clause),
            kind,
            standing: Standing::Confirmed,
        }
    }

    /// A clause or table of a standard or code.
    #[must_use]
    pub const fn standard(
        title: &'static str,
        edition: &'static str,
        clause: &'static str,
    ) -> Self {
        Self::fixed(SourceKind::Standard, title, edition, clause)
    }

    /// A place in a handbook.
    #[must_use]
    pub const fn handbook(
        title: &'static str,
        edition: &'static str,
        clause: &'static str,
    ) -> Self {
        Self::fixed(SourceKind::Handbook, title, edition, clause)
    }

    /// A place in a paper.
    #[must_use]
    pub const fn paper(title: &'static str, edition: &'static str, clause: &'static str) -> Self {
        Self::fixed(SourceKind::Paper, title, edition, clause)
    }

    /// A habit of the trade, without an invented reference.
    #[must_use]
    pub const fn common_practice(what: &'static str) -> Self {
        Self::fixed(SourceKind::CommonPractice, what, "", "")
    }

    /// What this library takes without a source.
    #[must_use]
    pub const fn assumption(what: &'static str) -> Self {
        Self::fixed(SourceKind::Assumption, what, "", "")
    }

    /// A figure that this crate works out; `what` names the equation.
    #[must_use]
    pub const fn computed(what: &'static str) -> Self {
        Self::fixed(SourceKind::Computed, what, "", "")
    }

    /// A kind of figure that the author of any job states.
    #[must_use]
    pub const fn job(what: &'static str) -> Self {
        Self::fixed(SourceKind::Stated, what, "", "")
    }

    /// A kind of figure of a maker's data sheet or label, whatever the product.
    #[must_use]
    pub const fn label(what: &'static str) -> Self {
        Self::fixed(SourceKind::DataSheet, what, "", "")
    }

    /// A maker's data sheet or label.
    #[must_use]
    pub fn data_sheet(title: impl Into<Cow<'static, str>>) -> Self {
        Self {
            title: title.into(),
            ..Self::fixed(SourceKind::DataSheet, "", "", "")
        }
    }

    /// Stated in the job by its author.
    #[must_use]
    pub fn stated(what: impl Into<Cow<'static, str>>) -> Self {
        Self {
            title: what.into(),
            ..Self::fixed(SourceKind::Stated, "", "", "")
        }
    }

    /// Invented for a demonstration.
    #[must_use]
    pub fn invented(what: impl Into<Cow<'static, str>>) -> Self {
        Self {
            title: what.into(),
            ..Self::fixed(SourceKind::Invented, "", "", "")
        }
    }

    /// The same source, quoted by another document.
    #[must_use]
    pub const fn quoted(mut self) -> Self {
        self.standing = Standing::Quoted;
        self
    }

    /// The same source, its own text read.
    #[must_use]
    pub const fn read(mut self) -> Self {
        self.standing = Standing::Confirmed;
        self
    }

    /// The same source, marked as not confirmed in a document.
    #[must_use]
    pub const fn from_memory(mut self) -> Self {
        self.standing = Standing::FromMemory;
        self
    }
}

/// One citation line.
impl fmt::Display for Source {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let prefix = match self.kind {
            SourceKind::CommonPractice => "common practice: ",
            SourceKind::Assumption => "assumption of this library: ",
            SourceKind::Computed => "computed: ",
            SourceKind::Stated => "stated in the job: ",
            SourceKind::Invented => "invented for the demonstration: ",
            SourceKind::DataSheet => "data sheet: ",
            _ => "",
        };
        write!(f, "{prefix}{}", self.title)?;
        for part in [&self.edition, &self.clause] {
            if !part.is_empty() {
                write!(f, ", {part}")?;
            }
        }
        match self.standing {
            Standing::Confirmed => Ok(()),
            Standing::Quoted => write!(f, " (quoted)"),
            Standing::FromMemory => write!(f, " (from memory, not confirmed)"),
        }
    }
}
