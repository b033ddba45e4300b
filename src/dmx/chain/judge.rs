//! Every rule of a chain, link by link.

use super::link::Link;
use super::model::{Chain, SOURCE};
use super::part::Part;
use super::{answers, branches, ends, ground, habits, idle, isolation, length, load, plugs};
use crate::dmx::chain::LineCable;
use crate::finding::{DataLink, Finding, Subject};
use crate::id::PartId;

/// A link with what its rules read of the chain around it.
pub(super) struct LinkContext<'a> {
    pub(super) chain: &'a Chain,
    pub(super) link: &'a Link,
    /// Cables that leave each part of the chain.
    pub(super) successors: &'a [Vec<usize>],
    about: DataLink,
}

impl Chain {
    /// Judges every link against the published rules and, separately, against common practice.
    ///
    /// ```
    /// use evenrun::dmx::chain::{ChainSpec, LineCable, Part};
    /// use evenrun::quantity::metres;
    /// let mut chain = ChainSpec::new("north", LineCable::data_pair(24));
    /// chain.next(Part::device("D1", metres(8.0)));
    /// let findings = chain.check()?.judge();
    /// // Nothing is terminated.
    /// let failed: Vec<_> = findings.iter().filter(|finding| finding.is_fail()).collect();
    /// assert_eq!(failed.iter().map(|f| f.rule.as_str()).collect::<Vec<_>>(), ["chain-terminator"]);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    #[must_use]
    pub fn judge(&self) -> Vec<Finding> {
        let successors = self.successors();
        let mut findings = Vec::new();
        for link in self.links() {
            let on = LinkContext {
                chain: self,
                about: link.subject(&self.spec.name),
                link: &link,
                successors: &successors,
            };
            findings.push(load::unit_loads(&on));
            findings.push(habits::devices(&on));
            findings.extend(habits::length(&on));
            findings.push(length::published(&on));
            findings.push(length::outer(&on));
            findings.extend(length::core_resistance(&on));
            findings.push(length::cable(&on));
            findings.extend(branches::splits(&on));
            findings.extend(branches::stubs(&on));
            findings.extend(ends::far_terminator(&on));
            findings.extend(ends::extra_terminators(&on));
            findings.extend(ends::port_terminator(&on));
            findings.push(isolation::isolated_ports(&on));
            findings.extend(answers::splitters_in_line(&on));
            findings.extend(answers::splitters_that_pass(&on));
            findings.extend(idle::bias(&on));
            findings.extend(plugs::connectors(&on));
            findings.extend(plugs::kinds(&on));
            findings.push(ground::offset(&on));
        }
        findings.extend(load::splitter_outputs(self, &successors));
        findings
    }
}

impl<'a> LinkContext<'a> {
    /// The link as a subject.
    pub(super) fn subject(&self) -> Subject {
        Subject::Link(self.about.clone())
    }

    /// A part of the link as a subject.
    pub(super) fn part(&self, part: usize) -> Subject {
        Subject::Part {
            link: self.about.clone(),
            part: PartId::new(self.name(part)),
        }
    }

    /// The connections of a part, or of the port, as a subject.
    pub(super) fn point(&self, at: &str) -> Subject {
        Subject::Point {
            link: self.about.clone(),
            at: PartId::new(at),
        }
    }

    /// A cable of the link as a subject.
    pub(super) fn cable(&self, from: &str, to: &str) -> Subject {
        Subject::DataCable {
            link: self.about.clone(),
            from: PartId::new(from),
            to: PartId::new(to),
        }
    }

    /// Whether the port of the chain drives the link.
    pub(super) fn is_at_port(&self) -> bool {
        self.link.driver == SOURCE
    }

    /// A part as written.
    pub(super) fn written(&self, part: usize) -> Option<&'a Part> {
        self.chain.spec.parts.get(part)
    }

    /// The parts of the link as written, with their indices.
    pub(super) fn parts(&self) -> impl Iterator<Item = (usize, &'a Part)> {
        let parts = &self.chain.spec.parts;
        let indices = self.link.parts.iter();
        indices.filter_map(|&index| parts.get(index).map(|part| (index, part)))
    }

    /// Cables of the link, one into each part.
    pub(super) fn cables(&self) -> Vec<LineCable> {
        let parts = self.link.parts.iter();
        parts.map(|&part| self.chain.cable_of(part)).collect()
    }

    /// Cables that leave a part.
    pub(super) fn ways(&self, part: usize) -> &'a [usize] {
        self.successors.get(part).map_or(&[], Vec::as_slice)
    }

    /// Name of a part.
    pub(super) fn name(&self, part: usize) -> &'a str {
        self.written(part).map_or("", |part| &part.name)
    }
}
