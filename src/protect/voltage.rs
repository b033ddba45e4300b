//! Voltage limits by waveform and place: dry, wet, interrupted dc; low-voltage lighting; touchable parts.

use super::tables::{extra_low_voltage, voltage_conditions};
use crate::finding::{Case, Finding, Limit, Rule, Subject};
use crate::quantity::{ElectricCurrent, ElectricPotential, Frequency, amps, volts};

/// Lowest frequency of interruption that has a limit of its own.
pub const INTERRUPTED_FROM_HZ: f64 = 10.0;
/// Highest such frequency.
pub const INTERRUPTED_TO_HZ: f64 = 200.0;

fn condition(words: &str) -> ElectricPotential {
    let row = voltage_conditions::ROWS
        .iter()
        .find(|row| row.condition == words);
    volts(row.map_or(0.0, |row| row.max_v))
}

const LOWER_OR_CHOP: &str = "lower the voltage or its trim, chop above 200 Hz, or keep the circuit out of reach of wet contact";

/// A condition of the table and the answer under it.
macro_rules! under {
    ($key:literal, $condition:literal) => {
        (
            $condition,
            Case::judged(
                $key,
                concat!("highest voltage {figure} against {limit} for ", $condition),
            )
            .remedy(LOWER_OR_CHOP),
        )
    };
}
const DRY: (&str, Case) = under!("dry", "continuous dc, dry indoor");
const WET: (&str, Case) = under!("wet", "continuous dc, wet contact likely (not immersion)");
const SLOW_DRY: (&str, Case) = under!("interrupted-dry", "dc interrupted at 10 to 200 Hz, dry");
const SLOW_WET: (&str, Case) = under!(
    "interrupted-wet",
    "dc interrupted at 10 to 200 Hz, wet contact likely"
);

/// Highest voltage of a Class 2 circuit.
pub(super) const CLASS_2: Rule = Rule {
    id: "class-2-voltage",
    title: "Voltage of a Class 2 circuit",
    asks: "Is the highest voltage of each Class 2 output within the limit for the place and the waveform of what it feeds?",
    source: voltage_conditions::SOURCE,
    needs: &["the energy class on the label"],
    cases: &[&DRY.1, &WET.1, &SLOW_DRY.1, &SLOW_WET.1],
};

fn class_2_condition(wet: bool, chopped: Option<Frequency>) -> &'static (&'static str, Case) {
    let slow =
        chopped.is_some_and(|f| (INTERRUPTED_FROM_HZ..=INTERRUPTED_TO_HZ).contains(&f.value));
    match (slow, wet) {
        (false, false) => &DRY,
        (false, true) => &WET,
        (true, false) => &SLOW_DRY,
        (true, true) => &SLOW_WET,
    }
}

/// Highest dc voltage of a Class 2 circuit for a place and waveform, with the words for it.
///
/// Continuous dc: 60 V dry, 30 V where wet contact is likely. Interrupted at 10 Hz
/// to 200 Hz: 24.8 V and 12.4 V, peak.
///
/// # Source
/// National Electrical Code, NFPA 70-2023, chapter 9, table 11(B) and note 4 (figures of 2017).
#[must_use]
pub fn class_2_voltage(wet: bool, chopped: Option<Frequency>) -> (ElectricPotential, &'static str) {
    let (words, _) = class_2_condition(wet, chopped);
    (condition(words), words)
}

/// Judges the highest voltage of a Class 2 circuit. Finding `class-2-voltage`.
#[must_use]
pub fn judge_class_2_voltage(
    about: impl Into<Subject>,
    highest: ElectricPotential,
    wet: bool,
    chopped: Option<Frequency>,
) -> Finding {
    let (words, case) = class_2_condition(wet, chopped);
    CLASS_2.at_most(case, about.into(), highest, condition(words))
}

/// A low-voltage lighting system by article 411 of the US code.
#[derive(Debug, Clone, PartialEq)]
pub struct LowVoltageLighting {
    /// Highest output voltage.
    pub highest: ElectricPotential,
    /// Whether wet contact is likely.
    pub wet: bool,
    /// Rating of the output circuit.
    pub output: ElectricCurrent,
    /// Rating of the branch circuit that feeds the supply, where known.
    pub branch: Option<ElectricCurrent>,
}

/// Greatest rating of an output circuit by article 411, A.
const OUTPUT_CIRCUIT_AMPS: f64 = 25.0;
/// Greatest rating of the branch circuit by article 411, A.
const BRANCH_CIRCUIT_AMPS: f64 = 20.0;

