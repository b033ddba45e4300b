//! What protection is judged on: plain typed facts, no matter who states them.

use crate::device::{EnergyLimit, ShockProtection};
use crate::finding::Subject;
use crate::quantity::{
    Area, ElectricCurrent, ElectricPotential, ElectricalResistance, Frequency, Power, Time, ohms,
};
use crate::source::Source;

macro_rules! ids {
    ($($name:ident, $doc:literal;)*) => {$(
        #[doc = $doc]
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize)]
        pub struct $name(pub usize);
    )*};
}

ids! {
    PointId, "A point of the copper: its place in [`ProtectionSpec::points`].";
    OutputId, "An output of a supply: its place in [`ProtectionSpec::outputs`].";
    DeviceId, "An overcurrent device: its place in [`ProtectionSpec::devices`].";
    ConductorId, "A conductor: its place in [`ProtectionSpec::conductors`].";
}

/// What an output does when more than its limit is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Overload {
    /// Holds its limit, down to a short circuit.
    ConstantCurrent,
    /// Lowers its current with its voltage; into a short it gives this.
    FoldBack {
        /// Current into a short circuit, where stated.
        into_short: Option<ElectricCurrent>,
    },
    /// Switches off and tries again: it interrupts a fault itself, and no fuse ever opens.
    Hiccup,
    /// Switches off until it is reset.
    LatchOff,
    /// Not known: nothing is counted on.
    Unknown,
}

/// The pole that the outputs of one unit share inside it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum SharedPole {
    /// Outputs are separate.
    #[default]
    None,
    /// Plus is common inside.
    Plus,
    /// Minus is common inside.
    Minus,
}

/// One output of a supply, or of a decoder whose own label gives its outputs a class.
///
/// A decoder that is *not* so listed is no source: join its input to its outputs
/// with [`JoinKind::Inside`], and its class is that of what feeds it.
#[derive(Debug, Clone, PartialEq)]
pub struct OutputSpec {
    /// What findings speak of: `supply S1, output 2`.
    pub about: Subject,
    /// The unit it belongs to; outputs of one unit may share a pole inside.
    pub unit: String,
    /// Which pole they share.
    pub shares: SharedPole,
    /// Positive terminal.
    pub plus: PointId,
    /// Negative terminal.
    pub minus: PointId,
    /// Lowest voltage that it may stand at under load.
    pub volts_low: ElectricPotential,
    /// Highest voltage at any load and any position of the trimmer.
    pub volts_high: ElectricPotential,
    /// Current on the nameplate.
    pub rated: ElectricCurrent,
    /// Power on the nameplate, where stated.
    pub nameplate: Option<Power>,
    /// Greatest current it can push, overload and short circuit included, where stated.
    pub limit: Option<ElectricCurrent>,
    /// What it does at the limit.
    pub overload: Overload,
    /// Resistance of the output itself.
    pub resistance: ElectricalResistance,
    /// Shock protection, from the label.
    pub shock: ShockProtection,
    /// Energy class, from the label.
    pub energy: EnergyLimit,
    /// Whether the label says that outputs may be connected together (a declared parallel mode).
    pub may_be_joined: bool,
    /// Whether its minus is bonded to earth, where that is known.
    pub minus_earthed: Option<bool>,
}

/// What kind of device.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DeviceKind {
    /// A fuse.
    Fuse,
    /// A circuit breaker.
    Breaker,
    /// An electronic channel of its own.
    Electronic,
}

/// What current a time–current curve holds for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CurveFor {
    /// Direct current at the voltage of the circuit.
    DirectCurrent,
    /// Alternating current: not valid here.
    AlternatingCurrent,
}

/// The longest operating time at each current, from the maker's sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct ClearingCurve {
    /// What the curve holds for.
    pub holds_for: CurveFor,
    /// Current and longest time, by rising current.
    pub points: Vec<(ElectricCurrent, Time)>,
    /// The sheet.
    pub source: Source,
}

/// A fuse, breaker or electronic channel.
#[derive(Debug, Clone, PartialEq)]
pub struct DeviceSpec {
    /// Name in findings.
    pub name: String,
    /// Kind.
    pub kind: DeviceKind,
    /// Rated current `In`.
    pub rated: ElectricCurrent,
    /// Rated voltage for direct current, where stated.
    pub dc_volts: Option<ElectricPotential>,
    /// Breaking capacity for direct current, where stated.
    pub breaking: Option<ElectricCurrent>,
    /// Time–current curve, where supplied.
    pub curve: Option<ClearingCurve>,
}

