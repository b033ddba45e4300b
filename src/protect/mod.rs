//! Protection: every conductor against its load, its device, its ampacity and what its source can push.
//!
//! ```text
//! output ──device──●──core──●──rail──●──tail──●        Ib ≤ In ≤ Iz for each, or the source cannot give more than Iz
//!   │ limit, behaviour, label        │
//!   └── Vmax, energy class ──────────┴── inherited downstream, never upgraded; lost when copper ties two outputs
//! ```
//!
//! Input is plain typed facts ([`ProtectionSpec`]); nothing here depends on a planner.
//! The class of a circuit comes from the label of its source: shock and energy are
//! two fields, and `Unknown` behaves as none. Copper that ties outputs together is
//! found by union over every conductor, uncut tape, shared pole and data common.
//!
//! Leaves out: choosing a code edition, choosing a device, arcs and bad joints, and
//! the conventional operating current of devices. See [`cautions`].
//!
//! [`Protection::judge`] asks every rule of [`RULES`]; those of [`RULES_ON_REQUEST`] stand on functions of their own:
//! [`propose`]. Of a design, voltages are judged with the surroundings of its runs: [`judge_extra_low_voltage`], and
//! [`LowVoltageLighting`] where its cables are installed by the US code.

mod advice;
mod check;
mod class2;
mod classes;
mod conductor;
mod conductor_rules;
mod fault;
mod fault_rules;
mod fuse;
mod joined_rules;
mod joins;
mod judge;
mod label_rules;
mod length;
mod output_rules;
mod profile;
mod rules;
mod spec;
pub mod tables;
mod voltage;

pub use advice::{Advice, cautions, separation};
pub use check::{MOST_ITEMS, Protection, ProtectionError, ProtectionErrors};
pub use class2::{OutsideRule, PowerLimits, power_limits};
pub use classes::{CircuitClass, Classes, greatest_sustained};
pub use conductor::ConductorRow;
pub use conductor_rules::{BY_SOURCE, COORDINATION};
pub use fault::{
    ADIABATIC_TO_SECONDS, Clearing, FaultCurrent, Missing, adiabatic_time, clearing, fault_current,
    time_on_curve,
};
pub use fault_rules::SHORT_CIRCUIT;
pub use fuse::{Fitting, STOCKED, STOCKED_AMPS, fitting_ratings, propose};
pub use joined_rules::INTERCONNECTION;
pub use joins::{Islands, Tied};
pub use judge::ProtectionReport;
pub use length::{Binding, LengthLimit, longest_for_clearing, longest_for_drop};
pub use rules::{RULES, RULES_ON_REQUEST};
pub use spec::{
    ClearingCurve, ConductorId, ConductorKind, ConductorSpec, CurveFor, DeviceId, DeviceKind,
    DeviceSpec, FaultLoop, HeatLimit, JoinKind, JoinSpec, MayCarry, OutputId, OutputSpec, Overload,
    PointId, ProfileSpec, ProtectionSpec, SharedPole,
};
pub use tables::power_limits::{Limited, Rule};
pub use voltage::{
    EXTRA_LOW, INTERRUPTED_FROM_HZ, INTERRUPTED_TO_HZ, LIGHTING_BRANCH, LIGHTING_OUTPUT,
    LIGHTING_VOLTAGE, LiveParts, LowVoltageLighting, TOUCHABLE, class_2_voltage,
    judge_class_2_voltage, judge_extra_low_voltage,
};
