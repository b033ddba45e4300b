//! What is done to a job file.

use crate::dice::Dice;
use std::ops::Range;

/// Most things done to one file.
const MOST: u64 = 4;

/// What may stand where a number stood.
const NUMBERS: [&str; 34] = [
    "0",
    "-1",
    "-0",
    "1",
    "2",
    "7",
    "0.001",
    "1e-9",
    "1e-300",
    "5e-324",
    "1e9",
    "1e15",
    "1e300",
    "1e308",
    "1e400",
    "nan",
    "inf",
    "-inf",
    "NaN",
    "1000",
    "100000",
    "4294967296",
    "9223372036854775807",
    "99999999999999999999999",
    "0.1",
    "10",
    "50",
    "333.333",
    "1/0",
    "1/3",
    "1 000",
    "1,5",
    "٣",
    "-2.5",
];

/// Texts that are put in anywhere.
const TEXTS: [&str; 30] = [
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
    "\u{feff}",
    "\u{0}",
    "\u{202e}",
    "\u{1b}[31m",
    "[[run]]\n",
    "[[zone]]\n",
    "[limits]\n",
    "name = \"S1\"\n",
    "drawn = \"3 m\"\n",
    "\"-1 m\"",
    "\"1e15 km\"",
    "\"none\"",
    "true",
    "1979-05-27",
    "uncut = [{ from = \"0 m\", to = \"9 m\" }]\n",
    "\u{301}",
    "\r",
];

/// The file with one to four things done to it.
pub fn changed(bytes: &[u8], dice: &mut Dice) -> Vec<u8> {
    let mut text = bytes.to_vec();
    // Half of the files are changed as a hasty writer would, so that most of them can still be planned.
    if dice.next(2) == 0 {
        for _ in 0..=dice.next(MOST) {
            hasty(&mut text, dice);
        }
        return text;
    }
    for _ in 0..=dice.next(MOST) {
        if text.is_empty() {
            return text;
        }
        match dice.next(20) {
            0 => overwrite(&mut text, dice),
            1 => insert(&mut text, dice),
            2 => repeat_bytes(&mut text, dice),
            3 | 4 => token(&mut text, dice),
            5 | 6 => value(&mut text, dice),
            7 | 8 => line(&mut text, dice),
            9 | 10 => table(&mut text, dice),
            _ => number(&mut text, dice),
        }
    }
    text
}

/// Another figure of the same order, an optional line left out, a table more.
fn hasty(text: &mut Vec<u8>, dice: &mut Dice) {
    match dice.next(6) {
        0 => copies(text, dice),
        1 => value_of_its_key(text, dice),
        2 if dice.next(4) == 0 => line(text, dice),
        _ => scaled(text, dice),
    }
}

fn below(dice: &mut Dice, count: usize) -> usize {
    dice.next(count.max(1) as u64) as usize
}

fn pick(ranges: &[Range<usize>], dice: &mut Dice) -> Option<Range<usize>> {
    ranges.get(below(dice, ranges.len())).cloned()
}

fn overwrite(text: &mut [u8], dice: &mut Dice) {
    let at = below(dice, text.len());
    text[at] = dice.next(256) as u8;
}

fn insert(text: &mut Vec<u8>, dice: &mut Dice) {
    let at = below(dice, text.len());
    let put = TEXTS[below(dice, TEXTS.len())];
    text.splice(at..at, put.bytes());
}

fn repeat_bytes(text: &mut Vec<u8>, dice: &mut Dice) {
    let from = below(dice, text.len());
    let to = (from + 1 + below(dice, 300)).min(text.len());
    if dice.next(2) == 0 {
        text.drain(from..to);
    } else {
        let part = text[from..to].to_vec();
        text.splice(from..from, part);
    }
}

/// Places of what stands between blanks and punctuation.
fn tokens(text: &[u8]) -> Vec<Range<usize>> {
    runs(text, |byte| {
        byte.is_ascii_alphanumeric() || matches!(byte, b'_' | b'.' | b'"')
    })
}

/// Places of the longest stretches of bytes of a kind.
fn runs(text: &[u8], of: impl Fn(u8) -> bool) -> Vec<Range<usize>> {
    let mut out = Vec::new();
    let mut from = None;
    for (at, byte) in text.iter().enumerate() {
        match (of(*byte), from) {
            (true, None) => from = Some(at),
            (false, Some(start)) => {
                out.push(start..at);
                from = None;
            }
            _ => {}
        }
    }
    out.extend(from.map(|start| start..text.len()));
    out
}

/// A token taken out, doubled, or put in the place of another.
fn token(text: &mut Vec<u8>, dice: &mut Dice) {
    let all = tokens(text);
    let (Some(here), Some(other)) = (pick(&all, dice), pick(&all, dice)) else {
        return;
    };
    let put = match dice.next(4) {
        0 => Vec::new(),
        1 => [&text[here.clone()], &b" "[..], &text[here.clone()]].concat(),
        _ => text[other].to_vec(),
    };
    text.splice(here, put);
}

