//! Readings to expect on site.

use super::Worked;
use super::model::{Plan, ReadingRow};
use super::tape_rows::letter;
use crate::quantity::{Corners, ElectricPotential};
use crate::segment::FeedFigures;

impl Worked<'_> {
    pub(super) fn site_rows(&self, plan: &mut Plan) {
        for joined in &self.joint.joined {
            let unit = &self.joint.units[joined.unit];
            let Ok(figures) = &joined.figures else {
                continue;
            };
            let full = "every emitter on this output at full, 10 minutes warm".to_string();
            plan.readings.push(ReadingRow {
                point: format!("supply {}, output {}", unit.id, joined.output + 1),
                condition: full.clone(),
                instrument: "DC clamp or ammeter in the plus lead".to_string(),
                volts: None,
                amps: Some(figures.map(|f| f.current)),
                likely:
                    "low: a run dark or a lead open; high: a short or another tape than planned"
                        .to_string(),
            });
            for b in &joined.bodies {
                let body = &self.joint.bodies[*b];
                if let (Some(_), Some(branch)) = (body.spec, joined.branch(*b)) {
                    plan.readings.push(ReadingRow {
                        point: format!("decoder {}, supply terminals", body.id),
                        condition: full.clone(),
                        instrument: "DC voltmeter".to_string(),
                        volts: Some(branch.map(|b| b.volts)),
                        amps: None,
                        likely: "low: a thin or long lead, a loose terminal, a set point too low"
                            .to_string(),
                    });
                }
            }
            for (number, _) in joined.segments(&self.joint.bodies) {
                let own = &self.joint.segments[number];
                for n in 0..own.plan.feeds.len() {
                    let Some(volts) = self.feed_figures(number, n).and_then(three_volts) else {
                        continue;
                    };
                    plan.readings.push(ReadingRow {
                        point: format!("feed F-{}{}, at the tape, plus to the weakest return", own.id, letter(n)),
                        condition: full.clone(),
                        instrument: "DC voltmeter; at full level nothing is chopped".to_string(),
                        volts: Some(volts),
                        amps: None,
                        likely: "low: thinner or longer cable, a bad joint; high: a segment not connected".to_string(),
                    });
                }
            }
        }
    }
}

/// Volts at a feed, where a return is lit there.
fn three_volts(feed: Corners<&FeedFigures>) -> Option<Corners<ElectricPotential>> {
    Some(Corners {
        low: feed.low.volts?,
        nominal: feed.nominal.volts?,
        high: feed.high.volts?,
    })
}
