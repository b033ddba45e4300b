//! A chain of 32 devices, ten slots at steps of 1 ns; beside it ngspice on the same circuit, where it is installed.
use criterion::Criterion;
use evenrun::dmx::chain::{Chain, ChainSpec, LineCable, Part};
use evenrun::dmx::signal::{Levels, LineNet, SignalSpec};
use evenrun::quantity::{metres, ohms};
use std::hint::black_box;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

const DEVICES: usize = 32;
const SPACING: f64 = 9.0;
/// Nanoseconds of a bit.
const BIT: usize = 4000;

/// Invented: 32 devices, 9 m of 24 AWG pair from one to the next, 120 ohm at the end.
fn chain() -> Chain {
    let mut chain = ChainSpec::new("bench", LineCable::data_pair(24));
    for n in 1..=DEVICES {
        chain.next(Part::device(format!("D{n}"), metres(SPACING)));
    }
    chain.terminate(ohms(120.0));
    chain.check().expect("a tree")
}

/// Loop resistance of one cable, ohm, and its delay, ns.
fn cable() -> (f64, usize) {
    let cable = LineCable::data_pair(24);
    let delay = (SPACING * cable.delay_per_metre() * 1e9).round();
    (SPACING * cable.loop_resistance.value, delay as usize)
}

/// The same chain for ngspice: T elements with half the loop resistance at either end; `command` asks for what is wanted.
fn deck(plan: &SignalSpec, command: &str) -> String {
    let (resistance, delay) = cable();
    let half = resistance / 2.0;
    let levels = Levels::packet(&plan.slots);
    let mut points = String::from("0 0");
    let mut last = 0.0;
    for (bit, &mark) in levels.bits().iter().enumerate() {
        let (from, level) = (bit * BIT, if mark { 3.0 } else { -3.0 });
        if bit > 0 {
            points += &format!(" {from}n {last}");
        }
        points += &format!(" {}n {level}", from + 50);
        last = level;
    }
    let mut deck = format!("* chain\nV1 emf 0 PWL({points})\nRS emf n0 54\n");
    for n in 1..=DEVICES {
        deck += &format!(
            "RA{n} n{} a{n} {half}\nT{n} a{n} 0 b{n} 0 Z0=120 TD={delay}n\nRB{n} b{n} n{n} {half}\n",
            n - 1
        );
        deck += &format!("RL{n} n{n} 0 24000\nCL{n} n{n} 0 20p\n");
    }
    deck + &format!("RT n{DEVICES} 0 120\n{command}\n.end\n")
}

/// Runs ngspice for at most `limit`; seconds and whether it finished. None where it is not installed.
fn ngspice(deck: &str, file: &std::path::Path, limit: Duration) -> Option<(f64, bool)> {
    std::fs::write(file, deck).ok()?;
    let start = Instant::now();
    let run = Command::new("ngspice")
        .arg("-b")
        .arg("-r")
        .arg(file.with_extension("raw"))
        .arg(file)
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn();
    let finished = run.ok().map(|mut run| {
        while start.elapsed() < limit && matches!(run.try_wait(), Ok(None)) {
            std::thread::sleep(Duration::from_millis(5));
        }
        let finished = matches!(run.try_wait(), Ok(Some(status)) if status.success());
        let time = start.elapsed().as_secs_f64();
        let _ = run.kill();
        let _ = run.wait();
        (time, finished)
    });
    let _ = std::fs::remove_file(file.with_extension("raw"));
    let _ = std::fs::remove_file(file);
    finished
}

/// The first bit at the first and the last device, every nanosecond.
fn first_bit() -> [Vec<f64>; 2] {
    let (resistance, delay) = cable();
    let mut net = LineNet::new(1e-9).expect("a step");
    let mut node = net.node().expect("a node");
    net.source(node, 54.0).expect("a source");
    let mut watched = Vec::new();
    for _ in 0..DEVICES {
        let next = net.node().expect("a node");
        net.line([node, next], 120.0, delay, resistance)
            .expect("a line");
        net.resistor(next, 24_000.0).expect("a load");
        net.capacitor(next, 20e-12).expect("a capacitor");
        node = next;
        watched.push(next);
    }
    net.resistor(node, 120.0).expect("a terminator");
    let mut seen = [Vec::new(), Vec::new()];
    net.run(
        BIT,
        |first, out| {
            for (offset, out) in out.iter_mut().enumerate() {
                *out = 3.0 * ((first + offset) as f64 / 50.0).min(1.0);
            }
        },
        |at, _, volts| {
            for (seen, watched) in seen.iter_mut().zip([watched[0], watched[DEVICES - 1]]) {
                if at == watched {
                    seen.extend_from_slice(volts);
                }
            }
        },
    );
    seen
}

