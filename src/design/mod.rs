//! The plan of a job as data: what is cut, fed, wired, supplied, controlled, bought and measured, and what the
//! rules say about it.
//!
//! ```text
//!  Run ─┬─ Segment ─┬─ Feed ── Cable (feeder) ── Decoder ── Cable (lead) ── Supply, output
//!       └─ Piece    └─ figures of the joint solve                └─ Chain, slots
//! ```
//!
//! Everything upstream ends in a [`Design`]; everything downstream (rules, schedules, JSON, comparison) only reads
//! it. A thing is named by an id of its own type ([`crate::id`]); every quantity carries its unit, also in the file
//! (`{"V": 23.5}`); what was not solved is [`Solved::Not`] with its reason, and what was not asked for is `None`:
//! never NaN, zero or an empty text. Three figures stand beside each other wherever tolerance matters
//! ([`Corners`]): a light minimum comes from the low corner, a current or heat maximum from the high one.
//!
//! Words of the job (titles, names) are [`Name`]s, explanations for people are [`Note`]s: a program needs neither.
//!
//! ```
//! use evenrun::design::Design;
//! # let text = include_str!("../../examples/archive_wing.toml");
//! let job = evenrun::job::read(text, "archive_wing.toml")?;
//! let design = evenrun::plan::plan(&job);
//! let written = design.to_json()?;
//! assert_eq!(Design::from_json(&written)?, design);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod choice;
mod control;
mod file;
mod find;
mod lever;
mod limits;
mod narrowing;
mod power;
mod product;
mod site;
mod tape;

pub use crate::finding::{Conductor, Name, Note};
pub use choice::{
    Alternative, Binding, Choice, Chosen, FeedProblem, LimitKind, Marks, Problem, Proof,
};
pub use control::{
    Address, Chain, ChainDevice, Decoder, DecoderOutput, Ground, Margin, PortSplitter, Slot,
    SlotUse, Universe,
};
#[cfg(feature = "schema")]
pub use file::schema;
pub use file::{FileError, SCHEMA};
pub use lever::{Lever, LeverKind, Weakest};
pub use limits::{Assumed, Assumption, Limits};
pub use narrowing::{Extent, NarrowedTo, Narrowing};
pub use power::{
    Ampacity, Cable, Core, Energy, Fed, Grouping, Load, Output, Place, Protection, RouteKnown,
    Supply, Terminals, Zone,
};
pub use product::{CableKind, DecoderKind, Derating, Emitter, PerBreaker, Strip, SupplyKind};
pub use site::{Item, Material, Pack, Probe, Reading, Spare, UsedIn};
pub use tape::{
    Corner, CornerMade, Cover, EndWork, Feed, FeedConductor, Gap, Joint, Line, Lit, Path, Piece,
    Run, Segment, SegmentFigures, Step, Stock, StockKind, StockPart, VoltsAt,
};

pub use crate::quantity::Corners;

use crate::finding::Finding;
use crate::order::Order as _;
use crate::quantity::Currency;
use crate::source::Source;
use serde::{Deserialize, Serialize};

/// Whether something was solved.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Solved<F> {
    /// The figures.
    Figures(F),
    /// There are none, and why.
    Not(Note),
}

impl<F> Solved<F> {
    /// The figures, where there are any.
    pub fn figures(&self) -> Option<&F> {
        match self {
            Self::Figures(figures) => Some(figures),
            Self::Not(_) => None,
        }
    }
}

