//! A line in, a line out: what every question has in common.

use super::fault::{Kind, Refusal, without_column};
use super::screen::clean_json;
use serde::Deserialize;
use serde::de::{DeserializeSeed, Deserializer, IgnoredAny, MapAccess, Visitor};
use serde_json::value::RawValue;
use std::borrow::Cow;
use std::cell::Cell;
use std::fmt;
use std::io::{self, BufRead, Read, Write};
use std::panic::{AssertUnwindSafe, catch_unwind};

/// Longest line that is read, bytes; the rest of a longer one is skipped.
pub const LONGEST_LINE: usize = 32 << 20;

const FORM: &str = "{\"id\": …, \"question\": \"…\", \"input\": {…}}";

/// What a line gives back to whoever sent it, as far as the line can be read. Other keys are not looked at.
struct Named<'c, 'a>(&'c Cell<Option<&'a RawValue>>);

impl<'a> DeserializeSeed<'a> for Named<'_, 'a> {
    type Value = ();
    fn deserialize<D: Deserializer<'a>>(self, line: D) -> Result<(), D::Error> {
        line.deserialize_map(self)
    }
}

impl<'a> Visitor<'a> for Named<'_, 'a> {
    type Value = ();
    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a JSON object")
    }
    fn visit_map<M: MapAccess<'a>>(self, mut fields: M) -> Result<(), M::Error> {
        while let Some(key) = fields.next_key::<Cow<'a, str>>()? {
            if key == "id" {
                self.0.set(Some(fields.next_value()?));
            } else {
                fields.next_value::<IgnoredAny>()?;
            }
        }
        Ok(())
    }
}

/// The id of a line that may be no JSON behind it, and what is wrong with its form.
fn named(text: &str) -> (&str, Result<(), serde_json::Error>) {
    let id = Cell::new(None);
    let mut line = serde_json::Deserializer::from_str(text);
    let read = Named(&id).deserialize(&mut line).and_then(|()| line.end());
    (id.get().map_or("null", RawValue::get), read)
}

/// The id of the part of a line that is UTF-8.
fn id_of(bytes: &[u8]) -> &str {
    let text = match std::str::from_utf8(bytes) {
        Ok(text) => text,
        Err(error) => std::str::from_utf8(&bytes[..error.valid_up_to()]).unwrap_or_default(),
    };
    named(text).0
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

/// Answers every line of `input` by `ask` (question and input to answer), each before the next one is read; the exit code,
/// 1 where a line has no answer.
///
/// # Errors
/// Reading or writing fails.
pub fn run(
    mut input: impl BufRead,
    mut out: impl Write,
    ask: impl Fn(&str, &str) -> Result<String, Refusal>,
) -> io::Result<u8> {
    let mut code = 0;
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
        let (id, answer) = if whole {
            reply(bytes, &ask)
        } else {
            let says = format!(
                "the line is longer than the {LONGEST_LINE} bytes that are read; ask in parts"
            );
            (id_of(bytes), Err(Refusal::of(Kind::Line, says)))
        };
        if answer.is_err() {
            code = 1;
        }
        out.write_all(clean_json(&said(id, answer)).as_bytes())?;
        out.write_all(b"\n")?;
        out.flush()?;
    }
    Ok(code)
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

type Answer = Result<String, Refusal>;

/// The id of a line and its answer.
fn reply<'l>(bytes: &'l [u8], ask: &impl Fn(&str, &str) -> Answer) -> (&'l str, Answer) {
    let text = match std::str::from_utf8(bytes) {
        Ok(text) => text,
        Err(error) => {
            let at = error.valid_up_to() + 1;
            let says = format!("byte {at} is not UTF-8; write the line in UTF-8");
            return (id_of(bytes), Err(Refusal::of(Kind::Line, says)));
        }
    };
    // A struct may be read from a list as well; a line may not.
    if !text.starts_with('{') {
        let says = format!("no object: write one JSON object a line, {FORM}");
        return ("null", Err(Refusal::of(Kind::Line, says)));
    }
    let (id, read) = named(text);
    if let Err(error) = read {
        let says = format!(
            "column {}: {}; write one JSON object a line, {FORM}",
            error.column(),
            without_column(&error)
        );
        return (id, Err(Refusal::of(Kind::Line, says)));
    }
    let request: Request<'_> = match serde_json::from_str(text) {
        Ok(request) => request,
        Err(error) => {
            let says = format!(
                "{}; a line has `id` (any value, may be left out), `question` and `input`",
                without_column(&error)
            );
            return (id, Err(Refusal::of(Kind::Question, says)));
        }
    };
    // The crate does not panic on any input; if that is ever untrue, one line is lost and not all that follow.
    let asked = AssertUnwindSafe(|| ask(&request.question, request.input.get()));
    let answer = catch_unwind(asked).unwrap_or_else(|_| {
        let says = "a fault of this program, not of the line: no answer; please report the line";
        Err(Refusal::of(Kind::Program, says))
    });
    (id, answer)
}

/// An answer or a refusal as a line.
fn said(id: &str, answer: Answer) -> String {
    match answer {
        Ok(answer) => format!("{{\"id\":{id},\"answer\":{answer}}}"),
        Err(refusal) => {
            // Texts and no figures: they can always be written.
            let error = serde_json::to_string(&refusal).unwrap_or_else(|_| "{}".to_string());
            format!("{{\"id\":{id},\"error\":{error}}}")
        }
    }
}
