//! The ends of every example: its arguments, its two streams, its exit code.
//!
//! ```text
//! arguments ──► run ──► screen ──► standard output: what cannot be written is an error, a reader that left is none
//!                 └───► screen ──► standard error
//! ```
//!
//! What a file says may hold characters that do something to a terminal: none of them passes a [`Screen`].
#![allow(dead_code, reason = "each example uses its own part")]

use std::borrow::Cow;
use std::io::{self, BufWriter, ErrorKind, Stderr, Stdout, Write};
use std::process::ExitCode;

/// The arguments of a program.
pub type Arguments = std::vec::IntoIter<String>;
/// Standard output.
pub type Out = Screen<BufWriter<Stdout>>;

/// Runs an example to its exit code: what [`run`] gives, 0 where the reader left early, 2 where its output cannot be written.
pub fn program(
    run: impl FnOnce(Arguments, &mut Out, &mut Screen<Stderr>) -> io::Result<u8>,
) -> ExitCode {
    let arguments = std::env::args_os().skip(1);
    let arguments: Vec<String> = arguments
        .map(|word| word.to_string_lossy().into_owned())
        .collect();
    let mut out = Screen(BufWriter::new(io::stdout()));
    let mut err = Screen(io::stderr());
    let ended = run(arguments.into_iter(), &mut out, &mut err);
    let ended = ended.and_then(|code| out.flush().map(|()| code));
    ExitCode::from(code(ended, &mut err))
}

/// The exit code of a program that ended so.
pub fn code(ended: io::Result<u8>, err: &mut impl Write) -> u8 {
    match ended {
        Ok(code) => code,
        // `| head` is no error.
        Err(error) if error.kind() == ErrorKind::BrokenPipe => 0,
        Err(error) => {
            let _ = writeln!(err, "standard output: {error}");
            2
        }
    }
}

/// Passes text on without what would do something to a terminal.
pub struct Screen<W>(pub W);

impl<W: Write> Write for Screen<W> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0
            .write_all(clean(&String::from_utf8_lossy(bytes)).as_bytes())?;
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        self.0.flush()
    }
}

/// Whether a character does something to a terminal: a control, or a mark that is not seen or turns the direction of writing.
fn acts(c: char) -> bool {
    (c.is_control() && c != '\n')
        || matches!(u32::from(c), 0x61c | 0x200b..=0x200f | 0x2028..=0x202e | 0x2060..=0x206f | 0xfeff)
}

/// Text with U+FFFD for each character that does something to a terminal.
pub fn clean(text: &str) -> Cow<'_, str> {
    if text.contains(acts) {
        text.replace(acts, "\u{fffd}").into()
    } else {
        text.into()
    }
}

/// JSON with `\uXXXX` for each character that does something to a terminal: they stand inside its texts only.
pub fn clean_json(text: &str) -> Cow<'_, str> {
    if !text.contains(acts) {
        return text.into();
    }
    let mut out = String::with_capacity(text.len() + 64);
    for c in text.chars() {
        if acts(c) {
            out += &format!("\\u{:04x}", u32::from(c));
        } else {
            out.push(c);
        }
    }
    out.into()
}
