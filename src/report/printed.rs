//! A design with its findings put together and its sources numbered: what every schedule is made from.

use super::lengths::figures;
use super::marks::Marks;
use super::merged::{Tally, in_order};
use super::of_runs::OfRuns;
use super::references::References;
use crate::design::Design;
use crate::rules::{Merged, merged};

/// A design as it is printed.
pub(super) struct Printed<'a> {
    pub(super) design: &'a Design,
    /// In the order in which they are printed.
    pub(super) findings: Vec<Merged<'a>>,
    pub(super) references: References<'a>,
    pub(super) tally: Tally,
    /// Which runs a thing serves.
    pub(super) runs: OfRuns<'a>,
}

impl<'a> Printed<'a> {
    pub(super) fn of(design: &'a Design) -> Self {
        let mut findings = merged(&design.findings);
        let references = References::of(design, &findings);
        let marks = Marks::of(design);
        for finding in &mut findings {
            finding.place = marks.said(&finding.place);
            let said = [
                &mut finding.says,
                &mut finding.reason,
                &mut finding.figure,
                &mut finding.limit,
                &mut finding.remedy,
            ];
            for words in said {
                *words = figures(design.job.units, words);
            }
        }
        in_order(&mut findings);
        Self {
            design,
            tally: Tally::of(&findings),
            findings,
            references,
            runs: OfRuns::of(design),
        }
    }
}