/// What kind of conductor.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ConductorKind {
    /// A core of a cable.
    Core,
    /// A copper rail of a tape.
    Rail,
    /// A thin tail soldered to a tape.
    Tail,
    /// Anything else that carries load current: a terminal strip, a busbar.
    Other,
}

/// What a conductor may carry, and who says so.
#[derive(Debug, Clone, PartialEq)]
pub enum MayCarry {
    /// So much.
    Current {
        /// `Iz`.
        current: ElectricCurrent,
        /// Where from.
        source: Source,
        /// Greatest overcurrent device that a rule allows, with the rule.
        largest_device: Option<(ElectricCurrent, Source)>,
    },
    /// No table covers it, for this reason.
    NoTable(String),
}

/// How much heat the insulation bears: `t = (k · S / I)²`.
#[derive(Debug, Clone, PartialEq)]
pub struct HeatLimit {
    /// `k`, A·√s/mm².
    pub k: f64,
    /// Area `S` of the metal.
    pub area: Area,
    /// Where `k` comes from.
    pub source: Source,
}

/// The loop that a short circuit at the far end of a conductor closes: out and back, output resistance excluded.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FaultLoop {
    /// Short at the near end, just behind the device: loop resistance, cold.
    pub near_cold: ElectricalResistance,
    /// Short at the far end: loop resistance, hot.
    pub far_hot: ElectricalResistance,
}

/// One conductor: a core, a rail, a thin tail.
#[derive(Debug, Clone, PartialEq)]
pub struct ConductorSpec {
    /// What findings speak of: `feeder F3, plus`.
    pub about: Subject,
    /// Kind.
    pub kind: ConductorKind,
    /// One end.
    pub from: PointId,
    /// The other end.
    pub to: PointId,
    /// Load current `Ib`, high corner; for a chopped load the current of the pulse (at worst) or its r.m.s. value.
    pub load: ElectricCurrent,
    /// Load current with one feed lost, where it is fed from several: the feed and the current.
    pub load_with_feed_lost: Vec<(Subject, ElectricCurrent)>,
    /// What it may carry.
    pub may_carry: MayCarry,
    /// Outputs whose current can flow in it; empty: every output that its copper reaches.
    pub fed_by: Vec<OutputId>,
    /// The nearest overcurrent device upstream of it.
    pub device: Option<DeviceId>,
    /// The loop of a short circuit, where known.
    pub fault_loop: Option<FaultLoop>,
    /// What its insulation bears, where known.
    pub heat: Option<HeatLimit>,
    /// Whether wet contact is likely here (not immersion).
    pub wet: bool,
    /// Frequency at which its voltage is chopped.
    pub chopped: Option<Frequency>,
}

/// What ties two points together beside the conductors.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
pub enum JoinKind {
    /// A tape that is not cut between two feeds.
    UncutTape,
    /// A pole shared at a decoder or terminal strip.
    SharedPole,
    /// The common of a data line.
    DataCommon,
    /// Inside a unit: a closed switch, a fuse, a terminal.
    Inside,
    /// An earth bond: listed, and not counted as a join.
    EarthBond,
}

/// Two points tied together.
#[derive(Debug, Clone, PartialEq)]
pub struct JoinSpec {
    /// What findings speak of: `tape of run R2, plus rail`.
    pub about: Subject,
    /// What ties them.
    pub kind: JoinKind,
    /// One point.
    pub from: PointId,
    /// The other.
    pub to: PointId,
}

/// A metal profile that a tape lies in.
#[derive(Debug, Clone, PartialEq)]
pub struct ProfileSpec {
    /// What findings speak of.
    pub about: Subject,
    /// Whether it is bonded to earth, where that is known.
    pub earthed: Option<bool>,
    /// The output that feeds the tape.
    pub output: OutputId,
    /// The device between the output and the tape.
    pub device: Option<DeviceId>,
    /// Resistance of the way of a fault from plus through the profile and earth back to the output, hot; where known.
    pub fault_way: Option<ElectricalResistance>,
    /// Whether the returns are switched on the low side: then a return that touches stays lit.
    pub switched_returns: bool,
}

/// Everything that is judged together.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ProtectionSpec {
    /// Points of the copper, by name.
    pub points: Vec<String>,
    /// Outputs.
    pub outputs: Vec<OutputSpec>,
    /// Overcurrent devices.
    pub devices: Vec<DeviceSpec>,
    /// Conductors.
    pub conductors: Vec<ConductorSpec>,
    /// Joins and earth bonds.
    pub joins: Vec<JoinSpec>,
    /// Profiles.
    pub profiles: Vec<ProfileSpec>,
}

