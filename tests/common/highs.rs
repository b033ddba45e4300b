//! The instances of `tests/reference/highs` as problems.
#![allow(dead_code, reason = "each binary uses its own part")]

use crate::common::Row;
use evenrun::choose::devices::{
    CheckedSupply, DecoderKind, DecoderLoad, DecoderProblem, Installed, Room, Rules, Spares,
    SupplyFault, SupplyKind, SupplyLoad, SupplyProblem,
};
use evenrun::choose::stock::{Objective, Piece, StockLength, StockSpec};
use evenrun::exact::ExactLength;
use evenrun::quantity::{amps, fraction, volts, watts};

fn number(text: &str) -> f64 {
    text.parse()
        .unwrap_or_else(|_| panic!("`{text}` is no number"))
}

/// A row of `stock.csv`.
pub fn stock(row: &Row) -> StockSpec {
    let mm = |text: &str| ExactLength::from_millimetres(number(text) as i64);
    let mut spec = StockSpec::new(row.text("id"));
    spec.objective = Objective::LeastCost;
    spec.kerf = mm(row.text("kerf_mm"));
    for (n, entry) in row.text("stock_mm_cost_limit").split(';').enumerate() {
        let cells: Vec<&str> = entry.split(':').collect();
        let price = number(cells[1]) as i64;
        let mut stock = StockLength::new(format!("stock {n}"), mm(cells[0]), price);
        stock.count = cells[2].parse().ok();
        spec.stock.push(stock);
    }
    for (n, length) in row.text("pieces_mm").split(';').enumerate() {
        spec.pieces.push(Piece::new(format!("p{n:03}"), mm(length)));
    }
    spec
}

fn rules(row: &Row) -> Rules {
    let mut rules = Rules::default();
    if let Some((a, b)) = row.text("separate").split_once('-') {
        rules.separate.push((a.into(), b.into()));
    }
    if let Some(most) = row.optional("room") {
        rules.rooms.push(Room {
            place: "room".into(),
            most: most as u32,
        });
    }
    if row.text("spares") == "1" {
        rules.spares = Spares::OneOfEachKind;
    }
    if let Some((kind, loads)) = row.text("fixed").split_once(':') {
        rules.installed.push(Installed {
            name: "there".into(),
            kind: format!("k{kind}"),
            place: "room".into(),
            volts: volts(24.0),
            emergency: false,
            loads: loads
                .split('/')
                .map(|n| format!("l{:02}", number(n) as u32))
                .collect(),
        });
    }
    rules
}

/// A row of `supply.csv` that assigns loads to supplies.
pub fn supplies(row: &Row) -> SupplyProblem {
    let mut problem = SupplyProblem::new(row.text("id"));
    problem.load_factor = fraction(row.number("load_factor_percent") / 100.0);
    problem.rules = rules(row);
    for (n, entry) in row.text("kinds").split(';').enumerate() {
        let cells: Vec<f64> = entry.split(':').map(number).collect();
        problem.kinds.push(SupplyKind {
            name: format!("k{n}"),
            volts: volts(24.0),
            power: watts(cells[0]),
            outputs: cells[1] as u32,
            output_current: amps(cells[2] / 1000.0),
            derating: fraction(cells[3] / 100.0),
            price: cells[4] as u64,
        });
    }
    for (n, entry) in row.text("loads").split(';').enumerate() {
        let cells: Vec<&str> = entry.split(':').collect();
        problem.loads.push(SupplyLoad {
            id: format!("l{n:02}"),
            volts: volts(24.0),
            current: amps(number(cells[3]) / 1000.0),
            power: watts(number(cells[2]) / 1000.0),
            zone: cells[0].into(),
            place: "room".into(),
            emergency: cells[1] == "1",
        });
    }
    problem
}

/// A row of `supply.csv` that assigns emitters to outputs of decoders.
fn decoders(row: &Row) -> DecoderProblem {
    let mut problem = DecoderProblem::new(row.text("id"));
    problem.rules = rules(row);
    for (n, entry) in row.text("kinds").split(';').enumerate() {
        let cells: Vec<f64> = entry.split(':').map(number).collect();
        problem.kinds.push(DecoderKind {
            name: format!("k{n}"),
            volts: (volts(12.0), volts(24.0)),
            outputs: cells[1] as u32,
            output_current: amps(cells[2] / 1000.0),
            total_current: amps(cells[0] / 1000.0),
            price: cells[4] as u64,
        });
    }
    for (n, entry) in row.text("loads").split(';').enumerate() {
        let cells: Vec<&str> = entry.split(':').collect();
        let emitters = cells[3].split('/').enumerate();
        problem.loads.push(DecoderLoad {
            id: format!("l{n:02}"),
            volts: volts(24.0),
            emitters: emitters
                .map(|(e, a)| (format!("e{e}"), amps(number(a) / 1000.0)))
                .collect(),
            zone: cells[0].into(),
            place: "room".into(),
            emergency: cells[1] == "1",
        });
    }
    problem
}

/// Whether a row of `supply.csv` is about decoders.
pub fn is_decoder(row: &Row) -> bool {
    row.text("kind") == "decoder"
}

/// A row of `supply.csv`, checked.
pub fn supply(row: &Row) -> CheckedSupply {
    let checked: Result<CheckedSupply, Vec<SupplyFault>> = if is_decoder(row) {
        decoders(row).check()
    } else {
        supplies(row).check()
    };
    checked.unwrap_or_else(|faults| panic!("{}: {faults:?}", row.text("id")))
}

/// A row about supplies after an edit; none for a row about decoders, or where the edit is refused.
pub fn edited_supplies(row: &Row, edit: impl Fn(&mut SupplyProblem)) -> Option<CheckedSupply> {
    let mut problem = (!is_decoder(row)).then(|| supplies(row))?;
    edit(&mut problem);
    problem.check().ok()
}

/// A row about decoders after an edit; none for a row about supplies, or where the edit is refused.
pub fn edited_decoders(row: &Row, edit: impl Fn(&mut DecoderProblem)) -> Option<CheckedSupply> {
    let mut problem = is_decoder(row).then(|| decoders(row))?;
    edit(&mut problem);
    problem.check().ok()
}
