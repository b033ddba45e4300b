//! A chain as it is written down, and its check.

use super::super::bias::Bias;
use super::super::connector::Connector;
use super::cable::LineCable;
use super::habits::Habits;
use super::part::Part;
use crate::error::SpecErrors;
use crate::quantity::ElectricalResistance;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use thiserror::Error;

/// The name of the port a chain leaves from.
pub const SOURCE: &str = "source";

/// Most parts of one chain.
const MOST_PARTS: usize = 10_000;
/// Most errors listed.
const MOST_ERRORS: usize = 50;

/// A chain.
///
/// As data it is written like this; what is left out is taken as [`ChainSpec::new`] and [`Part::device`] take it.
///
/// ```
/// use evenrun::dmx::chain::ChainSpec;
/// let text = r#"{
///     "name": "north",
///     "cable": { "kind": "data_pair", "awg": 24 },
///     "parts": [
///         { "name": "D1", "length": "12 m", "kind": { "device": { "unit_loads": "1/4" } } },
///         { "name": "D2", "length": { "m": 8.0 }, "kind": { "device": {} }, "terminator": "120 ohm" }
///     ]
/// }"#;
/// let chain = serde_json::from_str::<ChainSpec>(text)?.check()?;
/// assert_eq!(chain.links()[0].unit_loads(), 1.25);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ChainSpec {
    /// Name.
    pub name: String,
    /// Cable of parts that name no other.
    pub cable: LineCable,
    /// Parts, in any order.
    pub parts: Vec<Part>,
    /// Devices answer on the same pair (ANSI E1.20).
    #[serde(default)]
    pub rdm: bool,
    /// The port carries a terminator of its own.
    #[serde(default, with = "crate::quantity::valued::optional")]
    pub source_terminator: Option<ElectricalResistance>,
    /// The port biases the idle line; none: not stated.
    #[serde(default)]
    pub bias: Option<Bias>,
    /// Connector of the port; none: not stated.
    #[serde(default)]
    pub connector: Option<Connector>,
    /// What is kept to beside the published rules.
    #[serde(default)]
    pub habits: Habits,
}

impl ChainSpec {
    /// A chain without parts.
    #[must_use]
    pub fn new(name: impl Into<String>, cable: LineCable) -> Self {
        Self {
            name: name.into(),
            cable,
            parts: Vec::new(),
            rdm: false,
            source_terminator: None,
            bias: None,
            connector: None,
            habits: Habits::default(),
        }
    }

    /// Adds a part behind the last one (behind the port, if it is the first), unless it says where it comes from.
    pub fn next(&mut self, mut part: Part) {
        if part.from.is_empty() {
            part.from = self
                .parts
                .last()
                .map_or(SOURCE, |part| &part.name)
                .to_string();
        }
        self.parts.push(part);
    }

    /// Puts a terminator on the last part.
    pub fn terminate(&mut self, resistance: ElectricalResistance) {
        if let Some(last) = self.parts.last_mut() {
            last.terminator = Some(resistance);
        }
    }

    /// Checks names and numbers. A part that names nothing before it comes behind the one before it in the list.
    /// A ring is an error here, because a ring has no far end.
    ///
    /// # Errors
    /// Every [`ChainError`] found, at most 50.
    pub fn check(mut self) -> Result<Chain, SpecErrors<ChainError>> {
        let mut errors = Vec::new();
        let mut before = SOURCE;
        for part in &mut self.parts {
            if part.from.is_empty() {
                part.from = before.to_string();
            }
            before = &part.name;
        }
        if self.parts.is_empty() || self.parts.len() > MOST_PARTS {
            let found = self.parts.len();
            return Err(ChainError::Count { found }.into());
        }
        if !self.cable.is_sound() {
            errors.push(ChainError::Cable {
                place: self.name.clone(),
            });
        }
        check_terminator(&mut errors, SOURCE, self.source_terminator);
        if let Some(bias) = self.bias {
            let (supply, resistor) = (bias.supply.value, bias.resistor.value);
            if !((0.1..=100.0).contains(&supply) && (1.0..=1e6).contains(&resistor)) {
                errors.push(ChainError::Bias { supply, resistor });
            }
        }
        let mut index = BTreeMap::new();
        for (at, part) in self.parts.iter().enumerate() {
            if part.name.is_empty()
                || part.name == SOURCE
                || index.insert(part.name.as_str(), at).is_some()
            {
                errors.push(ChainError::Name {
                    name: crate::quantity::shorten(&part.name),
                });
            }
        }
        let mut parents = Vec::with_capacity(self.parts.len());
        for part in &self.parts {
            let parent = index.get(part.from.as_str()).copied();
            if parent.is_none() && part.from != SOURCE {
                errors.push(ChainError::From {
                    name: part.name.clone(),
                    from: crate::quantity::shorten(&part.from),
                });
            }
            parents.push(parent);
            if !(part.length.value >= 0.0 && part.length.value <= 10_000.0) {
                errors.push(ChainError::Length {
                    name: part.name.clone(),
                    found: part.length.value,
                });
            }
            if part.cable.is_some_and(|cable| !cable.is_sound()) {
                errors.push(ChainError::Cable {
                    place: part.name.clone(),
                });
            }
            check_terminator(&mut errors, &part.name, part.terminator);
        }
        let order = order_of(&parents);
        if order.len() < parents.len() && errors.is_empty() {
            let mut reached = vec![false; parents.len()];
            for &at in &order {
                if let Some(reached) = reached.get_mut(at) {
                    *reached = true;
                }
            }
            let names = self
                .parts
                .iter()
                .zip(&reached)
                .filter(|(_, reached)| !**reached);
            let names: Vec<&str> = names.map(|(part, _)| part.name.as_str()).take(5).collect();
            errors.push(ChainError::Ring {
                names: names.join(", "),
            });
        }
        errors.truncate(MOST_ERRORS);
        if errors.is_empty() {
            Ok(Chain {
                spec: self,
                parents,
                order,
            })
        } else {
            Err(SpecErrors(errors))
        }
    }
}

