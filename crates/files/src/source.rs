//! A named text, and places in it.
//!
//! Readers take a [`Source`] and do not ask where its text came from. Whatever is told about it later, by the readers or by those
//! who plan, is told at a [`Place`].

use std::{fmt, ops::Range, sync::Arc};

/// A text under the name that messages show. Copies share the text.
///
/// ```
/// use ellwand_files::Source;
///
/// let source = Source::new("skirt.job.toml", "name = \"Skirt\"\nview = \"A\"\n");
/// assert_eq!(source.name(), "skirt.job.toml");
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Source(Arc<Named>);

#[derive(Debug, PartialEq, Eq)]
struct Named {
    name: String,
    text: String,
    /// Where each line begins, the first at 0.
    lines: Vec<usize>,
}

impl Source {
    /// `text` under the name `name`: the path of a file, or whatever a reader of the messages knows it by.
    pub fn new(name: impl Into<String>, text: impl Into<String>) -> Self {
        let text = text.into();
        let after_breaks = text.bytes().enumerate().filter(|(_, byte)| *byte == b'\n').map(|(at, _)| at + 1);
        let lines = std::iter::once(0).chain(after_breaks).collect();
        Self(Arc::new(Named { name: name.into(), text, lines }))
    }

    /// The name.
    pub fn name(&self) -> &str {
        &self.0.name
    }

    /// The text.
    pub fn text(&self) -> &str {
        &self.0.text
    }

    /// The place of some of its bytes.
    pub(crate) fn place(&self, span: &Range<usize>) -> Place {
        Place { source: self.clone(), span: span.clone() }
    }

    /// The text at `span`, as it stands.
    pub(crate) fn at(&self, span: &Range<usize>) -> &str {
        self.text().get(span.clone()).unwrap_or_default()
    }

    /// Line and column, both from 1; columns count characters.
    pub(crate) fn line_and_column(&self, offset: usize) -> (usize, usize) {
        let text = self.text();
        let mut offset = offset.min(text.len());
        while !text.is_char_boundary(offset) {
            offset -= 1;
        }
        let line = self.0.lines.partition_point(|start| *start <= offset);
        let start = self.0.lines[line - 1];
        (line, text[start..offset].chars().count() + 1)
    }
}

/// Some passage of a [`Source`]. Prints as `name:line:column`, where it begins.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Place {
    source: Source,
    span: Range<usize>,
}

impl Place {
    /// The source it is in.
    pub fn source(&self) -> &Source {
        &self.source
    }

    /// Its bytes in the text of the source.
    pub fn span(&self) -> Range<usize> {
        self.span.clone()
    }

    /// Line and column of its beginning, both from 1; columns count characters.
    pub fn line_and_column(&self) -> (usize, usize) {
        self.source.line_and_column(self.span.start)
    }
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (line, column) = self.line_and_column();
        write!(f, "{}:{line}:{column}", self.source.name())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_and_columns_count_from_one_and_in_characters() {
        let source = Source::new("s", "äb\n\ncd");
        let at = |offset| source.line_and_column(offset);
        assert_eq!((at(0), at(2), at(3)), ((1, 1), (1, 2), (1, 3)));
        assert_eq!((at(4), at(5), at(6)), ((2, 1), (3, 1), (3, 2)));
        // Inside a character, and past the end.
        assert_eq!((at(1), at(99)), ((1, 1), (3, 3)));
        assert_eq!(source.place(&(5..6)).to_string(), "s:3:1");
        assert_eq!(Source::new("s", "").line_and_column(0), (1, 1));
    }
}
