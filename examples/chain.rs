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

#[path = "shared/arguments.rs"]
mod arguments;
#[path = "shared/screen.rs"]
mod screen;

use evenrun::device::PortIsolation;
use evenrun::dmx::bias::Bias;
use evenrun::dmx::chain::{Chain, ChainSpec, LineCable, Part, PartKind, SOURCE};
use evenrun::dmx::signal::{Change, SignalSpec};
use evenrun::finding::{Finding, Verdict};
use evenrun::quantity::{ElectricPotential, ElectricalResistance, Length, metres, ohms, parse};
use evenrun::rules;
use std::error::Error;
use std::io::{self, Write};
use std::process::ExitCode;

/// A data chain drawn: what each device sees, what the rules say, what would change that.
#[derive(clap::Parser)]
#[command(
    name = "chain",
    after_help = "Exit codes: 0 printed, 1 the chain has faults, 2 a file or the command line is wrong."
)]
struct Asked {
    /// A line a part, as the page of this example says; without it an invented chain
    #[arg(value_name = "FILE")]
    file: Option<String>,
}

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
                chain.bias = Some(Bias::new(supply, resistor));
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

/// The tree: a line of cable and devices up to where it ends or divides, its ways on indented below.
fn draw(chain: &Chain, out: &mut impl Write) -> std::io::Result<()> {
    let parts = &chain.spec().parts;
    let after = |name: &str| -> Vec<usize> {
        (0..parts.len())
            .filter(|&n| parts[n].from == name)
            .collect()
    };
    let ohms = |value: ElectricalResistance| format!(" [{:.1} Ω]", value.value);
    let port = chain.spec().source_terminator.map_or(String::new(), ohms);
    writeln!(out, "  {SOURCE}{port}")?;
    let mut ways: Vec<(usize, usize, Option<usize>)> = Vec::new();
    let push = |ways: &mut Vec<_>, next: Vec<usize>, depth: usize, outputs: bool| {
        let next = next.into_iter().enumerate().rev();
        ways.extend(next.map(|(n, part)| (part, depth, outputs.then_some(n + 1))));
    };
    push(&mut ways, after(SOURCE), 0, false);
    while let Some((mut at, depth, output)) = ways.pop() {
        let mut words = output.map_or(String::new(), |n| format!("output {n}: "));
        loop {
            let part = &parts[at];
            let next = after(&part.name);
            let splits = matches!(part.kind, PartKind::Splitter { .. });
            words += &format!("{:.1} m -- {}", part.length.value, part.name);
            words += match part.kind {
                PartKind::Splitter { rdm: true, .. } => " (splitter, passes RDM)",
                PartKind::Splitter { .. } => " (splitter)",
                PartKind::Joint => " (joint)",
                PartKind::Device { .. } => "",
            };
            match part.terminator {
                Some(value) => words += &ohms(value),
                None if next.is_empty() || splits => words += " [open end]",
                None => {}
            }
            if next.len() == 1 && !splits {
                words += " -- ";
                at = next[0];
            } else {
                let indent = " ".repeat(2 + 3 * depth);
                wrap(
                    out,
                    &format!("{indent}'-- "),
                    &format!("{indent}      "),
                    &words,
                )?;
                push(&mut ways, next, depth + 1, splits);
                break;
            }
        }
    }
    Ok(())
}

/// Words behind an indent, on lines of at most [`PAGE`] columns.
fn wrap(out: &mut impl Write, first: &str, next: &str, text: &str) -> std::io::Result<()> {
    let mut line = first.to_string();
    let mut empty = true;
    for word in text.split(' ').filter(|word| !word.is_empty()) {
        if !empty && line.chars().count() + 1 + word.chars().count() > PAGE {
            writeln!(out, "{line}")?;
            line = next.to_string();
            empty = true;
        }
        if !empty {
            line.push(' ');
        }
        line.push_str(word);
        empty = false;
    }
    writeln!(out, "{line}")
}

/// Findings that are no pass, each with the number of its source; gives the sources in order.
fn tell(
    findings: impl Iterator<Item = Finding>,
    out: &mut impl Write,
) -> std::io::Result<Vec<String>> {
    let mut sources: Vec<String> = Vec::new();
    for finding in findings.filter(|finding| finding.verdict != Verdict::Pass) {
        let source = finding.source.to_string();
        let known = sources.iter().position(|known| *known == source);
        let number = known.unwrap_or_else(|| {
            sources.push(source);
            sources.len() - 1
        });
        wrap(
            out,
            "  ",
            "      ",
            &format!("{} (source\u{a0}{})", rules::line(&finding), number + 1),
        )?;
        let remedy = rules::words(&finding).remedy;
        if !remedy.is_empty() {
            wrap(out, "      remedy: ", "        ", &remedy)?;
        }
    }
    Ok(sources)
}

