//! A drafted pattern, in one size or in all of them.

use crate::{Choice, DeclaredLength, Girth, Piece, Seam, Size};

/// A drafted pattern.
#[derive(Debug, Clone, PartialEq)]
pub struct Pattern {
    /// Its name.
    pub name: &'static str,
    /// What kind of garment it is: "dress", "skirt" or "jacket".
    pub kind: &'static str,
    /// What its size is chosen by: "bust" or "hip or waist".
    pub choose_by: &'static str,
    /// The cloth each role asks for.
    pub roles: Vec<(&'static str, &'static str)>,
    /// Its views: name, title, names of the pieces.
    pub views: Vec<(&'static str, &'static str, Vec<&'static str>)>,
    /// Its pieces.
    pub pieces: Vec<Piece>,
    /// Pieces of which a maker takes one group or another.
    pub choices: Vec<Choice>,
    /// What is sewn to what.
    pub seams: Vec<Seam>,
    /// Its finished girths.
    pub girths: Vec<Girth>,
    /// Its finished lengths.
    pub lengths: Vec<DeclaredLength>,
}

/// A pattern drafted for every size of its garment.
#[derive(Debug, Clone, PartialEq)]
pub struct GradedPattern {
    /// Every size with its draft, in the order of the file; at least one.
    pub sizes: Vec<(Size, Pattern)>,
}

/// A piece whose seam line crosses itself: the body is outside what the draft can serve.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("{piece}: the drafted seam line is not a sound outline for this body: {fault}")]
pub struct DraftFault {
    /// The piece.
    pub piece: String,
    /// What is wrong with it.
    pub fault: ellwand_geometry::OutlineFault,
}

impl Pattern {
    /// The piece called `name`.
    pub fn piece(&self, name: &str) -> Option<&Piece> {
        self.pieces.iter().find(|p| p.name == name)
    }

    /// Roughly the area of all that `view` cuts from `role`, mm², and the number of cuts.
    pub fn cut_area(&self, view: &str, role: &str) -> (f64, u32) {
        let names = self.views.iter().find(|v| v.0 == view).map_or(&[][..], |v| &v.2);
        let mut total = (0.0, 0);
        for piece in names.iter().filter_map(|name| self.piece(name)) {
            for cut in piece.cuts.iter().filter(|c| c.role == role) {
                total.0 += piece.cut_area() * f64::from(cut.count);
                total.1 += cut.count;
            }
        }
        total
    }

    /// Checks that every seam line is a simple outline.
    ///
    /// # Errors
    ///
    /// Every fault of every piece.
    pub fn check(&self) -> Result<(), Vec<DraftFault>> {
        let mut faults = Vec::new();
        for piece in &self.pieces {
            let points = piece.chords().iter().map(|p| ellwand_geometry::point(p.x, p.y)).collect();
            if let Err(found) = ellwand_geometry::Outline::new(points) {
                faults.extend(found.into_iter().map(|fault| DraftFault { piece: piece.name.clone(), fault }));
            }
        }
        if faults.is_empty() { Ok(()) } else { Err(faults) }
    }
}
