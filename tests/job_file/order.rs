//! The order of declaration and the unit of entry change nothing.

use crate::edit::{DEMO, changed, good};

/// The tables `[[…]]` and `[…]` of the demonstration, each with its comment lines, and what
/// stands before the first.
fn tables(text: &str) -> (String, Vec<String>) {
    let mut head = String::new();
    let mut tables: Vec<String> = Vec::new();
    for line in text.lines() {
        if line.starts_with('[') {
            tables.push(String::new());
        }
        let into = tables.last_mut().unwrap_or(&mut head);
        into.push_str(line);
        into.push('\n');
    }
    (head, tables)
}

#[test]
fn order_of_declaration() {
    let usual = good(DEMO);
    let (head, tables) = tables(DEMO);
    assert!(tables.len() > 25, "{}", tables.len());
    let reversed: String = tables.iter().rev().cloned().collect();
    assert_eq!(good(&format!("{head}{reversed}")), usual);
    for step in [7, 11, 13] {
        // A permutation: the steps have no common divisor with the number of tables.
        let count = tables.len();
        let coprime = (step..)
            .find(|s| (1..=count).all(|d| d == 1 || count % d != 0 || s % d != 0))
            .unwrap();
        let mixed: String = (0..count)
            .map(|k| tables[k * coprime % count].clone())
            .collect();
        let job = good(&format!("{head}{mixed}"));
        assert_eq!(job, usual);
        assert_eq!(job.canonical(), usual.canonical());
    }
}

#[test]
fn order_inside_a_path_does_change_the_job() {
    let swapped = changed(
        "    { straight = \"4.8 m\" },\n",
        "    { straight = \"4.2 m\" },\n",
    )
    .replacen(
        "    { straight = \"4.2 m\" },\n]",
        "    { straight = \"4.8 m\" },\n]",
        1,
    );
    assert_ne!(good(&swapped), good(DEMO));
}

#[test]
fn unit_of_entry() {
    // 1 ft = 0.3048 m exactly (international yard and pound agreement of 1959).
    let metric = DEMO
        .replace("\"12.3 m\"", "\"12.192 m\"")
        .replace("\"15.2 m\", basis", "\"15.24 m\", basis")
        .replace("lead = \"600 mm\"", "lead = \"609.6 mm\"");
    let feet = DEMO
        .replace("\"12.3 m\"", "\"40 ft\"")
        .replace("\"15.2 m\", basis", "\"50 ft\", basis")
        .replace("lead = \"600 mm\"", "lead = \"24 in\"");
    assert_ne!(metric, feet);
    assert_eq!(good(&metric), good(&feet));
    assert_ne!(good(&metric), good(DEMO));
}
