//! A line in, a line out: what every question has in common.

use super::fault::{Kind, Refusal, without_column};
use serde::Deserialize;
use serde_json::value::RawValue;
use std::borrow::Cow;
use std::io::{self, BufRead, Read, Write};
use std::panic::{AssertUnwindSafe, catch_unwind};

/// Longest line that is read, bytes; the rest of a longer one is skipped.
pub const LONGEST_LINE: usize = 32 << 20;

const FORM: &str = "{\"id\": …, \"question\": \"…\", \"input\": {…}}";

/// What a line gives back to whoever sent it. Other keys are not looked at.
#[derive(Deserialize)]
struct Named<'a> {
    #[serde(borrow, default)]
    id: Option<&'a RawValue>,
}

/// A line.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Request<'a> {
    #[serde(borrow, default, rename = "id")]
    _id: Option<&'a RawValue>,
    #[serde(borrow)]
    question: Cow<'a, str>,
    #[serde(borrow)]
    input: &'a RawValue,
}

/// Answers every line of `input` by `ask` (question and input to answer), each before the next one is read.
///
/// # Errors
/// Reading or writing fails.
pub fn run(
    mut input: impl BufRead,
    mut out: impl Write,
    ask: impl Fn(&str, &str) -> Result<String, Refusal>,
) -> io::Result<()> {
    let mut line = Vec::new();
    let mut first = true;
    while let Some(whole) = next(&mut input, &mut line)? {
        let bytes = match line.strip_prefix("\u{feff}".as_bytes()) {
            Some(rest) if first => rest,
            _ => &line,
        };
        first = false;
        let bytes = bytes.trim_ascii();
        if bytes.is_empty() {
            continue;
        }
        let answered = if whole {
            reply(bytes, &ask)
        } else {
            let says = format!(
                "the line is longer than the {LONGEST_LINE} bytes that are read; ask in parts"
            );
            said("null", Err(Refusal::of(Kind::Line, says)))
        };
        out.write_all(answered.as_bytes())?;
        out.write_all(b"\n")?;
        out.flush()?;
    }
    Ok(())
}

/// Reads the next line without its end; whether all of it was kept, or none at the end of the input.
fn next(input: &mut impl BufRead, line: &mut Vec<u8>) -> io::Result<Option<bool>> {
    line.clear();
    let most = LONGEST_LINE as u64 + 1;
    if input.by_ref().take(most).read_until(b'\n', line)? == 0 {
        return Ok(None);
    }
    if line.last() == Some(&b'\n') || line.len() <= LONGEST_LINE {
        return Ok(Some(true));
    }
    input.skip_until(b'\n')?;
    Ok(Some(false))
}

/// The line that answers a line.
fn reply(bytes: &[u8], ask: &impl Fn(&str, &str) -> Result<String, Refusal>) -> String {
    let text = match std::str::from_utf8(bytes) {
        Ok(text) => text,
        Err(error) => {
            let at = error.valid_up_to() + 1;
            let says = format!("byte {at} is not UTF-8; write the line in UTF-8");
            return said("null", Err(Refusal::of(Kind::Line, says)));
        }
    };
    // A struct may be read from a list as well; a line may not.
    if !text.starts_with('{') {
        let says = format!("no object: write one JSON object a line, {FORM}");
        return said("null", Err(Refusal::of(Kind::Line, says)));
    }
    let named: Named<'_> = match serde_json::from_str(text) {
        Ok(named) => named,
        Err(error) => {
            let says = format!(
                "column {}: {}; write one JSON object a line, {FORM}",
                error.column(),
                without_column(&error)
            );
            return said("null", Err(Refusal::of(Kind::Line, says)));
        }
    };
    let id = named.id.map_or("null", RawValue::get);
    let request: Request<'_> = match serde_json::from_str(text) {
        Ok(request) => request,
        Err(error) => {
            let says = format!(
                "{}; a line has `id` (any value, may be left out), `question` and `input`",
                without_column(&error)
            );
            return said(id, Err(Refusal::of(Kind::Question, says)));
        }
    };
    // The crate does not panic on any input; if that is ever untrue, one line is lost and not all that follow.
    let asked = AssertUnwindSafe(|| ask(&request.question, request.input.get()));
    let answer = catch_unwind(asked).unwrap_or_else(|_| {
        let says = "a fault of this program, not of the line: no answer; please report the line";
        Err(Refusal::of(Kind::Program, says))
    });
    said(id, answer)
}

/// An answer or a refusal as a line.
fn said(id: &str, answer: Result<String, Refusal>) -> String {
    match answer {
        Ok(answer) => format!("{{\"id\":{id},\"answer\":{answer}}}"),
        Err(refusal) => {
            // Texts and no figures: they can always be written.
            let error = serde_json::to_string(&refusal).unwrap_or_else(|_| "{}".to_string());
            format!("{{\"id\":{id},\"error\":{error}}}")
        }
    }
}
