//! Names and other words: what they may contain, and which look like another.

use crate::job::fault::{FaultKind, Faults};
use crate::quantity::{printable, shorten};
use std::collections::BTreeMap;

/// Most characters of a name.
const LONGEST_NAME: usize = 80;
/// Most characters of other text.
const LONGEST_TEXT: usize = 500;

/// The names of one kind of table.
#[derive(Debug, Default)]
pub(super) struct Names {
    kind: &'static str,
    exact: BTreeMap<String, ()>,
    /// Whether a table of this kind has no name that could be read: it may be the one that is meant.
    nameless: bool,
    /// Names by what is left when case and look-alike letters are levelled.
    levelled: BTreeMap<String, String>,
}

impl Names {
    /// Takes the names of all tables of a kind, and says which cannot be names or stand twice.
    pub(super) fn take<'n>(
        kind: &'static str,
        names: impl Iterator<Item = (&'n str, &'n str)>,
        faults: &mut Faults,
    ) -> Self {
        let mut book = Self {
            kind,
            ..Self::default()
        };
        for (subject, name) in names {
            book.add(subject, "name", name, faults);
        }
        book
    }

    /// Takes one more name.
    pub(super) fn add(&mut self, subject: &str, field: &str, name: &str, faults: &mut Faults) {
        if !faults.sound(subject, &[field]) || !check_name(subject, field, name, faults) {
            self.nameless = true;
            return;
        }
        let shown = shorten(name);
        let kind = self.kind;
        if self.exact.insert(name.to_string(), ()).is_some() {
            faults.say(
                FaultKind::Duplicate,
                (subject, field),
                format!("`{shown}` is the name of another {kind} as well"),
                "Give each its own name",
            );
            return;
        }
        for form in [name.to_lowercase(), skeleton(name)] {
            match self.levelled.get(&form) {
                Some(other) if other != name => {
                    faults.say(
                        FaultKind::Duplicate,
                        (subject, field),
                        format!(
                            "`{shown}` looks like `{}`, the name of another {kind}",
                            shorten(other)
                        ),
                        "Names must differ by more than capitals and look-alike letters",
                    );
                    return;
                }
                _ => {
                    self.levelled.insert(form, name.to_string());
                }
            }
        }
    }

    /// Says so if nothing has the name that a field refers to.
    pub(super) fn refer(
        &self,
        subject: &str,
        field: &str,
        name: &str,
        faults: &mut Faults,
    ) -> bool {
        if !faults.sound(subject, &[field]) {
            return false;
        }
        if self.exact.contains_key(name) {
            return true;
        }
        // That a job has none of a kind at all, or one without a name, is told once.
        let has_none = self.exact.is_empty() && !faults.sound("", &[self.kind]);
        if has_none || self.nameless {
            return false;
        }
        let kind = self.kind;
        let article = if kind.starts_with(['a', 'e', 'i', 'o']) {
            "an"
        } else {
            "a"
        };
        let levelled = self
            .levelled
            .get(&skeleton(name))
            .or_else(|| self.levelled.get(&name.to_lowercase()));
        let near = match levelled {
            Some(other) => other.clone(),
            None => faults.nearest(name, self.exact.keys().map(String::as_str)),
        };
        let known: Vec<String> = self
            .exact
            .keys()
            .take(8)
            .map(|name| format!("`{}`", shorten(name)))
            .collect();
        let remedy = if known.is_empty() {
            format!("The job has none at all: write a [[{kind}]], or leave this out")
        } else if self.exact.len() > known.len() {
            format!(
                "It has {} of them, such as {}",
                self.exact.len(),
                known.join(", ")
            )
        } else {
            format!("It has {}", known.join(", "))
        };
        faults.push(crate::job::fault::Fault {
            kind: FaultKind::UnknownName,
            place: None,
            subject: subject.to_string(),
            field: field.to_string(),
            says: format!(
                "`{}` is not the name of {article} {kind} of this job",
                shorten(name)
            ),
            remedy,
            accepted: String::new(),
            suggestion: shorten(&near),
        });
        false
    }

    /// Refers to each of a list of names, and says which stands twice in it.
    pub(super) fn refer_all(
        &self,
        subject: &str,
        field: &str,
        names: &[String],
        faults: &mut Faults,
    ) {
        let mut seen = BTreeMap::new();
        for (index, name) in names.iter().enumerate() {
            let inner = format!("{field} {}", index + 1);
            if !self.refer(subject, &inner, name, faults) {
                continue;
            }
            if seen.insert(name.as_str(), ()).is_some() {
                faults.say(
                    FaultKind::Duplicate,
                    (subject, &inner),
                    format!("`{}` is listed twice", shorten(name)),
                    "Name each once",
                );
            }
        }
    }

    /// Whether there is none.
    pub(super) fn is_empty(&self) -> bool {
        self.exact.is_empty()
    }
}

