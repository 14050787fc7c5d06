//! A stash changed by a job: what it leaves is added, what it is cut from is marked, and what others wrote in the file stays as it stands.
//!
//! The text is taken apart at the lines that begin a remnant. What the same job left before is taken out first, so that planning again changes nothing
//! but what is new. The result is read again before anyone gets it.

use toml::{Table, Value};

use crate::{
    Faults, Limits, Source,
    document::read_document,
    fault::RemnantFault,
    findings::Findings,
    job::remnant_format::{FORMAT, StashFile},
};

/// What a job makes of a stash.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Kept {
    /// The job.
    pub job: String,
    /// The cloths that were planned, by name; of others nothing is changed.
    pub cloths: Vec<String>,
    /// What it leaves, in order.
    pub left: Vec<KeptPiece>,
    /// Cloth and name of each remnant that it is cut from.
    pub used: Vec<(String, String)>,
}

/// A rectangle that a job leaves. Lengths are as they are written: "18 1/2 in".
#[derive(Debug, Clone, PartialEq)]
pub struct KeptPiece {
    /// The cloth, by name.
    pub cloth: String,
    /// From side to side.
    pub width: String,
    /// Along the warp.
    pub length: String,
    /// To the middle of a dominant bar, from its left and from its lower end, where that is known.
    pub offsets: [Option<String>; 2],
    /// Whether it was washed before it was cut.
    pub washed: bool,
}

/// What begins a remnant.
const HEADER: &str = "[[remnant]]";
/// What stands in a stash that is made anew.
const NEW: &str = "# Remnants: a job that names this file as its `stash` may be cut from them.\n";

/// The text of the stash `source` once the job is cut; `None` makes one.
///
/// # Errors
///
/// Every fault of the stash: what is not one is never changed. What the job left before and another job is cut from, and what it is cut from and another
/// job has taken meanwhile: one piece of cloth would be cut twice.
pub fn kept(source: Option<&Source>, kept: &Kept, limits: &Limits) -> Result<String, Faults> {
    let Some(source) = source else {
        return Ok(written(&format!("{NEW}format = \"{FORMAT}\"\n"), &[], kept));
    };
    let mut findings = Findings::new(source.clone(), limits);
    let file: Option<StashFile> = read_document(FORMAT, &mut findings);
    let known = file.map_or(0, |file| file.remnant.map_or(0, |remnants| remnants.value.len()));
    Findings::finish([findings], limits)?;
    let (before, blocks) = parted(source.text());
    let read: Option<Vec<Block<'_>>> = blocks.iter().map(|text| Block::read(text)).collect();
    let changed = match read {
        Some(blocks) if blocks.len() == known => {
            if let Some(fault) = blocks.iter().find_map(|block| block.cut_twice(kept)) {
                return Err(Faults::of_text(source.clone(), fault));
            }
            Some(written(before, &blocks, kept))
        }
        _ => None,
    };
    let is_sound = |text: &String| {
        let mut findings = Findings::new(Source::new(source.name(), text.clone()), limits);
        read_document::<StashFile>(FORMAT, &mut findings).is_some() && Findings::finish([findings], limits).is_ok()
    };
    changed.filter(is_sound).ok_or_else(|| Faults::of_text(source.clone(), RemnantFault::WrittenOtherwise))
}

/// What stands before the first remnant, and the text of each.
fn parted(text: &str) -> (&str, Vec<&str>) {
    let mut starts: Vec<usize> = Vec::new();
    let mut at = 0;
    for line in text.split_inclusive('\n') {
        if line.trim_start().starts_with(HEADER) {
            starts.push(at);
        }
        at += line.len();
    }
    let ends = starts.iter().skip(1).copied().chain([text.len()]);
    let blocks = starts.iter().zip(ends).map(|(&from, to)| &text[from..to]).collect();
    (&text[..starts.first().copied().unwrap_or(text.len())], blocks)
}

/// One remnant as it is written.
struct Block<'t> {
    text: &'t str,
    entry: Table,
}

impl<'t> Block<'t> {
    fn read(text: &'t str) -> Option<Self> {
        let read: Table = text.parse().ok()?;
        let entry = read.get("remnant")?.as_array()?.first()?.as_table()?.clone();
        Some(Self { text, entry })
    }