/// Largest differences from ngspice: where the waves stand still (2 mV in 31 ns), and of the peaks, as a part.
fn differences(table: &str, seen: &[Vec<f64>; 2]) -> Option<(f64, f64)> {
    let (mut apart, mut peaks) = (0.0_f64, 0.0_f64);
    for (column, seen) in seen.iter().enumerate() {
        let known: Vec<f64> = table
            .lines()
            .filter_map(|line| line.split_whitespace().nth(2 * column + 1)?.parse().ok())
            .collect();
        if known.len() < seen.len() {
            return None;
        }
        for (known, &seen) in known.windows(31).zip(&seen[15..]) {
            let least = known.iter().copied().fold(f64::INFINITY, f64::min);
            let most = known.iter().copied().fold(f64::NEG_INFINITY, f64::max);
            if most - least < 2e-3 {
                apart = apart.max((seen - known[15]).abs());
            }
        }
        let peak = |volts: &[f64]| volts.iter().fold(0.0_f64, |peak, v| peak.max(v.abs()));
        peaks = peaks.max((peak(seen) / peak(&known) - 1.0).abs());
    }
    Some((apart, peaks))
}

fn main() {
    let spec = SignalSpec::default();
    let (chain, plan) = (chain(), spec.clone().check().expect("in range"));
    let stepped = plan.clone().step_by_step();
    let mut criterion = Criterion::default().configure_from_args();
    criterion.bench_function("dmx/32 devices, 10 slots, 1 ns", |bench| {
        bench.iter(|| black_box(chain.simulate(&plan).expect("simulated")));
    });
    criterion.bench_function("dmx/the same, every bit stepped through", |bench| {
        bench.iter(|| black_box(chain.simulate(&stepped).expect("simulated")));
    });
    let start = Instant::now();
    black_box(chain.simulate(&plan).expect("simulated"));
    let ours = start.elapsed().as_secs_f64();
    let file = std::env::temp_dir().join(format!("evenrun-chain-{}.cir", std::process::id()));
    let end = Levels::packet(&spec.slots).bits().len() * BIT;
    let whole = deck(
        &spec,
        &format!(".save v(n1) v(n{DEVICES})\n.tran 1n {end}n 0 1n uic"),
    );
    // The whole packet may take hours there; ten seconds are enough for a lower bound.
    match ngspice(&whole, &file, Duration::from_secs(10)) {
        None => println!("once: {:.1} ms here; ngspice is not installed", ours * 1e3),
        Some((theirs, finished)) => println!(
            "once, the whole packet: {:.1} ms here; ngspice {}{theirs:.1} s, {}{:.0} times",
            ours * 1e3,
            if finished { "" } else { "stopped after " },
            if finished { "" } else { "more than " },
            theirs / ours
        ),
    }
    // The first bit it can finish: the same waves, both stepped through.
    let table = file.with_extension("data");
    let command = format!(
        ".control\ntran 1n {BIT}n 0 1n uic\nlinearize v(n1) v(n{DEVICES})\nwrdata {} v(n1) v(n{DEVICES})\nquit\n.endc",
        table.display()
    );
    let start = Instant::now();
    let seen = black_box(first_bit());
    let ours = start.elapsed().as_secs_f64();
    if let Some((theirs, true)) = ngspice(&deck(&spec, &command), &file, Duration::from_secs(60)) {
        println!(
            "once, the first bit stepped through: {:.2} ms here; ngspice {theirs:.1} s, {:.0} times",
            ours * 1e3,
            theirs / ours
        );
        match std::fs::read_to_string(&table)
            .ok()
            .and_then(|text| differences(&text, &seen))
        {
            Some((apart, peaks)) => println!(
                "first and last device: {:.2} mV apart away from edges, peaks {:.2} % apart",
                apart * 1e3,
                peaks * 1e2
            ),
            None => println!("ngspice's table cannot be read"),
        }
    }
    let _ = std::fs::remove_file(&table);
    criterion.final_summary();
}
