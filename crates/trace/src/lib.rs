//! Which strokes of a drawing are pieces, marks and sizes.
//!
//! A [`Drawing`](ellwand_vector::Drawing) holds lines and words; [`understand`] finds the pieces in it, in every size, with their grainlines,
//! notches, folds, darts and words. What names and looks do not tell is a guess, and every guess is told as a [`Remark`]; what is left
//! over is listed in [`Understood::ignored`]. [`Hints`] say what a drawing that follows no habit does not.

mod chain;
mod curve;
mod cut_in;
mod cutting;
mod fit;
mod found;
mod grades;
mod group;
mod label;
mod marks;
mod outlines;
mod piece;
mod plane;
mod shared_edge;
mod sides;
mod squares;
mod tiles;
mod understand;
mod words;

use std::fmt;

pub use found::{FoundPiece, FoundSize, Ignored, LineKind, Remark, Traced, Understood};
pub use grades::{GradeFault, GradeTable, GradeTableFault, TableFault, graded};
pub use marks::FoundDart;
pub use plane::SheetPlace;
pub use sides::Side;
pub use squares::TestSquare;
pub use tiles::{FoundTiles, TileGrid, TileOrder, TileStart, Tiles};
pub use understand::understand;
pub use words::{CutWords, Role, SizeName};

/// What is said of a drawing besides what it shows.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Hints {
    /// What strokes are, by the name of their layer, group or id.
    pub roles: Vec<(String, Role)>,
    /// How large it is.
    pub scale: Scale,
    /// How long its unit is, mm, whatever the file says.
    pub unit: Option<f64>,
    /// How its pages belong together.
    pub tiles: Tiles,
    /// What becomes of small dips and bumps in outlines that have the shape of notches.
    pub cut_notches: CutNotches,
}

/// What becomes of small dips and bumps in outlines that have the shape of notches: a V, a U or a slit, in or out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum CutNotches {
    /// They are taken out of the outline, and each is a notch there.
    #[default]
    TakenOut,
    /// They stay in the outline.
    AsDrawn,
}

/// How large a drawing is.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum Scale {
    /// As the file says.
    #[default]
    AsDrawn,
    /// As its test square says.
    BySquare,
    /// So many times as large as the file says.
    Times(f64),
}

impl fmt::Display for outlines::Look {
    /// "red, dashed, 0.35 mm wide".
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.colour {
            Some(colour) => write!(f, "{}", named_colour(colour.0))?,
            None => f.write_str("no colour")?,
        }
        f.write_str(if self.dash.is_empty() { ", solid" } else { ", dashed" })?;
        if !self.dash.is_empty() {
            let lengths: Vec<String> = self.dash.iter().map(|length| format!("{}", *length as f64 / 10.0)).collect();
            write!(f, " {}", lengths.join(" "))?;
        }
        write!(f, ", {} mm wide", self.width as f64 / 100.0)
    }
}

/// The nearest of a few names, or the numbers.
fn named_colour([r, g, b]: [u8; 3]) -> String {
    const NAMED: [(&str, [u8; 3]); 9] = [
        ("black", [0, 0, 0]),
        ("white", [255, 255, 255]),
        ("grey", [128, 128, 128]),
        ("red", [255, 0, 0]),
        ("green", [0, 128, 0]),
        ("blue", [0, 0, 255]),
        ("yellow", [255, 255, 0]),
        ("magenta", [255, 0, 255]),
        ("cyan", [0, 255, 255]),
    ];
    let exact = NAMED.iter().find(|(_, of)| of.iter().zip([r, g, b]).all(|(a, b)| a.abs_diff(b) <= 2));
    exact.map_or_else(|| format!("#{r:02x}{g:02x}{b:02x}"), |(name, _)| (*name).to_owned())
}
