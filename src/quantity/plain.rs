//! Text that does nothing to what shows it.

/// Most characters of a text in a message.
const MOST: usize = 48;

/// Whether a character prints by itself: no control, no odd blank, nothing invisible or combining, nothing that turns the
/// direction of writing, no private use.
#[must_use]
pub fn printable(c: char) -> bool {
    !(c.is_control()
        || (c.is_whitespace() && c != ' ')
        || matches!(u32::from(c),
            0xad | 0x300..=0x36f | 0x61c | 0x180e | 0x1ab0..=0x1aff | 0x1dc0..=0x1dff
            | 0x200b..=0x200f | 0x2028..=0x202e | 0x2060..=0x206f | 0x20d0..=0x20ff
            | 0xe000..=0xf8ff | 0xfe00..=0xfe0f | 0xfe20..=0xfe2f | 0xfeff | 0xfff0..=0xffff
            | 0xe0000..=0x10_ffff))
}

/// The text, cut to a length that a message can bear, with U+FFFD for what does not print.
pub(crate) fn shorten(text: &str) -> String {
    let shown = |c: char| {
        let blank = c.is_whitespace() && !c.is_control();
        match c {
            _ if printable(c) => c,
            // An odd blank does nothing but look like one, unless it ends a line.
            _ if blank && !matches!(c, '\u{2028}' | '\u{2029}') => ' ',
            _ => char::REPLACEMENT_CHARACTER,
        }
    };
    let mut out: String = text.chars().take(MOST).map(shown).collect();
    if text.chars().nth(MOST).is_some() {
        out.push('…');
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_does_not_print_is_shown_as_such() {
        assert_eq!(
            shorten("a\u{202e}b\u{1b}[31m\u{85}\u{feff}"),
            "a\u{fffd}b\u{fffd}[31m\u{fffd}\u{fffd}"
        );
        assert_eq!(shorten("1\u{a0}000 mm"), "1 000 mm");
        assert_eq!(shorten(&"x".repeat(50)).chars().count(), MOST + 1);
        assert!("Süd-Galerie (2), ½ — é 漢".chars().all(printable));
    }
}
