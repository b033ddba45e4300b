//! The data line: universes with their ports, splitters, chains, devices in order, cable lengths, terminators.

use super::canvas::{Canvas, Fill, Letters, SMALL, Stroke, WIDTH};
use super::index::Index;
use crate::design::{Chain, ChainDevice, Universe};

/// A device on paper.
const BOX: (f64, f64) = (108.0, 42.0);
/// Room for the length of the cable into it.
const GAP: f64 = 56.0;
/// From one row of devices to the next.
const ROW: f64 = 66.0;
/// Devices of a row.
const ACROSS: usize = 4;
/// Rows of one figure.
const MOST_ROWS: usize = 13;
const LEFT: f64 = 40.0;
/// Where the line turns back to its next row, and where words begin.
const TURN: f64 = 22.0;
/// Width of a splitter.
const SPLITTER: f64 = 12.0;

/// Figures of the data chains, universe by universe, each no higher than a page, with what it is called.
pub(super) fn figures(index: &Index<'_>) -> Vec<(String, String)> {
    let mut out = Vec::new();
    for universe in &index.design.universes {
        let chains = index.design.chains.iter();
        let used = chains.filter(|c| c.universe == universe.id && !c.devices.is_empty());
        // Chains in slices of so many rows; a long one is continued in the next figure.
        let mut slices: Vec<(&Chain, usize, &[ChainDevice])> = Vec::new();
        for chain in used {
            for (number, part) in chain.devices.chunks(ACROSS * (MOST_ROWS - 1)).enumerate() {
                slices.push((chain, number * ACROSS * (MOST_ROWS - 1), part));
            }
        }
        let rows = |part: &[ChainDevice]| part.len().div_ceil(ACROSS) + 1;
        let mut rest = &slices[..];
        let mut part = 0;
        while !rest.is_empty() {
            part += 1;
            let mut high = 0;
            let fits = rest.iter().take_while(|slice| {
                high += rows(slice.2);
                high <= MOST_ROWS
            });
            let (now, later) = rest.split_at(fits.count().max(1));
            let mut title = format!(
                "Data chains of universe {} ({})",
                universe.id, universe.number
            );
            if part > 1 || !later.is_empty() {
                title.push_str(&format!(", part {part}"));
            }
            let drawn = figure(index, universe, now, &title);
            out.push((title, drawn));
            rest = later;
        }
    }
    out
}

fn figure(
    index: &Index<'_>,
    universe: &Universe,
    slices: &[(&Chain, usize, &[ChainDevice])],
    title: &str,
) -> String {
    let mut canvas = Canvas::new();
    canvas.text((0.0, 12.0), title, Letters::WORDS.bold());
    let mut y = 26.0;
    let mut told = Vec::new();
    let split = index.design.splitters.iter();
    let split: Vec<_> = split.filter(|own| own.universe == universe.id).collect();
    // From the first to the last output of each splitter that is seen here.
    let mut outputs: Vec<Option<(f64, f64)>> = vec![None; split.len()];
    for (chain, first, devices) in slices {
        let (start, end) = one(index, universe, &mut canvas, chain, *first, devices, y);
        y = end;
        let own = split.iter().position(|own| own.chains.contains(&chain.id));
        if let Some(at) = own {
            let from = outputs[at].map_or(start, |(from, _)| from);
            outputs[at] = Some((from, start));
        }
        let names: Vec<&str> = devices.iter().map(|d| d.name.as_str()).collect();
        told.push(format!("Chain {}: {}", chain.id, names.join(", ")));
    }
    for (from, to) in outputs.into_iter().flatten() {
        let size = (SPLITTER, to - from + 24.0);
        canvas.rectangle((0.0, from - 12.0), size, Stroke::Solid, Fill::None);
    }
    y = legend(&mut canvas, y);
    canvas.finish(y, title, &told.join(". "))
}

/// What the shapes mean.
fn legend(canvas: &mut Canvas, top: f64) -> f64 {
    let y = top + SMALL / 2.0;
    let foot = y + SMALL * 0.36;
    canvas.circle((6.0, y), 3.5, Fill::Black);
    canvas.text((TURN, foot), "port or output of a splitter", Letters::SMALL);
    canvas.rectangle(
        (176.0, y - 6.0),
        (SPLITTER, 12.0),
        Stroke::Solid,
        Fill::None,
    );
    canvas.text((196.0, foot), "powered splitter", Letters::SMALL);
    canvas.rectangle((304.0, y - 6.0), (20.0, 12.0), Stroke::Dashed, Fill::White);
    canvas.text((332.0, foot), "device of others", Letters::SMALL);
    canvas.rectangle((446.0, y - 6.0), (7.0, 12.0), Stroke::Solid, Fill::Light);
    canvas.text((462.0, foot), "terminator", Letters::SMALL);
    canvas.text(
        (548.0, foot),
        "in a box: universe and slots",
        Letters::SMALL,
    );
    y + 12.0
}

