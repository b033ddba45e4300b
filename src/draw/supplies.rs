//! The supply riser: supplies of a place, what hangs on their outputs, and where the feeders go.
//!
//! ```text
//! ┌ supply ──────┐          ┌ decoder ────┐
//! │ PS-1, 384 W  ├─ lead ───┤ D-1         ├── feeder ── S1 at 2.10 m
//! │ 210 of 300 W ├─ out 2 ┐ │ slot 1.001  ├── feeder ── S1 at 4.20 m
//! └──────────────┘        └─┴─────────────┘
//! ```

use super::canvas::{Canvas, Fill, LINE, Letters, SMALL, Stroke, WIDTH};
use super::index::Index;
use super::lengths::Lengths;
use crate::design::{Fed, Feed, Load, Output, Place, Supply, Terminals};
use crate::id::{DecoderId, SegmentId, SupplyId};
use std::collections::BTreeMap;

/// Columns: left edge and width.
const SUPPLY: (f64, f64) = (0.0, 160.0);
const DEVICE: (f64, f64) = (294.0, 146.0);
const FEEDER: (f64, f64) = (470.0, WIDTH - 470.0);
const STEP: f64 = SMALL * 1.35;
/// A figure is no higher than a page of A4 takes beside a heading.
const HIGHEST: f64 = 860.0;

/// What hangs on an output.
struct Branch<'a> {
    output: u64,
    amps: Option<f64>,
    /// Words of the lead and of the device; none where feeders come from the supply itself.
    lead: Vec<String>,
    device: Vec<String>,
    feeders: Vec<&'a Feed>,
}

/// Figures of the supplies, place by place, each no higher than a page, with what it is called.
pub(super) fn figures(index: &Index<'_>) -> Vec<(String, String)> {
    let mut outputs: BTreeMap<&SupplyId, Vec<&Output>> = BTreeMap::new();
    for output in &index.design.outputs {
        outputs.entry(&output.supply).or_default().push(output);
    }
    let mut feeders = Feeders::default();
    for feed in &index.design.feeds {
        if let Terminals::Decoder { decoder, .. } = &feed.from {
            feeders.of_decoder.entry(decoder).or_default().push(feed);
        }
        feeders
            .of_segment
            .entry(&feed.segment)
            .or_default()
            .push(feed);
    }
    let mut out = Vec::new();
    for place in &index.design.places {
        let supplies = index.design.supplies.iter();
        let supplies = supplies.filter(|supply| supply.place == place.id);
        let blocks: Vec<Block<'_>> = supplies
            .map(|supply| {
                let own = outputs.get(&supply.id).map_or(&[][..], Vec::as_slice);
                Block::of(index, supply, own, &feeders)
            })
            .collect();
        let mut rest = &blocks[..];
        let mut part = 0;
        while !rest.is_empty() {
            part += 1;
            let mut high = 0.0;
            let fits = rest.iter().take_while(|block| {
                high += block.height() + GAP;
                high <= HIGHEST
            });
            let (now, later) = rest.split_at(fits.count().max(1));
            let mut title = format!("Supplies at {}", place.id);
            if part > 1 || !later.is_empty() {
                title.push_str(&format!(", part {part}"));
            }
            let drawn = figure(index, place, now, &title);
            out.push((title, drawn));
            rest = later;
        }
    }
    out
}

const GAP: f64 = 14.0;

#[derive(Default)]
struct Feeders<'a> {
    of_decoder: BTreeMap<&'a DecoderId, Vec<&'a Feed>>,
    of_segment: BTreeMap<&'a SegmentId, Vec<&'a Feed>>,
}

/// A supply with what hangs on it.
struct Block<'a> {
    words: Vec<String>,
    id: String,
    branches: Vec<Branch<'a>>,
}

impl Branch<'_> {
    fn height(&self) -> f64 {
        let rows = self
            .feeders
            .len()
            .max(self.device.len())
            .max(self.lead.len() + 1);
        rows.max(1) as f64 * STEP + 10.0
    }
}

