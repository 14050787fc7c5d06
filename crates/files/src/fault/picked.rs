//! What can be wrong with a drawing, or with a piece that is picked from it.

use ellwand_trace::{GradeFault, GradeTableFault};
use ellwand_vector::ReadFault;

use super::{
    file::FileFault,
    words::{list, suggest_among},
};

/// What is wrong with a drawing that a pattern names, or with what is picked from it.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum PickedFault {
    /// Picked from nothing.
    #[error("`{piece}` is picked from a drawing, and the pattern names none")]
    NoDrawing {
        /// The piece.
        piece: String,
    },
    /// The file of the drawing.
    #[error("the drawing `{path}` cannot be opened: {reason}")]
    File {
        /// As written.
        path: String,
        /// Why.
        reason: FileFault,
    },
    /// A drawing that lies elsewhere.
    #[error("the drawing `{path}` lies outside the folder of the pattern")]
    Elsewhere {
        /// As written.
        path: String,
    },
    /// A drawing that cannot be read.
    #[error("the drawing `{path}`: {reason}")]
    Unread {
        /// As written.
        path: String,
        /// Why.
        reason: ReadFault,
    },
    /// The file of a table of grade rules.
    #[error("the table of grade rules `{path}` cannot be opened: {reason}")]
    GradesFile {
        /// As written.
        path: String,
        /// Why.
        reason: FileFault,
    },
    /// A table of grade rules that cannot be read.
    #[error("the table of grade rules `{path}`, {reason}")]
    Table {
        /// As written.
        path: String,
        /// Where and why.
        reason: GradeTableFault,
    },
    /// A table of grade rules of another drawing.
    #[error("the table of grade rules `{path}` does not fit the drawing: {reason}")]
    Grades {
        /// As written.
        path: String,
        /// Why.
        reason: GradeFault,
    },
    /// A drawing of no known size.
    #[error("{what}")]
    Scale {
        /// What is wrong.
        what: String,
        /// What would be right.
        remedy: &'static str,
    },
    /// Pages that do not belong together as is said, or in no way that is known.
    #[error("{what}")]
    Pages {
        /// What is wrong.
        what: String,
        /// What would be right.
        remedy: &'static str,
    },
    /// No such piece.
    #[error("the drawing has no piece `{asked}`")]
    NoSuchPiece {
        /// As asked.
        asked: String,
        /// Every piece.
        known: Vec<String>,
    },
    /// Several of that name.
    #[error("the drawing calls {count} pieces `{asked}`")]
    SeveralPieces {
        /// As asked.
        asked: String,
        /// How many.
        count: usize,
        /// A point in each.
        points: Vec<String>,
    },
    /// Not drawn in some size.
    #[error("`{piece}` is not drawn in {}", list(.missing, "and"))]
    NotInSize {
        /// The piece.
        piece: String,
        /// The sizes without it.
        missing: Vec<String>,
        /// Sizes the drawing has.
        known: Vec<String>,
    },
    /// Cutting line or seam line.
    #[error("nothing in the drawing tells whether the outline of `{piece}` is its cutting line or its seam line")]
    WhichLine {
        /// The piece.
        piece: String,
    },
    /// One size has both lines, another has one.
    #[error("`{piece}` has a seam line in some sizes and none in others, or lines of other kinds")]
    LinesDiffer {
        /// The piece.
        piece: String,
    },
    /// A name of no layer.
    #[error("the drawing has no layer, group or id called `{found}`")]
    NoSuchLayer {
        /// As written.
        found: String,
        /// Those it has.
        known: Vec<String>,
    },
    /// A seam line that is said to include its allowance.
    #[error("the outline of `{piece}` is its seam line, so its allowance cannot be included")]
    SeamLine {
        /// The piece.
        piece: String,
    },
    /// No grainline.
    #[error("no grainline was found on `{piece}`")]
    NoGrainline {
        /// The piece.
        piece: String,
    },
    /// A side that is not there.
    #[error("`{piece}` has {count} sides, and none with the number {number}")]
    NoSuchSide {
        /// The piece.
        piece: String,
        /// As written.
        number: u64,
        /// How many there are.
        count: usize,
    },
    /// A side named twice.
    #[error("side {number} of `{piece}` has two names")]
    SideTwice {
        /// The piece.
        piece: String,
        /// Its number.
        number: u64,
    },
    /// A name of no side.
    #[error("`{piece}` has no side called `{found}`")]
    UnknownSide {
        /// The piece.
        piece: String,
        /// As written.
        found: String,
        /// Every name.
        known: Vec<String>,
    },
    /// Which side is on the fold is only a guess.
    #[error("the words on `{piece}` say that it is cut on the fold, and nothing marks the side")]
    WhichFold {
        /// The piece.
        piece: String,
        /// The likeliest, by name.
        likely: Option<String>,
    },
    /// Which way a dart is pressed.
    #[error("nothing tells which way the dart `{dart}` of `{piece}` is pressed")]
    WhichWay {
        /// The piece.
        piece: String,
        /// The dart.
        dart: String,
    },
    /// A dart that is not there.
    #[error("`{piece}` has no dart called `{found}`")]
    UnknownDart {
        /// The piece.
        piece: String,
        /// As written.
        found: String,
        /// Every dart.
        known: Vec<String>,
    },
    /// Keys of a picked piece on one that is not picked.
    #[error("`{key}` is for a piece that is picked from a drawing, and `{piece}` is not")]
    NotPicked {
        /// The piece.
        piece: String,
        /// The key.
        key: &'static str,
    },
    /// A picked piece that is drawn as well.
    #[error("`{piece}` is picked from a drawing, and has `{key}` as well")]
    DrawnToo {
        /// The piece.
        piece: String,
        /// The key.
        key: &'static str,
    },
    /// A size of the drawing that is not there.
    #[error("the drawing has no size `{asked}`")]
    NoSuchSize {
        /// As written.
        asked: String,
        /// Every size.
        known: Vec<String>,
    },
}

