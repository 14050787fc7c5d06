//! Names that run from right to left, or that carry marks of direction, set apart from the text around them.
//!
//! A name may stand anywhere in a sentence, also in one that another crate wrote; so it is looked for in the text. Only names that can turn
//! what stands beside them are: all others need no care.
//!
//! Source: Unicode Standard Annex #9, "Unicode Bidirectional Algorithm", sections 2 and 6.3.

use maud::{Markup, html};

use crate::Report;

/// The names of a report that need care, the longest first.
pub(super) struct Names(Vec<String>);

impl Names {
    pub(super) fn of(report: &Report) -> Self {
        let mut names: Vec<String> = report.names.iter().filter(|name| name.chars().any(turns)).cloned().collect();
        names.sort_by_key(|name| std::cmp::Reverse(name.len()));
        Self(names)
    }

    /// `text`, each of the names in it isolated.
    pub(super) fn words(&self, text: &str) -> Markup {
        html! {
            @for part in self.parts(text) {
                @match part {
                    Part::Text(text) => (text),
                    Part::Name(name) => bdi { (name) },
                }
            }
        }
    }

    fn parts<'t>(&self, text: &'t str) -> Vec<Part<'t>> {
        let mut parts = Vec::new();
        let mut rest = text;
        while !rest.is_empty() {
            let first = (self.0.iter()).filter_map(|name| rest.find(name.as_str()).map(|at| (at, name.len())));
            // Of names that begin at one place the longest comes first and is kept.
            let Some((at, length)) = first.min_by_key(|(at, _)| *at) else { break };
            if at > 0 {
                parts.push(Part::Text(&rest[..at]));
            }
            parts.push(Part::Name(&rest[at..at + length]));
            rest = &rest[at + length..];
        }
        if !rest.is_empty() {
            parts.push(Part::Text(rest));
        }
        parts
    }
}

#[derive(Debug, PartialEq, Eq)]
enum Part<'t> {
    Text(&'t str),
    Name(&'t str),
}

/// Whether a character runs from right to left, by the blocks of such scripts, or is a mark of direction.
fn turns(c: char) -> bool {
    matches!(
        c,
        '\u{0590}'..='\u{08FF}'
            | '\u{200E}' | '\u{200F}'
            | '\u{202A}'..='\u{202E}'
            | '\u{2066}'..='\u{2069}'
            | '\u{FB1D}'..='\u{FDFF}'
            | '\u{FE70}'..='\u{FEFF}'
            | '\u{10800}'..='\u{10FFF}'
            | '\u{1E800}'..='\u{1EFFF}'
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(of: &[&str]) -> Names {
        let names = of.iter().map(|name| (*name).to_owned()).collect();
        let (title, subtitle, lang) = Default::default();
        Names::of(&Report { title, subtitle, lang, sections: Vec::new(), names })
    }

    #[test]
    fn a_name_that_runs_the_other_way_is_isolated_wherever_it_stands() {
        let names = names(&["פשתן", "פשתן כחול", "main", "a\u{202E}b"]);
        let said = |text: &str| names.words(text).into_string();
        assert_eq!(said("3 m of פשתן, 4.00 at home"), "3 m of <bdi>פשתן</bdi>, 4.00 at home");
        assert_eq!(said("פשתן כחול 2"), "<bdi>פשתן כחול</bdi> 2", "the longer of two");
        assert_eq!(said("\"a\u{202E}b\" is < main"), "&quot;<bdi>a\u{202E}b</bdi>&quot; is &lt; main");
        assert_eq!(said(""), "");
    }
}
