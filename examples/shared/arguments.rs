//! The arguments of every example, read alike: `--help` on standard output with exit code 0, what is wrong on standard error
//! with exit code 2.

use clap::Parser;
use std::io::{self, Write};

/// The arguments as `A` describes them, or the exit code of a program that has nothing more to do.
///
/// # Errors
/// What it prints cannot be written.
pub fn read<A: Parser>(
    arguments: impl IntoIterator<Item = String>,
    out: &mut impl Write,
    err: &mut impl Write,
) -> io::Result<Result<A, u8>> {
    let name = A::command().get_name().to_string();
    match A::try_parse_from(std::iter::once(name).chain(arguments)) {
        Ok(asked) => Ok(Ok(asked)),
        Err(help) if !help.use_stderr() => {
            write!(out, "{help}")?;
            Ok(Err(0))
        }
        Err(wrong) => {
            let _ = write!(err, "{wrong}");
            Ok(Err(2))
        }
    }
}
