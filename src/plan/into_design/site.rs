//! Readings to expect on site.

use super::{corners, feed_id};
use crate::design::{Design, Probe, Reading};
use crate::id::SupplyId;
use crate::plan::SolvedJob;

impl SolvedJob<'_> {
    /// Readings output by output: its current, the volts of its decoders, then of its feeds.
    pub(in crate::plan) fn put_readings(&self, design: &mut Design) {
        for (joined, current) in self.joint.joined.iter().zip(&self.readings.currents) {
            let Some(current) = *current else {
                continue;
            };
            design.readings.push(Reading {
                at: Probe::Output {
                    supply: SupplyId::new(&*self.joint.units[joined.unit].id),
                    output: joined.output as u64 + 1,
                },
                volts: None,
                amps: corners(current),
            });
            for (b, _) in joined.branches() {
                if let (Some(_), Some(own)) =
                    (self.joint.decoder_units[b].spec, self.branch_bands(b))
                {
                    design.readings.push(Reading {
                        at: Probe::Decoder(self.decoder_id(b)),
                        volts: corners(own.volts),
                        amps: None,
                    });
                }
            }
            for (number, _) in joined.segments(&self.joint.decoder_units) {
                let own = &self.joint.segments[number];
                for n in 0..own.plan.feeds.len() {
                    let Some(volts) = self.feed_volts(number, n) else {
                        continue;
                    };
                    design.readings.push(Reading {
                        at: Probe::Feed {
                            feed: feed_id(&own.id, n),
                            segment: self.segment_id(number),
                        },
                        volts: Some(volts),
                        amps: None,
                    });
                }
            }
        }
    }
}
