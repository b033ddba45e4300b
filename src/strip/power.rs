//! What a stated power per length says about the current of the cells.

use super::cells::{SHEET_CELSIUS, as_stated, increments};
use super::error::StripError;
use super::model::CornerSet;
use super::piece::Piece;
use super::rails;
use super::root;
use super::spec::{PowerBasis, StripSpec};
use crate::network::Workspace;
use crate::quantity::{Corners, celsius, show, watts_per_metre};
use std::borrow::Cow;

/// By how much power and current of a sheet may disagree, where the basis of the power is known.
const ROUNDING: f64 = 0.1;
/// The same where it is not.
const UNKNOWN: (f64, f64) = (0.5, 2.0);

/// How many times their stated current the cells draw.
pub(super) struct Scale {
    pub by: Corners<f64>,
    pub note: Option<String>,
}

/// Power per length of a piece without drop, as the currents of the sheet have it, W/m.
pub(super) fn from_currents(strip: &StripSpec) -> Option<f64> {
    let mut cell = 0.0;
    for emitter in &strip.emitters {
        cell += as_stated(&emitter.cell, strip.rated).ok()?.value;
    }
    Some(strip.rated.value * cell * f64::from(strip.cells) * strip.pitch.per_metre())
}

/// Stated power and the currents of a sheet disagree.
fn contradiction(strip: &StripSpec, drawn: f64, on: &str) -> StripError {
    StripError::Contradiction {
        strip: strip.name.clone(),
        what: format!(
            "the power is {}, measured on {on}",
            strip.power.map_or_else(String::new, show)
        ),
        against: format!(
            "by their currents its cells draw {} there",
            show(watts_per_metre(drawn))
        ),
        remedy: "Make them agree within 10 %, or state what the power was measured on",
    }
}

/// Whether a power measured on a short piece can be; for the check before any corner is known.
pub(super) fn short_piece_agrees(strip: &StripSpec) -> Result<(), StripError> {
    let (Some(power), Some(drawn)) = (strip.power, from_currents(strip)) else {
        return Ok(());
    };
    let ratio = drawn / power.value;
    match strip.power_basis {
        PowerBasis::ShortPiece if !((ratio - 1.0).abs() <= ROUNDING) => {
            Err(contradiction(strip, drawn, "a short piece"))
        }
        PowerBasis::Unknown if !(ratio >= UNKNOWN.0 && ratio <= UNKNOWN.1) => Err(contradiction(
            strip,
            drawn,
            "something that the sheet does not say",
        )),
        _ => Ok(()),
    }
}

/// The multiple of the stated currents that explains the stated power.
///
/// Of a strip of a class, the weaker side draws most beside a power measured on a reel, as its drop is the greatest.
pub(super) fn scale(
    sides: &Corners<Cow<'_, StripSpec>>,
    corners: &CornerSet,
) -> Result<Scale, StripError> {
    let strip: &StripSpec = &sides.nominal;
    let one = Scale {
        by: Corners::same(1.0),
        note: None,
    };
    let (Some(power), Some(drawn)) = (strip.power, from_currents(strip)) else {
        return Ok(one);
    };
    let short = power.value / drawn;
    let of_a_class = matches!(sides.low, Cow::Owned(_));
    // Where currents are made from the power itself, they do not bound it.
    let known = match of_a_class {
        true => UNKNOWN,
        false => (1.0 / (1.0 + ROUNDING), 1.0 / (1.0 - ROUNDING)),
    };
    let note = |text: String| Some(text);
    match strip.power_basis {
        PowerBasis::ShortPiece => Ok(Scale {
            by: Corners::same(short),
            note: note(format!(
                "currents of the cells: {short:.4} times the stated ones, so that a short piece draws {}",
                show(power)
            )),
        }),
        PowerBasis::FullReel => match on_a_reel(strip, corners, power.value, known)? {
            Ok(full) => Ok(Scale {
                by: match of_a_class {
                    true => Corners {
                        low: on_the_side(&sides.high, corners, power.value)?,
                        nominal: full,
                        high: on_the_side(&sides.low, corners, power.value)?,
                    },
                    false => Corners::same(full),
                },
                note: note(format!(
                    "currents of the cells: {full:.4} times the stated ones, so that a reel of {} fed at one end draws {}",
                    strip.reel,
                    show(power)
                )),
            }),
            Err(drawn) => Err(contradiction(strip, drawn, "a full reel fed at one end")),
        },
        PowerBasis::Unknown => {
            let full = on_the_side(&sides.low, corners, power.value)?;
            let (low, high) = (short.min(1.0), full.max(1.0));
            Ok(Scale {
                by: Corners {
                    low,
                    nominal: 1.0,
                    high,
                },
                note: note(format!(
                    "the sheet does not say what its {} were measured on: the cells draw between {low:.3} and {high:.3} times their stated currents (a short piece, a full reel); find out which",
                    show(power)
                )),
            })
        }
    }
}

/// That of one side of a class on a reel; the most that is sought where it asks for more.
fn on_the_side(strip: &StripSpec, corners: &CornerSet, wanted: f64) -> Result<f64, StripError> {
    let full = on_a_reel(strip, corners, wanted, UNKNOWN)?;
    Ok(full.unwrap_or(UNKNOWN.1))
}

/// The multiple at which a reel fed at one end draws `wanted` W/m, between the two given; else
/// what it draws at the nearer of them.
fn on_a_reel(
    strip: &StripSpec,
    corners: &CornerSet,
    wanted: f64,
    (low, high): (f64, f64),
) -> Result<Result<f64, f64>, StripError> {
    let piece = Piece::new(strip, strip.reel, strip.rated, false, "the reel")?;
    let length = strip.pitch.to_length().value * piece.cells as f64;
    let mut work = Workspace::new();
    let mut drawn = |scale: f64| -> Result<f64, StripError> {
        let at_nominal = increments(strip, corners.cell.nominal, scale)?;
        let rails = rails::per_metre(strip, &at_nominal, corners.conductor.nominal)?;
        let laws = increments(strip, celsius(SHEET_CELSIUS), scale)?;
        let shown = piece.solve(rails.with_splices(), &laws, &mut work)?;
        // Past its collapse a reel draws nothing that could be measured: too much was asked.
        Ok(shown.map_or(f64::INFINITY, |shown| shown.watts / length))
    };
    let (least, most) = (drawn(low)?, drawn(high)?);
    if !(least <= wanted) {
        return Ok(Err(drawn(1.0)?.max(least)));
    }
    if !(most >= wanted) {
        return Ok(Err(drawn(1.0)?.min(most)));
    }
    let excess = |watts: f64| (watts / wanted - 1.0).min(1.0);
    root::between((low, excess(least)), (high, excess(most)), 1e-13, |scale| {
        Ok::<_, StripError>(excess(drawn(scale)?))
    })
    .map(Ok)
}
