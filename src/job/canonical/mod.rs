//! The canonical form of a job: what its fingerprint is made of.
//!
//! ```text
//! limits.load_factor = 0.8
//! strip "white".rated = 24 V                    the thing it belongs to, the key, the value
//! strip "white".pitch = 50000000/1 nm
//! strip "white".emitters 1.cell = "series"
//! run "A".routes 1.length = 3000000000 nm
//! ```
//! One line for each thing that the job says, in this order: what is said of the whole job, then each kind of table in the
//! order of [`JobSpec`](super::spec::JobSpec), its tables by name, its keys in the order of their type. So the order and the units that a job was written in, its
//! comments and its file's name leave no trace. What is written of each value:
//!
//! | | |
//! | --- | --- |
//! | length, cut pitch | whole nanometres, and their exact fraction |
//! | quantity | in SI base units, to 15 significant digits: as many as a decimal keeps through a float, so that a conversion of units leaves none of its rounding |
//! | price, count | a whole number |
//! | text, name, choice | between quotation marks, with `\` before `"` and `\`, and line ends as `\n` and `\r` |
//! | list | an entry for each, numbered from 1 |
//!
//! **What is not said has no line**: an optional key that is absent, an empty list, an empty text, a choice that is the usual one.
//! So a version that knows one more optional key gives an older job the form that it had, and a job that *states* a limit differs from one
//! that is silent about it: its plan differs in what it assumed. Every key that is said is in the form: a type that gets a field does not compile
//! until the field stands here. A fact that was taken as the file is silent has its line among the others, and one that says so:
//! `taken "white" = "copper"`.

mod job;
mod products;
mod runs;

use crate::exact::{CutPitch, ExactLength};
use crate::quantity::Measured;
use std::fmt::{Display, Write};

pub(super) use job::form;

/// The form while it is written.
#[derive(Default)]
pub(super) struct Form {
    text: String,
    /// What the next line is about: `strip "white".emitters 1`.
    about: String,
}

impl Form {
    /// What was written.
    pub fn into_text(self) -> String {
        self.text
    }

    fn line(&mut self, key: &str, value: impl Display) {
        let dot = if self.about.is_empty() { "" } else { "." };
        // Writing to a text cannot fail.
        let _ = writeln!(self.text, "{}{dot}{key} = {value}", self.about);
    }

    /// Writes what belongs to `key`.
    fn within(&mut self, key: &str, write: impl FnOnce(&mut Self)) {
        let before = self.about.len();
        if before > 0 {
            self.about.push('.');
        }
        self.about.push_str(key);
        write(self);
        self.about.truncate(before);
    }

    /// Tables of one kind, each under its name.
    fn tables<T: Said>(&mut self, kind: &str, tables: &[T], name: impl Fn(&T) -> &str) {
        for table in tables {
            table.state(self, &format!("{kind} {}", quoted(name(table))));
        }
    }
}

/// Something that a job says.
trait Said {
    /// Writes it, whatever it is.
    fn state(&self, form: &mut Form, key: &str);

    /// Writes it unless it says nothing.
    fn put(&self, form: &mut Form, key: &str) {
        self.state(form, key);
    }
}

impl<T: Said> Said for Option<T> {
    fn state(&self, form: &mut Form, key: &str) {
        match self {
            Some(said) => said.state(form, key),
            None => form.line(key, "none"),
        }
    }

    fn put(&self, form: &mut Form, key: &str) {
        if let Some(said) = self {
            said.state(form, key);
        }
    }
}

impl<T: Said> Said for Vec<T> {
    fn state(&self, form: &mut Form, key: &str) {
        form.line(key, self.len());
        self.put(form, key);
    }

    fn put(&self, form: &mut Form, key: &str) {
        for (number, said) in self.iter().enumerate() {
            said.state(form, &format!("{key} {}", number + 1));
        }
    }
}

impl<A: Said, B: Said> Said for (A, B) {
    fn state(&self, form: &mut Form, key: &str) {
        self.0.state(form, &format!("{key} first"));
        self.1.state(form, &format!("{key} second"));
    }
}

impl Said for String {
    fn state(&self, form: &mut Form, key: &str) {
        form.line(key, quoted(self));
    }

    fn put(&self, form: &mut Form, key: &str) {
        if !self.is_empty() {
            self.state(form, key);
        }
    }
}

