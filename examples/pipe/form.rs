//! The input of a question, or every place where it has another form.
//!
//! A reader stops at the first such place. What is wrong there is then taken out of the input, and the rest is read again, until
//! nothing more is found. A field that is missing because it was taken out is not said to be missing; nor is what an object
//! lacks said twice.

use super::fault::{Fault, Kind, Refusal, without_column};
use serde::de::DeserializeOwned;
use serde_json::Value;
use serde_path_to_error::Segment;
use std::collections::{BTreeMap, BTreeSet};

/// Most faults of one line.
const MOST: usize = 200;

/// Reads an input.
///
/// # Errors
/// Every place that has another form, of kind `form`.
pub fn read<T: DeserializeOwned>(input: &str) -> Result<T, Refusal> {
    let text = &mut serde_json::Deserializer::from_str(input);
    let first = match serde_path_to_error::deserialize(text) {
        Ok(read) => return Ok(read),
        Err(first) => first,
    };
    let mut faults = Vec::new();
    if let Ok(value) = serde_json::from_str(input) {
        Mended {
            value,
            ..Mended::default()
        }
        .faults::<T>(&mut faults);
    }
    if faults.is_empty() {
        // Beyond what the tree can hold, such as lists in lists without end.
        let at = shown(&steps(first.path()));
        faults.push(fault(&at, &first.into_inner()));
    }
    let kind = Kind::Form;
    Err(Refusal { kind, faults })
}

fn fault(place: &str, error: &serde_json::Error) -> Fault {
    Fault {
        place: Some(place.to_string()),
        says: without_column(error),
    }
}

/// One step into the input.
#[derive(Clone)]
enum Step {
    Key(String),
    Index(usize),
}

fn steps(path: &serde_path_to_error::Path) -> Vec<Step> {
    let each = path.iter().filter_map(|segment| match segment {
        Segment::Seq { index } => Some(Step::Index(*index)),
        Segment::Map { key } => Some(Step::Key(key.clone())),
        Segment::Enum { variant } => Some(Step::Key(variant.clone())),
        Segment::Unknown => None,
    });
    each.collect()
}

fn shown(steps: &[Step]) -> String {
    let each = steps.iter().map(|step| match step {
        Step::Key(key) => format!(".{key}"),
        Step::Index(index) => format!("[{index}]"),
    });
    format!("input{}", each.collect::<String>())
}

/// An input with what was wrong taken out.
#[derive(Default)]
struct Mended {
    value: Value,
    /// Entries taken out of each list, by its place in what was sent.
    gone: BTreeMap<String, BTreeSet<usize>>,
    /// Fields taken out.
    fields: BTreeSet<String>,
}

impl Mended {
    fn faults<T: DeserializeOwned>(mut self, faults: &mut Vec<Fault>) {
        while faults.len() < MOST {
            let Err(error) = serde_path_to_error::deserialize::<_, T>(&self.value) else {
                return;
            };
            let mut here = steps(error.path());
            let error = error.into_inner();
            let text = error.to_string();
            let named = text.split('`').nth(1).unwrap_or_default().to_string();
            let (missing, unknown) = (
                text.starts_with("missing field"),
                text.starts_with("unknown field"),
            );
            if unknown && !matches!(here.last(), Some(Step::Key(last)) if *last == named) {
                here.push(Step::Key(named.clone()));
            }
            let place = shown(&self.sent(&here));
            let own = missing && self.fields.contains(&format!("{place}.{named}"));
            if !own {
                let object = if unknown {
                    place.rsplit_once('.').map_or("input", |(object, _)| object)
                } else {
                    &place
                };
                faults.push(fault(object, &error));
            }
            if !self.take_out(&here) {
                return;
            }
        }
    }

    /// A place as it stood in what was sent.
    fn sent(&self, here: &[Step]) -> Vec<Step> {
        let mut sent: Vec<Step> = Vec::new();
        for step in here {
            let step = match step {
                Step::Index(at) => {
                    let gone = self.gone.get(&shown(&sent));
                    let is_there = |index: &usize| gone.is_none_or(|gone| !gone.contains(index));
                    Step::Index((0..).filter(is_there).nth(*at).unwrap_or(*at))
                }
                key => key.clone(),
            };
            sent.push(step);
        }
        sent
    }

    /// Takes out what stands at a place, or around it where nothing does; whether anything is left to read.
    fn take_out(&mut self, here: &[Step]) -> bool {
        let Some((last, before)) = here.split_last() else {
            return false;
        };
        let (list, place) = (shown(&self.sent(before)), self.sent(here));
        let mut around = &mut self.value;
        for step in before {
            let inner = match step {
                Step::Key(key) => around.get_mut(key),
                Step::Index(at) => around.get_mut(at),
            };
            match inner {
                Some(inner) => around = inner,
                None => return self.take_out(before),
            }
        }
        let taken = match (last, &mut *around) {
            (Step::Key(key), Value::Object(fields)) => {
                self.fields.insert(shown(&place));
                fields.remove(key).is_some()
            }
            (Step::Index(at), Value::Array(entries)) if *at < entries.len() => {
                if let Some(Step::Index(sent)) = place.last() {
                    self.gone.entry(list).or_default().insert(*sent);
                }
                entries.remove(*at);
                true
            }
            _ => false,
        };
        taken || self.take_out(before)
    }
}
