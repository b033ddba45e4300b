//! One table of the file, read field by field: what is wrong is noted and reading goes on.
//!
//! Every reader answers with a value. Where the file has none that can be used, the fault is
//! noted under the field's path and a stand-in is returned: the job is refused anyway, and no
//! later check says anything about that field.

use super::common_words::meant;
use super::lines::Lines;
use crate::exact::ExactLength;
use crate::job::fault::{Fault, FaultKind, Faults, Place, path};
use crate::job::spec::{Taken, TakenFact};
use crate::job::subjects::Subjects;
use crate::quantity::shorten;
use std::cell::RefCell;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// Most tables of a kind.
const MOST_TABLES: usize = 20_000;

/// What all tables of one file share.
pub(super) struct Shared<'t> {
    pub(super) lines: Lines<'t>,
    pub(super) faults: RefCell<Faults>,
    pub(super) taken: RefCell<Vec<Taken>>,
}

/// A table being read.
pub(super) struct Table<'t> {
    pub(super) shared: &'t Shared<'t>,
    entries: Option<&'t DeTable<'t>>,
    span: Range<usize>,
    subject: String,
    /// `path 3: ` for a table inside a list of its subject.
    prefix: String,
    known: RefCell<Vec<&'static str>>,
}

impl<'t> Table<'t> {
    /// A table that stands in its file as `subject`.
    pub(super) fn new(
        shared: &'t Shared<'t>,
        entries: Option<&'t DeTable<'t>>,
        span: Range<usize>,
        subject: String,
    ) -> Self {
        let table = Self {
            shared,
            entries,
            span,
            subject,
            prefix: String::new(),
            known: RefCell::new(Vec::new()),
        };
        table.note_place("", table.span.start);
        table
    }

    fn field(&self, key: &str) -> String {
        format!("{}{key}", self.prefix)
    }

    pub(super) fn note_place(&self, key: &str, offset: usize) {
        let field = self.field(key);
        let place = self.shared.lines.place(offset);
        self.shared
            .faults
            .borrow_mut()
            .places
            .note(path(&self.subject, field.trim_end_matches(": ")), place);
    }

    /// Notes a fault of a field.
    pub(super) fn say(
        &self,
        kind: FaultKind,
        key: &str,
        says: impl Into<String>,
        remedy: impl Into<String>,
        accepted: impl Into<String>,
    ) {
        self.push(kind, key, says.into(), remedy.into(), accepted.into(), "");
    }

    pub(super) fn push(
        &self,
        kind: FaultKind,
        key: &str,
        says: String,
        remedy: String,
        accepted: String,
        suggestion: &str,
    ) {
        let field = self.field(key);
        self.shared.faults.borrow_mut().push(Fault {
            kind,
            place: None,
            subject: self.subject.clone(),
            field: field.trim_end_matches(": ").to_string(),
            says,
            remedy,
            accepted,
            suggestion: suggestion.to_string(),
        });
    }

    /// Whether the table has the key.
    pub(super) fn has(&self, key: &'static str) -> bool {
        self.know(key);
        self.entries
            .is_some_and(|entries| entries.contains_key(key))
    }

    fn know(&self, key: &'static str) {
        let mut known = self.known.borrow_mut();
        if !known.contains(&key) {
            known.push(key);
        }
    }

    /// The value of a key, its place noted.
    pub(super) fn value(&self, key: &'static str) -> Option<&'t Spanned<DeValue<'t>>> {
        self.know(key);
        let value = self.entries?.get(key)?;
        self.note_place(key, value.span().start);
        Some(value)
    }

    /// Notes that a fact of something is taken, as the file is silent about it.
    pub(super) fn take(&self, fact: TakenFact, of: &str) {
        let of = of.to_string();
        self.shared.taken.borrow_mut().push(Taken { fact, of });
    }

    /// What is stated; else what is taken, which is noted.
    pub(super) fn or_taken<T>(&self, stated: Option<T>, fact: TakenFact, of: &str, taken: T) -> T {
        stated.unwrap_or_else(|| {
            self.take(fact, of);
            taken
        })
    }

    /// Says that two keys stand in one table, of which only one can.
    pub(super) fn both(&self, key: &'static str, other: &'static str, remedy: &str) {
        if self.has(key) && self.has(other) {
            self.say(
                FaultKind::Contradiction,
                key,
                format!("stands beside `{other}`"),
                remedy,
                "",
            );
        }
    }

    /// Says that a key is needed, unless the whole table is a stand-in.
    pub(super) fn missing(&self, key: &'static str, write: &str) {
        if self.entries.is_some() {
            self.say(
                FaultKind::Missing,
                key,
                "is missing",
                format!("Write {write}"),
                "",
            );
        }
    }

