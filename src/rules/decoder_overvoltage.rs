//! The most volts that a supply can be set to, against what a decoder on it bears.

use super::View;
use crate::finding::{Case, Finding, Rule, Subject};
use crate::source::Source;

const SETTABLE: Case = Case::judged(
    "volts",
    "highest voltage that its supply can be set to, tolerance included",
)
.remedy("take a decoder for more volts, or a supply whose trimmer does not reach so far");

pub(super) static RULE: Rule = Rule {
    id: "decoder-overvoltage",
    title: "Over-voltage of a decoder",
    asks: "Does each decoder bear the highest voltage that its supply can be set to?",
    source: Source::job("the job: label of the decoder"),
    needs: &[],
    cases: &[&SETTABLE],
};

pub(super) fn judge(view: &View<'_>) -> Vec<Finding> {
    let decoders = view.design.decoders.iter();
    decoders
        .filter_map(|decoder| {
            let supply = view.supply_kind(&decoder.supply.as_ref()?.0)?;
            let most = supply.highest_settable();
            let limit = view.decoder_kind(&decoder.id)?.most_volts;
            Some(RULE.at_most(&SETTABLE, Subject::Decoder(decoder.id.clone()), most, limit))
        })
        .collect()
}
