//! What a change of the job would save or cost: one change at a time, the one that saves most first.

use ellwand_garment::{
    Money, Rounding, Units, format_bought, format_length_up, next_step_down, on_the_tape, write_length,
};
use ellwand_planner::{ClothPlan, JobPlan};

use crate::{Column, Impossible, Row, Table, candidates::total};

/// A change with the answer to it.
#[derive(Debug, Clone, PartialEq)]
pub struct Weighed {
    /// What is changed, such as "Pockets: welt".
    pub what: String,
    /// What the change is about.
    pub about: About,
    /// The whole job with it, or why it cannot be.
    pub answer: Result<JobPlan, Impossible>,
}

/// What a change is about, as far as it helps a long narrow part of a cloth.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum About {
    /// The pieces of a cloth may lie across the grain.
    Grain {
        /// The part of the garment that is made of the cloth.
        role: String,
    },
    /// A piece is cut in two and joined.
    Join {
        /// The garment, where there are several.
        garment: Option<String>,
        /// The piece, as its pattern calls it.
        piece: String,
    },
    /// Something else.
    Other,
}

/// By how much a change makes the job cheaper and its layouts shorter.
#[derive(Debug, Clone, PartialEq)]
pub struct Saving {
    /// Money saved, below zero where the change costs; `None` where no total can be told of one of the two.
    pub money: Option<Money>,
    /// Length of layouts saved in all cloths off the roll together, mm; below zero where they take more.
    pub length: f64,
}

/// What `changed` saves against `own`.
pub fn saving(own: &JobPlan, changed: &JobPlan) -> Saving {
    let off_the_roll = |cloth: &&ClothPlan| cloth.fabric.cloth.remnant.is_none();
    let length =
        |plan: &JobPlan| plan.cloths.iter().filter(off_the_roll).map(|cloth| cloth.layout().length).sum::<f64>();
    let money = match (total(own), total(changed)) {
        (Some(own), Some(changed)) if own.currency == changed.currency => {
            Some(Money::new(own.amount - changed.amount, own.currency))
        }
        _ => None,
    };
    Saving { money, length: length(own) - length(changed) }
}

/// The changes that can be made, the one that saves most first: by money where it is known of all, else by length.
pub fn ranked<'w>(own: &JobPlan, weighed: &'w [Weighed]) -> Vec<(&'w Weighed, &'w JobPlan, Saving)> {
    let mut all: Vec<(&Weighed, &JobPlan, Saving)> = (weighed.iter())
        .filter_map(|one| one.answer.as_ref().ok().map(|plan| (one, plan, saving(own, plan))))
        .collect();
    let by_money = all.iter().all(|(.., saving)| saving.money.is_some());
    all.sort_by(|(.., a), (.., b)| {
        let amount = |saving: &Saving| saving.money.as_ref().filter(|_| by_money).map(|money| money.amount);
        amount(b).cmp(&amount(a)).then(b.length.total_cmp(&a.length))
    });
    all
}

/// One row a change.
pub(crate) fn table(own: &JobPlan, weighed: &[Weighed], units: Units) -> Option<Table> {
    let ranked = ranked(own, weighed);
    let rows: Vec<Vec<String>> = (ranked.iter())
        .map(|(one, plan, saving)| {
            vec![
                one.what.clone(),
                bought_otherwise(own, plan),
                total(plan).map(|total| total.to_string()).unwrap_or_default(),
                saving.money.as_ref().map(money_words).unwrap_or_default(),
                length_words(saving.length, units),
            ]
        })
        .collect();
    let columns = vec![
        Column::words("change"),
        Column::words("buy then"),
        Column::figures("whole job"),
        Column::figures("money"),
        Column::figures("layout"),
    ];
    (!rows.is_empty())
        .then(|| Table { caption: "What one change would save or cost".into(), columns, rows }.without_empty_columns())
}

