//! Why a line has no answer: all that is wrong with it.

use serde::Serialize;

/// What kind of refusal it is, for programs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Kind {
    /// The line is no JSON object in UTF-8, or too long.
    Line,
    /// The question is missing or unknown.
    Question,
    /// The input has another form than the question takes: every such place.
    Form,
    /// The input has the form, and figures or names that cannot be: every one of them.
    Check,
    /// The input is sound, and there is no answer to it.
    Answer,
    /// A fault of this program.
    Program,
}

/// One thing that is wrong.
#[derive(Debug, Clone, Serialize)]
pub struct Fault {
    /// Where in the line or in the job; none where the words say it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub place: Option<String>,
    /// What was found, what is accepted, how to mend it.
    pub says: String,
}

impl Fault {
    /// At a field of the input.
    pub fn at(field: &str, says: impl ToString) -> Self {
        Self {
            place: Some(format!("input.{field}")),
            says: says.to_string(),
        }
    }

    /// Without a place: the words say it.
    pub fn plain(says: impl ToString) -> Self {
        Self {
            place: None,
            says: says.to_string(),
        }
    }
}

/// All that is wrong with a line.
#[derive(Debug, Clone, Serialize)]
pub struct Refusal {
    /// Kind.
    pub kind: Kind,
    /// The faults, one at least.
    pub faults: Vec<Fault>,
}

impl Refusal {
    /// One fault without a place.
    pub fn of(kind: Kind, says: impl ToString) -> Self {
        Self::all(kind, [says])
    }

    /// Every fault of a list.
    pub fn all(kind: Kind, faults: impl IntoIterator<Item = impl ToString>) -> Self {
        let faults = faults.into_iter().map(Fault::plain).collect();
        Self { kind, faults }
    }

    /// The answer, unless something is wrong.
    pub fn unless(faults: Vec<Fault>) -> Result<(), Self> {
        if faults.is_empty() {
            return Ok(());
        }
        let kind = Kind::Check;
        Err(Self { kind, faults })
    }

    /// Every fault that a check found.
    pub fn check(faults: impl IntoIterator<Item = impl ToString>) -> Self {
        Self::all(Kind::Check, faults)
    }
}

/// An answer as JSON.
pub fn write(answer: &impl Serialize) -> Result<String, Refusal> {
    serde_json::to_string(answer).map_err(|error| Refusal::of(Kind::Answer, error))
}

/// What is wrong, without the column that is counted from somewhere inside the line.
pub fn without_column(error: &serde_json::Error) -> String {
    let text = error.to_string();
    match text.rsplit_once(" at line ") {
        Some((says, _)) => says.to_string(),
        None => text,
    }
}

/// The nearest of some names, where one is near enough to be meant.
pub fn near<'a>(found: &str, names: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let short: String = found.chars().take(60).collect();
    let each = names.into_iter();
    let measured = each.map(|name| (strsim::damerau_levenshtein(name, &short), name));
    let (distance, name) = measured.min()?;
    (distance <= 3).then_some(name)
}
