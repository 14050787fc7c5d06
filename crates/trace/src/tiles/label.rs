//! What words on a page say of its place among the others.

use crate::words::words_of;

/// The place of a page as its words say it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Label {
    /// "page 3 of 12", "3".
    Number(u32),
    /// "row 2, column 3": named in so many words.
    Place {
        /// Counted from 1.
        row: u32,
        /// Counted from 1.
        column: u32,
    },
    /// "A2", "2/B": which of both counts rows is not said.
    Square {
        /// The letter, A is 1.
        letter: u32,
        /// The number.
        number: u32,
    },
}

impl Label {
    /// What a text says, if it is nothing but the place of a page.
    pub(super) fn of(text: &str) -> Option<Self> {
        let words = split(text);
        let after = |keys: &[&str]| {
            let at = words.iter().position(|word| keys.contains(&word.as_str()))?;
            words.get(at + 1)?.parse::<u32>().ok()
        };
        let row = after(&["row", "r"]);
        let column = after(&["column", "col", "c"]);
        if let (Some(row), Some(column)) = (row, column) {
            return Some(Self::Place { row, column });
        }
        let page = after(&["page", "sheet", "p", "tile"]);
        if page.is_some() {
            return page.map(Self::Number);
        }
        let number = |word: &String| word.parse::<u32>().ok();
        let letter = |word: &String| {
            let mut letters = word.chars();
            let first = letters.next().filter(char::is_ascii_lowercase)?;
            letters.next().is_none().then(|| u32::from(first) - u32::from('a') + 1)
        };
        match words.as_slice() {
            [one] => number(one).map(Self::Number),
            [a, b] => match (letter(a), number(b), number(a), letter(b)) {
                (Some(letter), Some(number), ..) | (.., Some(number), Some(letter)) => {
                    Some(Self::Square { letter, number })
                }
                _ => number(a).filter(|_| number(b).is_some()).map(Self::Number),
            },
            [a, of, b] if of == "of" => number(a).filter(|_| number(b).is_some()).map(Self::Number),
            _ => None,
        }
    }
}

/// Words, with letters and digits apart: "A2" is "a", "2".
fn split(text: &str) -> Vec<String> {
    let mut words = Vec::new();
    for word in words_of(text) {
        let at = word.find(|letter: char| letter.is_ascii_digit()).unwrap_or(0);
        let (head, tail) = word.split_at(at);
        words.extend([head, tail].into_iter().filter(|part| !part.is_empty()).map(str::to_owned));
    }
    words
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_tell_places() {
        for (text, label) in [
            ("page 3 of 12", Some(Label::Number(3))),
            ("3", Some(Label::Number(3))),
            ("3/12", Some(Label::Number(3))),
            ("page 3, row 1, column 4", Some(Label::Place { row: 1, column: 4 })),
            ("A2", Some(Label::Square { letter: 1, number: 2 })),
            ("2/B", Some(Label::Square { letter: 2, number: 2 })),
            ("Front", None),
            ("cut 2", None),
            ("size 38", None),
        ] {
            assert_eq!(Label::of(text), label, "{text}");
        }
    }
}
