//! Everything that is wrong with a spec, as one error.

use std::fmt;

/// All faults that a check found, in the order of the spec; one at least.
///
/// It works with `?`, prints one fault a line, and gives the faults one by one to a program.
///
/// ```
/// use evenrun::dmx::timing::{PacketSpec, Role};
/// fn refresh(slots: u16) -> Result<f64, Box<dyn std::error::Error>> {
///     let packet = PacketSpec::shortest(slots, Role::Transmitter).check()?;
///     Ok(packet.refresh(Role::Transmitter).value)
/// }
/// assert!(refresh(512).is_ok());
/// assert_eq!(
///     refresh(513).unwrap_err().to_string(),
///     "513 data slots in a packet; at most 512: split over more universes"
/// );
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Faults<E>(pub Vec<E>);

impl<E> Faults<E> {
    /// The faults.
    #[must_use]
    pub fn as_slice(&self) -> &[E] {
        &self.0
    }

    /// The faults one by one.
    pub fn iter(&self) -> std::slice::Iter<'_, E> {
        self.0.iter()
    }

    /// How many.
    #[must_use]
    pub fn len(&self) -> usize {
        self.0.len()
    }

    /// Whether there are none, as no check gives it.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}

/// One fault a line.
impl<E: fmt::Display> fmt::Display for Faults<E> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (at, fault) in self.0.iter().enumerate() {
            let line = if at == 0 { "" } else { "\n" };
            write!(f, "{line}{fault}")?;
        }
        Ok(())
    }
}

impl<E: std::error::Error> std::error::Error for Faults<E> {}

impl<E> From<E> for Faults<E> {
    fn from(fault: E) -> Self {
        Self(vec![fault])
    }
}

impl<E> IntoIterator for Faults<E> {
    type Item = E;
    type IntoIter = std::vec::IntoIter<E>;

    fn into_iter(self) -> Self::IntoIter {
        self.0.into_iter()
    }
}

impl<'a, E> IntoIterator for &'a Faults<E> {
    type Item = &'a E;
    type IntoIter = std::slice::Iter<'a, E>;

    fn into_iter(self) -> Self::IntoIter {
        self.0.iter()
    }
}
