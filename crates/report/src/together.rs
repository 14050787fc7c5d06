//! Several garments cut from one cloth: what each takes alone, what cutting them together saves, and whose share of the cost is how much.

use ellwand_garment::{Bill, Match, Money, Rounding, Units, format_bought, format_length_up, shared, write_length};
use ellwand_planner::{Alone, ClothPlan};

use crate::{Column, Row, Table};

/// Differences below this are none, mm.
const NOTHING: f64 = 0.5;
/// Areas that differ by no more than this share are the same.
const SAME_AREA: f64 = 1e-6;

/// The garments cut from a cloth, compared.
#[derive(Debug, Clone, PartialEq)]
pub struct Together {
    /// Each garment.
    pub garments: Vec<ShareOf>,
    /// The length that they take one after the other, mm; none where that is no answer to what is asked of all of them.
    pub one_after_the_other: Option<f64>,
    /// Wished matches that are kept where a garment is cut alone and given up together, or the other way round.
    pub not_alike: Vec<NotAlike>,
    /// What is bought if each is bought alone, mm, and what that costs; no cost where no price is known.
    pub bought_alone: f64,
    /// The same in money.
    pub cost_alone: Option<Money>,
}

/// A wished match that is not kept both alone and together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NotAlike {
    /// Its name.
    pub name: String,
    /// Where it is kept.
    pub kept: Kept,
}

/// Where a wished match is kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kept {
    /// Where a garment is cut alone, and given up together.
    Alone,
    /// Where all are cut together, and given up for some garment alone.
    Together,
}

/// One garment on a cloth.
#[derive(Debug, Clone, PartialEq)]
pub struct ShareOf {
    /// Its name.
    pub garment: String,
    /// How many are made.
    pub count: u32,
    /// Area of its pieces, mm², for all that are made.
    pub area: f64,
    /// The length that one takes alone, mm.
    pub alone: f64,
    /// What is bought for one alone, in words.
    pub buy_text: String,
    /// Its share of what the cloth costs, by the area of its pieces; none where nothing is paid.
    pub share: Option<Money>,
}

/// Whether nothing of the garments is cut from remnants, on which none was laid alone.
pub fn is_all_bought(cloth: &ClothPlan) -> bool {
    let cut: f64 = cloth.layout().cuts.iter().map(|cut| cut.outline.area()).sum();
    let asked: f64 = cloth.alone.iter().map(|alone| alone.area).sum();
    cloth.layout().cloth.remnant.is_none() && cut >= asked * (1.0 - SAME_AREA)
}

/// What is cut from a cloth, garment by garment; nothing of one garment, and where one of them cannot be laid alone.
pub fn together(cloth: &ClothPlan) -> Option<Together> {
    if cloth.alone.is_empty() {
        return None;
    }
    let areas: Vec<f64> = cloth.alone.iter().map(|alone| alone.area).collect();
    let purchase = &cloth.layout().purchase;
    let shares = purchase.cost.as_ref().filter(|_| !purchase.is_at_home()).map(|cost| shared(cost, &areas));
    let of = |(k, alone): (usize, &Alone)| {
        let layout = alone.layout()?;
        Some(ShareOf {
            garment: alone.garment.clone(),
            count: alone.count,
            area: alone.area,
            alone: layout.length,
            buy_text: layout.purchase.buy_text.clone(),
            share: shares.as_ref().and_then(|shares| shares.get(k)).cloned(),
        })
    };
    let garments: Option<Vec<ShareOf>> = cloth.alone.iter().enumerate().map(of).collect();
    let bought = |alone: &Alone| Some(f64::from(alone.count) * alone.layout()?.purchase.steps as f64);
    let steps: Option<f64> = cloth.alone.iter().map(bought).sum();
    let mut bill = Bill::default();
    for alone in &cloth.alone {
        let cost = alone.layout().and_then(|layout| layout.purchase.cost.as_ref());
        bill.add(alone.garment.clone(), cost.and_then(|cost| cost.times(alone.count)));
    }
    Some(Together {
        garments: garments?,
        one_after_the_other: cloth.one_after_the_other,
        not_alike: not_alike(cloth),
        bought_alone: steps? * cloth.fabric.sold_by,
        cost_alone: bill.totals().first().filter(|_| bill.is_complete()).cloned(),
    })
}

