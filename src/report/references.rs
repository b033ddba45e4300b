//! Every source once, with the number by which the document refers to it.

use crate::design::Design;
use crate::rules::Merged;
use crate::source::Source;
use std::collections::{BTreeMap, BTreeSet};

/// The sources of a design, numbered from 1 in order of first use: ampacities, findings, assumptions.
pub(super) struct References<'a> {
    numbers: BTreeMap<&'a Source, usize>,
    listed: Vec<&'a Source>,
    users: BTreeMap<&'a Source, BTreeSet<&'a str>>,
}

impl<'a> References<'a> {
    /// Numbers the sources; `findings` as they were [merged](crate::rules::merged).
    pub(super) fn of(design: &'a Design, findings: &[Merged<'a>]) -> Self {
        let mut all = Self {
            numbers: BTreeMap::new(),
            listed: Vec::new(),
            users: BTreeMap::new(),
        };
        for cable in &design.cables {
            all.add(&cable.ampacity.source, "an ampacity");
        }
        for finding in findings {
            all.add(finding.source, finding.rule.as_str());
        }
        for assumption in &design.assumed {
            all.add(&assumption.source, "an assumption");
        }
        all
    }

    fn add(&mut self, source: &'a Source, user: &'a str) {
        if source.title.is_empty() && source.edition.is_empty() && source.clause.is_empty() {
            return;
        }
        if !self.numbers.contains_key(source) {
            self.listed.push(source);
            self.numbers.insert(source, self.listed.len());
        }
        self.users.entry(source).or_default().insert(user);
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
