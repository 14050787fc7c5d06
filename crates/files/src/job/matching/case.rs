//! One cloth with a design, what is cut from it, and what is to match there.

use std::ops::Range;

use ellwand_garment::{Design, Fabric, Match, MatchFault, Pattern, Piece, PiecePoint, View};

use crate::{
    document::{At, Name},
    fault::DesignFault,
    findings::Findings,
    nearest::nearest,
};

/// A match, and where the job asks for it, if it does so by name.
pub(super) struct Wanted {
    pub(super) wanted: Match,
    pub(super) place: Option<Range<usize>>,
    /// Why no layout can keep it, where that is known of itself alone.
    pub(super) fault: Option<MatchFault>,
}

impl Wanted {
    /// A match that may be kept.
    pub(super) fn new(wanted: Match, place: Option<Range<usize>>) -> Self {
        Self { wanted, place, fault: None }
    }
}

/// One cloth with a design, and the pattern cut from it.
pub(super) struct Case<'a> {
    pub(super) pattern: &'a Pattern,
    pub(super) view: &'a View,
    pub(super) fabric: &'a Fabric,
    pub(super) design: &'a Design,
}

impl<'a> Case<'a> {
    /// Whether a piece of this name is cut from this cloth.
    pub(super) fn cuts(&self, piece: &str) -> bool {
        let cut = |piece: &Piece| piece.cuts.iter().any(|rule| rule.role == self.fabric.role);
        self.view.pieces.iter().any(|name| name == piece) && self.pattern.piece(piece).is_some_and(cut)
    }

    /// The piece a job names, which must be cut from this cloth.
    pub(super) fn piece(&self, name: &At<Name>, findings: &mut Findings) -> Option<&'a Piece> {
        let Some(piece) = self.pattern.piece(&name.value.0) else {
            let known = self.pattern.pieces.iter().map(|piece| piece.name.as_str());
            findings.add(&name.span, unknown("piece", &name.value.0, known));
            return None;
        };
        if !self.cuts(&piece.name) {
            findings.add(&name.span, self.not_cut_here(&piece.name));
            return None;
        }
        Some(piece)
    }

    pub(super) fn not_cut_here(&self, piece: &str) -> DesignFault {
        let (piece, view, role) = (piece.to_owned(), self.view.name.clone(), self.fabric.role.clone());
        DesignFault::NotCutHere { piece, view, role }
    }

    /// The point a job names.
    pub(super) fn point(&self, piece: &At<Name>, point: &At<Name>, findings: &mut Findings) -> Option<PiecePoint> {
        let piece = self.piece(piece, findings)?;
        if !piece.points.contains_key(&point.value.0) {
            let of = format!("the piece `{}`", piece.name);
            findings
                .add(&point.span, unknown_mark(of, "point", &point.value.0, piece.points.keys().map(String::as_str)));
            return None;
        }
        Some(PiecePoint { piece: piece.name.clone(), point: point.value.0.clone() })
    }
}

/// A name that is none of `known`.
pub(super) fn unknown<'k>(what: &'static str, name: &str, known: impl Iterator<Item = &'k str> + Clone) -> DesignFault {
    DesignFault::Unknown {
        what,
        name: name.to_owned(),
        meant: nearest(name, known.clone()).map(str::to_owned),
        known: known.map(str::to_owned).collect(),
    }
}

/// A name that is none of `known`, which belong to something.
pub(super) fn unknown_mark<'k>(
    of: String,
    what: &'static str,
    name: &str,
    known: impl Iterator<Item = &'k str> + Clone,
) -> DesignFault {
    DesignFault::UnknownMark {
        of,
        what,
        name: name.to_owned(),
        meant: nearest(name, known.clone()).map(str::to_owned),
        known: known.map(str::to_owned).collect(),
    }
}
