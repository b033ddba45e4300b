//! Dust and water: tape, jackets and housings against where they are.

use super::View;
use crate::design::{Cable, Chain, Terminals};
use crate::device::{Environment, IngressCode};
use crate::finding::{Case, Finding, Rule, Subject, Value};
use crate::id::ProductId;
use crate::source::{Source, documents};
use std::collections::BTreeMap;

const JOB: Source = Source::job("the job");
/// Water numeral 0: not protected.
const CODE: Source = documents::IEC_60529.at("6").from_memory();

/// How a code stands against where it is; the case of a rule for each.
struct Answers {
    covered: &'static Case,
    less: &'static Case,
    no_water: &'static Case,
    no_code: &'static Case,
    nothing: &'static Case,
    not_asked: &'static Case,
}

/// Cases of one code: what it is the code of, what must cover it, what states it.
macro_rules! answers {
    ($name:ident: $what:literal, $here:literal, $states:literal, $remedy:literal, $missing:literal) => {
        const $name: Answers = {
            const COVERED: Case = Case::plain(
                "covered",
                concat!("protection of ", $what, " against dust and water"),
            )
            .figure("{has}")
            .limit("{needed}");
            const LESS: Case = Case::plain(
                "less",
                concat!(
                    "the ingress code of ",
                    $what,
                    " is below that required for ",
                    $here
                ),
            )
            .figure("{has}")
            .limit("{needed}")
            .remedy($remedy);
            const NO_WATER: Case = Case::plain(
                "no-water",
                concat!(
                    $what,
                    " is not protected against water, and ",
                    $here,
                    " is {place}"
                ),
            )
            .figure("{has}")
            .limit("protected against water")
            .remedy($remedy);
            const NO_CODE: Case = Case::open(
                "not-stated",
                concat!("protection of ", $what, " against dust and water"),
                concat!($states, " states no ingress code"),
            )
            .limit("{needed}")
            .remedy(concat!("state the code of ", $what));
            const NOTHING: Case = Case::open(
                "nothing-stated",
                concat!(
                    "protection of ",
                    $what,
                    " against dust and water: ",
                    $here,
                    " is {place}"
                ),
                concat!(
                    "neither the ingress code that ",
                    $here,
                    " needs nor that of ",
                    $what,
                    " is stated"
                ),
            )
            .remedy($missing);
            const NOT_ASKED: Case = Case::open(
                "not-asked",
                concat!(
                    "protection of ",
                    $what,
                    " against dust and water: ",
                    $here,
                    " is {place}"
                ),
                concat!("the ingress code that ", $here, " needs is not stated"),
            )
            .figure("{has}")
            .remedy($missing);
            Answers {
                covered: &COVERED,
                less: &LESS,
                no_water: &NO_WATER,
                no_code: &NO_CODE,
                nothing: &NOTHING,
                not_asked: &NOT_ASKED,
            }
        };
    };
}

impl Answers {
    const fn cases(&self) -> [&'static Case; 6] {
        [
            self.covered,
            self.less,
            self.no_water,
            self.no_code,
            self.nothing,
            self.not_asked,
        ]
    }

    /// A code in its surroundings; nothing to say where it is dry and none is needed.
    fn judge(
        &self,
        rule: &Rule,
        about: Subject,
        place: Environment,
        needed: Option<IngressCode>,
        has: Option<IngressCode>,
    ) -> Option<Finding> {
        let dry = place == Environment::Dry;
        if dry && needed.is_none() {
            return None;
        }
        let finding = match (has, needed) {
            (Some(has), _) if !dry && has.water() == 0 => {
                rule.fails(self.no_water, about).source(CODE)
            }
            (Some(has), Some(needed)) if has.covers(needed) => rule.passes(self.covered, about),
            (Some(_), Some(_)) => rule.fails(self.less, about),
            (Some(_), None) => rule.not_evaluated(self.not_asked, about),
            (None, Some(_)) => rule.not_evaluated(self.no_code, about),
            (None, None) => rule.not_evaluated(self.nothing, about),
        };
        let codes = [("has", has), ("needed", needed)];
        let codes = codes
            .into_iter()
            .filter_map(|(name, code)| Some((name, code?)));
        let place = finding.fact("place", Value::name(place.word()));
        Some(codes.fold(place, |finding, (name, code)| {
            finding.fact(name, Value::name(code.to_string()))
        }))
    }
}

