//! Seams walked: both edges laid against each other from notch to notch.

use super::{Alteration, Draft};
use crate::{Seam, SeamSide, TakenUp, sewn_side::SewnSide};

/// A difference below this can be eased in unseen, mm. Common practice, no source.
const UNSEEN: f64 = 2.0;

/// A seam walked in the pieces to be cut. Lengths are mm.
#[derive(Debug, Clone, PartialEq)]
pub struct WalkedSeam {
    /// The seam.
    pub name: String,
    /// The pieces on both sides.
    pub pieces: [String; 2],
    /// Length of each side between its outermost meeting points; whole when it has fewer than two.
    pub lengths: [f64; 2],
    /// The same from meeting point to meeting point along the edges: the name of the later, or nothing at the end, and both lengths.
    pub between: Vec<(String, [f64; 2])>,
    /// By how much the second side is meant to be longer: eased in as in a sleeve cap, pleated, gathered.
    pub eased: f64,
    /// What is taken up on either side, each kind with its length in all.
    pub taken_up: Vec<(TakenUp, f64)>,
    /// By how much the second side is longer beyond that.
    pub off: f64,
    /// Whether that is more than can be eased in unseen.
    pub is_off: bool,
    /// Of one that is off: the change after which it fits, and no other seam worse than before.
    pub mend: Option<Alteration>,
}

/// Walks every seam whose two sides have edges. Between two meeting points or more only what lies between the outermost is compared: beyond
/// them a side may run on to other pieces, as a waistband does from panel to panel. With fewer the sides are compared whole.
pub fn walk(seams: &[Seam], drafts: &[Draft]) -> Vec<WalkedSeam> {
    seams.iter().filter_map(|seam| walk_one(seam, drafts)).collect()
}

fn walk_one(seam: &Seam, drafts: &[Draft]) -> Option<WalkedSeam> {
    let b = seam.b.as_ref()?;
    let (first, second) = (sewn(&seam.a, drafts)?, sewn(b, drafts)?);
    let between = between(&first, &second);
    let lengths = [0, 1].map(|side| between.iter().map(|(_, both)| both[side]).sum::<f64>());
    let eased = b.longer_by() - seam.a.longer_by();
    let mut taken_up: Vec<(TakenUp, f64)> = Vec::new();
    for &(how, by) in seam.a.taken_up.iter().chain(&b.taken_up) {
        match taken_up.iter_mut().find(|known| known.0 == how) {
            Some(known) => known.1 += by,
            None => taken_up.push((how, by)),
        }
    }
    let off = lengths[1] - lengths[0] - eased;
    Some(WalkedSeam {
        name: seam.name.clone(),
        pieces: [seam.a.piece.clone(), b.piece.clone()],
        lengths,
        between,
        eased,
        taken_up,
        off,
        is_off: off.abs() > UNSEEN,
        mend: None,
    })
}

/// One side of a seam among the drafts.
fn sewn(side: &SeamSide, drafts: &[Draft]) -> Option<SewnSide> {
    let draft = drafts.iter().find(|draft| draft.name == side.piece)?;
    let notch = |name: &str| draft.notches.iter().find(|notch| notch.0 == name).map(|notch| notch.1);
    SewnSide::of(side, |edge| draft.lines_of(edge), |name| draft.points.get(name).copied().or_else(|| notch(name)))
}

/// The stretches between meeting points that both sides have, in the order of the first side. The second is walked from the end at which its
/// meeting points come in that order.
fn between(first: &SewnSide, second: &SewnSide) -> Vec<(String, [f64; 2])> {
    let both: Vec<(String, f64, f64)> =
        first.meets.iter().zip(&second.meets).map(|(a, b)| (a.0.clone(), a.1, b.1)).collect();
    let whole = [first.whole(), second.whole()];
    let mut stops: Vec<(String, f64, f64)> = both;
    if !first.runs_with(second) {
        for stop in &mut stops {
            stop.2 = whole[1] - stop.2;
        }
    }
    stops.sort_by(|a, b| a.1.total_cmp(&b.1));
    let mut before = (0.0, 0.0);
    if stops.len() > 1 {
        let (_, a, b) = stops.remove(0);
        before = (a, b);
    } else {
        stops.push((String::new(), whole[0], whole[1]));
    }
    let mut stretches = Vec::new();
    for (name, a, b) in stops {
        if a - before.0 > 1e-6 || b - before.1 > 1e-6 {
            stretches.push((name, [a - before.0, b - before.1]));
        }
        before = (a, b);
    }
    stretches
}

#[cfg(test)]
mod tests;
