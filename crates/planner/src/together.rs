//! Several garments cut from one cloth: each is planned alone as well, and their layouts one after the other ([`in_a_row`]) are where the search for all of them
//! begins. They are held against what it has found once more at the end, when wishes may have been given up. So cutting together never takes more cloth than cutting one
//! after the other, wherever that can be cut at all. A search that does not begin with the row is longer in the mean (`benches/README.md`).
//!
//! Each garment alone is searched with the effort of the whole: work grows with the pieces, and one of each kind has no more of them than all together, so a
//! plan of several takes at most about twice the time of their common layout alone.

use ellwand_garment::{Garment, Job, Layout, Pattern, Way};

use crate::{
    ClothPlan, LayPlan, OtherWay, PlanError,
    cloth::{Cloth, choice_for},
    lay_plan::{OrKnown, or_known},
    matching_cost::{Prices, Weighing},
    pace::Shares,
};

mod row;

pub(crate) use row::in_a_row;

/// One garment of several on one cloth.
#[derive(Debug, Clone, PartialEq)]
pub struct Alone {
    /// Its name.
    pub garment: String,
    /// How many of it are made.
    pub count: u32,
    /// The area of all that is cut for it from this cloth, mm².
    pub area: f64,
    /// The layout of one of it, as if nothing else were cut, or why there is none.
    pub answer: Result<Box<ClothPlan>, PlanError>,
}

impl Alone {
    /// The layout of one of it.
    pub fn layout(&self) -> Option<&Layout> {
        self.answer.as_ref().ok().map(|plan| plan.layout())
    }

    /// Every layout of one of it on cloth that lies in this way; the strictest question first, its own last.
    fn laid(&self, way: Way) -> Vec<&Layout> {
        let Ok(plan) = &self.answer else { return Vec::new() };
        let other = plan.others.iter().filter_map(|other| other.answer.as_ref().ok());
        let so = std::iter::once(&plan.plan).chain(other).find(|plan| plan.layout.way == way);
        so.map_or_else(Vec::new, |plan| plan.layouts().collect())
    }
}

/// The garments that are cut from a cloth, each once; none where there is only one of them.
fn garments<'a>(cloth: &Cloth<'a>) -> Vec<(&'a Garment, Pattern, Job)> {
    let cut = cloth.pattern.garments.iter().filter_map(|garment| {
        let alone = cloth.pattern.alone(garment)?;
        let is_cut = alone.views.first().is_some_and(|view| !alone.cut_orders(view, cloth.role).is_empty());
        let mut job = cloth.job.alone(&alone);
        // Alone it is weighed as it is among the others, so that what each takes adds up.
        for fabric in &mut job.fabrics {
            fabric.ways = choice_for(fabric.ways, cloth.pattern);
        }
        is_cut.then_some((garment, alone, job))
    });
    let cut: Vec<(&Garment, Pattern, Job)> = cut.collect();
    let made: u64 = cut.iter().map(|(garment, ..)| u64::from(garment.count)).sum();
    if made > 1 { cut } else { Vec::new() }
}

/// What the plans of each garment alone come to.
pub(crate) fn shares(cloth: &Cloth<'_>) -> Shares {
    garments(cloth).into_iter().fold(Shares::NONE, |all, (_, pattern, job)| {
        all.and(Weighing::shares(&Cloth { job: &job, pattern: &pattern, role: cloth.role }, Prices::Untold))
    })
}

/// Plans each garment alone; nothing where there is only one. `weighing` is that of all of them together.
///
/// # Errors
///
/// A fault of the program. What stands against one garment is its answer.
pub(crate) fn each_alone(weighing: &Weighing<'_>, together: Shares) -> Result<Vec<Alone>, PlanError> {
    let Weighing { cloth, desk, after } = weighing;
    let asked = garments(cloth);
    let mut all = Vec::with_capacity(asked.len());
    for (index, (garment, pattern, job)) in asked.iter().enumerate() {
        let later = asked[index + 1..].iter().fold(together, |all, (_, pattern, job)| {
            all.and(Weighing::shares(&Cloth { job, pattern, role: cloth.role }, Prices::Untold))
        });
        let own = Weighing { cloth: Cloth { job, pattern, role: cloth.role }, desk, after: after.and(later) };
        let answer = match own.answer(Prices::Untold) {
            Err(fault) if !fault.is_of_the_question() => return Err(fault),
            answer => answer.map(Box::new),
        };
        all.push(Alone {
            garment: garment.name.clone(),
            count: garment.count,
            area: cloth.pattern.area_of(garment, cloth.role),
            answer,
        });
    }
    Ok(all)
}

/// `plan`, the answer for `cloth`, held against the garments one after the other: where some row is shorter than what was found, that row is the layout. Of every
/// row only what the checker passes counts.
///
/// # Errors
///
/// A fault of the program.
pub(crate) fn held_against(rows: &[Layout], cloth: &Cloth<'_>, plan: ClothPlan) -> Result<ClothPlan, PlanError> {
    if rows.is_empty() {
        return Ok(plan);
    }
    let mut shortest: Option<f64> = None;
    let mut held = |way: LayPlan| -> Result<LayPlan, PlanError> {
        let question = cloth.question(way.layout.way)?;
        let OrKnown { plan, known } = or_known(way, rows, &question)?;
        shortest = known.into_iter().chain(shortest).min_by(f64::total_cmp);
        Ok(plan)
    };
    let mut others = Vec::with_capacity(plan.others.len());
    for OtherWay { way, answer } in plan.others {
        let answer = match answer {
            Ok(other) => Ok(held(other)?),
            Err(fault) => Err(fault),
        };
        others.push(OtherWay { way, answer });
    }
    let way = held(plan.plan)?;
    Ok(ClothPlan { plan: way, others, one_after_the_other: shortest, ..plan }.best_way_first())
}

#[cfg(test)]
mod tests;
