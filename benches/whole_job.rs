//! Whole jobs, from the file to the design: time and memory, with what a run costs of each.
//!
//! `cargo bench --bench whole_job`; `-- 100 1000` for other numbers of runs. Ten runs share a place and a zone, as on the floors of
//! a building; tape, cables, supplies and decoder are those of the invented demo. The memory is the peak of the process
//! (`VmHWM` of Linux; elsewhere it is left out), so numbers of runs are taken in rising order.

use evenrun::{job, plan};
use std::fmt::Write;
use std::time::Instant;

const DEMO: &str = include_str!("../examples/archive_wing.toml");
const SIZES: [usize; 3] = [100, 1_000, 10_000];
/// Runs to a place, places to a universe.
const TO_A_PLACE: usize = 10;
const TO_A_UNIVERSE: usize = 8;

/// A job of so many runs, as text.
fn text(runs: usize) -> String {
    let products =
        DEMO.split("# ---------------------------------------------------------------- places");
    let mut out = products.take(1).collect::<String>();
    let places = runs.div_ceil(TO_A_PLACE);
    for place in 0..places {
        let universe = place / TO_A_UNIVERSE;
        let _ = writeln!(
            out,
            "[[place]]\nname = \"cupboard {place}\"\nroom = \"floor {place}\"\nambient = \"35 °C\"\nlead = \"600 mm\"\n\
             lead_cables = [\"2 x 2.5 mm2\"]\n\n\
             [[zone]]\nname = \"accent {place}\"\nstrip = \"white 24 V, 14.4 W/m\"\ncontrol = \"8 bit\"\ncurve = \"square\"\n\
             places = [\"cupboard {place}\"]\ndecoders = [\"4 outputs, 6 A each\"]\n\
             cables = [\"2 x 1.5 mm2\", \"2 x 2.5 mm2\", \"2 x 4 mm2\"]\nuniverse = \"u{universe}\"\n"
        );
    }
    for universe in 0..places.div_ceil(TO_A_UNIVERSE) {
        let number = universe + 1;
        let _ = writeln!(
            out,
            "[[universe]]\nname = \"u{universe}\"\nnumber = {number}\nport = \"desk, port {number}\"\n"
        );
    }
    for run in 0..runs {
        let place = run / TO_A_PLACE;
        let (length, near, far) = (40 + run * 7 % 60, 5 + run % 7, 9 + run % 5);
        let _ = writeln!(
            out,
            "[[run]]\nname = \"R{run}\"\nzone = \"accent {place}\"\nroom = \"room {place}\"\n\
             path = [{{ straight = \"{length}00 mm\" }}]\nprofile = \"shelf profile\"\nroutes = [\n\
             {{ from = \"cupboard {place}\", to = \"start\", length = \"{near} m\", basis = \"measured\" }},\n\
             {{ from = \"cupboard {place}\", to = \"end\", length = \"{far} m\", basis = \"scaled\" }}]\n"
        );
    }
    out
}

/// Peak memory of this process, MiB.
fn peak() -> Option<f64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status
        .lines()
        .find_map(|line| line.strip_prefix("VmHWM:"))?;
    let kibibytes: f64 = line.split_whitespace().next()?.parse().ok()?;
    Some(kibibytes / 1024.0)
}

fn main() {
    let asked: Vec<usize> = std::env::args()
        .skip(1)
        .filter_map(|n| n.parse().ok())
        .collect();
    let sizes = if asked.is_empty() {
        SIZES.to_vec()
    } else {
        asked
    };
    for runs in sizes {
        let text = text(runs);
        let start = Instant::now();
        let job = job::read(&text, "whole.toml").unwrap_or_else(|faults| panic!("{faults}"));
        let read = start.elapsed().as_secs_f64();
        let design = plan::plan(&job);
        let all = start.elapsed().as_secs_f64();
        let memory = peak().map_or_else(String::new, |mib| format!(", peak {mib:.0} MiB"));
        println!(
            "{runs} runs: read {read:.2} s, to the design {all:.2} s, {:.2} ms a run{memory}; {} segments, {} findings",
            1e3 * all / runs as f64,
            design.segments.len(),
            design.findings.len()
        );
    }
}
