//! Every table can be cited: the page lists it as the library cites it, and the content hash tells a change.

use evenrun::cable::tables::{self, Table};
use std::collections::BTreeSet;

const PAGE: &str = include_str!("../../src/cable/tables/citing.md");

fn every_table() -> Vec<Table> {
    let mut all = tables::all();
    all.extend(evenrun::protect::tables::all());
    all
}

#[test]
fn the_page_cites_every_table_as_the_library_does() {
    let all = every_table();
    assert_eq!(all.len(), 21);
    for table in &all {
        let row = format!("| `{}` | {} | ", table.id, table.source);
        assert!(PAGE.contains(&row), "the page lacks: {row}");
        assert!(table.cite().starts_with(&table.source.to_string()));
        assert!(table.cite().contains(&format!("table `{}`", table.id)));
    }
    let rows = PAGE.lines().filter(|line| line.starts_with("| `")).count();
    assert_eq!(
        rows,
        all.len(),
        "the page lists a table that is not carried"
    );
}

#[test]
fn tables_are_told_apart_and_print_their_rows() {
    let all = every_table();
    let ids: BTreeSet<_> = all.iter().map(|table| table.id).collect();
    let hashes: BTreeSet<_> = all.iter().map(Table::content_hash).collect();
    assert_eq!((ids.len(), hashes.len()), (all.len(), all.len()));
    for table in &all {
        let csv = table.csv();
        let mut lines = csv.lines();
        let columns = lines.next().unwrap().split(',').count();
        assert!(columns >= 2 && lines.count() >= 5, "{}: {csv}", table.id);
        assert!(!table.covers.is_empty());
    }
    assert!(tables::find("us-code-310-16").is_some());
    assert!(tables::find("us-code-310-15").is_none());
}

/// The hash is that of the printed rows: SHA-256 of the text of one table by another implementation.
///
/// Source: FIPS 180-4; the digest was made with the coreutils program `sha256sum` from the printed CSV.
#[test]
fn content_hash_of_one_table() {
    let table = tables::find("strand-diameter-factor").unwrap();
    assert_eq!(
        table.csv(),
        "wires,factor\n1,1.0\n7,0.939\n19,0.97\n37,0.98\n61,0.985\n91,0.988\n"
    );
    assert_eq!(
        table.content_hash(),
        "9e2f425c9d94439553cc4e732cf847bd9c3e6176ca3bd24956dccaa0d75344e4"
    );
}

/// A figure from memory is marked so in the rows that are printed.
#[test]
fn rows_from_memory_are_marked() {
    let marked: Vec<_> = every_table()
        .iter()
        .map(|table| {
            (
                table.id,
                table
                    .csv()
                    .lines()
                    .filter(|line| line.ends_with(",true"))
                    .count(),
            )
        })
        .filter(|(id, n)| *n > 0 && *id != "iec-60364-5-52")
        .collect();
    assert_eq!(
        marked,
        [
            ("copper-foil", 2),
            ("published-pairs", 1),
            ("resistivities", 2),
            ("voltage-drop-guidance", 1),
            ("extra-low-voltage", 1),
            ("power-source-limits", 1),
        ]
    );
}
