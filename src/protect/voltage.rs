//! Voltage limits by waveform and place: dry, wet, interrupted dc; low-voltage lighting; touchable parts.

use super::tables::{extra_low_voltage, voltage_conditions};
use crate::finding::plain::Finding;
use crate::quantity::{ElectricCurrent, ElectricPotential, Frequency, show};
use crate::source::Source;

/// Lowest frequency of interruption that has a limit of its own.
pub const INTERRUPTED_FROM_HZ: f64 = 10.0;
/// Highest such frequency.
pub const INTERRUPTED_TO_HZ: f64 = 200.0;

fn condition(words: &str) -> f64 {
    voltage_conditions::ROWS
        .iter()
        .find(|row| row.condition == words)
        .map_or(0.0, |row| row.max_v)
}

/// Highest dc voltage of a Class 2 circuit for a place and waveform, with the words for it.
///
/// Continuous dc: 60 V dry, 30 V where wet contact is likely. Interrupted at 10 Hz
/// to 200 Hz: 24.8 V and 12.4 V, peak.
///
/// # Source
/// National Electrical Code, NFPA 70-2017, chapter 9, table 11(B) and note 4.
#[must_use]
pub fn class_2_voltage(wet: bool, chopped: Option<Frequency>) -> (f64, &'static str) {
    let slow =
        chopped.is_some_and(|f| (INTERRUPTED_FROM_HZ..=INTERRUPTED_TO_HZ).contains(&f.value));
    let words = match (slow, wet) {
        (false, false) => "continuous dc, dry indoor",
        (false, true) => "continuous dc, wet contact likely (not immersion)",
        (true, false) => "dc interrupted at 10 to 200 Hz, dry",
        (true, true) => "dc interrupted at 10 to 200 Hz, wet contact likely",
    };
    (condition(words), words)
}

/// Judges the highest voltage of a Class 2 circuit. Finding `class-2-voltage`.
#[must_use]
pub fn judge_class_2_voltage(
    place: &str,
    highest: ElectricPotential,
    wet: bool,
    chopped: Option<Frequency>,
) -> Finding {
    let (limit, words) = class_2_voltage(wet, chopped);
    Finding::judged_at_most("class-2-voltage", place, highest.value, limit)
        .says(format!("highest voltage {} against {limit} V for {words}", show(highest)))
        .figure(show(highest))
        .limit(format!("{limit} V"))
        .source(voltage_conditions::SOURCE)
        .remedy("lower the voltage or its trim, chop above 200 Hz, or keep the circuit out of reach of wet contact")
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

impl LowVoltageLighting {
    /// Judges voltage (`lighting-411-voltage`), output (`lighting-411-output`) and branch circuit (`lighting-411-branch`).
    #[must_use]
    pub fn judge(&self, place: &str) -> Vec<Finding> {
        let words = if self.wet {
            "Article 411 low-voltage lighting, wet contact likely"
        } else {
            "Article 411 low-voltage lighting, dry"
        };
        let volts = condition(words);
        let (output, branch) = (25.0, 20.0);
        let source = || voltage_conditions::ARTICLE_411;
        vec![
            Finding::judged_at_most("lighting-411-voltage", place, self.highest.value, volts)
                .says(format!(
                    "highest voltage {} against {volts} V",
                    show(self.highest)
                ))
                .figure(show(self.highest))
                .limit(format!("{volts} V"))
                .source(source())
                .remedy("lower the voltage or its trim"),
            Finding::judged_at_most("lighting-411-output", place, self.output.value, output)
                .says(format!(
                    "output circuit of {} against {output} A",
                    show(self.output)
                ))
                .figure(show(self.output))
                .limit(format!("{output} A"))
                .source(source())
                .remedy("divide the output into circuits of 25 A at most"),
            match self.branch {
                Some(rating) => {
                    Finding::judged_at_most("lighting-411-branch", place, rating.value, branch)
                        .says(format!(
                            "branch circuit of {} against {branch} A",
                            show(rating)
                        ))
                        .figure(show(rating))
                        .limit(format!("{branch} A"))
                        .source(source())
                        .remedy("feed the supply from a branch circuit of 20 A at most")
                }
                None => Finding::not_evaluated(
                    "lighting-411-branch",
                    place,
                    "the branch circuit that feeds the supply is not stated",
                )
                .limit(format!("{branch} A"))
                .source(source()),
            },
        ]
    }
}

fn extra_low(term: &str) -> (f64, Source) {
    let row = extra_low_voltage::ROWS.iter().find(|row| row.term == term);
    let source = if term.starts_with("bare live") {
        extra_low_voltage::LUMINAIRE
    } else {
        extra_low_voltage::SELV
    };
    (row.and_then(|row| row.dc_v).unwrap_or(0.0), source)
}

/// Judges an extra-low-voltage circuit against the upper limit of SELV and PELV (`elv-limit`) and, for parts
/// that can be touched, against the limit of bare parts of class III luminaires (`elv-touchable`).
///
/// Both hold for ripple-free dc. For chopped dc IEC 61347-1:2024 brings in lower
/// limits whose numbers were not seen: the second answer is then `not evaluated`.
#[must_use]
pub fn judge_extra_low_voltage(
    place: &str,
    highest: ElectricPotential,
    wet: bool,
    chopped: bool,
) -> Vec<Finding> {
    let (upper, source) = extra_low("SELV system upper limit (band I)");
    let whole = Finding::judged_at_most("elv-limit", place, highest.value, upper)
        .says(format!(
            "highest voltage {} against {upper} V ripple-free dc",
            show(highest)
        ))
        .figure(show(highest))
        .limit(format!("{upper} V"))
        .source(source)
        .remedy("lower the voltage");
    let (bare, source) = extra_low(if wet {
        "bare live parts in a class III luminaire, other than ordinary"
    } else {
        "bare live parts in a class III luminaire, ordinary, under load"
    });
    let touchable = if chopped {
        Finding::not_evaluated(
            "elv-touchable",
            place,
            "the limit holds for ripple-free dc and the circuit is chopped; IEC 61347-1:2024 sets lower ones, not at hand",
        )
    } else {
        Finding::judged_at_most("elv-touchable", place, highest.value, bare)
            .says(format!(
                "highest voltage {} against {bare} V for bare parts",
                show(highest)
            ))
            .remedy("cover or insulate the parts, or lower the voltage")
    };
    vec![
        whole,
        touchable
            .figure(show(highest))
            .limit(format!("{bare} V"))
            .source(source),
    ]
}
