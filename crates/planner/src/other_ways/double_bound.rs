//! A bound of its own for cloth in two layers of full width: what is cut through both is there twice, one after the other.
//!
//! Let the doubled pieces, one copy of each two, take up at least `h` of the length on one layer of full width. Folded across at `g`, the near copies lie
//! below `g`, the highest at `h` or above the lowest; of the far ones the highest lies as far above `g` as the lowest near one below it. Cut
//! and turned, the far copies are the near ones moved up by `g`, which is no less than the end of the highest near one. Either way the layout is no
//! shorter than `2 h`.

use ellwand_garment::{LowerBound, Portion, Question, RightSide, Way};
use ellwand_nest::lower_bound;

use crate::{
    assemble::bound_in_words,
    prepare::{Prepared, copies::Copies, spread::Spread},
    search::Desk,
};

/// What no layout of the question is shorter than by this argument; nothing where it says nothing.
pub(super) fn double_bound(question: &Question, desk: &Desk) -> LowerBound {
    let nothing = || LowerBound { length: 0.0, reason: "no cloth is shorter than nothing".into() };
    twice_the_double_part(question, desk).unwrap_or_else(nothing)
}

/// That bound, where the question is of such a way of laying and something is cut double.
fn twice_the_double_part(question: &Question, desk: &Desk) -> Option<LowerBound> {
    if !matches!(question.way, Way::Crosswise | Way::CutAndTurned) {
        return None;
    }
    let doubled = question.orders().into_iter().filter(Copies::come_in_pairs);
    let one_of_two = |copies: &[u32]| copies.chunks(2).filter(|two| two.len() == 2).map(|two| two[0]).collect();
    let portions = doubled.map(|order| Portion { piece: order.piece.name.clone(), copies: one_of_two(&order.copies) });
    let portions: Vec<Portion> = portions.filter(|portion| !portion.copies.is_empty()).collect();
    if portions.is_empty() {
        return None;
    }
    let mut near = question.laid(Way::Open).of_share(portions);
    // Either hand may lie in the near half.
    near.fabric.cloth.right_side = RightSide::Both;
    let prepared = Prepared::spread(&near, Spread::open()).ok()?;
    let bound = lower_bound(&prepared.problem, &desk.regions).ok()?;
    let one_layer = bound_in_words(&bound, &prepared);
    Some(LowerBound {
        length: 2.0 * one_layer.length,
        reason: format!(
            "cut double, every pair lies in both layers, one after the other, and in one: {}",
            one_layer.reason
        ),
    })
}
