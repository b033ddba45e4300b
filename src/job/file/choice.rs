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
        let value = self.value(key)?;
        let list = || {
            words
                .iter()
                .map(|(word, _)| format!("\"{word}\""))
                .collect::<Vec<_>>()
                .join(", ")
        };
        let first = words.first().map(|(_, choice)| choice.clone());
        let DeValue::String(text) = value.get_ref() else {
            self.say(
                FaultKind::WrongType,
                key,
                format!("is {}, where a word is needed", called(value.get_ref())),
                "",
                list(),
            );
            return first;
        };
        let found = text.trim();
        if let Some((_, choice)) = words.iter().find(|(word, _)| *word == found) {
            return Some(choice.clone());
        }
        let near = self
            .shared
            .faults
            .borrow_mut()
            .nearest(found, words.iter().map(|(word, _)| *word));
        self.push(
            FaultKind::Unreadable,
            key,
            format!("is `{}`, which is not an accepted word", shorten(found)),
            String::new(),
            list(),
            &near,
        );
        first
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
            let list: Vec<String> = words
                .iter()
                .map(|(word, _)| format!("\"{word}\""))
                .collect();
            self.missing(key, &format!("one of {}", list.join(", ")));
            stand_in
        })
    }

    /// A list of words of a closed list, each at most once; needed.
    pub(super) fn choices<T: Clone>(&self, key: &'static str, words: &[(&str, T)]) -> Vec<T> {
        let listed: Vec<String> = words
            .iter()
            .map(|(word, _)| format!("\"{word}\""))
            .collect();
        let listed = listed.join(", ");
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
