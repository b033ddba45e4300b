//! Plans a job and sends its addresses to this machine, as streaming ACN: the patch can be looked at
//! on a monitor of universes before there is a cable.
//!
//! ```sh
//! cargo run --release --example send                            # the invented demo
//! cargo run --release --example send -- FILE.toml               # your file
//! cargo run --release --example send -- --seconds 30            # for longer than a second
//! cargo run --release --example send -- --port 5569             # where 5568 is taken
//! ```
//!
//! The level of a slot tells whose it is, read as two hexadecimal digits: the first counts the devices
//! of the patch in the order of their addresses (1 to F, then from 1 again), the second the slots of the
//! device (0 to F, then from 0 again). Slots of nobody carry 0. `2C` is slot 13 of the second device.
//!
//! Exit codes: 0 sent, 1 the job has faults or nothing to send, 2 the command line or the network.

#[path = "shared/arguments.rs"]
mod arguments;
#[path = "shared/screen.rs"]
mod screen;

use clap::Parser;
use evenrun::design::Design;
use evenrun::dmx::address::MULTICAST_PORT;
use evenrun::dmx::sacn::{self, DataPacket, DataSpec};
use evenrun::dmx::timing::SLOTS;
use evenrun::{job, plan};
use std::collections::BTreeMap;
use std::io::{self, Write};
use std::net::{Ipv4Addr, SocketAddr, UdpSocket};
use std::process::ExitCode;
use std::time::Duration;

const DEMO: &str = include_str!("archive_wing.toml");
/// Identity of this example as a source, a UUID made for it.
const CID: [u8; 16] = [
    0x5e, 0x0d, 0x1a, 0x7c, 0x6b, 0x2f, 0x4c, 0x93, 0x9a, 0x41, 0x0f, 0xd8, 0x77, 0x26, 0xb1, 0x3e,
];

/// The patch of a job as streaming ACN to this machine, each slot with a level that says whose it is.
#[derive(Parser)]
#[command(name = "send")]
struct Asked {
    /// Job file; without it the invented demo
    #[arg(value_name = "FILE.toml")]
    file: Option<String>,
    /// Address; every other than this machine's own is refused
    #[arg(long, value_name = "127.0.0.1", value_parser = here_only)]
    to: Option<Ipv4Addr>,
    /// Port
    #[arg(long, value_name = "N", default_value_t = MULTICAST_PORT, value_parser = clap::value_parser!(u16).range(1..))]
    port: u16,
    /// How long
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = clap::value_parser!(u32).range(1..=3600))]
    seconds: u32,
    /// Send this slot wrong, so that a check can be seen to fail
    #[arg(long, value_name = "UNIVERSE.SLOT", value_parser = slot)]
    wrong: Option<(u16, u16)>,
}

/// `1.025`
fn slot(text: &str) -> Result<(u16, u16), String> {
    let (universe, slot) = text
        .split_once('.')
        .ok_or("write UNIVERSE.SLOT, such as 1.025")?;
    Ok((number(universe, 1, 63_999)?, number(slot, 1, SLOTS)?))
}

fn number(text: &str, least: u16, most: u16) -> Result<u16, String> {
    match text.parse() {
        Ok(found) if found >= least && found <= most => Ok(found),
        _ => Err(format!(
            "`{text}`: write a whole number from {least} to {most}"
        )),
    }
}

/// Every address but this machine's own is refused: on a lighting network the packets would move real light.
fn here_only(address: &str) -> Result<Ipv4Addr, String> {
    if address.parse() == Ok(Ipv4Addr::LOCALHOST) {
        return Ok(Ipv4Addr::LOCALHOST);
    }
    Err(format!(
        "{address} is refused: this example sends to 127.0.0.1 only.\n\
         Its levels say whose a slot is, not how bright anything should be, and a device that hears them\n\
         on a network obeys."
    ))
}

/// The level by which a slot is recognised; `device` counts from 0.
fn level(device: usize, offset: u16) -> u8 {
    16 * (device % 15 + 1) as u8 + (offset % 16) as u8
}

/// A device of the patch: universe, first slot, number of slots.
struct Patched<'a> {
    name: &'a str,
    universe: u16,
    first: u16,
    slots: u16,
}

/// The devices of the plan in the order of their addresses, and the levels of every universe.
fn patch(design: &Design) -> (Vec<Patched<'_>>, BTreeMap<u16, Vec<u8>>) {
    let mut rows: Vec<_> = design.slots.iter().collect();
    rows.sort_by_key(|row| (row.universe, row.slot));
    let mut devices: Vec<Patched<'_>> = Vec::new();
    let mut universes = BTreeMap::new();
    for row in rows {
        let Ok(universe) = u16::try_from(row.universe) else {
            continue;
        };
        match devices
            .iter_mut()
            .find(|device| device.name == row.device.as_str())
        {
            Some(device) => device.slots += 1,
            None => devices.push(Patched {
                name: row.device.as_str(),
                universe,
                first: row.slot,
                slots: 1,
            }),
        }
        let device = devices
            .iter()
            .position(|device| device.name == row.device.as_str());
        let slots = universes
            .entry(universe)
            .or_insert_with(|| vec![0; usize::from(SLOTS)]);
        if let (Some(device), Some(slot)) = (device, slots.get_mut(usize::from(row.slot) - 1)) {
            *slot = level(device, row.offset);
        }
    }
    (devices, universes)
}

