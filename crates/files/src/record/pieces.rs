//! The piece record, `ellwand-pieces-1`: the pieces after size and allowances.

use std::collections::BTreeMap;

use ellwand_garment::{Hands, Pattern, Piece, View};
use serde::{Deserialize, Serialize};

use super::{Number, pair, pairs, to_text};

/// Format line of a piece record.
const FORMAT: &str = "ellwand-pieces-1";

/// The piece record of `pattern`, as JSON text that ends with a line break. Lengths are mm; a piece on the fold is whole.
///
/// # Panics
///
/// When a number of the pattern is not finite: no pattern that was read has one.
pub fn pieces_record(pattern: &Pattern) -> String {
    to_text(&PiecesRecord::of(pattern))
}

/// The piece record of what one view cuts; otherwise as [`pieces_record`].
///
/// # Panics
///
/// When a number of the pattern is not finite: no pattern that was read has one.
pub fn view_record(pattern: &Pattern, view: &View) -> String {
    to_text(&PiecesRecord::of_view(pattern, view))
}

/// The pieces of a pattern, or of one of its views.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PiecesRecord {
    /// Always "ellwand-pieces-1".
    pub format: String,
    /// The size.
    pub size: String,
    /// The pieces, in the order of the pattern.
    pub pieces: Vec<PieceRecord>,
}

/// One piece.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PieceRecord {
    /// Its name.
    pub piece: String,
    /// The cutting line, counter-clockwise, the last point not repeated.
    pub outline: Vec<[Number; 2]>,
    /// Low and high end of the grainline.
    pub grainline: [[Number; 2]; 2],
    /// Named points.
    pub points: BTreeMap<String, [Number; 2]>,
    /// What it is cut from.
    pub cut: Vec<CutRuleRecord>,
}

/// How many are cut from one cloth.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct CutRuleRecord {
    /// The role of the cloth.
    pub fabric: String,
    /// How many.
    pub count: u32,
    /// Whether each is cut on the fold.
    pub on_fold: bool,
    /// "pair", "same" or "any".
    pub hands: String,
}

impl PiecesRecord {
    /// The record of `pattern`.
    pub fn of(pattern: &Pattern) -> Self {
        Self {
            format: FORMAT.to_owned(),
            size: pattern.size.clone(),
            pieces: pattern.pieces.iter().map(PieceRecord::of).collect(),
        }
    }
}

impl PiecesRecord {
    /// The record of the pieces that `view` lists.
    pub fn of_view(pattern: &Pattern, view: &View) -> Self {
        let mut record = Self::of(pattern);
        record.pieces.retain(|piece| view.pieces.contains(&piece.piece));
        record
    }
}

impl PieceRecord {
    fn of(piece: &Piece) -> Self {
        Self {
            piece: piece.name.clone(),
            outline: pairs(&piece.outline),
            grainline: piece.grainline.map(pair),
            points: piece.points.iter().map(|(name, &at)| (name.clone(), pair(at))).collect(),
            cut: piece
                .cuts
                .iter()
                .map(|rule| CutRuleRecord {
                    fabric: rule.role.clone(),
                    count: rule.count,
                    on_fold: rule.on_fold,
                    hands: match rule.hands {
                        Hands::Pair => "pair".to_owned(),
                        Hands::Same => "same".to_owned(),
                        Hands::Any => "any".to_owned(),
                    },
                })
                .collect(),
        }
    }
}
