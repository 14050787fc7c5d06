//! What is cut from several remnants, and from the cloth of the shop only what has no place on them.
//!
//! One search of all of them together ([`joined`](super::joined)) decides what is cut from which; then each is a question of its own, searched and checked like
//! any other. A remnant that saves no step of the shop is left whole, and so are all where they save none together. Pieces between which the design is
//! matched are cut from the cloth of the shop: what lies on two pieces of cloth shows it at two places.

use ellwand_garment::{CutOrder, Fabric, Layout, Portion, Question, Remnant, Way};

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

/// What the searches of a spread come to on this cloth.
pub(super) fn shares(fabric: &Fabric) -> Shares {
    let (joined, ways) = (fabric.remnants.len().min(MOST), fabric.ways.ways().len());
    if joined == 0 {
        return Shares::NONE;
    }
    // All joined and each remnant by itself; the rest from the shop; that with each remnant left whole, and with nothing matched.
    Shares::WHOLE.times(1 + joined + ways).and(Shares::PRICE.times(ways * (joined + 1)))
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
    let whole = weighing.cloth.question(Way::Open)?.on(bought.fabric.clone());
    let movable = unmatched(&whole);
    let useful = largest(remnants, bought);
    if movable.is_empty() || useful.is_empty() || bought.layout().purchase.buy == 0.0 {
        return Ok(None);
    }
    let Some(Parted { mut used, rest }) = parted(weighing, bought, &useful)? else { return Ok(None) };
    let Some(mut rest) = rest else {
        return on_remnants(&whole, fewest(weighing, bought, used)?, weighing);
    };
    if used.is_empty() || rest.layout().purchase.buy >= bought.layout().purchase.buy {
        return Ok(None);
    }
    // The remnant with the least on it is spared first.
    used.sort_by(|a, b| area(&b.known).total_cmp(&area(&a.known)));
    let mut kept = Vec::with_capacity(used.len());
    while let Some(one) = used.pop() {
        let others: Vec<&Used> = kept.iter().chain(&used).collect();
        let without = rest_of(&whole, &others, &[], Purpose::Price, weighing)?;
        match without {
            Some(without) if without.layout().purchase.buy <= rest.layout().purchase.buy => rest = without,
            _ => kept.push(one),
        }
    }
    kept.sort_by_key(|one| one.place);
    let Some(mut cloths) = on_remnants(&whole, kept, weighing)? else { return Ok(None) };
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

/// What is cut from each of several remnants, and from the cloth of the shop.
struct Parted<'a> {
    used: Vec<Used<'a>>,
    /// Nothing where everything has room on the remnants.
    rest: Option<ClothPlan>,
}

/// Lays everything on these remnants and the cloth of the shop; nothing where they cannot be joined.
fn parted<'a>(
    weighing: &Weighing,
    bought: &ClothPlan,
    remnants: &[&'a RemnantPlan],
) -> Result<Option<Parted<'a>>, PlanError> {
    let whole = weighing.cloth.question(Way::Open)?.on(bought.fabric.clone());
    let pieces: Vec<&Remnant> = remnants.iter().map(|plan| plan.remnant()).collect();
    let Some(joined) = Joined::of(&pieces, &bought.fabric, bought.layout().length) else { return Ok(None) };
    let fabric = bought.fabric.on_remnant(&joined.cloth);
    let way = fabric.ways.ways().first().copied().unwrap_or(Way::Open);
    let asked = whole.on(fabric).laid(way).of_share(unmatched(&whole));
    let known: Vec<Layout> =
        bought.layouts().map(|layout| joined.with_all_bought(layout, &asked.fabric.cloth)).collect();
    let found = lay_plan(&asked, &known, Purpose::Layout, weighing.desk)?.layout;
    let mut used: Vec<Used> = Vec::new();
    for (place, &remnant) in remnants.iter().enumerate() {
        let known = joined.on_remnant(place, &found, &remnant.fabric.cloth);
        if !known.cuts.is_empty() {
            used.push(Used { place, remnant, known });
        }
    }
    let known = joined.on_shop(&found, &bought.fabric.cloth);
    let rest = rest_of(&whole, &used.iter().collect::<Vec<_>>(), &[known], Purpose::Layout, weighing)?;
    Ok(Some(Parted { used, rest }))
}

/// Of remnants on which everything has room, no more than are needed for that as far as a search tells: the one with the least on it is left out first.
fn fewest<'a>(weighing: &Weighing, bought: &ClothPlan, used: Vec<Used<'a>>) -> Result<Vec<Used<'a>>, PlanError> {
    let mut used = used;
    let mut tried = 0;
    while tried < used.len() && used.len() > 1 {
        let mut by_area: Vec<usize> = (0..used.len()).collect();
        by_area.sort_by(|&a, &b| area(&used[a].known).total_cmp(&area(&used[b].known)));
        let spared = by_area[tried];
        let others: Vec<&RemnantPlan> =
            used.iter().enumerate().filter(|(k, _)| *k != spared).map(|(_, one)| one.remnant).collect();
        match parted(weighing, bought, &others)? {
            Some(Parted { used: fewer, rest: None }) => (used, tried) = (fewer, 0),
            _ => tried += 1,
        }
    }
    Ok(used)
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

/// A checked layout of each remnant that is used; nothing where one of them was not found again.
fn on_remnants(whole: &Question, used: Vec<Used>, weighing: &Weighing) -> Result<Option<Vec<ClothPlan>>, PlanError> {
    let mut cloths = Vec::with_capacity(used.len());
    for one in used {
        let asked = whole.on(one.remnant.fabric.clone()).laid(one.known.way).of_share(cut_of(&one.known));
        let plan = lay_plan(&asked, &[one.known], Purpose::Layout, weighing.desk)?;
        // A judge lets pass what is longer than its remnant: it tells how much is lacking.
        if plan.layout.beyond_remnant() > 0.0 {
            return Ok(None);
        }
        let fabric = one.remnant.fabric.clone();
        cloths.push(ClothPlan {
            fabric,
            plan,
            others: Vec::new(),
            matching: None,
            alone: Vec::new(),
            one_after_the_other: None,
        });
    }
    Ok(Some(cloths))
}
