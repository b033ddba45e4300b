//! A checked job: what the plan is made from.

use super::canonical;
use super::fault::{Place, PlaceMap, path};
use super::spec::{
    CableItem, CandidateSpec, ChainSpec, Costs, DecoderSpec, InstalledSpec, JobSpec, LengthUnits,
    Limits, PlaceSpec, ProfileSpec, RunSpec, StripSpec, SupplySpec, Taken, TakenFact, UniverseSpec,
    ZoneSpec,
};
use crate::order::Order as _;
use crate::quantity::Currency;

/// A job without faults: every name is known, every figure is in range.
///
/// Lists are kept by name, so that the order in which a job was written changes nothing.
/// Two jobs are equal when they say the same, wherever it stood in their files and in whatever units of length.
#[derive(Debug, Clone)]
pub struct Job {
    spec: JobSpec,
    limits: Limits,
    currency: Currency,
    places: PlaceMap,
    file: String,
}

impl PartialEq for Job {
    fn eq(&self, other: &Self) -> bool {
        if self.spec.units == other.spec.units {
            return self.spec == other.spec;
        }
        let mut same = other.spec.clone();
        same.units = self.spec.units;
        self.spec == same
    }
}

/// The entry of a list kept by name.
fn named<'s, T>(list: &'s [T], name: &str, of: impl Fn(&T) -> &str) -> Option<&'s T> {
    let at = list.binary_search_by(|entry| of(entry).cmp(name)).ok()?;
    list.get(at)
}

impl Job {
    /// From a spec without faults.
    pub(super) fn assemble(mut spec: JobSpec, places: PlaceMap, file: &str) -> Self {
        spec.strips.order_by(|a, b| a.name.cmp(&b.name));
        spec.cables.order_by(|a, b| a.name.cmp(&b.name));
        spec.supplies.order_by(|a, b| a.name.cmp(&b.name));
        spec.decoders.order_by(|a, b| a.name.cmp(&b.name));
        spec.profiles.order_by(|a, b| a.name.cmp(&b.name));
        spec.places.order_by(|a, b| a.name.cmp(&b.name));
        spec.zones.order_by(|a, b| a.name.cmp(&b.name));
        spec.runs.order_by(|a, b| a.name.cmp(&b.name));
        spec.installed.order_by(|a, b| a.name.cmp(&b.name));
        spec.universes.order_by(|a, b| a.name.cmp(&b.name));
        spec.chains.order_by(|a, b| a.name.cmp(&b.name));
        spec.candidates.order_by(|a, b| a.name.cmp(&b.name));
        spec.taken.order_by(|a, b| a.cmp(b));
        spec.taken.dedup();
        Self {
            limits: spec.limits.resolve(),
            currency: Currency::of(spec.currency.as_deref()),
            spec,
            places,
            file: file.to_string(),
        }
    }

    /// Title.
    #[must_use]
    pub fn title(&self) -> &str {
        &self.spec.title
    }

    /// What its data are; may be empty.
    #[must_use]
    pub fn note(&self) -> &str {
        &self.spec.note
    }

    /// In what the lengths of its runs are written.
    #[must_use]
    pub fn units(&self) -> LengthUnits {
        self.spec.units
    }

    /// Currency of the prices.
    #[must_use]
    pub fn currency(&self) -> &Currency {
        &self.currency
    }

    /// What must hold.
    #[must_use]
    pub fn limits(&self) -> &Limits {
        &self.limits
    }

    /// What things cost beside their material.
    #[must_use]
    pub fn costs(&self) -> &Costs {
        &self.spec.costs
    }

    /// Kinds of tape, by name.
    #[must_use]
    pub fn strips(&self) -> &[StripSpec] {
        &self.spec.strips
    }

    /// The tape of that name.
    #[must_use]
    pub fn strip(&self, name: &str) -> Option<&StripSpec> {
        named(&self.spec.strips, name, |t| &t.name)
    }

    /// Kinds of cable, by name.
    #[must_use]
    pub fn cables(&self) -> &[CableItem] {
        &self.spec.cables
    }

    /// The cable of that name.
    #[must_use]
    pub fn cable(&self, name: &str) -> Option<&CableItem> {
        named(&self.spec.cables, name, |t| &t.name)
    }

    /// Kinds of supply, by name.
    #[must_use]
    pub fn supplies(&self) -> &[SupplySpec] {
        &self.spec.supplies
    }

    /// The supply of that name.
    #[must_use]
    pub fn supply(&self, name: &str) -> Option<&SupplySpec> {
        named(&self.spec.supplies, name, |t| &t.name)
    }

    /// Kinds of decoder, by name.
    #[must_use]
    pub fn decoders(&self) -> &[DecoderSpec] {
        &self.spec.decoders
    }

    /// The decoder of that name.
    #[must_use]
    pub fn decoder(&self, name: &str) -> Option<&DecoderSpec> {
        named(&self.spec.decoders, name, |t| &t.name)
    }

