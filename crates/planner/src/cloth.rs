//! One cloth of a job: every way of laying that the maker allows is planned, one of them is taken, and the others are told.

use std::cmp::Ordering;

use ellwand_garment::{
    Fabric, Job, Layout, Leftover, LowerBound, OnHand, Pattern, Question, Units, Way, WayChoice, least_useful,
    leftovers, length_there, short_of_on_hand,
};
use ellwand_nest::Ended;

use crate::{
    Alone, LayPlan, MatchingCost, Options, PlanError, Progress,
    error::sound,
    lay_plan::{lay_plan, or_known, raise_bound},
    other_ways::{other_way, shares},
    pace::{Purpose, Shares},
    search::Desk,
};

/// The answer for one cloth of a job.
#[derive(Debug, Clone, PartialEq)]
pub struct ClothPlan {
    /// The cloth and how it is sold; wished matches that were given up are no longer among its matches.
    pub fabric: Fabric,
    /// The checked layout that is taken.
    pub plan: LayPlan,
    /// The ways of laying that were tried and not taken.
    pub others: Vec<OtherWay>,
    /// What matching the design costs, where something is matched and the job was asked as a whole.
    pub matching: Option<MatchingCost>,
    /// Each garment alone, where several are cut from it and the job was asked as a whole.
    pub alone: Vec<Alone>,
    /// The length that these garments take one after the other, each as it is laid alone, mm: with the gap between pieces between them, on cloth with a design each at
    /// a whole repeat, and past flaws. The layout is never longer. `None` where that is no answer: what is matched together may not be matched alone.
    pub one_after_the_other: Option<f64>,
}

/// A way of laying that was not taken.
#[derive(Debug, Clone, PartialEq)]
pub struct OtherWay {
    /// In which way the cloth would be laid.
    pub way: Way,
    /// What it would need, or why it cannot be.
    pub answer: Result<LayPlan, PlanError>,
}

impl ClothPlan {
    /// The layout to cut from.
    pub fn layout(&self) -> &Layout {
        &self.plan.layout
    }

    /// The shortest layout of all ways; the one to cut from need not be it.
    pub(crate) fn shortest(&self) -> &Layout {
        let others = self.others.iter().filter_map(|other| Some(&other.answer.as_ref().ok()?.layout));
        others.fold(self.layout(), |shortest, other| if other.length < shortest.length { other } else { shortest })
    }

    /// Whether the cloth on hand suffices, if there is any.
    pub fn on_hand(&self) -> Option<OnHand> {
        self.layout().purchase.on_hand
    }

    /// By how much the cloth on hand would be short of a layout of `length` mm; `None` when it would do, or there is none.
    pub fn short_of_on_hand(&self, length: f64) -> Option<f64> {
        short_of_on_hand(&self.fabric, length)
    }

    /// The largest upright rectangles that are left of it once everything is cut, largest first, and of a useful size for people who measure in
    /// `units`; what lies beyond the layout included.
    pub fn leftovers(&self, units: Units) -> Vec<Leftover> {
        leftovers(self.layout(), length_there(&self.fabric, self.layout()), least_useful(units))
    }

    /// Every checked layout made on the way, to be candidates for a looser question.
    pub fn layouts(&self) -> impl Iterator<Item = &Layout> {
        let others = self.others.iter().filter_map(|other| other.answer.as_ref().ok());
        self.plan.layouts().chain(others.flat_map(LayPlan::layouts))
    }

    /// This plan, or `other` where this one's search was ended early and that is better.
    pub(crate) fn or_if_stopped(self, other: Option<Self>) -> Self {
        match other {
            Some(other)
                if self.plan.ended == Ended::Stopped
                    && better(other.layout(), self.layout(), self.fabric.ways) == Ordering::Less =>
            {
                let plan = LayPlan { ended: Ended::Stopped, ..other.plan };
                Self { plan, alone: self.alone, one_after_the_other: self.one_after_the_other, ..other }
            }
            _ => self,
        }
    }

    /// The same with the best of its ways taken.
    pub(crate) fn best_way_first(mut self) -> Self {
        let mut ways = vec![OtherWay { way: self.plan.layout.way, answer: Ok(self.plan) }];
        ways.append(&mut self.others);
        let (plan, others) = best_of(ways, self.fabric.ways);
        // The plan that was taken before is among them.
        match plan {
            Some(plan) => Self { plan, others, ..self },
            None => unreachable!("one of the ways has an answer"),
        }
    }
}