impl<'a> Block<'a> {
    fn of(
        index: &Index<'a>,
        supply: &'a Supply,
        outputs: &[&'a Output],
        feeders: &Feeders<'a>,
    ) -> Self {
        let letters = Letters::SMALL;
        let load = match &supply.load {
            Load::Standby => "standby".to_string(),
            Load::Power(power) => format!(
                "{:.1} W of {:.1} W permitted",
                power.nominal.si(),
                supply.permitted.si()
            ),
            Load::Not(why) => format!("not solved: {why}"),
        };
        let mut words = letters.lines(supply.kind.as_str(), SUPPLY.1 - 12.0, 2);
        words.extend(letters.lines(&load, SUPPLY.1 - 12.0, 2));
        let mut branches = Vec::new();
        for output in outputs {
            let amps = output.current.figures().map(|amps| amps.high.si());
            for fed in &output.feeds {
                branches.push(branch(index, output.output, amps, fed, feeders));
            }
        }
        Self {
            words,
            id: supply.id.to_string(),
            branches,
        }
    }

    fn height(&self) -> f64 {
        let own = (self.words.len() + 1) as f64 * LINE + 8.0;
        self.branches
            .iter()
            .map(Branch::height)
            .sum::<f64>()
            .max(own)
    }
}

fn branch<'a>(
    index: &Index<'a>,
    output: u64,
    amps: Option<f64>,
    fed: &'a Fed,
    feeders: &Feeders<'a>,
) -> Branch<'a> {
    match fed {
        Fed::Decoder(id) => {
            let lead = index.lead(id);
            let words = lead.map_or_else(String::new, |cable| {
                format!("{}, {}", cable.kind, index.lengths.words(cable.route))
            });
            let mut device = vec![id.to_string()];
            if let Some(decoder) = index.decoder(id) {
                let mut kind = decoder.kind.to_string();
                if let Some(address) = &decoder.address {
                    let last = address
                        .first
                        .saturating_add(address.slots.saturating_sub(1));
                    device.push(format!(
                        "slots {}.{:03} to {}.{last:03}",
                        address.universe, address.first, address.universe
                    ));
                }
                if decoder.place != lead_place(index, decoder.supply.as_ref()) {
                    kind = format!("{kind}, at {}", decoder.place);
                }
                device.extend(Letters::SMALL.lines(&kind, DEVICE.1 - 12.0, 3));
            }
            let own = feeders.of_decoder.get(id);
            Branch {
                output,
                amps,
                lead: Letters::SMALL.lines(&words, DEVICE.0 - SUPPLY.1 - 14.0, 3),
                device,
                feeders: own.cloned().unwrap_or_default(),
            }
        }
        Fed::Switched { name, segments, .. } => {
            let own = segments.iter().filter_map(|s| feeders.of_segment.get(s));
            let words = format!("switched: {name}");
            Branch {
                output,
                amps,
                lead: Letters::SMALL.lines(&words, DEVICE.0 - SUPPLY.1 - 14.0, 3),
                device: Vec::new(),
                feeders: own.flatten().copied().collect(),
            }
        }
    }
}

/// The place of the supply of a decoder; an empty name where there is none.
fn lead_place(index: &Index<'_>, supply: Option<&(SupplyId, u64)>) -> crate::id::PlaceId {
    let supplies = index.design.supplies.iter();
    let own = supply.and_then(|(id, _)| supplies.clone().find(|supply| supply.id == *id));
    own.map_or_else(
        || crate::id::PlaceId::new(""),
        |supply| supply.place.clone(),
    )
}

fn figure(index: &Index<'_>, place: &Place, blocks: &[Block<'_>], title: &str) -> String {
    let mut canvas = Canvas::new();
    canvas.text((0.0, 12.0), title, Letters::WORDS.bold());
    let mut facts = String::new();
    if !place.circuit.as_str().is_empty() {
        facts.push_str(&format!("Mains circuit {}. ", place.circuit));
    }
    if !place.access.as_str().is_empty() {
        facts.push_str(&format!("Access: {}. ", place.access));
    }
    facts.push_str(
        "Watts are nominal, of what is planned on the supply at most; amps are the most, worst case high. Feeders: run and place on its \
         tape, cable, length.",
    );
    let high = canvas.paragraph((0.0, 26.0), &facts, WIDTH, 4, Letters::SMALL);
    let mut y = 12.0 + high + 14.0;
    let mut told = Vec::new();
    for block in blocks {
        supply(index.lengths, &mut canvas, block, y, index);
        y += block.height() + GAP;
        told.push(format!("{}: {}", block.id, block.words.join(" ")));
    }
    canvas.finish(y, title, &told.join(". "))
}

