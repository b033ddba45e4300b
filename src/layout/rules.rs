//! What the rules say about a path.

use super::laid::Layout;
use super::spec::{BendSense, CornerPolicy, LayoutSpec, Piece};
use crate::exact::ExactLength;
use crate::finding::plain::{Finding, Verdict};
use crate::source::Source;

/// What the tape's maker says about bending it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct BendLimits {
    /// Smallest radius over its face, where stated.
    pub radius: Option<ExactLength>,
}

const FLAT: Source =
    Source::common_practice("tape bends over its face, not edgewise in its own plane");

const COUNT: Source = Source::computed("whole cut increments on the path as drawn");

/// Findings about bends, dark legs and dark ends: `layout-bend`, `layout-bend-edgewise`,
/// `layout-leg`, `layout-dark`.
#[must_use]
pub fn findings(run: &str, spec: &LayoutSpec, laid: &Layout, bend: BendLimits) -> Vec<Finding> {
    let place = format!("run {run}");
    let mut out = Vec::new();
    let mut corners = 0_usize;
    for piece in &spec.pieces {
        let Piece::Corner(corner) = piece else {
            continue;
        };
        corners += 1;
        let CornerPolicy::Bend { radius } = corner.policy else {
            continue;
        };
        let at = format!("{place}, corner {corners}");
        if corner.bend == BendSense::Edgewise {
            out.push(
                Finding::fail("layout-bend-edgewise", at.clone())
                    .says("the tape would have to bend edgewise, in its own plane")
                    .source(FLAT)
                    .remedy("cut the tape here and join it with a jumper or a moulded joint"),
            );
        }
        out.push(match bend.radius {
            Some(least) => Finding::new(
                "layout-bend",
                Verdict::at_least(radius.metres(), least.metres()),
                at,
            )
            .says("radius of the bend against the smallest the maker permits")
            .figure(radius.to_string())
            .limit(least.to_string())
            .source(Source::data_sheet("the tape: smallest bend radius"))
            .remedy("widen the bend, or cut and join the tape here"),
            None => {
                Finding::not_evaluated("layout-bend", at, "the tape states no smallest bend radius")
                    .figure(radius.to_string())
            }
        });
    }
    for (index, leg) in laid.legs().iter().enumerate() {
        if leg.increments() == 0 {
            out.push(
                Finding::fail("layout-leg", format!("{place}, leg {}", index + 1))
                    .says("no cut increment fits on this leg: all of it stays dark")
                    .limit(laid.pitch().to_string())
                    .source(COUNT)
                    .remedy("choose a tape with a shorter cut pitch, or draw this leg longer"),
            );
        }
    }
    out.push(dark(&place, laid));
    out
}

/// How much of the run lights, and what would mend the rest.
fn dark(place: &str, laid: &Layout) -> Finding {
    let short = laid.pitch().length_of(1);
    let rest = laid.dark_end().max(laid.dark_start());
    let finding = Finding::pass("layout-dark", place)
        .says(format!(
            "{} of {} drawn lights; dark: {} at the start, {} between, {} at the end",
            laid.lit(),
            laid.drawn(),
            laid.dark_start(),
            laid.dark_between(),
            laid.dark_end()
        ))
        .figure(laid.lit().to_string())
        .limit(laid.drawn().to_string())
        .source(COUNT);
    if rest >= short {
        finding.remedy("an end stays dark for a whole increment or more: check caps and leads")
    } else {
        finding
    }
}