/// The whole design of one job.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Design {
    /// Version of this form of data: [`SCHEMA`].
    pub schema: u32,
    /// The job, and with what it was planned.
    pub job: Header,
    /// What must hold.
    pub limits: Limits,
    /// Tapes in use.
    pub strips: Vec<Strip>,
    /// Kinds of cable in use.
    pub cable_kinds: Vec<CableKind>,
    /// Kinds of supply in use.
    pub supply_kinds: Vec<SupplyKind>,
    /// Kinds of decoder in use.
    pub decoder_kinds: Vec<DecoderKind>,
    /// Places for devices.
    pub places: Vec<Place>,
    /// What dims together.
    pub zones: Vec<Zone>,
    /// Runs as drawn and as lit.
    pub runs: Vec<Run>,
    /// Pieces of tape to be cut.
    pub pieces: Vec<Piece>,
    /// Pieces of a run that are electrically on their own.
    pub segments: Vec<Segment>,
    /// Where copper enters the tape.
    pub feeds: Vec<Feed>,
    /// Leads and feeders.
    pub cables: Vec<Cable>,
    /// Supplies.
    pub supplies: Vec<Supply>,
    /// Outputs of supplies that carry something.
    pub outputs: Vec<Output>,
    /// Decoders.
    pub decoders: Vec<Decoder>,
    /// Outputs of decoders in use.
    pub decoder_outputs: Vec<DecoderOutput>,
    /// Universes.
    pub universes: Vec<Universe>,
    /// DMX slots, one by one.
    pub slots: Vec<Slot>,
    /// Chains of the data line.
    pub chains: Vec<Chain>,
    /// Splitters at the ports that several chains begin at.
    #[serde(default)]
    pub splitters: Vec<PortSplitter>,
    /// Bars, lengths of cover and reels, with what is cut from each.
    pub stock: Vec<Stock>,
    /// What to buy.
    pub materials: Vec<Material>,
    /// Readings to expect on site.
    pub readings: Vec<Reading>,
    /// Connected load by zone.
    pub energy: Vec<Energy>,
    /// Conductors and what protects them.
    pub protection: Vec<Protection>,
    /// What was chosen, at what cost, and what was proven about it.
    pub choices: Vec<Choice>,
    /// What was taken where the job is silent.
    pub assumed: Vec<Assumption>,
    /// Which of those would narrow the answer most, were they known, at most three; only where they have two ends and the plan keeps
    /// its limits.
    #[serde(default)]
    pub narrowing: Vec<Narrowing>,
    /// What the rules say, each about one place.
    pub findings: Vec<Finding>,
}

/// The job, and with what it was planned.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Header {
    /// Title of the job.
    pub title: Name,
    /// What the job file says about its data, such as that it is invented.
    pub note: Note,
    /// Currency of its prices.
    pub currency: Currency,
    /// In what the lengths of its runs are written.
    #[serde(default)]
    pub units: LengthUnits,
    /// Hash of the canonical form of the checked input, of the rule set and of the version of this crate: never of
    /// floating-point results.
    pub fingerprint: Fingerprint,
    /// Name of the rule set, with its version.
    pub rule_set: Name,
    /// Version of this crate.
    pub crate_version: Name,
}

pub use crate::job::spec::LengthUnits;

/// A hash in hexadecimal digits.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(transparent)]
pub struct Fingerprint(pub String);

impl Design {
    /// A design with nothing in it yet.
    #[must_use]
    pub fn new(job: Header, limits: Limits) -> Self {
        Self {
            schema: SCHEMA,
            job,
            limits,
            strips: Vec::new(),
            cable_kinds: Vec::new(),
            supply_kinds: Vec::new(),
            decoder_kinds: Vec::new(),
            places: Vec::new(),
            zones: Vec::new(),
            runs: Vec::new(),
            pieces: Vec::new(),
            segments: Vec::new(),
            feeds: Vec::new(),
            cables: Vec::new(),
            supplies: Vec::new(),
            outputs: Vec::new(),
            decoders: Vec::new(),
            decoder_outputs: Vec::new(),
            universes: Vec::new(),
            slots: Vec::new(),
            chains: Vec::new(),
            splitters: Vec::new(),
            stock: Vec::new(),
            materials: Vec::new(),
            readings: Vec::new(),
            energy: Vec::new(),
            protection: Vec::new(),
            choices: Vec::new(),
            assumed: Vec::new(),
            narrowing: Vec::new(),
            findings: Vec::new(),
        }
    }

    /// Every source that a figure or limit rests on, in order of first use.
    #[must_use]
    pub fn sources(&self) -> Vec<&Source> {
        let mut out: Vec<&Source> = Vec::new();
        let ampacities = self.cables.iter().map(|cable| &cable.ampacity.source);
        let mut findings: Vec<&Finding> = self.findings.iter().collect();
        findings.order_by_key(|finding| finding.verdict);
        let findings = findings.into_iter().map(|finding| &finding.source);
        let assumed = self.assumed.iter().map(|assumption| &assumption.source);
        for source in ampacities.chain(findings).chain(assumed) {
            if !out.contains(&source) {
                out.push(source);
            }
        }
        out
    }
}
