//! What this version does not compute, said in every plan.

use super::Worked;
use crate::finding::plain::Finding;
use crate::source::Source;

impl Worked<'_> {
    /// What nobody asked the plan to answer, but a designer must.
    pub(super) fn silences(&self, findings: &mut Vec<Finding>) {
        let mut silent = |id, says: &str, reason: &str, remedy: &str| {
            findings.push(
                Finding::not_evaluated(id, "whole job", reason.to_string())
                    .says(says.to_string())
                    .source(Source::computed("scope of this version"))
                    .remedy(remedy.to_string()),
            );
        };
        silent(
            "scope-heat",
            "temperature of tape and profile",
            "heat is not computed",
            "measure a sample in its profile",
        );
        silent(
            "scope-light",
            "illuminance on surfaces",
            "light is not computed",
            "use photometric data of the tape in its profile",
        );
        silent(
            "scope-dimming",
            "flicker and smoothness at low level",
            "dimming over the wire is not computed",
            "try the decoder at low level with the longest feeder",
        );
        silent(
            "scope-mains",
            "mains side: breakers, inrush of all supplies together, leakage",
            "mains circuits are outside this calculation",
            "licensed people design the mains side",
        );
        if self.job.places().iter().any(|p| !p.ways.is_empty()) {
            silent(
                "scope-ways",
                "supplies in one place for decoders in another, over the ways between them",
                "a decoder hangs on a supply in its own place; the ways are kept with the job and not used",
                "let the zone list a place that has room for both, or find the drop over the way with `examples/wire`",
            );
        }
        if self
            .runs
            .iter()
            .any(|r| r.zone.service != crate::job::spec::Service::Normal)
        {
            silent(
                "scope-emergency",
                "emergency lighting",
                "duration, changeover and levels of emergency lighting are not computed",
                "licensed people design emergency lighting",
            );
        }
    }
}