/// Wished matches that are kept in some garment alone and not together, and those kept together and not in each alone.
fn not_alike(cloth: &ClothPlan) -> Vec<NotAlike> {
    let alone = || cloth.alone.iter().filter_map(|alone| alone.answer.as_ref().ok()).map(|plan| &plan.fabric.matching);
    let is_among = |name: &String, matches: &[Match]| matches.iter().any(|wanted| wanted.name == *name);
    let matching = &cloth.fabric.matching;
    let only_alone = matching.given_up.iter().filter(|name| alone().any(|of| is_among(name, &of.matches)));
    let mut all: Vec<NotAlike> = only_alone.map(|name| NotAlike { name: name.clone(), kept: Kept::Alone }).collect();
    for name in alone().flat_map(|of| &of.given_up) {
        if is_among(name, &matching.matches) && !all.iter().any(|told| told.name == *name) {
            all.push(NotAlike { name: name.clone(), kept: Kept::Together });
        }
    }
    all
}

/// The same as a table: a row a garment.
pub(crate) fn table(cloth: &ClothPlan, units: Units) -> Option<Table> {
    let together = together(cloth)?;
    let row = |of: &ShareOf| {
        vec![
            of.garment.clone(),
            of.count.to_string(),
            format_length_up(of.alone, units),
            of.buy_text.clone(),
            of.share.as_ref().map(ToString::to_string).unwrap_or_default(),
        ]
    };
    let columns = vec![
        Column::words("garment"),
        Column::figures("made"),
        Column::figures("one alone"),
        Column::figures("to buy for it"),
        Column::figures("share of the cost"),
    ];
    let rows = together.garments.iter().map(row).collect();
    let caption = format!("Each garment alone, on {}", cloth.layout().role);
    Some(Table { caption, columns, rows }.without_empty_columns())
}

/// What cutting together saves: of the length and of what is bought. Nothing of a remnant, on which the garments were not laid alone.
pub(crate) fn saved(cloth: &ClothPlan, units: Units) -> Option<Row> {
    let layout = cloth.layout();
    if !is_all_bought(cloth) {
        return None;
    }
    let Together { one_after_the_other, not_alike, bought_alone, cost_alone, .. } = together(cloth)?;
    let length = format_length_up(layout.length, units);
    let against = match one_after_the_other {
        Some(row) => {
            format!("one after the other {}: {}", format_length_up(row, units), less(layout.length, row, units))
        }
        None => {
            "one after the other the garments as they are laid alone are not what is asked of them together".to_owned()
        }
    };
    let mut lines = vec![format!("{length}; {against}")];
    lines.extend(not_alike.iter().map(in_words));
    if !layout.purchase.is_at_home() {
        let each = format_bought(bought_alone, cloth.fabric.sold_by, units);
        let mut said = format!("buy {}; each bought alone {each}", layout.purchase.buy_text);
        if let (Some(cost), Some(alone)) = (&layout.purchase.cost, cost_alone) {
            said = format!("{said}, {} instead of {}", cost, alone);
        }
        lines.push(said);
    }
    Row::of_lines("cut together", lines)
}

/// By how much a length is less than that of the row, in words.
fn less(length: f64, row: f64, units: Units) -> String {
    let by = row - length;
    if by < NOTHING {
        return "the same".to_owned();
    }
    format!("{} or {:.0} % less", write_length(by, units, Rounding::Down), 100.0 * by / row)
}

/// A wish that is not kept both ways, in words.
fn in_words(wish: &NotAlike) -> String {
    match wish.kept {
        Kept::Alone => format!("\"{}\" is matched where each is cut alone, and given up together", wish.name),
        Kept::Together => format!("\"{}\" is matched together, and given up where one is cut alone", wish.name),
    }
}
