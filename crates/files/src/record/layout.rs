//! The layout record, `ellwand-layout-1`: one finished layout as others read it.

use std::collections::BTreeMap;

use ellwand_garment::Layout;
use serde::{Deserialize, Serialize};

use super::{Number, pieces::NotchRecord, to_text};

mod made;

/// Format line of a layout record.
pub(super) const FORMAT: &str = "ellwand-layout-1";

/// The layout record of `layout`, as JSON text that ends with a line break. Lengths are mm; the last entry,
/// `search.seconds`, is the only one that may differ between two runs of the same job, seed and effort. With a time limit in
/// place of an effort the layout may differ too, and `search.trace` tells seconds besides work.
///
/// # Panics
///
/// When a number of the layout is not finite: no layout that passed the checker has one.
pub fn layout_record(layout: &Layout) -> String {
    to_text(&LayoutRecord::of(layout))
}

/// One finished layout of one cloth.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct LayoutRecord {
    /// Always "ellwand-layout-1".
    pub format: String,
    /// Name of the job.
    pub job: String,
    /// Name of the pattern.
    pub pattern: String,
    /// Name of the view.
    pub view: String,
    /// The size.
    pub size: String,
    /// The role of the cloth.
    pub fabric: String,
    /// Always "mm".
    pub length_unit: String,
    /// The cloth.
    pub cloth: ClothRecord,
    /// Length used.
    pub length: Number,
    /// No layout is shorter than this.
    pub lower_bound: Number,
    /// Why, in a sentence.
    pub lower_bound_reason: String,
    /// Whether the layout is as short as that.
    pub shortest_possible: bool,
    /// Share of the cloth, selvages included, that the pieces cover.
    pub utilisation: Number,
    /// What was asked to be cut from this cloth.
    #[serde(default)]
    pub asked: Vec<AskedRecord>,
    /// What had to match, the most important first.
    #[serde(default)]
    pub asked_matches: Vec<AskedMatchRecord>,
    /// Names of the wished matches that were given up.
    #[serde(default)]
    pub given_up: Vec<String>,
    /// Every shape cut, on flat cloth, both layers of a fold included.
    pub cuts: Vec<CutRecord>,
    /// Points that match the design of the cloth; none on cloth without a repeat.
    pub matches: Vec<MatchRecord>,
    /// Two points where bars meet in a V: across, the phase of the one is the other's counted from the bar the other way.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub chevrons: Vec<MatchRecord>,
    /// What to buy.
    pub purchase: PurchaseRecord,
    /// How the layout was found.
    pub search: SearchRecord,
}

/// The cloth of a layout.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ClothRecord {
    /// From edge to edge, after shrinkage.
    pub width: Number,
    /// Width of each selvage.
    pub selvage: Number,
    /// "with" or "without".
    pub nap: String,
    /// The design's repeat; null where there is none, as on plain cloth with a border.
    pub repeat: Option<RepeatRecord>,
    /// Where it is folded when it is cut.
    pub folds: Vec<FoldRecord>,
    /// Spots avoided.
    pub flaws: Vec<Vec<[Number; 2]>>,
    /// Least distance between two pieces.
    pub piece_gap: Number,
    /// Whether its faces differ: "one" right side or "both".
    #[serde(default)]
    pub right_side: String,
    /// Largest tilt of a grainline off its true direction, degrees.
    #[serde(default)]
    pub off_grain_deg: Number,
    /// Length on hand before washing; null when there is none.
    #[serde(default)]
    pub on_hand: Option<Number>,
    /// The piece of cloth it is, where it does not come from a roll.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub remnant: Option<RemnantRecord>,
}

/// A piece of cloth on hand.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct RemnantRecord {
    /// What it is called.
    pub name: String,
    /// Its edge, counter-clockwise, the last point not repeated.
    pub outline: Vec<[Number; 2]>,
    /// Which of its sides have a selvage: "both", "left", "right" or "none".
    pub selvages: String,
}

/// The repeat of a design on the cloth; a direction without one has null.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct RepeatRecord {
    /// Across the width; of a half drop two columns.
    pub across: Option<Number>,
    /// Along the warp.
    pub along: Option<Number>,
    /// From the left edge to the axis of a dominant bar.
    pub offset_across: Option<Number>,
    /// From the cut end to the axis of a dominant bar.
    pub offset_along: Option<Number>,
    /// Whether the design is its own mirror image in every direction in which it repeats.
    pub even: bool,
    /// The same across.
    #[serde(default)]
    pub even_across: Option<bool>,
    /// The same along.
    #[serde(default)]
    pub even_along: Option<bool>,
    /// Whether every other column stands half a repeat lower.
    #[serde(default)]
    pub half_drop: bool,
}

/// A fold of the cloth.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FoldRecord {
    /// "lengthwise", "crosswise", or "cut and turned" where the far part is cut off and laid on the near one end for end.
    pub axis: String,
    /// Where it lies: its `x` if it is lengthwise, else its `y`.
    pub at: Number,
    /// From which `y` on it is folded, where not from the cut end on.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from: Option<Number>,
    /// Up to which `y`, where not as far as the cloth goes.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub to: Option<Number>,
}

