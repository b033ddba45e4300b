//! Direct volts along a loaded line.

use super::super::chain::{Chain, Link, PartKind, SOURCE};
use super::run::{SignalPlan, UNIT_LOAD_OHMS};

impl Chain {
    /// Volts of a long mark at every part of a link.
    pub(super) fn steady_volts(&self, link: &Link, plan: &SignalPlan) -> Vec<f64> {
        let spec = &plan.spec;
        self.steady_from(link, spec.open_volts.value, spec.source_resistance.value)
            .1
    }

    /// Volts at the driver and at every part of a link that `open` volts behind `source` ohm hold: from the far
    /// ends inward `G = g + 1/Rt + Σ 1/(r + 1/G')`, from the driver outward `V' = V (1/G')/(r + 1/G')`.
    pub(in crate::dmx) fn steady_from(
        &self,
        link: &Link,
        open: f64,
        source: f64,
    ) -> (f64, Vec<f64>) {
        let count = self.spec.parts.len();
        let (mut load, mut seen) = (vec![0.0; count], vec![0.0; count]);
        let mut at_driver = match (link.driver.as_str(), self.spec.source_terminator) {
            (SOURCE, Some(terminator)) => 1.0 / terminator.value,
            _ => 0.0,
        };
        let on_link = |part: usize| {
            let parent = self.parents.get(part).copied().flatten();
            parent.filter(|&parent| !self.is_splitter(parent))
        };
        let resistance = |part: usize| {
            let length = self
                .spec
                .parts
                .get(part)
                .map_or(0.0, |part| part.length.value);
            length * self.cable_of(part).loop_resistance.value
        };
        for &part in link.parts.iter().rev() {
            let Some(written) = self.spec.parts.get(part) else {
                continue;
            };
            let mut own = load.get(part).copied().unwrap_or(0.0);
            match written.kind {
                PartKind::Device { unit_loads, .. } | PartKind::Splitter { unit_loads, .. } => {
                    own += f64::from(unit_loads.ten_thousandths()) / 1e4 / UNIT_LOAD_OHMS;
                }
                PartKind::Joint => {}
            }
            own += written
                .terminator
                .map_or(0.0, |terminator| 1.0 / terminator.value);
            let through = own / (1.0 + own * resistance(part));
            if let Some(load) = load.get_mut(part) {
                *load = own;
            }
            match on_link(part) {
                Some(parent) => {
                    if let Some(load) = load.get_mut(parent) {
                        *load += through;
                    }
                }
                None => at_driver += through,
            }
        }
        let driver = open / (1.0 + at_driver * source);
        let parts = link
            .parts
            .iter()
            .map(|&part| {
                let before = on_link(part)
                    .and_then(|parent| seen.get(parent).copied())
                    .unwrap_or(driver);
                let own = load.get(part).copied().unwrap_or(0.0);
                let volts = before / (1.0 + own * resistance(part));
                if let Some(seen) = seen.get_mut(part) {
                    *seen = volts;
                }
                volts
            })
            .collect();
        (driver, parts)
    }
}
