//! An answer as a person reads it.

use crate::report::wrap;
use crate::source::Source;
use serde::Serialize;
use std::fmt;

/// Columns of a line.
const WIDTH: usize = 100;

const CAUTION: &str = "A calculation, not an approval: local codes govern, and a licensed person designs and connects.";

/// An answer as a person reads it: the answer first, how it was found, what was assumed, where it comes from.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Sheet {
    /// The answer, in one line.
    pub answer: String,
    /// What stands behind it.
    pub because: Vec<String>,
    /// What was assumed because nobody stated it.
    pub assumed: Vec<String>,
    /// Where rules and figures come from.
    pub sources: Vec<Source>,
}

impl Sheet {
    pub(super) fn new(answer: impl Into<String>) -> Self {
        Self {
            answer: answer.into(),
            because: Vec::new(),
            assumed: Vec::new(),
            sources: Vec::new(),
        }
    }

    pub(super) fn because(mut self, line: impl Into<String>) -> Self {
        self.because.push(line.into());
        self
    }

    pub(super) fn assumed(mut self, lines: &[String]) -> Self {
        self.assumed.extend_from_slice(lines);
        self
    }

    pub(super) fn source(mut self, source: Source) -> Self {
        if !self.sources.contains(&source) {
            self.sources.push(source);
        }
        self
    }
}

/// The answer, then what stands behind it; no line is wider than 100 columns.
impl fmt::Display for Sheet {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sources: Vec<String> = self.sources.iter().map(ToString::to_string).collect();
        let mut lines = vec![(String::new(), self.answer.clone())];
        lines.extend(self.because.iter().map(|l| ("  ".to_string(), l.clone())));
        if !self.assumed.is_empty() {
            let all = self.assumed.join("; ");
            lines.push(("  ".to_string(), format!("Assumed: {all}.")));
        }
        if !sources.is_empty() {
            let all = sources.join("; ");
            lines.push(("  ".to_string(), format!("Source: {all}.")));
        }
        lines.push(("  ".to_string(), CAUTION.to_string()));
        for (indent, line) in lines {
            for part in wrap(&line, WIDTH - indent.len()) {
                writeln!(f, "{indent}{part}")?;
            }
        }
        Ok(())
    }
}
