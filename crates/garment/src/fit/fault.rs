//! Why a body cannot be fitted as asked. What is known beside a name that is not is in the fault, for whoever tells it. Lengths are mm, told in the
//! units of the request.

use crate::{Units, format_length};

/// What is wrong with a request or with the sizes of a pattern.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum FitFault {
    /// The pattern has no sizes of this figure type.
    #[error("the pattern has no sizes of this figure type")]
    NoSizes,
    /// A figure type the pattern does not have.
    #[error("the pattern has no figure type \"{figure}\"")]
    UnknownFigure {
        /// As asked.
        figure: String,
        /// Every figure type.
        known: Vec<String>,
    },
    /// A size the pattern does not have in this figure type.
    #[error("the pattern has no size \"{size}\"{}", of_figure(figure))]
    UnknownSize {
        /// As asked.
        size: String,
        /// The figure type.
        figure: String,
        /// Its sizes.
        known: Vec<String>,
    },
    /// A size of another figure type.
    #[error(
        "size \"{size}\" is of the figure type \"{of}\" and cannot be blended with \"{figure}\": bodies of different types differ in length too"
    )]
    OtherFigure {
        /// The size.
        size: String,
        /// Its figure type.
        of: String,
        /// The one asked for.
        figure: String,
    },
    /// A measure of the body that is needed.
    #[error("the size is chosen by the {measure}, and the body has no {measure}; add it to [body]")]
    BodyLacks {
        /// The measure.
        measure: String,
    },
    /// A measure that a size lacks.
    #[error("size \"{size}\" tells no {measure}, which the choice needs; add it to its body")]
    MissingMeasure {
        /// The size.
        size: String,
        /// The measure.
        measure: String,
    },
    /// To measure, and nothing says where the pieces go round the body.
    #[error("no girth is declared for the pieces that are made, so they cannot be made to measure")]
    NoGirths,
    /// A measure by which sizes cannot be told apart.
    #[error(
        "the sizes do not grow in the {measure}, so none can be found between them; let every size have more of it than the one before"
    )]
    DoesNotGrow {
        /// The measure.
        measure: String,
    },
    /// A level that no piece has.
    #[error("no piece has a level \"{level}\"")]
    UnknownLevel {
        /// As asked.
        level: String,
        /// Every level.
        known: Vec<String>,
    },
    /// Too far beyond the sizes.
    #[error(
        "at the level \"{level}\" the body lies {steps:.1} sizes beyond the {end} size; at most two are drawn by the grade"
    )]
    TooFar {
        /// The level.
        level: String,
        /// How many steps.
        steps: f64,
        /// "smallest" or "largest".
        end: &'static str,
    },
    /// Drafts that do not correspond.
    #[error(
        "\"{piece}\" is drawn with {first_count} edges in size \"{first}\" and with {second_count} in size \"{second}\", and their names do not tell which belong together; name every edge alike in both"
    )]
    NoCorrespondence {
        /// The piece.
        piece: String,
        /// A size.
        first: String,
        /// Its edges.
        first_count: usize,
        /// Another size.
        second: String,
        /// Its edges.
        second_count: usize,
    },
    /// A mark that one size has and another lacks.
    #[error("\"{piece}\" has the {what} \"{name}\" in some sizes and not in size \"{size}\"")]
    MarkMissing {
        /// The piece.
        piece: String,
        /// Point, notch, level or line.
        what: &'static str,
        /// Its name.
        name: String,
        /// The size without it.
        size: String,
    },
    /// A line that no piece, or not the piece named, has.
    #[error("{} line \"{line}\" to lengthen or shorten at", lacks(piece, "a"))]
    UnknownLine {
        /// The piece, when one was named.
        piece: Option<String>,
        /// As asked.
        line: String,
        /// The lines there are.
        known: Vec<String>,
    },
    /// Shortening takes more than lies between two lines.
    #[error(
        "\"{piece}\" cannot be shortened by {} at \"{line}\": {} lie between it and {next}, and some must be left",
        format_length(*by, *units), format_length(*room, *units)
    )]
    PastNextLine {
        /// The piece.
        piece: String,
        /// The line.
        line: String,
        /// By how much.
        by: f64,
        /// What there is.
        room: f64,
        /// What comes next below.
        next: String,
        /// Units of the request.
        units: Units,
    },
    /// A seam that is not there, or has no edges to move.
    #[error("there is no seam \"{seam}\" with edges to let out or take in")]
    UnknownSeam {
        /// As asked.
        seam: String,
        /// Seams with edges.
        known: Vec<String>,
    },
    /// A seam that runs across the body.
    #[error(
        "the seam \"{seam}\" runs across the body, and letting it out would not make the garment wider; name an upright seam, or lengthen at a line"
    )]
    LevelSeam {
        /// The seam.
        seam: String,
    },
    /// An edge that no piece has.
    #[error("{} edge \"{edge}\"", lacks(piece, "an"))]
    UnknownEdge {
        /// The piece, when one was named.
        piece: Option<String>,
        /// As asked.
        edge: String,
        /// The edges there are.
        known: Vec<String>,
    },
    /// An allowance for a fold.
    #[error("the edge \"{edge}\" of \"{piece}\" lies on the fold, which is not sewn and takes no allowance")]
    FoldAllowance {
        /// The piece.
        piece: String,
        /// The edge.
        edge: String,
    },
    /// A piece that is not in the pattern.
    #[error("the pattern has no piece \"{piece}\"")]
    UnknownPiece {
        /// As asked.
        piece: String,
        /// Every piece.
        known: Vec<String>,
    },
    /// An ease for a girth that the pattern does not declare.
    #[error("the pattern declares no girth \"{girth}\" of the pieces that are made")]
    UnknownGirth {
        /// As asked.
        girth: String,
        /// Every girth.
        known: Vec<String>,
    },
    /// An ease over a body that nobody knows.
    #[error("ease is counted from the body, and neither [body] nor the sizes of the pattern have its {measure}")]
    BodyLacksForEase {
        /// The measure.
        measure: String,
    },
    /// An ease other than the pattern's, and only one size to go by.
    #[error("the pattern is drawn in one size, so it has no grade by which the ease at the {girth} could change")]
    EaseOfOneSize {
        /// The girth.
        girth: String,
    },
    /// A girth of the garment that is the same in two sizes.
    #[error(
        "the garment has no more {girth} in one size than in the one before, so no size between them gives it other ease"
    )]
    GirthDoesNotGrow {
        /// The girth.
        girth: String,
    },
    /// Two wishes for one place.
    #[error("\"{}\" and \"{}\" lie at one level, \"{level}\", and are made wider or narrower together", girths[0], girths[1])]
    EaseTwice {
        /// The level.
        level: String,
        /// The girths.
        girths: [String; 2],
    },
    /// More or less ease than the grade carries.
    #[error(
        "{} of ease at the {girth} is beyond what the sizes of the pattern and two more at each end have, which is {} to {}",
        format_length(*ease, *units), format_length(*least, *units), format_length(*most, *units)
    )]
    EaseTooFar {
        /// The girth.
        girth: String,
        /// What was asked.
        ease: f64,
        /// The least there is.
        least: f64,
        /// The most there is.
        most: f64,
        /// Units of the request.
        units: Units,
    },
    /// The pieces cannot be made to measure what was asked.
    #[error(
        "the girth \"{girth}\" cannot be brought to {}: it came to {}",
        format_length(*wanted, *units), format_length(*found, *units)
    )]
    NoSuchGirth {
        /// The girth.
        girth: String,
        /// What was asked.
        wanted: f64,
        /// What was reached.
        found: f64,
        /// Units of the request.
        units: Units,
    },
}

fn of_figure(figure: &str) -> String {
    if figure.is_empty() { String::new() } else { format!(" of the figure type \"{figure}\"") }
}

/// "no piece has a", or "\"Front\" has no".
fn lacks(piece: &Option<String>, article: &str) -> String {
    piece.as_ref().map_or_else(|| format!("no piece has {article}"), |piece| format!("\"{piece}\" has no"))
}
