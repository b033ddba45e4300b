//! Current and voltage of each decoder, and how far it chops.

use super::View;
use crate::design::Decoder;
use crate::finding::{Case, Finding, Limit, Rule, Subject};
use crate::quantity::amps;
use crate::source::Source;

const LABEL: Source = Source::job("the job: label of the decoder");
const SPREAD: &str = "spread the segments over more outputs";

const ONE_OUTPUT: Case = Case::judged(
    "current",
    "greatest current of one output, worst case, high",
)
.remedy(SPREAD);

/// The reason where the job names no decoder.
pub(super) const NONE_NAMED: &str =
    "no decoder is named: choose one for the figures of the order list, and state its label";

const OUTPUT_TO_FIND: Case = Case::open(
    "not-named",
    "greatest current of one output, worst case, high",
    NONE_NAMED,
)
.figure("{figure}");

pub(super) static OUTPUT: Rule = Rule {
    id: "decoder-output",
    title: "Current of an output of a decoder",
    asks: "Does each output of each decoder switch no more than its label permits?",
    source: LABEL,
    needs: &["label of the decoder"],
    cases: &[&ONE_OUTPUT, &OUTPUT_TO_FIND],
};

/// Decoders whose circuit was solved.
fn solved<'d>(view: &View<'d>) -> impl Iterator<Item = &'d Decoder> {
    let all = view.design.decoders.iter();
    all.filter(|decoder| decoder.least_volts.is_some())
}

pub(super) fn output(view: &View<'_>) -> Vec<Finding> {
    solved(view)
        .filter_map(|decoder| {
            let kind = view.decoder_kind(&decoder.id)?;
            let outputs = view.outputs_of(&decoder.id).iter();
            let currents = outputs.filter_map(|output| output.current);
            let most = currents.map(|current| current.si()).fold(0.0, f64::max);
            let about = Subject::Decoder(decoder.id.clone());
            Some(match kind.named {
                true => OUTPUT.at_most(&ONE_OUTPUT, about, amps(most), kind.output_current),
                false => OUTPUT
                    .not_evaluated(&OUTPUT_TO_FIND, about)
                    .figure(amps(most)),
            })
        })
        .collect()
}

const WHOLE: Case =
    Case::judged("current", "current of the whole decoder, worst case, high").remedy(SPREAD);

const WHOLE_TO_FIND: Case = Case::open(
    "not-named",
    "current of the whole decoder, worst case, high",
    NONE_NAMED,
)
.figure("{figure}");

pub(super) static TOTAL: Rule = Rule {
    id: "decoder-total",
    title: "Current of a decoder",
    asks: "Does each decoder pass no more in all than its label and its supply terminal permit?",
    source: LABEL,
    needs: &["label of the decoder"],
    cases: &[&WHOLE, &WHOLE_TO_FIND],
};

pub(super) fn total(view: &View<'_>) -> Vec<Finding> {
    solved(view)
        .filter_map(|decoder| {
            let about = Subject::Decoder(decoder.id.clone());
            let current = decoder.current?;
            Some(match view.decoder_kind(&decoder.id)?.named {
                true => TOTAL.at_most(&WHOLE, about, current, decoder.current_limit),
                false => TOTAL.not_evaluated(&WHOLE_TO_FIND, about).figure(current),
            })
        })
        .collect()
}

const AT_TERMINALS: Case = Case::judged(
    "volts",
    "least voltage at its supply terminals, worst case, low",
)
.remedy("shorten its lead, or use larger cores");

const TERMINALS_TO_FIND: Case = Case::open(
    "not-named",
    "least voltage at its supply terminals, worst case, low",
    NONE_NAMED,
)
.figure("{figure}");

pub(super) static VOLTS: Rule = Rule {
    id: "decoder-volts",
    title: "Voltage at a decoder",
    asks: "Does each decoder have the least voltage that its label asks for?",
    source: LABEL,
    needs: &["label of the decoder"],
    cases: &[&AT_TERMINALS, &TERMINALS_TO_FIND],
};

pub(super) fn volts(view: &View<'_>) -> Vec<Finding> {
    solved(view)
        .filter_map(|decoder| {
            let kind = view.decoder_kind(&decoder.id)?;
            let about = Subject::Decoder(decoder.id.clone());
            let found = decoder.least_volts?;
            Some(match kind.named {
                true => VOLTS.at_least(&AT_TERMINALS, about, found, kind.least_volts),
                false => VOLTS.not_evaluated(&TERMINALS_TO_FIND, about).figure(found),
            })
        })
        .collect()
}

const LONGER: Case = Case::open(
    "longer",
    "length of a feeder that carries chopped current",
    "the rise of the current along a long chopped feeder is not computed; a rule of thumb is exceeded",
)
.figure("{figure}")
.limit("{limit}")
.remedy("bring the decoder nearer, or try the length with the decoder at low level");

pub(super) static CHOPPED: Rule = Rule {
    id: "feeder-chopped",
    title: "Length of a chopped feeder",
    asks: "Is every feeder that carries chopped current within the length of good practice?",
    source: Source::common_practice("chopped feeders kept to 25 ft, or as the job states"),
    needs: &[],
    cases: &[&LONGER],
};

pub(super) fn chopped(view: &View<'_>) -> Vec<Finding> {
    let Some(habit) = view.design.limits.chopped_feeder else {
        return Vec::new();
    };
    let dims = |decoder: &&Decoder| view.zone(&decoder.zone).is_some_and(|zone| zone.dimmed);
    let mut out = Vec::new();
    for decoder in view.design.decoders.iter().filter(dims) {
        for segment in view.segments_of(&decoder.id) {
            let feeders = view.feeds_of(&segment.id).iter();
            let routes = feeders.filter_map(|feed| Some(view.cable(&feed.cable)?.route));
            out.extend(routes.filter(|route| *route > habit).map(|route| {
                CHOPPED
                    .not_evaluated(&LONGER, Subject::Segment(segment.id.clone()))
                    .figure(route)
                    .limit(Limit::AtMost(habit.into()))
            }));
        }
    }
    out
}