const LIGHTING_VOLTAGE_JUDGED: Case =
    Case::judged("voltage", "highest voltage {figure} against {limit}")
        .remedy("lower the voltage or its trim");

/// Voltage of low-voltage lighting.
pub const LIGHTING_VOLTAGE: Rule = Rule {
    id: "lighting-411-voltage",
    title: "Voltage of low-voltage lighting",
    asks: "Is the highest voltage within the limit of article 411 for the place?",
    source: voltage_conditions::ARTICLE_411,
    needs: &[],
    cases: &[&LIGHTING_VOLTAGE_JUDGED],
};

const LIGHTING_OUTPUT_JUDGED: Case =
    Case::judged("rating", "output circuit of {figure} against {limit}")
        .remedy("divide the output into circuits of 25 A at most");

/// Output circuit of low-voltage lighting.
pub const LIGHTING_OUTPUT: Rule = Rule {
    id: "lighting-411-output",
    title: "Output circuit of low-voltage lighting",
    asks: "Is the rating of the output circuit within the limit of article 411?",
    source: voltage_conditions::ARTICLE_411,
    needs: &[],
    cases: &[&LIGHTING_OUTPUT_JUDGED],
};

const LIGHTING_BRANCH_JUDGED: Case =
    Case::judged("rating", "branch circuit of {figure} against {limit}")
        .remedy("feed the supply from a branch circuit of 20 A at most");
const BRANCH_NOT_STATED: Case = Case::open(
    "not-stated",
    "",
    "the branch circuit that feeds the supply is not stated",
)
.limit("{limit}");

/// Branch circuit that feeds low-voltage lighting.
pub const LIGHTING_BRANCH: Rule = Rule {
    id: "lighting-411-branch",
    title: "Branch circuit of low-voltage lighting",
    asks: "Is the rating of the branch circuit that feeds the supply within the limit of article 411?",
    source: voltage_conditions::ARTICLE_411,
    needs: &["the rating of the branch circuit that feeds the supply"],
    cases: &[&LIGHTING_BRANCH_JUDGED, &BRANCH_NOT_STATED],
};

impl LowVoltageLighting {
    /// A dry system whose branch circuit is not known.
    #[must_use]
    pub fn dry(highest: ElectricPotential, output: ElectricCurrent) -> Self {
        Self {
            highest,
            wet: false,
            output,
            branch: None,
        }
    }

    /// Judges voltage (`lighting-411-voltage`), output (`lighting-411-output`) and branch circuit (`lighting-411-branch`).
    #[must_use]
    pub fn judge(&self, about: impl Into<Subject>) -> Vec<Finding> {
        let about = about.into();
        vec![
            self.voltage(about.clone()),
            self.output_circuit(about.clone()),
            self.branch_circuit(about),
        ]
    }

    fn voltage(&self, about: Subject) -> Finding {
        let limit = condition(if self.wet {
            "Article 411 low-voltage lighting, wet contact likely"
        } else {
            "Article 411 low-voltage lighting, dry"
        });
        LIGHTING_VOLTAGE.at_most(&LIGHTING_VOLTAGE_JUDGED, about, self.highest, limit)
    }

    fn output_circuit(&self, about: Subject) -> Finding {
        let limit = amps(OUTPUT_CIRCUIT_AMPS);
        LIGHTING_OUTPUT.at_most(&LIGHTING_OUTPUT_JUDGED, about, self.output, limit)
    }

    fn branch_circuit(&self, about: Subject) -> Finding {
        let limit = amps(BRANCH_CIRCUIT_AMPS);
        match self.branch {
            Some(rating) => LIGHTING_BRANCH.at_most(&LIGHTING_BRANCH_JUDGED, about, rating, limit),
            None => LIGHTING_BRANCH
                .not_evaluated(&BRANCH_NOT_STATED, about)
                .limit(Limit::AtMost(limit.into())),
        }
    }
}

fn extra_low(term: &str) -> ElectricPotential {
    let row = extra_low_voltage::ROWS.iter().find(|row| row.term == term);
    volts(row.and_then(|row| row.dc_v).unwrap_or(0.0))
}

const EXTRA_LOW_JUDGED: Case = Case::judged(
    "voltage",
    "highest voltage {figure} against {limit} ripple-free dc",
)
.remedy("lower the voltage");

