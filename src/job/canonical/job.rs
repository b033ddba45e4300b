//! What is said of the whole job, of places, zones, control and candidates.

use super::{Form, Said, forms, table, words};
use crate::job::spec::{
    Bound, CandidateSpec, ChainSpec, ChainStop, Control, Costs, DataCable, InstalledKind,
    InstalledSpec, JobSpec, LevelBits, LevelCurve, LimitsSpec, PlaceSpec, Service, Sharing,
    SlotRange, Standby, Swap, Taken, Together, UniverseSpec, WaySpec, ZoneSpec,
};

/// The canonical form of a job whose tables stand by name.
pub(in crate::job) fn form(job: &JobSpec) -> String {
    let JobSpec {
        title,
        note,
        // How it is printed, not what is planned.
        units: _,
        currency,
        limits,
        costs,
        strips,
        cables,
        supplies,
        decoders,
        profiles,
        places,
        zones,
        runs,
        installed,
        universes,
        chains,
        candidates,
        taken,
    } = job;
    let mut form = Form::default();
    title.put(&mut form, "title");
    note.put(&mut form, "note");
    currency.put(&mut form, "currency");
    limits.put(&mut form, "limits");
    costs.put(&mut form, "costs");
    form.tables("strip", strips, |t| &t.name);
    form.tables("cable", cables, |t| &t.name);
    form.tables("supply", supplies, |t| &t.name);
    form.tables("decoder", decoders, |t| &t.name);
    form.tables("profile", profiles, |t| &t.name);
    form.tables("place", places, |t| &t.name);
    form.tables("zone", zones, |t| &t.name);
    form.tables("run", runs, |t| &t.name);
    form.tables("installed", installed, |t| &t.name);
    form.tables("universe", universes, |t| &t.name);
    form.tables("chain", chains, |t| &t.name);
    form.tables("candidate", candidates, |t| &t.name);
    for Taken { fact, of } in taken {
        form.line(
            &format!("taken {}", super::quoted(of)),
            super::quoted(fact.word()),
        );
    }
    form.into_text()
}

impl<T: Said> Said for Bound<T> {
    fn state(&self, form: &mut Form, key: &str) {
        match self {
            Self::None => form.line(key, "none"),
            Self::AtMost(most) => most.state(form, key),
        }
    }
}

impl Said for Costs {
    fn state(&self, form: &mut Form, key: &str) {
        let Self { segment, feed, cut } = self;
        form.within(key, |form| {
            for (key, cost) in [("segment", segment), ("feed", feed), ("cut", cut)] {
                if *cost > 0 {
                    cost.state(form, key);
                }
            }
        });
    }
}

impl Said for InstalledKind {
    fn state(&self, form: &mut Form, key: &str) {
        let kind = match self {
            Self::Supply(_) => "supply",
            Self::Decoder(_) => "decoder",
        };
        self.name()
            .to_string()
            .state(form, &format!("{key} {kind}"));
    }
}

impl Said for Together {
    fn state(&self, form: &mut Form, key: &str) {
        match self {
            Self::AllAndEachAlone => form.line(key, "\"all and each alone\""),
            Self::Listed(sets) => sets.state(form, key),
        }
    }

    fn put(&self, form: &mut Form, key: &str) {
        if *self != Self::default() {
            self.state(form, key);
        }
    }
}

table! {
    LimitsSpec {
        least_current visible_step balance voltage_drop connector_current core_current load_factor
        conductor_hot conductor_nominal conductor_cold cell_cold cell_nominal cell_hot rail_tolerance current_tolerance
        cable_tolerance current_margin
        site_tolerance slack chopped_feeder chain_devices chain_length spare_tape
    }
    PlaceSpec {
        name room access environment ingress ambient circuit service supplies decoders most_supplies most_decoders standby lead
        lead_cables ways
    }
    WaySpec { to length basis cables }
    ZoneSpec { name strip control together places supplies decoders cables service universe }
    InstalledSpec { name kind place zone serves address shares_slots }
    UniverseSpec { name number port taken }
    SlotRange { from to }
    ChainSpec { name universe cable stops terminator }
    CandidateSpec { name strips supplies decoders }
    Swap { instead_of take }
}

forms! {
    Control {
        Switched "switched" {}
        Dmx "DMX" { bits curve }
    }
    ChainStop {
        Place "place" { place length between }
        Other "other" { name length unit_loads isolation }
    }
}

words! {
    Service usual { Normal "normal" Emergency "emergency" Both "both" }
    Standby usual { None "none" Supplies "supplies" Decoders "decoders" Both "both" }
    DataCable {
        DataPair "data pair" ShieldedCategory "shielded category" UnshieldedCategory "unshielded category" Unknown "unknown"
    }
    Sharing usual { No "no" OnPurpose "on purpose" }
    LevelBits usual { Eight "8 bit" Sixteen "16 bit" }
    LevelCurve usual { Linear "linear" Square "square law" Cubic "cube law" }
}
