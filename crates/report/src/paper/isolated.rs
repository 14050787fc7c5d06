//! Names that run the other way, set apart on paper by marks of isolation.
//!
//! Source: Unicode Standard Annex #9, section 2.6, "Line-based formatting": an isolate that is open at the end of a line is closed there.

use crate::names::{Names, Part};

/// Begins an isolate that has a direction of its own.
const FIRST_STRONG_ISOLATE: char = '\u{2068}';
/// Ends it.
const POP_ISOLATE: char = '\u{2069}';

impl Names {
    /// `text`, each of the names in it isolated.
    pub(super) fn isolated(&self, text: &str) -> String {
        let part = |part: Part<'_>| match part {
            Part::Text(text) => text.to_owned(),
            Part::Name(name) => format!("{FIRST_STRONG_ISOLATE}{name}{POP_ISOLATE}"),
        };
        self.parts(text).into_iter().map(part).collect()
    }
}

/// Lines of one text, of which each closes the isolate that it opens.
pub(super) fn whole(lines: Vec<String>) -> Vec<String> {
    let mut open = false;
    let line = |mut line: String| {
        if open {
            line.insert(0, FIRST_STRONG_ISOLATE);
        }
        open = match (line.rfind(FIRST_STRONG_ISOLATE), line.rfind(POP_ISOLATE)) {
            (Some(begun), Some(ended)) => begun > ended,
            (begun, _) => begun.is_some(),
        };
        if open {
            line.push(POP_ISOLATE);
        }
        line
    };
    lines.into_iter().map(line).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_isolate_that_is_broken_goes_on_on_the_next_line() {
        let lines = |text: &[&str]| whole(text.iter().map(|line| (*line).to_owned()).collect());
        assert_eq!(
            lines(&["a \u{2068}b", "c", "d\u{2069} e", "f"]),
            ["a \u{2068}b\u{2069}", "\u{2068}c\u{2069}", "\u{2068}d\u{2069} e", "f"]
        );
        assert_eq!(lines(&["a \u{2068}b\u{2069}"]), ["a \u{2068}b\u{2069}"]);
    }
}
