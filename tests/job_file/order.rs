//! The order of declaration and the unit of entry change nothing.

use crate::edit::{DEMO, NAME, changed, good};
use evenrun::job::read;

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
    assert_eq!(good(&metric).canonical(), good(&feet).canonical());
    assert_ne!(good(&metric), good(DEMO));
}

/// The canonical form stands for the job: of two jobs that differ it differs, of two that are equal it is equal. Every digit of the
/// demonstration is changed in turn, and every line left out; what then is still a job is compared.
#[test]
fn the_canonical_form_stands_for_the_job() {
    let usual = good(DEMO);
    let form = usual.canonical();
    let (mut same, mut other) = (0, 0);
    let mut compare = |text: &str, what: &str| {
        if let Ok(job) = read(text, NAME) {
            let equal = job == usual;
            assert_eq!(job.canonical() == form, equal, "{what}");
            *(if equal { &mut same } else { &mut other }) += 1;
        }
    };
    for (at, digit) in DEMO.char_indices().filter(|(_, c)| c.is_ascii_digit()) {
        let next = char::from_digit((digit.to_digit(10).unwrap() + 1) % 10, 10).unwrap();
        let changed = format!("{}{next}{}", &DEMO[..at], &DEMO[at + 1..]);
        compare(&changed, &format!("byte {at}"));
    }
    let lines: Vec<&str> = DEMO.lines().collect();
    for left_out in 0..lines.len() {
        let rest = lines.iter().enumerate().filter(|(n, _)| *n != left_out);
        let text: Vec<&str> = rest.map(|(_, line)| *line).collect();
        compare(&text.join("\n"), lines[left_out]);
    }
    assert!(other > 600 && same > 30, "{other} {same}");
}

/// What a fingerprint is made of. A line that changes here changes the fingerprint of every job that says the same.
#[test]
fn the_canonical_form_as_it_is_frozen() {
    let job = good(include_str!("../plan/small.toml"));
    let frozen = include_str!("small_canonical.txt");
    for (number, (own, kept)) in job.canonical().lines().zip(frozen.lines()).enumerate() {
        assert_eq!(own, kept, "line {}", number + 1);
    }
    assert_eq!(job.canonical(), frozen);
    let feet = include_str!("../plan/small.toml").replace("\"3 m\"", "\"118.110236220472 in\"");
    assert!(good(&feet).canonical().contains("length = 3000000000 nm"));
    // What is stated has a line, were it what is taken anyway; what is not has none.
    let stated =
        include_str!("../plan/small.toml").replace("[limits]", "[limits]\nslack = \"300 mm\"");
    let line = "limits.slack = 300000000 nm\n";
    assert_eq!(good(&stated).canonical().replace(line, ""), frozen);
    assert!(!frozen.contains(line));
}
