//! Everything at once: findings and the protection schedule.

use super::check::Protection;
use super::classes::Classes;
use super::conductor::{self, ConductorRow};
use super::joins::{Islands, Tied};
use super::spec::JoinKind;
use super::{output_rules, profile};
use crate::finding::{Finding, Subject};
use std::collections::BTreeMap;

/// What the rules found.
#[derive(Debug, Clone, PartialEq)]
pub struct ProtectionReport {
    /// Every finding: outputs, then conductors in their order, then profiles.
    pub findings: Vec<Finding>,
    /// One line per conductor, in their order.
    pub rows: Vec<ConductorRow>,
    /// Outputs that copper ties to others.
    pub tied: Vec<Tied>,
    /// Earth bonds, listed and not counted as joins.
    pub earth_bonds: Vec<Subject>,
}

impl ProtectionReport {
    /// The worst finding about each subject; of several as bad, the first that has a sentence for it.
    #[must_use]
    pub fn worst(&self) -> BTreeMap<&Subject, &Finding> {
        let mut worst: BTreeMap<&Subject, &Finding> = BTreeMap::new();
        for finding in &self.findings {
            let held = worst.entry(&finding.about).or_insert(finding);
            if conductor::rank(finding) < conductor::rank(held) {
                *held = finding;
            }
        }
        worst
    }
}

impl Protection {
    /// Judges every output, conductor and profile.
    ///
    /// Time: near-linear in points, conductors and joins.
    ///
    /// ```
    /// use evenrun::protect::*;
    /// use evenrun::quantity::{amps, volts};
    /// let mut spec = ProtectionSpec::new();
    /// let (plus, minus, far) = (spec.point("S1 +"), spec.point("S1 -"), spec.point("tape +"));
    /// spec.output(OutputSpec { limit: Some(amps(26.0)), ..OutputSpec::plain("S1", plus, minus, volts(24.0), amps(20.0)) });
    /// spec.conductor(ConductorSpec {
    ///     may_carry: MayCarry::current(amps(5.0), evenrun::source::Source::invented("5 A")),
    ///     ..ConductorSpec::plain("feeder, plus", plus, far, amps(3.0))
    /// });
    /// let report = spec.check()?.judge();
    /// let protected = report.findings.iter().find(|f| f.rule.as_str() == "conductor-protected").ok_or("none")?;
    /// assert!(protected.is_fail());
    /// assert!(evenrun::rules::words(protected).says.starts_with("conductor not protected"));
    /// assert_eq!(report.worst()[&report.rows[0].about], protected);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    #[must_use]
    pub fn judge(&self) -> ProtectionReport {
        let islands = Islands::of(self);
        let tied = islands.tied(self);
        let classes = Classes::of(self, &islands, &tied);
        let mut findings = output_rules::judge(self, &tied, &classes);
        let mut rows = Vec::with_capacity(self.0.conductors.len());
        for conductor in &self.0.conductors {
            let (row, found) = conductor::judge(self, &classes, conductor);
            rows.push(row);
            findings.extend(found);
        }
        findings.extend(profile::judge(self));
        let earth_bonds = self
            .0
            .joins
            .iter()
            .filter(|join| join.kind == JoinKind::EarthBond)
            .map(|join| join.about.clone())
            .collect();
        ProtectionReport {
            findings,
            rows,
            tied,
            earth_bonds,
        }
    }
}
