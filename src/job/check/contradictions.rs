//! Figures that are sound each by itself, and together of no product and no site.

use crate::exact::ExactLength;
use crate::job::fault::{FaultKind, Faults};
use crate::job::spec::{CableItem, DecoderSpec, LevelBits, ProfileSpec, RunSpec, SupplySpec};
use crate::layout::spec::{Piece, RunPoint};
use crate::order::Order as _;
use crate::quantity::{amps, seconds, show, watts};

/// A stated ampacity above the current at which such a wire melts in free air: `80 d^1.5` A for copper, d in mm
/// (W. H. Preece, 1884, from memory). The fuse of a conductor is no rating of it, so the figure has a digit too many.
pub(super) fn cables(cables: &[(String, &CableItem)], faults: &mut Faults) {
    for (subject, cable) in cables {
        let Some(stated) = cable.ampacity else {
            continue;
        };
        let area = cable.size.area().value * 1e6;
        let diameter = libm::sqrt(area / std::f64::consts::FRAC_PI_4);
        let melts = 80.0 * libm::pow(diameter, 1.5);
        if stated.value > melts && faults.sound(subject, &["ampacity", "size"]) {
            faults.say(
                FaultKind::Contradiction,
                (subject, "ampacity"),
                format!(
                    "is {}, and a copper wire of {} melts at about {}",
                    show(stated),
                    cable.size,
                    show(amps(libm::round(melts)))
                ),
                "Write what a core carries for ever, from the maker's sheet",
            );
        }
    }
}

/// So many times the rated power from all outputs is no supply: an assumption of this library.
const MANY: f64 = 4.0;

/// Outputs that all together would give many times what the supply is rated.
pub(super) fn supplies(supplies: &[(String, &SupplySpec)], faults: &mut Faults) {
    for (subject, supply) in supplies {
        let figures = ["power", "volts", "outputs", "output_current"];
        if !faults.sound(subject, &figures) {
            continue;
        }
        let one = supply.output_current.value * supply.volts.value;
        let all = one * f64::from(supply.outputs);
        // Some outputs may give what they can while others rest; beyond that it is a slip of the pen.
        if all > MANY * supply.power.value {
            faults.say(
                FaultKind::Contradiction,
                (subject, "output_current"),
                format!(
                    "is {} on {}, {} at {}, and the supply is rated {}",
                    show(supply.output_current),
                    match supply.outputs {
                        1 => "one output".to_string(),
                        n => format!("each of {n} outputs"),
                    },
                    show(watts(all)),
                    show(supply.volts),
                    show(supply.power)
                ),
                "Write the power of all outputs together, and the current of one",
            );
        }
    }
}

/// Levels of 16 bit on hardware of 8, and a shortest pulse as long as the period.
pub(super) fn decoders(decoders: &[(String, &DecoderSpec)], faults: &mut Faults) {
    for (subject, decoder) in decoders {
        let fine = decoder.levels.contains(&LevelBits::Sixteen);
        if fine && decoder.bits <= 8 && faults.sound(subject, &["levels", "bits"]) {
            faults.say(
                FaultKind::Contradiction,
                (subject, "levels"),
                format!(
                    "hold 16 bit, and the outputs resolve {} bits: the fine slot would set nothing",
                    decoder.bits
                ),
                "Write the bits that the outputs resolve, or levels of 8 bit only",
            );
        }
        let Some(pulse) = decoder.shortest_pulse else {
            continue;
        };
        let period = seconds(1.0 / decoder.frequency.value);
        let sound = faults.sound(subject, &["frequency", "shortest_pulse"]);
        if sound && !(pulse < period) {
            faults.say(
                FaultKind::Contradiction,
                (subject, "shortest_pulse"),
                format!(
                    "is {}, and a period at {} lasts {}",
                    show(pulse),
                    show(decoder.frequency),
                    show(period)
                ),
                "Write the shortest pulse that the outputs give, some microseconds",
            );
        }
    }
}

