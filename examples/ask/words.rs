//! The words of a question: `key=value`, each with its unit.

use evenrun::ask::{Copper, TapeFacts};
use evenrun::exact::{CutPitch, ExactLength};
use evenrun::quantity::{Measured, parse, volts};
use evenrun::strip::{Falls, FedFrom};
use std::collections::BTreeMap;

/// What was given, and what was wrong with it. A figure that could not be read stands as zero until [`Words::done`].
pub struct Words {
    given: BTreeMap<String, String>,
    faults: Vec<String>,
}

impl Words {
    pub fn read(words: &[&str]) -> Self {
        let mut given = BTreeMap::new();
        let mut faults = Vec::new();
        for word in words {
            let Some((key, value)) = word.split_once('=') else {
                faults.push(format!(
                    "`{word}` has no key: write `key=value`, as in volts=\"24 V\""
                ));
                continue;
            };
            if given.insert(key.to_string(), value.to_string()).is_some() {
                faults.push(format!("`{key}` stands twice"));
            }
        }
        Self { given, faults }
    }

    /// Every fault, and every key that no question took.
    pub fn done(mut self) -> Result<(), Vec<String>> {
        for key in self.given.keys() {
            self.faults
                .push(format!("`{key}` is no key of this question"));
        }
        if self.faults.is_empty() {
            Ok(())
        } else {
            Err(self.faults)
        }
    }

    fn needed(&mut self, key: &str) -> Option<String> {
        let found = self.given.remove(key);
        if found.is_none() {
            self.faults.push(format!("`{key}` is missing"));
        }
        found
    }

    pub fn quantity<Q: Measured>(&mut self, key: &str) -> Q {
        match self.needed(key) {
            Some(text) => self.parsed(key, &text),
            None => Q::from_si(0.0),
        }
    }

    pub fn quantity_or<Q: Measured>(&mut self, key: &str, usual: Q) -> Q {
        match self.given.remove(key) {
            Some(text) => self.parsed(key, &text),
            None => usual,
        }
    }

    fn parsed<Q: Measured>(&mut self, key: &str, text: &str) -> Q {
        parse(text).unwrap_or_else(|error| {
            self.faults.push(format!("{key}: {error}"));
            Q::from_si(0.0)
        })
    }

    pub fn length(&mut self, key: &str) -> ExactLength {
        let Some(text) = self.needed(key) else {
            return ExactLength::ZERO;
        };
        ExactLength::parse(&text).unwrap_or_else(|error| {
            self.faults.push(format!("{key}: {error}"));
            ExactLength::ZERO
        })
    }

    pub fn count(&mut self, key: &str) -> u64 {
        let Some(text) = self.needed(key) else {
            return 0;
        };
        text.trim().parse().unwrap_or_else(|_| {
            self.faults
                .push(format!("{key}: `{text}` is no whole number"));
            0
        })
    }

    /// One of a few words; the first where it is not given.
    pub fn choice<T: Copy>(&mut self, key: &str, words: &[(&str, T)]) -> T {
        let usual = words[0].1;
        let Some(text) = self.given.remove(key) else {
            return usual;
        };
        match words.iter().find(|(word, _)| *word == text) {
            Some((_, value)) => *value,
            None => {
                let all: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
                self.faults
                    .push(format!("{key}: `{text}` is none of {}", all.join(", ")));
                usual
            }
        }
    }

    pub fn tape(&mut self) -> TapeFacts {
        let rated = self.quantity("volts");
        TapeFacts {
            volts: rated,
            ..self.tape_at_any_voltage()
        }
    }

    pub fn tape_at_any_voltage(&mut self) -> TapeFacts {
        let power = self.quantity("power");
        let cut = match self.needed("cut").map(|text| text.parse::<CutPitch>()) {
            Some(Ok(cut)) => cut,
            other => {
                if let Some(Err(error)) = other {
                    self.faults.push(format!("cut: {error}"));
                }
                return TapeFacts::new(volts(24.0), power, one_millimetre());
            }
        };
        TapeFacts {
            copper: self.copper(),
            ..TapeFacts::new(volts(24.0), power, cut)
        }
    }

    fn copper(&mut self) -> Copper {
        let ways = ["loop", "foil", "longest"];
        let stated: Vec<&str> = ways
            .into_iter()
            .filter(|w| self.given.contains_key(*w))
            .collect();
        match stated.as_slice() {
            [] => Copper::Unknown,
            ["loop"] => Copper::Loop(self.quantity("loop")),
            ["foil"] => Copper::Foil {
                thickness: self.quantity("foil"),
                layers: u32::try_from(self.count("layers")).unwrap_or(u32::MAX),
                width: self.quantity("width"),
            },
            ["longest"] => Copper::LongestRun {
                length: self.length("longest"),
                // What a maker means by it differs fourfold, so neither is taken as usual.
                falls: self.stated("falls", &[("volts", Falls::Volts), ("light", Falls::Light)]),
                fed: self.stated(
                    "from",
                    &[
                        ("one-end", FedFrom::OneEnd),
                        ("both-ends", FedFrom::BothEnds),
                    ],
                ),
                by: self.quantity("by"),
            },
            several => {
                self.faults.push(format!(
                    "the copper is stated by {}: keep one",
                    several.join(" and ")
                ));
                Copper::Unknown
            }
        }
    }

    /// One of a few words, which has to be given.
    fn stated<T: Copy>(&mut self, key: &str, words: &[(&str, T)]) -> T {
        if !self.given.contains_key(key) {
            self.faults.push(format!("`{key}` is missing"));
        }
        self.choice(key, words)
    }
}

/// Stands in for a cut that could not be read.
fn one_millimetre() -> CutPitch {
    CutPitch::new(ExactLength::from_millimetres(1), 1).expect("a millimetre is a pitch")
}
