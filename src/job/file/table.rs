//! One table of the file, read field by field: what is wrong is noted and reading goes on.
//!
//! Every reader answers with a value. Where the file has none that can be used, the fault is
//! noted under the field's path and a stand-in is returned: the job is refused anyway, and no
//! later check says anything about that field.

use super::lines::Lines;
use crate::exact::{CutPitch, ExactError, ExactLength};
use crate::job::fault::{Fault, FaultKind, Faults, Place, path};
use crate::job::subjects::Subjects;
use crate::quantity::{Measured, Unit, parse, shorten};
use std::cell::RefCell;
use std::fmt::Display;
use std::ops::Range;
use std::str::FromStr;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// What all tables of one file share.
pub(super) struct Shared<'t> {
    pub(super) lines: Lines<'t>,
    pub(super) faults: RefCell<Faults>,
}

/// A table being read.
pub(super) struct Table<'t> {
    shared: &'t Shared<'t>,
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

    /// The words messages call this table by.
    pub(super) fn subject(&self) -> &str {
        &self.subject
    }

    fn field(&self, key: &str) -> String {
        format!("{}{key}", self.prefix)
    }

    fn note_place(&self, key: &str, offset: usize) {
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

    fn push(
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

    /// Says that a key is needed, unless the whole table is a stand-in.
    fn missing(&self, key: &'static str, write: &str) {
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

    fn wrong_type(&self, key: &str, value: &DeValue<'_>, needed: &str) {
        self.say(
            FaultKind::WrongType,
            key,
            format!("is {}, where {needed} is needed", called(value)),
            String::new(),
            "",
        );
    }

    /// Text of a key that is there.
    fn text_in(
        &self,
        key: &'static str,
        value: &'t Spanned<DeValue<'t>>,
        needed: &str,
    ) -> Option<&'t str> {
        match value.get_ref() {
            DeValue::String(text) => Some(text.as_ref()),
            other => {
                self.wrong_type(key, other, needed);
                None
            }
        }
    }

    /// Text that is needed.
    pub(super) fn text(&self, key: &'static str, write: &str) -> String {
        match self.value(key) {
            None => {
                self.missing(key, write);
                String::new()
            }
            Some(value) => self
                .text_in(key, value, "text")
                .unwrap_or_default()
                .to_string(),
        }
    }

    /// Text, empty where there is none.
    pub(super) fn text_or_empty(&self, key: &'static str) -> String {
        self.maybe_text(key).unwrap_or_default()
    }

    /// Text, if it is there.
    pub(super) fn maybe_text(&self, key: &'static str) -> Option<String> {
        let value = self.value(key)?;
        Some(
            self.text_in(key, value, "text")
                .unwrap_or_default()
                .to_string(),
        )
    }

    /// A quantity with its unit in the text.
    pub(super) fn measured<Q: Measured>(&self, key: &'static str) -> Q {
        self.maybe_measured(key).unwrap_or_else(|| {
            self.missing(key, &format!("{} like {}", Q::CALLED, example(Q::UNITS)));
            Q::from_si(1.0)
        })
    }

    /// A quantity, if it is there.
    pub(super) fn maybe_measured<Q: Measured>(&self, key: &'static str) -> Option<Q> {
        let value = self.value(key)?;
        Some(self.measured_in(key, value))
    }

    fn measured_in<Q: Measured>(&self, key: &'static str, value: &'t Spanned<DeValue<'t>>) -> Q {
        let stand_in = || Q::from_si(1.0);
        match value.get_ref() {
            DeValue::String(text) => parse(text).unwrap_or_else(|error| {
                self.unreadable(key, &error);
                stand_in()
            }),
            DeValue::Integer(_) | DeValue::Float(_) => {
                let units = spellings(Q::UNITS);
                let first = units.first().copied().unwrap_or("");
                self.bare(key, value.get_ref(), first, "", &units.join(", "));
                stand_in()
            }
            other => {
                self.wrong_type(
                    key,
                    other,
                    &format!("{} like {}", Q::CALLED, example(Q::UNITS)),
                );
                stand_in()
            }
        }
    }

    /// A limit: a quantity, or `"none"`; what is taken where the file is silent.
    pub(super) fn limit<Q: Measured>(&self, key: &'static str, silent: Option<Q>) -> Option<Q> {
        let Some(value) = self.value(key) else {
            return silent;
        };
        if value.get_ref().as_str() == Some("none") {
            return None;
        }
        Some(self.measured_in(key, value))
    }

    /// A limit that is an exact length, or `"none"`; what is taken where the file is silent.
    pub(super) fn length_limit(
        &self,
        key: &'static str,
        silent: Option<ExactLength>,
    ) -> Option<ExactLength> {
        let Some(value) = self.value(key) else {
            return silent;
        };
        if value.get_ref().as_str() == Some("none") {
            return None;
        }
        Some(self.length_in(key, value))
    }

    /// The text of a key as it stands, if it is text; nothing is said.
    pub(super) fn word(&self, key: &'static str) -> Option<&'t str> {
        self.value(key)?.get_ref().as_str()
    }

    /// An exact length that is needed.
    pub(super) fn length(&self, key: &'static str) -> ExactLength {
        self.maybe_length(key).unwrap_or_else(|| {
            self.missing(key, "a length like \"7.5 m\" or \"25 ft\"");
            ExactLength::from_millimetres(1000)
        })
    }

    /// An exact length, or what is taken where the file is silent.
    pub(super) fn length_or(&self, key: &'static str, silent: ExactLength) -> ExactLength {
        self.maybe_length(key).unwrap_or(silent)
    }

    /// An exact length, if it is there.
    pub(super) fn maybe_length(&self, key: &'static str) -> Option<ExactLength> {
        let value = self.value(key)?;
        Some(self.length_in(key, value))
    }

    fn length_in(&self, key: &'static str, value: &'t Spanned<DeValue<'t>>) -> ExactLength {
        self.exact_in(
            key,
            value,
            ExactLength::from_millimetres(1000),
            "a length like \"7.5 m\"",
        )
    }

    /// A cut pitch that is needed.
    pub(super) fn pitch(&self, key: &'static str) -> CutPitch {
        let stand_in = CutPitch::new(ExactLength::from_millimetres(1), 1)
            .expect("one millimetre is a cut pitch");
        match self.value(key) {
            None => {
                self.missing(
                    key,
                    "a cut pitch like \"50 mm\", \"24 per m\" or \"1000/24 mm\"",
                );
                stand_in
            }
            Some(value) => self.exact_in(key, value, stand_in, "a cut pitch like \"50 mm\""),
        }
    }

    fn exact_in<T: FromStr<Err = ExactError>>(
        &self,
        key: &'static str,
        value: &'t Spanned<DeValue<'t>>,
        stand_in: T,
        needed: &str,
    ) -> T {
        match value.get_ref() {
            DeValue::String(text) => text.parse().unwrap_or_else(|error: ExactError| {
                self.unreadable(key, &error);
                stand_in
            }),
            DeValue::Integer(_) | DeValue::Float(_) => {
                self.bare(
                    key,
                    value.get_ref(),
                    "m",
                    " or \"25 ft\"",
                    "m, cm, mm, ft, in",
                );
                stand_in
            }
            other => {
                self.wrong_type(key, other, needed);
                stand_in
            }
        }
    }

    fn unreadable(&self, key: &str, error: &impl Display) {
        self.say(FaultKind::Unreadable, key, error.to_string(), "", "");
    }

    fn bare(&self, key: &str, value: &DeValue<'_>, unit: &str, or: &str, accepted: &str) {
        let found = number_text(value);
        let share = found
            .parse::<f64>()
            .ok()
            .filter(|n| unit == "%" && *n <= 1.0);
        let remedy = match share {
            // 0.8 for a share is more often 80 % than 0.8 %.
            Some(share) => format!(
                "Write \"{} %\" or \"{found} %\", whichever is meant",
                libm::round(share * 1e8) / 1e6
            ),
            None => format!("Write \"{found} {unit}\"{or}"),
        };
        self.say(
            FaultKind::BareNumber,
            key,
            format!("is {found}, a bare number"),
            remedy,
            accepted,
        );
    }

    /// A whole number from `range`, if the key is there.
    pub(super) fn maybe_count(
        &self,
        key: &'static str,
        range: std::ops::RangeInclusive<u64>,
    ) -> Option<u64> {
        let value = self.value(key)?;
        let (low, high) = (*range.start(), *range.end());
        let refuse = |kind, found: String| {
            self.say(
                kind,
                key,
                format!("is {found}"),
                format!("Write a whole number from {low} to {high}"),
                "",
            );
            Some(low)
        };
        match value.get_ref() {
            DeValue::Integer(number) => {
                let read = u64::from_str_radix(number.as_str(), number.radix());
                match read {
                    Ok(count) if range.contains(&count) => Some(count),
                    _ => refuse(FaultKind::OutOfRange, shorten(number.as_str())),
                }
            }
            other => refuse(FaultKind::WrongType, called(other)),
        }
    }

    /// A whole number that is needed.
    pub(super) fn count(&self, key: &'static str, range: std::ops::RangeInclusive<u64>) -> u64 {
        let low = *range.start();
        self.maybe_count(key, range).unwrap_or_else(|| {
            self.missing(key, "a whole number");
            low
        })
    }

    /// A price in whole minor units, if it is there.
    pub(super) fn price(&self, key: &'static str) -> Option<u64> {
        self.maybe_count(key, 0..=1_000_000_000_000)
    }

    /// `true` or `false`, if it is there.
    pub(super) fn maybe_yes(&self, key: &'static str) -> Option<bool> {
        let value = self.value(key)?;
        match value.get_ref() {
            DeValue::Boolean(yes) => Some(*yes),
            other => {
                self.wrong_type(key, other, "true or false");
                Some(false)
            }
        }
    }

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
            format!("is `{}`, which is none of its words", shorten(found)),
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

    /// Anything read from text, if it is there.
    pub(super) fn maybe_parsed<T>(&self, key: &'static str, needed: &str, stand_in: T) -> Option<T>
    where
        T: FromStr,
        T::Err: Display,
    {
        let value = self.value(key)?;
        let Some(text) = self.text_in(key, value, needed) else {
            return Some(stand_in);
        };
        Some(text.parse().unwrap_or_else(|error: T::Err| {
            self.unreadable(key, &error);
            stand_in
        }))
    }

    /// A list, or none where the key is not there; a single value is no list.
    fn list(&self, key: &'static str, of: &str) -> Option<&'t [Spanned<DeValue<'t>>]> {
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
            match value.get_ref() {
                DeValue::Table(entries) => out.push(self.inner(&inner, Some(entries), value)),
                other => {
                    self.wrong_type(&inner, other, "a table in braces");
                    out.push(self.inner(&inner, None, value));
                }
            }
        }
        out
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
            table.wrong_type("", value.get_ref(), &format!("a table [{key}]"));
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
        for value in self.list(key, "tables").unwrap_or_default() {
            let entries = value.get_ref().as_table();
            let name = entries
                .and_then(|entries| entries.get("name"))
                .and_then(|name| name.get_ref().as_str())
                .unwrap_or("");
            let subject = subjects.next(key, name);
            let table = Table::new(self.shared, entries, value.span(), subject);
            if entries.is_none() {
                table.wrong_type("", value.get_ref(), &format!("a table like [[{key}]]"));
            }
            out.push(table);
        }
        out
    }

    /// Refuses every key that no reader asked for. To be called last.
    pub(super) fn done(self) {
        let Some(entries) = self.entries else {
            return;
        };
        let known = self.known.borrow();
        for key in entries.keys() {
            let name = key.get_ref().as_ref();
            if known.iter().any(|known| *known == name) {
                continue;
            }
            let near = self
                .shared
                .faults
                .borrow_mut()
                .nearest(name, known.iter().copied());
            let shown = shorten(name);
            self.note_place(&shown, key.span().start);
            let place = self.shared.lines.place(key.span().start);
            let field = self.field(&shown);
            self.shared.faults.borrow_mut().push(Fault {
                kind: FaultKind::UnknownKey,
                place: Some(place),
                subject: self.subject.clone(),
                field,
                says: "is no key of this table".to_string(),
                remedy: String::new(),
                accepted: known.join(", "),
                suggestion: near,
            });
        }
    }
}

/// What a value is called in a message.
fn called(value: &DeValue<'_>) -> String {
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
fn number_text(value: &DeValue<'_>) -> String {
    match value {
        DeValue::Integer(number) => shorten(&number.to_string()),
        DeValue::Float(number) => shorten(number.as_str()),
        _ => String::new(),
    }
}

/// One spelling of each unit.
fn spellings(units: &[Unit]) -> Vec<&'static str> {
    let mut seen: Vec<(f64, f64)> = Vec::new();
    let mut names = Vec::new();
    for unit in units {
        if !seen.contains(&(unit.factor, unit.offset)) {
            seen.push((unit.factor, unit.offset));
            names.push(unit.spelling);
        }
    }
    names
}

fn example(units: &[Unit]) -> String {
    units
        .first()
        .map_or_else(String::new, |unit| format!("\"1.5 {}\"", unit.spelling))
}
