//! Rail resistance: stated, from foil, or found from what a run or a reading shows.

use super::class::Side;
use super::error::StripError;
use super::model::CornerSet;
use super::piece::{Piece, Shown};
use super::root;
use super::spec::{Falls, FedFrom, RailSpec, StripSpec};
use crate::cable::TemperatureRule;
use crate::exact::ExactLength;
use crate::load::Law;
use crate::network::Workspace;
use crate::quantity::{
    Corners, ElectricalResistance, Length, ThermodynamicTemperature, celsius, fraction, ohms, show,
};

/// Resistivity of standard annealed copper at 20 °C, ohm metre: 1/58 Ω·mm²/m (IEC 60028:1925).
pub const COPPER_RESISTIVITY: f64 = 1e-6 / 58.0;

/// Range in which a rail resistance is sought, ohm/m.
const LEAST: f64 = 1e-6;
const MOST: f64 = 1e3;
/// Half width of the logarithm of the resistance at which the search ends.
const WIDTH: f64 = 1e-14;
/// Share of the figure by which the resistance found may miss it; a jump misses by more.
const MISS: f64 = 1e-6;

/// Rails of one metre.
#[derive(Clone, Copy)]
pub(super) struct PerMetre {
    /// Common rail, ohm.
    pub common: f64,
    /// Each return, ohm.
    pub returns: f64,
    /// Temperature at which they hold.
    pub at: ThermodynamicTemperature,
    /// Factory splices beside them, spread, ohm.
    splices: f64,
}

impl PerMetre {
    /// One metre with its splices, as it lies on a bench.
    pub fn with_splices(&self) -> (f64, f64) {
        (self.common + self.splices, self.returns + self.splices)
    }
}

/// The rails of one metre, before tolerance and temperature; `laws` is what increments draw at nominal.
pub(super) fn per_metre(
    strip: &StripSpec,
    laws: &[Law],
    nominal: ThermodynamicTemperature,
) -> Result<PerMetre, StripError> {
    let plain = |common: f64, returns: f64| PerMetre {
        common,
        returns,
        at: celsius(20.0),
        splices: match &strip.splices {
            Some(splice) if splice.every > ExactLength::ZERO => {
                splice.resistance.value / splice.every.to_length().value
            }
            _ => 0.0,
        },
    };
    Ok(match &strip.rails {
        RailSpec::Stated { common, returns } => plain(common.value, returns.value),
        RailSpec::Foil {
            layers,
            thickness,
            common_width,
            return_width,
        } => {
            let (common, returns) = foil(*layers, *thickness, [*common_width, *return_width]);
            plain(common, returns)
        }
        RailSpec::Class { copper } => {
            let own = strip.emitters.len();
            let (common, returns) = of_foil(&copper.side(Side::Middle, own)).unwrap_or((1.0, 1.0));
            plain(common, returns)
        }
        RailSpec::MaximumRun {
            length,
            fed,
            falls,
            by,
        } => {
            let both = *fed == FedFrom::BothEnds;
            let piece = Piece::new(strip, *length, strip.rated, both, "the maximum run")?;
            let words = |of| {
                format!(
                    "a fall of {} of {of} over {length}",
                    show(fraction(by.value))
                )
            };
            let stays = 1.0 - by.value;
            match falls {
                Falls::Volts => found(&piece, laws, nominal, &words("voltage"), |shown| {
                    shown.volts / piece.fed.value / stays - 1.0
                }),
                Falls::Light => found(&piece, laws, nominal, &words("light"), |shown| {
                    shown.light / stays - 1.0
                }),
            }?
        }
        RailSpec::Reading { length, fed, far } => {
            let piece = Piece::new(strip, *length, *fed, false, "the piece that was read")?;
            let words = format!(
                "{} at the far end of {length} fed with {}",
                show(*far),
                show(*fed)
            );
            found(&piece, laws, nominal, &words, |shown| {
                shown.volts / far.value - 1.0
            })?
        }
        RailSpec::CurrentReading { length, fed, far } => {
            let piece = Piece::new(strip, *length, *fed, false, "the piece that was read")?;
            let words = format!(
                "{} in the last increment of {length} fed with {}",
                show(*far),
                show(*fed)
            );
            found(&piece, laws, nominal, &words, |shown| {
                shown.last_amps / far.value - 1.0
            })?
        }
    })
}

