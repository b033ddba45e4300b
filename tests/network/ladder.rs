//! Ladders of diode strings against `ladder_check.csv` (Newton on the Lambert W ladder in Python, cross-checked with a circuit simulator).
use crate::build::*;
use crate::common::{assert_within, rows};
use crate::continuum::{Feed, Tape};
use evenrun::network::*;
use evenrun::quantity::*;

#[test]
fn every_row_of_the_ladder_table() {
    for row in rows("light/ladder_check.csv", 14) {
        let case = row.text("case").to_string();
        assert!(row.may_be_asserted());
        let cells = row.number("cells") as usize;
        let link = row.number("loop_r_ohm_per_m") * row.number("length_m") / cells as f64;
        let supply = row.number("supply_v");
        let both = case.contains("both");
        // Cells sit at the middle of their section: half a link at either end.
        let mut spec = NetworkSpec::new();
        let (plus, minus) = (spec.node("plus"), spec.node("minus"));
        spec.stiff_source("supply", plus, minus, volts(supply));
        let law = spec.law(string(
            row.text("diode"),
            row.number("series_count") as u32,
            row.number("ballast_ohm"),
        ));
        let ends: Vec<usize> = if both { vec![0, cells - 1] } else { vec![0] };
        let half = |node| {
            ends.iter()
                .map(|&k| Attachment::through(k, node, ohms(link / 4.0)))
                .collect::<Vec<_>>()
        };
        let tape = spec.tape(one_emitter(
            cells,
            law,
            link / 2.0,
            link / 2.0,
            half(plus),
            half(minus),
        ));
        solved(spec, |s| {
            let v = s.tape(tape).unwrap().cell_volts(0);
            let i = s.tape(tape).unwrap().cell_amps(0);
            // 1e-6 V is the tolerance of the table's page; its digits end at 1e-7 V.
            assert_within(
                &format!("{case}: first"),
                v[0],
                row.number("v_first_cell"),
                1e-6,
            );
            assert_within(
                &format!("{case}: N/2"),
                v[cells / 2],
                row.number("v_cell_n_over_2"),
                1e-6,
            );
            assert_within(
                &format!("{case}: last"),
                v[cells - 1],
                row.number("v_last_cell"),
                1e-6,
            );
            let least = s.tape(tape).unwrap().least_cell_voltage(0).unwrap().value;
            assert_within(&format!("{case}: least"), least, row.number("v_min"), 1e-6);
            let input = s.source_current(SourceId(0)).unwrap().value;
            assert_within(
                &format!("{case}: input"),
                input,
                row.number("input_current_a"),
                1e-8,
            );
            let (low, high) = s.tape(tape).unwrap().cell_current_range(0).unwrap();
            assert_within(
                &format!("{case}: ratio"),
                low.value / high.value,
                row.number("i_min_over_i_max"),
                1e-8,
            );
            let mean = i.iter().sum::<f64>() / cells as f64 / 0.020;
            assert_within(
                &format!("{case}: mean"),
                mean,
                row.number("i_mean_over_20ma"),
                1e-8,
            );
            assert!(
                s.bound_is_rigorous() && s.volt_error_bound().value < 1e-9,
                "{case}: {:?}",
                s.volt_error_bound()
            );
            assert!(s.iterations() < 12, "{case}: {} iterations", s.iterations());
        });
    }
}

/// The same tapes with straight-line cells, in the limit of ever shorter ones: least voltage in closed form, of the same table.
#[test]
fn every_closed_form_of_the_ladder_table() {
    let diodes = rows("light/led_parameter_sets.csv", 5);
    for row in rows("light/ladder_check.csv", 14) {
        let diode = diodes
            .iter()
            .find(|d| d.text("diode") == row.text("diode"))
            .expect("a diode of the table");
        let count = row.number("series_count");
        let knee = count * diode.number("pwl_intercept_v0_v");
        let ohms_of_a_cell = count * diode.number("pwl_slope_rd_ohm") + row.number("ballast_ohm");
        let length = row.number("length_m");
        let cells_per_metre = row.number("cells") / length;
        let supply = row.number("supply_v");
        let ends = if row.text("case").contains("both") {
            vec![0.0, length]
        } else {
            vec![0.0]
        };
        let tape = Tape {
            length,
            ohms_per_metre: row.number("loop_r_ohm_per_m"),
            cell: &|step| line(knee, ohms_of_a_cell / (cells_per_metre * step), None),
            feeds: ends
                .into_iter()
                .map(|x| Feed {
                    x,
                    ohms: 0.0,
                    volts: supply,
                })
                .collect(),
        };
        let least = tape.limit(|found| found.cells.iter().copied().fold(f64::INFINITY, f64::min));
        assert_within(
            row.text("case"),
            least,
            row.number("v_min_pwl_closed_form"),
            5e-6, // the digits of this column end at 1e-5 V
        );
    }
}
