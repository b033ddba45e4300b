//! A finding in words: made when it is printed, from the case of its rule and the figures it carries.

use super::{Case, Figure, Finding, Limit, Rule, Value};

/// A finding as a person reads it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Words {
    /// Where.
    pub place: String,
    /// One sentence that says what was found.
    pub says: String,
    /// Why the rule could not be applied; empty where it was.
    pub reason: String,
    /// The figure, with unit.
    pub figure: String,
    /// The limit, with unit.
    pub limit: String,
    /// What to do about it; empty where nothing is to be done.
    pub remedy: String,
}

impl Finding {
    /// This finding in the words of its rule; its bare facts where `rule` has no such case.
    #[must_use]
    pub fn words(&self, rule: Option<&Rule>) -> Words {
        let case = rule.and_then(|rule| rule.cases.iter().find(|case| case.key == self.case));
        let Some(case) = case else {
            return self.bare();
        };
        let fill = |template: &str| self.fill(template);
        let Case {
            says,
            reason,
            figure,
            limit,
            remedy,
            ..
        } = case;
        Words {
            place: self.about.to_string(),
            says: fill(says),
            reason: fill(reason),
            figure: fill(figure),
            limit: fill(limit),
            remedy: fill(remedy),
        }
    }

    /// Of a rule that this version does not know.
    fn bare(&self) -> Words {
        let facts: Vec<String> = self
            .facts
            .iter()
            .map(|fact| format!("{} {}", fact.name, shown(&fact.value, "")))
            .collect();
        Words {
            place: self.about.to_string(),
            says: format!("{}, {}", self.rule, self.case),
            reason: facts.join(", "),
            figure: self.figure.map_or_else(String::new, |f| f.to_string()),
            limit: self
                .limit_value("limit")
                .map_or_else(String::new, |f| f.to_string()),
            remedy: String::new(),
        }
    }

    fn limit_value(&self, name: &str) -> Option<Figure> {
        match (self.limit?, name) {
            (
                Limit::AtMost(limit)
                | Limit::AtLeast(limit)
                | Limit::Below(limit)
                | Limit::Above(limit),
                "limit",
            ) => Some(limit),
            (Limit::Within(least, _), "least") => Some(least),
            (Limit::Within(_, most), "most") => Some(most),
            _ => None,
        }
    }

    fn value_of(&self, name: &str) -> Option<Value> {
        if let Some(fact) = self.facts.iter().find(|fact| fact.name == name) {
            return Some(fact.value.clone());
        }
        if name == "figure" {
            return self.figure.map(Value::Figure);
        }
        self.limit_value(name).map(Value::Figure)
    }

    /// The template with every `{name}` and `{name:form}` filled in.
    fn fill(&self, template: &str) -> String {
        let mut out = String::with_capacity(template.len());
        let mut rest = template;
        while let Some(open) = rest.find('{') {
            out.push_str(&rest[..open]);
            rest = &rest[open + 1..];
            let Some(close) = rest.find('}') else {
                break;
            };
            let (name, form) = rest[..close]
                .split_once(':')
                .unwrap_or((&rest[..close], ""));
            match self.value_of(name) {
                Some(value) => out.push_str(&shown(&value, form)),
                None => out.push_str("not known"),
            }
            rest = &rest[close + 1..];
        }
        out.push_str(rest);
        out
    }
}

/// One after another: all of them, the first few (`5`), or those and how many more there are (`5+`).
fn listed(all: &[impl ToString], form: &str) -> String {
    let counted = form.strip_suffix('+');
    let most = counted.unwrap_or(form).parse().unwrap_or(usize::MAX);
    let first: Vec<String> = all.iter().take(most).map(ToString::to_string).collect();
    let first = first.join(", ");
    match all.len().saturating_sub(most) {
        more @ 1.. if counted.is_some() => format!("{first} and {more} more"),
        _ => first,
    }
}

fn shown(value: &Value, form: &str) -> String {
    match value {
        Value::Name { name } => name.clone(),
        Value::Note { note } => note.clone(),
        Value::Subject { subject } => subject.to_string(),
        Value::Names { names } => listed(names, form),
        Value::Subjects { subjects } => listed(subjects, form),
        Value::Figures { figures } => listed(figures, form),
        Value::Contacts { contacts } => {
            let joined: Vec<String> = contacts
                .iter()
                .map(|(here, there)| format!("{here} to {there}"))
                .collect();
            joined.join(", ")
        }
        Value::Figure(figure) => shown_figure(figure, form),
    }
}

/// A figure by its form: digits, and behind a blank the unit, in brackets where it is not printed; or `|one|many`, the
/// word for one and for any other number.
fn shown_figure(figure: &Figure, form: &str) -> String {
    if form.is_empty() {
        return figure.to_string();
    }
    if let Some((one, many)) = form
        .strip_prefix('|')
        .and_then(|words| words.split_once('|'))
    {
        let word = if figure.to_string() == "1" { one } else { many };
        return format!("{figure} {word}");
    }
    let (digits, unit) = form.split_once(' ').unwrap_or((form, ""));
    let hidden = unit
        .strip_prefix('(')
        .and_then(|unit| unit.strip_suffix(')'));
    let number = if unit.is_empty() {
        figure.value()
    } else {
        figure.number_in(hidden.unwrap_or(unit))
    };
    let decimals = |digits: &str| digits.parse().unwrap_or(0);
    let text = if let Some(exactly) = digits.strip_prefix('.') {
        let decimals = decimals(exactly);
        if !unit.is_empty() && hidden.is_none() {
            return figure.shown_in(unit, decimals);
        }
        format!("{number:.decimals$}")
    } else if let Some(most) = digits.strip_prefix('~') {
        let scale = libm::pow(10.0, decimals(most) as f64);
        (libm::round(number * scale) / scale).to_string()
    } else {
        number.to_string()
    };
    if unit.is_empty() || hidden.is_some() {
        text
    } else {
        format!("{text} {unit}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{hertz, ohms, seconds, volts};

    #[test]
    fn forms_of_figures() {
        let of = |figure: Figure, form: &str| shown(&Value::Figure(figure), form);
        let time = Figure::from(seconds(92.5e-6));
        assert_eq!(of(time, ""), "92.5 µs");
        assert_eq!(of(time, ".2 µs"), "92.50 µs");
        assert_eq!(of(time, ".2 (µs)"), "92.50");
        assert_eq!(of(time, "~3 µs"), "92.5 µs");
        assert_eq!(of(time, "~3 (µs)"), "92.5");
        assert_eq!(of(hertz(250_000.1).into(), "* (kHz)"), "250.0001");
        assert_eq!(of(ohms(133.25).into(), "* ohm"), "133.25 ohm");
        assert_eq!(of(volts(1.5).into(), "*"), "1.5");
        assert_eq!(of(volts(-0.004).into(), ".2"), "-0.00");
        assert_eq!(of(volts(-0.004).into(), ".2 V"), "0.00 V");
        assert_eq!(of(Figure::count(7), ""), "7");
        assert_eq!(of(Figure::count(7), "|port is|ports are"), "7 ports are");
        assert_eq!(of(Figure::count(1), "|port is|ports are"), "1 port is");
    }

    #[test]
    fn names_are_cut_and_counted() {
        let of = |form: &str| shown(&Value::names(["A", "B", "C"]), form);
        assert_eq!(
            [of(""), of("2"), of("2+"), of("3+")],
            ["A, B, C", "A, B", "A, B and 1 more", "A, B, C"]
        );
    }
}