/// A saw cut as wide as the shortest bar is long.
pub(super) fn profiles(profiles: &[(String, &ProfileSpec)], faults: &mut Faults) {
    for (subject, profile) in profiles {
        let cover = profile.cover.as_ref();
        let cut = [
            Some(("kerf", "bars", profile.kerf, &profile.bars)),
            cover.map(|own| ("cover: kerf", "cover: bars", own.kerf, &own.bars)),
        ];
        for (field, list, kerf, bars) in cut.into_iter().flatten() {
            let shortest = bars.iter().map(|bar| bar.length).min();
            let Some(shortest) = shortest.filter(|_| faults.sound(subject, &[field, list])) else {
                continue;
            };
            if kerf >= shortest {
                faults.say(
                    FaultKind::Contradiction,
                    (subject, field),
                    format!("is {kerf}, and its shortest bar is {shortest}: a cut takes it whole"),
                    "Write the width of the saw cut, some millimetres",
                );
            }
        }
    }
}

/// So many times as long as the way by another route and along the run, and a route is a slip of the pen: an assumption of
/// this library.
const FAR: i128 = 10;
/// Ways below this are never called long.
const NEAR: ExactLength = ExactLength::from_millimetres(10_000);

/// Routes of one place to two points of a run that no site can have: together shorter than the straight between the
/// points, or one many times as long as the other with the run itself.
pub(super) fn routes(subject: &str, run: &RunSpec, faults: &mut Faults) {
    if !faults.sound(subject, &["routes", "path"]) {
        return;
    }
    let pieces = &run.layout.pieces;
    let straight = !pieces.iter().any(|piece| matches!(piece, Piece::Corner(_)));
    let length = pieces
        .iter()
        .fold(ExactLength::ZERO, |sum, piece| match piece {
            Piece::Straight { length } => sum.saturating_add(*length),
            Piece::Gap(gap) => sum.saturating_add(gap.length),
            Piece::Corner(_) => sum,
        });
    let at = |point: RunPoint| match point {
        RunPoint::Start => ExactLength::ZERO,
        RunPoint::At(at) => at,
        RunPoint::End => length,
    };
    let nm = |length: ExactLength| i128::from(length.nanometres());
    // Each is held against the other of its place by which the way along the run is shortest: it bounds best. Two sweeps
    // along the run find it.
    let mut order: Vec<usize> = (0..run.routes.len()).collect();
    order.order_by_key(|index| {
        let route = &run.routes[*index];
        (route.place.as_str(), at(route.to))
    });
    let mut nearest: Vec<Option<(i128, usize)>> = vec![None; run.routes.len()];
    let mut sweep = |order: &mut dyn Iterator<Item = &usize>| {
        let mut best: Option<usize> = None;
        for index in order {
            let route = &run.routes[*index];
            let way = |other: usize| {
                let by = &run.routes[other];
                nm(by.length) + (nm(at(by.to)) - nm(at(route.to))).abs()
            };
            let before = best.filter(|other| run.routes[*other].place == route.place);
            if let Some(other) = before {
                let found = (way(other), other);
                let own = &mut nearest[*index];
                *own = Some(own.map_or(found, |known| known.min(found)));
            }
            best = match before {
                Some(other) if way(other) <= nm(route.length) => Some(other),
                _ => Some(*index),
            };
        }
    };
    sweep(&mut order.iter());
    sweep(&mut order.iter().rev());
    for (index, route) in run.routes.iter().enumerate() {
        let Some((_, other)) = nearest[index] else {
            continue;
        };
        let other = &run.routes[other];
        let apart = (nm(at(other.to)) - nm(at(route.to))).abs();
        let here = format!("routes {}", index + 1);
        let (own, by) = (nm(route.length), nm(other.length));
        let why = if straight && own + by < apart && own <= by {
            format!(
                "is {} long, and with {} to another point it is shorter than the straight of the run between the two",
                route.length, other.length
            )
        } else if own > FAR * (by + apart) && own > nm(NEAR) {
            format!(
                "is {} long, and by {} to another point and along the run it is {FAR} times shorter",
                route.length, other.length
            )
        } else {
            continue;
        };
        faults.say(
            FaultKind::Contradiction,
            (subject, &here),
            why,
            "Measure the routes again: one way along the cable, from the place to the point",
        );
    }
}
