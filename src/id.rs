//! Names of the things of a plan, a type each: what one is cannot be taken for another.
//!
//! An id says where its thing is and survives planning again as long as the thing itself does: `S1.2` is the
//! second segment of run S1, `F-S1.2a` its first feed. Ids are made in one place, where the thing is; everything
//! else only compares and prints them. In data an id is its text.
//!
//! ```
//! use evenrun::id::{RunId, SegmentId};
//! let run = RunId::new("S1");
//! let segment = SegmentId::of_run(&run, 2);
//! assert_eq!(segment.to_string(), "S1.2");
//! ```

use serde::{Deserialize, Serialize};
use std::fmt;

macro_rules! ids {
    ($($(#[$doc:meta])* $name:ident;)*) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
        #[serde(transparent)]
        pub struct $name(String);

        impl $name {
            /// The id with this text.
            #[must_use]
            pub fn new(text: impl Into<String>) -> Self {
                Self(text.into())
            }

            /// Its text.
            #[must_use]
            pub fn as_str(&self) -> &str {
                &self.0
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.pad(&self.0)
            }
        }

        impl From<&str> for $name {
            fn from(text: &str) -> Self {
                Self::new(text)
            }
        }
    )*};
}

ids! {
    /// A run, by the name that the job gives it.
    RunId;
    /// A segment of a run: `S1.2`.
    SegmentId;
    /// A feed of a segment: `F-S1.2a`.
    FeedId;
    /// A piece of tape to be cut: `S1.2-1`.
    PieceId;
    /// A cable: a feeder has the id of its feed, a lead that of its decoder (`L-C1.3`).
    CableId;
    /// A supply, by its place and its number there: `PS-riser cupboard-1`.
    SupplyId;
    /// A decoder: `D-C1.3`.
    DecoderId;
    /// A chain of the data line, by the name that the job gives it.
    ChainId;
    /// A universe, by the name that the job gives it.
    UniverseId;
    /// A place for devices, by the name that the job gives it.
    PlaceId;
    /// A zone, by the name that the job gives it.
    ZoneId;
    /// A bar, a length of cover or a reel: `P1-03`.
    StockId;
    /// A product of the job's lists: a tape, cable, supply, decoder, profile.
    ProductId;
    /// An emitter of a tape: `red`.
    EmitterId;
    /// A device by its own name: one that is there already, one on a data line.
    DeviceId;
    /// A part of a data line: a device, a splitter, a joint.
    PartId;
    /// A rule: `conductor-load`. Part of the public interface.
    RuleId;
}

impl SegmentId {
    /// The segment of a run with this number, from 1.
    #[must_use]
    pub fn of_run(run: &RunId, number: usize) -> Self {
        Self(format!("{run}.{number}"))
    }
}
