//! Faults of a piece that is like another.

use super::words::{list, suggest, suggest_among};

/// What is wrong with a piece that is like another.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("`{piece}` {what}")]
pub struct LikeFault {
    /// The piece.
    pub piece: String,
    /// What is wrong.
    pub what: LikeTrouble,
}

/// What can be wrong with a piece that is like another.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum LikeTrouble {
    /// No such piece.
    #[error("is like `{found}`, which is no piece of the pattern")]
    UnknownPiece {
        /// The piece named.
        found: String,
        /// The nearest piece.
        meant: Option<String>,
        /// All other pieces.
        known: Vec<String>,
    },
    /// Pieces that are like one another in a circle.
    #[error("is like itself{}", by_way_of(through))]
    Circle {
        /// The pieces that follow.
        through: Vec<String>,
    },
    /// A change without anything to change.
    #[error("has `{key}`, which changes a piece from another, and is like none")]
    LikeNone {
        /// The key.
        key: &'static str,
    },
    /// A change of edges on a measured piece.
    #[error("has `{key}`, which is for drawn edges, and is like a piece with a measured `shape`")]
    Measured {
        /// The key.
        key: &'static str,
    },
    /// A change of a drawing that the piece does not take over.
    #[error("has `{key}`, which changes the drawing of the other piece, and is drawn in each size itself")]
    DrawnAnew {
        /// The key.
        key: &'static str,
    },
    /// A move of what the piece places itself.
    #[error("moves `{name}`, for which it gives a place of its own")]
    MovedAndGiven {
        /// The notch or point.
        name: String,
    },
    /// No such edge, notch, point, dart …
    #[error("has no {what} `{name}`")]
    Unknown {
        /// What it is.
        what: &'static str,
        /// Its name.
        name: String,
        /// What there is.
        known: Vec<String>,
    },
    /// Two edges that do not meet.
    #[error("has no corner between `{first}` and `{second}`: these edges do not meet")]
    NoCorner {
        /// One edge.
        first: String,
        /// The other.
        second: String,
        /// The edges that the first one meets.
        beside: Vec<String>,
    },
    /// A corner not named by two edges.
    #[error("names a corner by {found} edges and not by the two that meet there")]
    NotTwoEdges {
        /// How many there are.
        found: usize,
    },
    /// Edges that are no run.
    #[error("has no run of edges {} one after the other", list(of, "and"))]
    NotARun {
        /// The edges named.
        of: Vec<String>,
        /// All edges, in the order of the outline.
        order: Vec<String>,
    },
    /// Nothing in the place of something.
    #[error("has an `instead` without edges")]
    NothingInstead,
    /// An edge that ends nowhere.
    #[error("has a new edge without `to` that is not the last of its run")]
    NoEnd,
    /// A move of nothing.
    #[error("has a `move` that names nothing to move")]
    MovesNothing,
    /// A size that is not there.
    #[error("moves something in size `{size}`, which the pattern does not have")]
    UnknownSize {
        /// The size.
        size: String,
        /// Every size.
        known: Vec<String>,
    },
    /// A move in some sizes of a piece that is drawn once.
    #[error("moves something in some sizes only, and is drawn once for all of them")]
    DrawnOnce,
    /// A half of a half.
    #[error("is drawn on the fold already, at `{edge}`")]
    OnFoldAlready {
        /// The edge on the fold.
        edge: String,
    },
    /// Copies that cannot be halved.
    #[error(
        "is joined to its mirror image, and `{like}` is not cut in pairs, so that it is not known how many are cut"
    )]
    HowMany {
        /// The piece it is like.
        like: String,
    },
}

/// ", by way of `Back`"; nothing for a piece that names itself.
fn by_way_of(through: &[String]) -> String {
    if through.is_empty() { String::new() } else { format!(", by way of {}", list(through, "and")) }
}

impl LikeFault {
    pub(super) fn help(&self) -> String {
        match &self.what {
            LikeTrouble::UnknownPiece { meant, known, .. } => suggest(meant, known),
            LikeTrouble::Circle { .. } => "draw one of them".into(),
            LikeTrouble::LikeNone { .. } => "add like = \"…\" with the name of another piece, or remove it".into(),
            LikeTrouble::Measured { key: "change" } => {
                "give other `allowances`, `corners` or `fold_edge` for the sides of the shape".into()
            }
            LikeTrouble::Measured { .. } => "give this piece a `shape` of its own, with other measures".into(),
            LikeTrouble::MovedAndGiven { .. } => "leave out one of the two".into(),
            LikeTrouble::DrawnAnew { .. } => "draw it as it is meant, or leave out the `drawn` of this piece".into(),
            LikeTrouble::Unknown { name, known, .. } => suggest_among(name, known),
            LikeTrouble::NoCorner { first, beside, .. } => format!("`{first}` meets {}", list(beside, "and")),
            LikeTrouble::NotTwoEdges { .. } => "write corners = [[\"side\", \"hem\"]]".into(),
            LikeTrouble::NotARun { order, .. } => {
                format!("name them as they follow one another: {}", list(order, "and"))
            }
            LikeTrouble::NothingInstead => "write at least one edge, or move the corners together".into(),
            LikeTrouble::NoEnd => "write where it ends: to = [x, y]".into(),
            LikeTrouble::MovesNothing => "add `edges`, `corners`, `points`, `darts` or `dart_points`".into(),
            LikeTrouble::UnknownSize { size, known } => super::words::suggest_size(size, known),
            LikeTrouble::DrawnOnce => "leave out `sizes` and `figure`, or draw the other piece in each size".into(),
            LikeTrouble::OnFoldAlready { .. } => "leave out `joined`: it is cut whole".into(),
            LikeTrouble::HowMany { .. } => "say so: cut = [{ from = \"main\", count = 1 }]".into(),
        }
    }
}
