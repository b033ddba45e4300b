//! A chain of 32 devices, ten slots at steps of 1 ns; beside it ngspice on the same circuit, where it is installed.
use criterion::Criterion;
use evenrun::dmx::chain::{Chain, ChainSpec, LineCable, Part};
use evenrun::dmx::signal::SignalSpec;
use evenrun::quantity::{metres, ohms};
use std::hint::black_box;
use std::process::{Command, Stdio};
use std::time::Instant;

/// Invented: 32 devices, 9 m of 24 AWG pair from one to the next, 120 ohm at the end.
fn chain() -> Chain {
    let mut chain = ChainSpec::new("bench", LineCable::data_pair(24));
    for n in 1..=32 {
        chain.next(Part::device(format!("D{n}"), metres(9.0)));
    }
    chain.terminate(ohms(120.0));
    chain.check().expect("a tree")
}

/// The same chain for ngspice: T elements with half the loop resistance at either end.
fn deck(plan: &SignalSpec) -> String {
    let cable = LineCable::data_pair(24);
    let delay = (9.0 * cable.delay_per_metre() * 1e9).round();
    let half = 9.0 * cable.loop_resistance.value / 2.0;
    let levels = evenrun::dmx::signal::Levels::packet(&plan.slots);
    let mut points = String::from("0 0");
    let mut last = 0.0;
    for (bit, &mark) in levels.bits().iter().enumerate() {
        let (from, level) = (bit as f64 * 4000.0, if mark { 3.0 } else { -3.0 });
        if bit > 0 {
            points += &format!(" {from}n {last}");
        }
        points += &format!(" {}n {level}", from + 50.0);
        last = level;
    }
    let mut deck = format!("* chain\nV1 emf 0 PWL({points})\nRS emf n0 54\n");
    for n in 1..=32 {
        deck += &format!(
            "RA{n} n{} a{n} {half}\nT{n} a{n} 0 b{n} 0 Z0=120 TD={delay}n\nRB{n} b{n} n{n} {half}\n",
            n - 1
        );
        deck += &format!("RL{n} n{n} 0 24000\nCL{n} n{n} 0 20p\n");
    }
    let end = levels.bits().len() * 4000;
    deck + &format!("RT n32 0 120\n.save v(n1) v(n32)\n.tran 1n {end}n 0 1n uic\n.end\n")
}

fn main() {
    let spec = SignalSpec::default();
    let (chain, plan) = (chain(), spec.clone().check().expect("in range"));
    let mut criterion = Criterion::default().configure_from_args();
    criterion.bench_function("dmx/32 devices, 10 slots, 1 ns", |bench| {
        bench.iter(|| black_box(chain.simulate(&plan).expect("simulated")));
    });
    let start = Instant::now();
    black_box(chain.simulate(&plan).expect("simulated"));
    let ours = start.elapsed().as_secs_f64();
    let path = std::env::temp_dir().join(format!("evenrun-chain-{}.cir", std::process::id()));
    if std::fs::write(&path, deck(&spec)).is_ok() {
        let start = Instant::now();
        let run = Command::new("ngspice")
            .arg("-b")
            .arg("-r")
            .arg(path.with_extension("raw"))
            .arg(&path)
            .stdin(Stdio::null())
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn();
        if let Ok(mut run) = run {
            // It may take hours; ten seconds are enough for a lower bound.
            while start.elapsed().as_secs() < 10 && matches!(run.try_wait(), Ok(None)) {
                std::thread::sleep(std::time::Duration::from_millis(20));
            }
            let theirs = start.elapsed().as_secs_f64();
            let word = match run.try_wait() {
                Ok(Some(status)) if status.success() => "",
                Ok(Some(_)) => "failed after ",
                _ => "unfinished after ",
            };
            let _ = run.kill();
            let _ = run.wait();
            println!(
                "once: {:.1} ms here; ngspice {word}{theirs:.1} s, {:.0} times",
                ours * 1e3,
                theirs / ours
            );
        } else {
            println!("once: {:.1} ms here; ngspice is not installed", ours * 1e3);
        }
        let _ = std::fs::remove_file(path.with_extension("raw"));
        let _ = std::fs::remove_file(&path);
    }
    criterion.final_summary();
}
