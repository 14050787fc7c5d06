//! What `write` and `print` share: which kind of file is named, the sizes asked of a pattern, and the cuts of a layout.

use std::{ffi::OsStr, path::Path};

use ellwand_drawing::{CutToWrite, print::CutToPrint};
use ellwand_files::{LaidCloth, LaidCut};
use ellwand_garment::{GradedPiece, JOIN, Sized};

use crate::exit::Failure;

/// What a file named on the command line holds, told by the ending of its name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Named {
    /// The record of a layout.
    Layout,
    /// A pattern.
    Pattern,
    /// A job: whatever has no other ending.
    Job,
}

/// Endings that are no part of a name, the longest first.
const ENDINGS: [&str; 5] = [".layout.json", ".pattern.toml", ".job.toml", ".json", ".toml"];

/// Endings of files that are none of these.
const OTHERS: [&str; 12] = ["txt", "svg", "pdf", "html", "htm", "dxf", "csv", "png", "jpg", "jpeg", "md", "zip"];

impl Named {
    /// What the file of a path holds.
    pub(crate) fn of(path: &Path) -> Self {
        let name = file_name(path).to_lowercase();
        if name.ends_with(".json") {
            Self::Layout
        } else if name.ends_with(".pattern.toml") {
            Self::Pattern
        } else {
            Self::Job
        }
    }

    /// Refuses sizes asked of what has one only.
    pub(crate) fn refuse_sizes(self, path: &Path, asked: &[String]) -> Result<(), Failure> {
        match self {
            Self::Layout if !asked.is_empty() => Err(refused(path, "a layout is of one size; --size is for a pattern")),
            Self::Job if !asked.is_empty() => Err(refused(path, "a job says its size itself; --size is for a pattern")),
            _ => Ok(()),
        }
    }
}

/// An error about a file as a whole.
pub(crate) fn refused(path: &Path, what: &str) -> Failure {
    Failure::Input(format!("{}: error: {what}", path.display()))
}

/// Refuses a file whose ending says that it holds neither job, pattern nor record.
pub(crate) fn refuse_others(path: &Path) -> Result<(), Failure> {
    let ending = path.extension().map(|ending| ending.to_string_lossy().to_lowercase()).unwrap_or_default();
    if !OTHERS.contains(&ending.as_str()) || !path.is_file() {
        return Ok(());
    }
    Err(refused(
        path,
        "this is no job, pattern or record of a layout; name a file like tote.job.toml, tote.pattern.toml or main.layout.json",
    ))
}

/// The error about a record of pieces, which cannot be drawn as a pattern is.
pub(crate) fn no_seam_lines(path: &Path) -> Failure {
    refused(path, "a record of pieces holds no seam lines; name the pattern it came from, or a job of that pattern")
}

/// Which sizes of a pattern are asked for, by their numbers, the smallest first; all where none is.
pub(crate) fn wanted_sizes(path: &Path, sized: &Sized, asked: &[String]) -> Result<Vec<usize>, Failure> {
    let known: Vec<String> = sized.chart.sizes.iter().map(|size| size.label()).collect();
    if let Some(unknown) = asked.iter().find(|asked| !known.contains(asked)) {
        let several: Vec<String> =
            (known.iter().filter(|name| name.strip_prefix(unknown.as_str()).is_some_and(|rest| rest.starts_with(' '))))
                .map(|name| format!("\"{name}\""))
                .collect();
        let what = if several.is_empty() {
            format!("the pattern has no size `{unknown}`; its sizes are {}", known.join(", "))
        } else {
            format!("the pattern has several sizes `{unknown}`: write {}", several.join(" or "))
        };
        return Err(refused(path, &what));
    }
    Ok((0..known.len()).filter(|&k| asked.is_empty() || asked.contains(&known[k])).collect())
}

/// Whether a piece is the same in every size of its pattern.
pub(crate) fn is_one_for_all(piece: &GradedPiece) -> bool {
    piece.drafts.iter().all(|draft| *draft == piece.drafts[0])
}

