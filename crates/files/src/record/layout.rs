//! The layout record, `ellwand-layout-1`: one finished layout as others read it.

use std::collections::BTreeMap;

use ellwand_garment::{
    Asked, Balance, Cut, CutPoint, Design, Drop, GrainRule, Hands, Layers, Layout, Match, MatchedPoints, Nap, Need,
    OnHand, Purchase, Remnant, Repeat, RightSide, Selvages, Shown, TracePoint,
};
use ellwand_geometry::Outline;
use serde::{Deserialize, Serialize};

use super::{Number, pair, pairs, pieces::NotchRecord, to_text};

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

impl RemnantRecord {
    fn of(remnant: &Remnant) -> Self {
        let selvages = match remnant.selvages {
            Selvages::Both => "both",
            Selvages::Left => "left",
            Selvages::Right => "right",
            Selvages::None => "none",
        };
        Self { name: remnant.name.clone(), outline: pairs(&remnant.outline), selvages: selvages.to_owned() }
    }
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
    /// "lengthwise".
    pub axis: String,
    /// Where it lies: its `x`.
    pub at: Number,
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

impl OnHandRecord {
    fn of(on_hand: OnHand) -> Self {
        match on_hand {
            OnHand::Enough { spare } => Self { enough: true, spare: Number(spare) },
            OnHand::Short { by } => Self { enough: false, spare: Number(-by) },
        }
    }
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
}

impl AskedRecord {
    fn of(asked: &Asked) -> Self {
        Self {
            piece: asked.piece.clone(),
            count: asked.count,
            copies: (asked.copies.len() < asked.count as usize).then(|| asked.copies.clone()),
            hands: match asked.hands {
                Hands::Pair => "pair",
                Hands::Same => "same",
                Hands::Any => "any",
            }
            .to_owned(),
            on_fold: asked.on_fold,
            grain: match asked.grain {
                GrainRule::Straight => "straight",
                GrainRule::CrossAllowed => "cross allowed",
                GrainRule::Bias => "bias",
            }
            .to_owned(),
        }
    }
}

/// A match that was to be kept.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct AskedMatchRecord {
    /// What it is called.
    pub name: String,
    /// "required" or "wished".
    pub need: String,
}

