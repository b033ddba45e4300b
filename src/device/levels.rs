//! Levels on the line and the light they stand for.

/// Bits of a level on the line.
#[derive(
    Debug,
    Clone,
    Copy,
    PartialEq,
    Eq,
    PartialOrd,
    Ord,
    Default,
    serde::Serialize,
    serde::Deserialize,
)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum LevelBits {
    /// One slot an emitter.
    #[default]
    Eight,
    /// Two slots an emitter, coarse and fine.
    Sixteen,
}

impl LevelBits {
    /// The words of a job file.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Eight => "8 bit",
            Self::Sixteen => "16 bit",
        }
    }

    /// Slots of one emitter.
    #[must_use]
    pub fn slots(self) -> u16 {
        match self {
            Self::Eight => 1,
            Self::Sixteen => 2,
        }
    }
}

/// Relation between level and light that a zone asks for.
#[derive(
    Debug,
    Clone,
    Copy,
    PartialEq,
    Eq,
    PartialOrd,
    Ord,
    Default,
    serde::Serialize,
    serde::Deserialize,
)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum LevelCurve {
    /// Light in proportion to level.
    #[default]
    Linear,
    /// Light as the square of the level.
    Square,
    /// Light as the cube of the level.
    Cubic,
}

impl LevelCurve {
    /// The words printed for it.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Linear => "linear",
            Self::Square => "square law",
            Self::Cubic => "cube law",
        }
    }
}