answers!(TAPE: "the tape", "this run", "the strip", "use a tape or a cover with that code", "state the ingress code that the run needs, and that of the strip");

pub(super) static INGRESS: Rule = Rule {
    id: "strip-ingress",
    title: "Protection against dust and water",
    asks: "Is the tape of each run protected as its environment requires?",
    source: JOB,
    needs: &["ingress code of the run", "ingress code of the strip"],
    cases: &TAPE.cases(),
};

pub(super) fn ingress(view: &View<'_>) -> Vec<Finding> {
    let runs = view.design.runs.iter();
    runs.filter_map(|run| {
        let about = Subject::Run(run.id.clone());
        let has = view.strip(&run.strip)?.ingress;
        TAPE.judge(&INGRESS, about, run.environment, run.ingress, has)
    })
    .collect()
}

const OPENED: Case = Case::open(
    "opened",
    "cut ends, leads and joints of a tape of {has} in a {place} place",
    "the code holds for the tape as delivered; whether each end, lead and joint is closed again as its maker states is not in the job",
)
.remedy("close every cut end, lead and joint with the maker's caps and compound, and keep one as a sample");

pub(super) static CUT_ENDS: Rule = Rule {
    id: "strip-cut-ends",
    title: "Cut ends of a sealed tape",
    asks: "Is each cut end, lead and joint of a tape that lies in the wet closed again?",
    source: Source::common_practice(
        "a cut or opened end of a sealed tape has no rating until it is closed as its maker states",
    ),
    needs: &["how cut ends, leads and joints are closed"],
    cases: &[&OPENED],
};

pub(super) fn cut_ends(view: &View<'_>) -> Vec<Finding> {
    let runs = view.design.runs.iter();
    runs.filter(|run| run.environment != Environment::Dry)
        .filter_map(|run| {
            let has = view.strip(&run.strip)?.ingress?;
            let finding = CUT_ENDS.not_evaluated(&OPENED, Subject::Run(run.id.clone()));
            Some(
                finding
                    .fact("has", Value::name(has.to_string()))
                    .fact("place", Value::name(run.environment.word())),
            )
        })
        .collect()
}

const MADE_FOR: Case = Case::plain(
    "made-for",
    "surroundings that its jacket is made for, against the worst on its ways",
)
.figure("{has}")
.limit("{place}");
const NOT_MADE_FOR: Case = Case::plain(
    "not-made-for",
    "its jacket is made for {has} places, and a way of it is {place}",
)
.figure("{has}")
.limit("{place}")
.remedy("take a cable made for that place, or another way");
const JACKET_NOT_STATED: Case = Case::open(
    "not-stated",
    "a way of it is {place}",
    "what surroundings its jacket is made for is not stated",
)
.limit("{place}")
.remedy("state environment of the cable");

const DATA_NOT_STATED: Case = Case::open(
    "data",
    "its data cable goes to a {place} place",
    "what surroundings the jacket of a data cable is made for is not in the job",
)
.limit("{place}")
.remedy("order data cable made for that place");

pub(super) static JACKET: Rule = Rule {
    id: "cable-surroundings",
    title: "Jacket of a cable",
    asks: "Is the jacket of each cable made for the surroundings of both of its ends?",
    source: Source::job("the job: environment of cables, places and runs"),
    needs: &["environment of the cable"],
    cases: &[
        &MADE_FOR,
        &NOT_MADE_FOR,
        &JACKET_NOT_STATED,
        &DATA_NOT_STATED,
    ],
};

