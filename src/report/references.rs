//! Every source once, with the number by which the plan refers to it.

use crate::finding::plain::Finding;
use crate::plan::model::Plan;
use crate::source::Source;
use std::collections::{BTreeMap, BTreeSet};

/// The sources of a plan, numbered from 1: first those the plan lists, in its order, then
/// any that only a finding, an assumption or an ampacity names.
pub(super) struct References<'a> {
    numbers: BTreeMap<&'a Source, usize>,
    listed: Vec<&'a Source>,
    users: BTreeMap<&'a Source, BTreeSet<&'a str>>,
}

impl<'a> References<'a> {
    /// Numbers the sources; `findings` in the order in which they are printed.
    pub(super) fn of(plan: &'a Plan, findings: &[&'a Finding]) -> Self {
        let mut all = Self {
            numbers: BTreeMap::new(),
            listed: Vec::new(),
            users: BTreeMap::new(),
        };
        for source in &plan.sources {
            all.add(source, None);
        }
        for finding in findings {
            all.add(&finding.source, Some(finding.id));
        }
        for assumption in &plan.assumptions {
            all.add(&assumption.source, Some("an assumption"));
        }
        for cable in &plan.cables {
            all.add(&cable.ampacity_source, Some("an ampacity"));
        }
        all
    }

    fn add(&mut self, source: &'a Source, user: Option<&'a str>) {
        if source.title.is_empty() && source.edition.is_empty() && source.clause.is_empty() {
            return;
        }
        if !self.numbers.contains_key(source) {
            self.listed.push(source);
            self.numbers.insert(source, self.listed.len());
        }
        if let Some(user) = user {
            self.users.entry(source).or_default().insert(user);
        }
    }

    /// `[3]`, or the words for a source that says nothing.
    pub(super) fn mark(&self, source: &Source) -> String {
        self.numbers
            .get(source)
            .map_or_else(|| "none stated".to_string(), |number| format!("[{number}]"))
    }

    /// The sources in the order of their numbers, with what rests on each.
    pub(super) fn rows(&self) -> Vec<(usize, &'a Source, String)> {
        self.listed
            .iter()
            .enumerate()
            .map(|(n, source)| {
                let users = self.users.get(source).map_or_else(String::new, |users| {
                    users.iter().copied().collect::<Vec<_>>().join(", ")
                });
                (n + 1, *source, users)
            })
            .collect()
    }
}
