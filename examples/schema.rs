//! The JSON Schema of a design: what `plan --json` writes, for programs in other languages.
//!
//! ```sh
//! cargo run --features schema --example schema > design.schema.json
//! ```

#[path = "shared/arguments.rs"]
mod arguments;
#[path = "shared/screen.rs"]
mod screen;

use clap::Parser;
use std::io::Write;
use std::process::ExitCode;

/// The JSON Schema of a design, as `plan --json` writes it.
#[derive(Parser)]
#[command(name = "schema")]
struct Asked {}

fn main() -> ExitCode {
    screen::program(|arguments, out, err| {
        if let Err(code) = arguments::read::<Asked>(arguments, out, err)? {
            return Ok(code);
        }
        let schema = evenrun::design::schema();
        writeln!(out, "{}", serde_json::to_string_pretty(&schema)?)?;
        Ok(0)
    })
}
