//! A figure at the corners of tolerance.

use std::ops::{Index, IndexMut};

/// Where in the tolerances something is worked out.
///
/// A least light wants the low corner, a greatest current or temperature the high one; loads that draw more at less
/// voltage (constant power) draw most at the low one.
#[derive(
    Debug,
    Clone,
    Copy,
    PartialEq,
    Eq,
    PartialOrd,
    Ord,
    Hash,
    Default,
    serde::Serialize,
    serde::Deserialize,
)]
#[serde(rename_all = "snake_case")]
pub enum Corner {
    /// Source low, copper at its greatest resistance and hot, cells cold.
    Low,
    /// Everything as stated on the data sheets, warm.
    #[default]
    Nominal,
    /// Source high, cable at its least resistance and cold, cells hot.
    High,
}

impl Corner {
    /// All three, from low to high.
    pub const ALL: [Self; 3] = [Self::Low, Self::Nominal, Self::High];
}

/// One figure at the low corner of tolerance, nominal, and at the high corner.
///
/// ```
/// use evenrun::quantity::{Corner, Corners};
/// let set_point = Corners { low: 23.76, nominal: 24.0, high: 24.24 };
/// assert_eq!(set_point[Corner::Low], 23.76);
/// assert_eq!(Corners::each(|corner| set_point[corner] / 2.0).high, 12.12);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Default, serde::Serialize, serde::Deserialize)]
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
    /// What `of` gives at each corner, worked out from low to high.
    pub fn each(mut of: impl FnMut(Corner) -> Q) -> Self {
        Self {
            low: of(Corner::Low),
            nominal: of(Corner::Nominal),
            high: of(Corner::High),
        }
    }

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

impl<Q> Index<Corner> for Corners<Q> {
    type Output = Q;
    #[inline]
    fn index(&self, corner: Corner) -> &Q {
        match corner {
            Corner::Low => &self.low,
            Corner::Nominal => &self.nominal,
            Corner::High => &self.high,
        }
    }
}

impl<Q> IndexMut<Corner> for Corners<Q> {
    #[inline]
    fn index_mut(&mut self, corner: Corner) -> &mut Q {
        match corner {
            Corner::Low => &mut self.low,
            Corner::Nominal => &mut self.nominal,
            Corner::High => &mut self.high,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Corner, Corners};

    #[test]
    fn each_corner_is_its_field() {
        let mut three = Corners::each(|corner| corner as u8);
        assert_eq!((three.low, three.nominal, three.high), (0, 1, 2));
        for (number, corner) in Corner::ALL.into_iter().enumerate() {
            assert_eq!(usize::from(three[corner]), number);
            three[corner] += 10;
        }
        assert_eq!(
            three,
            Corners {
                low: 10,
                nominal: 11,
                high: 12
            }
        );
        assert!(Corner::Low < Corner::High);
    }
}
