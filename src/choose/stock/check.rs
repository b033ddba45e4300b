//! From the spec to lengths in one unit, in an order that does not depend on the input's.

use super::fault::StockFault;
use super::spec::{Joints, StockSpec};
use crate::exact::{CutPitch, ExactLength};
use crate::order::Order as _;
use std::collections::BTreeSet;

/// More pieces than this are refused.
pub const MOST_PIECES: usize = 100_000;
/// More kinds of stock and offcuts than this are refused.
pub const MOST_KINDS: usize = 2_000;
/// No price is above this, in minor units.
pub const MOST_PRICE: i64 = crate::quantity::MOST_PRICE as i64;
const MOST_LENGTH_NM: i64 = 100_000_000_000_000;

/// A spec without faults, in whole units (nanometres or increments).
#[derive(Debug, Clone)]
pub struct CheckedStock {
    pub(super) spec: StockSpec,
    pub(super) kerf: u64,
    /// Longest first, then by name; stock and offcuts.
    pub(super) kinds: Vec<Kind>,
    /// Longest first, then by id.
    pub(super) pieces: Vec<Need>,
}

/// A stock length or an offcut in whole units.
#[derive(Debug, Clone)]
pub(super) struct Kind {
    pub name: String,
    pub length: ExactLength,
    pub units: u64,
    pub price: u64,
    pub count: Option<u32>,
    pub batch: Option<String>,
    pub on_hand: bool,
}

/// A piece in whole units.
#[derive(Debug, Clone)]
pub(super) struct Need {
    pub id: String,
    pub units: u64,
    pub line: Option<String>,
}

