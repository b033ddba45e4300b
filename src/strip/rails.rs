//! Rail resistance: stated, from foil, or found from what a run or a reading shows.

use super::error::StripError;
use super::model::CornerSet;
use super::spec::{Falls, FedFrom, RailSpec, StripSpec};
use crate::cable::TemperatureRule;
use crate::exact::ExactLength;
use crate::load::Law;
use crate::network::{
    Along, Attachment, EmitterSpec, Limit, NetworkSpec, Polarity, RailSpec as Rail, SolveOptions,
    SourceSpec, TapeId, TapeSpec, Workspace,
};
use crate::quantity::{
    Corners, ElectricPotential, ElectricalResistance, ThermodynamicTemperature, fraction, ohms,
    show, volts,
};

/// Resistivity of standard annealed copper at 20 °C, ohm metre: 1/58 Ω·mm²/m (IEC 60028:1925).
pub const COPPER_RESISTIVITY: f64 = 1e-6 / 58.0;

/// Range in which a rail resistance is sought, ohm/m.
const LEAST: f64 = 1e-6;
const MOST: f64 = 1e3;
/// Halvings of that range, on a logarithmic scale: to the last digits of a double.
const HALVINGS: usize = 80;

/// Rails of one metre, ohm: common, each return.
struct PerMetre {
    common: f64,
    returns: f64,
    /// Temperature at which they hold, and whether factory splices are within them.
    at: ThermodynamicTemperature,
    with_splices: bool,
}

/// The common rail and the returns of one increment at the three corners.
pub(super) fn rails(
    strip: &StripSpec,
    corners: &CornerSet,
    laws: &[Corners<Law>],
) -> Result<[Corners<ElectricalResistance>; 2], StripError> {
    let twenty = crate::quantity::celsius(20.0);
    let plain = |common: f64, returns: f64| PerMetre {
        common,
        returns,
        at: twenty,
        with_splices: false,
    };
    let positive = |what: &'static str, found: f64, shown: String| {
        if found > 0.0 && found.is_finite() {
            Ok(found)
        } else {
            Err(StripError::Rail {
                strip: strip.name.clone(),
                what,
                found: shown,
                accepted: "above 0",
            })
        }
    };
    let known = match &strip.rails {
        RailSpec::Stated { common, returns } => plain(
            positive("the common rail", common.value, show(*common))?,
            positive("a return rail", returns.value, show(*returns))?,
        ),
        RailSpec::Foil {
            layers,
            thickness,
            common_width,
            return_width,
        } => {
            let layers = positive(
                "the number of layers",
                f64::from(*layers),
                layers.to_string(),
            )?;
            let t = positive(
                "the thickness of the foil",
                thickness.value,
                show(*thickness),
            )?;
            let wide = positive(
                "the width of the common rail",
                common_width.value,
                show(*common_width),
            )?;
            let narrow = positive(
                "the width of a return rail",
                return_width.value,
                show(*return_width),
            )?;
            let of = |width: f64| COPPER_RESISTIVITY / (width * t * layers);
            plain(of(wide), of(narrow))
        }
        RailSpec::MaximumRun {
            length,
            fed,
            falls,
            by,
        } => {
            let wanted = Wanted::Fall {
                both: *fed == FedFrom::BothEnds,
                light: *falls == Falls::Light,
                by: by.value,
            };
            let piece = Piece::of(strip, laws, *length, strip.rated, "the maximum run")?;
            found(&piece, wanted, corners)?
        }
        RailSpec::Reading { length, fed, far } => {
            let piece = Piece::of(strip, laws, *length, *fed, "the piece that was read")?;
            found(&piece, Wanted::Far(*far), corners)?
        }
    };
    let splice = match &strip.splices {
        Some(splice) if !known.with_splices && splice.every > ExactLength::ZERO => {
            splice.resistance.value / splice.every.to_length().value
        }
        _ => 0.0,
    };
    let rule = TemperatureRule::COPPER.rebased(known.at);
    let pitch = strip.pitch.to_length().value;
    let tolerance = corners.rail_tolerance.value;
    let of = |per_metre: f64| {
        let at = |t, scale: f64| ohms((per_metre * rule.factor(t) * scale + splice) * pitch);
        Corners {
            low: at(corners.conductor.low, 1.0 + tolerance),
            nominal: at(corners.conductor.nominal, 1.0),
            high: at(corners.conductor.high, 1.0 - tolerance),
        }
    };
    Ok([of(known.common), of(known.returns)])
}

/// What a rail resistance must explain.
#[derive(Clone, Copy)]
enum Wanted {
    /// A share that falls at the far end, or in the middle of a piece fed at both ends.
    Fall { both: bool, light: bool, by: f64 },
    /// Volts at the far end.
    Far(ElectricPotential),
}

/// A piece of tape with every emitter lit at nominal, fed stiffly.
struct Piece<'a> {
    strip: &'a StripSpec,
    laws: &'a [Corners<Law>],
    cells: usize,
    fed: ElectricPotential,
}

