//! What is cut from several remnants, and from the cloth of the shop only what has no place on them.
//!
//! One search of all of them together ([`joined`](super::joined)) decides what is cut from which; then each is a question of its own, searched and checked like
//! any other. A remnant that saves no step of the shop is left whole, and so are all where they save none together. Pieces between which the design is
//! matched are cut from the cloth of the shop: what lies on two pieces of cloth shows it at two places.

use ellwand_garment::{CutOrder, Layers, Layout, Portion, Question, Remnant};

use super::{RemnantPlan, Verdict, joined::Joined, proof::WhyNot};
use crate::{
    ClothPlan, MatchingCost, PlanError,
    cloth::plan_ways_of,
    lay_plan::lay_plan,
    matching_cost::Weighing,
    pace::{Purpose, Shares},
};

/// So many remnants are joined at most: the largest.
const MOST: usize = 12;

/// What the searches of a spread come to where so many remnants are there.
pub(super) fn shares(remnants: usize) -> Shares {
    // All joined, the rest from the shop, and each remnant with it or without.
    let joined = remnants.min(MOST);
    if remnants == 0 { Shares::NONE } else { Shares::WHOLE.times(2 + joined).and(Shares::PRICE.times(joined)) }
}

/// One remnant and what is cut from it.
struct Used<'a> {
    /// Its place among those that are joined.
    place: usize,
    remnant: &'a RemnantPlan,
    /// The cuts on it, as it lies alone.
    known: Layout,
}

/// The pieces of cloth that everything is cut from with less to buy than `bought`, remnants first; `None` where they save no step of the shop.
///
/// # Errors
///
/// A fault of the program.
pub(super) fn spread(
    weighing: &Weighing,
    bought: &ClothPlan,
    remnants: &[RemnantPlan],
) -> Result<Option<Vec<ClothPlan>>, PlanError> {
    match spread_out(weighing, bought, remnants) {
        Err(fault) if fault.is_of_the_question() => Ok(None),
        answer => answer,
    }
}

fn spread_out(
    weighing: &Weighing,
    bought: &ClothPlan,
    remnants: &[RemnantPlan],
) -> Result<Option<Vec<ClothPlan>>, PlanError> {
    let desk = weighing.desk;
    let whole = weighing.cloth.question(Layers::Open)?.on(bought.fabric.clone());
    let movable = unmatched(&whole);
    let useful = largest(remnants, bought);
    if movable.is_empty() || useful.is_empty() || bought.layout().purchase.buy == 0.0 {
        return Ok(None);
    }
    let pieces: Vec<&Remnant> = useful.iter().map(|plan| plan.remnant()).collect();
    let Some(joined) = Joined::of(&pieces, &bought.fabric, bought.layout().length) else { return Ok(None) };
    let fabric = bought.fabric.on_remnant(&joined.cloth);
    let layers = fabric.layer.ways().first().copied().unwrap_or(Layers::Open);
    let asked = whole.on(fabric).laid(layers).of_share(movable);
    let known: Vec<Layout> =
        bought.layouts().map(|layout| joined.with_all_bought(layout, &asked.fabric.cloth)).collect();
    let found = lay_plan(&asked, &known, Purpose::Layout, desk)?.layout;

    let mut used: Vec<Used> = Vec::new();
    for (place, &remnant) in useful.iter().enumerate() {
        let known = joined.on_remnant(place, &found, &remnant.fabric.cloth);
        if !known.cuts.is_empty() {
            used.push(Used { place, remnant, known });
        }
    }
    let known = joined.on_shop(&found, &bought.fabric.cloth);
    let Some(mut rest) = rest_of(&whole, &used, &[known], Purpose::Layout, weighing)? else {
        return Ok(if used.is_empty() { None } else { Some(on_remnants(&whole, used, weighing)?) });
    };
    if rest.layout().purchase.buy >= bought.layout().purchase.buy {
        return Ok(None);
    }
    // The remnant with the least on it is spared first.
    used.sort_by(|a, b| area(&b.known).total_cmp(&area(&a.known)));
    let mut kept = Vec::with_capacity(used.len());
    while let Some(one) = used.pop() {
        let others: Vec<&Used> = kept.iter().chain(&used).collect();
        let without = rest_of_these(&whole, &others, &[], Purpose::Price, weighing)?;
        match without {
            Some(without) if without.layout().purchase.buy <= rest.layout().purchase.buy => rest = without,
            _ => kept.push(one),
        }
    }
    kept.sort_by_key(|one| one.place);
    let mut cloths = on_remnants(&whole, kept, weighing)?;
    if let Some(cost) = &bought.matching {
        let unmatched = without_matches(&whole, &rest, weighing)?;
        rest.matching =
            Some(MatchingCost { unmatched, prices: Vec::new(), given_up: cost.given_up.clone(), cheaper: Vec::new() });
    }
    // Who pays how much of what is bought goes by all that each garment takes.
    rest.alone = bought.alone.clone();
    cloths.push(rest);
    Ok(Some(cloths))
}