    fn word(&self, key: &str) -> Option<&str> {
        self.entry.get(key).and_then(Value::as_str)
    }

    /// Whether it is one of these, by cloth and name.
    fn is_among(&self, used: &[(String, String)]) -> bool {
        used.iter().any(|(cloth, name)| self.word("cloth") == Some(cloth) && self.word("name") == Some(name))
    }

    /// Whether it is of a cloth that was planned.
    fn is_of(&self, cloths: &[String]) -> bool {
        cloths.iter().any(|cloth| self.word("cloth") == Some(cloth))
    }

    /// What is wrong where another job is cut from it, and this one changes it or is cut from it too.
    fn cut_twice(&self, kept: &Kept) -> Option<RemnantFault> {
        let by = self.word("used_by").filter(|by| *by != kept.job)?.to_owned();
        let name = self.word("name").unwrap_or_default().to_owned();
        if self.is_among(&kept.used) {
            return Some(RemnantFault::Taken { name, by });
        }
        let is_left_by_it = self.word("job") == Some(&kept.job) && self.is_of(&kept.cloths);
        is_left_by_it.then(|| RemnantFault::LeftIsTaken { name, job: kept.job.clone(), by })
    }

    /// The same marked as used by `job`, or no longer.
    fn marked(&self, kept: &Kept) -> String {
        let by = self.word("used_by");
        let lines = || self.text.split_inclusive('\n');
        if self.is_among(&kept.used) && by.is_none() {
            let mark = format!("used_by = {}\n", quoted(&kept.job));
            let rest: String = lines().skip(1).collect();
            let header = lines().next().unwrap_or(HEADER).trim_end();
            return format!("{header}\n{mark}{rest}");
        }
        if by == Some(&kept.job) && self.is_of(&kept.cloths) && !self.is_among(&kept.used) {
            return lines().filter(|line| !line.trim_start().starts_with("used_by")).collect();
        }
        self.text.to_owned()
    }

    /// What stands below it and is none of it: comments for what follows.
    fn tail(&self) -> String {
        let lines: Vec<&str> = self.text.split_inclusive('\n').collect();
        let is_key = |line: &&str| !line.trim().is_empty() && !line.trim_start().starts_with('#');
        let last = lines.iter().rposition(is_key).unwrap_or(0);
        lines[last + 1..].concat()
    }
}

fn quoted(text: &str) -> String {
    Value::String(text.to_owned()).to_string()
}

