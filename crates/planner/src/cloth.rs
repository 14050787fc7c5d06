//! One cloth of a job: every way of laying that the maker allows is planned, the shorter is taken, and the other is told.

use ellwand_garment::{
    Fabric, Job, Layers, Layout, Leftover, OnHand, Pattern, Question, Units, least_useful, leftovers, length_there,
    short_of_on_hand,
};
use ellwand_nest::Ended;

use crate::{
    Alone, LayPlan, MatchingCost, Options, PlanError, Progress,
    error::sound,
    lay_plan::{lay_plan, or_known, raise_bound},
    pace::Purpose,
    search::Desk,
};

/// The answer for one cloth of a job.
#[derive(Debug, Clone, PartialEq)]
pub struct ClothPlan {
    /// The cloth and how it is sold; wished matches that were given up are no longer among its matches.
    pub fabric: Fabric,
    /// The shortest checked layout.
    pub plan: LayPlan,
    /// The way of laying that was tried and not taken.
    pub other: Option<OtherWay>,
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
    /// How the cloth would lie.
    pub layers: Layers,
    /// What it would need, or why it cannot be.
    pub answer: Result<LayPlan, PlanError>,
}

impl ClothPlan {
    /// The layout to cut from.
    pub fn layout(&self) -> &Layout {
        &self.plan.layout
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
        let other = self.other.iter().filter_map(|other| other.answer.as_ref().ok());
        self.plan.layouts().chain(other.flat_map(LayPlan::layouts))
    }

    /// This plan, or `other` where this one's search was ended early and that is shorter.
    pub(crate) fn or_if_stopped(self, other: Option<Self>) -> Self {
        match other {
            Some(other) if self.plan.ended == Ended::Stopped && other.layout().length < self.layout().length => {
                let plan = LayPlan { ended: Ended::Stopped, ..other.plan };
                Self { plan, alone: self.alone, one_after_the_other: self.one_after_the_other, ..other }
            }
            _ => self,
        }
    }

    /// The same with the shorter way of laying taken: of equals the fold, unless no cut uses it.
    pub(crate) fn shorter_way_first(self) -> Self {
        let Self { plan, other, .. } = &self;
        let Some(OtherWay { answer: Ok(not_taken), layers }) = other else { return self };
        let is_better = match layers {
            Layers::Open => not_taken.layout.length < plan.layout.length,
            Layers::CentreFold => not_taken.layout.length <= plan.layout.length && not_taken.layout.uses_fold(),
        };
        if !is_better {
            return self;
        }
        let taken = not_taken.clone();
        let other = OtherWay { layers: self.plan.layout.layers, answer: Ok(self.plan) };
        Self { plan: taken, other: Some(other), ..self }
    }
}

/// Plans the cloth of `role`: each way of laying that the fabric allows, and of two the shorter; of equals the fold, which is
/// half the cutting, unless no cut uses it.
///
/// Whatever is cut from folded cloth can be cut from an open layer, so the open answer is never longer than the folded one, and no
/// layout of either way is shorter than the bound of the open one.
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
    let ways = job.fabric(role).map_or(0, |fabric| fabric.layer.ways().len());
    desk.pace.expect(Purpose::Layout.shares().times(ways));
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
    pub(crate) fn question(&self, layers: Layers) -> Result<Question<'a>, PlanError> {
        Ok(Question::of(self.job, self.pattern, self.role, layers)?)
    }
}

/// As [`plan_cloth`], among the other searches of a command.
pub(crate) fn plan_ways(cloth: Cloth, known: &[Layout], purpose: Purpose, desk: &Desk) -> Result<ClothPlan, PlanError> {
    plan_ways_of(&cloth.question(Layers::Open)?, known, purpose, desk)
}

/// The same of a question of its own, such as one about a part of the pieces; `first` is asked in every way that its fabric allows.
pub(crate) fn plan_ways_of(
    first: &Question,
    known: &[Layout],
    purpose: Purpose,
    desk: &Desk,
) -> Result<ClothPlan, PlanError> {
    let fabric = first.fabric.clone();
    let answer = |layers: Layers| lay_plan(&first.laid(layers), known, purpose, desk);
    let alone = |plan: LayPlan| ClothPlan {
        fabric: fabric.clone(),
        plan,
        other: None,
        matching: None,
        alone: Vec::new(),
        one_after_the_other: None,
    };
    let taking = |plan: LayPlan, layers: Layers, answer: Result<LayPlan, PlanError>| ClothPlan {
        other: Some(OtherWay { layers, answer }),
        ..alone(plan)
    };
    match *fabric.layer.ways() {
        [folded, open] => match (answer(folded), answer(open)) {
            (Err(fault), _) | (_, Err(fault)) if !fault.is_of_the_question() => Err(fault),
            (Ok(f), o) => {
                let o = match o.and_then(|o| Ok(or_known(o, std::slice::from_ref(&f.layout), &first.laid(open))?.plan))
                {
                    Err(fault) if !fault.is_of_the_question() => return Err(fault),
                    o => o,
                };
                let f = o.as_ref().map_or(f.clone(), |o| of_either(f, o));
                match o {
                    Ok(o) if o.layout.length < f.layout.length || !f.layout.uses_fold() => Ok(taking(o, folded, Ok(f))),
                    o => Ok(taking(f, open, o)),
                }
            }
            (f, Ok(o)) => Ok(taking(o, folded, f)),
            (Err(_), Err(fault)) => Err(fault),
        },
        [layers] => {
            let mut plan = answer(layers)?;
            if layers == Layers::CentreFold && purpose == Purpose::Layout {
                // A folded layout is an open one too.
                raise_bound(&mut plan.layout, &first.laid(Layers::Open), desk);
            }
            Ok(alone(plan))
        }
        _ => unreachable!("a choice of layers allows one way or two"),
    }
}

/// The folded answer where the cloth may lie open as well: no layout is shorter than the bound of the open one.
fn of_either(mut folded: LayPlan, open: &LayPlan) -> LayPlan {
    folded.layout.lower_bound = open.layout.lower_bound.clone();
    folded
}
