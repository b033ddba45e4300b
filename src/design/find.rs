//! Things of a design by their ids; each look-up goes through one short list.

use super::{Binding, CableKind, DecoderKind, Design, Place, Strip, SupplyKind};
use crate::finding::Subject;
use crate::id::{PlaceId, ProductId, RunId};

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

    /// The limit of a run that comes nearest to being broken, of those that its choice names.
    #[must_use]
    pub fn nearest_limit(&self, run: &RunId) -> Option<&Binding> {
        let used = |binding: &Binding| match binding {
            Binding::Nearest { used, .. } => used.si(),
            Binding::Costs { .. } => f64::NEG_INFINITY,
        };
        let own = self.choices.iter();
        own.filter(|choice| matches!(&choice.about, Subject::Run(id) if id == run))
            .flat_map(|choice| &choice.binding)
            .filter(|binding| matches!(binding, Binding::Nearest { .. }))
            .max_by(|a, b| used(a).total_cmp(&used(b)))
    }
}
