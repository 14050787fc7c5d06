//! Whether the cloths of a job are such as its pattern is meant for: what is not is noted, and never refused.

use ellwand_garment::Nap;

use super::format::{DiagonalsWord, FabricEntry, JobFile};
use crate::{
    document::{At, Name},
    findings::Findings,
    note::NoteKind,
    pattern::suits_format::{NotForWord, SuitsEntry},
};

/// Notes every cloth of the job, candidates included, that is not what `suits` says of its part.
pub(super) fn note(file: &JobFile, suits: &[(String, &SuitsEntry)], findings: &mut Findings) {
    for (role, entry) in file.fabric.iter().flat_map(|fabrics| &fabrics.value.0) {
        let Some((_, meant)) = suits.iter().find(|(of, _)| *of == role.value) else { continue };
        let candidates = entry.value.candidate.iter().flat_map(|listed| &listed.value);
        for cloth in std::iter::once(entry).chain(candidates) {
            note_cloth(&cloth.value, meant, &role.span, findings);
        }
    }
}

fn note_cloth(cloth: &FabricEntry, meant: &SuitsEntry, role: &std::ops::Range<usize>, findings: &mut Findings) {
    let Some(name) = &cloth.name else { return };
    let mut note = |span: Option<&std::ops::Range<usize>>, is: String, meant: String| {
        let span = span.unwrap_or(role).clone();
        findings.note(&span, NoteKind::DoesNotSuit { cloth: name.value.0.clone(), is, meant });
    };
    if let (Some(kind), Some(kinds)) = (&cloth.kind, &meant.kinds) {
        let same = |one: &At<Name>| one.value.0.to_lowercase() == kind.value.0.to_lowercase();
        if !kinds.value.iter().any(same) {
            let words: Vec<String> = kinds.value.iter().map(|one| one.value.0.clone()).collect();
            note(Some(&kind.span), format!("is {}", kind.value.0), format!("is meant for {}", words.join(", ")));
        }
    }
    if let (Some(weight), Some(range)) = (&cloth.weight, &meant.weight)
        && let [least, most] = range.value.as_slice()
        && !(least.value..=most.value).contains(&weight.value)
    {
        let meant = format!("is meant for {:.0} to {}", least.value.grams(), most.value);
        note(Some(&weight.span), format!("weighs {}", weight.value), meant);
    }
    if let (Some(stretch), Some(least)) = (&cloth.stretch, &meant.stretch)
        && stretch.value.fraction() < least.value.fraction()
    {
        let (is, needs) = percents(stretch.value.fraction(), least.value.fraction());
        note(Some(&stretch.span), format!("stretches by {is}"), format!("needs {needs} at least"));
    }
    for word in meant.not_for.iter().flat_map(|listed| &listed.value) {
        if let Some((has, span)) = has(cloth, word.value) {
            note(span, format!("has {has}"), format!("is not for {}", word.value.word()));
        }
    }
}

/// Two shares in percent, with as few digits as tell them apart.
fn percents(is: f64, needs: f64) -> (String, String) {
    let say = |digits: usize, share: f64| format!("{:.digits$} %", 100.0 * share);
    let said = |digits: usize| (say(digits, is), say(digits, needs));
    (0..3).map(said).find(|(is, needs)| is != needs).unwrap_or_else(|| said(3))
}

/// What a cloth has of what it should not have, and where the job says so.
fn has(cloth: &FabricEntry, word: NotForWord) -> Option<(&'static str, Option<&std::ops::Range<usize>>)> {
    let design = cloth.design.as_ref();
    let repeats = design.map(|at| (at.value.across.is_some(), at.value.along.is_some()));
    let span = design.map(|at| &at.span);
    match word {
        NotForWord::ObviousDiagonals => {
            let at = cloth.diagonals.as_ref().filter(|at| at.value == DiagonalsWord::Obvious)?;
            Some(("obvious diagonals", Some(&at.span)))
        }
        NotForWord::Stripes => matches!(repeats, Some((true, false) | (false, true))).then_some(("stripes", span)),
        NotForWord::Plaids => {
            matches!(repeats, Some((true, true))).then_some(("a design that repeats both ways", span))
        }
        NotForWord::Nap => {
            let at = cloth.nap.as_ref().filter(|at| Nap::from(at.value) == Nap::With)?;
            Some(("a nap", Some(&at.span)))
        }
        NotForWord::Borders => design.is_some_and(|at| at.value.border.is_some()).then_some(("a border", span)),
    }
}
