//! The most volts that a supply can be set to, against what a decoder on it bears.

use super::View;
use super::decoder::NONE_NAMED;
use crate::finding::{Case, Finding, Rule, Subject};
use crate::source::Source;

const SETTABLE: Case = Case::judged(
    "volts",
    "highest voltage that its supply can be set to, tolerance included",
)
.remedy("take a decoder for more volts, or a supply whose trimmer does not reach so far");

const TO_FIND: Case = Case::open(
    "not-named",
    "highest voltage that its supply can be set to, tolerance included",
    NONE_NAMED,
)
.figure("{figure}");

pub(super) static RULE: Rule = Rule {
    id: "decoder-overvoltage",
    title: "Over-voltage of a decoder",
    asks: "Does each decoder bear the highest voltage that its supply can be set to?",
    source: Source::job("the job: label of the decoder"),
    needs: &["label of the decoder"],
    cases: &[&SETTABLE, &TO_FIND],
};

pub(super) fn judge(view: &View<'_>) -> Vec<Finding> {
    let decoders = view.design.decoders.iter();
    decoders
        .filter_map(|decoder| {
            let supply = view.supply_kind(&decoder.supply.as_ref()?.0)?;
            let most = supply.highest_settable();
            let kind = view.decoder_kind(&decoder.id)?;
            let about = Subject::Decoder(decoder.id.clone());
            Some(match kind.named {
                true => RULE.at_most(&SETTABLE, about, most, kind.most_volts),
                false => RULE.not_evaluated(&TO_FIND, about).figure(most),
            })
        })
        .collect()
}
