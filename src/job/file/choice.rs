//! A word of a closed list, or several.

use super::table::{Table, called};
use crate::job::fault::FaultKind;
use crate::quantity::shorten;
use toml::de::DeValue;

impl Table<'_> {
    /// One of a closed list of words, if it is there. The list must not be empty.
    pub(super) fn maybe_choice<T: Clone>(
        &self,
        key: &'static str,
        words: &[(&str, T)],
    ) -> Option<T> {
        let (_, first) = words.first()?;
        let known: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
        let at = self.maybe_word(key, &known)?;
        Some(words.get(at).map_or(first, |(_, choice)| choice).clone())
    }

    /// Which of these words it is, if it is there: the first where it is none of them.
    fn maybe_word(&self, key: &'static str, words: &[&str]) -> Option<usize> {
        let value = self.value(key)?;
        let DeValue::String(text) = value.get_ref() else {
            self.say(
                FaultKind::WrongType,
                key,
                format!("is {}, where a word is needed", called(value.get_ref())),
                "",
                listed(words),
            );
            return Some(0);
        };
        let found = text.trim();
        if let Some(at) = words.iter().position(|word| *word == found) {
            return Some(at);
        }
        let near = self
            .shared
            .faults
            .borrow_mut()
            .nearest(found, words.iter().copied());
        self.push(
            FaultKind::Unreadable,
            key,
            format!("is `{}`, which is not an accepted word", shorten(found)),
            String::new(),
            listed(words),
            &near,
        );
        Some(0)
    }

    /// One of a closed list of words, or the default of its type.
    pub(super) fn choice_or<T: Clone>(
        &self,
        key: &'static str,
        words: &[(&str, T)],
        silent: T,
    ) -> T {
        self.maybe_choice(key, words).unwrap_or(silent)
    }

    /// One of a closed list of words; needed.
    pub(super) fn choice<T: Clone>(
        &self,
        key: &'static str,
        words: &[(&str, T)],
        stand_in: T,
    ) -> T {
        self.maybe_choice(key, words).unwrap_or_else(|| {
            let known: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
            self.missing(key, &format!("one of {}", listed(&known)));
            stand_in
        })
    }

    /// A list of words of a closed list, each at most once; needed.
    pub(super) fn choices<T: Clone>(&self, key: &'static str, words: &[(&str, T)]) -> Vec<T> {
        let known: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
        let listed = listed(&known);
        let first = words.first().map(|(_, choice)| choice.clone());
        if !self.has(key) {
            self.missing(key, &format!("a list of {listed}"));
            return first.into_iter().collect();
        }
        let mut out = Vec::new();
        let texts = self.texts(key);
        for text in &texts {
            match words.iter().find(|(word, _)| *word == text.trim()) {
                Some((_, choice)) => out.push(choice.clone()),
                None => self.say(
                    FaultKind::Unreadable,
                    key,
                    format!("has `{}`, which is not an accepted word", shorten(text)),
                    "",
                    listed.clone(),
                ),
            }
        }
        if texts.is_empty() {
            self.say(FaultKind::Missing, key, "is empty", "", listed);
        }
        out
    }
}

/// Words in quotes, one after another.
fn listed(words: &[&str]) -> String {
    let quoted: Vec<String> = words.iter().map(|word| format!("\"{word}\"")).collect();
    quoted.join(", ")
}