/// A chain, or the next part of a long one: where it begins and where it ends.
fn one(
    index: &Index<'_>,
    universe: &Universe,
    canvas: &mut Canvas,
    chain: &Chain,
    first: usize,
    devices: &[ChainDevice],
    top: f64,
) -> (f64, f64) {
    let words = heading(index, universe, chain, first);
    let room = WIDTH - TURN;
    let high = canvas.paragraph((TURN, top + 4.0), &words, room, 3, Letters::SMALL);
    let mut y = top + high + 4.0;
    let start = y + BOX.1 / 2.0;
    let mut left = LEFT;
    // The line comes from the port, or from the figure before.
    let begin = if first == 0 { Fill::Black } else { Fill::White };
    let mut from = (SPLITTER, start);
    canvas.circle(from, 3.5, begin);
    for (number, device) in devices.iter().enumerate() {
        if number > 0 && number % ACROSS == 0 {
            // Down to the next row, and back to its left.
            let (turn, next) = (y + BOX.1 + 12.0, y + ROW + BOX.1 / 2.0);
            let right = WIDTH - 8.0;
            canvas.path(
                &[
                    from,
                    (right, from.1),
                    (right, turn),
                    (TURN, turn),
                    (TURN, next),
                ],
                Stroke::Solid,
                Fill::None,
            );
            y += ROW;
            left = LEFT;
            from = (TURN, next);
        }
        let at = left + GAP;
        canvas.line(from, (at, y + BOX.1 / 2.0), Stroke::Solid);
        let length = index.lengths.words(device.length);
        let middle = f64::midpoint(from.0, at);
        canvas.text(
            (middle, y + BOX.1 / 2.0 - 4.0),
            &length,
            Letters::SMALL.middle(),
        );
        device_box(index, canvas, device, (at, y));
        from = (at + BOX.0, y + BOX.1 / 2.0);
        left = at + BOX.0;
    }
    let is_end = first + devices.len() == chain.devices.len();
    if is_end {
        end(canvas, chain, from);
    }
    (start, y + ROW)
}

fn heading(index: &Index<'_>, universe: &Universe, chain: &Chain, first: usize) -> String {
    let port = if universe.port.as_str().is_empty() {
        "its port".to_string()
    } else {
        universe.port.to_string()
    };
    let splitters = index.design.splitters.iter();
    let mut at = splitters.filter_map(|splitter| {
        let output = splitter.chains.iter().position(|own| *own == chain.id)?;
        Some(format!(
            "powered splitter at {}, output {}",
            splitter.port,
            output + 1
        ))
    });
    let from = at.next().unwrap_or(port);
    let total = chain.devices.iter().map(|d| d.length).sum();
    let terminator = chain.terminator.map_or_else(
        || "no terminator at its end".to_string(),
        |ohms| format!("{ohms} across the pair at its end"),
    );
    let part = if first == 0 {
        String::new()
    } else {
        format!(", from device {}", first + 1)
    };
    format!(
        "Chain {}{part}: from {from}; {}, {} in all, {} devices, {terminator}",
        chain.id,
        chain.cable.words(),
        index.lengths.words(total),
        chain.devices.len()
    )
}

fn device_box(index: &Index<'_>, canvas: &mut Canvas, device: &ChainDevice, at: (f64, f64)) {
    let stroke = if device.decoder.is_some() {
        Stroke::Solid
    } else {
        Stroke::Dashed
    };
    canvas.rectangle(at, BOX, stroke, Fill::White);
    let room = BOX.0 - 8.0;
    let name = Letters::SMALL.bold().lines(device.name.as_str(), room, 2);
    let address = device
        .decoder
        .as_ref()
        .and_then(|id| index.decoder(id)?.address);
    let slots = match address {
        Some(own) => {
            let last = own.first.saturating_add(own.slots.saturating_sub(1));
            let universe = own.universe;
            format!("{universe}.{:03} to {universe}.{last:03}", own.first)
        }
        None if device.decoder.is_some() => "no slots".to_string(),
        None => "not of this plan".to_string(),
    };
    let lines = name.len() + 1;
    let top = at.1 + (BOX.1 - lines as f64 * SMALL * 1.25) / 2.0 - 2.0;
    for (number, words) in name.iter().enumerate() {
        let foot = top + (number as f64 + 1.0) * SMALL * 1.25;
        canvas.text((at.0 + 4.0, foot), words, Letters::SMALL.bold());
    }
    let foot = top + lines as f64 * SMALL * 1.25;
    for words in Letters::SMALL.lines(&slots, room, 1) {
        canvas.text((at.0 + 4.0, foot), &words, Letters::SMALL);
    }
}

/// The end of a chain: a box across the pair for a terminator.
fn end(canvas: &mut Canvas, chain: &Chain, from: (f64, f64)) {
    let x = from.0;
    match chain.terminator {
        Some(_) => {
            canvas.line(from, (x + 7.0, from.1), Stroke::Solid);
            canvas.rectangle(
                (x + 7.0, from.1 - 9.0),
                (7.0, 18.0),
                Stroke::Solid,
                Fill::Light,
            );
        }
        None => canvas.line(from, (x + 10.0, from.1), Stroke::Dashed),
    }
}
