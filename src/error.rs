//! Everything that is wrong with a spec, as one error.

use std::fmt;

/// Everything that a check found wrong, in the order of the spec; one at least.
///
/// It works with `?`, prints one error a line, and gives the errors one by one to a program.
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
pub struct SpecErrors<E>(pub Vec<E>);

impl<E> SpecErrors<E> {
    /// The errors.
    #[must_use]
    pub fn as_slice(&self) -> &[E] {
        &self.0
    }

    /// The errors one by one.
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

/// One error a line.
impl<E: fmt::Display> fmt::Display for SpecErrors<E> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (at, error) in self.0.iter().enumerate() {
            let line = if at == 0 { "" } else { "\n" };
            write!(f, "{line}{error}")?;
        }
        Ok(())
    }
}

impl<E: std::error::Error> std::error::Error for SpecErrors<E> {}

impl<E> From<E> for SpecErrors<E> {
    fn from(error: E) -> Self {
        Self(vec![error])
    }
}

impl<E> IntoIterator for SpecErrors<E> {
    type Item = E;
    type IntoIter = std::vec::IntoIter<E>;

    fn into_iter(self) -> Self::IntoIter {
        self.0.into_iter()
    }
}

impl<'a, E> IntoIterator for &'a SpecErrors<E> {
    type Item = &'a E;
    type IntoIter = std::slice::Iter<'a, E>;

    fn into_iter(self) -> Self::IntoIter {
        self.0.iter()
    }
}
