//! Connectors along a line.

use super::super::connector::Connector;
use super::super::sources as from;
use super::link::Link;
use super::model::Chain;
use super::part::PartKind;
use crate::finding::plain::Finding;

impl Chain {
    /// Judges connectors, where any is stated: what a cable joins, and which kinds there are.
    pub(super) fn plugs(&self, findings: &mut Vec<Finding>, link: &Link, place: &str) {
        let stated = self.spec.parts.iter().map(|part| part.connector);
        if stated.chain([self.spec.connector]).all(|one| one.is_none()) {
            return;
        }
        let mut open = Vec::new();
        let mut mixed = false;
        for &part in link.parts.iter().filter(|&&part| !self.is_joint(part)) {
            let (from_name, from_plug) = self.plug_before(part);
            let own = self.spec.parts.get(part).and_then(|part| part.connector);
            match (from_plug, own) {
                (Some(a), Some(b)) if a != b && a.is_plug() && b.is_plug() => {
                    mixed = true;
                    findings.push(self.mismatch(place, (from_name, a), (self.name(part), b)));
                }
                (Some(_), Some(_)) => {}
                _ => open.push(self.name(part)),
            }
        }
        if !open.is_empty() {
            let named = open.iter().take(5).copied().collect::<Vec<_>>().join(", ");
            findings.push(
                Finding::not_evaluated(
                    "chain-connector",
                    place,
                    format!("connectors not stated at an end of the cable into {named}"),
                )
                .says("connectors at both ends of every cable")
                .source(from::E1_11_CONNECTOR)
                .remedy("state them"),
            );
        } else if !mixed {
            findings.push(
                Finding::pass("chain-connector", place)
                    .says("every cable has one kind of plug, or terminals, at its ends")
                    .source(from::E1_11_CONNECTOR),
            );
        }
        self.kinds(findings, link, place);
    }

    fn kinds(&self, findings: &mut Vec<Finding>, link: &Link, place: &str) {
        let named = |kind| {
            let parts = link.parts.iter().filter(|&&part| {
                self.spec.parts.get(part).and_then(|part| part.connector) == Some(kind)
            });
            let names: Vec<&str> = parts.map(|&part| self.name(part)).take(5).collect();
            (!names.is_empty()).then(|| names.join(", "))
        };
        if let Some(names) = named(Connector::Other) {
            findings.push(
                Finding::fail("chain-connector-kind", place)
                    .says(format!("another connector at {names}"))
                    .limit("5-pin XLR or fixed wiring; 8-position under conditions")
                    .source(from::E1_11_CONNECTOR)
                    .remedy("use a device with a connector of the standard, or its terminals"),
            );
        }
        if let Some(names) = named(Connector::EightPosition) {
            findings.push(
                Finding::not_evaluated(
                    "chain-connector-kind",
                    place,
                    "whether the conditions of clause 7 are kept, such as that no user plugs it",
                )
                .says(format!(
                    "8-position connectors at {names}; foreign equipment can put volts on contacts 4, 5 and 7"
                ))
                .limit("5-pin XLR or fixed wiring; 8-position under conditions")
                .source(from::E1_11_CONNECTOR)
                .remedy("keep them where only the installer reaches, and mark them"),
            );
        }
    }

    fn is_joint(&self, part: usize) -> bool {
        self.spec
            .parts
            .get(part)
            .is_some_and(|part| part.kind == PartKind::Joint)
    }

    /// Name and connector of what the cable into a part comes from, through joints.
    fn plug_before(&self, part: usize) -> (&str, Option<Connector>) {
        let mut at = self.parents.get(part).copied().flatten();
        while let Some(before) = at.filter(|&before| self.is_joint(before)) {
            at = self.parents.get(before).copied().flatten();
        }
        match at {
            Some(before) => {
                let connector = self.spec.parts.get(before).and_then(|part| part.connector);
                (self.name(before), connector)
            }
            None => (super::model::SOURCE, self.spec.connector),
        }
    }

    fn mismatch(&self, place: &str, from: (&str, Connector), to: (&str, Connector)) -> Finding {
        let joins = from.1.joins(to.1);
        let remedy = if joins.is_empty() {
            "use devices with one kind of connector".to_string()
        } else {
            let joins: Vec<String> = joins
                .iter()
                .map(|(here, there)| format!("{here} to {there}"))
                .collect();
            format!(
                "make an adapter, contact by contact: {} ({} to {})",
                joins.join(", "),
                from.1.words(),
                to.1.words()
            )
        };
        Finding::fail(
            "chain-connector",
            format!("{place}, {} to {}", from.0, to.0),
        )
        .says(format!(
            "{} at {} and {} at {}: no cable of one kind fits",
            from.1.words(),
            from.0,
            to.1.words(),
            to.0
        ))
        .limit("the same connector at both ends of a cable")
        .source(from::E1_11_CONNECTOR)
        .remedy(remedy)
    }
}