/// Resistance of the common rail and of a return of foil, ohm/m at 20 °C: `ρ/(layers·t·w)`.
fn foil(layers: u32, thickness: Length, [common, returns]: [Length; 2]) -> (f64, f64) {
    let of = |width: f64| COPPER_RESISTIVITY / (f64::from(layers) * thickness.value * width);
    (of(common.value), of(returns.value))
}

/// Resistance of rails that are stated or of foil, ohm/m at 20 °C.
pub(super) fn of_foil(rails: &RailSpec) -> Option<(f64, f64)> {
    match rails {
        RailSpec::Stated { common, returns } => Some((common.value, returns.value)),
        RailSpec::Foil {
            layers,
            thickness,
            common_width,
            return_width,
        } => Some(foil(*layers, *thickness, [*common_width, *return_width])),
        _ => None,
    }
}

/// The one resistance, of every rail alike, at which `excess` (what the piece shows over what is
/// wanted, less 1) is zero. A piece without operating point counts as fallen too far.
fn found(
    piece: &Piece<'_>,
    laws: &[Law],
    nominal: ThermodynamicTemperature,
    words: &str,
    excess: impl Fn(Shown) -> f64,
) -> Result<PerMetre, StripError> {
    let none = |remedy| StripError::NoResistance {
        strip: piece.strip.name.clone(),
        what: words.to_string(),
        least: LEAST,
        most: MOST,
        remedy,
    };
    let mut work = Workspace::new();
    let mut at = |log: f64| -> Result<f64, StripError> {
        let r = libm::exp(log);
        Ok(piece.solve((r, r), laws, &mut work)?.map_or(-1.0, &excess))
    };
    let (low, high) = (libm::log(LEAST), libm::log(MOST));
    let (short, long) = (at(low)?, at(high)?);
    if !(short > 0.0) {
        return Err(none(
            "It shows no more than that on the best copper: check which figure the sheet means, and the cells",
        ));
    }
    if !(long < 0.0) {
        return Err(none(
            "It never falls so far: check which figure the sheet means, and the cells",
        ));
    }
    let log = root::between((low, short), (high, long), WIDTH, &mut at)?;
    if !(at(log)?.abs() <= MISS) {
        return Err(none(
            "The cells jump past it, as those of constant current or power do: state the resistance, or take another reading",
        ));
    }
    let resistance = libm::exp(log);
    Ok(PerMetre {
        common: resistance,
        returns: resistance,
        at: nominal,
        splices: 0.0,
    })
}

/// The common rail and the returns of one increment at the three corners, each from what is known there.
pub(super) fn corners(
    strip: &StripSpec,
    known: &Corners<PerMetre>,
    corners: &CornerSet,
) -> [Corners<ElectricalResistance>; 2] {
    let pitch = strip.pitch.to_length().value;
    let tolerance = corners.rail_tolerance.value;
    let of = |rail: fn(&PerMetre) -> f64| {
        let at = |known: &PerMetre, t, scale: f64| {
            let rule = TemperatureRule::COPPER.rebased(known.at);
            ohms((rail(known) * rule.factor(t) * scale + known.splices) * pitch)
        };
        Corners {
            low: at(&known.low, corners.conductor.low, 1.0 + tolerance),
            nominal: at(&known.nominal, corners.conductor.nominal, 1.0),
            high: at(&known.high, corners.conductor.high, 1.0 - tolerance),
        }
    };
    [of(|known| known.common), of(|known| known.returns)]
}
