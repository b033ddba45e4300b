//! What a rule says about a place, as data.
//!
//! ```text
//! Rule    id, title, question, source, the words of its answers        a constant, beside the code that judges
//!   └─ Finding   rule id, case, verdict, subject, figure, limit, facts      data: ids and quantities
//!        └─ Words     sentence, figure, limit, remedy                           made when it is printed
//! ```
//!
//! A rule never answers "approved": it answers that a stated limit is kept, is just reached, is broken, or was
//! *not evaluated*, and why. An answer that was not evaluated stands beside the others and is never dropped.
//!
//! ```
//! use evenrun::finding::{Case, Rule, Subject, Verdict};
//! use evenrun::id::SupplyId;
//! use evenrun::quantity::percent;
//! use evenrun::source::Source;
//! const LOADED: Case = Case::judged("loaded", "the supply carries {figure} of its rating")
//!     .remedy("move a segment to another supply");
//! const LOAD: Rule = Rule {
//!     id: "supply-load",
//!     title: "Load of a supply",
//!     asks: "Is each supply within its rating?",
//!     source: Source::common_practice("supplies loaded to 80 % of their rating"),
//!     needs: &[],
//!     cases: &[&LOADED],
//! };
//! let about = Subject::Supply(SupplyId::new("S1"));
//! let finding = LOAD.at_most(&LOADED, about, percent(81.0), percent(80.0));
//! assert_eq!(finding.verdict, Verdict::Fail);
//! assert_eq!(finding.words(Some(&LOAD)).says, "the supply carries 81 % of its rating");
//! ```

mod conductor;
mod figure;
mod rule;
mod service;
mod subject;
mod text;
mod verdict;
mod words;

pub use conductor::{Conductor, LeadSide};
pub use figure::{Count, Figure, Limit, Loads, Number, Value};
pub use rule::{Case, Rule};
pub use service::Service;
pub use subject::{DataLink, SplitterOutput, Subject};
pub use text::{Name, Note};
pub use verdict::Verdict;
pub use words::Words;

use crate::id::RuleId;
use crate::source::Source;
use serde::{Deserialize, Serialize};

/// One answer of one rule about one place.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Finding {
    /// The rule.
    pub rule: RuleId,
    /// Which of its answers.
    pub case: String,
    /// The verdict.
    pub verdict: Verdict,
    /// What it speaks of.
    pub about: Subject,
    /// The figure.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub figure: Option<Figure>,
    /// The limit.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub limit: Option<Limit>,
    /// What else was found.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub facts: Vec<Fact>,
    /// Where the limit comes from.
    pub source: Source,
}

/// A fact of a finding, by name.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Fact {
    /// Its name, as the words of the rule use it.
    pub name: String,
    /// What it is.
    pub value: Value,
}

impl Finding {
    /// With this figure; one that is not finite is none.
    #[must_use]
    pub fn figure(mut self, figure: impl Into<Figure>) -> Self {
        self.figure = Some(figure.into()).filter(Figure::is_finite);
        self
    }

    /// With this limit; one that is not finite is none.
    #[must_use]
    pub fn limit(mut self, limit: Limit) -> Self {
        self.limit = Some(limit).filter(|limit| match limit {
            Limit::AtMost(one) | Limit::AtLeast(one) | Limit::Below(one) | Limit::Above(one) => {
                one.is_finite()
            }
            Limit::Within(least, most) => least.is_finite() && most.is_finite(),
        });
        self
    }

    /// With another fact; a figure that is not finite is none.
    #[must_use]
    pub fn fact(mut self, name: &str, value: impl Into<Value>) -> Self {
        let value = value.into();
        if let Value::Figure(figure) = &value
            && !figure.is_finite()
        {
            return self;
        }
        self.facts.push(Fact {
            name: name.to_string(),
            value,
        });
        self
    }

    /// With another source than its rule's.
    #[must_use]
    pub fn source(mut self, source: Source) -> Self {
        self.source = source;
        self
    }

    /// Whether the limit is broken.
    #[must_use]
    pub fn is_fail(&self) -> bool {
        self.verdict == Verdict::Fail
    }

    /// Whether the rule could not be applied.
    #[must_use]
    pub fn is_not_evaluated(&self) -> bool {
        self.verdict == Verdict::NotEvaluated
    }

    /// The fact of this name.
    #[must_use]
    pub fn value(&self, name: &str) -> Option<&Value> {
        self.facts
            .iter()
            .find(|fact| fact.name == name)
            .map(|fact| &fact.value)
    }
}