impl<'a> Piece<'a> {
    fn of(
        strip: &'a StripSpec,
        laws: &'a [Corners<Law>],
        length: ExactLength,
        fed: ElectricPotential,
        what: &'static str,
    ) -> Result<Self, StripError> {
        let cells = usize::try_from(strip.pitch.count_in(length)).unwrap_or(usize::MAX);
        if cells == 0 {
            return Err(StripError::TooShort {
                strip: strip.name.clone(),
                what,
                length: length.to_string(),
                increment: strip.pitch.length_of(1).to_string(),
            });
        }
        if cells > 100_000 {
            return Err(StripError::Rail {
                strip: strip.name.clone(),
                what,
                found: length.to_string(),
                accepted: "at most 100,000 cut increments",
            });
        }
        Ok(Self {
            strip,
            laws,
            cells,
            fed,
        })
    }

    /// Volts of the cells with every rail of `per_metre` ohm/m: least over the emitters at the
    /// last cell, or at the cell that has least.
    fn solve(
        &self,
        per_metre: f64,
        both: bool,
        work: &mut Workspace,
    ) -> Result<(f64, f64), String> {
        let increment = per_metre * self.strip.pitch.to_length().value;
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
        let (common, far) = match self.strip.polarity {
            Polarity::CommonPlus => (plus, minus),
            Polarity::CommonMinus => (minus, plus),
        };
        let rail = |node| {
            let half = ohms(increment / 2.0);
            let mut attachments = vec![Attachment::through(0, node, half)];
            if both {
                attachments.push(Attachment::through(self.cells - 1, node, half));
            }
            Rail {
                links: Along::Uniform(ohms(increment)),
                attachments,
            }
        };
        let emitters = self
            .laws
            .iter()
            .enumerate()
            .map(|(number, law)| EmitterSpec {
                name: format!("emitter {number}"),
                lit: true,
                law: spec.law(law.nominal.clone()),
                exceptions: Vec::new(),
                rail: rail(far),
            })
            .collect();
        let tape: TapeId = spec.tape(TapeSpec {
            name: "piece".into(),
            polarity: self.strip.polarity,
            cells: self.cells,
            common: rail(common),
            emitters,
        });
        let network = spec
            .check()
            .map_err(|all| all.first().map_or_else(String::new, ToString::to_string))?;
        let solution = network
            .solve(&SolveOptions::default(), work)
            .map_err(|e| e.to_string())?;
        let tape = solution.tape(tape).ok_or_else(|| "no tape".to_string())?;
        let (mut least_volts, mut least_light) = (f64::INFINITY, f64::INFINITY);
        for (number, law) in self.laws.iter().enumerate() {
            let full = law.nominal.current(self.fed).value;
            let worst = if both {
                tape.cell_volts(number)
                    .iter()
                    .copied()
                    .fold(f64::INFINITY, f64::min)
            } else {
                tape.cell_volts(number).last().copied().unwrap_or(f64::NAN)
            };
            least_volts = least_volts.min(worst);
            least_light = least_light.min(law.nominal.current(volts(worst)).value / full);
        }
        Ok((least_volts, least_light))
    }
}

/// Halves the range of rail resistance until it explains what is wanted.
fn found(piece: &Piece<'_>, wanted: Wanted, corners: &CornerSet) -> Result<PerMetre, StripError> {
    let mut work = Workspace::new();
    let words = match wanted {
        Wanted::Fall { light, by, .. } => format!(
            "a fall of {} of {}",
            show(fraction(by)),
            if light { "light" } else { "voltage" }
        ),
        Wanted::Far(far) => format!(
            "{} at the far end of a piece fed with {}",
            show(far),
            show(piece.fed)
        ),
    };
    let none = |remedy| StripError::NoResistance {
        strip: piece.strip.name.clone(),
        what: words.clone(),
        least: LEAST,
        most: MOST,
        remedy,
    };
    // Positive while the resistance is too small.
    let mut short = |per_metre: f64| -> Result<f64, StripError> {
        let both = matches!(wanted, Wanted::Fall { both: true, .. });
        let (volts, light) = piece
            .solve(per_metre, both, &mut work)
            .map_err(|_| none("The solver found no solution on the way; state the resistance"))?;
        Ok(match wanted {
            Wanted::Fall {
                light: true, by, ..
            } => by - (1.0 - light),
            Wanted::Fall { by, .. } => by - (1.0 - volts / piece.fed.value),
            Wanted::Far(far) => volts - far.value,
        })
    };
    if !(short(LEAST)? > 0.0) {
        return Err(none(
            "It falls by more, or the far end reads less, than is possible: check which figure the sheet means",
        ));
    }
    if !(short(MOST)? < 0.0) {
        return Err(none(
            "It never falls so far: check which figure the sheet means",
        ));
    }
    let (mut low, mut high) = (libm::log(LEAST), libm::log(MOST));
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        if short(libm::exp(middle))? > 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    let per_metre = libm::exp(0.5 * (low + high));
    Ok(PerMetre {
        common: per_metre,
        returns: per_metre,
        at: corners.conductor.nominal,
        with_splices: true,
    })
}
