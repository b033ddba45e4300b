//! Every reference file, its rows, and where they are checked, or the reason why not.

use crate::table;
use std::collections::BTreeMap;

/// File, rows that may be asserted, rows from memory, test that reads it.
///
/// Rows from memory are carried, where they are, marked so; no test asserts their figures. Each of those tests walks the whole file and fails when it has fewer rows, or when the library
/// carries another number of them.
const CHECKED: &[(&str, usize, usize, &str)] = &[
    ("ambient_correction", 61, 0, "factors::ambient_factors"),
    (
        "ampacity_iec_60364_5_52",
        190,
        0,
        "ampacities::iec_60364_5_52_by_method",
    ),
    ("ampacity_nec_310_16", 15, 0, "ampacities::us_code_310_16"),
    (
        "ampacity_nec_725_144",
        27,
        0,
        "ampacities::us_code_data_cables",
    ),
    (
        "ampacity_nec_small",
        45,
        0,
        "ampacities::us_code_small_conductors",
    ),
    ("awg_solid", 44, 0, "resistances::gauges_by_formula"),
    ("cca_wire_resistance", 8, 0, "materials::copper_clad_wire"),
    (
        "class2_dc_evaluated",
        26,
        0,
        "power_sources::class_2_dc_by_voltage",
    ),
    (
        "class2_dc_voltage_conditions",
        10,
        0,
        "power_sources::voltage_by_waveform_and_place",
    ),
    ("elv_limits", 10, 1, "power_sources::extra_low_voltage_rows"),
    ("grouping_factors", 34, 0, "factors::grouping_factors"),
    (
        "iec60228_resistance",
        103,
        0,
        "resistances::iec_60228_maxima",
    ),
    (
        "iec60228_temperature_factors",
        20,
        0,
        "resistances::iec_60228_temperature_factors",
    ),
    (
        "insulation_permittivity",
        12,
        0,
        "fields::published_pairs_and_inputs",
    ),
    ("materials", 8, 2, "materials::resistivities"),
    ("nec_ch9_table8", 21, 0, "resistances::us_code_table_8"),
    (
        "pair_lc_published",
        10,
        1,
        "fields::published_pairs_and_inputs",
    ),
    (
        "pcb_copper",
        11,
        2,
        "materials::foil_thickness_and_sheet_resistance",
    ),
    (
        "power_source_limits",
        17,
        1,
        "power_sources::limits_of_power_limited_sources",
    ),
    (
        "residuals",
        283,
        0,
        "residuals::all_comparisons_stay_in_their_ranges",
    ),
    (
        "skin_effect_5_percent",
        8,
        0,
        "fields::where_dc_resistance_stops_being_good_enough",
    ),
    (
        "skin_effect_ratio",
        8,
        0,
        "fields::skin_effect_of_a_lone_wire",
    ),
    (
        "small_metric_wire_resistance",
        8,
        0,
        "resistances::sizes_below_half_a_square_millimetre",
    ),
    (
        "strand_effective_diameter_factor",
        6,
        0,
        "fields::published_pairs_and_inputs",
    ),
    (
        "tinned_copper_b33",
        5,
        0,
        "materials::tinning_by_wire_diameter",
    ),
    ("touching_pair_lc", 9, 0, "fields::touching_pairs"),
    ("two_wire_line", 13, 0, "fields::two_wire_lines"),
    (
        "voltage_drop_guidance",
        10,
        1,
        "power_sources::advice_on_voltage_drop",
    ),
    ("worked_examples", 50, 0, "worked::all_fifty"),
];

/// Rows and columns that are not a check of the library, with the reason.
const NOT_CHECKED: &[(&str, &str)] = &[("sources", "a key to the `source` column: no figures")];

#[test]
fn every_file_is_checked_or_excused() {
    let folder =
        std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/reference/conductors");
    let mut files: Vec<String> = std::fs::read_dir(folder)
        .unwrap()
        .filter_map(|entry| {
            entry
                .unwrap()
                .file_name()
                .into_string()
                .unwrap()
                .strip_suffix(".csv")
                .map(String::from)
        })
        .collect();
    files.sort();
    let mut known: Vec<&str> = CHECKED
        .iter()
        .map(|row| row.0)
        .chain(NOT_CHECKED.iter().map(|row| row.0))
        .collect();
    known.sort_unstable();
    assert_eq!(files, known);
}

#[test]
fn rows_are_counted_by_what_they_may_be_used_for() {
    let mut counted = BTreeMap::new();
    for (file, ..) in CHECKED {
        let rows = table(file, 1);
        let asserted = rows.iter().filter(|row| row.may_be_asserted()).count();
        for row in &rows {
            assert!(
                matches!(row.text("status"), "seen" | "computed" | "memory"),
                "{file} line {}",
                row.line
            );
        }
        counted.insert(*file, (asserted, rows.len() - asserted));
    }
    let stated: BTreeMap<_, _> = CHECKED
        .iter()
        .map(|(file, asserted, memory, _)| (*file, (*asserted, *memory)))
        .collect();
    assert_eq!(counted, stated);
}

/// The test named beside a file exists in the module named and reads that file.
#[test]
fn the_test_named_reads_the_file() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/conductors");
    for (file, _, _, test) in CHECKED {
        let (module, function) = test.split_once("::").unwrap();
        let text = std::fs::read_to_string(folder.join(format!("{module}.rs"))).unwrap();
        let body = text
            .split_once(&format!("fn {function}()"))
            .unwrap_or_else(|| panic!("{test} does not exist"))
            .1;
        let body = body.split_once("#[test]").map_or(body, |(body, _)| body);
        assert!(
            body.contains(&format!("table(\"{file}\"")),
            "{test} does not read {file}"
        );
    }
}
