//! The JSON Schema of a design: what `plan --json` writes, for programs in other languages.
//!
//! ```sh
//! cargo run --features schema --example schema > design.schema.json
//! ```

#[path = "shared/screen.rs"]
mod screen;

use std::io::Write;
use std::process::ExitCode;

fn main() -> ExitCode {
    screen::program(|_, out, _| {
        let schema = evenrun::design::schema();
        writeln!(out, "{}", serde_json::to_string_pretty(&schema)?)?;
        Ok(0)
    })
}