fn written(before: &str, blocks: &[Block<'_>], kept: &Kept) -> String {
    let mut text = before.to_owned();
    let mut names: Vec<(String, String)> = Vec::new();
    for block in blocks {
        if block.word("job") == Some(&kept.job) && block.is_of(&kept.cloths) {
            let tail = block.tail();
            text += tail.trim_start_matches(['\n', '\r']);
            continue;
        }
        let named = |key: &str| block.word(key).unwrap_or_default().to_owned();
        names.push((named("cloth"), named("name")));
        text += &block.marked(kept);
    }
    for left in &kept.left {
        let mut numbered = (1..).map(|number| (left.cloth.clone(), format!("{} {number}", kept.job)));
        let free = numbered.find(|named| !names.contains(named)).unwrap_or_default();
        text = format!("{}\n\n{HEADER}\n", text.trim_end());
        for (key, value) in [
            ("name", &free.1),
            ("cloth", &left.cloth),
            ("job", &kept.job),
            ("length", &left.length),
            ("width", &left.width),
        ] {
            text += &format!("{key} = {}\n", quoted(value));
        }
        if left.washed {
            text += "washed = true\n";
        }
        for (key, offset) in ["offset_across", "offset_along"].into_iter().zip(&left.offsets) {
            text.extend(offset.iter().map(|offset| format!("{key} = {}\n", quoted(offset))));
        }
        names.push(free);
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    fn left(cloth: &str) -> KeptPiece {
        KeptPiece {
            cloth: cloth.into(),
            width: "12 in".into(),
            length: "30 1/2 in".into(),
            offsets: [None, None],
            washed: true,
        }
    }

    fn job(name: &str, cloths: &[&str], used: &[(&str, &str)]) -> Kept {
        let used = used.iter().map(|(cloth, name)| ((*cloth).to_owned(), (*name).to_owned()));
        let planned = ["drill", "lawn"].map(str::to_owned).to_vec();
        Kept {
            job: name.into(),
            cloths: planned,
            left: cloths.iter().map(|cloth| left(cloth)).collect(),
            used: used.collect(),
        }
    }

    fn again(text: &str, made: &Kept) -> String {
        kept(Some(&Source::new("stash.toml", text)), made, &Limits::default())
            .unwrap_or_else(|faults| panic!("{faults}"))
    }

    #[test]
    fn a_stash_is_made_and_the_same_job_again_changes_nothing() {
        let bag = job("Bag \"A\"", &["drill", "lawn", "drill"], &[]);
        let first = kept(None, &bag, &Limits::default()).unwrap();
        assert!(first.starts_with("# Remnants") && first.matches("[[remnant]]").count() == 3, "{first}");
        assert!(first.contains("name = 'Bag \"A\" 2'") || first.contains("Bag \\\"A\\\" 2"), "{first}");
        assert_eq!(again(&first, &bag), first);
        let fewer = again(&first, &job("Bag \"A\"", &["drill"], &[]));
        assert_eq!(fewer.matches("[[remnant]]").count(), 1);
    }

    #[test]
    fn what_others_wrote_stays_with_its_comments_and_what_is_used_is_marked_and_freed() {
        let text = "# ours\nformat = \"ellwand-remnants-1\"\n\n[[remnant]] # blue\nname = \"sail\"\ncloth = \"drill\"\nlength = \"30 in\"\n                    [[remnant.flaws]]\nat = [\"1 in\", \"1 in\"]\nsize = [\"1 in\", \"1 in\"]\n# the end\n";
        let used = again(text, &job("Bag", &["drill"], &[("drill", "sail")]));
        assert!(used.contains("[[remnant]] # blue\nused_by = \"Bag\"\nname = \"sail\""), "{used}");
        assert!(used.contains("# the end\n\n[[remnant]]\nname = \"Bag 1\""), "{used}");
        let freed = again(&used, &job("Bag", &[], &[]));
        assert_eq!(freed.trim_end(), text.trim_end());
        // What another job is cut from stays marked.
        assert!(again(&used, &job("Tent", &[], &[])).contains("used_by = \"Bag\""));
    }

    #[test]
    fn one_piece_of_cloth_is_not_cut_twice() {
        let refused = |text: &str, made: &Kept| {
            kept(Some(&Source::new("s.toml", text)), made, &Limits::default()).unwrap_err().to_string()
        };
        let left = kept(None, &job("Bag", &["drill"], &[]), &Limits::default()).unwrap();
        let taken = again(&left, &job("Tent", &[], &[("drill", "Bag 1")]));
        // Neither is the other job's cloth changed, nor taken by a third.
        assert!(refused(&taken, &job("Bag", &["drill"], &[])).contains("\"Tent\" is cut from it"));
        assert!(refused(&taken, &job("Sail", &[], &[("drill", "Bag 1")])).contains("\"Tent\" is cut from it"));
        // The one that has it may be planned again, and gives it back.
        assert_eq!(again(&taken, &job("Tent", &[], &[("drill", "Bag 1")])), taken);
        assert_eq!(again(&taken, &job("Tent", &[], &[])), left);
    }

    #[test]
    fn what_is_no_stash_or_is_written_otherwise_is_refused() {
        let refused = |text: &str| {
            kept(Some(&Source::new("s.toml", text)), &job("Bag", &[], &[]), &Limits::default()).unwrap_err().to_string()
        };
        assert!(refused("format = \"ellwand-job-1\"\n").contains("but it should be \"ellwand-remnants-1\""));
        assert!(refused("not a stash\n").contains("this is not TOML"));
        let inline =
            "format = \"ellwand-remnants-1\"\nremnant = [{ name = \"a\", cloth = \"b\", length = \"3 in\" }]\n";
        assert!(refused(inline).contains("[[remnant]]"), "{}", refused(inline));
    }
}
