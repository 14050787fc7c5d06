//! Every guess that was made of a drawing, in words.

use ellwand_trace::{LineKind, Remark, Understood};

use super::{called, plain};

/// The guesses, one sentence each.
pub(super) fn guesses(understood: &Understood) -> Vec<String> {
    let mut told: Vec<String> = Vec::new();
    match understood.sizes.as_slice() {
        [only] if only.is_guess => told.push("nothing tells sizes apart, so it is taken for one size".to_owned()),
        sizes => told.extend(sizes.iter().filter(|size| size.is_guess).map(|size| {
            format!("a size is told by its line ({}) and called `{}`", plain(&size.told_by), plain(&size.name.name))
        })),
    }
    told.extend(understood.remarks.iter().map(ToString::to_string));
    for piece in &understood.pieces {
        let mut say = |what: String| told.push(format!("piece {}{}: {what}", piece.number, called(piece)));
        piece.remarks.iter().for_each(|remark| say(remark.to_string()));
        if piece.names.is_empty() {
            say(format!("it has no name, and is called `Piece {}`", piece.number));
        }
        let has_fold = piece.drawn.iter().any(|drawn| drawn.fold.is_some());
        if piece.cuts.is_empty() && !piece.remarks.contains(&Remark::NotSure) {
            say("nothing says how many are cut, and from what".to_owned());
        }
        if piece.cuts.iter().any(|cut| cut.from.is_none()) {
            say("its words name no cloth, so it is cut from `main`".to_owned());
        }
        if has_fold && !piece.cuts.is_empty() && !piece.cuts.iter().any(|cut| cut.on_fold) {
            say("a side is marked as a fold, so it is cut on the fold, of which its words say nothing".to_owned());
        }
        if piece.drawn.iter().any(|drawn| matches!(drawn.kind, LineKind::Unsaid)) {
            say("nothing tells whether its outline is its cutting line or its seam line".to_owned());
        }
        let off = piece.drawn.iter().map(|drawn| drawn.off).fold(0.0, f64::max);
        if off > 0.0 {
            say(format!("its short lines became curves that stray at most {off:.2} mm from them"));
        }
    }
    told
}
