//! The names of a job by kind, and what other tables ask of them.

use super::names::Names;
use crate::exact::CutPitch;
use std::collections::BTreeMap;

/// Names by kind.
#[derive(Debug, Default)]
pub(super) struct Books {
    pub(super) strips: Names,
    pub(super) cables: Names,
    pub(super) supplies: Names,
    pub(super) decoders: Names,
    pub(super) profiles: Names,
    pub(super) places: Names,
    pub(super) zones: Names,
    pub(super) universes: Names,
    /// Universes, those with a faulty name too.
    pub(super) universe_count: usize,
    /// Emitters of each strip whose emitters could be read.
    pub(super) emitters: BTreeMap<String, Vec<String>>,
    /// Cut pitch of each strip, where it could be read.
    pub(super) pitches: BTreeMap<String, CutPitch>,
    /// Cores of each cable, where they could be read.
    pub(super) cores: BTreeMap<String, u32>,
    /// Strip of each zone.
    pub(super) strip_of_zone: BTreeMap<String, String>,
    /// Places of each zone.
    pub(super) places_of_zone: BTreeMap<String, Vec<String>>,
    /// Whether each zone names cables.
    pub(super) zone_has_cables: BTreeMap<String, bool>,
}

impl Books {
    /// Conductors that the tape of a zone needs: the common and one for each emitter.
    pub(super) fn conductors_of_zone(&self, zone: &str) -> Option<u32> {
        self.conductors_of_strip(self.strip_of_zone.get(zone)?)
    }

    /// Conductors that a tape needs.
    pub(super) fn conductors_of_strip(&self, strip: &str) -> Option<u32> {
        let emitters = self.emitters.get(strip)?.len();
        u32::try_from(emitters).ok()?.checked_add(1)
    }
}
