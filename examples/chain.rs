//! Draws a data chain, and says what each device sees, what the rules say, and what would change that.
//!
//! ```text
//! cargo run --release --example chain [file]
//! ```
//!
//! Without a file it takes an invented chain. One line a part:
//! `name  from  length  device|splitter|joint  [options]`, `from` a part or `source`. Options, in any order:
//!
//! ```text
//! 120 ohm             a terminator here                     device, splitter, joint
//! load 1/4            unit loads of the port; 1             device, splitter
//! joined | unknown    the port is not isolated, or nobody knows       device
//! rdm                 passes RDM both ways                            splitter
//! plug xlr5           connector: xlr5, 8-position, terminals, other   device, splitter
//! ```
//!
//! A line that opens with `port` says what the chain leaves from: `rdm`, a terminator, `plug …`, and
//! `bias 5 V 562 ohm`, the supply and each of the two resistors that hold the idle line.

use evenrun::device::PortIsolation;
use evenrun::dmx::bias::Bias;
use evenrun::dmx::chain::{Chain, ChainSpec, LineCable, Part, PartKind, SOURCE};
use evenrun::dmx::signal::{Change, SignalSpec};
use evenrun::finding::{Finding, Verdict};
use evenrun::quantity::{ElectricPotential, ElectricalResistance, Length, metres, ohms, parse};
use std::error::Error;

/// Invented for the demonstration.
const DEMO: &str = "\
port rdm 120 ohm  bias 5 V 680 ohm  plug xlr5
L1   source  12 m   device            plug xlr5
L2   L1      8 m    device            plug xlr5
L3   L2      8 m    device  load 1/4  plug 8-position
S1   L3      15 m   splitter  120 ohm plug 8-position
N1   S1      20 m   device            plug 8-position
N2   N1      9 m    device            plug 8-position
N3   N2      9 m    device    120 ohm plug 8-position
W1   S1      25 m   device            plug terminals
box  W1      6 m    joint
W2   box     7 m    device            plug terminals
W3   W2      7 m    device            plug terminals
W4   box     9 m    device    120 ohm plug terminals
";
/// Columns of the page.
const PAGE: usize = 100;

type Failure = Box<dyn Error>;

/// The words behind a part, or behind `port`, one after another.
struct Options<'a> {
    words: std::slice::Iter<'a, &'a str>,
}

impl<'a> Options<'a> {
    fn word(&mut self, after: &str) -> Result<&'a str, Failure> {
        let word = self.words.next().copied();
        word.ok_or_else(|| format!("`{after}` needs something behind it").into())
    }

    fn resistance(&mut self, number: &str) -> Result<ElectricalResistance, Failure> {
        Ok(parse(&format!("{number} {}", self.word(number)?))?)
    }
}

fn part(words: &[&str]) -> Result<Part, Failure> {
    let [name, from, amount, unit, kind, rest @ ..] = words else {
        return Err("name, from, length with its unit, kind".into());
    };
    let length: Length = parse(&format!("{amount} {unit}"))?;
    let part = match *kind {
        "device" => Part::device(*name, length),
        "splitter" => Part::splitter(*name, length, 4),
        "joint" => Part::joint(*name, length),
        other => return Err(format!("`{other}` is no kind: device, splitter or joint").into()),
    };
    let mut part = part.from(*from);
    let (mut load, mut isolation) = ("1", PortIsolation::Isolated);
    let mut options = Options { words: rest.iter() };
    while let Some(&word) = options.words.next() {
        match word {
            "load" => load = options.word(word)?,
            "joined" => isolation = PortIsolation::Joined,
            "unknown" => isolation = PortIsolation::Unknown,
            "rdm" => part = part.passing_rdm(),
            "plug" => part.connector = Some(options.word(word)?.parse()?),
            number => part.terminator = Some(options.resistance(number)?),
        }
    }
    Ok(part.port(load.parse()?, isolation))
}

fn port(chain: &mut ChainSpec, words: &[&str]) -> Result<(), Failure> {
    let mut options = Options {
        words: words.iter(),
    };
    while let Some(&word) = options.words.next() {
        match word {
            "rdm" => chain.rdm = true,
            "plug" => chain.connector = Some(options.word(word)?.parse()?),
            "bias" => {
                let (amount, unit) = (options.word(word)?, options.word(word)?);
                let supply: ElectricPotential = parse(&format!("{amount} {unit}"))?;
                let number = options.word(word)?;
                let resistor = options.resistance(number)?;
                chain.bias = Some(Bias { supply, resistor });
            }
            number => chain.source_terminator = Some(options.resistance(number)?),
        }
    }
    Ok(())
}

