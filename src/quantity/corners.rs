//! A figure at the corners of tolerance.

/// One figure at the low corner of tolerance, nominal, and at the high corner.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize, serde::Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Corners<Q> {
    /// Source low, copper hot, cells cold.
    pub low: Q,
    /// Everything as stated on the data sheets, warm.
    pub nominal: Q,
    /// Source high, copper cold, cells hot.
    pub high: Q,
}

impl<Q> Corners<Q> {
    /// The three figures that `of` gives for the three corners.
    pub fn map<P>(&self, of: impl Fn(&Q) -> P) -> Corners<P> {
        Corners {
            low: of(&self.low),
            nominal: of(&self.nominal),
            high: of(&self.high),
        }
    }

    /// The same figure at every corner.
    pub fn same(figure: Q) -> Self
    where
        Q: Clone,
    {
        Self {
            low: figure.clone(),
            nominal: figure.clone(),
            high: figure,
        }
    }
}
