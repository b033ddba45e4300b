//! A data packet as plain data, and its check.

use super::super::address::universe;
use super::super::timing::SLOTS;
use super::error::DataError;
use super::{DEFAULT_PRIORITY, MOST_PRIORITY};
use crate::error::SpecErrors;

/// Most octets of a source name beside the zero that ends it.
const MOST_NAME: usize = 63;

/// Flags of the framing layer (ANSI E1.31-2018, table 4-1; places of the bits as a public implementation has them).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Options {
    /// Bit 7: for a preview only, not for light.
    pub preview: bool,
    /// Bit 6: the source ends this universe.
    pub terminated: bool,
    /// Bit 5: go on without synchronisation where it is lost.
    pub force_synchronization: bool,
}

/// What a data packet says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DataSpec {
    /// Universe, 1 to 63999 (clause 6.2.7).
    pub universe: u16,
    /// Priority, 0 to 200 (clause 6.2.3).
    pub priority: u8,
    /// Number of the packet in its universe; counts up by one and runs over.
    pub sequence: u8,
    /// What a person calls the source: at most 63 octets of UTF-8.
    pub source_name: String,
    /// Identity of the source, a UUID.
    pub cid: [u8; 16],
    /// Universe of the packet that makes this one count; 0: it counts at once.
    pub synchronization: u16,
    /// Flags.
    pub options: Options,
    /// Levels of slots 1, 2, 3 …; the START code before them is 0.
    pub slots: Vec<u8>,
}

impl DataSpec {
    /// Levels for a universe at the default priority, sequence 0, not synchronised, without flags.
    #[must_use]
    pub fn new(
        universe: u16,
        source_name: impl Into<String>,
        cid: [u8; 16],
        slots: Vec<u8>,
    ) -> Self {
        Self {
            universe,
            priority: DEFAULT_PRIORITY,
            sequence: 0,
            source_name: source_name.into(),
            cid,
            synchronization: 0,
            options: Options::default(),
            slots,
        }
    }

    /// Checks every field.
    ///
    /// # Errors
    /// Every [`DataError`] found.
    pub fn check(self) -> Result<DataPacket, SpecErrors<DataError>> {
        let mut errors = Vec::new();
        if let Err(error) = universe(u32::from(self.universe)) {
            errors.push(error.into());
        }
        if self.synchronization != 0 && universe(u32::from(self.synchronization)).is_err() {
            errors.push(DataError::Synchronization {
                found: self.synchronization,
            });
        }
        if self.priority > MOST_PRIORITY {
            errors.push(DataError::Priority {
                found: self.priority,
            });
        }
        if self.source_name.len() > MOST_NAME {
            errors.push(DataError::SourceNameLength {
                found: self.source_name.len(),
            });
        }
        if self.source_name.contains('\0') {
            errors.push(DataError::SourceNameZero);
        }
        if self.slots.is_empty() || self.slots.len() > usize::from(SLOTS) {
            errors.push(DataError::Slots {
                found: self.slots.len(),
            });
        }
        if errors.is_empty() {
            Ok(DataPacket { spec: self })
        } else {
            Err(SpecErrors(errors))
        }
    }
}

/// A data packet whose fields are in range.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DataPacket {
    pub(super) spec: DataSpec,
}

impl DataPacket {
    /// What it says.
    #[must_use]
    pub fn spec(&self) -> &DataSpec {
        &self.spec
    }

    /// The next packet of the same universe with the same levels: the sequence counts on, 255 is followed by 0.
    #[must_use]
    pub fn next(&self) -> Self {
        let mut spec = self.spec.clone();
        spec.sequence = spec.sequence.wrapping_add(1);
        Self { spec }
    }

    /// The same packet as one that ends its universe.
    #[must_use]
    pub fn last(mut self) -> Self {
        self.spec.options.terminated = true;
        self
    }
}
