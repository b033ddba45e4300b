//! The JSON Schema of a design: what `plan --json` writes, for programs in other languages.
//!
//! ```sh
//! cargo run --features schema --example schema > design.schema.json
//! ```

fn main() -> Result<(), serde_json::Error> {
    let schema = evenrun::design::schema();
    println!("{}", serde_json::to_string_pretty(&schema)?);
    Ok(())
}
