//! Random but plausible patterns and jobs over every key of both file formats. The same seed makes the same two files.
//!
//! Each job has its own richness: the share of optional keys it uses. So keys come alone and combined.

mod cloth;
mod design;
mod job;
mod matching;
mod outline;
mod pattern;
mod picked;
mod piece;
mod seams;
mod spending;
pub(crate) mod stash;
mod twin;
mod words;

use toml::{Table, Value};

use crate::chance::Chance;

/// A pattern and a job as tables, ready to be written.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Scene {
    /// The pattern.
    pub(crate) pattern: Table,
    /// The job, which names the pattern `case.pattern.toml`; in place of the name of a stash it holds what stands in that.
    pub(crate) job: Table,
    /// The drawing that pieces of the pattern are picked from.
    pub(crate) sheet: Option<Sheet>,
}

/// A drawing, with what it was drawn from.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Sheet {
    /// The name of its file beside the pattern.
    pub(crate) file: String,
    /// What the file holds.
    pub(crate) bytes: Vec<u8>,
    /// The picked pieces as they would be typed, at their places on the sheet: what the judges go by.
    pub(crate) typed: Vec<Value>,
    /// What the pattern gets wrong, so that it must be refused.
    pub(crate) wrong: Option<String>,
}

impl Scene {
    /// A piece as it is typed, or would be if it were not picked.
    pub(crate) fn typed<'s>(&'s self, piece: &'s Table) -> &'s Table {
        let name = piece.get("name");
        let typed = self.sheet.iter().flat_map(|sheet| &sheet.typed).filter_map(Value::as_table);
        typed.filter(|_| piece.contains_key("pick")).find(|typed| typed.get("name") == name).unwrap_or(piece)
    }
}

/// The name of the pattern file beside its job.
pub(crate) const PATTERN_FILE: &str = "case.pattern.toml";

/// The name of the file with the picked pieces as they would be typed, which no program reads.
pub(crate) const TYPED_FILE: &str = "case.typed.toml";

/// The name of the job file.
pub(crate) const JOB_FILE: &str = "case.job.toml";

/// The pattern and job of one number of a campaign.
pub(crate) fn scene(seed: u64, number: u64) -> Scene {
    let mut chance = Chance::new(seed, number);
    let taste = Taste { rich: *chance.pick(&[0.03, 0.12, 0.3, 0.5]), inches: chance.often(0.5) };
    let (mut pattern, mut blanks) = pattern::pattern(&mut chance, &taste);
    let draws = chance.often(0.2);
    let sheet = if draws { picked::picked(&mut chance, &mut pattern, &mut blanks) } else { None };
    let mut job = job::job(&mut chance, &taste, &blanks);
    spending::spending(&mut chance, &taste, &blanks, &mut pattern, &mut job);
    if let Some(stash) = stash::stash(&mut chance, &taste, &job) {
        job.insert(stash::STASH.to_owned(), stash);
    }
    Scene { pattern, job, sheet }
}

/// What all of one job have in common.
#[derive(Debug, Clone, Copy)]
struct Taste {
    /// Share of optional keys that are there.
    rich: f64,
    /// Whether its maker thinks in inches.
    inches: bool,
}

/// What the rest of a pattern and a job may say about its pieces.
#[derive(Debug, Default)]
struct Blanks {
    pieces: Vec<Blank>,
    views: Vec<String>,
    /// Names of the sizes; of each its figure type.
    sizes: Vec<(String, Option<String>)>,
    seams: Vec<SeamBlank>,
    girths: Vec<String>,
    options: Vec<(String, Vec<String>)>,
    /// Names of levels and of lines that some piece has.
    levels: Vec<String>,
    lines: Vec<String>,
    by_bust: bool,
    /// Whether its only size tells a body.
    has_body: bool,
}

/// What may be said about one seam.
#[derive(Debug)]
struct SeamBlank {
    name: String,
    meets: Vec<String>,
    /// Whether it tells the edges that are sewn.
    edged: bool,
}

/// What may be said about one piece.
#[derive(Debug, Clone, Default)]
struct Blank {
    name: String,
    edges: Vec<String>,
    points: Vec<String>,
    /// Points one above the other.
    upright: Vec<String>,
    levels: Vec<String>,
    lines: Vec<String>,
    roles: Vec<String>,
    /// Its width with allowances, mm, when that is a round number.
    across: Option<f64>,
    count: i64,
    has_fold: bool,
    /// Whether its shape says how many are cut for one.
    shape_counts: bool,
}

/// A table of these entries.
fn table<const N: usize>(entries: [(&str, Value); N]) -> Value {
    Value::Table(entries.into_iter().map(|(key, value)| (key.to_owned(), value)).collect())
}

/// A text.
fn text(text: impl Into<String>) -> Value {
    Value::String(text.into())
}

/// A list of texts.
fn texts<T: AsRef<str>>(list: &[T]) -> Value {
    Value::Array(list.iter().map(|item| text(item.as_ref())).collect())
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::{
        keys::{known, used},
        relate::{garments::several, likeness::likened},
    };

    #[test]
    fn every_key_and_every_word_of_both_formats_comes_up() {
        let (all, mut seen) = (known(), BTreeSet::new());
        for number in 0..3000 {
            let scene = scene(1, number);
            used(&scene, &mut seen);
            // Pieces like others come up where a scene is said again with them.
            likened(&scene).iter().for_each(|scene| used(scene, &mut seen));
            // So do several garments where they are made of it.
            used(&several(&scene, 2), &mut seen);
        }
        let never: Vec<&String> = all.difference(&seen).collect();
        assert!(never.is_empty(), "never made: {never:?}");
        assert!(all.len() > 100, "the schemas are read: {}", all.len());
        // A stash has no schema.
        assert!(["stash", "cloth", "job", "used_by"].iter().all(|key| seen.contains(*key)));
    }

    #[test]
    fn the_same_number_makes_the_same_scene() {
        assert_eq!(scene(3, 14), scene(3, 14));
        assert_ne!(scene(3, 14), scene(3, 15));
    }
}
