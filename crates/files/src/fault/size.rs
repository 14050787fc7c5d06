//! Faults of what a pattern says about its sizes, and about what is measured and chosen in all of them.

use super::words::{list, suggest, suggest_among, suggest_size};

/// What is wrong with the sizes, levels, girths, lengths or options of a pattern.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum SizeFault {
    /// No size at all.
    #[error("the pattern has no size")]
    NoSizes,
    /// A size without a figure type among others that have one.
    #[error("the size `{size}` has no figure type, but other sizes have one")]
    SizeWithoutFigure {
        /// The size.
        size: String,
        /// Every figure type.
        known: Vec<String>,
    },
    /// A size that is smaller than the one before.
    #[error("the size `{size}` has a smaller {measure} than the size `{before}` before it")]
    SizesOutOfOrder {
        /// The size.
        size: String,
        /// The one before.
        before: String,
        /// The measure.
        measure: &'static str,
    },
    /// A body of the whole pattern beside those of its sizes.
    #[error("the pattern has a [body], but each of its sizes has a body of its own")]
    BodyBesideSizes,
    /// A piece drawn in a size that is not there.
    #[error("`{piece}` is drawn in size `{size}`, which the pattern does not have")]
    UnknownSize {
        /// The piece.
        piece: String,
        /// The size, with its figure type where one was named.
        size: String,
        /// The nearest size.
        meant: Option<String>,
        /// Every size.
        known: Vec<String>,
    },
    /// A piece drawn in a size that several figure types have.
    #[error("`{piece}` is drawn in size `{size}`, which several figure types have")]
    WhichFigure {
        /// The piece.
        piece: String,
        /// The size.
        size: String,
        /// The figure types that have it.
        figures: Vec<String>,
    },
    /// A piece that is not drawn in every size.
    #[error("`{piece}` is not drawn in size {}", list(missing, "or"))]
    SizeNotDrawn {
        /// The piece.
        piece: String,
        /// The sizes without a drawing.
        missing: Vec<String>,
    },
    /// Levels or lines on a piece whose drawing does not stand upright.
    #[error(
        "`{piece}` has levels or lines, but its grainline runs {degrees:.1} degrees off the upright of the drawing"
    )]
    LevelOffGrain {
        /// The piece.
        piece: String,
        /// The angle between them.
        degrees: f64,
    },
    /// A level or line that does not cross its piece.
    #[error("the {what} `{name}` does not cross `{piece}`, which is drawn from {low:.1} to {high:.1} {unit}")]
    HeightOutside {
        /// The piece.
        piece: String,
        /// Level or line.
        what: &'static str,
        /// Its name.
        name: String,
        /// Lowest point of the drawing, in its unit.
        low: f64,
        /// Highest point.
        high: f64,
        /// That unit.
        unit: &'static str,
    },
    /// Something that names what the pattern does not have.
    #[error("{of} names a {what} `{name}`, but there is none of that name")]
    UnknownPart {
        /// What names it: "the girth `hip`".
        of: String,
        /// Piece, level, choice …
        what: &'static str,
        /// The name as written.
        name: String,
        /// The nearest of the kind.
        meant: Option<String>,
        /// All of the kind.
        known: Vec<String>,
    },
    /// Something that names what one of its pieces does not have.
    #[error("the piece `{piece}` of {of} has no {what} `{name}`")]
    UnknownMark {
        /// What names it: "the girth `hip`".
        of: String,
        /// The piece.
        piece: String,
        /// Level, point or edge.
        what: &'static str,
        /// The name as written.
        name: String,
        /// The nearest of the kind.
        meant: Option<String>,
        /// All of the kind.
        known: Vec<String>,
    },
    /// A piece that goes by a measure of the body which nothing tells.
    #[error("{of} goes by the body's `{measure}`, which {} does not tell", whose(.size))]
    BodyWithout {
        /// What goes by it: "the circle skirt".
        of: String,
        /// The measure.
        measure: String,
        /// The size whose body it is; empty where there is one only.
        size: String,
        /// The nearest measure that it tells.
        meant: Option<String>,
    },
    /// Pieces that go by edges of each other.
    #[error("`{piece}` goes by edges of pieces that go by its own in the end, so none of them can be measured first")]
    MeasuredInACircle {
        /// The piece.
        piece: String,
    },
    /// A count of nothing where something is counted.
    #[error("{of} counts `{piece}` zero times")]
    NoTimes {
        /// The girth or length.
        of: String,
        /// The piece.
        piece: String,
    },
}

fn whose(size: &str) -> String {
    if size.is_empty() { "[body]".to_owned() } else { format!("the size `{size}`") }
}

impl SizeFault {
    pub(super) fn help(&self) -> String {
        match self {
            Self::NoSizes => "add a [[size]] with its name and its body".into(),
            Self::SizeWithoutFigure { known, .. } => format!("add `figure`, such as {}", list(known, "or")),
            Self::SizesOutOfOrder { .. } => "list the sizes from small to large".into(),
            Self::BodyBesideSizes => "move it into the [[size]] it belongs to".into(),
            Self::WhichFigure { figures, .. } => format!("add `figure`: {}", list(figures, "or")),
            Self::SizeNotDrawn { .. } => {
                "add a [[piece.drawn]] for it, or draw the piece once, without `drawn`, for all sizes".into()
            }
            Self::LevelOffGrain { .. } => "draw the piece with its grainline straight up, the low end first".into(),
            Self::HeightOutside { .. } => "give its height in the drawing, in the unit of `coordinates`".into(),
            Self::BodyWithout { meant: Some(meant), measure, .. } => {
                format!("did you mean `{meant}`? Or add {measure} = \"70 cm\" to it")
            }
            Self::BodyWithout { measure, size, .. } if size.is_empty() => {
                format!("add {measure} = \"70 cm\", or what it is, to [body] of the job or of the pattern")
            }
            Self::BodyWithout { measure, .. } => {
                format!(
                    "add {measure} = \"70 cm\", or what it is, to the `body` of that size, or to [body] of a job to measure"
                )
            }
            Self::MeasuredInACircle { .. } => "give one of them a length of its own".into(),
            Self::NoTimes { .. } => "write how often, 1 or more, or remove the entry".into(),
            Self::UnknownSize { size, known, .. } => suggest_size(size, known),
            Self::UnknownMark { name, known, .. } => suggest_among(name, known),
            Self::UnknownPart { meant, known, .. } => suggest(meant, known),
        }
    }
}
