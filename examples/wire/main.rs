//! Candidate wires for one load at the end of a two-core cable, side by side.
//!
//! ```text
//! cargo run --release --example wire -- "25 ft" "4 A" "24 V" "3 %"
//! cargo run --release --example wire -- "7.5 m" "4 A" "24 V" "0.72 V" ambient="40 °C" insulation="90 °C" source="20 A"
//! ```
//!
//! Route one way, current, voltage, and the drop allowed, in per cent or volts; each with its unit, metric or US.
//! `ambient` is 30 °C and `insulation` 75 °C unless stated; the copper is taken as hot as the insulation bears, or as
//! `copper` says. `source` is the most that the supply can give for good; without it a device is assumed to be needed.
#[path = "../shared/arguments.rs"]
mod arguments;
#[path = "../shared/screen.rs"]
mod screen;
mod sheet;

use evenrun::cable::drop::loop_drop;
use evenrun::cable::{
    Ampacity, Cable, CableSpec, ConductorSize, Construction, Installation, NoTable, Resistance,
    SizeSystem,
};
use evenrun::protect::{STOCKED, STOCKED_AMPS, fitting_ratings, longest_for_drop};
use evenrun::quantity::*;
use sheet::{Said, Sources, aligned, wrapped};
use std::io::{self, Write};
use std::process::ExitCode;

/// Candidates thinner than the first that keeps the drop, and thicker.
const THINNER: usize = 2;
const THICKER: usize = 3;

/// What is asked.
struct Asked {
    route: RouteLength,
    current: ElectricCurrent,
    volts: ElectricPotential,
    allowed: ElectricPotential,
    ambient: ThermodynamicTemperature,
    insulation: ThermodynamicTemperature,
    copper: ThermodynamicTemperature,
    source: Option<ElectricCurrent>,
}

/// Candidate wires for one load at the end of a two-core cable, side by side.
#[derive(clap::Parser)]
#[command(name = "wire", after_help = AS_IN)]
struct Words {
    /// ROUTE CURRENT VOLTS DROP, each with its unit, then any of ambient=T insulation=T copper=T source=I
    #[arg(required = true)]
    words: Vec<String>,
}

const AS_IN: &str =
    "As in: wire \"25 ft\" \"4 A\" \"24 V\" \"3 %\" ambient=\"40 °C\" source=\"20 A\"";

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
    let words: Words = match arguments::read(arguments, out, err)? {
        Ok(words) => words,
        Err(code) => return Ok(code),
    };
    match read(&words.words) {
        Ok(asked) => {
            print(&asked, out)?;
            Ok(0)
        }
        Err(error) => {
            let _ = writeln!(err, "{error}\n{AS_IN}");
            Ok(2)
        }
    }
}

/// One argument as a quantity, with its name in the refusal.
fn quantity<Q: Measured>(name: &str, text: &str) -> Result<Q, String> {
    parse(text).map_err(|error| format!("{name}: {error}"))
}

fn read(words: &[String]) -> Result<Asked, String> {
    let (named, plain): (Vec<&String>, Vec<&String>) =
        words.iter().partition(|word| word.contains('='));
    let [route, current, volts, drop] = plain.as_slice() else {
        return Err(format!(
            "four quantities are needed, and {} were given",
            plain.len()
        ));
    };
    let route: Length = quantity("route", route)?;
    let current: ElectricCurrent = quantity("current", current)?;
    let volts: ElectricPotential = quantity("voltage", volts)?;
    let allowed: ElectricPotential = if drop.trim_end().ends_with('%') {
        volts * quantity::<Ratio>("drop", drop)?
    } else {
        quantity("drop", drop)?
    };
    let mut asked = Asked {
        route: RouteLength::new(route),
        current,
        volts,
        allowed,
        ambient: celsius(30.0),
        insulation: celsius(75.0),
        copper: celsius(75.0),
        source: None,
    };
    let mut copper = None;
    for word in named {
        let (name, text) = word.split_once('=').unwrap_or((word, ""));
        match name {
            "ambient" => asked.ambient = quantity(name, text)?,
            "insulation" => asked.insulation = quantity(name, text)?,
            "copper" => copper = Some(quantity(name, text)?),
            "source" => asked.source = Some(quantity(name, text)?),
            _ => {
                return Err(format!(
                    "`{name}` is none of ambient, insulation, copper, source"
                ));
            }
        }
    }
    asked.copper = copper.unwrap_or(asked.insulation);
    for (name, value) in [
        ("route", route.value),
        ("current", current.value),
        ("voltage", volts.value),
        ("drop", allowed.value),
    ] {
        if !(value > 0.0) {
            return Err(format!("the {name} must be above zero"));
        }
    }
    if !(allowed.value <= volts.value) {
        return Err(format!(
            "a drop of {} is more than the voltage, {}",
            show(allowed),
            show(volts)
        ));
    }
    if let Some(source) = asked.source
        && !(source.value >= current.value)
    {
        return Err(format!(
            "source: {} is less than the load, {}; state the most that the supply can give, or leave it out",
            show(source),
            show(current)
        ));
    }
    // One wire tried for what no wire bears: a rating that is not sold, copper hotter than its insulation.
    let probe = CableSpec {
        insulation_rating: Some(asked.insulation),
        ..CableSpec::two_core("asked for", ConductorSize::ONE_SQUARE_MILLIMETRE)
    };
    let cable = probe.check().map_err(|errors| {
        let lines: Vec<String> = errors.iter().map(ToString::to_string).collect();
        lines.join("\n")
    })?;
    let bears = cable.core_resistance_per_length(0, asked.copper);
    bears.map_err(|error| error.to_string())?;
    Ok(asked)
}

