//! A tape as plain data: one common rail, a return rail for each emitter, cells across.

use super::spec::{LawId, NodeId};
use crate::quantity::{ElectricalResistance, ohms};

/// Most emitters of a tape.
pub const MOST_EMITTERS: usize = 6;

/// Which side the emitters share.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, serde::Serialize, serde::Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Polarity {
    /// The common rail is the plus side (low-side switching): nearly all tape.
    #[default]
    CommonPlus,
    /// The common rail is the minus side.
    CommonMinus,
}

/// A figure along a tape: the same everywhere, or one for each place.
#[derive(Debug, Clone, PartialEq)]
pub enum Along<T> {
    /// The same everywhere.
    Uniform(T),
    /// One for each place, in order of the cells.
    Each(Vec<T>),
}

impl<T: Copy> Along<T> {
    /// The figure of a place; none beyond the end of a list.
    #[must_use]
    pub fn get(&self, place: usize) -> Option<T> {
        match self {
            Self::Uniform(value) => Some(*value),
            Self::Each(values) => values.get(place).copied(),
        }
    }
}

/// Where a rail of a tape meets the wiring.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Attachment {
    /// Cell, counted from 0, at whose pad the rail is attached.
    pub cell: usize,
    /// Node of the wiring.
    pub node: NodeId,
    /// Resistance of the joint or lead-in between node and pad; may be zero.
    pub resistance: ElectricalResistance,
}

impl Attachment {
    /// A joint without resistance.
    #[must_use]
    pub fn at(cell: usize, node: NodeId) -> Self {
        Self {
            cell,
            node,
            resistance: ohms(0.0),
        }
    }

    /// A joint, lead-in or half link of `resistance`.
    #[must_use]
    pub fn through(cell: usize, node: NodeId, resistance: ElectricalResistance) -> Self {
        Self {
            cell,
            node,
            resistance,
        }
    }
}

/// A copper track along the tape.
#[derive(Debug, Clone, PartialEq)]
pub struct RailSpec {
    /// Resistance from each cell to the next: `cells − 1` of them. A splice, clip or corner jumper is
    /// part of its link; an infinite one is a broken track.
    pub links: Along<ElectricalResistance>,
    /// Where the wiring meets it; any number.
    pub attachments: Vec<Attachment>,
}

impl RailSpec {
    /// A rail with a resistance of its own for each link, in order of the cells.
    #[must_use]
    pub fn each(links: &[ElectricalResistance], attachments: Vec<Attachment>) -> Self {
        Self {
            links: Along::Each(links.to_vec()),
            attachments,
        }
    }

    /// A rail with equal links.
    #[must_use]
    pub fn uniform(link: ElectricalResistance, attachments: Vec<Attachment>) -> Self {
        Self {
            links: Along::Uniform(link),
            attachments,
        }
    }
}

/// One emitter of a tape: its cells and its return rail.
#[derive(Debug, Clone, PartialEq)]
pub struct EmitterSpec {
    /// Name, unique within the tape.
    pub name: String,
    /// Whether it is on. An unlit emitter's return is open: its rail is left out of the network.
    pub lit: bool,
    /// What each cell draws.
    pub law: LawId,
    /// Cells that differ: a shorted or an open one. No cell twice.
    pub exceptions: Vec<(usize, LawId)>,
    /// Its return rail.
    pub rail: RailSpec,
}

impl EmitterSpec {
    /// An emitter that is on, every cell alike.
    #[must_use]
    pub fn lit(name: impl Into<String>, law: LawId, rail: RailSpec) -> Self {
        Self {
            name: name.into(),
            lit: true,
            law,
            exceptions: Vec::new(),
            rail,
        }
    }
}

/// A tape: cells in a row between one common rail and 1 to 6 return rails.
///
/// ```text
/// node ─[attachment]─●──link──●──link──● … common rail
///                    │        │        │
///                  cell 0   cell 1   cell 2     (one law for each emitter)
///                    │        │        │
/// node ─[attachment]─●──link──●──link──● … return rail of the emitter
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct TapeSpec {
    /// Name, unique among the tapes.
    pub name: String,
    /// Which side is shared.
    pub polarity: Polarity,
    /// Cells, at least 1.
    pub cells: usize,
    /// The common rail.
    pub common: RailSpec,
    /// 1 to 6 emitters.
    pub emitters: Vec<EmitterSpec>,
}

impl TapeSpec {
    /// A tape with every emitter lit and every cell alike: `laws` of the emitters in order, `rail` of
    /// the common (0) and of each emitter's return (from 1).
    ///
    /// ```
    /// use evenrun::network::*;
    /// use evenrun::quantity::*;
    /// // 60 cells of two emitters, fed at the first: 5 mohm from cell to cell on the common, 8 on each return.
    /// let rail = |r: usize| {
    ///     let track = milliohms(if r == 0 { 5.0 } else { 8.0 });
    ///     RailSpec::uniform(track, vec![Attachment::through(0, NodeId(r), track / 2.0)])
    /// };
    /// let tape = TapeSpec::lit("north wall", Polarity::CommonPlus, 60, &[LawId(0), LawId(1)], rail);
    /// assert_eq!(tape.emitters.len(), 2);
    /// ```
    #[must_use]
    pub fn lit(
        name: impl Into<String>,
        polarity: Polarity,
        cells: usize,
        laws: &[LawId],
        rail: impl Fn(usize) -> RailSpec,
    ) -> Self {
        Self {
            name: name.into(),
            polarity,
            cells,
            common: rail(0),
            emitters: laws
                .iter()
                .enumerate()
                .map(|(number, law)| {
                    EmitterSpec::lit(format!("emitter {number}"), *law, rail(number + 1))
                })
                .collect(),
        }
    }
}