/// The best of some ways of laying, and the others in their order.
fn best_of(mut ways: Vec<OtherWay>, choice: WayChoice) -> (Option<LayPlan>, Vec<OtherWay>) {
    let mut best: Option<usize> = None;
    for (index, way) in ways.iter().enumerate() {
        let Ok(plan) = &way.answer else { continue };
        let taken = best.and_then(|best| ways[best].answer.as_ref().ok());
        if taken.is_none_or(|taken| better(&plan.layout, &taken.layout, choice) == Ordering::Less) {
            best = Some(index);
        }
    }
    let plan = best.and_then(|best| ways.remove(best).answer.ok());
    (plan, ways)
}

/// Which of two layouts is taken, the lesser: where any way will do as [`least_work`] has it. Otherwise the shorter is, and of equals the one on a fold,
/// unless no cut uses it.
pub(crate) fn better(layout: &Layout, other: &Layout, choice: WayChoice) -> Ordering {
    match choice {
        WayChoice::Any => least_work(layout, other),
        WayChoice::Only(_) | WayChoice::Either => {
            let without_fold = |layout: &Layout| (!layout.uses_fold(), !layout.lay.is_open());
            layout.length.total_cmp(&other.length).then_with(|| without_fold(layout).cmp(&without_fold(other)))
        }
    }
}

/// Which of two layouts of one cloth is the one to cut, the lesser being better: what is bought counts first, then how much work it is, of equals the
/// plainer way, and the length last; of cloth that is at home the length before the folds. Cutting double is half the work, and cloth that must be bought anyway is
/// not saved.
pub(crate) fn least_work(layout: &Layout, other: &Layout) -> Ordering {
    let bought = |layout: &Layout| (layout.purchase.steps, layout.beyond_remnant() > 0.0);
    let plain = |layout: &Layout| Way::ALL.iter().position(|&way| way == layout.way);
    let work = |layout: &Layout| {
        let ease = layout.ease();
        (ease.folds, !layout.lay.is_open(), plain(layout))
    };
    let length = || layout.length.total_cmp(&other.length);
    let things = layout.ease().things.cmp(&other.ease().things);
    let last = || {
        // Of cloth at home, what is left is hers.
        if layout.purchase.is_at_home() && other.purchase.is_at_home() {
            length().then_with(|| work(layout).cmp(&work(other)))
        } else {
            work(layout).cmp(&work(other)).then_with(length)
        }
    };
    bought(layout).cmp(&bought(other)).then(things).then_with(last)
}

/// Plans the cloth of `role` in each way of laying that the fabric allows, and takes one of them: the shorter, of equals the fold, which is
/// half the cutting, unless no cut uses it; and where any way will do, of those that buy least the one that is least work.
///
/// Whatever is cut from folded cloth can be cut from an open layer, so the open answer is never longer than any other, and no
/// layout of any way is shorter than the bound of the open one.
///
/// # Errors
///
/// When no way of laying has an answer: the faults of the open layer if that was allowed, otherwise of the fold.
pub fn plan_cloth(
    job: &Job,
    pattern: &Pattern,
    role: &str,
    known: &[Layout],
    options: &Options,
    progress: &dyn Progress,
) -> Result<ClothPlan, PlanError> {
    sound(pattern, job)?;
    let desk = Desk::new(options, progress);
    let ways = |fabric: &Fabric| shares(choice_for(fabric.ways, pattern));
    desk.pace.expect(job.fabric(role).map_or(Shares::NONE, ways));
    plan_ways(Cloth { job, pattern, role }, known, Purpose::Layout, &desk)
}

/// One cloth of a job.
#[derive(Clone, Copy)]
pub(crate) struct Cloth<'a> {
    pub(crate) job: &'a Job,
    pub(crate) pattern: &'a Pattern,
    pub(crate) role: &'a str,
}

impl<'a> Cloth<'a> {
    /// The question about it, laid as `layers` says.
    pub(crate) fn question(&self, way: Way) -> Result<Question<'a>, PlanError> {
        Ok(Question::of(self.job, self.pattern, self.role, way)?)
    }
}

/// As [`plan_cloth`], among the other searches of a command.
pub(crate) fn plan_ways(cloth: Cloth, known: &[Layout], purpose: Purpose, desk: &Desk) -> Result<ClothPlan, PlanError> {
    plan_ways_of(&cloth.question(Way::Open)?, known, purpose, desk)
}

