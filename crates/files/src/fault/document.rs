//! Faults of keys and kinds of value: what a schema would catch.

use super::words::list_all;

/// What is wrong with the form of a file, before its meaning is looked at.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum DocumentFault {
    /// Not TOML.
    #[error("this is not TOML: {message}")]
    Syntax {
        /// In the parser's words.
        message: String,
    },
    /// A key that stands in its table already.
    #[error("`{key}` is written twice in one table")]
    KeyTwice {
        /// The key.
        key: String,
        /// The line in which it stands first.
        first_line: Option<usize>,
    },
    /// A key that stands in its table by its former name too.
    #[error("`{key}` is written twice in one table, once by its former name `{former}`")]
    FormerKeyToo {
        /// The key.
        key: &'static str,
        /// What it was called before.
        former: &'static str,
        /// The line in which it stands first, by either name.
        first_line: usize,
    },
    /// A text or quantity that stands without quotes.
    #[error("{found} needs quotes around it")]
    WithoutQuotes {
        /// As written.
        found: String,
        /// With quotes, as it is most likely meant.
        meant: String,
    },
    /// Quotes that only look like some.
    #[error("these are curly quotes, from a word processor")]
    CurlyQuotes {
        /// With straight ones.
        meant: String,
    },
    /// A quote that is not closed.
    #[error("the text that begins here, {text}, is not closed")]
    OpenQuote {
        /// What follows the quote.
        text: String,
    },
    /// An inch mark that closes the quotes it stands in.
    #[error("the inch or foot mark closes the quotes")]
    MarkInQuotes {
        /// With the unit written out.
        meant: String,
    },
    /// No `format` line.
    #[error("{of} has no `format`")]
    NoFormat {
        /// "a job" or "a pattern".
        of: &'static str,
        /// The format.
        expected: &'static str,
    },
    /// The `format` line names another format.
    #[error("the format is \"{found}\", but it should be \"{expected}\"")]
    WrongFormat {
        /// As written.
        found: String,
        /// What was expected.
        expected: &'static str,
    },
    /// A key nobody reads.
    #[error("`{key}` is not a key of {of}")]
    UnknownKey {
        /// As written.
        key: String,
        /// The table it stands in.
        of: &'static str,
        /// The known key it is nearest to.
        meant: Option<String>,
        /// Every known key there.
        known: Vec<String>,
        /// Where the key belongs, when it belongs elsewhere: "the `[[piece]]` itself, beside `shape`".
        belongs: Option<&'static str>,
    },
    /// A key that must be there is not.
    #[error("{of} has no `{key}`")]
    MissingKey {
        /// The key.
        key: &'static str,
        /// The table it belongs in.
        of: &'static str,
        /// What its value would be.
        expected: &'static str,
    },
    /// A value of the wrong kind.
    #[error("{}", wrong_kind(.found, .expected, .meant.as_ref()))]
    WrongKind {
        /// What was found.
        found: String,
        /// What was expected.
        expected: &'static str,
        /// The value as it should have been written, when it can be guessed.
        meant: Option<String>,
    },
    /// A word that is not one of the choices.
    #[error("\"{found}\" is not a choice here")]
    NotAChoice {
        /// As written.
        found: String,
        /// The choice it is nearest to.
        meant: Option<String>,
        /// All choices.
        choices: Vec<String>,
    },
    /// A coordinate that is no number or past 100 m.
    #[error("{found} is not a usable coordinate")]
    BadCoordinate {
        /// As written.
        found: String,
    },
    /// A name with nothing in it.
    #[error("the name is empty")]
    EmptyName,
    /// A name with a line break or another character that is not printed.
    #[error("the name {found:?} has a line break or another character that cannot be printed")]
    UnprintableName {
        /// As written.
        found: String,
    },
    /// A table that must hold exactly one of several keys does not.
    #[error("{of} must have exactly one of {}, but has {found}", list_all(.choices, "or"))]
    NotExactlyOne {
        /// The table.
        of: &'static str,
        /// The keys to choose from.
        choices: Vec<String>,
        /// How many of them it holds.
        found: usize,
    },
}

impl DocumentFault {
    /// What would be right.
    pub(crate) fn help(&self) -> String {
        match self {
            Self::WithoutQuotes { meant, .. } | Self::MarkInQuotes { meant } => format!("write {meant}"),
            Self::CurlyQuotes { meant } => format!("write {meant}, with the straight quotes of a text editor"),
            Self::OpenQuote { .. } => "close it with the same kind of quote, on the same line".into(),
            Self::NoFormat { expected, .. } => format!("add the first line: format = \"{expected}\""),
            Self::Syntax { .. } => "texts stand in quotes, tables in [brackets], lists in [a, b]; see toml.io".into(),
            Self::WrongFormat { found, expected } if is_of_a_pattern(found) && !is_of_a_pattern(expected) => {
                "this is a pattern: name a job that names it, or check it under a name that ends in .pattern.toml"
                    .into()
            }
            Self::WrongFormat { found, expected } if is_of_a_pattern(expected) && found.starts_with("ellwand-job") => {
                "this is a job: give it to the command as the job, and name a pattern under `pattern`".into()
            }
            Self::WrongFormat { expected, .. } => format!("the first line should be: format = \"{expected}\""),
            Self::KeyTwice { first_line: Some(line), .. } => {
                format!("the first is in line {line}: keep one of the two")
            }
            Self::FormerKeyToo { key, first_line, .. } => {
                format!("the first is in line {first_line}: keep one of the two, as `{key}`")
            }
            Self::KeyTwice { first_line: None, .. } => "keep one of the two".into(),
            Self::UnknownKey { belongs: Some(place), .. } => format!("write it in {place}"),
            Self::UnknownKey { meant: Some(meant), .. } => format!("did you mean `{meant}`?"),
            Self::UnknownKey { known, .. } => format!("the keys here are {}", list_all(known, "and")),
            Self::MissingKey { key, expected, .. } => format!("add `{key} = …`: {expected}"),
            Self::WrongKind { meant: Some(meant), .. } => format!("write {meant}"),
            Self::WrongKind { expected, .. } => format!("write {expected}"),
            Self::NotAChoice { meant: Some(meant), .. } => format!("did you mean `{meant}`?"),
            Self::NotAChoice { choices, .. } => format!("use {}", list_all(choices, "or")),
            Self::BadCoordinate { .. } => {
                "coordinates are finite numbers in the unit of `coordinates`, within 100 m".into()
            }
            Self::UnprintableName { .. } => "leave it out of the name".into(),
            Self::EmptyName => "give it a name that can be printed on the drawing".into(),
            Self::NotExactlyOne { found: 0, .. } => "add one of them".into(),
            Self::NotExactlyOne { .. } => "keep one of them".into(),
        }
    }
}

/// What belongs there is said with the fault where the help shows a value in full, and by the help otherwise.
fn wrong_kind(found: &str, expected: &str, meant: Option<&String>) -> String {
    match meant {
        Some(_) => format!("found {found} instead of {expected}"),
        None => format!("{found} does not belong here"),
    }
}

fn is_of_a_pattern(format: &str) -> bool {
    format.starts_with("ellwand-pattern")
}
