//! What messages call a table by.

use crate::quantity::shorten;
use std::collections::BTreeMap;

/// Gives every table the words that messages call it by, the same while reading and checking.
#[derive(Debug, Default)]
pub(super) struct Subjects {
    given: BTreeMap<String, usize>,
}

impl Subjects {
    /// `run "north cove"`; for a table without a name `run 3`; for a name that stands again `run "north cove" (2)`.
    pub(super) fn next(&mut self, kind: &str, name: &str) -> String {
        let count = self.given.entry(kind.to_string()).or_insert(0);
        *count += 1;
        let subject = if name.is_empty() {
            return format!("{kind} {count}");
        } else {
            format!("{kind} \"{}\"", shorten(name))
        };
        let again = self.given.entry(subject.clone()).or_insert(0);
        *again += 1;
        if *again == 1 {
            subject
        } else {
            format!("{subject} ({again})")
        }
    }
}
