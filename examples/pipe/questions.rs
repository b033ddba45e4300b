//! The questions by name.

use super::fault::{Kind, Refusal, near};
use super::{chain, conductor, cut, job, network, run, supplies};

type Answer = fn(&str) -> Result<String, Refusal>;

/// Every question with what answers it.
pub const QUESTIONS: [(&str, Answer); 7] = [
    ("network", network::answer),
    ("run", run::answer),
    ("cut", cut::answer),
    ("supplies", supplies::answer),
    ("chain", chain::answer),
    ("conductor", conductor::answer),
    ("job", job::answer),
];

/// Answers a question by its name.
pub fn ask(question: &str, input: &str) -> Result<String, Refusal> {
    if let Some((_, answer)) = QUESTIONS.iter().find(|(name, _)| *name == question) {
        return answer(input);
    }
    let names: Vec<&str> = QUESTIONS.iter().map(|(name, _)| *name).collect();
    let hint = near(question, names.iter().copied());
    let short: String = question.chars().take(60).collect();
    Err(Refusal::of(
        Kind::Question,
        format!(
            "`{short}` is no question; there are {}{}",
            names.join(", "),
            hint.map_or(String::new(), |name| format!("; did you mean `{name}`?"))
        ),
    ))
}
