//! What a pattern declares about itself: which pieces go round the body at which level, what is measured along which seams, and what a maker
//! may choose.

/// A finished girth.
#[derive(Debug, Clone, PartialEq)]
pub struct Girth {
    /// The level, which is also the measure of the body that it goes round: "bust", "waist" or "hip".
    pub level: &'static str,
    /// The pieces that go round.
    pub parts: Vec<GirthPart>,
    /// What is not worn there, such as pleats, mm in all.
    pub less: f64,
}

/// A piece that goes round the body.
#[derive(Debug, Clone, PartialEq)]
pub struct GirthPart {
    /// The piece.
    pub piece: &'static str,
    /// How often its drawing goes round.
    pub times: u32,
    /// A point from whose upright line on the width counts.
    pub from: Option<&'static str>,
}

impl Girth {
    /// Twice each of `pieces`, left and right, at each of `levels`.
    pub(crate) fn all_round<const L: usize>(levels: [&'static str; L], pieces: &[&'static str]) -> Vec<Self> {
        let parts = pieces.iter().map(|piece| GirthPart { piece, times: 2, from: None });
        let parts: Vec<GirthPart> = parts.collect();
        levels.map(|level| Self { level, parts: parts.clone(), less: 0.0 }).into()
    }

    /// Counts `piece` from the upright line through `point` on.
    pub(crate) fn from(mut self, piece: &str, point: &'static str) -> Self {
        for part in self.parts.iter_mut().filter(|part| part.piece == piece) {
            part.from = Some(point);
        }
        self
    }

    pub(crate) fn less(mut self, mm: f64) -> Self {
        self.less = mm;
        self
    }
}

/// A length along seams that a maker compares with the body or wants to know.
#[derive(Debug, Clone, PartialEq)]
pub struct DeclaredLength {
    /// What it is called.
    pub name: &'static str,
    /// Piece, seam, and how often it counts.
    pub along: Vec<(&'static str, &'static str, u32)>,
}

impl DeclaredLength {
    pub(crate) fn new<const N: usize>(name: &'static str, along: [(&'static str, &'static str, u32); N]) -> Self {
        Self { name, along: along.into() }
    }
}

/// Pieces of which a maker takes one group or another.
#[derive(Debug, Clone, PartialEq)]
pub struct Choice {
    /// What is chosen.
    pub name: &'static str,
    /// The groups by name, the usual one first.
    pub groups: Vec<(&'static str, Vec<&'static str>)>,
}