/// Says what keeps a text from being a name.
fn check_name(subject: &str, field: &str, name: &str, faults: &mut Faults) -> bool {
    let says = if name.is_empty() {
        "is empty".to_string()
    } else if name.trim() != name {
        format!("\"{}\" begins or ends with a blank", shorten(name))
    } else if name.chars().count() > LONGEST_NAME {
        format!("has {} characters", name.chars().count())
    } else if let Some(odd) = name.chars().find(|c| !printable(*c)) {
        format!("holds the character U+{:04X}", u32::from(odd))
    } else {
        return true;
    };
    faults.say(
        FaultKind::Name,
        (subject, field),
        says,
        format!(
            "A name is printable text of 1 to {LONGEST_NAME} characters on one line, with plain blanks inside only"
        ),
    );
    false
}

/// Says what keeps a text from being printed on one line.
pub(super) fn check_text(subject: &str, field: &str, text: &str, faults: &mut Faults) {
    if let Some(odd) = text.chars().find(|c| !printable(*c)) {
        faults.say(
            FaultKind::Name,
            (subject, field),
            format!("holds the character U+{:04X}", u32::from(odd)),
            "Write printable text on one line, with plain blanks",
        );
    } else if text.chars().count() > LONGEST_TEXT {
        faults.say(
            FaultKind::Name,
            (subject, field),
            format!("has {} characters", text.chars().count()),
            format!("Shorten it: at most {LONGEST_TEXT} are printed"),
        );
    }
}

/// What is left of a name when capitals, dashes and letters that look alike are levelled.
fn skeleton(name: &str) -> String {
    name.chars()
        .map(|c| match c {
            // Full-width forms of the printable ASCII characters.
            '\u{ff01}'..='\u{ff5e}' => char::from_u32(u32::from(c) - 0xfee0).unwrap_or(c),
            '\u{2010}'..='\u{2015}' | '\u{2212}' => '-',
            c => c,
        })
        // Capitals that look like a Latin letter whose small form they do not have.
        .map(|c| match c {
            'I' | '|' | 'І' | 'Ӏ' | 'Ι' => 'l',
            'В' | 'Β' => 'b',
            'Н' | 'Η' => 'h',
            'М' | 'Μ' => 'm',
            'Т' | 'Τ' => 't',
            'К' | 'Κ' => 'k',
            'Ν' => 'n',
            'Ζ' => 'z',
            'Υ' | 'У' | 'Ү' => 'y',
            'Ρ' | 'Р' => 'p',
            'Χ' | 'Х' => 'x',
            other => other,
        })
        .flat_map(char::to_lowercase)
        .map(|c| match c {
            '0' | 'о' | 'ο' | 'օ' => 'o',
            '1' | 'ӏ' => 'l',
            'а' | 'α' => 'a',
            'е' | 'ε' => 'e',
            'с' | 'ϲ' => 'c',
            'р' | 'ρ' => 'p',
            'х' | 'χ' => 'x',
            'у' | 'υ' | 'γ' => 'y',
            'і' | 'ι' | 'ı' => 'i',
            'ј' => 'j',
            'ѕ' => 's',
            'ԁ' => 'd',
            'һ' => 'h',
            'κ' | 'к' => 'k',
            'ν' => 'v',
            'τ' | 'т' => 't',
            'м' => 'm',
            other => other,
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_that_look_alike_have_one_skeleton() {
        for (one, other) in [
            ("Cove", "cove"),
            ("cove", "cоve"), // Cyrillic о
            ("А1", "A1"),     // Cyrillic А
            ("B7", "Β7"),     // Greek Β
            ("wall 1", "wall l"),
            ("wall 0", "wall O"),
            ("Ｃove", "Cove"), // full width
            ("a–b", "a-b"),    // en dash
        ] {
            assert_eq!(skeleton(one), skeleton(other), "{one} {other}");
        }
        assert_ne!(skeleton("north"), skeleton("south"));
        assert_ne!(skeleton("wall 2"), skeleton("wall 3"));
    }

    #[test]
    fn names_are_printable() {
        for odd in [
            "a\nb",
            "a\tb",
            "a\u{200b}b",
            "a\u{202e}b",
            "a\u{a0}b",
            "e\u{301}",
            "\u{0}",
        ] {
            assert!(odd.chars().any(|c| !printable(c)), "{odd:?}");
        }
        assert!("Süd-Galerie (2), ½ — é 漢".chars().all(printable));
    }
}