/// Upper limit of extra-low voltage.
pub const EXTRA_LOW: Rule = Rule {
    id: "elv-limit",
    title: "Extra-low voltage",
    asks: "Is the highest voltage within the upper limit of SELV and PELV?",
    source: extra_low_voltage::SELV,
    needs: &[],
    cases: &[&EXTRA_LOW_JUDGED],
};

const TOUCHABLE_JUDGED: Case = Case::judged(
    "voltage",
    "highest voltage {figure} against {limit} for bare parts",
)
.remedy("cover or insulate the parts, or lower the voltage");
const TOUCHABLE_CLOSED: Case = Case::open(
    "closed",
    "highest voltage {figure} against {limit} for bare parts",
    "the tape is closed as delivered; whether every cut end, solder pad and connector is insulated again is not stated",
)
.figure("{figure}")
.limit("{limit}")
.remedy("leave no live part bare here, or lower the voltage");
const TOUCHABLE_NOT_STATED: Case = Case::open(
    "not-stated",
    "highest voltage {figure} against {limit} for bare parts",
    "whether live parts of the tape can be touched is not stated: it has no ingress code",
)
.figure("{figure}")
.limit("{limit}")
.remedy("leave no live part bare here, or lower the voltage; state the code of the strip");
const TOUCHABLE_CHOPPED: Case = Case::open(
    "chopped",
    "",
    "the limit holds for ripple-free dc and the circuit is chopped; IEC 61347-1:2024 sets lower ones, which this library does not hold",
)
.figure("{figure}")
.limit("{limit}");

/// Parts that can be touched.
pub const TOUCHABLE: Rule = Rule {
    id: "elv-touchable",
    title: "Voltage of parts that can be touched",
    asks: "Is the highest voltage within the limit of bare parts of class III luminaires for the place?",
    source: extra_low_voltage::LUMINAIRE,
    needs: &["a circuit that is not chopped", "ingress code of the strip"],
    cases: &[
        &TOUCHABLE_JUDGED,
        &TOUCHABLE_CLOSED,
        &TOUCHABLE_NOT_STATED,
        &TOUCHABLE_CHOPPED,
    ],
};

/// Whether live parts of a tape lie bare.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum LiveParts {
    /// They can be touched, or water reaches them.
    Bare,
    /// They are closed as delivered; what is cut and soldered is not.
    Closed,
    /// Not known.
    Unknown,
}

/// Judges an extra-low-voltage circuit against the upper limit of SELV and PELV (`elv-limit`) and, for parts
/// that can be touched, against the limit of bare parts of class III luminaires (`elv-touchable`).
///
/// Both hold for ripple-free dc. For chopped dc IEC 61347-1:2024 brings in lower limits that this crate does not hold: a
/// chopped circuit within the limit of ripple-free dc is then `not evaluated`, one above it fails as any other.
#[must_use]
pub fn judge_extra_low_voltage(
    about: impl Into<Subject>,
    highest: ElectricPotential,
    wet: bool,
    chopped: bool,
    parts: LiveParts,
) -> Vec<Finding> {
    let about = about.into();
    vec![
        upper_limit(about.clone(), highest),
        touchable(about, highest, wet, chopped, parts),
    ]
}

fn upper_limit(about: Subject, highest: ElectricPotential) -> Finding {
    let upper = extra_low("SELV system upper limit (band I)");
    EXTRA_LOW.at_most(&EXTRA_LOW_JUDGED, about, highest, upper)
}

fn touchable(
    about: Subject,
    highest: ElectricPotential,
    wet: bool,
    chopped: bool,
    parts: LiveParts,
) -> Finding {
    let bare = extra_low(if wet {
        "bare live parts in a class III luminaire, other than ordinary"
    } else {
        "bare live parts in a class III luminaire, ordinary, under load"
    });
    let judged = TOUCHABLE.at_most(&TOUCHABLE_JUDGED, about.clone(), highest, bare);
    let open = match (judged.is_fail(), parts) {
        (true, LiveParts::Bare) => return judged,
        (true, LiveParts::Closed) => &TOUCHABLE_CLOSED,
        (true, LiveParts::Unknown) => &TOUCHABLE_NOT_STATED,
        (false, _) if chopped => &TOUCHABLE_CHOPPED,
        (false, _) => return judged,
    };
    TOUCHABLE
        .not_evaluated(open, about)
        .figure(highest)
        .limit(Limit::AtMost(bare.into()))
}
