//! Things of a design by their ids; each look-up goes through one short list.

use super::{CableKind, DecoderKind, Design, Place, Strip, SupplyKind};
use crate::id::{PlaceId, ProductId};

impl Design {
    /// The tape of this name.
    #[must_use]
    pub fn strip(&self, id: &ProductId) -> Option<&Strip> {
        self.strips.iter().find(|strip| strip.id == *id)
    }

    /// The kind of cable of this name.
    #[must_use]
    pub fn cable_kind(&self, id: &ProductId) -> Option<&CableKind> {
        self.cable_kinds.iter().find(|kind| kind.id == *id)
    }

    /// The kind of supply of this name.
    #[must_use]
    pub fn supply_kind(&self, id: &ProductId) -> Option<&SupplyKind> {
        self.supply_kinds.iter().find(|kind| kind.id == *id)
    }

    /// The kind of decoder of this name.
    #[must_use]
    pub fn decoder_kind(&self, id: &ProductId) -> Option<&DecoderKind> {
        self.decoder_kinds.iter().find(|kind| kind.id == *id)
    }

    /// The place of this name.
    #[must_use]
    pub fn place(&self, id: &PlaceId) -> Option<&Place> {
        self.places.iter().find(|place| place.id == *id)
    }
}
