//! The cloths that a part may be made of, one beside the other: how much of each, what the whole job costs with it, which is cheapest.

use ellwand_garment::{Fabric, Money, Units, by_width_table, format_length, format_length_up, format_yardage};
use ellwand_planner::{ClothPlan, JobPlan};

use crate::{Column, Impossible, Row, Table, lay_word};

/// The cloths that one part may be made of.
#[derive(Debug)]
pub struct Considered {
    /// The part.
    pub role: String,
    /// Each of them, the job's own first.
    pub cloths: Vec<Candidate>,
}

/// A cloth that a part may be made of.
#[derive(Debug)]
pub struct Candidate {
    /// The cloth.
    pub fabric: Fabric,
    /// The whole job made of it, or why it cannot be.
    pub answer: Result<JobPlan, Impossible>,
}

/// What stands out among the cloths of one part.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Standing {
    /// No other makes the job cheaper.
    pub cheapest: bool,
    /// Of no other is a shorter piece used.
    pub shortest: bool,
    /// The piece at home is enough.
    pub at_home: bool,
    /// Some of it is cut from remnants, and the figures are those of what is bought.
    pub beside_remnants: bool,
}

impl Considered {
    /// How each of the cloths stands; none is cheapest unless every price is known and in one currency.
    pub fn standings(&self) -> Vec<Standing> {
        let plans: Vec<Option<&JobPlan>> = self.cloths.iter().map(|cloth| cloth.answer.as_ref().ok()).collect();
        let totals: Vec<Option<Money>> = plans.iter().map(|plan| plan.and_then(total)).collect();
        let used = |plan: &JobPlan| cloth_of(plan, &self.role).map(|cloth| cloth.layout().length);
        let least = totals.iter().flatten().map(|total| total.amount).min();
        let comparable = plans.iter().zip(&totals).all(|(plan, total)| plan.is_none() || total.is_some())
            && totals.iter().flatten().all(|one| totals.iter().flatten().all(|other| one.minus(other).is_some()));
        let shortest = plans.iter().flatten().filter_map(|plan| used(plan)).fold(f64::INFINITY, f64::min);
        let several = plans.iter().flatten().count() > 1;
        (plans.iter().zip(&totals))
            .map(|(plan, total)| {
                let Some(plan) = plan else { return Standing::default() };
                let at_home = cloth_of(plan, &self.role).is_some_and(|cloth| cloth.layout().purchase.is_at_home());
                let beside_remnants = plan.of_role(&self.role).count() > 1;
                Standing {
                    cheapest: several && comparable && total.as_ref().map(|total| total.amount) == least,
                    shortest: several && used(plan).is_some_and(|length| length <= shortest),
                    at_home,
                    beside_remnants,
                }
            })
            .collect()
    }

    /// What the published width table has for each of the cloths, from what is bought of the first, mm.
    pub fn by_width_table(&self) -> Vec<Option<f64>> {
        let bought = |fabric: &Fabric| fabric.cloth.width / (1.0 - fabric.shrinkage.across);
        let known = self.cloths.first().and_then(|first| {
            let plan = first.answer.as_ref().ok()?;
            let all_bought = plan.stash(&self.role).map(|stash| &stash.all_bought);
            let needed = all_bought.or_else(|| cloth_of(plan, &self.role))?.layout().purchase.needed;
            Some((needed, bought(&first.fabric)))
        });
        let of =
            |cloth: &Candidate| known.and_then(|(needed, from)| by_width_table(needed, from, bought(&cloth.fabric)));
        self.cloths.iter().enumerate().map(|(k, cloth)| if k == 0 { None } else { of(cloth) }).collect()
    }
}

/// What the whole job costs, where every price is known and in one currency.
pub fn total(plan: &JobPlan) -> Option<Money> {
    plan.total()
}

fn cloth_of<'p>(plan: &'p JobPlan, role: &str) -> Option<&'p ClothPlan> {
    plan.from_the_roll(role)
}