    /// Profiles, by name.
    #[must_use]
    pub fn profiles(&self) -> &[ProfileSpec] {
        &self.spec.profiles
    }

    /// The profile of that name.
    #[must_use]
    pub fn profile(&self, name: &str) -> Option<&ProfileSpec> {
        named(&self.spec.profiles, name, |t| &t.name)
    }

    /// Places, by name.
    #[must_use]
    pub fn places(&self) -> &[PlaceSpec] {
        &self.spec.places
    }

    /// The place of that name.
    #[must_use]
    pub fn place(&self, name: &str) -> Option<&PlaceSpec> {
        named(&self.spec.places, name, |t| &t.name)
    }

    /// Zones, by name.
    #[must_use]
    pub fn zones(&self) -> &[ZoneSpec] {
        &self.spec.zones
    }

    /// The zone of that name.
    #[must_use]
    pub fn zone(&self, name: &str) -> Option<&ZoneSpec> {
        named(&self.spec.zones, name, |t| &t.name)
    }

    /// Runs, by name.
    #[must_use]
    pub fn runs(&self) -> &[RunSpec] {
        &self.spec.runs
    }

    /// The run of that name.
    #[must_use]
    pub fn run(&self, name: &str) -> Option<&RunSpec> {
        named(&self.spec.runs, name, |t| &t.name)
    }

    /// Supplies and decoders that are already there, by name.
    #[must_use]
    pub fn installed(&self) -> &[InstalledSpec] {
        &self.spec.installed
    }

    /// Universes, by name.
    #[must_use]
    pub fn universes(&self) -> &[UniverseSpec] {
        &self.spec.universes
    }

    /// Chains, by name.
    #[must_use]
    pub fn chains(&self) -> &[ChainSpec] {
        &self.spec.chains
    }

    /// Candidates for a comparison, by name.
    #[must_use]
    pub fn candidates(&self) -> &[CandidateSpec] {
        &self.spec.candidates
    }

    /// What was taken as the job is silent about it, in the order of [`TakenFact`](super::spec::TakenFact), then by name.
    #[must_use]
    pub fn taken(&self) -> &[Taken] {
        &self.spec.taken
    }

    /// Whether a fact of a thing was taken.
    #[must_use]
    pub fn is_taken(&self, fact: TakenFact, of: &str) -> bool {
        let taken = |one: &Taken| one.fact == fact && one.of == of;
        self.spec.taken.iter().any(taken)
    }

    /// Names of the cables that feeders of a run may be made of: its own, or those of its zone.
    #[must_use]
    pub fn cables_of<'s>(&'s self, run: &'s RunSpec) -> &'s [String] {
        if run.cables.is_empty() {
            self.zone(&run.zone).map_or(&[], |zone| &zone.cables)
        } else {
            &run.cables
        }
    }

    /// The universe that decoders of a zone listen to: the one it names, or the only one.
    #[must_use]
    pub fn universe_of(&self, zone: &ZoneSpec) -> Option<&UniverseSpec> {
        match &zone.universe {
            Some(name) => named(&self.spec.universes, name, |t| &t.name),
            None => self.spec.universes.first(),
        }
    }

    /// All of it as plain data, lists by name.
    #[must_use]
    pub fn spec(&self) -> &JobSpec {
        &self.spec
    }

    /// The checked job as text, the same for the same job on every platform and whatever the
    /// order and units it was written in: what a fingerprint is made of.
    ///
    /// One line for each thing that the job says, each with what it is about, in exact lengths and SI base units; what it does not
    /// say has no line.
    ///
    /// ```
    /// let job = evenrun::job::read(include_str!("../../examples/archive_wing.toml"), "demo.toml").map_err(|f| f.to_string())?;
    /// assert!(job.canonical().lines().any(|line| line == "run \"S1\".zone = \"shelf accent\""));
    /// # Ok::<(), String>(())
    /// ```
    #[must_use]
    pub fn canonical(&self) -> String {
        canonical::form(&self.spec)
    }

    /// Name of the file it was read from; empty for a job built in code.
    #[must_use]
    pub fn file(&self) -> &str {
        &self.file
    }

    /// Where something stands in the file: `("run \"north cove\"", "path 3: straight")`.
    ///
    /// A field that is not in the file stands where its table does.
    #[must_use]
    pub fn find(&self, subject: &str, field: &str) -> Option<Place> {
        self.places.find(subject, field)
    }

    /// `job.toml:41:10`, the place of a table or field, for findings; its words without a file.
    #[must_use]
    pub fn at(&self, subject: &str, field: &str) -> String {
        match self.find(subject, field) {
            Some(Place { line, column }) if !self.file.is_empty() => {
                format!("{}:{line}:{column}", self.file)
            }
            _ => path(subject, field),
        }
    }
}
