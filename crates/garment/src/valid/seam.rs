//! The rules for a seam of a pattern.

use super::{InputFault, Part, PieceMark, Quantity};
use crate::{Pattern, Piece, Seam, SeamSide};

/// Everything wrong with a seam of a pattern that has pieces of these names.
pub(super) fn seam_faults(pattern: &Pattern, names: &[&str], seam: &Seam) -> Vec<InputFault> {
    let nameless = seam.name.trim().is_empty().then_some(InputFault::NoName { what: Part::Seam });
    let sides = std::iter::once(&seam.a).chain(&seam.b);
    nameless.into_iter().chain(sides.flat_map(|side| side_faults(pattern, names, seam, side))).collect()
}

fn side_faults(pattern: &Pattern, names: &[&str], seam: &Seam, side: &SeamSide) -> Vec<InputFault> {
    let without = |mark| InputFault::SeamWithout { seam: seam.name.clone(), piece: side.piece.clone(), mark };
    let mut faults: Vec<InputFault> = side
        .taken_up
        .iter()
        .filter_map(|(_, by)| Quantity::Ease.fault(&format!("seam \"{}\"", seam.name), *by))
        .collect();
    let Some(piece) = pattern.piece(&side.piece) else {
        // Of a piece that is at fault itself the marks are told when it is sound.
        faults.extend((!names.contains(&side.piece.as_str())).then(|| without(PieceMark::Whole)));
        return faults;
    };
    let points = side.meets.iter().chain(side.centre.iter().flatten()).chain(side.roll.iter().flatten());
    faults.extend(points.filter(|name| !has_mark(piece, name)).map(|name| without(PieceMark::Point(name.clone()))));
    let has_edge = |name: &String| piece.edges.iter().any(|edge| edge.name == *name);
    faults.extend(side.edges.iter().filter(|name| !has_edge(name)).map(|name| without(PieceMark::Edge(name.clone()))));
    faults
}

/// Whether a piece has a point, or a notch, of that name.
fn has_mark(piece: &Piece, name: &str) -> bool {
    piece.points.contains_key(name) || piece.notches.iter().any(|notch| notch.name == name)
}
