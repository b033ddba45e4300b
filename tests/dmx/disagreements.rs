//! Where documents disagree: what this crate does is what the table says to use.

use crate::common::{assert_within, rows};
use crate::rules::{daisy, finding, judge};
use evenrun::dmx::bias::Bias;
use evenrun::dmx::chain::LineCable;
use evenrun::dmx::connector::{Connector, Wire};
use evenrun::dmx::electrical;
use evenrun::dmx::levels::Curve;
use evenrun::dmx::line::{self, RateRule, StubRule};
use evenrun::dmx::timing::{self, Role};
use evenrun::finding::Verdict;
use evenrun::quantity::{hertz, ohms, seconds, volts};
use evenrun::rules::words;

#[test]
fn conflicts() {
    let pair = LineCable::data_pair(24);
    for row in rows("dmx/conflicts.csv", 15) {
        let (id, use_) = (row.text("id"), row.text("what_to_use"));
        match id {
            "c-1" => {
                let [one, both] = [StubRule::OneWay, StubRule::RoundTrip]
                    .map(|rule| rule.longest(seconds(210e-9), &pair).value);
                assert!(use_.contains("report both"));
                assert_within(id, one / both, 2.0, 1e-12);
            }
            "c-2" => {
                let at = |rule: RateRule| rule.longest(hertz(250e3)).value;
                assert_within(id, at(RateRule::Curve), 432.0, 1e-9);
                assert_within(id, at(RateRule::ProductLong), 400.0, 1e-9);
                assert_within(id, at(RateRule::ProductShort), 40.0, 1e-9);
                // 1e7 is not used: a chain of 100 m breaks no published rule.
                let found = judge(&daisy(10, 10.0));
                assert!(
                    found
                        .iter()
                        .all(|f| f.rule.as_str() != "chain-length" || !f.is_fail())
                );
            }
            "c-3" => {
                let lost = 1.0
                    - line::steady_share(ohms(100.0), ohms(1200.0 * pair.loop_resistance.value));
                assert_within(id, 100.0 * lost, 66.9, 0.05);
                let six =
                    line::length_for_share(10_f64.powf(-0.3), ohms(100.0), pair.loop_resistance);
                assert_within(id, six.value, 591.0, 0.5);
            }
            "c-4" => assert_eq!(Connector::EightPosition.contact(Wire::Data2Minus), Some(6)),
            "c-5" => {
                // No step where the curve's two parts meet.
                let (below, above) = (
                    Curve::Lightness.output(0.08),
                    Curve::Lightness.output(0.08 + 1e-12),
                );
                assert_within(id, below, above, 1e-11);
                assert_within(id, 0.08 * 100.0 / below, 903.2963, 1e-4);
            }
            "c-6" => {
                let limit = |f: f64| line::category_5e_limit(hertz(f)).expect("in range");
                assert_within(id, limit(4e6), 4.1, 0.05);
                assert_within(id, limit(16e6), 8.2, 0.05);
            }
            "c-7" => {
                let rb = Bias::resistor_for(volts(3.3), volts(0.3), ohms(120.0), 32.0);
                assert_within(id, rb.value, 3.3 / 0.3 / 0.036, 1e-9);
                let exact = Bias {
                    supply: volts(3.3),
                    resistor: rb,
                };
                let beside = exact
                    .matching_terminator(ohms(120.0))
                    .expect("above 60 ohm");
                assert_within(
                    id,
                    exact.idle_volts(&[beside, ohms(120.0)], 32.0).value,
                    0.3,
                    1e-12,
                );
                let handbook = Bias {
                    supply: volts(3.3),
                    resistor: ohms((3.3 / 0.3 + 1.0) / 0.036),
                };
                let beside = handbook
                    .matching_terminator(ohms(120.0))
                    .expect("above 60 ohm");
                assert_within(
                    id,
                    handbook.idle_volts(&[beside, ohms(120.0)], 32.0).value,
                    0.275,
                    1e-9,
                );
            }
            "c-8" => {
                let bias = Bias {
                    supply: volts(5.0),
                    resistor: ohms(562.0),
                };
                let idle = |near: f64| bias.idle_volts(&[ohms(near), ohms(120.0)], 32.0).value;
                assert!(
                    idle(130.0) < electrical::RDM_IDLE_VOLTS
                        && idle(133.0) >= electrical::RDM_IDLE_VOLTS
                );
            }
            "c-9" => {
                assert_within(id, electrical::TEST_LOAD_OHMS, 54.0, 0.0);
                assert_within(
                    id,
                    electrical::pair_load(&[ohms(120.0); 2], 32.0).value,
                    55.6,
                    0.05,
                );
            }
            "c-10" => {
                assert_within(id, Role::Receiver.limits().least_break.value, 88e-6, 0.0);
                // A conforming transmitter sends what the slow hardware needs, 23 bits.
                let sent = Role::Transmitter.limits().least_break.value;
                assert_within(id, sent, 23.0 * timing::BIT_SECONDS, 1e-12);
            }
            "c-11" => assert_within(id, electrical::EDGE_SHARE, 0.30, 0.0),
            "c-12" => assert_eq!(
                (electrical::LOADED_VOLTS[1], electrical::OPEN_VOLTS[1]),
                (5.0, 6.0)
            ),
            "c-13" => {
                let mut chain = daisy(3, 5.0);
                chain.parts[2].terminator = None;
                assert!(
                    !chain.rdm && finding(&chain, "chain-terminator").is_fail(),
                    "always"
                );
            }
            "c-14" => assert!(
                finding(&daisy(3, 5.0), "chain-length")
                    .source
                    .title
                    .starts_with("USITT")
            ),
            "c-15" => {
                let mut chain = daisy(32, 5.0);
                chain.bias = Some(Bias {
                    supply: volts(5.0),
                    resistor: ohms(562.0),
                });
                assert_eq!(
                    finding(&chain, "chain-unit-loads").verdict,
                    Verdict::AtLimit,
                    "counted apart"
                );
                let said = finding(&chain, "chain-bias-load");
                let says = words(&said).says;
                assert!(
                    !said.is_fail() && says.contains("21.4 unit loads, in addition to 32"),
                    "{says}"
                );
            }
            other => panic!("{other}: no check for this row"),
        }
    }
}
