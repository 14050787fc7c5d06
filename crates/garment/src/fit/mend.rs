//! What would mend a seam that does not fit: the one change to a piece after which it does, and no other seam stops fitting.
//!
//! Every line of both pieces and every seam with edges is tried: the change is made, the seams are walked again, the amount is taken from
//! how far the seam moved, and the change is made once more with that amount. What is told is what was tried.

use super::{Alteration, Draft, Sized, WalkedSeam, alter::alter, walk};
use crate::Units;

/// A change that moves a seam by less than this share of itself does not mend it.
const LEAST_EFFECT: f64 = 0.1;

/// A seam that is farther off than this is drawn or named wrongly, and no alteration is what it needs, mm.
const MOST_OFF: f64 = 100.0;

/// A seam that is mended comes out within this, mm.
const MENDED: f64 = 0.5;

/// Gives each seam that does not fit the change that would mend it, where there is one.
pub(super) fn mend(walked: &mut [WalkedSeam], pattern: &Sized, drafts: &[Draft]) {
    let off: Vec<usize> = (0..walked.len()).filter(|&k| walked[k].is_off && walked[k].off.abs() <= MOST_OFF).collect();
    for k in off {
        walked[k].mend = mend_one(walked, k, pattern, drafts);
    }
}

fn mend_one(walked: &[WalkedSeam], k: usize, pattern: &Sized, drafts: &[Draft]) -> Option<Alteration> {
    let by = walked[k].off.abs();
    let after = |change: &Alteration| -> Option<Vec<WalkedSeam>> {
        let mut changed = drafts.to_vec();
        alter(&mut changed, pattern, change, Units::Centimetres).ok()?;
        let after = walk(&pattern.seams, &changed);
        (after.len() == walked.len()).then_some(after)
    };
    candidates(&walked[k], pattern, drafts).into_iter().find_map(|candidate| {
        let tried = after(&candidate.by(by))?;
        let effect = (tried[k].off - walked[k].off) / by;
        if effect.abs() < LEAST_EFFECT {
            return None;
        }
        let change = candidate.by(-walked[k].off / effect);
        let mended = after(&change)?;
        let harms = mended.iter().zip(walked).any(|(after, before)| after.is_off && !before.is_off);
        (mended[k].off.abs() <= MENDED && !harms).then_some(change)
    })
}

/// A change whose amount is open.
enum Candidate {
    Lengthen { line: String, piece: String },
    Widen { seam: String },
}

impl Candidate {
    fn by(&self, by: f64) -> Alteration {
        match self {
            Self::Lengthen { line, piece } => {
                Alteration::Lengthen { line: line.clone(), pieces: vec![piece.clone()], by }
            }
            Self::Widen { seam } => Alteration::Widen { seam: seam.clone(), by },
        }
    }
}

/// Lengthening or shortening either piece at each of its lines, then letting out or taking in at each seam of either.
fn candidates(off: &WalkedSeam, pattern: &Sized, drafts: &[Draft]) -> Vec<Candidate> {
    let of_seam = |draft: &&Draft| off.pieces.contains(&draft.name);
    let lines = drafts.iter().filter(of_seam).flat_map(|draft| {
        draft.lines.keys().map(|line| Candidate::Lengthen { line: line.clone(), piece: draft.name.clone() })
    });
    let seams = pattern.seams.iter().filter(|seam| {
        let sides = || std::iter::once(&seam.a).chain(&seam.b);
        seam.name != off.name
            && sides().all(|side| !side.edges.is_empty())
            && sides().any(|side| off.pieces.contains(&side.piece))
    });
    lines.chain(seams.map(|seam| Candidate::Widen { seam: seam.name.clone() })).collect()
}