/// What is cut from a cloth, to be drawn.
pub(crate) fn cuts(laid: &LaidCloth) -> Vec<CutToWrite<'_>> {
    laid.cuts
        .iter()
        .map(|cut| CutToWrite {
            piece: &cut.piece,
            copy: cut.copy,
            outline: cut.outline.points(),
            grainline: cut.grainline,
        })
        .collect()
}

/// What is cut from a cloth, to be printed: called as on its sheet and in its cutting list.
pub(crate) fn cuts_to_print(laid: &LaidCloth) -> Vec<CutToPrint<'_>> {
    fn of(cut: &LaidCut) -> CutToPrint<'_> {
        let number = cut.number.map(|number| number.to_string()).unwrap_or_default();
        let said = |parts: &[&str]| {
            let said: Vec<&str> = parts.iter().copied().filter(|part| !part.is_empty()).collect();
            said.join(" ")
        };
        let lies = [(cut.face_down, "face down"), (cut.on_fold, "on the fold"), (cut.joined, JOIN)];
        let lies: Vec<&str> = lies.iter().filter(|(is_so, _)| *is_so).map(|(_, words)| *words).collect();
        CutToPrint {
            name: said(&[&number, &cut.copy_name, &cut.piece]),
            lies: lies.join(", "),
            short: said(&[&number, &cut.copy_name]),
            outline: cut.outline.points(),
            grainline: cut.grainline,
            notches: &cut.notches,
        }
    }
    laid.cuts.iter().map(of).collect()
}

/// The name of a file without the ending that says what it is: "chambray" of "chambray.job.toml", "my.best" of "my.best.job.toml".
pub(crate) fn stem(path: &Path) -> String {
    let name = file_name(path);
    let lower = name.to_ascii_lowercase();
    let cut = ENDINGS.iter().find_map(|ending| lower.strip_suffix(ending)).map_or(name.len(), str::len);
    if cut == 0 { name } else { name[..cut].to_owned() }
}

/// What files of a layout begin with: its job, or the folder of a record that names none, and the cloth: "harbour-dress.main".
pub(crate) fn layout_stem(path: &Path, job: &str) -> String {
    let plain = |text: &str| {
        let words = text.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty());
        words.collect::<Vec<_>>().join("-").to_lowercase().chars().take(60).collect::<String>()
    };
    let folder =
        path.canonicalize().ok().and_then(|path| Some(path.parent()?.file_name()?.to_string_lossy().into_owned()));
    let named =
        [Some(job.to_owned()), folder].into_iter().flatten().map(|text| plain(&text)).find(|text| !text.is_empty());
    match named {
        Some(name) => format!("{name}.{}", stem(path)),
        None => stem(path),
    }
}

fn file_name(path: &Path) -> String {
    path.file_name().map(OsStr::to_string_lossy).unwrap_or_default().into_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stems_lose_their_known_endings_only() {
        for (file, expected) in [
            ("out/chambray.job.toml", "chambray"),
            ("my.best.job.toml", "my.best"),
            ("my.best.pattern.toml", "my.best"),
            ("main.layout.json", "main"),
            ("v1.2.json", "v1.2"),
            ("v1.2.toml", "v1.2"),
            ("MAIN.LAYOUT.JSON", "MAIN"),
            ("Überrock.v2.Job.toml", "Überrock.v2"),
            ("no.ending", "no.ending"),
            (".job.toml", ".job.toml"),
        ] {
            assert_eq!(stem(Path::new(file)), expected, "{file}");
        }
    }

    #[test]
    fn files_of_a_layout_are_named_by_their_job() {
        let of = |job: &str| layout_stem(Path::new("nowhere/main.layout.json"), job);
        assert_eq!(of("Tartan dress, \"harbour\" / dance"), "tartan-dress-harbour-dance.main");
        assert_eq!(of("../../Schürze"), "schürze.main");
        assert_eq!(of("?"), "main");
    }

    #[test]
    fn files_are_told_apart_by_their_endings() {
        let of = |name: &str| Named::of(Path::new(name));
        assert_eq!(of("a.b/main.layout.json"), Named::Layout);
        assert_eq!(of("tote.pattern.toml"), Named::Pattern);
        assert_eq!(of("tote.job.toml"), Named::Job);
        assert_eq!(of("tote"), Named::Job);
    }
}
