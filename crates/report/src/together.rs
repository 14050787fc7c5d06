//! Several garments cut from one cloth: what each takes alone, what cutting them together saves, and whose share of the cost is how much.

use ellwand_garment::{Bill, Money, Rounding, Units, format_bought, format_length_up, shared, write_length};
use ellwand_planner::{Alone, ClothPlan};

use crate::{Column, Row, Table};

/// Differences below this are none, mm.
const NOTHING: f64 = 0.5;

/// The garments cut from a cloth, compared.
#[derive(Debug, Clone, PartialEq)]
pub struct Together {
    /// Each garment.
    pub garments: Vec<ShareOf>,
    /// The length that they take one after the other, mm.
    pub one_after_the_other: f64,
    /// What is bought if each is bought alone, mm, and what that costs; no cost where no price is known.
    pub bought_alone: f64,
    /// The same in money.
    pub cost_alone: Option<Money>,
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

/// What is cut from a cloth, garment by garment; nothing of one garment, and where one of them cannot be laid alone.
pub fn together(cloth: &ClothPlan) -> Option<Together> {
    let one_after_the_other = cloth.one_after_the_other()?;
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
        one_after_the_other,
        bought_alone: steps? * cloth.fabric.sold_by,
        cost_alone: bill.totals().first().filter(|_| bill.is_complete()).cloned(),
    })
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

/// What cutting together saves: of the length and of what is bought.
pub(crate) fn saved(cloth: &ClothPlan, units: Units) -> Option<Row> {
    let Together { one_after_the_other, bought_alone, cost_alone, .. } = together(cloth)?;
    let layout = cloth.layout();
    let by = one_after_the_other - layout.length;
    let saves = if by < NOTHING {
        "the same".to_owned()
    } else {
        let share = 100.0 * by / one_after_the_other;
        format!("{} or {share:.0} % less", write_length(by, units, Rounding::Down))
    };
    let mut lines = vec![format!(
        "{}; one after the other {}: {saves}",
        format_length_up(layout.length, units),
        format_length_up(one_after_the_other, units)
    )];
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