    pub(super) fn wrong_type(&self, key: &str, value: &DeValue<'_>, needed: &str) {
        let remedy = match (needed, number_text(value)) {
            // A quantity has its example in what is needed.
            (needed, _) if needed.contains(" like \"") => String::new(),
            ("text", number) if !number.is_empty() => {
                format!("Write \"{number}\", between quotation marks")
            }
            ("text", _) => "Write text between quotation marks".to_string(),
            (list, _) if list.starts_with("a list") => {
                "Write entries between [ and ], with commas".to_string()
            }
            _ => "Write keys with their values between { and }".to_string(),
        };
        self.wrong_type_mended_by(key, value, needed, remedy);
    }

    fn wrong_type_mended_by(&self, key: &str, value: &DeValue<'_>, needed: &str, remedy: String) {
        self.say(
            FaultKind::WrongType,
            key,
            format!("is {}, where {needed} is needed", called(value)),
            remedy,
            "",
        );
    }

    /// Says that something else stands where `[key]` or `[[key]]` is needed.
    fn no_header(&self, key: &str, value: &DeValue<'_>, header: &str) {
        let remedy = format!("Write {header} on a line of its own, and its keys beneath");
        self.wrong_type_mended_by(key, value, &format!("a table {header}"), remedy);
    }

    /// A list, or none where the key is not there; a single value is no list.
    pub(super) fn list(&self, key: &'static str, of: &str) -> Option<&'t [Spanned<DeValue<'t>>]> {
        let value = self.value(key)?;
        match value.get_ref() {
            DeValue::Array(values) => Some(values),
            other => {
                self.wrong_type(key, other, &format!("a list of {of}"));
                None
            }
        }
    }

    /// A list of texts, such as names; empty where the key is not there.
    pub(super) fn texts(&self, key: &'static str) -> Vec<String> {
        let mut out = Vec::new();
        for (index, value) in self
            .list(key, "texts")
            .unwrap_or_default()
            .iter()
            .enumerate()
        {
            let inner = format!("{key} {}", index + 1);
            self.note_place(&inner, value.span().start);
            match value.get_ref() {
                DeValue::String(text) => out.push(text.to_string()),
                other => {
                    self.wrong_type(&inner, other, "text");
                    out.push(String::new());
                }
            }
        }
        out
    }

    /// A list of lengths; empty where the key is not there.
    pub(super) fn lengths(&self, key: &'static str) -> Vec<ExactLength> {
        let values = self.list(key, "lengths").unwrap_or_default();
        values
            .iter()
            .map(|value| self.length_in(key, value))
            .collect()
    }

    /// A list of lists of texts; empty where the key is not there.
    pub(super) fn lists_of_texts(&self, key: &'static str) -> Vec<Vec<String>> {
        let mut out = Vec::new();
        for value in self.list(key, "lists of names").unwrap_or_default() {
            match value.get_ref() {
                DeValue::Array(inner) => out.push(
                    inner
                        .iter()
                        .filter_map(|value| self.text_in(key, value, "text"))
                        .map(str::to_string)
                        .collect(),
                ),
                other => self.wrong_type(key, other, "a list of lists of names"),
            }
        }
        out
    }

    /// The tables of a list, each called `key n` in messages; empty where the key is not there.
    pub(super) fn tables(&self, key: &'static str) -> Vec<Table<'t>> {
        let mut out = Vec::new();
        for (index, value) in self
            .list(key, "tables")
            .unwrap_or_default()
            .iter()
            .enumerate()
        {
            let inner = format!("{key} {}", index + 1);
            self.note_place(&inner, value.span().start);
            out.push(self.entry(&inner, value));
        }
        out
    }

    /// A value of a list as a table, called `key n`; a stand-in where it is none.
    pub(super) fn entry(&self, inner: &str, value: &'t Spanned<DeValue<'t>>) -> Table<'t> {
        match value.get_ref() {
            DeValue::Table(entries) => self.inner(inner, Some(entries), value),
            other => {
                self.wrong_type(inner, other, "a table in braces");
                self.inner(inner, None, value)
            }
        }
    }

    /// Whether the table stands in for one that could not be read.
    pub(super) fn is_stand_in(&self) -> bool {
        self.entries.is_none()
    }

    /// A table inside this one, if it is there.
    pub(super) fn table(&self, key: &'static str) -> Option<Table<'t>> {
        let value = self.value(key)?;
        match value.get_ref() {
            DeValue::Table(entries) => Some(self.inner(key, Some(entries), value)),
            other => {
                self.wrong_type(key, other, "a table");
                Some(self.inner(key, None, value))
            }
        }
    }

    /// A table at the top of the file, called by its key, if it is there.
    pub(super) fn table_called(&self, key: &'static str) -> Option<Table<'t>> {
        let value = self.value(key)?;
        let entries = value.get_ref().as_table();
        let table = Table::new(self.shared, entries, value.span(), key.to_string());
        if entries.is_none() {
            table.no_header("", value.get_ref(), &format!("[{key}]"));
        }
        Some(table)
    }

    /// Where a value stands.
    pub(super) fn place_of(&self, value: &Spanned<DeValue<'_>>) -> Place {
        self.shared.lines.place(value.span().start)
    }

    fn inner(
        &self,
        key: &str,
        entries: Option<&'t DeTable<'t>>,
        value: &Spanned<DeValue<'_>>,
    ) -> Table<'t> {
        Table {
            shared: self.shared,
            entries,
            span: value.span(),
            subject: self.subject.clone(),
            prefix: format!("{}{key}: ", self.prefix),
            known: RefCell::new(Vec::new()),
        }
    }

    /// The tables `[[key]]` at the top of the file, each called by its kind and name.
    pub(super) fn named_tables(
        &self,
        key: &'static str,
        subjects: &mut Subjects,
    ) -> Vec<Table<'t>> {
        let mut out = Vec::new();
        let header = format!("[[{key}]]");
        let values: &[Spanned<DeValue<'_>>] = match self.value(key).map(|value| value.get_ref()) {
            None => &[],
            Some(DeValue::Array(values)) => values,
            Some(other) => {
                self.no_header(key, other, &header);
                &[]
            }
        };
        if values.len() > MOST_TABLES {
            self.say(
                FaultKind::OutOfRange,
                key,
                format!("stands {} times", values.len()),
                format!("Split the job: at most {MOST_TABLES} are read"),
                "",
            );
        }
        for value in values.iter().take(MOST_TABLES) {
            let entries = value.get_ref().as_table();
            let name = entries
                .and_then(|entries| entries.get("name"))
                .and_then(|name| name.get_ref().as_str())
                .unwrap_or("");
            let subject = subjects.next(key, name);
            let table = Table::new(self.shared, entries, value.span(), subject);
            if entries.is_none() {
                table.no_header("", value.get_ref(), &header);
            }
            out.push(table);
        }
        out
    }

    /// Refuses every key that no reader asked for. To be called last.
    ///
    /// A key that was meant for another is one fault, not two: what that other one lacks is told here.
    pub(super) fn done(self) {
        let Some(entries) = self.entries else {
            return;
        };
        let known = self.known.borrow();
        for key in entries.keys() {
            let name = key.get_ref().as_ref();
            if known.contains(&name) {
                continue;
            }
            let near = match meant(name, &known) {
                Some(key) => key.to_string(),
                None => self
                    .shared
                    .faults
                    .borrow_mut()
                    .nearest(name, known.iter().copied()),
            };
            let shown = shorten(name);
            self.note_place(&shown, key.span().start);
            let place = self.shared.lines.place(key.span().start);
            let field = self.field(&shown);
            let mut faults = self.shared.faults.borrow_mut();
            let is_lacking = !near.is_empty() && !entries.contains_key(near.as_str());
            let remedy = is_lacking
                .then(|| faults.take_missing(&self.subject, &self.field(&near)))
                .flatten();
            faults.push(Fault {
                kind: FaultKind::UnknownKey,
                place: Some(place),
                subject: self.subject.clone(),
                field,
                says: "is not a key of this table".to_string(),
                remedy: remedy.unwrap_or_default(),
                accepted: known.join(", "),
                suggestion: near,
            });
        }
    }
}

/// What a value is called in a message.
pub(super) fn called(value: &DeValue<'_>) -> String {
    match value {
        DeValue::String(text) => format!("the text \"{}\"", shorten(text)),
        DeValue::Integer(_) | DeValue::Float(_) => format!("the number {}", number_text(value)),
        DeValue::Boolean(yes) => yes.to_string(),
        DeValue::Datetime(_) => "a date or time".to_string(),
        DeValue::Array(_) => "a list".to_string(),
        DeValue::Table(_) => "a table".to_string(),
    }
}

/// The number as it stands in the file.
pub(super) fn number_text(value: &DeValue<'_>) -> String {
    match value {
        DeValue::Integer(number) => shorten(&number.to_string()),
        DeValue::Float(number) => shorten(number.as_str()),
        _ => String::new(),
    }
}