impl Said for ExactLength {
    fn state(&self, form: &mut Form, key: &str) {
        form.line(key, format_args!("{} nm", self.nanometres()));
    }
}

impl Said for CutPitch {
    fn state(&self, form: &mut Form, key: &str) {
        let (nanometres, counts) = self.nanometres_for();
        form.line(key, format_args!("{nanometres}/{counts} nm"));
    }
}

/// A text on one line.
fn quoted(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 2);
    out.push('"');
    for c in text.chars() {
        match c {
            '"' | '\\' => out.extend(['\\', c]),
            '\n' => out.push_str("\\n"),
            '\r' => out.push_str("\\r"),
            c => out.push(c),
        }
    }
    out.push('"');
    out
}

/// A quantity in SI base units, to 15 significant digits.
fn figure<Q: Measured>(quantity: Q) -> String {
    let value = quantity.si();
    // Reading what was just printed cannot fail; zero has no sign.
    let kept = format!("{value:.14e}").parse().unwrap_or(value) + 0.0;
    let unit = if Q::SI == "share" { "" } else { Q::SI };
    format!("{kept} {unit}").trim_end().to_string()
}

/// Quantities.
macro_rules! quantities {
    ($($type:ident)*) => {$(
        impl Said for crate::quantity::$type {
            fn state(&self, form: &mut Form, key: &str) {
                form.line(key, figure(*self));
            }
        }
    )*};
}
quantities! {
    ElectricCurrent ElectricPotential ElectricalResistance Frequency Length LinearLuminousFlux LinearPower
    LinearResistance Power Ratio ThermodynamicTemperature Time
}

/// Whole numbers, and what is printed exactly.
macro_rules! printed {
    ($($type:ty)*) => {$(
        impl Said for $type {
            fn state(&self, form: &mut Form, key: &str) {
                form.line(key, self);
            }
        }
    )*};
}
printed! { bool u8 u16 u32 u64 }

/// Tables: each field under its own name.
macro_rules! table {
    ($($type:ident { $($field:ident)* })*) => {$(
        impl Said for $type {
            fn state(&self, form: &mut Form, key: &str) {
                let Self { $($field),* } = self;
                form.within(key, |form| { $($field.put(form, stringify!($field));)* });
            }
        }
    )*};
}
use table;

/// Choices of one word; with `usual`, the default says nothing.
macro_rules! words {
    ($($type:ident $($usual:ident)? { $($variant:ident $word:literal)* })*) => {$(
        impl Said for $type {
            fn state(&self, form: &mut Form, key: &str) {
                form.line(key, match self { $(Self::$variant => concat!("\"", $word, "\""),)* });
            }
            $(
                fn put(&self, form: &mut Form, key: &str) {
                    let $usual = Self::default();
                    if *self != $usual {
                        self.state(form, key);
                    }
                }
            )?
        }
    )*};
}
use words;

/// Choices with fields of their own.
macro_rules! forms {
    ($($type:ident { $($variant:ident $word:literal { $($field:ident)* })* })*) => {$(
        impl Said for $type {
            fn state(&self, form: &mut Form, key: &str) {
                match self {
                    $(Self::$variant { $($field),* } => {
                        form.line(key, concat!("\"", $word, "\""));
                        form.within(key, |_form| { $($field.put(_form, stringify!($field));)* });
                    })*
                }
            }
        }
    )*};
}
use forms;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{celsius, parse, volts};

    #[test]
    fn figures_shed_the_rounding_of_units_and_keep_what_is_written() {
        let temperature =
            |text| figure(parse::<crate::quantity::ThermodynamicTemperature>(text).unwrap());
        assert_eq!(temperature("86 °F"), temperature("30 °C"));
        assert_eq!(figure(celsius(30.0)), "303.15 K");
        assert_eq!(figure(volts(-0.0)), "0 V");
        assert_ne!(figure(volts(24.000_000_000_000_1)), figure(volts(24.0)));
        assert_eq!(figure(crate::quantity::percent(80.0)), "0.8");
        assert_eq!(figure(volts(1e-9)), "0.000000001 V");
    }

    #[test]
    fn texts_stay_on_their_line() {
        assert_eq!(quoted("a \"b\\\n"), "\"a \\\"b\\\\\\n\"");
    }
}
