//! One cloth of a job: every way of laying that the maker allows is planned, the shorter is taken, and the other is told.

use ellwand_garment::{Fabric, Job, LayerChoice, Layers, Layout, Pattern};
use ellwand_nest::Regions;

use crate::{
    Lay, LayPlan, MatchingCost, Options, PlanError, Progress,
    plan::{or_known, plan_lay_sharing},
    purchase::before_washing,
};

/// The answer for one cloth of a job.
#[derive(Debug, Clone, PartialEq)]
pub struct ClothPlan {
    /// The cloth and how it is sold.
    pub fabric: Fabric,
    /// The shortest checked layout.
    pub plan: LayPlan,
    /// The way of laying that was tried and not taken.
    pub other: Option<OtherWay>,
    /// What matching the design costs, where something is matched and the job was asked as a whole.
    pub matching: Option<MatchingCost>,
}

/// A way of laying that was not taken.
#[derive(Debug, Clone, PartialEq)]
pub struct OtherWay {
    /// How the cloth would lie.
    pub layers: Layers,
    /// What it would need, or why it cannot be.
    pub answer: Result<LayPlan, PlanError>,
}

/// Whether the cloth on hand is enough. Lengths are mm of unwashed cloth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum OnHand {
    /// It is, with this much to spare.
    Enough {
        /// What is left over.
        spare: f64,
    },
    /// It is not.
    Short {
        /// What is missing.
        by: f64,
    },
}

impl ClothPlan {
    /// The layout to cut from.
    pub fn layout(&self) -> &Layout {
        &self.plan.layout
    }

    /// Whether the cloth on hand suffices, if there is any: measured against the length needed, allowances included, before
    /// it is rounded up to what a shop sells.
    pub fn on_hand(&self) -> Option<OnHand> {
        let spare = self.fabric.cloth.on_hand? - before_washing(&self.fabric, self.layout().length);
        Some(if spare >= 0.0 { OnHand::Enough { spare } } else { OnHand::Short { by: -spare } })
    }

    /// By how much the cloth on hand would be short of a layout of `length` mm; `None` when it would do, or there is none.
    pub fn short_of_on_hand(&self, length: f64) -> Option<f64> {
        let short = before_washing(&self.fabric, length) - self.fabric.cloth.on_hand?;
        (short > 0.0).then_some(short)
    }

    /// Every checked layout made on the way, to be candidates for a looser question.
    pub fn layouts(&self) -> impl Iterator<Item = &Layout> {
        let other = self.other.iter().filter_map(|other| other.answer.as_ref().ok());
        self.plan.layouts().chain(other.flat_map(LayPlan::layouts))
    }
}

/// The ways of laying that a choice allows, in the order they are tried.
pub(crate) fn ways(choice: LayerChoice) -> &'static [Layers] {
    match choice {
        LayerChoice::Open => &[Layers::Open],
        LayerChoice::Fold => &[Layers::CentreFold],
        LayerChoice::Either => &[Layers::CentreFold, Layers::Open],
    }
}

/// Plans the cloth of `role`: each way of laying that the fabric allows, and of two the shorter; of equals the fold, which is
/// half the cutting, unless no cut uses it.
///
/// Whatever is cut from folded cloth can be cut from an open layer, so the open answer is never longer than the folded one.
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
    plan_ways(job, pattern, role, known, options, progress, &Regions::default())
}

/// As [`plan_cloth`], with the no-fit regions of the job's other searches.
pub(crate) fn plan_ways(
    job: &Job,
    pattern: &Pattern,
    role: &str,
    known: &[Layout],
    options: &Options,
    progress: &dyn Progress,
    regions: &Regions,
) -> Result<ClothPlan, PlanError> {
    let fabric = job.fabric(role).cloned().ok_or_else(|| PlanError::NoSuchRole { role: role.to_owned() })?;
    let lay = |layers: Layers| Lay::of(job, pattern, role, layers);
    let answer = |layers: Layers| plan_lay_sharing(&lay(layers)?, known, options, progress, regions);
    match *ways(fabric.layer) {
        [folded, open] => match (answer(folded), answer(open)) {
            (Err(fault), _) | (_, Err(fault)) if !fault.is_of_the_question() => Err(fault),
            (Ok(f), Ok(o)) if o.layout.length < f.layout.length => Ok(taking(fabric, o, folded, Ok(f))),
            (Ok(f), o) => match o.and_then(|o| or_known(o, &f.layout, &lay(open)?)) {
                Ok(o) if !f.layout.uses_fold() => Ok(taking(fabric, o, folded, Ok(f))),
                o => Ok(taking(fabric, f, open, o)),
            },
            (f, Ok(o)) => Ok(taking(fabric, o, folded, f)),
            (Err(_), Err(fault)) => Err(fault),
        },
        _ => {
            let layers = ways(fabric.layer)[0];
            Ok(ClothPlan { fabric, plan: answer(layers)?, other: None, matching: None })
        }
    }
}

fn taking(fabric: Fabric, plan: LayPlan, layers: Layers, answer: Result<LayPlan, PlanError>) -> ClothPlan {
    ClothPlan { fabric, plan, other: Some(OtherWay { layers, answer }), matching: None }
}
