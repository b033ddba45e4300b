//! What a file must be before it is parsed: flat checks of its size, lines and nesting.

use super::lines::Lines;
use crate::job::fault::{Fault, FaultKind, Place};

/// Most bytes of a file: a job of 10 000 runs has about 7 MB.
const MOST_BYTES: usize = 16 << 20;
/// Most bytes of a line.
const MOST_LINE_BYTES: usize = 64 << 10;
/// Most brackets inside each other; a job uses four.
const DEEPEST: usize = 12;
/// Most dots in one key; a job uses none.
const MOST_DOTS: usize = 4;

fn fault(place: Option<Place>, says: String, remedy: &str) -> Box<Fault> {
    Box::new(Fault {
        kind: FaultKind::File,
        place,
        subject: String::new(),
        field: String::new(),
        says,
        remedy: remedy.to_string(),
        accepted: String::new(),
        suggestion: String::new(),
    })
}

/// The text without its byte order mark, or why it is not read at all.
pub(super) fn text_of(bytes: &[u8]) -> Result<&str, Box<Fault>> {
    if bytes.len() > MOST_BYTES {
        return Err(fault(
            None,
            format!(
                "the file has {} bytes, more than the {MOST_BYTES} that are read",
                bytes.len()
            ),
            "Split the job",
        ));
    }
    if bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]) {
        return Err(fault(
            Some(Place { line: 1, column: 1 }),
            "the file is written in UTF-16".to_string(),
            "Save it as UTF-8",
        ));
    }
    let text = match std::str::from_utf8(bytes) {
        Ok(text) => text,
        Err(error) => {
            let good = bytes.get(..error.valid_up_to()).unwrap_or(&[]);
            let good = std::str::from_utf8(good).unwrap_or("");
            let byte = bytes.get(error.valid_up_to()).copied().unwrap_or(0);
            return Err(fault(
                Some(Lines::new(good).place(good.len())),
                format!("the byte 0x{byte:02x} is not UTF-8 text"),
                "Save the file as UTF-8: it may mix two encodings",
            ));
        }
    };
    Ok(text.strip_prefix('\u{feff}').unwrap_or(text))
}

/// What may be inside the scanner at one byte.
#[derive(Clone, Copy, PartialEq)]
enum Inside {
    Plain,
    Basic,
    Literal,
    Comment,
}

/// Refuses long lines, deep nesting and text over several lines, without recursion.
///
/// Texts and comments end with their line here as they do in TOML, so the scan cannot fall
/// out of step with the parser once text over several lines is refused.
pub(super) fn check_shape(text: &str, lines: &Lines<'_>) -> Result<(), Box<Fault>> {
    if text.trim().is_empty() {
        return Err(fault(
            Some(Place { line: 1, column: 1 }),
            "the file is empty".to_string(),
            "Write a job: `schema = 1`, a title, tapes, supplies, places, zones and runs",
        ));
    }
    let mut start = 0;
    for line in text.split_inclusive('\n') {
        if line.len() > MOST_LINE_BYTES {
            return Err(fault(
                Some(lines.place(start)),
                format!(
                    "the line has {} bytes, more than the {MOST_LINE_BYTES} that are read",
                    line.len()
                ),
                "Break it",
            ));
        }
        start += line.len();
    }
    let bytes = text.as_bytes();
    let (mut inside, mut depth, mut dots, mut escaped) = (Inside::Plain, 0_usize, 0_usize, false);
    for (at, byte) in bytes.iter().enumerate() {
        if *byte == b'\n' {
            (inside, escaped, dots) = (Inside::Plain, false, 0);
            continue;
        }
        match inside {
            Inside::Comment => {}
            Inside::Literal => {
                if *byte == b'\'' {
                    inside = Inside::Plain;
                }
            }
            Inside::Basic => match byte {
                _ if escaped => escaped = false,
                b'\\' => escaped = true,
                b'"' => inside = Inside::Plain,
                _ => {}
            },
            Inside::Plain => match byte {
                b'"' | b'\'' => {
                    if bytes.get(at..at + 3) == Some(&[*byte; 3]) {
                        return Err(fault(
                            Some(lines.place(at)),
                            "text over several lines is not read".to_string(),
                            "Write it on one line, between single quotation marks of either kind",
                        ));
                    }
                    inside = if *byte == b'"' {
                        Inside::Basic
                    } else {
                        Inside::Literal
                    };
                }
                b'#' => inside = Inside::Comment,
                b'[' | b'{' => {
                    depth += 1;
                    dots = 0;
                    if depth > DEEPEST {
                        return Err(fault(
                            Some(lines.place(at)),
                            format!("brackets stand more than {DEEPEST} deep"),
                            "Close the brackets before: a job needs four",
                        ));
                    }
                }
                b']' | b'}' => depth = depth.saturating_sub(1),
                b'=' | b',' => dots = 0,
                b'.' => {
                    dots += 1;
                    if dots > MOST_DOTS {
                        return Err(fault(
                            Some(lines.place(at)),
                            format!("a key has more than {MOST_DOTS} dots"),
                            "Write tables as `[name]`: keys of a job have no dots",
                        ));
                    }
                }
                _ => {}
            },
        }
    }
    Ok(())
}
