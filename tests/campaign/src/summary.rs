//! What a campaign found, by class.

use std::collections::{BTreeMap, BTreeSet};

use crate::{judge::Complaint, keys};

/// The class of a complaint: its judge and its words, without names and numbers.
pub(crate) fn class(complaint: &Complaint) -> String {
    let mut words = String::new();
    let mut quoted = false;
    // What every fault of the program begins with tells none of them apart.
    let told =
        ["please report it with the job, the pattern and seed 1: ", "please report it with the job and pattern: "];
    let told = told.iter().find_map(|begin| Some(complaint.text.split_once(begin)?.1)).unwrap_or(&complaint.text);
    for c in told.chars() {
        match c {
            '"' | '`' => {
                quoted = !quoted;
                if quoted {
                    words.push('_');
                }
            }
            _ if quoted => {}
            c if c.is_ascii_digit() => {
                if !words.ends_with('#') {
                    words.push('#');
                }
            }
            '.' if words.ends_with('#') => {}
            c => words.push(c),
        }
    }
    let words: String = words.chars().take(110).collect();
    format!("{}: {}", complaint.judge, words.split_whitespace().collect::<Vec<_>>().join(" "))
}

/// Counts of a campaign.
#[derive(Debug, Default)]
pub(crate) struct Summary {
    pub(crate) planned: usize,
    pub(crate) refused: usize,
    pub(crate) breaks_noticed: usize,
    /// Jobs that were also printed, or refused by `print`.
    pub(crate) printed: usize,
    /// Jobs of each class of failure, and the first of them.
    pub(crate) classes: BTreeMap<String, (usize, String)>,
    /// How many random jobs of a class were seen, to make the first of them small.
    pub(crate) made_small: BTreeMap<String, usize>,
    /// Refusals by their words.
    pub(crate) refusals: BTreeMap<String, usize>,
    pub(crate) cases: usize,
    /// Keys and words of jobs that were planned.
    pub(crate) used: BTreeSet<String>,
    pub(crate) failed: usize,
}

impl Summary {
    /// The table and the closing line.
    pub(crate) fn text(&self) -> String {
        let mut text = String::new();
        let mut line = |count: usize, what: &str| text.push_str(&format!("{count:>7}  {what}\n"));
        line(self.planned, "random jobs planned, every answer judged");
        line(self.refused, "random jobs refused, every refusal judged");
        line(self.cases, "kept cases");
        line(self.printed, "of them printed in some way, every page judged");
        line(self.breaks_noticed, "answers broken on purpose, each noticed by its judge");
        let known = keys::known();
        let never: Vec<&str> = known.difference(&self.used).map(String::as_str).collect();
        line(known.len() - never.len(), "keys and words of both formats in planned jobs");
        if !never.is_empty() {
            text.push_str(&format!("         in none: {}\n", never.join(", ")));
        }
        if !self.refusals.is_empty() {
            text.push_str("\nrefusals\n");
            let mut sorted: Vec<_> = self.refusals.iter().collect();
            sorted.sort_by_key(|(_, count)| std::cmp::Reverse(**count));
            for (words, count) in sorted.into_iter().take(25) {
                text.push_str(&format!("{count:>7}  {words}\n"));
            }
        }
        if !self.classes.is_empty() {
            text.push_str("\nfailures\n");
            let mut sorted: Vec<_> = self.classes.iter().collect();
            sorted.sort_by_key(|(_, (count, _))| std::cmp::Reverse(*count));
            for (class, (count, first)) in sorted {
                text.push_str(&format!("{count:>7}  {class}  ({first})\n"));
            }
        }
        let passed = self.planned + self.refused + self.cases - self.failed;
        text.push_str(&format!("\n{passed} passed, {} failed\n", self.failed));
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_class_has_neither_names_nor_numbers() {
        let of = |text: &str| class(&Complaint { judge: "gap", text: text.to_owned() });
        assert_eq!(of("\"Front\" copy 1 lies 0.25 mm off"), of("\"Back\" copy 12 lies 3 mm off"));
        assert_ne!(of("\"Front\" lies"), of("\"Front\" stands"));
    }
}
