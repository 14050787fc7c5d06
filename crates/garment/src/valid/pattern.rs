//! The rules for a pattern: its pieces together, its views, its seams.

use super::{InputFault, Part, piece_faults, seam::seam_faults};
use crate::{Pattern, View};

/// Everything wrong with a pattern by itself.
pub(crate) fn pattern_faults(pattern: &Pattern) -> Vec<InputFault> {
    let names: Vec<&str> = pattern.pieces.iter().map(|piece| piece.name.as_str()).collect();
    let of_pieces = pattern.pieces.iter().flat_map(piece_faults);
    of_pieces.chain(faults_beside_pieces(pattern, &names)).collect()
}

/// Everything wrong with a pattern, each piece by itself aside. `names` are those of its pieces, the ones that are at fault and so not
/// in `pattern` among them.
pub(crate) fn faults_beside_pieces(pattern: &Pattern, names: &[&str]) -> Vec<InputFault> {
    let mut faults = Vec::new();
    if names.is_empty() {
        faults.push(InputFault::NoPieces);
    }
    if pattern.name.trim().is_empty() {
        faults.push(InputFault::NoName { what: Part::Pattern });
    }
    faults.extend(named_alike(Part::Piece, names));
    faults.extend(view_faults(&pattern.views, names));
    faults.extend(named_alike(Part::Seam, &pattern.seams.iter().map(|seam| seam.name.as_str()).collect::<Vec<_>>()));
    faults.extend(pattern.seams.iter().flat_map(|seam| seam_faults(pattern, names, seam)));
    faults
}

/// What is wrong with the views of a pattern that has pieces of these names.
fn view_faults(views: &[View], pieces: &[&str]) -> Vec<InputFault> {
    let mut faults = Vec::new();
    if views.is_empty() {
        faults.push(InputFault::NoViews);
    }
    faults.extend(named_alike(Part::View, &views.iter().map(|view| view.name.as_str()).collect::<Vec<_>>()));
    for view in views {
        let name = || view.name.clone();
        if view.name.trim().is_empty() {
            faults.push(InputFault::NoName { what: Part::View });
        }
        for (index, piece) in view.pieces.iter().enumerate() {
            if view.pieces[..index].contains(piece) {
                faults.push(InputFault::PieceTwice { view: name(), piece: piece.clone() });
            } else if !pieces.contains(&piece.as_str()) {
                faults.push(InputFault::ViewWithoutPiece { view: name(), piece: piece.clone() });
            }
        }
    }
    faults
}

/// A view that has no piece. Only the one to be made matters: the choices of a job may leave another without.
pub(crate) fn empty_view_fault(view: &View) -> Option<InputFault> {
    view.pieces.is_empty().then(|| InputFault::EmptyView { view: view.name.clone() })
}

/// Each name that is given more than once, told once; those without a name are told elsewhere.
pub(crate) fn named_alike(what: Part, names: &[&str]) -> Vec<InputFault> {
    let mut told: Vec<&str> = Vec::new();
    for (index, name) in names.iter().enumerate() {
        if names[..index].contains(name) && !told.contains(name) && !name.trim().is_empty() {
            told.push(name);
        }
    }
    told.into_iter().map(|name| InputFault::SameName { what, name: name.to_owned() }).collect()
}
