//! A piece of tape on its own, solved by the network solver: what calibration compares with.

use super::error::{SheetPart, StripError};
use super::spec::StripSpec;
use crate::exact::ExactLength;
use crate::load::Law;
use crate::network::{
    Along, Attachment, EmitterSpec, Limit, NetworkSpec, Polarity, RailSpec, SolveError,
    SolveOptions, SourceId, SourceSpec, TapeSpec, Workspace,
};
use crate::quantity::{ElectricPotential, fraction, ohms, volts};

/// Most cut increments of a piece.
const MOST_INCREMENTS: u64 = 100_000;

/// A piece of tape, every emitter lit, fed stiffly at its first cut mark or at both.
pub(super) struct Piece<'a> {
    pub strip: &'a StripSpec,
    pub cells: usize,
    pub fed: ElectricPotential,
    pub both: bool,
}

/// What a piece shows. Nothing of it exists where constant-power cells collapse.
#[derive(Clone, Copy)]
pub(super) struct Shown {
    /// Least voltage over the emitters: of the last cell, or of the weakest where fed at both ends.
    pub volts: f64,
    /// Current of that cell relative to its own at the feed voltage, least over the emitters.
    pub light: f64,
    /// Current of the last increment, all emitters, A.
    pub last_amps: f64,
    /// Power into the piece, W.
    pub watts: f64,
}

impl<'a> Piece<'a> {
    pub fn new(
        strip: &'a StripSpec,
        length: ExactLength,
        fed: ElectricPotential,
        both: bool,
        what: &'static str,
    ) -> Result<Self, StripError> {
        let increments = strip.pitch.count_in(length);
        if increments == 0 {
            return Err(StripError::TooShort {
                strip: strip.name.clone(),
                what,
                length: length.to_string(),
                increment: strip.pitch.length_of(1).to_string(),
            });
        }
        match usize::try_from(increments) {
            Ok(cells) if increments <= MOST_INCREMENTS => Ok(Self {
                strip,
                cells,
                fed,
                both,
            }),
            _ => Err(StripError::Figure {
                strip: strip.name.clone(),
                part: SheetPart::Beside,
                what: what.to_string(),
                found: length.to_string(),
                accepted: format!("at most {MOST_INCREMENTS} cut increments"),
                remedy: "Correct the length, or the distance between cuts",
            }),
        }
    }

    /// The piece with `common` and `returns` ohm/m; none where it has no operating point.
    pub fn solve(
        &self,
        (common, returns): (f64, f64),
        laws: &[Law],
        work: &mut Workspace,
    ) -> Result<Option<Shown>, StripError> {
        let unsolved = |why: String| StripError::Unsolved {
            strip: self.strip.name.clone(),
            what: format!("a piece of {} cut increments", self.cells),
            why,
        };
        let (spec, tape) = self.network((common, returns), laws);
        let network = spec
            .check()
            .map_err(|all| unsolved(all.0.first().map_or_else(String::new, ToString::to_string)))?;
        let options = SolveOptions {
            step_tolerance: volts(1e-12),
            ..SolveOptions::default()
        };
        let solution = match network.solve(&options, work) {
            Ok(solution) => solution,
            Err(SolveError::Collapse { .. }) => return Ok(None),
            Err(error) => return Err(unsolved(error.to_string())),
        };
        let tape = solution
            .tape(tape)
            .ok_or_else(|| unsolved("it has no tape".to_string()))?;
        let mut shown = Shown {
            volts: f64::INFINITY,
            light: f64::INFINITY,
            last_amps: 0.0,
            watts: solution
                .source_current(SourceId(0))
                .map_or(f64::NAN, |amps| amps.value * self.fed.value),
        };
        for (number, law) in laws.iter().enumerate() {
            let cells = tape.cell_volts(number);
            let last = cells.last().copied().unwrap_or(f64::NAN);
            let worst = if self.both {
                cells.iter().copied().fold(f64::INFINITY, f64::min)
            } else {
                last
            };
            let full = law.current(self.fed).value;
            shown.volts = shown.volts.min(worst);
            shown.light = shown.light.min(law.current(volts(worst)).value / full);
            shown.last_amps += law.current(volts(last)).value;
        }
        Ok(Some(shown))
    }

    fn network(
        &self,
        (common, returns): (f64, f64),
        laws: &[Law],
    ) -> (NetworkSpec, crate::network::TapeId) {
        let pitch = self.strip.pitch.to_length().value;
        let mut spec = NetworkSpec::new();
        let (plus, minus) = (spec.node("plus"), spec.node("minus"));
        spec.source(SourceSpec {
            name: "feed".into(),
            plus,
            minus,
            set_point: self.fed,
            tolerance: fraction(0.0),
            output_resistance: ohms(0.0),
            limit: Limit::None,
        });
        let (shared, far) = match self.strip.polarity {
            Polarity::CommonPlus => (plus, minus),
            Polarity::CommonMinus => (minus, plus),
        };
        let rail = |node, per_metre: f64| {
            let half = ohms(per_metre * pitch / 2.0);
            let mut attachments = vec![Attachment::through(0, node, half)];
            if self.both {
                attachments.push(Attachment::through(self.cells - 1, node, half));
            }
            RailSpec {
                links: Along::Uniform(ohms(per_metre * pitch)),
                attachments,
            }
        };
        let emitters = laws
            .iter()
            .enumerate()
            .map(|(number, law)| EmitterSpec {
                name: format!("emitter {number}"),
                lit: true,
                law: spec.law(law.clone()),
                exceptions: Vec::new(),
                rail: rail(far, returns),
            })
            .collect();
        let tape = spec.tape(TapeSpec {
            name: "piece".into(),
            polarity: self.strip.polarity,
            cells: self.cells,
            common: rail(shared, common),
            emitters,
        });
        (spec, tape)
    }
}
