//! What is sewn to what in a draft, and which marks meet: what a maker needs to match a plaid.

/// A seam of a draft.
#[derive(Debug, Clone, PartialEq)]
pub struct Seam {
    /// Its name, unique in the pattern.
    pub name: String,
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
    /// The lower and the upper point of the line about which it turns outward.
    pub roll: Vec<&'static str>,
    /// How much longer this side is between its marks than the other, mm, by the key of the pattern file: ease, pleats, gathers, overlap.
    pub taken_up: Vec<(&'static str, f64)>,
}

impl Seam {
    pub(crate) fn new(name: impl Into<String>, kind: &'static str, a: SeamSide) -> Self {
        Self { name: name.into(), kind, a, b: None }
    }

    /// A seam at which no design is matched.
    pub(crate) fn plain(name: impl Into<String>, a: SeamSide, b: SeamSide) -> Self {
        Self::new(name, "other", a).sewn_to(b)
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
        Self {
            piece: piece.into(),
            seams: seams.to_vec(),
            meets: meets.to_vec(),
            centre: Vec::new(),
            roll: Vec::new(),
            taken_up: Vec::new(),
        }
    }

    /// The piece is sewn along one seam.
    pub(crate) fn along(piece: impl Into<String>, seam: &'static str, meets: &[&'static str]) -> Self {
        Self { meets: meets.to_vec(), ..Self::of(piece, [seam], []) }
    }

    pub(crate) fn centred(mut self, low: &'static str, high: &'static str) -> Self {
        self.centre = vec![low, high];
        self
    }

    /// It turns outward about the line through these points.
    pub(crate) fn rolled(mut self, low: &'static str, high: &'static str) -> Self {
        self.roll = vec![low, high];
        self
    }

    pub(crate) fn eased(self, mm: f64) -> Self {
        self.taking_up("ease", mm)
    }

    pub(crate) fn pleated(self, mm: f64) -> Self {
        self.taking_up("pleats", mm)
    }

    pub(crate) fn gathered(self, mm: f64) -> Self {
        self.taking_up("gathers", mm)
    }

    pub(crate) fn overlapping(self, mm: f64) -> Self {
        self.taking_up("overlap", mm)
    }

    fn taking_up(mut self, how: &'static str, mm: f64) -> Self {
        self.taken_up.push((how, mm));
        self
    }
}