pub(super) fn jackets(view: &View<'_>) -> Vec<Finding> {
    let mut worst: BTreeMap<&ProductId, Environment> = BTreeMap::new();
    for cable in &view.design.cables {
        let place = surroundings(view, cable);
        worst
            .entry(&cable.kind)
            .and_modify(|held| *held = place.max(*held))
            .or_insert(place);
    }
    let wet = worst
        .into_iter()
        .filter(|(_, place)| *place != Environment::Dry);
    wet.filter_map(|(kind, place)| {
        let has = view.cable_kind(kind)?.environment;
        let about = Subject::Cable(kind.clone());
        let finding = match has {
            None => JACKET.not_evaluated(&JACKET_NOT_STATED, about),
            Some(has) if has >= place => JACKET.passes(&MADE_FOR, about),
            Some(_) => JACKET.fails(&NOT_MADE_FOR, about),
        };
        let finding = finding.fact("place", Value::name(place.word()));
        Some(match has {
            Some(has) => finding.fact("has", Value::name(has.word())),
            None => finding,
        })
    })
    .chain(
        view.design
            .chains
            .iter()
            .filter_map(|chain| data_cable(view, chain)),
    )
    .collect()
}

/// The cable of a chain that passes decoders in places that are not dry.
fn data_cable(view: &View<'_>, chain: &Chain) -> Option<Finding> {
    let devices = chain.devices.iter();
    let places = devices.filter_map(|device| {
        let decoder = view.decoder(device.decoder.as_ref()?)?;
        Some(view.place(&decoder.place)?.environment)
    });
    let place = places.max().filter(|place| *place != Environment::Dry)?;
    let about = Subject::Chain(chain.id.clone());
    let finding = JACKET.not_evaluated(&DATA_NOT_STATED, about);
    Some(finding.fact("place", Value::name(place.word())))
}

/// The worse of the surroundings of its ends.
fn surroundings(view: &View<'_>, cable: &Cable) -> Environment {
    let at = |end: &Terminals| match end {
        Terminals::Supply { supply, .. } => {
            let supply = view.supply(supply)?;
            Some(view.place(&supply.place)?.environment)
        }
        Terminals::DecoderSupply(decoder) | Terminals::Decoder { decoder, .. } => {
            let decoder = view.decoder(decoder)?;
            Some(view.place(&decoder.place)?.environment)
        }
        Terminals::Segment { segment, .. } => {
            let segment = view.segment(segment)?;
            Some(view.run(&segment.run)?.environment)
        }
        Terminals::Nothing => None,
    };
    let ends = [at(&cable.from), at(&cable.to)];
    ends.into_iter().flatten().max().unwrap_or_default()
}

answers!(DEVICE: "the device", "its place", "the device", "take a device with that code, or an enclosure, and state the surroundings inside it", "state the ingress code that the place needs, and that of the device; or the surroundings inside its enclosure");

pub(super) static HOUSING: Rule = Rule {
    id: "device-ingress",
    title: "Devices against dust and water",
    asks: "Is each supply and decoder protected as its place requires?",
    source: JOB,
    needs: &["ingress code of the place", "ingress code of the device"],
    cases: &DEVICE.cases(),
};

pub(super) fn housings(view: &View<'_>) -> Vec<Finding> {
    let supplies = view.design.supplies.iter().filter_map(|supply| {
        let has = view.supply_kind(&supply.id)?.ingress;
        Some((Subject::Supply(supply.id.clone()), &supply.place, has))
    });
    let decoders = view.design.decoders.iter().filter_map(|decoder| {
        let has = view.decoder_kind(&decoder.id)?.ingress;
        Some((Subject::Decoder(decoder.id.clone()), &decoder.place, has))
    });
    supplies
        .chain(decoders)
        .filter_map(|(about, at, has)| {
            let at = view.place(at)?;
            DEVICE.judge(&HOUSING, about, at.environment, at.ingress, has)
        })
        .collect()
}
