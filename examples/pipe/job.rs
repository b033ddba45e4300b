//! `job`: the text of a job file to its whole design, as `plan --json` writes it. No file is read.

use super::fault::{Fault, Kind, Refusal, write};
use super::form::read;
use evenrun::{job, plan};
use serde::Deserialize;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Input {
    /// The job file, TOML.
    toml: String,
    /// Its name, for messages.
    #[serde(default)]
    name: String,
}

pub fn answer(input: &str) -> Result<String, Refusal> {
    let Input { toml, name } = read(input)?;
    let job = job::read(&toml, &name).map_err(|faults| Refusal {
        kind: Kind::Check,
        faults: faults.faults().iter().map(told).collect(),
    })?;
    write(&plan::plan(&job))
}

fn told(fault: &job::fault::Fault) -> Fault {
    let place = fault.place;
    Fault {
        place: place.map(|at| format!("line {}, column {}", at.line, at.column)),
        says: fault.to_string(),
    }
}
