//! What limits each run, and what would help it most.

use crate::design::{Binding, Design, Lever, LeverKind, Run, Weakest};
use crate::report::schedule::{Draft, PER_CENT, Schedule};

/// Levers shown of a run; the design holds the rest.
const SHOWN: usize = 3;

/// A run with its weakest cell and one of its levers; none: nothing brings it more.
struct Row<'a> {
    run: &'a Run,
    weakest: &'a Weakest,
    lever: Option<&'a Lever>,
}

pub(in crate::report) fn levers(design: &Design) -> Schedule {
    Draft::<Row<'_>>::new(
        "levers",
        "What would help most",
        "The weakest cell of each run with all that shares its copper, worst case low, and the three changes that give it the most current. \
         At: from the start of the run's tape. Current, gain: as a share of nominal. Gains are slopes at the operating point: \
         good for small changes, one at a time; plan again with what is changed. One AWG size thicker has 21 % less resistance (ASTM B258).",
    )
    .name("run", "Run", |r| &r.run.id)
    .name("limit", "Nearest limit", move |r| nearest(design, r.run))
    .metres("at", "At", |r| r.weakest.position)
    .words("emitter", "Emitter", |r| &r.weakest.emitter)
    .figure("current", "Current", PER_CENT, 1, |r| r.weakest.current)
    .words("lever", "Change", |r| {
        r.lever.map_or_else(|| "none of those known".to_string(), change)
    })
    .figure_or("gain", "Gain", PER_CENT, 2, "-", |r| {
        r.lever.map(|lever| lever.gain)
    })
    .of(|r| vec![r.run.id.clone()])
    .fill(design.runs.iter().flat_map(rows))
}

fn rows(run: &Run) -> Vec<Row<'_>> {
    let Some(weakest) = run.weakest.figures() else {
        return Vec::new();
    };
    let row = |lever| Row {
        run,
        weakest,
        lever,
    };
    if weakest.levers.is_empty() {
        return vec![row(None)];
    }
    let shown = weakest.levers.iter().take(SHOWN);
    shown.map(|lever| row(Some(lever))).collect()
}

/// What is changed, in words.
fn change(lever: &Lever) -> String {
    let value = lever.change.value();
    let of_resistance = |what: String| {
        let (percent, way) = (
            value.abs() * 100.0,
            if value < 0.0 { "less" } else { "more" },
        );
        format!("{what}: {percent:.0} % {way} resistance")
    };
    match &lever.what {
        LeverKind::SetPoint { supply, output } => {
            format!("{supply}, output {output}: {} more", lever.change)
        }
        LeverKind::OutputResistance { supply, output } => {
            of_resistance(format!("{supply}, output {output}"))
        }
        LeverKind::Lead(cable) => of_resistance(format!("lead {cable}")),
        LeverKind::Feeder(cable) => of_resistance(format!("feeder {cable}")),
        LeverKind::Switch { decoder, output } => {
            of_resistance(format!("{decoder}, switch of output {output}"))
        }
        LeverKind::Rails(strip) => of_resistance(format!("rails of {strip}")),
    }
}

/// The limit that comes nearest to being broken.
fn nearest(design: &Design, run: &Run) -> String {
    match design.nearest_limit(&run.id) {
        Some(Binding::Nearest { limit, used, .. }) => {
            format!("{}, {:.1} % used", limit.words(), used.si() * 100.0)
        }
        _ => "none named".to_string(),
    }
}