fn check_terminator(
    errors: &mut Vec<ChainError>,
    place: &str,
    found: Option<ElectricalResistance>,
) {
    if let Some(found) = found
        && !(found.value >= 1.0 && found.value <= 1e6)
    {
        errors.push(ChainError::Terminator {
            place: place.to_string(),
            found: found.value,
        });
    }
}

/// Parts from the port outward; shorter than the parts where some hang in a ring.
fn order_of(parents: &[Option<usize>]) -> Vec<usize> {
    let mut children = vec![Vec::new(); parents.len()];
    let mut order = Vec::with_capacity(parents.len());
    for (at, parent) in parents.iter().enumerate() {
        match parent {
            None => order.push(at),
            Some(parent) => {
                if let Some(list) = children.get_mut(*parent) {
                    list.push(at);
                }
            }
        }
    }
    let mut next = 0;
    while let Some(&at) = order.get(next) {
        if let Some(list) = children.get(at) {
            order.extend(list);
        }
        next += 1;
    }
    order
}

/// What is wrong with a chain as written.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum ChainError {
    /// No parts, or too many.
    #[error("{found} parts in a chain; write 1 to 10000")]
    Count {
        /// How many.
        found: usize,
    },
    /// An empty name, a name used twice, or the name of the port.
    #[error("part name `{name}` is empty, taken, or `source`; give each part a name of its own")]
    Name {
        /// The name.
        name: String,
    },
    /// A cable from nowhere.
    #[error(
        "the cable into `{name}` comes from `{from}`, which is not a part; name a part or `source`"
    )]
    From {
        /// The part.
        name: String,
        /// Where its cable should come from.
        from: String,
    },
    /// A length out of range.
    #[error("the cable into `{name}` is {found} m long; write 0 to 10000 m")]
    Length {
        /// The part.
        name: String,
        /// The length, m.
        found: f64,
    },
    /// A terminator out of range.
    #[error("the terminator at `{place}` is {found} ohm; write 1 to 1000000 ohm")]
    Terminator {
        /// Where.
        place: String,
        /// The resistance, ohm.
        found: f64,
    },
    /// A bias out of range.
    #[error("a bias of {supply} V behind {resistor} ohm; write 0.1 to 100 V and 1 to 1000000 ohm")]
    Bias {
        /// The supply, V.
        supply: f64,
        /// Each resistor, ohm.
        resistor: f64,
    },
    /// Line constants out of range.
    #[error(
        "the cable of `{place}` needs 10 to 1000 ohm, a velocity of 0.1 to 1 and at most 100 ohm/m"
    )]
    Cable {
        /// Where.
        place: String,
    },
    /// Parts that form a ring.
    #[error(
        "`{names}` hang in a ring and not on the source: a data line is a tree, open one cable"
    )]
    Ring {
        /// Some of the parts.
        names: String,
    },
}

/// A chain whose parts hang together as a tree.
#[derive(Debug, Clone, PartialEq)]
pub struct Chain {
    pub(crate) spec: ChainSpec,
    /// Part each cable comes from; none: the port.
    pub(crate) parents: Vec<Option<usize>>,
    /// Parts from the port outward, parents first.
    pub(crate) order: Vec<usize>,
}

impl Chain {
    /// The chain as written.
    #[must_use]
    pub fn spec(&self) -> &ChainSpec {
        &self.spec
    }

    /// The cable into a part.
    pub(crate) fn cable_of(&self, part: usize) -> LineCable {
        let own = self.spec.parts.get(part).and_then(|part| part.cable);
        own.unwrap_or(self.spec.cable)
    }
}