/// A supply and everything to its right.
fn supply(lengths: Lengths, canvas: &mut Canvas, block: &Block<'_>, top: f64, index: &Index<'_>) {
    let high = block.height();
    canvas.rectangle(
        (SUPPLY.0 + 0.5, top),
        (SUPPLY.1, high),
        Stroke::Solid,
        Fill::White,
    );
    canvas.text(
        (SUPPLY.0 + 7.0, top + LINE),
        &block.id,
        Letters::WORDS.bold(),
    );
    for (number, words) in block.words.iter().enumerate() {
        let y = top + (number as f64 + 2.0) * LINE;
        canvas.text((SUPPLY.0 + 7.0, y), words, Letters::SMALL);
    }
    let mut y = top;
    for branch in &block.branches {
        let high = branch.height();
        let middle = y + high / 2.0;
        let left = SUPPLY.0 + SUPPLY.1 + 0.5;
        let has_device = !branch.device.is_empty();
        let reach = if has_device {
            DEVICE.0
        } else {
            FEEDER.0 - 14.0
        };
        // Words of the lead above its line: output and amps; the wire beneath.
        canvas.line((left, middle), (reach, middle), Stroke::Solid);
        let amps = branch
            .amps
            .map_or_else(String::new, |amps| format!(", {amps:.2} A"));
        let output = format!("output {}{amps}", branch.output);
        canvas.text((left + 5.0, middle - 3.0), &output, Letters::SMALL);
        for (number, words) in branch.lead.iter().enumerate() {
            let foot = middle + SMALL + 1.0 + number as f64 * SMALL * 1.2;
            canvas.text((left + 5.0, foot), words, Letters::SMALL);
        }
        if has_device {
            let inner = branch.device.len() as f64 * STEP + 6.0;
            let from = middle - inner / 2.0;
            canvas.rectangle(
                (DEVICE.0, from),
                (DEVICE.1, inner),
                Stroke::Solid,
                Fill::White,
            );
            for (number, words) in branch.device.iter().enumerate() {
                let letters = if number == 0 {
                    Letters::SMALL.bold()
                } else {
                    Letters::SMALL
                };
                let foot = from + (number as f64 + 0.85) * STEP + 2.0;
                canvas.text((DEVICE.0 + 6.0, foot), words, letters);
            }
        }
        feeders(lengths, canvas, branch, middle, index);
        y += high;
    }
}

/// Feeders of a branch, a line each, from one upright line.
fn feeders(
    lengths: Lengths,
    canvas: &mut Canvas,
    branch: &Branch<'_>,
    middle: f64,
    index: &Index<'_>,
) {
    let count = branch.feeders.len();
    if count == 0 {
        return;
    }
    let bus = FEEDER.0 - 14.0;
    if !branch.device.is_empty() {
        canvas.line((DEVICE.0 + DEVICE.1, middle), (bus, middle), Stroke::Solid);
    }
    let first = middle - (count as f64 - 1.0) * STEP / 2.0;
    let last = first + (count as f64 - 1.0) * STEP;
    canvas.line((bus, first), (bus, last), Stroke::Solid);
    for (number, feed) in branch.feeders.iter().enumerate() {
        let y = first + number as f64 * STEP;
        canvas.line((bus, y), (FEEDER.0 - 3.0, y), Stroke::Solid);
        let run = index
            .segment(&feed.segment)
            .map_or_else(String::new, |s| s.run.to_string());
        let route = index
            .cable(&feed.cable)
            .map_or_else(String::new, |c| lengths.words(c.route));
        let words = format!(
            "{run} at {}: {}, {route}",
            lengths.words(feed.position),
            feed.kind
        );
        let words = Letters::SMALL.lines(&words, FEEDER.1, 1);
        for line in words {
            canvas.text((FEEDER.0, y + SMALL * 0.36), &line, Letters::SMALL);
        }
    }
}
