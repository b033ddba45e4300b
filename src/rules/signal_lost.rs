//! What the decoders of emergency lighting do when their signal is lost.

use super::View;
use crate::finding::{Case, Finding, Rule, Subject, Value};
use crate::job::spec::{Service, SignalLoss};
use crate::source::documents;

const FULL: Case = Case::plain(
    "full",
    "goes to full when its signal is lost, and with it the emergency lighting of {zone}",
);
const DARK: Case = Case::plain(
    "dark",
    "goes dark when its signal is lost, and with it the emergency lighting of {zone}",
)
.figure("dark")
.limit("full")
.remedy("set it to go to full without a signal, or take a decoder that can be set so");
const HELD: Case = Case::open(
    "held",
    "emergency lighting of {zone} when its signal is lost",
    "the decoder holds the last level, and that may be a dark one",
)
.remedy("take a decoder that goes to full without a signal");
const NOT_STATED: Case = Case::open(
    "not-stated",
    "emergency lighting of {zone} when its signal is lost",
    "what the decoder does without a signal is not stated",
)
.remedy("state `signal_loss` of the decoder, from its data sheet");

pub(super) static RULE: Rule = Rule {
    id: "emergency-signal-lost",
    title: "Emergency lighting without a signal",
    asks: "Is emergency lighting lit by each of its decoders when the signal is lost?",
    source: documents::NEC
        .at("700.24: emergency luminaires that answer to a control input, or to its loss")
        .from_memory(),
    needs: &["what the decoder does when its signal is lost"],
    cases: &[&FULL, &DARK, &HELD, &NOT_STATED],
};

/// One answer for each decoder of a zone that is not for normal lighting alone.
pub(super) fn judge(view: &View<'_>) -> Vec<Finding> {
    let decoders = view.design.decoders.iter();
    decoders
        .filter_map(|decoder| {
            let zone = view.zone(&decoder.zone)?;
            if zone.service == Service::Normal {
                return None;
            }
            let about = Subject::Decoder(decoder.id.clone());
            let finding = match view.decoder_kind(&decoder.id)?.signal_loss {
                SignalLoss::Full => RULE.passes(&FULL, about),
                SignalLoss::Dark => RULE.fails(&DARK, about),
                SignalLoss::Hold => RULE.not_evaluated(&HELD, about),
                SignalLoss::Unknown => RULE.not_evaluated(&NOT_STATED, about),
            };
            Some(finding.fact("zone", Value::name(zone.id.as_str())))
        })
        .collect()
}
