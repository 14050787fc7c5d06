//! A packing into a finished layout: exact shapes, length, matches, purchase, proven bound and search note; and the judgement that comes
//! before anything is shown.

mod bound_words;
mod face_up;
mod shapes;

pub(crate) use bound_words::bound_in_words;
pub(crate) use face_up::face_up;

use ellwand_garment::{Asked, Layout, LowerBound, Question, SearchNote, check, matched_points, purchase};
use ellwand_nest::Packing;

use crate::{PlanError, prepare::Prepared};

/// The layout that `packing` makes of the question; not judged yet.
pub(crate) fn assemble(prepared: &Prepared, packing: &Packing, bound: LowerBound, note: SearchNote) -> Layout {
    let question = prepared.question;
    let cuts = shapes::cuts(prepared, packing);
    let length = cuts.iter().map(|cut| cut.outline.bounds().max.y).fold(0.0, f64::max);
    let (cloth, matching) = (&question.fabric.cloth, &question.fabric.matching);
    let met = |design| matched_points(&matching.matches, &cuts, design, cloth.width);
    let matches = cloth.design.as_ref().map(met).unwrap_or_default();
    Layout {
        job: question.job.name.clone(),
        pattern: question.pattern.name.clone(),
        view: question.view.name.clone(),
        size: question.pattern.size.clone(),
        garments: question.pattern.names_of_garments(),
        role: question.fabric.role.clone(),
        cloth: cloth.clone(),
        way: question.way,
        lay: prepared.spread.lay(packing.length),
        length,
        lower_bound: bound,
        cuts,
        asked: question.orders().iter().map(Asked::of).collect(),
        matching: matching.matches.clone(),
        given_up: matching.given_up.clone(),
        matches,
        purchase: purchase(&question.fabric, question.job.units, length),
        search: note,
    }
}

/// Passes `layout` on when the garment's checker finds nothing wrong with it as an answer to `question`.
///
/// # Errors
///
/// [`PlanError::Bug`] with everything the checker found.
pub(crate) fn judged(layout: Layout, question: &Question) -> Result<Layout, PlanError> {
    let faults = check::check(&layout, question);
    if faults.is_empty() {
        return Ok(layout);
    }
    Err(PlanError::Bug {
        role: layout.role,
        seed: layout.search.seed,
        faults: faults.iter().map(ToString::to_string).collect(),
    })
}

#[cfg(test)]
mod tests;
