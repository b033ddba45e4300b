//! Volts along a segment, against what is worked out by hand.

use evenrun::exact::{CutPitch, ExactLength};
use evenrun::load::{Load, StraightLine};
use evenrun::network::{Polarity, Workspace};
use evenrun::quantity::{Corners, amps, celsius, ohms, volts};
use evenrun::segment::{Bands, CELLS, Circuit, Feeder, Segment};
use evenrun::strip::{TapeEmitter, TapeModel};

/// Current of a cell, A; resistance of an increment of each rail, ohm; of a core, ohm; volts of the source.
const AMPS: f64 = 0.02;
const RAIL: f64 = 0.01;
const CORE: f64 = 0.3;
const SOURCE: f64 = 24.0;

/// Cells that draw the same at any volts that occur.
fn tape() -> TapeModel {
    let cell = Load::Straight(StraightLine {
        knee: volts(10.0),
        resistance: ohms(2.0),
        limit: Some(amps(AMPS)),
        volts_per_kelvin: 0.0,
    });
    let law = cell.law(celsius(25.0)).expect("a straight line");
    TapeModel {
        strip: "constant current".into(),
        pitch: CutPitch::new(ExactLength::parse("50 mm").expect("a length"), 1).expect("a pitch"),
        rated: volts(24.0),
        polarity: Polarity::CommonPlus,
        common: Corners::same(ohms(RAIL)),
        emitters: vec![TapeEmitter {
            name: "white".into(),
            rail: Corners::same(ohms(RAIL)),
            law: Corners::same(law),
        }],
        branch: None,
    }
}

fn bands(tape: &TapeModel, from: u64, to: u64, marks: &[u64], set_point: Corners<f64>) -> Bands {
    let core = Corners::same(ohms(CORE));
    let feeders = marks.iter().map(|mark| Feeder::full(tape, *mark, core));
    let segment = Segment::plain(tape, from, to, feeders.collect());
    let circuit = Circuit::of(set_point.map(|v| volts(*v)), segment);
    let circuit = circuit.check().expect("a circuit");
    circuit.bands(&mut Workspace::new()).expect("a solution")
}

/// Drop from the feeder to cell `k` of `n`, fed at the start, each drawing `I`: half an increment carries all of it, the
/// increment behind cell `j` what the cells after it draw: `2 r I (n/2 + sum over j < k of (n − 1 − j))`.
fn drop(k: u64, n: u64) -> f64 {
    let (k, n) = (k as f64, n as f64);
    2.0 * RAIL * AMPS * (n / 2.0 + k * (n - 1.0) - k * (k - 1.0) / 2.0)
}

#[test]
fn constant_current_drops_as_the_sum_by_hand() {
    let tape = tape();
    for n in [1_u64, 5, 15, 16, 100] {
        let found = bands(&tape, 7, 7 + n, &[7], Corners::same(SOURCE));
        let cells = &found.branches[0].segments[0].cells;
        let increments: Vec<u64> = cells.iter().map(|cell| cell.increment).collect();
        assert_eq!((increments[0], increments[cells.len() - 1]), (7, 7 + n - 1));
        assert!(cells.len() as u64 >= n.min(CELLS as u64));
        assert!(increments.is_sorted_by(|a, b| a < b));
        let at_tape = SOURCE - 2.0 * CORE * AMPS * n as f64;
        for cell in cells {
            let by_hand = at_tape - drop(cell.increment - 7, n);
            for figure in [cell.volts.low, cell.volts.nominal, cell.volts.high] {
                assert!(
                    (figure.value - by_hand).abs() < 1e-9,
                    "{n}, {cell:?}: {by_hand}"
                );
            }
        }
    }
}

#[test]
fn the_set_point_moves_constant_current_cells_by_itself() {
    // Nothing else has a tolerance: the band is as wide as that of the set point.
    let set_point = Corners {
        low: 23.7,
        nominal: 24.0,
        high: 24.2,
    };
    let found = bands(&tape(), 0, 40, &[0, 40], set_point);
    for cell in &found.branches[0].segments[0].cells {
        let (below, above) = (
            cell.volts.nominal.value - cell.volts.low.value,
            cell.volts.high.value - cell.volts.nominal.value,
        );
        assert!(
            (below - 0.3).abs() < 1e-9 && (above - 0.2).abs() < 1e-9,
            "{cell:?}"
        );
    }
}

#[test]
fn a_feed_in_the_middle_has_its_cells_on_both_sides() {
    let found = bands(&tape(), 0, 100, &[37], Corners::same(SOURCE));
    let cells = &found.branches[0].segments[0].cells;
    let most = cells
        .iter()
        .max_by(|a, b| a.volts.nominal.value.total_cmp(&b.volts.nominal.value));
    assert!(matches!(most.map(|cell| cell.increment), Some(36 | 37)));
    for beside in [36, 37] {
        assert!(cells.iter().any(|cell| cell.increment == beside));
    }
}