/// A text between quotation marks in the place of another.
fn value(text: &mut Vec<u8>, dice: &mut Dice) {
    let marks: Vec<usize> = (0..text.len()).filter(|at| text[*at] == b'"').collect();
    let all: Vec<Range<usize>> = marks
        .chunks_exact(2)
        .map(|pair| pair[0]..pair[1] + 1)
        .collect();
    let (Some(here), Some(other)) = (pick(&all, dice), pick(&all, dice)) else {
        return;
    };
    let put = text[other].to_vec();
    text.splice(here, put);
}

/// A line taken out, doubled, or put elsewhere.
fn line(text: &mut Vec<u8>, dice: &mut Dice) {
    let all = runs(text, |byte| byte != b'\n');
    let (Some(here), Some(other)) = (pick(&all, dice), pick(&all, dice)) else {
        return;
    };
    let copy = [&b"\n"[..], &text[here.clone()], &b"\n"[..]].concat();
    match dice.next(3) {
        0 => {
            text.drain(here);
        }
        1 => {
            text.splice(here.end..here.end, copy);
        }
        _ => {
            text.splice(other.end..other.end, copy);
        }
    }
}

/// Places of the tables.
fn tables(text: &[u8]) -> Vec<Range<usize>> {
    let mut starts: Vec<usize> = (0..text.len())
        .filter(|at| text[*at] == b'[' && (*at == 0 || text[at - 1] == b'\n'))
        .collect();
    starts.push(text.len());
    starts.windows(2).map(|pair| pair[0]..pair[1]).collect()
}

/// A table more, or several, each under a name of its own.
fn copies(text: &mut Vec<u8>, dice: &mut Dice) {
    let Some(here) = pick(&tables(text), dice) else {
        return;
    };
    let part = text[here.clone()].to_vec();
    let mut copies = Vec::new();
    for copy in 0..=dice.next(12) {
        copies.extend(renamed(&part, copy));
    }
    text.splice(here.end..here.end, copies);
}

/// A table taken out, doubled, or doubled under another name.
fn table(text: &mut Vec<u8>, dice: &mut Dice) {
    let Some(here) = pick(&tables(text), dice) else {
        return;
    };
    let part = text[here.clone()].to_vec();
    match dice.next(4) {
        0 => {
            text.drain(here);
        }
        1 => {
            text.splice(here.end..here.end, part);
        }
        _ => copies(text, dice),
    }
}

/// A table with a name of its own.
fn renamed(part: &[u8], copy: u64) -> Vec<u8> {
    let start = b"name = \"";
    let found = part.windows(start.len()).position(|bytes| bytes == start);
    let mut part = part.to_vec();
    if let Some(at) = found.map(|at| at + start.len()) {
        part.splice(at..at, format!("copy {copy} of ").into_bytes());
    }
    part
}

/// Another number in the place of one, or the same with other digits.
fn number(text: &mut Vec<u8>, dice: &mut Dice) {
    let all = runs(text, |byte| byte.is_ascii_digit() || byte == b'.');
    let Some(here) = pick(&all, dice) else {
        return;
    };
    let old = String::from_utf8_lossy(&text[here.clone()]).into_owned();
    let put = match dice.next(3) {
        0 => format!("{old}{}", dice.next(10)),
        _ => NUMBERS[below(dice, NUMBERS.len())].to_string(),
    };
    text.splice(here, put.into_bytes());
}

/// A number times something.
fn scaled(text: &mut Vec<u8>, dice: &mut Dice) {
    let all = runs(text, |byte| byte.is_ascii_digit() || byte == b'.');
    let Some(here) = pick(&all, dice) else {
        return;
    };
    let times = [
        0.01, 0.1, 0.5, 0.9, 0.99, 1.01, 1.1, 2.0, 3.0, 10.0, 100.0, 1000.0,
    ][below(dice, 12)];
    let old = String::from_utf8_lossy(&text[here.clone()]).parse::<f64>();
    let Ok(old) = old else { return };
    // Whole numbers stay whole where the file needs that.
    let new = if old.fract() == 0.0 && old * times >= 1.0 {
        (old * times).round()
    } else {
        old * times
    };
    text.splice(here, format!("{new}").into_bytes());
}

/// What stands behind a key, in the place of what stands behind the same key elsewhere.
fn value_of_its_key(text: &mut Vec<u8>, dice: &mut Dice) {
    let all = runs(text, |byte| byte != b'\n');
    let key = |range: &Range<usize>| text[range.clone()].iter().position(|byte| *byte == b'=');
    let Some((here, at)) = pick(&all, dice).and_then(|range| Some((range.clone(), key(&range)?)))
    else {
        return;
    };
    let start = text[here.start..here.start + at].to_vec();
    let same: Vec<Range<usize>> = all
        .into_iter()
        .filter(|range| text[range.clone()].starts_with(&start))
        .collect();
    if let Some(other) = pick(&same, dice) {
        let put = text[other].to_vec();
        text.splice(here, put);
    }
}