fn main() -> ExitCode {
    screen::program(run)
}

/// The program: its arguments in, what it prints on both streams and its exit code out.
///
/// # Errors
/// What it prints cannot be written.
pub fn run(
    arguments: impl Iterator<Item = String>,
    out: &mut impl Write,
    err: &mut impl Write,
) -> io::Result<u8> {
    let asked: Asked = match arguments::read(arguments, out, err)? {
        Ok(asked) => asked,
        Err(code) => return Ok(code),
    };
    let text = match &asked.file {
        None => DEMO.to_string(),
        Some(path) => match std::fs::read_to_string(path) {
            Ok(text) => text,
            Err(error) => {
                let _ = writeln!(err, "{path}: {error}");
                return Ok(2);
            }
        },
    };
    let mut page = Vec::new();
    let answer = print(&text, &mut page);
    out.write_all(&page)?;
    if let Err(error) = answer {
        let _ = writeln!(err, "{error}");
        return Ok(1);
    }
    Ok(0)
}

fn print(text: &str, out: &mut impl Write) -> Result<(), Failure> {
    let chain = read(text)?.check()?;
    writeln!(out, "RISER\n")?;
    draw(&chain, out)?;
    let plan = SignalSpec::default().check()?;
    let signal = chain.simulate(&plan)?;
    writeln!(out, "\nMARGIN OF EVERY DEVICE\n")?;
    wrap(
        out,
        "  ",
        "  ",
        "Ten slots from the weakest driver permitted (3 V behind 54 Ω), edges of 50 ns. Least: the least volts in \
         the middle half of any bit. Margin: what is left of it over the 0.2 V a receiver needs.",
    )?;
    writeln!(
        out,
        "\n  {:10} {:>10} {:>8} {:>8} {:>8}  Bits",
        "Device", "Distance", "Least", "Margin", "Peak"
    )?;
    for link in &signal.links {
        writeln!(out, "{}", link.link)?;
        for device in &link.devices {
            writeln!(
                out,
                "  {:10} {:>8.1} m {:>6.2} V {:>6.2} V {:>6.2} V  {}",
                device.name,
                device.distance.value,
                device.least_in_window.value,
                device.margin(),
                device.peak.value,
                device.word()
            )?;
        }
    }
    writeln!(out, "\nFINDINGS OTHER THAN PASS\n")?;
    let sources = tell(chain.judge().into_iter().chain(signal.judge()), out)?;
    writeln!(out, "\n  Sources")?;
    for (number, source) in sources.iter().enumerate() {
        wrap(out, &format!("  {:2}  ", number + 1), "      ", source)?;
    }

    let proposal = chain.propose(300.0)?;
    if !(proposal.added.is_empty() && proposal.replaced.is_empty()) {
        writeln!(
            out,
            "\nWITH POWERED SPLITTERS WHERE THE RULES ASK FOR THEM\n"
        )?;
        for (what, names) in [("added", &proposal.added), ("replaced", &proposal.replaced)] {
            if !names.is_empty() {
                wrap(out, &format!("  {what}: "), "    ", &names.join(", "))?;
            }
        }
        let proposed = proposal.chain.check()?;
        draw(&proposed, out)?;
        writeln!(out, "\n  What is still found there, beside pass")?;
        let left = proposed.judge().into_iter();
        for finding in left.filter(|finding| finding.verdict != Verdict::Pass) {
            wrap(out, "  ", "      ", &rules::line(&finding))?;
        }
    }

    let parts = &chain.spec().parts;
    let links = chain.links();
    let first = links.first().map_or(&[][..], |link| &link.parts);
    let middle = first.get(first.len() / 2).map_or(0, |&part| part);
    let middle = parts[middle].name.clone();
    let changes = [
        Change::NoTerminator,
        Change::Terminators(ohms(60.0)),
        Change::TerminatorAlso(middle.clone(), ohms(120.0)),
        Change::Split(middle.clone(), metres(60.0)),
        Change::Stub(middle, metres(5.0)),
        Change::Devices(40),
    ];
    writeln!(
        out,
        "\nWHAT IF (margin in volts; ! where a device does not read for certain)\n"
    )?;
    write!(out, "{}", chain.what_if(&plan, &changes)?)?;
    writeln!(out)?;
    wrap(
        out,
        "  ",
        "  ",
        "On a short line the margin can rise without a terminator: what comes back adds to the level once it has \
         settled. The peaks rise as well, and on a long line the same echo falls into the next bit.",
    )?;
    writeln!(out)?;
    wrap(
        out,
        "",
        "",
        "A calculation from stated assumptions; common-mode volts and crosstalk are no part of the margins. It \
         approves nothing: that is for the standards and whoever signs for the installation.",
    )?;
    Ok(())
}