fn print(
    devices: &[Patched<'_>],
    universes: &BTreeMap<u16, Vec<u8>>,
    out: &mut impl Write,
) -> io::Result<()> {
    for (universe, slots) in universes {
        let rate = sacn::most_rate(SLOTS);
        writeln!(
            out,
            "universe {universe}: {} octets a packet, at most {:.0} a second ({:.0} kbit/s on the wire)",
            sacn::payload_octets(SLOTS),
            rate.value,
            sacn::bits_per_second(SLOTS, rate) / 1e3
        )?;
        for device in devices.iter().filter(|device| device.universe == *universe) {
            let from = usize::from(device.first) - 1;
            let levels = &slots[from..from + usize::from(device.slots)];
            let levels: Vec<String> = levels.iter().map(|level| format!("{level:02X}")).collect();
            let last = device.first + device.slots - 1;
            writeln!(
                out,
                "  {:10} slots {:03} to {last:03}  {}",
                device.name,
                device.first,
                levels.join(" ")
            )?;
        }
    }
    Ok(())
}

/// Three packets, then one every 0.8 s until the time is up, then three that end the universe.
fn send(packets: Vec<DataPacket>, asked: &Asked) -> std::io::Result<u32> {
    let socket = UdpSocket::bind((Ipv4Addr::LOCALHOST, 0))?;
    let here = SocketAddr::from((Ipv4Addr::LOCALHOST, asked.port));
    let period = Duration::from_secs_f64(1.0 / sacn::most_rate(SLOTS).value);
    let keep_alive = Duration::from_secs_f64(sacn::KEEP_ALIVE_SECONDS[0]);
    let mut packets = packets;
    let mut sent = 0;
    let mut round = |packets: &mut Vec<DataPacket>, last: bool, then: Duration| {
        for packet in packets.iter_mut() {
            *packet = packet.next();
            let now = if last {
                packet.clone().last()
            } else {
                packet.clone()
            };
            socket.send_to(&now.octets(), here)?;
            sent += 1;
        }
        std::thread::sleep(then);
        std::io::Result::Ok(())
    };
    for _ in 1..sacn::REPEATS {
        round(&mut packets, false, period)?;
    }
    let mut left = Duration::from_secs(u64::from(asked.seconds));
    while !left.is_zero() {
        let wait = left.min(keep_alive);
        round(&mut packets, false, wait)?;
        left -= wait;
    }
    for _ in 0..sacn::REPEATS {
        round(&mut packets, true, period)?;
    }
    Ok(sent)
}

fn main() -> ExitCode {
    screen::program(run)
}

/// The program: its arguments in, what it prints on both streams and its exit code out.
///
/// # Errors
/// What it prints cannot be written.
pub fn run(
    arguments: std::vec::IntoIter<String>,
    out: &mut impl Write,
    err: &mut impl Write,
) -> io::Result<u8> {
    let asked: Asked = match arguments::read(arguments, out, err)? {
        Ok(asked) => asked,
        Err(code) => return Ok(code),
    };
    let job = match &asked.file {
        None => job::read(DEMO, "archive_wing.toml"),
        Some(path) => match std::fs::read(path) {
            Ok(bytes) => job::read_bytes(&bytes, path),
            Err(error) => {
                let _ = writeln!(err, "{path}: {error}");
                return Ok(2);
            }
        },
    };
    let job = match job {
        Ok(job) => job,
        Err(faults) => {
            let _ = writeln!(err, "{faults}");
            return Ok(1);
        }
    };
    let plan = plan::plan(&job);
    let (devices, mut universes) = patch(&plan);
    if universes.is_empty() {
        let _ = writeln!(
            err,
            "no decoder of this job has an address: nothing to send"
        );
        return Ok(1);
    }
    print(&devices, &universes, out)?;
    if let Some((universe, slot)) = asked.wrong {
        match universes
            .get_mut(&universe)
            .and_then(|slots| slots.get_mut(usize::from(slot) - 1))
        {
            Some(level) => *level ^= 1,
            None => {
                let _ = writeln!(err, "--wrong: universe {universe} is not in the patch");
                return Ok(2);
            }
        }
        writeln!(
            out,
            "slot {slot:03} of universe {universe} is sent wrong on purpose"
        )?;
    }
    let mut packets = Vec::new();
    for (universe, slots) in universes {
        match DataSpec::new(universe, "evenrun, patch on this machine", CID, slots).check() {
            Ok(packet) => packets.push(packet),
            Err(errors) => {
                for error in errors {
                    let _ = writeln!(err, "universe {universe}: {error}");
                }
                return Ok(1);
            }
        }
    }
    out.flush()?;
    match send(packets, &asked) {
        Ok(sent) => {
            writeln!(
                out,
                "{sent} packets sent to 127.0.0.1, port {}; the last of every universe ends it",
                asked.port
            )?;
            Ok(0)
        }
        Err(error) => {
            let _ = writeln!(err, "127.0.0.1, port {}: {error}", asked.port);
            Ok(2)
        }
    }
}
