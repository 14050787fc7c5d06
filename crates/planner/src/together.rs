//! Several garments cut from one cloth: each is planned alone as well, and the layouts of them one after the other are an answer that the search for all of
//! them starts from. So cutting together never takes more cloth than cutting one after the other, wherever that can be cut at all.
//!
//! Each garment alone is searched with the effort of the whole: work grows with the pieces, and one of each kind has no more of them than all together, so a
//! plan of several takes at most about twice the time of their common layout alone.

use ellwand_garment::{Cut, Garment, Job, Layers, Layout, Pattern};
use ellwand_geometry::{Placement, Pose};

use crate::{
    ClothPlan, PlanError,
    cloth::Cloth,
    matching_cost::{Prices, Weighing},
    pace::Shares,
};

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
    fn laid(&self, layers: Layers) -> Vec<&Layout> {
        let Ok(plan) = &self.answer else { return Vec::new() };
        let other = plan.other.iter().filter_map(|other| other.answer.as_ref().ok());
        let way = std::iter::once(&plan.plan).chain(other).find(|way| way.layout.layers == layers);
        way.map_or_else(Vec::new, |way| way.layouts().collect())
    }
}

impl ClothPlan {
    /// The length that the garments take one after the other, each as it is laid alone, mm: with the gap between pieces between them, and on cloth with a design
    /// each at a whole repeat. `None` unless each has a layout.
    pub fn one_after_the_other(&self) -> Option<f64> {
        let mut at = Row::of(self);
        for alone in &self.alone {
            let layout = alone.layout()?;
            (0..alone.count).for_each(|_| {
                at.take(layout.length);
            });
        }
        (!self.alone.is_empty()).then_some(at.end)
    }
}

/// Where the next garment begins on a cloth.
struct Row {
    gap: f64,
    repeat: Option<f64>,
    end: f64,
}

impl Row {
    fn of(plan: &ClothPlan) -> Self {
        Self::on(&plan.fabric.cloth)
    }

    fn on(cloth: &ellwand_garment::Cloth) -> Self {
        let repeat = cloth.design.as_ref().and_then(|design| design.along.as_ref()).map(|repeat| repeat.every);
        Self { gap: cloth.piece_gap, repeat, end: 0.0 }
    }

    /// Where one of this length begins.
    fn take(&mut self, length: f64) -> f64 {
        let next = if self.end > 0.0 { self.end + self.gap } else { 0.0 };
        let begins = self.repeat.map_or(next, |repeat| (next / repeat).ceil() * repeat);
        self.end = begins + length;
        begins
    }
}

/// The garments that are cut from a cloth, each once; none where there is only one of them.
fn garments<'a>(cloth: &Cloth<'a>) -> Vec<(&'a Garment, Pattern, Job)> {
    let cut = cloth.pattern.garments.iter().filter_map(|garment| {
        let alone = cloth.pattern.alone(garment)?;
        let is_cut = alone.views.first().is_some_and(|view| !alone.cut_orders(view, cloth.role).is_empty());
        let job = cloth.job.alone(&alone);
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

/// The layouts of the garments one after the other, for each way of laying in which each of them has one.
pub(crate) fn in_a_row(cloth: &Cloth<'_>, alone: &[Alone]) -> Vec<Layout> {
    let Some(fabric) = cloth.job.fabric(cloth.role) else { return Vec::new() };
    fabric.layer.ways().iter().flat_map(|&layers| in_a_row_laid(cloth.pattern, alone, layers)).collect()
}

fn in_a_row_laid(pattern: &Pattern, alone: &[Alone], layers: Layers) -> Vec<Layout> {
    let laid: Vec<Vec<&Layout>> = alone.iter().map(|alone| alone.laid(layers)).collect();
    // Where one was asked more strictly first, all were.
    let asked = laid.iter().map(Vec::len).min().unwrap_or(0);
    (0..asked)
        .filter_map(|k| row(pattern, alone, &laid.iter().map(|of| of[of.len() - asked + k]).collect::<Vec<_>>()))
        .collect()
}

/// One layout of each garment, as often as it is made, one after the other.
fn row(pattern: &Pattern, alone: &[Alone], layouts: &[&Layout]) -> Option<Layout> {
    let first = *layouts.first()?;
    if layouts
        .iter()
        .any(|layout| layout.cloth.nap != first.cloth.nap || layout.cloth.off_grain_deg != first.cloth.off_grain_deg)
    {
        return None;
    }
    let mut at = Row::on(&first.cloth);
    let mut cuts = Vec::new();
    for (alone, layout) in alone.iter().zip(layouts) {
        let garment = pattern.garments.iter().find(|garment| garment.name == alone.garment)?;
        for copy in 0..alone.count as usize {
            let set = garment.sets.get(copy).or(garment.sets.first())?;
            let begins = at.take(layout.length);
            let called = |piece: &str| {
                let place = garment.sets.first()?.iter().position(|of| of == piece)?;
                set.get(place).cloned()
            };
            for cut in &layout.cuts {
                cuts.push(moved(cut, called(&cut.piece)?, begins));
            }
        }
    }
    Some(Layout { cuts, length: at.end, ..first.clone() })
}

fn moved(cut: &Cut, piece: String, by: f64) -> Cut {
    let placement = Placement::new(Pose::AS_DRAWN, 0.0, by);
    let place = |p| placement.apply_to_point(p);
    Cut { piece, outline: placement.apply(&cut.outline), grainline: cut.grainline.map(place), ..cut.clone() }
}

#[cfg(test)]
mod tests;
