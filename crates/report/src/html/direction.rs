//! Names that run the other way, set apart in HTML.

use maud::{Markup, html};

use crate::names::{Names, Part};

impl Names {
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
}

#[cfg(test)]
mod tests {
    use super::*;

    use crate::Report;

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
