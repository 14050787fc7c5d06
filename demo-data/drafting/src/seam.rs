//! What is sewn to what in a draft, and which marks meet: what a maker needs to match a plaid.

/// A seam of a draft.
#[derive(Debug, Clone, PartialEq)]
pub struct Seam {
    /// Its name, unique in the pattern.
    pub name: &'static str,
    /// Its kind, in the words of the pattern file.
    pub kind: &'static str,
    /// One side.
    pub a: SeamSide,
    /// The other; none where a piece meets its other copy, or itself on the fold.
    pub b: Option<SeamSide>,
}

/// One side of a seam.
#[derive(Debug, Clone, PartialEq)]
pub struct SeamSide {
    /// The piece.
    pub piece: String,
    /// The seams of its outline that are sewn here.
    pub seams: Vec<&'static str>,
    /// Points or notches that meet those of the other side, place by place.
    pub meets: Vec<&'static str>,
    /// Points of a line that is centred on a design.
    pub centre: Vec<&'static str>,
}

impl Seam {
    pub(crate) fn new(name: &'static str, kind: &'static str, a: SeamSide) -> Self {
        Self { name, kind, a, b: None }
    }

    pub(crate) fn sewn_to(mut self, b: SeamSide) -> Self {
        self.b = Some(b);
        self
    }

    /// Both sides, or the one.
    pub fn sides(&self) -> impl Iterator<Item = &SeamSide> {
        std::iter::once(&self.a).chain(&self.b)
    }
}

impl SeamSide {
    /// The piece is sewn along `seams`, none when it is sewn onto the other, and meets it at `meets`.
    pub(crate) fn of<const S: usize, const M: usize>(
        piece: impl Into<String>,
        seams: [&'static str; S],
        meets: [&'static str; M],
    ) -> Self {
        Self { piece: piece.into(), seams: seams.to_vec(), meets: meets.to_vec(), centre: Vec::new() }
    }

    pub(crate) fn centred(mut self, low: &'static str, high: &'static str) -> Self {
        self.centre = vec![low, high];
        self
    }
}
