//! A design in a file: JSON, with the version of its form.

use super::Design;
use serde::Deserialize;
use serde::de::{Error as _, Unexpected};
use thiserror::Error;

/// Version of the form in which a design is written. Fields may be added within a version; a file of an older one still reads.
pub const SCHEMA: u32 = 2;

/// Why a text is no design.
#[derive(Debug, Error)]
#[non_exhaustive]
pub enum FileError {
    /// No JSON, or not of this form; the message names line and column.
    #[error("this is not a design: {0}")]
    Form(#[from] serde_json::Error),
    /// Written by a later version.
    #[error(
        "the design is of form {found}, and this version reads up to {SCHEMA}: use evenrun {SCHEMA} or newer of the version that wrote it"
    )]
    TooNew {
        /// Version found.
        found: u32,
    },
}

impl Design {
    /// The design as JSON, the same bytes for the same design.
    ///
    /// # Errors
    /// A figure that is not finite: a fault of the planner, never of the job.
    ///
    /// ```
    /// use evenrun::design::Design;
    /// let job = evenrun::job::read(include_str!("../../examples/archive_wing.toml"), "demo.toml")?;
    /// let design = evenrun::plan::plan(&job);
    /// let text = design.to_json()?;
    /// assert_eq!(Design::from_json(&text)?, design);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn to_json(&self) -> Result<String, FileError> {
        let mut text = serde_json::to_string_pretty(self)?;
        text.push('\n');
        Ok(text)
    }

    /// Reads a design that [`Design::to_json`] wrote.
    ///
    /// # Errors
    /// [`FileError`]: no JSON, not of this form (with line and column), or written by a later version.
    pub fn from_json(text: &str) -> Result<Self, FileError> {
        #[derive(Deserialize)]
        struct Version {
            schema: u32,
        }
        if text.trim_start().starts_with('[') {
            // Fields in a row, without their names, would be taken as well.
            return Err(serde_json::Error::invalid_type(
                Unexpected::Seq,
                &"an object with the fields of a design",
            )
            .into());
        }
        let Version { schema: found } = serde_json::from_str(text)?;
        if found > SCHEMA {
            return Err(FileError::TooNew { found });
        }
        Ok(serde_json::from_str(text)?)
    }
}

/// The JSON Schema of a design (draft 2020-12).
#[cfg(feature = "schema")]
#[must_use]
pub fn schema() -> serde_json::Value {
    schemars::schema_for!(Design).to_value()
}
