//! Runs, and the profiles they lie in.

use super::fixed::{FixedFeedSpec, FixedSegmentSpec};
use crate::device::{Environment, IngressCode};
use crate::exact::ExactLength;
use crate::layout::spec::{LayoutSpec, RouteSpec};
use crate::quantity::ThermodynamicTemperature;

/// A run as drawn, where it is and how it may be wired.
#[derive(Debug, Clone, PartialEq)]
pub struct RunSpec {
    /// Name.
    pub name: String,
    /// Zone it dims with.
    pub zone: String,
    /// Room.
    pub room: String,
    /// Reference of the drawing; may be empty.
    pub drawing: String,
    /// Its path and what may be done to it.
    pub layout: LayoutSpec,
    /// Ways of feeders from places to points of the run; at least one.
    pub routes: Vec<RouteSpec>,
    /// Segments that stay as they are.
    pub fixed_segments: Vec<FixedSegmentSpec>,
    /// Feeds that stay as they are.
    pub fixed_feeds: Vec<FixedFeedSpec>,
    /// Added to every route of this run.
    pub slack: ExactLength,
    /// Cables its feeders may be made of; empty: as its zone says.
    pub cables: Vec<String>,
    /// Surroundings.
    pub environment: Environment,
    /// Ambient at the tape.
    pub ambient: ThermodynamicTemperature,
    /// Ingress code that is needed here, where one is stated.
    pub ingress: Option<IngressCode>,
    /// Profile it lies in; none: bare.
    pub profile: Option<String>,
    /// Runs with the same word here are seen at one glance and are cut from one batch.
    pub sight_line: Option<String>,
}

/// An aluminium profile and its cover.
#[derive(Debug, Clone, PartialEq)]
pub struct ProfileSpec {
    /// Name.
    pub name: String,
    /// Lengths of the bars as sold, with their prices.
    pub bars: Vec<StockLength>,
    /// Lost to each cut of the saw.
    pub kerf: ExactLength,
    /// Width, where it is mitred at corners; none: cut square.
    pub width: Option<ExactLength>,
    /// Whether its metal is connected to earth, by its fixings or a bonding conductor; none: not stated.
    pub earthed: Option<bool>,
    /// Offcuts of profile and cover from this length on are kept for later work; none: none is.
    pub keep_from: Option<ExactLength>,
    /// Cover, where it has one.
    pub cover: Option<CoverSpec>,
}

/// The cover of a profile.
#[derive(Debug, Clone, PartialEq)]
pub struct CoverSpec {
    /// What it is, in words.
    pub description: String,
    /// Lengths as sold, with their prices.
    pub bars: Vec<StockLength>,
    /// Lost to each cut.
    pub kerf: ExactLength,
}

/// A length as sold.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct StockLength {
    /// The length.
    pub length: ExactLength,
    /// Price of one in minor units of the currency, where it is stated.
    pub price: Option<u64>,
}
