//! What the rules say about a path.

use super::laid::Layout;
use super::spec::{BendSense, Corner, CornerPolicy, LayoutSpec, Piece};
use crate::exact::ExactLength;
use crate::finding::{Case, Finding, Limit, Rule, Subject};
use crate::id::RunId;
use crate::source::Source;

/// What the tape's maker says about bending it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct BendLimits {
    /// Smallest radius over its face, where stated.
    pub radius: Option<ExactLength>,
}

/// Every rule of this room, in the order in which they are judged.
pub const RULES: &[&Rule] = &[&EDGEWISE, &BEND, &LEG, &DARK];

const FLAT: Source =
    Source::common_practice("tape bends over its face, not edgewise in its own plane");
const COUNT: Source = Source::computed("whole cut increments on the path as drawn");

/// Findings about bends, dark legs and dark ends: `layout-bend`, `layout-bend-edgewise`,
/// `layout-leg`, `layout-dark`.
#[must_use]
pub fn findings(run: &RunId, spec: &LayoutSpec, laid: &Layout, bend: BendLimits) -> Vec<Finding> {
    let corners = spec.pieces.iter().filter_map(|piece| match piece {
        Piece::Corner(corner) => Some(corner),
        _ => None,
    });
    let mut out = Vec::new();
    for (number, corner) in (1..).zip(corners) {
        let about = || Subject::Corner {
            run: run.clone(),
            number,
        };
        if let CornerPolicy::Bend { radius } = corner.policy {
            out.extend(edgewise(corner, about()));
            out.push(radius_of_bend(radius, bend, about()));
        }
    }
    for (number, leg) in (1..).zip(laid.legs()) {
        if leg.increments() == 0 {
            out.push(dark_leg(run, number, laid));
        }
    }
    out.push(dark(run, laid));
    out
}

const SIDEWAYS: Case = Case::plain(
    "edgewise",
    "the tape would have to bend edgewise, in its own plane",
)
.remedy("cut the tape here and join it with a jumper or a moulded joint");

/// Bends in the plane of the tape.
const EDGEWISE: Rule = Rule {
    id: "layout-bend-edgewise",
    title: "Bend of the tape in its own plane",
    asks: "Does the tape bend over its face at each corner that it is bent round?",
    source: FLAT,
    needs: &[],
    cases: &[&SIDEWAYS],
};

fn edgewise(corner: &Corner, about: Subject) -> Option<Finding> {
    (corner.bend == BendSense::Edgewise).then(|| EDGEWISE.fails(&SIDEWAYS, about))
}

const RADIUS: Case = Case::judged(
    "radius",
    "bend radius against the minimum stated by the maker",
)
.remedy("widen the bend, or cut and join the tape here");
const NO_RADIUS: Case =
    Case::open("not-stated", "", "the tape states no minimum bend radius").figure("{figure}");

/// Bend radius.
const BEND: Rule = Rule {
    id: "layout-bend",
    title: "Bend radius",
    asks: "Is the radius of each bend at least the minimum stated for the tape?",
    source: Source::label("the tape: minimum bend radius"),
    needs: &["the minimum bend radius of the tape"],
    cases: &[&RADIUS, &NO_RADIUS],
};

fn radius_of_bend(radius: ExactLength, bend: BendLimits, about: Subject) -> Finding {
    match bend.radius {
        Some(least) => BEND.at_least(&RADIUS, about, radius, least),
        None => BEND.not_evaluated(&NO_RADIUS, about).figure(radius),
    }
}

const DARK_LEG: Case = Case::plain(
    "dark",
    "no cut increment fits on this leg: all of it is unlit",
)
.limit("{limit}")
.remedy("take a tape with a shorter cut pitch, or end the run before this leg");

/// Legs that stay dark.
const LEG: Rule = Rule {
    id: "layout-leg",
    title: "Unlit leg",
    asks: "Does at least one cut increment fit on each straight leg of the run?",
    source: COUNT,
    needs: &[],
    cases: &[&DARK_LEG],
};

fn dark_leg(run: &RunId, number: u64, laid: &Layout) -> Finding {
    let about = Subject::Leg {
        run: run.clone(),
        number,
    };
    LEG.fails(&DARK_LEG, about)
        .limit(Limit::AtLeast(laid.pitch().into()))
}

const LIT: &str = "{figure} of {limit} drawn lights; dark: {start} at the start, {between} between, {end} at the end";
const LIGHTS: Case = Case::judged("lights", LIT);
const DARK_END: Case = Case::judged("dark-end", LIT)
    .remedy("an end is unlit for a whole increment or more: check end caps and leads");

/// How much of the run lights.
const DARK: Rule = Rule {
    id: "layout-dark",
    title: "Lit and dark lengths",
    asks: "How much of each run lights, and where does it stay dark?",
    source: COUNT,
    needs: &[],
    cases: &[&LIGHTS, &DARK_END],
};

/// How much of the run lights, and what would mend the rest.
fn dark(run: &RunId, laid: &Layout) -> Finding {
    let increment = laid.pitch().length_of(1);
    let rest = laid.dark_end().max(laid.dark_start());
    let case = if rest >= increment {
        &DARK_END
    } else {
        &LIGHTS
    };
    DARK.passes(case, Subject::Run(run.clone()))
        .figure(laid.lit())
        .limit(Limit::AtMost(laid.drawn().into()))
        .fact("start", laid.dark_start())
        .fact("between", laid.dark_between())
        .fact("end", laid.dark_end())
}
