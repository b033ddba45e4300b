//! Connectors of a data line, contact by contact.
//!
//! ```
//! use evenrun::dmx::connector::{Connector, Wire};
//! let plug = Connector::EightPosition;
//! assert_eq!(plug.contact(Wire::Data1Plus), Some(1));
//! let joins = Connector::FivePinXlr.joins(plug);
//! assert!(joins.contains(&(3, 1)) && joins.contains(&(2, 2)) && joins.contains(&(1, 7)));
//! ```
//!
//! The 5-pin XLR or fixed wiring; another connector only under the conditions of ANSI
//! E1.11 clause 7. Contacts of the 8-position connector as in its table 4: of four
//! documents that quote it one has contacts 4 and 6 the other way round; green is 6 by T568B.

use serde::{Deserialize, Serialize};
use std::str::FromStr;
use thiserror::Error;

/// What a contact carries.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Wire {
    /// Data link common, of data 1 where there are two.
    Common1,
    /// Data link common of data 2.
    Common2,
    /// Primary complement.
    Data1Minus,
    /// Primary true.
    Data1Plus,
    /// Secondary complement, optional.
    Data2Minus,
    /// Secondary true, optional.
    Data2Plus,
    /// Nothing of this line.
    Unassigned,
}

impl Wire {
    /// The words printed for it.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Common1 => "data link common",
            Self::Common2 => "data link common for data 2",
            Self::Data1Minus => "data 1-",
            Self::Data1Plus => "data 1+",
            Self::Data2Minus => "data 2-",
            Self::Data2Plus => "data 2+",
            Self::Unassigned => "not assigned",
        }
    }
}

/// One contact.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Contact {
    /// Its number on the connector.
    pub number: u8,
    /// What it carries.
    pub wire: Wire,
    /// Colour of the core by T568B.
    pub colour: Option<&'static str>,
}

/// A kind of connector. As data it is the text that it is read from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Connector {
    /// 5-pin XLR.
    #[serde(rename = "xlr5")]
    FivePinXlr,
    /// 8-position modular connector.
    #[serde(rename = "8-position")]
    EightPosition,
    /// Terminals: fixed wiring.
    Terminals,
    /// Any other connector.
    Other,
}

/// Which end of a cable fits where.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Gender {
    /// Pins.
    Male,
    /// Sockets.
    Female,
}

const fn bare(number: u8, wire: Wire) -> Contact {
    Contact {
        number,
        wire,
        colour: None,
    }
}

const fn core(number: u8, wire: Wire, colour: &'static str) -> Contact {
    Contact {
        number,
        wire,
        colour: Some(colour),
    }
}

const XLR: [Contact; 5] = [
    bare(1, Wire::Common1),
    bare(2, Wire::Data1Minus),
    bare(3, Wire::Data1Plus),
    bare(4, Wire::Data2Minus),
    bare(5, Wire::Data2Plus),
];

/// ANSI E1.11, table 4, as quoted.
const EIGHT: [Contact; 8] = [
    core(1, Wire::Data1Plus, "white/orange"),
    core(2, Wire::Data1Minus, "orange"),
    core(3, Wire::Data2Plus, "white/green"),
    core(4, Wire::Unassigned, "blue"),
    core(5, Wire::Unassigned, "white/blue"),
    core(6, Wire::Data2Minus, "green"),
    core(7, Wire::Common1, "white/brown"),
    core(8, Wire::Common2, "brown"),
];

impl Connector {
    /// The words printed for it.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::FivePinXlr => "5-pin XLR",
            Self::EightPosition => "8-position connector",
            Self::Terminals => "terminals",
            Self::Other => "another connector",
        }
    }

    /// Its contacts; none for terminals, which are marked, and for a connector that is not known.
    #[must_use]
    pub fn contacts(self) -> &'static [Contact] {
        match self {
            Self::FivePinXlr => &XLR,
            Self::EightPosition => &EIGHT,
            Self::Terminals | Self::Other => &[],
        }
    }

    /// The contact that carries a wire.
    #[must_use]
    pub fn contact(self, wire: Wire) -> Option<u8> {
        let contact = self.contacts().iter().find(|contact| contact.wire == wire);
        contact
            .filter(|contact| contact.wire != Wire::Unassigned)
            .map(|contact| contact.number)
    }

    /// Whether it is a plug, and not terminals.
    #[must_use]
    pub fn is_plug(self) -> bool {
        self != Self::Terminals
    }

    /// Contacts that a cable or adapter from this connector to `other` joins: here, there.
    ///
    /// The one common of a 5-pin XLR goes to both commons of an 8-position connector, which are wired even
    /// where data 2 is not used. Empty where one of them has no numbered contacts.
    #[must_use]
    pub fn joins(self, other: Self) -> Vec<(u8, u8)> {
        let mut joins = Vec::new();
        for from in self.contacts() {
            for to in other.contacts() {
                if from.wire.base() == to.wire.base()
                    && from.wire != Wire::Unassigned
                    && (from.wire == to.wire
                        || self.contact(to.wire).is_none()
                        || other.contact(from.wire).is_none())
                {
                    joins.push((from.number, to.number));
                }
            }
        }
        joins
    }

    /// What an equipment's own connector is where data comes in and where it goes on: pins in, sockets out. XLR only.
    #[must_use]
    pub fn equipment(self) -> Option<[Gender; 2]> {
        (self == Self::FivePinXlr).then_some([Gender::Male, Gender::Female])
    }
}

impl Wire {
    /// The same wire, with both commons taken as one.
    fn base(self) -> Self {
        match self {
            Self::Common2 => Self::Common1,
            other => other,
        }
    }
}

/// A text is no connector.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error("`{found}` is not a connector: write \"xlr5\", \"8-position\", \"terminals\" or \"other\"")]
pub struct ConnectorError {
    /// The text.
    pub found: String,
}

impl FromStr for Connector {
    type Err = ConnectorError;

    fn from_str(text: &str) -> Result<Self, ConnectorError> {
        match text {
            "xlr5" => Ok(Self::FivePinXlr),
            "8-position" => Ok(Self::EightPosition),
            "terminals" => Ok(Self::Terminals),
            "other" => Ok(Self::Other),
            _ => Err(ConnectorError {
                found: crate::quantity::shorten(text),
            }),
        }
    }
}
