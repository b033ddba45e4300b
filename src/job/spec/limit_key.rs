//! Names of the limits that have a value where the job is silent, and where that value comes from.

use crate::source::{Source, documents};

/// A limit of the job that has a value where the job is silent.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize, serde::Deserialize,
)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum LimitKey {
    /// `least_current`.
    LeastCurrent,
    /// `visible_step`.
    VisibleStep,
    /// `load_factor`.
    LoadFactor,
    /// `conductor_hot`.
    ConductorHot,
    /// `conductor_nominal`.
    ConductorNominal,
    /// `conductor_cold`.
    ConductorCold,
    /// `cell_cold`.
    CellCold,
    /// `cell_nominal`.
    CellNominal,
    /// `cell_hot`.
    CellHot,
    /// `rail_tolerance`.
    RailTolerance,
    /// `current_tolerance`.
    CurrentTolerance,
    /// `cable_tolerance`.
    CableTolerance,
    /// `current_margin`.
    CurrentMargin,
    /// `slack`.
    Slack,
    /// `chopped_feeder`.
    ChoppedFeeder,
    /// `chain_devices`.
    ChainDevices,
    /// `chain_length`.
    ChainLength,
    /// `spare_tape`.
    SpareTape,
}

impl LimitKey {
    /// Every one, in the order in which they are printed.
    pub const ALL: [Self; 18] = [
        Self::LeastCurrent,
        Self::VisibleStep,
        Self::LoadFactor,
        Self::ConductorHot,
        Self::ConductorNominal,
        Self::ConductorCold,
        Self::CellCold,
        Self::CellNominal,
        Self::CellHot,
        Self::RailTolerance,
        Self::CurrentTolerance,
        Self::CableTolerance,
        Self::CurrentMargin,
        Self::Slack,
        Self::ChoppedFeeder,
        Self::ChainDevices,
        Self::ChainLength,
        Self::SpareTape,
    ];

    /// Its words: `least current`.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::LeastCurrent => "least current",
            Self::VisibleStep => "visible step",
            Self::LoadFactor => "load factor",
            Self::ConductorHot => "conductor hot",
            Self::ConductorNominal => "conductor nominal",
            Self::ConductorCold => "conductor cold",
            Self::CellCold => "cell cold",
            Self::CellNominal => "cell nominal",
            Self::CellHot => "cell hot",
            Self::RailTolerance => "rail tolerance",
            Self::CurrentTolerance => "current tolerance",
            Self::CableTolerance => "cable tolerance",
            Self::CurrentMargin => "current margin",
            Self::Slack => "slack",
            Self::ChoppedFeeder => "chopped feeder",
            Self::ChainDevices => "chain devices",
            Self::ChainLength => "chain length",
            Self::SpareTape => "spare tape",
        }
    }

    /// Where the value that is taken when the job is silent comes from.
    #[must_use]
    pub const fn source(self) -> Source {
        match self {
            Self::LeastCurrent => Source::common_practice(
                "full light while 23 V reach a 24 V tape: about 84 % of nominal current, and 65 % in the worst case, low, of the tolerances taken when silent",
            ),
            Self::VisibleStep => Source::common_practice("10 % across a visible joint"),
            Self::LoadFactor => {
                Source::common_practice("supplies planned to 80 % of their rated power")
            }
            Self::ConductorHot => documents::NEC.at("chapter 9, table 8: resistances at 75 °C"),
            Self::ConductorNominal => {
                documents::IEC_60364_5_52.at("table B.52.14: factor 1 at 30 °C in air")
            }
            Self::ConductorCold => documents::IEC_60228.at("resistances at 20 °C"),
            Self::CellCold | Self::CellNominal | Self::CellHot => {
                Source::assumption("indoor tape in a profile: 15 °C, 45 °C, 70 °C")
            }
            Self::RailTolerance => Source::assumption("foil thickness within 10 %"),
            Self::CurrentTolerance => documents::IEC_62717
                .at("power of a module at most 10 % above its rating, flux at most 10 % below"),
            Self::CableTolerance => Source::assumption(
                "cable has at least 90 % of the greatest resistance of its size (the maxima of IEC 60228 lie 4 % to 16 % \
                 above annealed copper of the nominal area)",
            ),
            Self::CurrentMargin => Source::assumption(
                "currents are judged 2 % above the worst case of their tolerances, for joints better than stated and for \
                 what the model leaves out",
            ),
            Self::Slack => Source::common_practice("300 mm of tails a cable"),
            Self::ChoppedFeeder => Source::common_practice("chopped feeders kept to 25 ft (7.6 m)"),
            Self::ChainDevices => Source::common_practice(
                "20 devices on one chain, where the standard permits 32 unit loads",
            ),
            Self::ChainLength => {
                Source::common_practice("300 ft (91 m) on shielded category cable")
            }
            Self::SpareTape => Source::common_practice("5 % of tape as spare"),
        }
    }
}
