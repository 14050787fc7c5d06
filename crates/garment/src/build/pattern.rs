//! A pattern, step by step.

use super::PieceBuilder;
use crate::{
    InputFaults, Pattern, Seam, View,
    valid::{empty_view_fault, faults_beside_pieces},
};

/// A pattern being made.
#[derive(Debug, Clone)]
#[must_use]
pub struct PatternBuilder {
    pattern: Pattern,
    pieces: Vec<PieceBuilder>,
}

impl Pattern {
    /// Begins a pattern called `name`. It needs at least one piece.
    pub fn named(name: impl Into<String>) -> PatternBuilder {
        let pattern = Pattern {
            name: name.into(),
            size: "one size".to_owned(),
            pieces: Vec::new(),
            views: Vec::new(),
            seams: Vec::new(),
            garments: Vec::new(),
        };
        PatternBuilder { pattern, pieces: Vec::new() }
    }
}

impl PatternBuilder {
    /// The size the pieces are in; "one size" unless said.
    pub fn size(mut self, size: impl Into<String>) -> Self {
        self.pattern.size = size.into();
        self
    }

    /// One more piece.
    pub fn piece(mut self, piece: PieceBuilder) -> Self {
        self.pieces.push(piece);
        self
    }

    /// A version of the garment and the names of its pieces. Without any there is one, "A", of every piece.
    pub fn view(mut self, name: impl Into<String>, pieces: &[&str]) -> Self {
        let pieces = pieces.iter().map(|&piece| piece.to_owned()).collect();
        self.pattern.views.push(View { name: name.into(), title: String::new(), pieces });
        self
    }

    /// What is sewn to what, for matching and for drawings of the pieces as they are sewn.
    pub fn seam(mut self, seam: Seam) -> Self {
        self.pattern.seams.push(seam);
        self
    }

    /// The pattern.
    ///
    /// # Errors
    ///
    /// Every fault of the pattern and of all its pieces at once, piece by piece.
    pub fn build(self) -> Result<Pattern, InputFaults> {
        let Self { mut pattern, pieces } = self;
        let names: Vec<String> = pieces.iter().map(|piece| piece.name().to_owned()).collect();
        if pattern.views.is_empty() && !names.is_empty() {
            pattern.views.push(View { name: "A".to_owned(), title: String::new(), pieces: names.clone() });
        }
        let mut faults = Vec::new();
        for piece in pieces {
            match piece.finish() {
                Ok(piece) => pattern.pieces.push(piece),
                Err(of_piece) => faults.extend(of_piece),
            }
        }
        let names: Vec<&str> = names.iter().map(String::as_str).collect();
        faults.extend(faults_beside_pieces(&pattern, &names));
        faults.extend(pattern.views.iter().filter_map(empty_view_fault));
        InputFaults::or(faults, pattern)
    }
}
