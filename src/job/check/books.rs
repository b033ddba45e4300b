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
    pub(super) runs: Names,
    pub(super) universes: Names,
    pub(super) chains: Names,
    /// Universes, those with a faulty name too.
    pub(super) universe_count: usize,
    /// Emitters of each strip that is sound.
    pub(super) emitters: BTreeMap<String, Vec<String>>,
    /// Cut pitch of each strip that is sound.
    pub(super) pitches: BTreeMap<String, CutPitch>,
    /// Cores of each cable that is sound.
    pub(super) cores: BTreeMap<String, usize>,
    /// Strip of each zone.
    pub(super) strip_of_zone: BTreeMap<String, String>,
    /// Places of each zone.
    pub(super) places_of_zone: BTreeMap<String, Vec<String>>,
    /// Whether each zone names cables.
    pub(super) zone_has_cables: BTreeMap<String, bool>,
}
