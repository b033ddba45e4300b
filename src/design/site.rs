//! For those who buy and those who measure.

use super::Corners;
use crate::exact::ExactLength;
use crate::finding::Figure;
use crate::id::{DecoderId, FeedId, PieceId, ProductId, SegmentId, SupplyId};
use crate::job::spec::DataCable;
use crate::network::Polarity;
use crate::quantity::{Amps, Money, Ohms, Share, Volts};
use serde::{Deserialize, Serialize};

/// A line of the order list.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Material {
    /// Item.
    pub item: Item,
    /// Needed: a count, or metres.
    pub needed: Figure,
    /// Spare.
    pub spare: Spare,
    /// How it is sold.
    pub pack: Pack,
    /// Packs to be ordered.
    pub order: u64,
    /// Where it is used.
    pub used: UsedIn,
    /// Price of a pack, where the job states it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub price: Option<Money>,
}

impl Material {
    /// What is ordered costs, where its price is stated.
    #[must_use]
    pub fn sum(&self) -> Option<Money> {
        self.price?.times(self.order)
    }
}

/// An item of the order list.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Item {
    /// Reels of tape.
    Tape(ProductId),
    /// Joints between reels of a tape.
    ReelJoint(ProductId),
    /// Bars of a profile, or lengths of its cover.
    Bar {
        /// Profile.
        profile: ProductId,
        /// Cover, where it is one.
        cover: Option<super::Cover>,
    },
    /// Joints of a profile or cover.
    BarJoint {
        /// Profile.
        profile: ProductId,
        /// Cover, where it is one.
        cover: Option<super::Cover>,
    },
    /// Cable.
    Cable(ProductId),
    /// Supplies.
    Supply(ProductId),
    /// Decoders.
    Decoder(ProductId),
    /// Decoders that the job does not name, and what they must bear; each figure the greatest of all of them, worst case.
    DecoderNotNamed {
        /// Outputs, at least.
        outputs: u32,
        /// Current of one output, at least; none: not solved.
        output_current: Option<Amps>,
        /// Current of all outputs together, at least.
        total_current: Option<Amps>,
        /// Highest voltage of their supplies.
        volts: Option<Volts>,
        /// Which side their outputs have in common.
        polarity: Polarity,
    },
    /// Terminators.
    Terminator(Ohms),
    /// Powered splitters of a data line with at least so many outputs.
    Splitter {
        /// Outputs.
        outputs: u64,
    },
    /// Data cable of the chains.
    DataCable(DataCable),
    /// End caps of a profile.
    ProfileEnd {
        /// Profile.
        profile: ProductId,
        /// Whether a lead leaves through it.
        exit: bool,
    },
    /// End caps that close cut ends of a tape.
    TapeEnd(ProductId),
}

/// What is added to what is needed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Spare {
    /// Nothing.
    None,
    /// Slack is in the length already.
    SlackIncluded,
    /// One of a kind.
    One,
    /// None of a kind of which so few are used.
    Few,
    /// A share of it: what usable offcuts do not hold, in whole packs.
    OfPacks {
        /// Share.
        share: Share,
        /// Packs.
        packs: u64,
    },
}

/// How an item is sold.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Pack {
    /// One by one.
    One,
    /// By the metre.
    Metre,
    /// A reel of this length.
    Reel(ExactLength),
    /// A bar of this length.
    Bar(ExactLength),
}

/// Where an item is used.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum UsedIn {
    /// In runs.
    Runs,
    /// As feeders, leads and jumpers.
    Cables,
    /// As supplies.
    Supplies,
    /// As decoders.
    Decoders,
    /// On chains.
    Chains,
    /// As bars, of which offcuts are kept, in all.
    Bars {
        /// Offcuts kept.
        kept: ExactLength,
    },
    /// At ends of runs, of gaps and of pieces.
    Ends,
    /// In these pieces.
    Pieces(Vec<PieceId>),
}

/// A reading to expect on site: every emitter on the output at full, 10 minutes warm.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Reading {
    /// Where to probe.
    pub at: Probe,
    /// Predicted, with the band in which any build within the tolerances lies.
    pub volts: Option<Corners<Volts>>,
    /// The same.
    pub amps: Option<Corners<Amps>>,
}

/// Where to probe.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Probe {
    /// The plus lead of an output of a supply.
    Output {
        /// Supply.
        supply: SupplyId,
        /// Output, from 1.
        output: u64,
    },
    /// The supply terminals of a decoder.
    Decoder(DecoderId),
    /// A feed at the tape, plus to the weakest return.
    Feed {
        /// Feed.
        feed: FeedId,
        /// Segment.
        segment: SegmentId,
    },
}
