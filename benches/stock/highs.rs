//! The instances of `tests/reference/highs` by this crate and by HiGHS, in one run.
//!
//! HiGHS runs through SciPy. Its time is that of `milp` alone: Python is up and the columns
//! of the programme are made before. This crate's time is the whole plan, from the checked
//! problem to bars, reasons and runner-up. Of both the least of nine runs counts, of fewer once
//! they have taken 0.3 s.

use crate::{common, instances};
use evenrun::choose::{devices, stock};
use evenrun::progress::Progress;
use std::collections::BTreeMap;
use std::hint::black_box;
use std::process::Command;
use std::time::Instant;

/// Prints the ratios, or that there is nothing to compare with.
pub fn compare() {
    for (name, script) in [("stock", "generate_stock"), ("supply", "generate_supply")] {
        let Some(highs) = highs(script) else {
            eprintln!("{name}: no ratio to HiGHS, as no python3 here has SciPy (python3-scipy)");
            continue;
        };
        let mut own = BTreeMap::new();
        for row in common::rows(&format!("highs/{name}.csv"), 1) {
            let seconds = if name == "stock" {
                let job = instances::stock(&row).check().expect("a good row");
                least(|| stock::plan(black_box(&job), &mut Progress::silent()).is_ok())
            } else {
                let job = instances::supply(&row);
                least(|| devices::assign(black_box(&job), &mut Progress::silent()).is_ok())
            };
            own.insert(row.text("id").to_owned(), seconds);
        }
        tell(name, &highs, &own);
    }
}

/// Seconds of each instance by HiGHS.
fn highs(script: &str) -> Option<BTreeMap<String, f64>> {
    let path = format!(
        "{}/tests/reference/highs/{script}.py",
        env!("CARGO_MANIFEST_DIR")
    );
    let output = ["python3", "/usr/bin/python3"].iter().find_map(|python| {
        let has = Command::new(python).args(["-c", "import scipy"]).output();
        has.ok()?.status.success().then_some(())?;
        Command::new(python).arg(&path).arg("time").output().ok()
    })?;
    assert!(
        output.status.success(),
        "{script}: {}",
        String::from_utf8_lossy(&output.stderr)
    );
    let text = String::from_utf8(output.stdout).expect("text");
    let cells = text.lines().filter_map(|line| line.split_once(','));
    Some(
        cells
            .map(|(id, s)| (id.to_owned(), s.parse().expect("seconds")))
            .collect(),
    )
}

fn least(mut run: impl FnMut() -> bool) -> f64 {
    let (mut least, mut sum) = (f64::INFINITY, 0.0);
    for _ in 0..9 {
        let start = Instant::now();
        black_box(run());
        let seconds = start.elapsed().as_secs_f64();
        least = least.min(seconds);
        sum += seconds;
        if sum >= 0.3 {
            break;
        }
    }
    least
}

fn tell(name: &str, highs: &BTreeMap<String, f64>, own: &BTreeMap<String, f64>) {
    let mut ratios: Vec<(f64, &str)> = own
        .iter()
        .map(|(id, own)| (highs[id] / own, id.as_str()))
        .collect();
    ratios.sort_by(|a, b| a.0.total_cmp(&b.0));
    let total = |times: &BTreeMap<String, f64>| times.values().sum::<f64>();
    let slow: Vec<String> = ratios
        .iter()
        .take(5)
        .map(|(ratio, id)| format!("{id} {ratio:.1}"))
        .collect();
    eprintln!(
        "{name}: {} instances, HiGHS {:.3} s, here {:.3} s: total {:.0} times, median {:.0} times \
         as fast; lowest: {}",
        ratios.len(),
        total(highs),
        total(own),
        total(highs) / total(own),
        ratios[ratios.len() / 2].0,
        slow.join(", ")
    );
}
