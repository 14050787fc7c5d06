//! What a change of the job would save or cost: one change at a time, the one that saves most first.

use ellwand_garment::{
    BillLine, Money, Rounding, Supply, Units, format_bought, format_length_up, next_step_down, on_the_tape,
    write_length,
};
use ellwand_planner::{ClothPlan, JobPlan};

use crate::{Column, Impossible, Row, Table, supplies};

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
    /// A piece may lie across the grain.
    Across {
        /// The garment, where there are several.
        garment: Option<String>,
        /// The piece, as its pattern calls it.
        piece: String,
    },
    /// A piece is cut in two and joined.
    Join {
        /// The garment, where there are several.
        garment: Option<String>,
        /// The piece, as its pattern calls it.
        piece: String,
    },
    /// More is asked than by the job, such as a longer piece: what serves it serves the job.
    More,
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
    let length = |plan: &JobPlan| plan.cloths.iter().filter_map(off_the_roll).sum::<f64>();
    let money = own.total().zip(changed.total()).and_then(|(own, changed)| own.minus(&changed));
    Saving { money, length: length(own) - length(changed) }
}

/// The length of a cloth that is bought, mm.
fn off_the_roll(cloth: &ClothPlan) -> Option<f64> {
    cloth.fabric.cloth.remnant.is_none().then(|| cloth.layout().length)
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

/// What the changes come to.
pub(crate) struct Told {
    /// One row a change: first those with which everything of a cloth fits a remnant, where it does not yet.
    pub(crate) tables: Vec<Table>,
    /// The changes of which nothing comes, in a sentence each kind.
    pub(crate) sentences: Vec<String>,
}

/// What there is to tell of every change that can be made.
pub(crate) fn told(own: &JobPlan, weighed: &[Weighed], units: Units) -> Told {
    let (mut fitting, mut rows) = (Vec::<(String, Vec<Vec<String>>)>::new(), Vec::new());
    let (mut without_effect, mut found_for) = (Vec::new(), Vec::new());
    for (one, plan, saving) in ranked(own, weighed) {
        let row = Compared { own, plan, units }.row(&one.what, &saving);
        let saves = match &saving.money {
            Some(money) if !money.amount.is_zero() => money.amount.is_sign_positive(),
            _ => saving.length > least_told(units),
        };
        match (fits_then(own, plan), row) {
            (_, None) => without_effect.push(one.what.clone()),
            (_, Some(_)) if one.about == About::More && saves => found_for.push(one.what.clone()),
            (Some(remnant), Some(row)) => match fitting.iter_mut().find(|(name, _)| *name == remnant) {
                Some((_, rows)) => rows.push(row),
                None => fitting.push((remnant, vec![row])),
            },
            (None, Some(row)) => rows.push(row),
        }
    }
    let table = |caption: String, rows: Vec<Vec<String>>| {
        let columns = vec![
            Column::words("change"),
            Column::words("buy then"),
            Column::figures("whole job"),
            Column::figures("money"),
            Column::figures("layout"),
        ];
        (!rows.is_empty()).then(|| Table { caption, columns, rows }.without_empty_columns())
    };
    let fitting = fitting.into_iter().map(|(remnant, rows)| (format!("What would make it fit {remnant}"), rows));
    let rows = ("What one change would save or cost".to_owned(), rows);
    let listed = |what: Vec<String>| (!what.is_empty()).then(|| what.join("; "));
    let sentences = [
        listed(without_effect).map(|all| format!("No difference: {all}.")),
        listed(found_for).map(|all| {
            format!("More is asked and a shorter layout was found, which a longer search may find for the job itself: {all}.")
        }),
    ];
    Told {
        tables: fitting.chain([rows]).filter_map(|(caption, rows)| table(caption, rows)).collect(),
        sentences: sentences.into_iter().flatten().collect(),
    }
}

/// The remnant, in quotes, that everything of some cloth fits with the change and does not without; of several the one that is cut from.
fn fits_then(own: &JobPlan, changed: &JobPlan) -> Option<String> {
    let fits = |plan: &JobPlan, role: &str| {
        let mut cloths = plan.of_role(role);
        let remnant = cloths.next().and_then(|cloth| cloth.fabric.cloth.remnant.as_ref());
        remnant.filter(|_| cloths.next().is_none()).map(|remnant| format!("\"{}\"", remnant.name))
    };
    let mut roles = changed.cloths.iter().map(|cloth| cloth.fabric.role.as_str());
    roles.find_map(|role| {
        fits(changed, role).filter(|_| own.of_role(role).next().is_some() && fits(own, role).is_none())
    })
}

/// What no tape tells of a layout, mm.
pub(crate) fn least_told(units: Units) -> f64 {
    match units {
        Units::Inches => 25.4 / 8.0,
        Units::Centimetres => 3.0,
    }
}

/// A changed job beside the job itself.
struct Compared<'a> {
    own: &'a JobPlan,
    plan: &'a JobPlan,
    units: Units,
}