impl AskedMatchRecord {
    fn of(wanted: &Match) -> Self {
        let need = match wanted.need {
            Need::Required => "required",
            Need::Wished => "wished",
        };
        Self { name: wanted.name.clone(), need: need.to_owned() }
    }
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

impl LayoutRecord {
    /// The record of `layout`.
    pub fn of(layout: &Layout) -> Self {
        let cloth = &layout.cloth;
        let covered: f64 = layout.cuts.iter().map(|cut| cut.outline.area()).sum();
        let all = cloth.width * layout.length;
        let of_kind = |shown: Shown| -> Vec<MatchRecord> {
            layout.matches.iter().filter(|matched| matched.shown == shown).map(MatchRecord::of).collect()
        };
        Self {
            format: FORMAT.to_owned(),
            job: layout.job.clone(),
            pattern: layout.pattern.clone(),
            view: layout.view.clone(),
            size: layout.size.clone(),
            fabric: layout.role.clone(),
            length_unit: "mm".to_owned(),
            cloth: ClothRecord {
                width: Number(cloth.width),
                selvage: Number(cloth.selvage),
                nap: match cloth.nap {
                    Nap::With => "with".to_owned(),
                    Nap::Without => "without".to_owned(),
                },
                repeat: cloth.design.as_ref().and_then(RepeatRecord::of),
                folds: match layout.layers {
                    Layers::Open => Vec::new(),
                    Layers::CentreFold => {
                        vec![FoldRecord { axis: "lengthwise".to_owned(), at: Number(cloth.centre_fold()) }]
                    }
                },
                flaws: cloth.flaws.iter().map(pairs).collect(),
                piece_gap: Number(cloth.piece_gap),
                right_side: match cloth.right_side {
                    RightSide::One => "one".to_owned(),
                    RightSide::Both => "both".to_owned(),
                },
                off_grain_deg: Number(cloth.off_grain_deg),
                on_hand: cloth.on_hand.map(Number),
                remnant: cloth.remnant.as_ref().map(RemnantRecord::of),
            },
            length: Number(layout.length),
            lower_bound: Number(layout.lower_bound.length),
            lower_bound_reason: layout.lower_bound.reason.clone(),
            shortest_possible: layout.is_shortest_possible(),
            utilisation: Number(if all > 0.0 { covered / all } else { 0.0 }),
            asked: layout.asked.iter().map(AskedRecord::of).collect(),
            asked_matches: layout.matching.iter().map(AskedMatchRecord::of).collect(),
            given_up: layout.given_up.clone(),
            cuts: (layout.cuts.iter().zip(layout.copy_names()))
                .map(|(cut, name)| CutRecord::of(cut, name.to_string()))
                .collect(),
            matches: of_kind(Shown::Alike),
            chevrons: of_kind(Shown::Mirrored),
            purchase: PurchaseRecord::of(&layout.purchase),
            search: SearchRecord {
                seed: layout.search.seed,
                effort: layout.search.effort.clone(),
                trace: layout.search.trace.iter().map(TraceRecord::of).collect(),
                seconds: Number(layout.search.seconds),
            },
        }
    }
}

impl RepeatRecord {
    /// The repeat of a design that has one.
    fn of(design: &Design) -> Option<Self> {
        let even = |repeat: &Repeat| repeat.balance == Balance::Even;
        let (across, along) = (design.across.as_ref(), design.along.as_ref());
        design.repeats().then(|| Self {
            across: across.map(|repeat| Number(repeat.every)),
            along: along.map(|repeat| Number(repeat.every)),
            offset_across: across.map(|repeat| Number(repeat.offset)),
            offset_along: along.map(|repeat| Number(repeat.offset)),
            even: design.may_be_turned(),
            even_across: across.map(even),
            even_along: along.map(even),
            half_drop: design.drop == Drop::Half,
        })
    }
}

impl MatchRecord {
    fn of(found: &MatchedPoints) -> Self {
        Self {
            a: PointRef::of(&found.a),
            b: found.b.as_ref().map(PointRef::of),
            axis: found.axis.name().to_owned(),
            residual: Number(found.residual),
            phase: found.phase.map(Number),
            name: found.name.clone(),
        }
    }
}

impl PointRef {
    fn of(point: &CutPoint) -> Self {
        Self { piece: point.piece.clone(), copy: point.copy, point: point.point.clone() }
    }
}

impl CutRecord {
    fn of(cut: &Cut, copy_name: String) -> Self {
        Self {
            piece: cut.piece.clone(),
            copy: cut.copy,
            number: Some(cut.number),
            copy_name,
            on_fold: cut.on_fold,
            face_down: Some(cut.lies_face_down()),
            mirrored: cut.mirrored,
            turned_deg: Number(cut.turned_deg),
            outline: pairs(&cut.outline),
            grainline: cut.grainline.map(pair),
            notches: cut.notches.iter().map(NotchRecord::of).collect(),
            points: cut.points.iter().map(|(name, &at)| (name.clone(), pair(at))).collect(),
        }
    }

    /// The outline, checked again.
    ///
    /// # Errors
    ///
    /// Faults of [`Outline::new`].
    pub fn outline(&self) -> Result<Outline, Vec<ellwand_geometry::OutlineFault>> {
        Outline::new(self.outline.iter().map(|&[x, y]| ellwand_geometry::point(x.0, y.0)).collect())
    }
}

impl TraceRecord {
    fn of(point: &TracePoint) -> Self {
        Self { work: point.work, seconds: point.seconds.map(Number), length: Number(point.length) }
    }
}

impl PurchaseRecord {
    fn of(purchase: &Purchase) -> Self {
        Self {
            length: Number(purchase.length),
            allowances: purchase
                .allowances
                .iter()
                .map(|added| AllowanceRecord { reason: added.reason.to_string(), length: Number(added.length) })
                .collect(),
            buy: Number(purchase.buy),
            buy_text: purchase.buy_text.clone(),
            price: purchase.price.map(|price| price.amount.to_string()),
            price_per: purchase.price.map(|price| price.per.sign().to_owned()),
            cost: purchase.cost.as_ref().map(|cost| cost.amount.to_string()),
            currency: purchase.cost.as_ref().and_then(|cost| cost.currency.clone()),
            needed: Number(purchase.needed),
            on_hand: purchase.on_hand.map(OnHandRecord::of),
        }
    }
}
