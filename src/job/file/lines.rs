//! From byte offsets to lines and columns.

use crate::job::fault::Place;

/// Starts of the lines of a text.
#[derive(Debug)]
pub(super) struct Lines<'t> {
    text: &'t str,
    starts: Vec<usize>,
}

impl<'t> Lines<'t> {
    pub(super) fn new(text: &'t str) -> Self {
        let starts = std::iter::once(0)
            .chain(text.match_indices('\n').map(|(at, _)| at + 1))
            .collect();
        Self { text, starts }
    }

    /// Line and column (in characters) of a byte offset; offsets past the end stand at the end.
    pub(super) fn place(&self, offset: usize) -> Place {
        let offset = offset.min(self.text.len());
        let line = self.starts.partition_point(|start| *start <= offset);
        let start = line
            .checked_sub(1)
            .and_then(|index| self.starts.get(index))
            .copied()
            .unwrap_or(0);
        // Characters that end before it; an offset inside a character counts as that character.
        let column = self
            .text
            .get(start..)
            .unwrap_or("")
            .char_indices()
            .take_while(|(at, c)| start + at + c.len_utf8() <= offset)
            .count();
        Place {
            line: line.max(1),
            column: column + 1,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_count_characters() {
        let lines = Lines::new("a\né = 1\r\nx");
        let at = |offset| {
            let Place { line, column } = lines.place(offset);
            (line, column)
        };
        assert_eq!(at(0), (1, 1));
        assert_eq!(at(1), (1, 2));
        assert_eq!(at(2), (2, 1));
        assert_eq!(at(3), (2, 1)); // the second byte of é
        assert_eq!(at(4), (2, 2));
        assert_eq!(at(10), (3, 1));
        assert_eq!(at(999), (3, 2));
        assert_eq!(Lines::new("").place(0).line, 1);
    }
}