fn read(text: &str) -> Result<ChainSpec, Failure> {
    let mut chain = ChainSpec::new("demo", LineCable::data_pair(24));
    for (number, line) in text.lines().enumerate() {
        let words: Vec<&str> = line.split_whitespace().collect();
        let read = match words.as_slice() {
            [] => Ok(()),
            ["port", rest @ ..] => port(&mut chain, rest),
            words => part(words).map(|part| chain.next(part)),
        };
        read.map_err(|error| format!("line {}: {error}", number + 1))?;
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
    let end = |terminator: Option<ElectricalResistance>| {
        terminator.map_or(String::new(), |value| format!("  [{:.1} ohm]", value.value))
    };
    println!("{SOURCE}{}", end(chain.spec().source_terminator));
    push(&mut stack, SOURCE, 0);
    while let Some((at, depth)) = stack.pop() {
        let part = &parts[at];
        let passes = matches!(part.kind, PartKind::Splitter { rdm: true, .. });
        println!(
            "{}'- {:.1} m - {}{}{}",
            "   ".repeat(depth),
            part.length.value,
            part.name,
            if passes { " (passes RDM)" } else { "" },
            end(part.terminator)
        );
        push(&mut stack, &part.name, depth);
    }
}

/// Words behind an indent, on lines of at most [`PAGE`] columns.
fn wrap(first: &str, next: &str, text: &str) {
    let mut line = first.to_string();
    let mut empty = true;
    for word in text.split(' ').filter(|word| !word.is_empty()) {
        if !empty && line.chars().count() + 1 + word.chars().count() > PAGE {
            println!("{line}");
            line = next.to_string();
            empty = true;
        }
        if !empty {
            line.push(' ');
        }
        line.push_str(word);
        empty = false;
    }
    println!("{line}");
}

/// Findings that are no pass, each with the number of its source; gives the sources in order.
fn tell(findings: impl Iterator<Item = Finding>) -> Vec<String> {
    let mut sources: Vec<String> = Vec::new();
    for finding in findings.filter(|finding| finding.verdict != Verdict::Pass) {
        let source = finding.source.to_string();
        let known = sources.iter().position(|known| *known == source);
        let number = known.unwrap_or_else(|| {
            sources.push(source);
            sources.len() - 1
        });
        wrap(
            "  ",
            "      ",
            &format!("{finding} (source\u{a0}{})", number + 1),
        );
        if !finding.remedy.is_empty() {
            wrap("      remedy: ", "        ", &finding.remedy);
        }
    }
    sources
}

/// One error a line.
fn listed<E: ToString>(errors: &[E]) -> Failure {
    let lines: Vec<String> = errors.iter().map(E::to_string).collect();
    lines.join("\n").into()
}

fn main() -> Result<(), Failure> {
    let text = match std::env::args().nth(1) {
        Some(path) => std::fs::read_to_string(path)?,
        None => DEMO.to_string(),
    };
    let chain = read(&text)?.check().map_err(|errors| listed(&errors))?;
    draw(&chain);
    let plan = SignalSpec::default()
        .check()
        .map_err(|errors| listed(&errors))?;
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
    let sources = tell(chain.judge().into_iter().chain(signal.judge()));
    println!("\nSources");
    for (number, source) in sources.iter().enumerate() {
        wrap(&format!("  {:2}  ", number + 1), "      ", source);
    }

    let proposal = chain.propose(300.0).map_err(|errors| listed(&errors))?;
    if !(proposal.added.is_empty() && proposal.replaced.is_empty()) {
        println!("\nWith powered splitters where the rules ask for them");
        for (what, names) in [("added", &proposal.added), ("replaced", &proposal.replaced)] {
            if !names.is_empty() {
                wrap(&format!("  {what}: "), "    ", &names.join(", "));
            }
        }
        let proposed = proposal.chain.check().map_err(|errors| listed(&errors))?;
        draw(&proposed);
        println!("What is still found there, beside `pass`");
        let left = proposed.judge().into_iter();
        for finding in left.filter(|finding| finding.verdict != Verdict::Pass) {
            wrap("  ", "      ", &finding.to_string());
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
    ];
    println!("\nWhat if: margin of every device, V (`!` below zero)");
    print!("{}", chain.what_if(&plan, &changes)?);
    println!("\nWhat if the chain grew behind its last device");
    let grown = [Change::Devices(16), Change::Devices(32)];
    print!("{}", chain.what_if(&plan, &grown)?);
    println!(
        "\nThis is a calculation from stated assumptions; common-mode volts and crosstalk are no part of it."
    );
    Ok(())
}