/// The shortest layout of the same pieces as `rest` with nothing to match.
fn without_matches(whole: &Question, rest: &ClothPlan, weighing: &Weighing) -> Result<Layout, PlanError> {
    let mut asked = whole.of_share(cut_of(rest.layout()));
    asked.fabric.matching.matches.clear();
    let known: Vec<Layout> = rest.layouts().cloned().collect();
    Ok(plan_ways_of(&asked, &known, Purpose::Price, weighing.desk)?.plan.layout)
}

/// The copies that no match speaks of.
fn unmatched(question: &Question) -> Vec<Portion> {
    let rules = || question.fabric.matching.matches.iter().flat_map(|wanted| &wanted.rules);
    let is_matched = |piece: &str| rules().any(|rule| rule.pieces().any(|of| of == piece));
    let orders = question.orders().into_iter().filter(|order| !is_matched(&order.piece.name));
    orders.map(|order| portion(&order)).collect()
}

fn portion(order: &CutOrder) -> Portion {
    Portion { piece: order.piece.name.clone(), copies: order.copies.clone() }
}

/// The largest of the remnants that have room for something, in the order of the job.
fn largest<'a>(remnants: &'a [RemnantPlan], bought: &ClothPlan) -> Vec<&'a RemnantPlan> {
    let has_room = |plan: &&RemnantPlan| !matches!(&plan.verdict, Verdict::CannotFit(WhyNot::NoRoom { all: true, .. }));
    let area = |plan: &RemnantPlan| plan.remnant().usable_area(bought.fabric.cloth.selvage);
    let mut useful: Vec<(usize, &RemnantPlan)> = remnants.iter().filter(has_room).enumerate().collect();
    useful.sort_by(|(_, a), (_, b)| area(b).total_cmp(&area(a)));
    useful.truncate(MOST);
    useful.sort_by_key(|(place, _)| *place);
    useful.into_iter().map(|(_, plan)| plan).collect()
}

fn area(layout: &Layout) -> f64 {
    layout.cuts.iter().map(|cut| cut.outline.area()).sum()
}

/// What a layout cuts, piece by piece.
fn cut_of(layout: &Layout) -> Vec<Portion> {
    let mut portions: Vec<Portion> = Vec::new();
    for cut in &layout.cuts {
        match portions.iter_mut().find(|portion| portion.piece == cut.piece) {
            Some(portion) => portion.copies.push(cut.copy),
            None => portions.push(Portion { piece: cut.piece.clone(), copies: vec![cut.copy] }),
        }
    }
    portions.iter_mut().for_each(|portion| portion.copies.sort_unstable());
    portions
}

/// What is left for the cloth of the shop where `used` are cut from; `None` where nothing is.
fn rest_of(
    whole: &Question,
    used: &[Used],
    known: &[Layout],
    purpose: Purpose,
    weighing: &Weighing,
) -> Result<Option<ClothPlan>, PlanError> {
    rest_of_these(whole, &used.iter().collect::<Vec<_>>(), known, purpose, weighing)
}

fn rest_of_these(
    whole: &Question,
    used: &[&Used],
    known: &[Layout],
    purpose: Purpose,
    weighing: &Weighing,
) -> Result<Option<ClothPlan>, PlanError> {
    let taken: Vec<Portion> = used.iter().flat_map(|one| cut_of(&one.known)).collect();
    let is_taken = |piece: &str, copy: u32| taken.iter().any(|of| of.piece == piece && of.copies.contains(&copy));
    let left = whole.orders().into_iter().filter_map(|order| {
        let mut left = portion(&order);
        left.copies.retain(|&copy| !is_taken(&left.piece, copy));
        (!left.copies.is_empty()).then_some(left)
    });
    let left: Vec<Portion> = left.collect();
    if left.is_empty() {
        return Ok(None);
    }
    plan_ways_of(&whole.of_share(left), known, purpose, weighing.desk).map(Some)
}

/// A checked layout of each remnant that is used.
fn on_remnants(whole: &Question, used: Vec<Used>, weighing: &Weighing) -> Result<Vec<ClothPlan>, PlanError> {
    let of_one = |one: Used| {
        let asked = whole.on(one.remnant.fabric.clone()).laid(one.known.layers).of_share(cut_of(&one.known));
        let plan = lay_plan(&asked, &[one.known], Purpose::Layout, weighing.desk)?;
        Ok(ClothPlan {
            fabric: one.remnant.fabric.clone(),
            plan,
            other: None,
            matching: None,
            alone: Vec::new(),
            one_after_the_other: None,
        })
    };
    used.into_iter().map(of_one).collect()
}