impl PickedFault {
    /// What would be right.
    pub fn help(&self) -> String {
        match self {
            Self::NoDrawing { .. } => "name the file above the pieces, such as drawing = \"apron.pdf\"".into(),
            Self::File { .. } => "give the path from the folder of this pattern".into(),
            Self::Elsewhere { .. } => "copy it beside the pattern, and name the copy".into(),
            Self::GradesFile { .. } => "give the path from the folder of this pattern".into(),
            Self::Grades { .. } => "name the table that was written with this drawing".into(),
            Self::Table { .. } | Self::Unread { .. } => "the file named here is the one to mend".into(),
            Self::Scale { remedy, .. } | Self::Pages { remedy, .. } => (*remedy).into(),
            Self::NoSuchPiece { asked, known } => suggest_among(asked, known),
            Self::SeveralPieces { points, .. } => {
                format!("pick the one that is meant by a point in it: {}", list(points, "or"))
            }
            Self::NotInSize { known, .. } if known.is_empty() => "the drawing tells no sizes apart".into(),
            Self::NotInSize { known, .. } => format!(
                "the drawing has {}; `sizes` of the drawing says how it calls each size, such as sizes = {{ \"38\" = \"{}\" }}",
                list(known, "and"),
                known[0]
            ),
            Self::WhichLine { .. } => {
                "write seam_allowance = \"15 mm\" for a seam line, seam_allowance = \"15 mm included\" for a cutting line".into()
            }
            Self::LinesDiffer { .. } => {
                "say with `layers` of the drawing which lines are seam lines and which cutting lines, or mend the drawing".into()
            }
            Self::NoSuchLayer { found, known } => suggest_among(found, known),
            Self::SeamLine { .. } => "write how much is added to it, such as seam_allowance = \"15 mm\"".into(),
            Self::NoGrainline { .. } => {
                "write its low and its high end, such as grainline = [[100, 50], [100, 500]]; the sheet of what was understood has a ruler".into()
            }
            Self::NoSuchSide { count, .. } => {
                format!("write one of 1 to {count}; the sheet of what was understood shows the numbers")
            }
            Self::SideTwice { .. } => "give each side one name".into(),
            Self::UnknownSide { known, .. } => format!("its sides are {}", list(known, "and")),
            Self::WhichFold { likely: Some(likely), .. } => format!("most likely fold_edge = \"{likely}\""),
            Self::WhichFold { likely: None, .. } => "name it, such as fold_edge = \"side 3\"".into(),
            Self::WhichWay { dart, .. } => {
                format!("write pressed = {{ \"{dart}\" = \"down\" }}, or \"up\", \"left\", \"right\"")
            }
            Self::UnknownDart { known, .. } if known.is_empty() => "remove the entry: the piece has no dart".into(),
            Self::UnknownDart { known, .. } => format!("its darts are {}", list(known, "and")),
            Self::NotPicked { key, .. } => format!("remove `{key}`, or add `pick`"),
            Self::DrawnToo { key, .. } => format!("remove `{key}`, or `pick`"),
            Self::NoSuchSize { known, .. } if known.is_empty() => "the drawing tells no sizes apart".into(),
            Self::NoSuchSize { known, .. } => format!("its sizes are {}", list(known, "and")),
        }
    }
}
