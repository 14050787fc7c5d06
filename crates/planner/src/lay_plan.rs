//! One cloth laid one way: prepared once, asked more strictly first where that helps, and searched.

use ellwand_garment::{Cloth, Layout, LowerBound, Nap, Question, Way, WayChoice};
use ellwand_nest::{Budget, Ended, lower_bound};

use crate::{
    Options, PlanError, Progress,
    assemble::{assemble, bound_in_words, face_up, judged},
    error::sound,
    other_ways::{other_way, plainer_ways},
    pace::Purpose,
    prepare::Prepared,
    search::{Desk, room_for_all, search},
    stricter::retold,
};

/// A checked layout of one cloth laid one way.
#[derive(Debug, Clone, PartialEq)]
pub struct LayPlan {
    /// The shortest layout found.
    pub layout: Layout,
    /// The answers to the same question as if the cloth had a nap, as if every piece had to lie true to the grain, or both, where these were
    /// asked on the way.
    pub stricter: Vec<Layout>,
    /// Why the search ended.
    pub ended: Ended,
}

impl LayPlan {
    /// Every checked layout of this plan, to be candidates for a looser question: wider cloth, a copy fewer.
    pub fn layouts(&self) -> impl Iterator<Item = &Layout> {
        self.stricter.iter().chain([&self.layout])
    }
}

/// Finds the shortest layout it can for `question`.
///
/// `known` are checked layouts of the same pieces for questions that may be stricter: narrower cloth, with nap, more copies.
/// Those that answer `question` are kept as candidates, so the result is never longer than any of them. Unless the budget is a
/// time, cloth without nap is first planned as if it had one, with the same budget: so it never needs more than napped cloth
/// does. Likewise what may lie off the grain is first planned true to it.
///
/// # Errors
///
/// [`PlanError::TooNarrow`] and the other faults of the question; [`PlanError::Bug`] when the checker refuses what was found.
pub fn plan_question(
    question: &Question,
    known: &[Layout],
    options: &Options,
    progress: &dyn Progress,
) -> Result<LayPlan, PlanError> {
    sound(question.pattern, question.job)?;
    lay_plan(question, known, Purpose::Layout, &Desk::new(options, progress))
}

/// The faults of a question that need no search to be seen. Where pieces may be in each other's way wherever the cloth ends, as matched ones
/// may, they are laid once, largest first.
///
/// # Errors
///
/// As [`plan_question`], [`PlanError::Bug`] aside.
pub fn check_question(question: &Question) -> Result<(), PlanError> {
    crate::other_ways::allowed(question)?;
    room_for_all(&Prepared::of(question)?, &Default::default())
}

/// As [`plan_question`], among the other searches of a command.
pub(crate) fn lay_plan(
    question: &Question,
    known: &[Layout],
    purpose: Purpose,
    desk: &Desk,
) -> Result<LayPlan, PlanError> {
    if !matches!(question.way, Way::Open | Way::CentreFold) {
        return alone_in_its_way(question, known, purpose, desk);
    }
    let prepared = match Prepared::of(question) {
        Ok(prepared) => prepared,
        Err(fault) => {
            desk.pace.skip(purpose.shares());
            return Err(fault);
        }
    };
    let budget = desk.pace.next(purpose, prepared.slots.len());
    let on_the_way = match budget {
        Budget::Time(_) => Vec::new(),
        Budget::Effort(_) | Budget::Work(_) => stricter_questions(question),
    };
    let mut stricter: Vec<Layout> = Vec::new();
    for asked in on_the_way {
        // It sees exactly what it would see if it had been asked itself.
        let answers = known.iter().chain(&stricter).filter(|layout| is_as_strict(&layout.cloth, &asked.fabric.cloth));
        let answers: Vec<Layout> = answers.cloned().collect();
        match Prepared::of(&asked).and_then(|prepared| search(&prepared, &answers, budget, desk)) {
            Ok(found) => stricter.push(found.layout),
            // A piece may fit the cloth only upside down, leaning, or crosswise on a border; then there is no such answer to start from.
            Err(fault) if fault.is_of_the_question() => {}
            Err(other) => return Err(other),
        }
    }
    let known: Vec<Layout> = known.iter().chain(&stricter).cloned().collect();
    let found = search(&prepared, &known, budget, desk)?;
    Ok(LayPlan { layout: found.layout, stricter, ended: found.ended })
}

