//! Draws a data chain, and says what each device sees and what would change that.
//!
//! ```text
//! cargo run --release --example chain [file]
//! ```
//!
//! Without a file it takes an invented chain. One line a part:
//! `name  from  length  device|splitter|joint  [terminator]`, `from` a part or `source`.

use evenrun::device::PortIsolation;
use evenrun::dmx::chain::{Chain, ChainSpec, LineCable, Part, SOURCE};
use evenrun::dmx::signal::{Change, SignalSpec};
use evenrun::quantity::{ElectricalResistance, Length, metres, ohms, parse};
use std::error::Error;

/// Invented for the demonstration.
const DEMO: &str = "\
L1   source  12 m   device
L2   L1      8 m    device
L3   L2      8 m    device
S1   L3      15 m   splitter  120 ohm
N1   S1      20 m   device
N2   N1      9 m    device
N3   N2      9 m    device    120 ohm
W1   S1      25 m   device
box  W1      6 m    joint
W2   box     7 m    device
W3   W2      7 m    device
W4   box     9 m    device    120 ohm
";

fn read(text: &str) -> Result<ChainSpec, Box<dyn Error>> {
    let mut chain = ChainSpec::new("demo", LineCable::data_pair(24));
    for (number, line) in text
        .lines()
        .enumerate()
        .filter(|(_, line)| !line.trim().is_empty())
    {
        let words: Vec<&str> = line.split_whitespace().collect();
        let [name, from, amount, unit, kind, rest @ ..] = words.as_slice() else {
            return Err(format!("line {}: name, from, length, kind", number + 1).into());
        };
        let length: Length = parse(&format!("{amount} {unit}"))?;
        let part = match *kind {
            "device" => Part::device(*name, length).port("1".parse()?, PortIsolation::Isolated),
            "splitter" => Part::splitter(*name, length, 4),
            "joint" => Part::joint(*name, length),
            other => return Err(format!("line {}: `{other}` is no kind", number + 1).into()),
        };
        let mut part = part.from(*from);
        if !rest.is_empty() {
            part.terminator = Some(parse::<ElectricalResistance>(&rest.join(" "))?);
        }
        chain.next(part);
    }
    Ok(chain)
}

/// The tree, one line a part, branches indented.
fn draw(chain: &Chain) {
    let parts = &chain.spec().parts;
    let mut stack: Vec<(usize, usize)> = Vec::new();
    let push = |stack: &mut Vec<(usize, usize)>, name: &str, depth: usize| {
        let next: Vec<usize> = (0..parts.len())
            .filter(|&n| parts[n].from == name)
            .collect();
        let depth = if next.len() > 1 { depth + 1 } else { depth };
        stack.extend(next.into_iter().rev().map(|n| (n, depth)));
    };
    println!("{SOURCE}");
    push(&mut stack, SOURCE, 0);
    while let Some((at, depth)) = stack.pop() {
        let part = &parts[at];
        let end = part
            .terminator
            .map_or(String::new(), |value| format!("  [{} ohm]", value.value));
        println!(
            "{}'- {:.1} m - {}{end}",
            "   ".repeat(depth),
            part.length.value,
            part.name
        );
        push(&mut stack, &part.name, depth);
    }
}

fn main() -> Result<(), Box<dyn Error>> {
    let text = match std::env::args().nth(1) {
        Some(path) => std::fs::read_to_string(path)?,
        None => DEMO.to_string(),
    };
    let chain = read(&text)?.check().map_err(|errors| {
        errors
            .iter()
            .map(ToString::to_string)
            .collect::<Vec<_>>()
            .join("\n")
    })?;
    draw(&chain);
    let plan = SignalSpec::default()
        .check()
        .map_err(|errors| format!("{errors:?}"))?;
    let signal = chain.simulate(&plan)?;
    println!(
        "\nWhat each device sees: least volts while it samples, and the volts over the 0.2 V it needs"
    );
    for link in &signal.links {
        println!("{}", link.place);
        for device in &link.devices {
            println!(
                "  {:8} {:6.1} m  least {:5.2} V  margin {:5.2} V  peak {:5.2} V  {}",
                device.name,
                device.distance.value,
                device.least_in_window.value,
                device.margin(),
                device.peak.value,
                device.word()
            );
        }
    }
    println!("\nFindings other than `pass`");
    for finding in chain.judge().into_iter().chain(signal.judge()) {
        if finding.verdict != evenrun::finding::Verdict::Pass {
            println!(
                "  {finding}\n      source: {}; {}",
                finding.source, finding.remedy
            );
        }
    }
    let parts = &chain.spec().parts;
    let middle = parts[parts.len() / 2].name.clone();
    let changes = [
        Change::NoTerminator,
        Change::Terminators(ohms(60.0)),
        Change::TerminatorAlso(middle.clone(), ohms(120.0)),
        Change::Split(middle.clone(), metres(60.0)),
        Change::Stub(middle, metres(5.0)),
        Change::Devices(40),
    ];
    println!("\nWhat if: margin of every device, V (`!` below zero)");
    print!("{}", chain.what_if(&plan, &changes)?);
    println!(
        "\nThis is a calculation from stated assumptions; common-mode volts and crosstalk are no part of it."
    );
    Ok(())
}