/// One wire with everything that is printed about it.
struct Candidate {
    cable: Cable,
    size: ConductorSize,
    resistance: Resistance,
    drop: ElectricPotential,
    ampacities: Vec<Result<Ampacity, NoTable>>,
}

impl Candidate {
    fn new(asked: &Asked, size: ConductorSize, ways: &[Installation]) -> Option<Self> {
        let spec = CableSpec {
            insulation_rating: Some(asked.insulation),
            ..CableSpec::two_core(size.to_string(), size)
        };
        let cable = spec.check().ok()?;
        let resistance = cable.core_resistance_per_length(0, asked.copper).ok()?;
        let around = asked.route.there_and_back();
        Some(Self {
            size,
            drop: loop_drop(resistance.per_length, around, asked.current),
            ampacities: ways
                .iter()
                .map(|way| cable.ampacity(asked.ambient, 2, *way))
                .collect(),
            resistance,
            cable,
        })
    }

    /// The least of the ampacities that a table gives, and the least of the device limits.
    fn least(&self) -> Option<(ElectricCurrent, Option<ElectricCurrent>)> {
        let found = || self.ampacities.iter().flatten();
        let least = |a: f64, b: f64| if b < a { b } else { a };
        let ampacity = found().map(|a| a.current.value).reduce(least)?;
        let device = found()
            .filter_map(|a| a.largest_device.as_ref().map(|d| d.rating.value))
            .reduce(least);
        Some((amps(ampacity), device.map(amps)))
    }

    fn protection(&self, asked: &Asked) -> String {
        let Some((ampacity, device)) = self.least() else {
            return "not\nevaluated".to_string();
        };
        // The device limit of a size holds for a source that stands in for the device, too.
        let most = device.map_or(ampacity.value, |d| d.value.min(ampacity.value));
        if asked.source.is_some_and(|source| source.value <= most) {
            return "source\nlimits".to_string();
        }
        if !(asked.current.value <= ampacity.value) {
            return "too thin".to_string();
        }
        let fitting = fitting_ratings(asked.current, ampacity, device, STOCKED_AMPS);
        match (fitting.first(), fitting.last()) {
            (Some(first), Some(last)) if first.rating != last.rating => {
                format!("{} to\n{}", show(first.rating), show(last.rating))
            }
            (Some(only), _) => show(only.rating),
            _ => "none fits".to_string(),
        }
    }
}

/// The candidates of one system around the thinnest that keeps the drop.
fn candidates(asked: &Asked, system: SizeSystem, ways: &[Installation]) -> Vec<Candidate> {
    let all: Vec<Candidate> = ConductorSize::standard_sizes(system)
        .into_iter()
        .filter_map(|size| Candidate::new(asked, size, ways))
        .collect();
    let first = all
        .iter()
        .position(|c| c.drop.value <= asked.allowed.value)
        .unwrap_or(all.len().saturating_sub(1 + THICKER));
    let skip = first.saturating_sub(THINNER);
    all.into_iter()
        .skip(skip)
        .take(THINNER + 1 + THICKER)
        .collect()
}