impl ProtectionSpec {
    /// Nothing yet.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Adds a point.
    pub fn point(&mut self, name: impl Into<String>) -> PointId {
        self.points.push(name.into());
        PointId(self.points.len() - 1)
    }

    /// Adds an output.
    pub fn output(&mut self, output: OutputSpec) -> OutputId {
        self.outputs.push(output);
        OutputId(self.outputs.len() - 1)
    }

    /// Adds a device.
    pub fn device(&mut self, device: DeviceSpec) -> DeviceId {
        self.devices.push(device);
        DeviceId(self.devices.len() - 1)
    }

    /// Adds a conductor.
    pub fn conductor(&mut self, conductor: ConductorSpec) -> ConductorId {
        self.conductors.push(conductor);
        ConductorId(self.conductors.len() - 1)
    }

    /// Ties two points together.
    pub fn join(&mut self, about: impl Into<Subject>, kind: JoinKind, from: PointId, to: PointId) {
        self.joins.push(JoinSpec::new(about, kind, from, to));
    }

    /// Adds a profile.
    pub fn profile(&mut self, profile: ProfileSpec) {
        self.profiles.push(profile);
    }
}

impl JoinSpec {
    /// Two points tied together.
    #[must_use]
    pub fn new(about: impl Into<Subject>, kind: JoinKind, from: PointId, to: PointId) -> Self {
        Self {
            about: about.into(),
            kind,
            from,
            to,
        }
    }
}

impl DeviceSpec {
    /// A device with nothing stated but its rating.
    #[must_use]
    pub fn plain(name: impl Into<String>, kind: DeviceKind, rated: ElectricCurrent) -> Self {
        Self {
            name: name.into(),
            kind,
            rated,
            dc_volts: None,
            breaking: None,
            curve: None,
        }
    }
}

impl ClearingCurve {
    /// A curve for direct current, by rising current.
    #[must_use]
    pub fn direct_current(points: Vec<(ElectricCurrent, Time)>, source: Source) -> Self {
        Self {
            holds_for: CurveFor::DirectCurrent,
            points,
            source,
        }
    }
}

impl MayCarry {
    /// So much, with no rule on the device.
    #[must_use]
    pub fn current(current: ElectricCurrent, source: Source) -> Self {
        Self::Current {
            current,
            source,
            largest_device: None,
        }
    }
}

impl HeatLimit {
    /// `k` in A·√s/mm², the area of the metal, where `k` comes from.
    #[must_use]
    pub fn new(k: f64, area: Area, source: Source) -> Self {
        Self { k, area, source }
    }
}

impl FaultLoop {
    /// Loop resistance of a short circuit at the near end, cold, and at the far end, hot.
    #[must_use]
    pub fn new(near_cold: ElectricalResistance, far_hot: ElectricalResistance) -> Self {
        Self { near_cold, far_hot }
    }
}

impl ProfileSpec {
    /// A profile that is not earthed, round a tape whose returns are not switched.
    #[must_use]
    pub fn plain(about: impl Into<Subject>, output: OutputId) -> Self {
        Self {
            about: about.into(),
            earthed: Some(false),
            output,
            device: None,
            fault_way: None,
            switched_returns: false,
        }
    }
}

impl OutputSpec {
    /// An output of its own unit with nothing stated but its voltage and current: no limit, classes unknown.
    #[must_use]
    pub fn plain(
        about: impl Into<Subject>,
        plus: PointId,
        minus: PointId,
        volts: ElectricPotential,
        rated: ElectricCurrent,
    ) -> Self {
        let about = about.into();
        Self {
            unit: about.to_string(),
            about,
            shares: SharedPole::None,
            plus,
            minus,
            volts_low: volts,
            volts_high: volts,
            rated,
            nameplate: None,
            limit: None,
            overload: Overload::Unknown,
            resistance: ohms(0.0),
            shock: ShockProtection::Unknown,
            energy: EnergyLimit::Unknown,
            may_be_joined: false,
            minus_earthed: Some(false),
        }
    }
}

impl ConductorSpec {
    /// A core with a load current and nothing else known.
    #[must_use]
    pub fn plain(
        about: impl Into<Subject>,
        from: PointId,
        to: PointId,
        load: ElectricCurrent,
    ) -> Self {
        Self {
            about: about.into(),
            kind: ConductorKind::Core,
            from,
            to,
            load,
            load_with_feed_lost: Vec::new(),
            may_carry: MayCarry::NoTable("no ampacity was stated or looked up".to_string()),
            fed_by: Vec::new(),
            device: None,
            fault_loop: None,
            heat: None,
            wet: false,
            chopped: None,
        }
    }
}
