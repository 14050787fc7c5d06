//! Keys of one way to draw a piece beside those of another.

use std::ops::Range;

use super::{format::PieceEntry, outline::PieceFrame};
use crate::{document::At, fault::PatternFault, findings::Findings};

/// Notes keys of one way to draw a piece beside those of another.
pub(super) fn note(entry: &PieceEntry, frame: &PieceFrame<'_>, findings: &mut Findings) {
    fn span<T>(at: &Option<At<T>>) -> Option<&Range<usize>> {
        at.as_ref().map(|at| &at.span)
    }
    let of_drawing = &entry.drawing;
    let outline = [span(&of_drawing.start), span(&of_drawing.edges)];
    let marks = [
        span(&of_drawing.grainline),
        span(&of_drawing.notches),
        span(&of_drawing.points),
        span(&of_drawing.darts),
        span(&of_drawing.levels),
        span(&of_drawing.lines),
    ];
    let mut note = |span: Option<&Range<usize>>, problem: &'static str| {
        if let Some(span) = span {
            findings.add(span, PatternFault::MixedDrawing { piece: frame.name.to_owned(), problem });
        }
    };
    if entry.shape.is_some() {
        outline.into_iter().for_each(|span| note(span, "has a measured `shape` and an outline as well"));
        note(span(&entry.drawn), "has a measured `shape`, and is drawn in its sizes as well");
        return;
    }
    if entry.drawn.is_some() {
        let problem = "is drawn in its sizes, and has keys of a drawing beside them";
        note(outline.into_iter().chain(marks).flatten().next(), problem);
    }
    note(span(&entry.grain_along), "is drawn, and has `grain_along`, which is for a measured shape");
    note(span(&entry.fold_edge), "is drawn, and has `fold_edge`, which is for a measured shape");
    note(span(&entry.allowances), "is drawn, and has `allowances`, which is for a measured shape");
}