/// The same of a question of its own, such as one about a part of the pieces; `first` is asked in every way that its fabric allows.
pub(crate) fn plan_ways_of(
    first: &Question,
    known: &[Layout],
    purpose: Purpose,
    desk: &Desk,
) -> Result<ClothPlan, PlanError> {
    let mut fabric = first.fabric.clone();
    fabric.ways = choice_for(fabric.ways, first.pattern);
    let mut ways: Vec<OtherWay> = Vec::new();
    for &way in fabric.ways.ways() {
        let answer = lay_plan(&first.laid(way), known, purpose, desk);
        ways.push(OtherWay { way, answer: of_the_question(answer)? });
    }
    if purpose == Purpose::Layout {
        for &way in fabric.ways.more_ways() {
            let known: Vec<Layout> = layouts(&ways).cloned().collect();
            let answer = if known.is_empty() || way.refusal(&fabric).is_some() {
                desk.pace.skip(Purpose::OtherWay.shares());
                let Some(why) = way.refusal(&fabric) else { continue };
                Err(PlanError::WayRefused { role: fabric.role.clone(), way, why })
            } else {
                other_way(&first.laid(way), &known, Purpose::OtherWay, desk)
            };
            ways.push(OtherWay { way, answer: of_the_question(answer)? });
        }
    }
    open_is_never_longer(first, &mut ways)?;
    let of_any = bound_by_open(first, &mut ways, purpose, desk);
    let last =
        ways.iter().rev().find_map(|way| way.answer.as_ref().err().filter(|_| fabric.ways.ways().contains(&way.way)));
    let last = last.cloned();
    match (best_of(ways, fabric.ways), last) {
        ((Some(mut plan), others), _) => {
            if let Some(bound) = of_any.filter(|_| !others.is_empty()) {
                plan.layout.lower_bound = bound;
            }
            Ok(ClothPlan { fabric, plan, others, matching: None, alone: Vec::new(), one_after_the_other: None })
        }
        ((None, _), Some(fault)) => Err(fault),
        ((None, _), None) => unreachable!("a way of laying has an answer or a fault"),
    }
}

/// The ways of laying that are weighed for a pattern. Garments cut together are never longer than one after the other: there the length counts.
pub(crate) fn choice_for(ways: WayChoice, pattern: &Pattern) -> WayChoice {
    if ways == WayChoice::Any && !pattern.garments.is_empty() { WayChoice::Either } else { ways }
}

/// An answer, or a fault of the question, which may have one in another way; a fault of the program is passed on.
fn of_the_question(answer: Result<LayPlan, PlanError>) -> Result<Result<LayPlan, PlanError>, PlanError> {
    match answer {
        Err(fault) if !fault.is_of_the_question() => Err(fault),
        answer => Ok(answer),
    }
}

/// The layouts found in some ways.
fn layouts(ways: &[OtherWay]) -> impl Iterator<Item = &Layout> {
    ways.iter().filter_map(|way| Some(&way.answer.as_ref().ok()?.layout))
}

/// Holds the open answer against all others: what is cut folded can be cut from an open layer.
fn open_is_never_longer(first: &Question, ways: &mut [OtherWay]) -> Result<(), PlanError> {
    let folded: Vec<Layout> = layouts(ways).filter(|layout| layout.way != Way::Open).cloned().collect();
    for way in ways.iter_mut().filter(|way| way.way == Way::Open) {
        if let Ok(plan) = &way.answer {
            way.answer =
                of_the_question(or_known(plan.clone(), &folded, &first.laid(Way::Open)).map(|held| held.plan))?;
        }
    }
    Ok(())
}

/// No layout of any way is shorter than the bound of the open one: each way is told the higher of that and its own. What is returned holds for all.
fn bound_by_open(first: &Question, ways: &mut [OtherWay], purpose: Purpose, desk: &Desk) -> Option<LowerBound> {
    let open = ways.iter().find(|way| way.way == Way::Open).and_then(|way| way.answer.as_ref().ok());
    let bound = open.map(|open| open.layout.lower_bound.clone());
    for way in ways.iter_mut().filter(|way| way.way != Way::Open) {
        let Ok(plan) = &mut way.answer else { continue };
        match &bound {
            Some(bound) if bound.length > plan.layout.lower_bound.length => plan.layout.lower_bound = bound.clone(),
            None if purpose == Purpose::Layout => raise_bound(&mut plan.layout, &first.laid(Way::Open), desk),
            _ => {}
        }
    }
    bound
}
