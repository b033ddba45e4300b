//! Everything at once: findings and the protection schedule.

use super::check::Protection;
use super::classes::Classes;
use super::conductor_rules::{self, ConductorRow};
use super::joins::{Islands, Tied};
use super::spec::JoinKind;
use super::{output_rules, profile};
use crate::finding::plain::Finding;

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
    pub earth_bonds: Vec<String>,
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
    ///     may_carry: MayCarry::Current { current: amps(5.0), source: evenrun::source::Source::invented("5 A"), largest_device: None },
    ///     ..ConductorSpec::plain("feeder, plus", plus, far, amps(3.0))
    /// });
    /// let report = spec.check().map_err(|e| format!("{e:?}"))?.judge();
    /// let protected = report.findings.iter().find(|f| f.id == "conductor-protected").ok_or("none")?;
    /// assert!(protected.is_fail() && protected.says.starts_with("conductor not protected"));
    /// # Ok::<(), String>(())
    /// ```
    #[must_use]
    pub fn judge(&self) -> ProtectionReport {
        let islands = Islands::of(self);
        let tied = islands.tied(self);
        let classes = Classes::of(self, &islands, &tied);
        let mut findings = output_rules::judge(self, &tied, &classes);
        let mut rows = Vec::with_capacity(self.0.conductors.len());
        for conductor in &self.0.conductors {
            let (row, found) = conductor_rules::judge(self, &classes, conductor);
            rows.push(row);
            findings.extend(found);
        }
        findings.extend(profile::judge(self));
        let earth_bonds = self
            .0
            .joins
            .iter()
            .filter(|join| join.kind == JoinKind::EarthBond)
            .map(|join| join.name.clone())
            .collect();
        ProtectionReport {
            findings,
            rows,
            tied,
            earth_bonds,
        }
    }
}
