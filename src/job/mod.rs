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
