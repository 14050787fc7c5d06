//! A job whose pattern is a record of pieces: in one size, of one view, altered and with allowances.

use std::ops::Range;

use ellwand_garment::{FitReport, Job, Pattern, View};

use super::{
    Alternatives, Converted, Made, candidates, cross_grain, fabrics_of, fit::Fit, format::JobFile, matching, placed,
    remnant_format::StashFile, remnants, spending, units_of,
};
use crate::{
    document::{At, Name},
    fault::JobFault,
    findings::Findings,
    nearest::nearest,
    pattern::{cuts, supplies::DeclaredSupplies},
    record::Recorded,
};

/// Converts a job, noting every fault, as [`convert`](super::convert) does. `record` is what could be read of its record.
pub(crate) fn convert_of_record(
    file: &mut JobFile,
    record: Option<Recorded>,
    stash: Option<(&StashFile, &mut Findings)>,
    findings: &mut Findings,
) -> Option<Converted> {
    note_asked(file, findings);
    let candidates = candidates::convert(file, findings);
    let mut fabrics = fabrics_of(file, findings);
    remnants::convert(file, &mut fabrics, stash, findings);
    let (recorded, named) = (record?, file.pattern.clone()?);
    let Made { mut pattern, view, fit, places, supplies, alternatives, cut_to_width } = made(&recorded)?;
    // What a job says of its view it says by naming the record.
    file.view = Some(At { value: Name(view.name.clone()), span: named.span.clone(), sound: true });
    let known: Vec<String> = pattern.roles(&view).into_iter().map(str::to_owned).collect();
    let listed = file.fabric.as_ref().map_or(&[][..], |fabrics| fabrics.value.0.as_slice());
    let before = findings.count();
    for (role, _) in listed.iter().filter(|(role, _)| !known.contains(&role.value)) {
        let meant = nearest(&role.value, known.iter().map(String::as_str)).map(str::to_owned);
        let (role_name, known) = (role.value.clone(), known.clone());
        findings.add(&role.span, JobFault::UnknownRole { role: role_name, meant, known });
    }
    // An unknown role most likely is the one that is missing.
    if findings.count() == before {
        note_missing_cloths(file, &pattern, &view, &named.span, findings);
    }
    if view.pieces.is_empty() {
        findings.add(&named.span, JobFault::NothingChosen { view: view.name.clone() });
    }
    cuts::note_too_many(&pattern, &view, &named.span, findings);
    cross_grain::allow(file, &mut pattern);
    let matches = matching::convert(file, &mut fabrics, &mut pattern, findings);
    let spending = spending::convert(file, &supplies, &pattern, &view, findings);
    let places = placed::places(file, findings.source(), &matches, places)?;
    let job = Job {
        name: file.name.as_ref()?.value.0.clone(),
        pattern: pattern.name.clone(),
        view: view.name,
        size: pattern.size.clone(),
        units: units_of(file)?,
        fabrics,
        spending,
    };
    Some(Converted { job, pattern, fit, garments: Vec::new(), places, candidates, alternatives, cut_to_width })
}

/// The garment of a record, noting what a job asks of it that only a pattern can answer, and each cloth that it needs and the job does not have.
pub(super) fn made_of_record(file: &JobFile, recorded: &Recorded, findings: &mut Findings) -> Option<Made> {
    note_asked(file, findings);
    let (made, named) = (made(recorded)?, file.pattern.as_ref()?);
    note_missing_cloths(file, &made.pattern, &made.view, &named.span, findings);
    if made.view.pieces.is_empty() {
        findings.add(&named.span, JobFault::NothingChosen { view: made.view.name.clone() });
    }
    Some(made)
}

fn made(recorded: &Recorded) -> Option<Made> {
    let Recorded { pattern, places } = recorded;
    let fit = Fit {
        report: FitReport { size: pattern.size.clone(), ..FitReport::default() },
        before: pattern.clone(),
        drafts: Vec::new(),
        landmarks: Vec::new(),
        sizes: 1,
    };
    Some(Made {
        view: pattern.views.first()?.clone(),
        pattern: pattern.clone(),
        fit,
        alternatives: Alternatives::default(),
        supplies: DeclaredSupplies::default(),
        places: places.clone(),
        cut_to_width: Vec::new(),
    })
}

fn note_missing_cloths(file: &JobFile, pattern: &Pattern, view: &View, span: &Range<usize>, findings: &mut Findings) {
    let Some(listed) = &file.fabric else { return };
    for role in pattern.roles(view).into_iter().filter(|role| !listed.value.names().any(|of| of == *role)) {
        findings.add(span, JobFault::RoleWithoutFabric { view: view.name.clone(), role: role.to_owned() });
    }
}

/// Notes what only a pattern can answer.
fn note_asked(file: &JobFile, findings: &mut Findings) {
    fn span<T>(at: &Option<At<T>>) -> Option<&Range<usize>> {
        at.as_ref().map(|at| &at.span)
    }
    let in_one_size = "its pieces are in one size";
    let fitted = "its pieces are fitted, and it has no sizes and no girths to fit them by";
    let asked = [
        ("view", span(&file.view), "it has the pieces of one view"),
        ("size", span(&file.size), in_one_size),
        ("figure", span(&file.figure), in_one_size),
        ("body", span(&file.body), fitted),
        ("ease", span(&file.ease), fitted),
        ("alter", span(&file.alter), "its pieces are chosen and altered, and have their allowances"),
    ];
    for (key, span, reason) in asked {
        if let Some(span) = span {
            findings.add(span, JobFault::OfARecord { key, reason });
        }
    }
}
