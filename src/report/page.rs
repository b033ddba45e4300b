//! Lines of a page of the answers: indented, wrapped, counted.

use super::wrap::{clean, wrap};

/// Lines of so many columns.
pub(super) struct Page {
    pub(super) width: usize,
    pub(super) text: String,
}

impl Page {
    pub(super) fn new(width: usize) -> Self {
        Self {
            width: width.max(60),
            text: String::new(),
        }
    }

    /// A line, or several that begin under the first word.
    pub(super) fn line(&mut self, indent: &str, text: &str) {
        for (number, part) in wrap(&clean(text), self.width - indent.len() - 2)
            .iter()
            .enumerate()
        {
            let further = if number == 0 { "" } else { "  " };
            self.text.push_str(indent);
            self.text.push_str(further);
            self.text.push_str(part);
            self.text.push('\n');
        }
    }

    /// A heading, what stands under it, and how many more there are; nothing where there is none.
    pub(super) fn part(
        &mut self,
        heading: &str,
        count: usize,
        most: usize,
        fill: impl FnOnce(&mut Self),
    ) {
        if count == 0 {
            return;
        }
        self.text.push('\n');
        self.line("", &heading.to_uppercase());
        fill(self);
        if count > most {
            self.line(
                "  ",
                &format!("and {} more: see the full set", count - most),
            );
        }
    }
}
