//! The registry of rules: every id once, with all that a page of rules needs; and what the rules say of designs.

mod breaker;
mod control;
mod designs;
mod flips;
mod reached;
mod safety;
mod sources;
mod table;

use evenrun::finding::{Case, Rule};
use evenrun::rules;
use std::collections::BTreeSet;

fn every() -> Vec<&'static Rule> {
    rules::all().collect()
}

/// Words of lower-case letters and digits with `-` between.
fn is_kebab(text: &str) -> bool {
    let word = |word: &str| {
        !word.is_empty()
            && word
                .bytes()
                .all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit())
    };
    text.split('-').all(word)
}

#[test]
fn every_id_is_unique_and_found() {
    let rules = every();
    let ids: BTreeSet<&str> = rules.iter().map(|rule| rule.id).collect();
    assert_eq!(ids.len(), rules.len());
    for rule in rules {
        assert!(is_kebab(rule.id), "{}", rule.id);
        assert_eq!(rules::find(rule.id), Some(rule));
    }
    assert_eq!(rules::find("no-such-rule"), None);
}

#[test]
fn every_rule_has_title_question_source_and_answers() {
    for rule in every() {
        let id = rule.id;
        assert!(!rule.title.trim().is_empty(), "{id} has no title");
        assert!(rule.asks.ends_with('?'), "{id} asks nothing: {}", rule.asks);
        assert!(!rule.source.title.trim().is_empty(), "{id} has no source");
        assert!(!rule.cases.is_empty(), "{id} has no answers");
        assert!(
            rule.needs.iter().all(|need| !need.trim().is_empty()),
            "{id}"
        );
        let keys: BTreeSet<&str> = rule.cases.iter().map(|case| case.key).collect();
        assert_eq!(keys.len(), rule.cases.len(), "{id}: a case key twice");
        assert!(!keys.contains(""), "{id}: a case without a key");
    }
}

/// Two rules of one title or one question could not be told apart on the page.
#[test]
fn titles_and_questions_are_told_apart() {
    let rules = every();
    let titles: BTreeSet<&str> = rules.iter().map(|rule| rule.title).collect();
    let questions: BTreeSet<&str> = rules.iter().map(|rule| rule.asks).collect();
    let twice = |all: &BTreeSet<&str>, of: fn(&Rule) -> &'static str| -> Vec<&str> {
        let mut left = all.clone();
        rules
            .iter()
            .map(|rule| of(rule))
            .filter(|text| !left.remove(text))
            .collect()
    };
    assert_eq!(twice(&titles, |rule| rule.title), [""; 0]);
    assert_eq!(twice(&questions, |rule| rule.asks), [""; 0]);
}

#[test]
fn braces_of_every_template_close() {
    for rule in every() {
        for case in rule.cases {
            let Case {
                says,
                reason,
                figure,
                limit,
                remedy,
                ..
            } = case;
            for template in [says, reason, figure, limit, remedy] {
                let mut open = false;
                for letter in template.chars() {
                    match letter {
                        '{' if open => panic!("{}: {template}", rule.id),
                        '}' if !open => panic!("{}: {template}", rule.id),
                        '{' => open = true,
                        '}' => open = false,
                        _ => {}
                    }
                }
                assert!(!open, "{}: {template}", rule.id);
            }
        }
    }
}

/// Cautions of the trade: the library calculates, and approves nothing.
#[test]
fn no_rule_approves() {
    for rule in every() {
        let words = rule.cases.iter().flat_map(|case| [case.says, case.remedy]);
        for text in words.chain([rule.title, rule.asks]) {
            let text = text.to_lowercase();
            assert!(
                !text.contains("approved") && !text.contains("compliant"),
                "{}: {text}",
                rule.id
            );
        }
    }
}
