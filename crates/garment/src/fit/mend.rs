//! What would mend a seam that does not fit: the one change to a piece after which it does, and no other seam fits worse than before.
//!
//! Every line of both pieces and every seam with edges is tried: the change is made, the seams of what it changes are walked again, the amount is
//! taken from how far the seam moved and brought to a mark of the tape, and the change is made once more with that. What is told is what was tried.
//! The shorter side is lengthened before the longer one is shortened.

use super::{Alteration, Draft, Sized, WalkedSeam, alter::alter, walk};
use crate::{Rounding, Seam, Units, on_the_tape};

/// A change that moves a seam by less than this share of itself does not mend it.
const LEAST_EFFECT: f64 = 0.4;

/// A seam that is farther off than this is drawn or named wrongly, and no alteration is what it needs, mm.
const MOST_OFF: f64 = 100.0;

/// No garment is taken in by more than this to mend a seam, mm (3/4 in): girths are what it is for.
const MOST_TAKEN_IN: f64 = 19.05;

/// So many seams that are off are looked at, and so many changes tried for each: what is more is another pattern.
const MOST_TRIED: usize = 24;

/// Gives each seam that does not fit the change that would mend it, where there is one, in lengths that are on the tape.
pub(super) fn mend(walked: &mut [WalkedSeam], pattern: &Sized, drafts: &[Draft], units: Units) {
    let off = walked.iter_mut().filter(|seam| seam.is_off && seam.off.abs() <= MOST_OFF);
    for seam in off.take(MOST_TRIED) {
        let found = candidates(seam, pattern, drafts).into_iter().take(MOST_TRIED);
        seam.mend = found.filter_map(|candidate| candidate.mends(seam, pattern, drafts, units)).next();
    }
}

impl Candidate {
    /// The change after which the seam fits and no other seam of the changed pieces fits worse than before.
    fn mends(&self, off: &WalkedSeam, pattern: &Sized, drafts: &[Draft], units: Units) -> Option<Alteration> {
        let pieces = self.pieces(pattern);
        let is_near = |seam: &&Seam| {
            let mut sides = std::iter::once(&seam.a).chain(&seam.b);
            seam.name == off.name || sides.any(|side| pieces.contains(&side.piece))
        };
        let near: Vec<Seam> = pattern.seams.iter().filter(is_near).cloned().collect();
        let before = walk(&near, drafts);
        let k = before.iter().position(|seam| seam.name == off.name)?;
        let after = |change: &Alteration| -> Option<Vec<WalkedSeam>> {
            let mut changed = drafts.to_vec();
            alter(&mut changed, pattern, change, units).ok()?;
            let after = walk(&near, &changed);
            (after.len() == before.len()).then_some(after)
        };
        let step = off.off.abs();
        let effect = (after(&self.by(step))?[k].off - before[k].off) / step;
        if effect.abs() < LEAST_EFFECT {
            return None;
        }
        let amount = on_the_tape(-before[k].off / effect, units, Rounding::Nearest);
        let takes_in = matches!(self, Self::Widen { .. }) && amount < -MOST_TAKEN_IN;
        let change = self.by(amount);
        let mended = after(&change)?;
        let worse = |(after, before): (&WalkedSeam, &WalkedSeam)| after.is_off && after.off.abs() > before.off.abs();
        (!takes_in && !mended[k].is_off && !mended.iter().zip(&before).any(worse)).then_some(change)
    }

    /// The pieces that it changes.
    fn pieces(&self, pattern: &Sized) -> Vec<String> {
        match self {
            Self::Lengthen { piece, .. } => vec![piece.clone()],
            Self::Widen { seam } => {
                let named = pattern.seams.iter().filter(|of| of.name == *seam);
                named.flat_map(|of| std::iter::once(&of.a).chain(&of.b)).map(|side| side.piece.clone()).collect()
            }
        }
    }
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
    // The shorter side first: what a maker lengthened is to stay.
    let [longer, shorter] = if off.off > 0.0 { [1, 0] } else { [0, 1] };
    let in_turn = [shorter, longer].into_iter().filter_map(|side| drafts.iter().find(|of| of.name == off.pieces[side]));
    let lines = in_turn.flat_map(|draft| {
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
