//! A layout made for a stricter question, told again as the answer to a looser one.
//!
//! A layout with nap serves cloth without; one for narrower cloth serves wider; one with a copy more serves the garment
//! without it; one cut on the fold can be cut from an open layer. Nothing here decides which of these holds: the layout is
//! re-expressed, and the garment's checker says whether it answers.

use ellwand_garment::{Cut, CutOrder, Hands, Layers, Layout, LowerBound, check};
use ellwand_geometry::{Point, point};

use crate::{Lay, assemble::assemble, slot::Slot};

/// `known` as an answer to `lay`, or `None` when it is not one.
///
/// Cuts that `lay` does not ask for are left out and the others moved across so that either the left selvages or the middles
/// of the two cloths meet. The shorter of the two that the checker passes is kept.
pub(crate) fn adopt(known: &Layout, lay: &Lay, slots: &[Slot]) -> Option<Layout> {
    let cuts = wanted_cuts(known, lay, slots)?;
    let cloth = &lay.fabric.cloth;
    let mut shifts = vec![cloth.centre_fold() - known.cloth.centre_fold()];
    if lay.layers == Layers::Open {
        shifts.push(cloth.selvage - known.cloth.selvage);
    }
    let mut answers: Vec<Layout> = (shifts.into_iter())
        .map(|across| {
            let cuts = cuts.iter().map(|cut| moved(cut, point(across, 0.0))).collect();
            // The bound of this question is not known yet, and the old one holds for another; 0 holds for all.
            let bound = LowerBound { length: 0.0, reason: "no cloth is shorter than nothing".into() };
            assemble(lay, cuts, bound, known.search.clone())
        })
        .filter(|layout| check::check(layout, lay.pattern, lay.view).is_empty())
        .collect();
    answers.sort_by(|a, b| a.length.total_cmp(&b.length));
    answers.into_iter().next()
}

/// For each order, as many cuts of its piece as it asks for, renumbered.
fn wanted_cuts(known: &Layout, lay: &Lay, slots: &[Slot]) -> Option<Vec<Cut>> {
    let mut orders: Vec<&CutOrder> = Vec::new();
    for slot in slots {
        if !orders.contains(&&slot.order) {
            orders.push(&slot.order);
        }
    }
    let mut cuts = Vec::new();
    for order in orders {
        for (cut, copy) in chosen(known, order)?.into_iter().zip(1..) {
            let on_fold = lay.layers == Layers::CentreFold && order.rule.on_fold;
            cuts.push(Cut { copy, number: order.number, on_fold, ..cut.clone() });
        }
    }
    Some(cuts)
}

/// The cuts of `known` that serve `order`: for a pair, half of each hand if the layout has them, left and right by turns;
/// otherwise the first of them.
fn chosen<'k>(known: &'k Layout, order: &CutOrder) -> Option<Vec<&'k Cut>> {
    let count = order.rule.count as usize;
    let all: Vec<&Cut> = known.cuts.iter().filter(|cut| cut.piece == order.piece.name).collect();
    if all.len() < count {
        return None;
    }
    let drawn = all.iter().copied().filter(|cut| !cut.mirrored);
    let mirrored = all.iter().copied().filter(|cut| cut.mirrored);
    if order.rule.hands == Hands::Pair {
        let by_turns: Vec<&Cut> = drawn.zip(mirrored).take(count / 2).flat_map(|(d, m)| [d, m]).collect();
        if by_turns.len() == count {
            return Some(by_turns);
        }
    } else if order.rule.hands == Hands::Same {
        let same: Vec<&Cut> = drawn.take(count).collect();
        if same.len() == count {
            return Some(same);
        }
    }
    Some(all.into_iter().take(count).collect())
}

fn moved(cut: &Cut, by: Point) -> Cut {
    let mut cut = cut.clone();
    cut.outline = cut.outline.translated(by);
    cut.grainline = cut.grainline.map(|p| p + by);
    for notch in &mut cut.notches {
        notch.at = notch.at + by;
    }
    for p in cut.points.values_mut() {
        *p = *p + by;
    }
    cut
}