fn print(asked: &Asked, out: &mut impl Write) -> std::io::Result<()> {
    let asked_for = format!(
        "{} ({}) one way, {} at the far end whatever the voltage there, {}; drop allowed {} ({:.2} %)",
        show_in(asked.route.length(), "m", 2),
        show_in(asked.route.length(), "ft", 1),
        show(asked.current),
        show(asked.volts),
        show(asked.allowed),
        asked.allowed.value / asked.volts.value * 100.0
    );
    write!(out, "{}", wrapped(&asked_for, 0))?;
    writeln!(
        out,
        "two cores of plain copper at {}, insulation rated {}, ambient {}, both cores loaded\n",
        show(asked.copper),
        show(asked.insulation),
        show(asked.ambient)
    )?;
    let mut sources = Sources::default();
    let mut said = Said::default();
    for (system, words) in [
        (
            SizeSystem::American,
            ["us 402.5", "us 400.5", "us 310.16"].as_slice(),
        ),
        (SizeSystem::Metric, ["iec B2", "iec C"].as_slice()),
    ] {
        let ways: Vec<Installation> = words.iter().filter_map(|w| w.parse().ok()).collect();
        let found = candidates(asked, system, &ways);
        writeln!(out, "{}", table(asked, &found, &ways, &mut sources))?;
        if !found.iter().any(|c| c.drop.value <= asked.allowed.value) {
            writeln!(
                out,
                "no size listed keeps the drop: shorten the route, feed at both ends, or raise the voltage\n"
            )?;
        }
        for c in &found {
            for (way, ampacity) in ways.iter().zip(&c.ampacities) {
                said.hear(c.size, *way, ampacity, &mut sources);
            }
        }
    }
    writeln!(
        out,
        "Protection needed: the span of stocked ratings {} with load <= rating <= the least ampacity shown,\n\
         and within the limit for the size where a rule has one. Dc voltage, breaking capacity, curve and\n\
         clearing are still to be chosen.",
        sources.number(&STOCKED)
    )?;
    for (heading, lines) in [
        ("Applied and assumed", &said.notes),
        ("Where the table says `none`", &said.refusals),
    ] {
        if !lines.is_empty() {
            writeln!(out, "\n{heading}")?;
        }
        for (line, wires) in lines {
            write!(
                out,
                "{}",
                wrapped(&format!("{}: {line}", wires.join(", ")), 2)
            )?;
        }
    }
    writeln!(out, "\nSources")?;
    for (k, line) in sources.0.iter().enumerate() {
        write!(out, "{}", wrapped(&format!("[{}] {line}", k + 1), 2))?;
    }
    writeln!(
        out,
        "\nThis calculates and approves nothing: local codes govern, and a licensed person designs and\n\
         connects. Joints, terminals and the supply's own tolerance are not in these figures."
    )?;
    Ok(())
}

fn table(
    asked: &Asked,
    found: &[Candidate],
    ways: &[Installation],
    sources: &mut Sources,
) -> String {
    let mut head = vec!["wire".to_string()];
    head.extend(found.iter().map(|c| {
        let built = c
            .cable
            .cores()
            .first()
            .map(|core| core.conductor().construction);
        let built = built.unwrap_or(Construction::Unknown);
        format!("{}\n{built}", c.size)
    }));
    let mut rows = vec![head];
    let mut row = |name: String, cell: &dyn Fn(&Candidate) -> String| {
        let mut cells = vec![name];
        cells.extend(found.iter().map(cell));
        rows.push(cells);
    };
    let mut bases: Vec<String> = Vec::new();
    for c in found {
        let number = sources.number(&c.resistance.source);
        if !bases.contains(&number) {
            bases.push(number);
        }
    }
    let area = |c: &Candidate| format!("{:.3} mm²", c.size.area().value * 1e6);
    row("area of a core".to_string(), &area);
    let around = asked.route.there_and_back().length();
    row(format!("loop {}", bases.concat()), &|c| {
        show(ohms(c.resistance.per_length.value * around.value))
    });
    row("drop".to_string(), &|c| {
        let share = c.drop.value / asked.volts.value * 100.0;
        format!("{}\n{share:.2} %", show(c.drop))
    });
    row("keeps the drop".to_string(), &|c| {
        let keeps = c.drop.value <= asked.allowed.value;
        if keeps { "yes" } else { "no" }.to_string()
    });
    row("longest route".to_string(), &|c| {
        longest_for_drop(asked.allowed, c.resistance.per_length, asked.current).map_or_else(
            || "-".to_string(),
            |route| {
                let route = route.length();
                format!("{}\n{}", show_in(route, "m", 2), show_in(route, "ft", 1))
            },
        )
    });
    row("lost in the wire".to_string(), &|c| {
        show(watts(c.drop.value * asked.current.value))
    });
    for (k, way) in ways.iter().enumerate() {
        let mut cited: Vec<String> = Vec::new();
        for ampacity in found
            .iter()
            .filter_map(|c| c.ampacities.get(k)?.as_ref().ok())
        {
            let number = sources.number(&ampacity.source);
            if !cited.contains(&number) {
                cited.push(number);
            }
        }
        let cited = cited.concat();
        row(
            format!("ampacity, {way} {cited}"),
            &|c| match c.ampacities.get(k) {
                Some(Ok(found)) => show(found.current),
                _ => "none".to_string(),
            },
        );
    }
    row("protection needed".to_string(), &|c| c.protection(asked));
    row("copper of the cable".to_string(), &|c| {
        format!("{:.1} g/m", c.cable.copper_per_length().value * 1e3)
    });
    aligned(&rows)
}
