//! Two lengths that share a dimension and must not be confused.

use super::Length;

/// One way along a cable, as it is routed.
///
/// ```compile_fail
/// use evenrun::quantity::{LoopLength, RouteLength, metres};
/// let one_way = RouteLength::new(metres(5.0));
/// let out_and_back: LoopLength = one_way; // only `there_and_back` makes a loop
/// ```
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct RouteLength(Length);

/// Out along one core and back along another: twice the route, once only.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct LoopLength(Length);

impl RouteLength {
    /// The way of a cable from end to end, in one direction.
    #[must_use]
    pub fn new(length: Length) -> Self {
        Self(length)
    }

    /// The length, one way.
    #[must_use]
    pub fn length(self) -> Length {
        self.0
    }

    /// The length of the current's whole way through two equal cores: `2 · route`.
    #[must_use]
    pub fn there_and_back(self) -> LoopLength {
        LoopLength(self.0 * 2.0)
    }
}

impl LoopLength {
    /// The length, out and back together.
    #[must_use]
    pub fn length(self) -> Length {
        self.0
    }
}
