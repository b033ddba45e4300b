//! What a corner does to the length of tape on its legs.

use super::spec::{Corner, CornerPolicy, Turn};
use crate::exact::ExactLength;

/// Nearest whole nanometre; lengths of a layout are far inside the range of `i64`.
fn nanometres(of: f64) -> i64 {
    libm::round(of.clamp(-9.0e17, 9.0e17)) as i64
}

/// Tangent of half the angle; exactly 1 for a square corner.
fn half_tangent(corner: &Corner) -> f64 {
    if corner.angle.millidegrees() == 90_000 {
        1.0
    } else {
        libm::tan(corner.angle.degrees().to_radians() / 2.0)
    }
}

/// Change of the tape on *each* leg beside a corner, nanometres:
/// `∓ offset · tan(θ/2)`, and half of `r·(θ − 2·tan(θ/2))` where the tape is bent.
pub(super) fn change_of_a_leg(corner: &Corner) -> i64 {
    let tangent = half_tangent(corner);
    let shift = nanometres(corner.offset.nanometres() as f64 * tangent);
    let by_offset = match corner.turn {
        Turn::Inside => -shift,
        Turn::Outside => shift,
    };
    let by_arc = match corner.policy {
        CornerPolicy::Bend { radius } => {
            let turn = corner.angle.degrees().to_radians();
            nanometres(radius.nanometres() as f64 * (turn / 2.0 - tangent))
        }
        CornerPolicy::CutAndJumper { .. } | CornerPolicy::MouldedJoint { .. } => 0,
    };
    by_offset.saturating_add(by_arc)
}

/// Half the length of tape that lies in the arc of a bend; nothing where there is none.
pub(super) fn half_arc(corner: &Corner) -> ExactLength {
    match corner.policy {
        CornerPolicy::Bend { radius } => ExactLength::from_nanometres(nanometres(
            radius.nanometres() as f64 * corner.angle.degrees().to_radians() / 2.0,
        )),
        CornerPolicy::CutAndJumper { .. } | CornerPolicy::MouldedJoint { .. } => ExactLength::ZERO,
    }
}

/// Dark lengths that a corner asks for before and after it.
pub(super) fn dark(corner: &Corner) -> (ExactLength, ExactLength) {
    match &corner.policy {
        CornerPolicy::CutAndJumper {
            dark_before,
            dark_after,
            ..
        }
        | CornerPolicy::MouldedJoint {
            dark_before,
            dark_after,
            ..
        } => (*dark_before, *dark_after),
        CornerPolicy::Bend { .. } => (ExactLength::ZERO, ExactLength::ZERO),
    }
}
