//! The whole job: its input file, its check, its plan.
//!
//! [`read`] takes a job file, [`check`] a [`spec::JobSpec`] built in code; both end with an
//! opaque [`Job`] or with [`fault::JobFaults`], everything that is wrong at once.

pub mod canonical;
mod check;
mod checked;
pub mod fault;
mod file;
pub mod spec;
pub(crate) mod subjects;

pub use check::check;
pub use checked::Job;
pub use fault::JobFaults;
pub use file::{SCHEMA, read, read_bytes};

/// The page of keys, as Markdown: of each key what it says, what is accepted, what is taken when silent, and an example. It is
/// the page of [`spec`].
pub const KEYS: &str = include_str!("spec/format.md");

/// A job to start from, with comments; everything in it is invented, and it plans without a broken limit.
///
/// ```
/// let job = evenrun::job::read(evenrun::job::STARTER, "starter.toml")?;
/// let design = evenrun::plan::plan(&job);
/// assert!(!design.findings.iter().any(|finding| finding.is_fail()));
/// # Ok::<(), evenrun::job::JobFaults>(())
/// ```
pub const STARTER: &str = include_str!("starter.toml");
