//! Sizes of an interchange drawing that is drawn in one of them: a table of grade rules tells how far each of its points moves.
//!
//! [`GradeTable`] is the table as a file has it; [`graded`] draws every piece of a drawing once for each size of the table.

mod moved;
mod shares;
mod table;

use ellwand_geometry::Point;

pub use moved::graded;
pub use table::{GradeTable, GradeTableFault, TableFault};

/// Why a table of grade rules does not fit a drawing.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum GradeFault {
    /// A point has a rule that is not in the table.
    #[error("the drawing has a point with rule {rule} at ({:.1}, {:.1}){}, and the table has {known}", at.x, at.y, on(.piece))]
    NoSuchRule {
        /// Its number.
        rule: u32,
        /// Where it stands, in the unit of the drawing as it was read.
        at: Point,
        /// The block.
        piece: Option<String>,
        /// What the table has: "rules 1 to 7".
        known: String,
    },
    /// The number of a rule stands on no point.
    #[error("the number of rule {rule} stands at ({:.1}, {:.1}){}, where the drawing has no point", at.x, at.y, on(.piece))]
    NoPoint {
        /// Its number.
        rule: u32,
        /// Where it stands.
        at: Point,
        /// The block.
        piece: Option<String>,
    },
    /// No point has a rule.
    #[error("no point of the drawing has the number of a rule: texts such as `# 1` at its points")]
    NoRules,
    /// Table and drawing count in different units.
    #[error("the unit of the table is {table} mm long, that of the drawing {drawing} mm")]
    Units {
        /// By the table, mm.
        table: f64,
        /// By the drawing, mm.
        drawing: f64,
    },
    /// The drawing is drawn in another size than the table counts from.
    #[error("the drawing says that its sample size is {drawing}, and the table counts from {table}")]
    SampleSize {
        /// By the table.
        table: String,
        /// By the drawing.
        drawing: String,
    },
    /// So many points in so many sizes are more than a pattern has.
    #[error("the pieces have {points} points in all sizes together; at most {most} are read")]
    TooLarge {
        /// How many.
        points: usize,
        /// At most.
        most: usize,
    },
}

fn on(piece: &Option<String>) -> String {
    piece.as_ref().map(|piece| format!(" of `{piece}`")).unwrap_or_default()
}
