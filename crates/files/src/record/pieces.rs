//! The piece record, `ellwand-pieces-1`: the pieces after size and allowances, with all that is known of them. A job may name it as its
//! pattern.

use std::collections::BTreeMap;

use ellwand_garment::{Pattern, Piece, Seam, SeamSide, View};
use serde::{Deserialize, Serialize};

use super::{
    Number,
    layout::StripsRecord,
    pair, pairs, to_text,
    words::{CORNERS, GRAINS, HANDS, KINDS, PRESSED, TAKEN_UP, word},
};

/// Format line of a piece record.
pub(super) const FORMAT: &str = "ellwand-pieces-1";

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
#[serde(deny_unknown_fields)]
pub struct PiecesRecord {
    /// Always "ellwand-pieces-1".
    pub format: String,
    /// The size.
    pub size: String,
    /// The pieces, in the order of the pattern.
    pub pieces: Vec<PieceRecord>,
    /// What the pattern is called.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pattern: Option<String>,
    /// The view, in whose order the pieces are numbered; without it they are all made, in the order of the record.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub view: Option<ViewRecord>,
    /// What is sewn to what, of these pieces.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub seams: Vec<SeamRecord>,
}

/// A view.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ViewRecord {
    /// Its name.
    pub name: String,
    /// What it is; may be empty.
    pub title: String,
    /// Its pieces, in order.
    pub pieces: Vec<String>,
}

/// One piece.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
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
    /// Which ways its grain may run, in the words of a pattern file; straight when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub grain: Option<String>,
    /// Whether it is its own mirror image about `x = 0`, where its fold is.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub fold: bool,
    /// Marks on the cutting line.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub notches: Vec<NotchRecord>,
    /// Its darts.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub darts: Vec<DartRecord>,
    /// The seam line, edge by edge.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub edges: Vec<EdgeRecord>,
    /// What its rectangles are, where several are joined to one or bias strips come out of them.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub strips: Option<StripsRecord>,
}

/// How many are cut from one cloth.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CutRuleRecord {
    /// The role of the cloth.
    pub fabric: String,
    /// How many.
    pub count: u32,
    /// Whether each is cut on the fold.
    pub on_fold: bool,
    /// "pair", "same" or "any".
    pub hands: String,
    /// Which ways the grain may run on this cloth, where that is not as of the piece.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub grain: Option<String>,
}

/// A mark on the cutting line.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct NotchRecord {
    /// Its name; empty when it has none.
    pub name: String,
    /// Where it is.
    pub at: [Number; 2],
    /// The direction into the piece, of length 1.
    pub inward: [Number; 2],
}

impl NotchRecord {
    pub(super) fn of(notch: &ellwand_garment::Notch) -> Self {
        Self { name: notch.name.clone(), at: pair(notch.at), inward: pair(notch.inward) }
    }
}

/// A dart.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DartRecord {
    /// Its name.
    pub name: String,
    /// Its point, or both points of a dart inside the piece.
    pub tips: Vec<[Number; 2]>,
    /// The ends of its legs on the seam line, or its widest place.
    pub legs: [[Number; 2]; 2],
    /// "down", "up", "left", "right" or "cut open".
    pub pressed: String,
}

/// A stretch of the seam line.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct EdgeRecord {
    /// Its name; empty when it has none.
    pub name: String,
    /// How deep its allowance is; `null` of a leg of a dart.
    pub allowance: Option<Number>,
    /// How its allowance ends beside its neighbours, in the words of a pattern file; left out where the pattern does not say.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub corner: Option<String>,
    /// Its points in order.
    pub line: Vec<[Number; 2]>,
}

/// A seam.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SeamRecord {
    /// Its name.
    pub name: String,
    /// Its kind, in the words of a pattern file.
    pub kind: String,
    /// One side.
    pub a: SeamSideRecord,
    /// The other; `null` where it is the other copy of the piece, or the piece itself.
    pub b: Option<SeamSideRecord>,
}

/// One side of a seam.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SeamSideRecord {
    /// The piece.
    pub piece: String,
    /// Its edges that are sewn, in order.
    pub edges: Vec<String>,
    /// Its points that meet those of the other side.
    pub meets: Vec<String>,
    /// By how much it is longer, and what becomes of that: "ease", "pleats", "tucks", "gathers" or "overlap".
    pub taken_up: Vec<(String, Number)>,
    /// Two points of a line that is centred on a design.
    pub centre: Option<[String; 2]>,
    /// Two points of the line about which it turns outward.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub roll: Option<[String; 2]>,
}

impl PiecesRecord {
    /// The record of `pattern`.
    pub fn of(pattern: &Pattern) -> Self {
        Self {
            format: FORMAT.to_owned(),
            size: pattern.size.clone(),
            pattern: Some(pattern.name.clone()),
            view: None,
            pieces: pattern.pieces.iter().map(PieceRecord::of).collect(),
            seams: pattern.seams.iter().map(SeamRecord::of).collect(),
        }
    }

    /// The record of the pieces that `view` lists, and of the seams between them.
    pub fn of_view(pattern: &Pattern, view: &View) -> Self {
        let mut record = Self::of(pattern);
        record.view =
            Some(ViewRecord { name: view.name.clone(), title: view.title.clone(), pieces: view.pieces.clone() });
        record.pieces.retain(|piece| view.pieces.contains(&piece.piece));
        let has = |side: &SeamSideRecord| record.pieces.iter().any(|piece| piece.piece == side.piece);
        record.seams.retain(|seam| has(&seam.a) && seam.b.as_ref().is_none_or(has));
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
            cut: (piece.cuts.iter())
                .map(|rule| CutRuleRecord {
                    fabric: rule.role.clone(),
                    count: rule.count,
                    on_fold: rule.on_fold,
                    hands: word(HANDS, rule.hands),
                    grain: rule.grain.map(|grain| word(GRAINS, grain)),
                })
                .collect(),
            grain: Some(word(GRAINS, piece.grain)),
            fold: piece.fold,
            notches: piece.notches.iter().map(NotchRecord::of).collect(),
            darts: (piece.darts.iter())
                .map(|dart| DartRecord {
                    name: dart.name.clone(),
                    tips: dart.tips.iter().copied().map(pair).collect(),
                    legs: dart.legs.map(pair),
                    pressed: word(PRESSED, dart.pressed),
                })
                .collect(),
            edges: (piece.edges.iter())
                .map(|edge| EdgeRecord {
                    name: edge.name.clone(),
                    allowance: edge.allowance.map(Number),
                    corner: edge.corner.map(|corner| word(CORNERS, corner)),
                    line: edge.line.iter().copied().map(pair).collect(),
                })
                .collect(),
            strips: piece.strips.map(StripsRecord::of),
        }
    }
}

impl SeamRecord {
    fn of(seam: &Seam) -> Self {
        let side = |side: &SeamSide| SeamSideRecord {
            piece: side.piece.clone(),
            edges: side.edges.clone(),
            meets: side.meets.clone(),
            taken_up: side.taken_up.iter().map(|&(how, by)| (word(TAKEN_UP, how), Number(by))).collect(),
            centre: side.centre.clone(),
            roll: side.roll.clone(),
        };
        Self { name: seam.name.clone(), kind: word(KINDS, seam.kind), a: side(&seam.a), b: seam.b.as_ref().map(side) }
    }
}