impl StockSpec {
    /// Checks the spec.
    ///
    /// # Errors
    /// Every [`StockFault`] of it.
    pub fn check(self) -> Result<CheckedStock, Vec<StockFault>> {
        let mut faults = Vec::new();
        let what = self.what.clone();
        let kind_count = self.stock.len().saturating_add(self.offcuts.len());
        let counts = [
            ("pieces", self.pieces.len(), MOST_PIECES),
            ("kinds of stock", kind_count, MOST_KINDS),
        ];
        for (of, found, most) in counts {
            if found > most {
                let what = what.clone();
                faults.push(StockFault::TooMany {
                    what,
                    of,
                    found,
                    most,
                });
            }
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        self.check_figures(&mut faults);
        self.check_names(&mut faults);
        if self.stock.is_empty() && self.offcuts.is_empty() && !self.pieces.is_empty() {
            let pieces = self.pieces.len();
            faults.push(StockFault::NoStock {
                what: what.clone(),
                pieces,
            });
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        let kinds = self.kinds();
        if kinds.is_empty() && !self.pieces.is_empty() {
            let pieces = self.pieces.len();
            return Err(vec![StockFault::NoStock { what, pieces }]);
        }
        let mut pieces = Vec::with_capacity(self.pieces.len());
        for piece in &self.pieces {
            let cut = piece
                .length
                .saturating_add(piece.start_allowance)
                .saturating_add(piece.end_allowance);
            match self.units_of(&format!("piece `{}`", piece.id), cut) {
                Ok(units) => pieces.push(Need {
                    id: piece.id.clone(),
                    units,
                    line: piece.line.clone(),
                }),
                Err(fault) => faults.push(fault),
            }
            if let (Joints::Never, Some(longest)) = (self.joints, kinds.first())
                && cut > longest.length
            {
                faults.push(StockFault::TooLong {
                    what: what.clone(),
                    piece: piece.id.clone(),
                    cut,
                    stock: longest.name.clone(),
                    longest: longest.length,
                });
            }
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        pieces.order_by(|a, b| b.units.cmp(&a.units).then_with(|| a.id.cmp(&b.id)));
        let kerf = self.kerf.nanometres().unsigned_abs();
        Ok(CheckedStock {
            spec: self,
            kerf,
            kinds,
            pieces,
        })
    }

    fn check_figures(&self, faults: &mut Vec<StockFault>) {
        let what = || self.what.clone();
        let in_range = |length: ExactLength| (0..=MOST_LENGTH_NM).contains(&length.nanometres());
        let stock = self
            .stock
            .iter()
            .map(|s| (format!("stock `{}`", s.name), s.length));
        let offcuts = self
            .offcuts
            .iter()
            .map(|o| (format!("offcut `{}`", o.name), o.length));
        let pieces = self
            .pieces
            .iter()
            .map(|p| (format!("piece `{}`", p.id), p.length));
        for (place, found) in stock.chain(offcuts).chain(pieces) {
            if !in_range(found) || found == ExactLength::ZERO {
                faults.push(StockFault::Length {
                    what: what(),
                    place,
                    found,
                });
            }
        }
        let mut figures = vec![("the kerf".to_owned(), self.kerf)];
        figures.extend(
            self.keep_from
                .map(|k| ("the length of offcuts to keep".to_owned(), k)),
        );
        for piece in &self.pieces {
            figures.push((
                format!("the start allowance of piece `{}`", piece.id),
                piece.start_allowance,
            ));
            figures.push((
                format!("the end allowance of piece `{}`", piece.id),
                piece.end_allowance,
            ));
        }
        for (place, found) in figures {
            if !in_range(found) {
                faults.push(StockFault::Negative {
                    what: what(),
                    place,
                    found,
                });
            }
        }
        let mut prices: Vec<(String, i64)> = self
            .stock
            .iter()
            .map(|s| (format!("stock `{}`", s.name), s.price))
            .collect();
        match self.joints {
            Joints::WhenLonger { price } | Joints::ByChoice { price } => {
                prices.push(("a joint".into(), price));
            }
            Joints::Never => {}
        }
        if let super::Batches::Priced(price) = self.batches {
            prices.push(("a change of batch".into(), price));
        }
        for (place, found) in prices {
            if !(0..=MOST_PRICE).contains(&found) {
                faults.push(StockFault::Price {
                    what: what(),
                    place,
                    found,
                });
            }
        }
        let ohms = self.joint_resistance.value;
        if !(0.0..=1e3).contains(&ohms) {
            faults.push(StockFault::JointResistance {
                what: what(),
                found: format!("{ohms} ohm"),
            });
        }
        if self.increment.is_some() && self.kerf != ExactLength::ZERO {
            faults.push(StockFault::KerfWithIncrements {
                what: what(),
                kerf: self.kerf,
            });
        }
    }

    fn check_names(&self, faults: &mut Vec<StockFault>) {
        let kinds = self
            .stock
            .iter()
            .map(|s| &s.name)
            .chain(self.offcuts.iter().map(|o| &o.name));
        let mut twice = |names: Vec<&String>, among: &'static str| {
            let mut seen = BTreeSet::new();
            for name in names {
                if !seen.insert(name) {
                    let (what, name) = (self.what.clone(), name.clone());
                    faults.push(StockFault::Twice { what, among, name });
                }
            }
        };
        twice(kinds.collect(), "stock and offcuts");
        twice(self.pieces.iter().map(|p| &p.id).collect(), "pieces");
    }

    fn kinds(&self) -> Vec<Kind> {
        let units = |length: ExactLength| match self.increment {
            Some(pitch) => count_near(pitch, length).0,
            None => length.nanometres().unsigned_abs(),
        };
        let stock = self.stock.iter().map(|s| Kind {
            name: s.name.clone(),
            length: s.length,
            units: units(s.length),
            price: s.price.unsigned_abs(),
            count: s.count,
            batch: s.batch.clone(),
            on_hand: false,
        });
        let offcuts = self.offcuts.iter().map(|o| Kind {
            name: o.name.clone(),
            length: o.length,
            units: units(o.length),
            price: 0,
            count: Some(1),
            batch: o.batch.clone(),
            on_hand: true,
        });
        let mut kinds: Vec<Kind> = stock
            .chain(offcuts)
            .filter(|k| k.count != Some(0))
            .collect();
        kinds.order_by(|a, b| b.length.cmp(&a.length).then_with(|| a.name.cmp(&b.name)));
        kinds
    }

    fn units_of(&self, place: &str, cut: ExactLength) -> Result<u64, StockFault> {
        let Some(pitch) = self.increment else {
            return Ok(cut.nanometres().unsigned_abs());
        };
        let (count, exact) = count_near(pitch, cut);
        if exact && count > 0 {
            return Ok(count);
        }
        Err(StockFault::OffIncrement {
            what: self.what.clone(),
            place: place.to_owned(),
            found: cut,
            increment: pitch,
            below: pitch.length_of(count),
            above: pitch.length_of(count + 1),
        })
    }
}

/// Increments in a length, where a length that is an increment's rounded to the
/// nanometre counts as that; and whether it is exactly that.
fn count_near(pitch: CutPitch, length: ExactLength) -> (u64, bool) {
    let floor = pitch.count_in(length);
    if pitch.length_of(floor + 1) == length {
        (floor + 1, true)
    } else {
        (floor, pitch.length_of(floor) == length)
    }
}
