//! No text makes the reader panic, and what it says can be printed.

use crate::edit::{DEMO, NAME};
use evenrun::job::read_bytes;
use proptest::prelude::*;

/// One thing done to the bytes of the file.
#[derive(Debug, Clone)]
enum Change {
    Overwrite(usize, u8),
    Remove(usize, usize),
    Repeat(usize, usize, usize),
    Insert(usize, Vec<u8>),
}

fn change() -> impl Strategy<Value = Change> {
    let at = 0..DEMO.len();
    let token = prop::sample::select(vec![
        "\"",
        "'",
        "[",
        "]",
        "{",
        "}",
        "=",
        ",",
        ".",
        "#",
        "\n",
        "\\",
        "\"\"\"",
        "-",
        "nan",
        "1e308",
        "\u{feff}",
        "\u{0}",
        "[[run]]\n",
        "name = \"S1\"\n",
        "\"-1 m\"",
        "\"1e15 km\"",
        "\u{202e}",
    ]);
    prop_oneof![
        (at.clone(), any::<u8>()).prop_map(|(at, byte)| Change::Overwrite(at, byte)),
        (at.clone(), 1..200_usize).prop_map(|(at, count)| Change::Remove(at, count)),
        (at.clone(), 1..400_usize, 1..4_usize)
            .prop_map(|(at, count, times)| Change::Repeat(at, count, times)),
        (at, token).prop_map(|(at, token)| Change::Insert(at, token.as_bytes().to_vec())),
    ]
}

fn apply(bytes: &mut Vec<u8>, change: &Change) {
    let clamp = |at: usize, bytes: &[u8]| at.min(bytes.len().saturating_sub(1));
    match change {
        Change::Overwrite(at, byte) => {
            let at = clamp(*at, bytes);
            if let Some(slot) = bytes.get_mut(at) {
                *slot = *byte;
            }
        }
        Change::Remove(at, count) => {
            let at = clamp(*at, bytes);
            let end = (at + count).min(bytes.len());
            bytes.drain(at..end);
        }
        Change::Repeat(at, count, times) => {
            let at = clamp(*at, bytes);
            let end = (at + count).min(bytes.len());
            let part = bytes[at..end].repeat(*times);
            bytes.splice(at..at, part);
        }
        Change::Insert(at, what) => {
            let at = clamp(*at, bytes);
            bytes.splice(at..at, what.iter().copied());
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 600, ..ProptestConfig::default() })]

    /// Whatever is done to the bytes: a job or faults, never a panic; faults stand on lines of
    /// the file, print on one line each, and never say more than is kept.
    #[test]
    fn the_reader_does_not_panic(changes in prop::collection::vec(change(), 1..6)) {
        let mut bytes = DEMO.as_bytes().to_vec();
        for change in &changes {
            apply(&mut bytes, change);
        }
        let lines = bytes.iter().filter(|byte| **byte == b'\n').count() + 1;
        if let Err(faults) = read_bytes(&bytes, NAME) {
            prop_assert!(faults.count() > 0);
            let text = faults.to_string();
            prop_assert!(text.lines().count() <= faults.faults().len() + 1);
            for fault in faults.faults() {
                if let Some(place) = fault.place {
                    prop_assert!((1..=lines).contains(&place.line), "{fault}");
                    prop_assert!(place.column >= 1);
                }
            }
        }
    }

    /// Any bytes at all.
    #[test]
    fn nor_on_bytes_from_nowhere(bytes in prop::collection::vec(any::<u8>(), 0..300)) {
        let _ = read_bytes(&bytes, NAME);
    }
}