/// One shape cut.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct CutRecord {
    /// Name of the piece.
    pub piece: String,
    /// Which copy, from 1.
    pub copy: u32,
    /// Number of the piece on sheets and in the cutting list; null in records from before it was kept.
    #[serde(default)]
    pub number: Option<usize>,
    /// What the copy is called there: "left", "b"; empty for what is cut once.
    #[serde(default)]
    pub copy_name: String,
    /// Whether it is cut on the fold of the cloth.
    #[serde(default)]
    pub on_fold: bool,
    /// Whether the placing table says that it lies face down: what is its own mirror image never does.
    #[serde(default)]
    pub face_down: Option<bool>,
    /// Whether it is a mirror image of the piece as drawn.
    pub mirrored: bool,
    /// Its turn after mirroring, degrees counter-clockwise.
    pub turned_deg: Number,
    /// The exact cutting line, counter-clockwise, the last point not repeated.
    pub outline: Vec<[Number; 2]>,
    /// Low and high end of the grainline.
    pub grainline: [[Number; 2]; 2],
    /// Notches on the cutting line.
    #[serde(default)]
    pub notches: Vec<NotchRecord>,
    /// Named points.
    pub points: BTreeMap<String, [Number; 2]>,
}

/// Two points of the garment that meet the design alike, or one that meets the design itself.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct MatchRecord {
    /// One point.
    pub a: PointRef,
    /// The other; null when the design itself is met.
    pub b: Option<PointRef>,
    /// "along" or "across".
    pub axis: String,
    /// By how much they miss.
    pub residual: Number,
    /// The phase asked for, when the design itself is met; at a border the distance from the left edge.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub phase: Option<Number>,
    /// What the match is called.
    #[serde(default)]
    pub name: String,
}

/// A named point of a cut.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PointRef {
    /// The piece.
    pub piece: String,
    /// The copy.
    pub copy: u32,
    /// The point.
    pub point: String,
}

/// What to buy.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PurchaseRecord {
    /// Length of the layout.
    pub length: Number,
    /// What is added, in order.
    pub allowances: Vec<AllowanceRecord>,
    /// Length to buy.
    pub buy: Number,
    /// The same as a shopper says it.
    pub buy_text: String,
    /// Price of one unit, decimal.
    pub price: Option<String>,
    /// Cost, decimal.
    pub cost: Option<String>,
    /// What length the price is for: "yd" or "m".
    #[serde(default)]
    pub price_per: Option<String>,
    /// What money price and cost are in, if the maker said so.
    #[serde(default)]
    pub currency: Option<String>,
    /// Length of unwashed cloth that the layout is cut from, allowances included.
    #[serde(default)]
    pub needed: Number,
    /// Whether the cloth on hand is enough; null when there is none. Where it is, nothing is bought.
    #[serde(default)]
    pub on_hand: Option<OnHandRecord>,
}

/// What the cloth on hand is good for.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct OnHandRecord {
    /// Whether it is enough.
    pub enough: bool,
    /// What is left over, or missing: unwashed cloth.
    pub spare: Number,
}

/// A piece that was to be cut.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct AskedRecord {
    /// Name of the piece.
    pub piece: String,
    /// How many in all.
    pub count: u32,
    /// Which of them, from 1 on, where others are cut from another piece of the cloth; all when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub copies: Option<Vec<u32>>,
    /// "pair", "same" or "any".
    pub hands: String,
    /// Whether each is cut on the fold where the cloth has one.
    pub on_fold: bool,
    /// "straight", "cross allowed" or "bias".
    pub grain: String,
    /// What its rectangles are, where several are joined to one or bias strips come out of them.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub strips: Option<StripsRecord>,
}

/// What the rectangles of a piece are.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StripsRecord {
    /// "end to end", "side by side" or "bias".
    pub joined: String,
    /// How many make one; of bias strips how many come out of each rectangle.
    pub count: u32,
    /// How wide a bias strip is cut.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wide: Option<Number>,
    /// What a bias strip loses to a join, square to its end.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub join: Option<Number>,
}

/// A match that was to be kept.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct AskedMatchRecord {
    /// What it is called.
    pub name: String,
    /// "required" or "wished".
    pub need: String,
}

/// An addition to the length.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct AllowanceRecord {
    /// What for.
    #[serde(rename = "for")]
    pub reason: String,
    /// How much.
    pub length: Number,
}

/// How a layout was found.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SearchRecord {
    /// Seed of the search.
    pub seed: u64,
    /// Its effort.
    pub effort: String,
    /// Length over the course of the search, each shorter than the one before; empty in records from before it was kept.
    #[serde(default)]
    pub trace: Vec<TraceRecord>,
    /// Wall time, s.
    pub seconds: Number,
}

/// A moment at which a search found something shorter.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TraceRecord {
    /// Positions evaluated until then.
    pub work: u64,
    /// Wall time until then, s; left out where the same work gives the same record.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub seconds: Option<Number>,
    /// The length.
    pub length: Number,
}
