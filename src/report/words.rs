//! Words that several schedules share.

use crate::design::Cover;
use crate::device::PortIsolation;
use crate::id::ProductId;
use std::fmt::Display;

/// `1 run`, `3 runs`.
pub(super) fn many(count: usize, one: &str, more: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { more })
}

/// `a, b, c`.
pub(super) fn listed(all: impl IntoIterator<Item = impl Display>) -> String {
    joined(all, ", ")
}

/// Texts with this between them.
pub(super) fn joined(all: impl IntoIterator<Item = impl Display>, between: &str) -> String {
    let all: Vec<String> = all.into_iter().map(|one| one.to_string()).collect();
    all.join(between)
}

/// The text, or that there is none.
pub(super) fn stated(text: &str) -> &str {
    if text.trim().is_empty() {
        "not stated"
    } else {
        text
    }
}

/// A profile, or its cover: `cove profile, opal cover`.
pub(super) fn profile(profile: &ProductId, cover: Option<&Cover>) -> String {
    match cover {
        Some(cover) => format!("{profile}, {}", cover.description),
        None => profile.to_string(),
    }
}

/// Whether a data port is isolated.
pub(super) fn isolation(port: PortIsolation) -> &'static str {
    match port {
        PortIsolation::Isolated => "isolated",
        PortIsolation::Joined => "joined to supply minus",
        PortIsolation::Unknown => "not stated",
    }
}