/// The plan of a question about cloth that is laid in some other way than open or folded down the middle, which were not planned before it.
fn alone_in_its_way(
    question: &Question,
    known: &[Layout],
    purpose: Purpose,
    desk: &Desk,
) -> Result<LayPlan, PlanError> {
    if let Err(refused) = crate::other_ways::allowed(question) {
        desk.pace.skip(crate::other_ways::shares(WayChoice::Only(question.way)));
        return Err(refused);
    }
    let mut plainer: Vec<Layout> = known.to_vec();
    for way in plainer_ways(question.way) {
        match lay_plan(&question.laid(*way), known, purpose, desk) {
            Ok(plan) => plainer.push(plan.layout),
            Err(fault) if fault.is_of_the_question() => {}
            Err(fault) => return Err(fault),
        }
    }
    let purpose = if purpose == Purpose::Layout { Purpose::OtherWay } else { purpose };
    let mut plan = other_way(question, &plainer, purpose, desk)?;
    raise_bound(&mut plan.layout, &question.laid(Way::Open), desk);
    Ok(plan)
}

/// The same question asked more strictly, the strictest first: as if the cloth had a nap, as if every piece had to lie true to the grain.
///
/// Every answer to a stricter question is an answer to this one: its placements are a subset.
fn stricter_questions<'a>(question: &Question<'a>) -> Vec<Question<'a>> {
    let cloth = &question.fabric.cloth;
    let naps = if cloth.nap == Nap::With { vec![Nap::With] } else { vec![Nap::With, Nap::Without] };
    let leans = if cloth.off_grain_deg > 0.0 { vec![0.0, cloth.off_grain_deg] } else { vec![0.0] };
    let mut questions: Vec<Question> = Vec::new();
    for off_grain_deg in leans {
        for &nap in &naps {
            let mut stricter = question.clone();
            (stricter.fabric.cloth.nap, stricter.fabric.cloth.off_grain_deg) = (nap, off_grain_deg);
            questions.push(stricter);
        }
    }
    // The last is the question itself.
    questions.pop();
    questions
}

/// Whether what a layout was made for allows no more than `cloth` does, of nap and grain.
fn is_as_strict(made_for: &Cloth, cloth: &Cloth) -> bool {
    (made_for.nap == Nap::With || cloth.nap == Nap::Without) && made_for.off_grain_deg <= cloth.off_grain_deg
}

/// A plan held against layouts that were known.
pub(crate) struct OrKnown {
    /// The plan, its layout the shortest of what it found and what was known.
    pub(crate) plan: LayPlan,
    /// The length of the shortest layout known that answers the question, mm.
    pub(crate) known: Option<f64>,
}

/// `plan`, or the shortest of `known` told as the answer to `question` where that is shorter.
///
/// # Errors
///
/// As [`plan_question`].
pub(crate) fn or_known(plan: LayPlan, known: &[Layout], question: &Question) -> Result<OrKnown, PlanError> {
    if !matches!(question.way, Way::Open | Way::CentreFold) {
        // What lies open is an answer of its own there, and not told as one on folds.
        return Ok(OrKnown { plan, known: None });
    }
    let prepared = Prepared::of(question)?;
    let answers = known.iter().filter_map(|known| retold(known, &prepared));
    let Some(packing) = answers.min_by(|a, b| a.length.total_cmp(&b.length)) else {
        return Ok(OrKnown { plan, known: None });
    };
    let found = &plan.layout;
    let retold = assemble(&prepared, &packing, found.lower_bound.clone(), found.search.clone());
    let known = Some(retold.length);
    if retold.length < found.length {
        let layout = face_up(judged(retold, question)?, &prepared);
        return Ok(OrKnown { plan: LayPlan { layout, ..plan }, known });
    }
    Ok(OrKnown { plan, known })
}

/// How far a bound may lie above the layout that reaches it, mm: rounding only, as the checker lets pass.
const ROUNDING: f64 = 1e-3;

/// Raises the bound of `layout` to what is proven of `looser`, a question that every answer to the layout's own question answers too.
pub(crate) fn raise_bound(layout: &mut Layout, looser: &Question, desk: &Desk) {
    let Ok(prepared) = Prepared::of(looser) else { return };
    if let Ok(bound) = lower_bound(&prepared.problem, &desk.regions)
        && bound.length > layout.lower_bound.length
        && bound.length <= layout.length + ROUNDING
    {
        let bound = bound_in_words(&bound, &prepared);
        layout.lower_bound = LowerBound { length: bound.length.min(layout.length), ..bound };
    }
}
