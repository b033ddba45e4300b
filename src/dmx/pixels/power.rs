//! Where the power of a string of pixels enters.
//!
//! A pixel regulates its current, so what counts is whether every pixel keeps the volts it needs
//! with all of them at full level. The string is a run of one emitter for [`crate::choose::feeding`]: its increments are
//! those at which it may be cut, its load is that of the pixels between two cuts.

use crate::choose::feeding::{
    CandidateWire, CostModel, FeedError, FeedErrors, FeedLimits, Fixed, LitStates, Pattern,
    PlaceRoutes, Positions, RunOutcome, RunProblem, SourceModel,
};
use crate::exact::{CutPitch, ExactLength};
use crate::load::{Load, LoadError, Pixel};
use crate::network::Polarity;
use crate::quantity::{Corners, ElectricPotential, LinearResistance, celsius, ohms};
use crate::strip::{TapeEmitter, TapeModel};
use thiserror::Error;

/// Candidates that are solved in full before the search gives up its proof.
const EFFORT: u64 = 200_000;

/// A string of pixels, what feeds it, and what must hold.
#[derive(Debug, Clone)]
pub struct PixelString {
    /// Name, for messages.
    pub name: String,
    /// Cut increments of the string.
    pub increments: u64,
    /// Distance between permitted cuts.
    pub pitch: CutPitch,
    /// Pixels of one increment.
    pub pixels: u32,
    /// Rated voltage.
    pub rated: ElectricPotential,
    /// One pixel at the level at which the string must hold, with the greatest currents of its sheet:
    /// a regulated pixel does not draw less because copper is hot, so they hold at every corner.
    pub pixel: Pixel,
    /// Plus rail per length: hot at the low corner.
    pub plus: Corners<LinearResistance>,
    /// Minus rail per length.
    pub minus: Corners<LinearResistance>,
    /// Marks at which power may be broken; data and minus then have to be carried on.
    pub breaks: Positions,
    /// Marks at which copper may enter.
    pub feed_points: Positions,
    /// Ways of feeding that are candidates.
    pub patterns: Vec<Pattern>,
    /// Places that feeders come from.
    pub places: Vec<PlaceRoutes>,
    /// Wires of feeders.
    pub wires: Vec<CandidateWire>,
    /// What feeders start from.
    pub source: SourceModel,
    /// What must hold; `least_current` of 1 keeps every pixel at its full current.
    pub limits: FeedLimits,
    /// What things cost.
    pub costs: CostModel,
}

/// Where copper enters.
#[derive(Debug, Clone, PartialEq)]
pub struct InjectionPoint {
    /// Mark, in increments from the start.
    pub mark: u64,
    /// Pixels before it.
    pub after_pixels: u64,
    /// Cable of the feeder, and its route one way.
    pub cable: String,
    /// Route of that cable, one way.
    pub route_length: ExactLength,
}

/// Answer for a string.
#[derive(Debug, Clone, PartialEq)]
pub struct Injection {
    /// Where copper enters, from the start of the string; of the best effort where nothing holds.
    pub points: Vec<InjectionPoint>,
    /// Everything: volts, currents, what was proven, what stands in the way.
    pub outcome: RunOutcome,
}

impl Injection {
    /// Whether every limit holds.
    #[must_use]
    pub fn holds(&self) -> bool {
        matches!(self.outcome, RunOutcome::Planned(_))
    }
}

/// What cannot be fed.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum InjectionError {
    /// The pixel is no load.
    #[error("the pixel of `{name}`: {error}")]
    Pixel {
        /// The string.
        name: String,
        /// Why not.
        error: LoadError,
    },
    /// The run is no problem that can be solved.
    #[error(transparent)]
    Run(#[from] FeedErrors),
    /// The search failed.
    #[error(transparent)]
    Search(#[from] FeedError),
}

impl PixelString {
    /// Finds the cheapest way of feeding the string that keeps every limit.
    ///
    /// # Errors
    /// [`InjectionError`]: a pixel, a run or a limit out of range.
    pub fn inject(&self) -> Result<Injection, InjectionError> {
        let outcome = self.problem()?.check()?.plan()?;
        let plan = match &outcome {
            RunOutcome::Planned(plan) => Some(plan.as_ref()),
            RunOutcome::Infeasible(not) => not.best_effort.as_ref(),
        };
        let feeds = plan
            .iter()
            .flat_map(|plan| &plan.segments)
            .flat_map(|s| &s.feeds);
        let points = feeds
            .map(|feed| InjectionPoint {
                mark: feed.at,
                after_pixels: feed.at * u64::from(self.pixels),
                cable: feed.cable.clone(),
                route_length: feed.route_length,
            })
            .collect();
        Ok(Injection { points, outcome })
    }

    /// The string as a run of the feed room.
    ///
    /// # Errors
    /// [`InjectionError::Pixel`] for a pixel that is no load.
    pub fn problem(&self) -> Result<RunProblem, InjectionError> {
        let many = f64::from(self.pixels);
        let increment = Pixel {
            idle: self.pixel.idle * many,
            regulated: self.pixel.regulated * many,
            ..self.pixel
        };
        let law =
            Load::Pixel(increment)
                .law(celsius(25.0))
                .map_err(|error| InjectionError::Pixel {
                    name: self.name.clone(),
                    error,
                })?;
        let pitch = self.pitch.to_length().value;
        let rail = |of: &Corners<LinearResistance>| of.map(|r| ohms(r.value * pitch));
        Ok(RunProblem {
            run: self.name.clone(),
            tape: TapeModel {
                strip: self.name.clone(),
                pitch: self.pitch,
                rated: self.rated,
                polarity: Polarity::CommonPlus,
                common: rail(&self.plus),
                emitters: vec![TapeEmitter {
                    name: "pixels".to_string(),
                    rail: rail(&self.minus),
                    law: Corners::same(law),
                }],
                branch: None,
            },
            increments: self.increments,
            joints: Vec::new(),
            breaks: self.breaks.clone(),
            feed_points: self.feed_points.clone(),
            reel: None,
            patterns: self.patterns.clone(),
            places: self.places.clone(),
            wires: self.wires.clone(),
            source: self.source.clone(),
            limits: self.limits.clone(),
            states: LitStates::AllAndEachAlone,
            costs: self.costs.clone(),
            fixed: Fixed::default(),
            effort: EFFORT,
        })
    }
}