/// "main 2 3/8 yd", each cloth of which another length is bought, or that is cut from other remnants: "main nothing, it fits \"sail bag\"".
fn bought_otherwise(own: &JobPlan, changed: &JobPlan) -> String {
    let mut roles: Vec<&str> = changed.cloths.iter().map(|cloth| cloth.fabric.role.as_str()).collect();
    roles.dedup();
    let said: Vec<String> = (roles.iter())
        .filter_map(|role| {
            let said = bought_words(changed, role)?;
            (bought_words(own, role).as_ref() != Some(&said)).then(|| format!("{role} {said}"))
        })
        .collect();
    if said.is_empty() { "the same".into() } else { said.join(", ") }
}

/// What is bought for a role, and the remnants that it is cut from.
fn bought_words(plan: &JobPlan, role: &str) -> Option<String> {
    let bought = &plan.from_the_roll(role)?.layout().purchase.buy_text;
    let remnants = plan.of_role(role).filter_map(|cloth| cloth.fabric.cloth.remnant.as_ref());
    let remnants: Vec<String> = remnants.map(|remnant| format!("\"{}\"", remnant.name)).collect();
    Some(match (remnants.as_slice(), plan.of_role(role).count()) {
        ([], _) => bought.clone(),
        ([one], 1) => format!("nothing, it fits {one}"),
        (all, cloths) if all.len() == cloths => format!("nothing, it is cut from {}", all.join(" and ")),
        (all, _) => format!("{bought}, the rest from {}", all.join(" and ")),
    })
}

/// "saves 2.05 GBP", "costs 2.05 GBP", "the same".
fn money_words(money: &Money) -> String {
    let plain = Money::new(money.amount.abs(), money.currency.clone());
    if money.amount.is_zero() {
        "the same".into()
    } else if money.amount.is_sign_negative() {
        format!("{plain} more")
    } else {
        format!("{plain} less")
    }
}

fn length_words(length: f64, units: Units) -> String {
    /// Differences below this are none, mm.
    const NOTHING: f64 = 0.5;
    if length.abs() < NOTHING {
        return "the same".into();
    }
    let said = write_length(length.abs(), units, Rounding::Down);
    if length > 0.0 { format!("{said} shorter") } else { format!("{} longer", format_length_up(-length, units)) }
}

/// How far it is to the next step of the shop, for each cloth that is bought.
pub(crate) fn next_steps(own: &JobPlan, units: Units) -> Vec<Row> {
    own.cloths.iter().filter_map(|cloth| next_step(cloth, units)).collect()
}

fn next_step(cloth: &ClothPlan, units: Units) -> Option<Row> {
    let layout = cloth.layout();
    let shorter = next_step_down(&cloth.fabric, layout.length)?;
    let step = cloth.fabric.sold_by;
    let one_less = ellwand_garment::purchase(&cloth.fabric, units, layout.length - shorter);
    let money = layout.purchase.cost.as_ref().zip(one_less.cost.as_ref());
    let saves = money.map(|(own, less)| format!(", {}", Money::new(own.amount - less.amount, own.currency.clone())));
    let saves = format!("{}{}", format_bought(step, step, units), saves.unwrap_or_default());
    let by = format_length_up(on_the_tape(shorter, units, Rounding::Up), units);
    let said = if layout.length - shorter < layout.lower_bound.length {
        format!("a layout would have to be {by} shorter to save {saves}, and as things are none is")
    } else {
        format!("a layout {by} shorter would save {saves}")
    };
    Some(Row::new(cloth.fabric.role.clone(), said))
}

/// Changes that cannot be made, and why.
pub(crate) fn impossible(weighed: &[Weighed], units: Units) -> Vec<Row> {
    let of = |one: &Weighed| Row::of_lines(one.what.clone(), one.answer.as_ref().err()?.reasons(units));
    weighed.iter().filter_map(of).collect()
}

#[cfg(test)]
mod tests;