/// One row a cloth.
pub(crate) fn table(considered: &Considered, units: Units) -> Table {
    let tabled = considered.by_width_table();
    let knows = tabled.iter().any(Option::is_some);
    let words = [considered.role.as_str(), "width", "layout"].map(Column::words).into_iter();
    let mut columns: Vec<Column> =
        words.chain(["used", "buy", "cost", "whole job", "room"].map(Column::figures)).collect();
    if knows {
        columns.push(Column::figures("by table"));
    }
    columns.push(Column::words(""));
    let standings = considered.standings();
    let rows = (considered.cloths.iter().zip(standings).zip(tabled)).map(|((cloth, standing), tabled)| {
        let mut row = row(&considered.role, cloth, units);
        if knows {
            row.push(tabled.map(|mm| format_yardage(mm, units)).unwrap_or_default());
        }
        row.push(standing_words(standing));
        row
    });
    Table { caption: format!("What {} may be made of", considered.role), columns, rows: rows.collect() }
}

fn row(role: &str, Candidate { fabric, answer }: &Candidate, units: Units) -> Vec<String> {
    let width = format_length(fabric.cloth.width / (1.0 - fabric.shrinkage.across), units);
    let first = |said: &str| vec![fabric.cloth.name.clone(), width.clone(), said.to_owned()];
    let (plan, cloth) = match answer.as_ref().map(|plan| (plan, cloth_of(plan, role))) {
        Ok((plan, Some(cloth))) => (plan, cloth),
        Ok((_, None)) => return [first("not cut"), vec![String::new(); 5]].concat(),
        Err(why) => return [first(why.verdict()), vec![String::new(); 5]].concat(),
    };
    let layout = cloth.layout();
    let purchase = &layout.purchase;
    let said = [
        format_length_up(layout.length, units),
        purchase.buy_text.clone(),
        purchase.cost.as_ref().map(ToString::to_string).unwrap_or_default(),
        total(plan).map(|total| total.to_string()).unwrap_or_default(),
        format!("{:.1} %", 100.0 * layout.gap()),
    ];
    [first(lay_word(layout)), said.to_vec()].concat()
}

fn standing_words(Standing { cheapest, shortest, at_home, beside_remnants }: Standing) -> String {
    let said = [
        (cheapest, "cheapest"),
        (shortest, "shortest"),
        (at_home, "at home"),
        (beside_remnants, "the rest from remnants"),
    ];
    said.iter().filter(|(is, _)| *is).map(|(_, word)| *word).collect::<Vec<_>>().join(", ")
}

/// What there is to say of single cloths: why some will not do, and what is short of the piece at home.
pub(crate) fn remarks(considered: &Considered, units: Units) -> Vec<Row> {
    let of = |cloth: &Candidate| {
        let lines = match &cloth.answer {
            Err(why) => why.reasons(units),
            Ok(plan) => cloth_of(plan, &considered.role)
                .and_then(|cloth| crate::what_to_buy::on_hand_is_short(cloth, units))
                .map(|row| row.lines)
                .unwrap_or_default(),
        };
        Row::of_lines(format!("{}, {}", considered.role, cloth.fabric.cloth.name), lines)
    };
    considered.cloths.iter().filter_map(of).collect()
}

/// What the columns mean that do not say it themselves.
pub(crate) const ABOUT_THE_COLUMNS: &str = "\"whole job\" is what everything costs with that cloth; \"room\" is by how much a layout could be shorter at most.";

/// What the column of the width table means; nothing where it stands nowhere.
pub(crate) fn about_the_width_table(considered: &[Considered]) -> Option<&'static str> {
    considered.iter().any(|one| one.by_width_table().iter().any(Option::is_some)).then_some(
        "\"by table\" is what the usual table of equivalent lengths has for that width in place of what the first cloth takes; it knows no nap, no \
         design and no alteration.",
    )
}
