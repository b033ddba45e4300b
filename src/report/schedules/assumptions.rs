//! What was taken where the job is silent.

use crate::design::{Assumed, Assumption, Design};
use crate::job::spec::TakenFact;
use crate::report::references::References;
use crate::report::schedule::{Draft, Schedule};
use crate::report::words::listed;

pub(in crate::report) fn assumptions(design: &Design, references: &References<'_>) -> Schedule {
    Draft::<(usize, &Assumption)>::new(
        "assumptions",
        "Assumptions",
        "What was taken where the job is silent. State the value in the job to replace it.",
    )
    .number("number", "No.", |r| r.0)
    .words("assumed", "Assumed", |r| assumed(r.1))
    .words("source", "Source", |r| references.mark(&r.1.source))
    .fill((1..).zip(&design.assumed))
}

/// What was assumed, with its value: `load factor: 80 %`.
fn assumed(assumption: &Assumption) -> String {
    let of = assumption.of.as_ref();
    let fact;
    let what = match assumption.what {
        Assumed::Fact(taken) => {
            let words = taken.words();
            fact = match (taken, of) {
                (_, None) => words.to_string(),
                (TakenFact::OnePlace | TakenFact::OneZone | TakenFact::Universe, Some(name)) => {
                    format!("{words}: {name}")
                }
                (_, Some(of)) => format!("{words} of {of}"),
            };
            if assumption.values.is_empty() {
                return fact;
            }
            if let (TakenFact::Copper, [common, most, returns, most_of_returns]) =
                (taken, assumption.values.as_slice())
            {
                return format!(
                    "{fact}: {common} to {most} a metre of common rail, {returns} to {most_of_returns} a metre of return"
                );
            }
            if let (TakenFact::Strings, [least, most]) = (taken, assumption.values.as_slice()) {
                return format!("{fact}: {least} to {most}");
            }
            fact.as_str()
        }
        Assumed::Limit(key) => key.words(),
        Assumed::Cells => "cell cold, nominal, hot",
        Assumed::Lead => "lead between a supply and a decoder where their place states none",
        Assumed::Diodes => {
            return "diodes: the curve through the one point that a strip states".to_string();
        }
        Assumed::UnpricedDevices => {
            return "supplies and decoders where a type states no price: fewest units, then the least rated size"
                .to_string();
        }
        Assumed::UnpricedCable => {
            return format!(
                "cables without a price: {} minor units a square millimetre of all cores, so that the thinnest that holds is \
                 taken",
                listed(&assumption.values)
            );
        }
    };
    if assumption.values.is_empty() {
        return format!("{what}: none");
    }
    format!("{what}: {}", listed(&assumption.values))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::Figure;
    use crate::job::spec::LimitKey;
    use crate::quantity::{celsius, percent};
    use crate::source::Source;

    #[test]
    fn a_value_stands_behind_what_it_is_of() {
        let told = |what, values: Vec<Figure>| {
            assumed(&Assumption {
                what,
                of: None,
                values,
                source: Source::computed("the test"),
            })
        };
        assert_eq!(
            told(
                Assumed::Limit(LimitKey::LeastCurrent),
                vec![percent(85.0).into()]
            ),
            "least current: 85 %"
        );
        let cells = [15.0, 45.0, 70.0].map(|t| celsius(t).into());
        assert_eq!(
            told(Assumed::Cells, cells.to_vec()),
            "cell cold, nominal, hot: 15 °C, 45 °C, 70 °C"
        );
    }
}