impl Compared<'_> {
    /// What the change comes to; `None` where it makes no difference.
    fn row(&self, what: &str, saving: &Saving) -> Option<Vec<String>> {
        let mut bought = self.bought_otherwise();
        let layout = self.lengths();
        let paid = saving.money.as_ref().filter(|money| !money.amount.is_zero());
        if bought.is_empty() && paid.is_some() {
            bought = self.paid_otherwise();
        }
        if bought.is_empty() && layout.is_empty() && paid.is_none() {
            return None;
        }
        let or_same = |said: Vec<String>| if said.is_empty() { "the same".to_owned() } else { said.join(", ") };
        Some(vec![
            what.to_owned(),
            or_same(bought),
            self.plan.total().map(|total| total.to_string()).unwrap_or_default(),
            saving.money.as_ref().map(money_words).unwrap_or_default(),
            or_same(layout),
        ])
    }

    /// The roles of both, in the order of the job.
    fn roles(&self) -> Vec<&str> {
        let mut roles: Vec<&str> = Vec::new();
        for cloth in self.own.cloths.iter().chain(&self.plan.cloths) {
            if !roles.contains(&cloth.fabric.role.as_str()) {
                roles.push(&cloth.fabric.role);
            }
        }
        roles
    }

    /// "main 2 3/8 yd", "Bias binding 2 packs": each cloth and notion of which something else is bought, or that is cut from other remnants: "main nothing, it
    /// fits \"sail bag\"".
    fn bought_otherwise(&self) -> Vec<String> {
        let cloths = self.roles().into_iter().filter_map(|role| {
            match (bought_words(self.own, role), bought_words(self.plan, role)) {
                (own, Some(then)) if own.as_ref() != Some(&then) => Some(format!("{role} {then}")),
                (Some(_), None) => Some(format!("no {role}")),
                _ => None,
            }
        });
        let (own, then) = (&self.own.spending.supplies, &self.plan.spending.supplies);
        let like = |among: &[Supply], one: &Supply| among.iter().find(|other| other.name == one.name).cloned();
        let is_same = |a: &Supply, b: &Supply| {
            (a.is_at_home(), a.bought(), &a.size, a.sold) == (b.is_at_home(), b.bought(), &b.size, b.sold)
        };
        let changed = then.iter().filter(|one| like(own, one).is_none_or(|before| !is_same(&before, one)));
        let changed = changed.map(|one| {
            let bought = if one.is_at_home() { "nothing".to_owned() } else { one.bought_words(self.units) };
            format!("{} {bought}", supplies::what(one))
        });
        let gone = own.iter().filter(|one| like(then, one).is_none()).map(|one| format!("no {}", supplies::what(one)));
        cloths.chain(changed).chain(gone).collect()
    }

    /// Each line of the bill on which something else stands.
    fn paid_otherwise(&self) -> Vec<String> {
        let (own, then) = (self.own.bill(), self.plan.bill());
        let cost = |line: &BillLine| line.cost.as_ref().map_or_else(|| "no price".to_owned(), ToString::to_string);
        let lines = then.lines().iter().filter(|line| !own.lines().contains(line));
        lines.map(|line| format!("{} {}", line.what, cost(line))).collect()
    }

    /// "12 cm shorter" where one cloth is cut; else which, "main 12 cm shorter". What no tape tells is left out, and so is cloth that is cut from remnants in one of
    /// the two alone.
    fn lengths(&self) -> Vec<String> {
        let length = |plan: &JobPlan, role: &str| -> Option<f64> {
            plan.of_role(role)
                .map(off_the_roll)
                .collect::<Option<Vec<f64>>>()
                .filter(|all| !all.is_empty())
                .map(|all| all.iter().sum())
        };
        let roles = self.roles();
        let differences =
            roles.iter().filter_map(|role| Some((*role, length(self.own, role)? - length(self.plan, role)?)));
        let told = differences.filter(|(_, shorter)| shorter.abs() >= least_told(self.units));
        told.map(|(role, shorter)| {
            let said = length_words(shorter, self.units);
            if roles.len() > 1 { format!("{role} {said}") } else { said }
        })
        .collect()
    }
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
