//! The spreads that are worth a look in each way of laying.

use ellwand_garment::{Cloth, CutOrder, Portion, Question, Way};

use super::parts::Parts;
use crate::prepare::{
    copies::Copies,
    place::{Place, Room},
    spread::{Doubled, Spread, Turned},
};

/// Depths of folds that differ by less are one, mm.
const SAME_DEPTH: f64 = 1.0;
/// The least that is folded over along the cloth, mm: less is not pressed straight by hand. Common practice, without a source.
const LEAST_DEPTH: f64 = 50.0;
/// Most depths that are looked at.
const MOST_DEPTHS: usize = 6;
/// So many orders can be parted in every way.
const FEW: usize = 4;
/// A fold that lies on an axis of a design, mm: rounding only.
const ON_AXIS: f64 = 1e-6;

/// Every spread of a question that is worth a look, in a fixed order.
pub(super) fn candidates<'q>(question: &Question<'q>) -> Vec<Parts<'q>> {
    let whole = |spread: Spread| Parts(vec![(question.clone(), spread)]);
    match question.way {
        Way::OffCentre => {
            let middle = question.fabric.cloth.centre_fold();
            let depths = depths(question, middle).into_iter().chain([middle]);
            let spread =
                |at: f64| ways_to_double(question).into_iter().map(move |doubled| Spread::folded(vec![at], doubled));
            depths.flat_map(spread).map(whole).collect()
        }
        Way::ToTheMiddle => {
            let half = question.fabric.cloth.width / 2.0;
            let deep = depths(question, half);
            // What just fills the one edge folded in, or the other, or both of them alike.
            let lefts = deep.iter().copied().chain(deep.iter().map(|depth| half - depth)).chain([half / 2.0]);
            let is_deep = |[left, right]: [f64; 2]| left.min(question.fabric.cloth.width - right) >= LEAST_DEPTH;
            let is_used = |folds: &[f64; 2]| is_deep(*folds) && folds.iter().all(|&at| has_use(question, at));
            let folds = lefts.filter_map(|left| both_folds(question, left)).filter(is_used);
            let mut all: Vec<[f64; 2]> = Vec::new();
            for folds in folds {
                if !all.iter().any(|known| (known[0] - folds[0]).abs() < SAME_DEPTH) {
                    all.push(folds);
                }
            }
            all.into_iter().map(|folds| whole(Spread::folded(folds.to_vec(), Doubled::WithRoom))).collect()
        }
        // What is cut from one layer lies in either half too, so that neither reaches beyond the other.
        Way::Crosswise => vec![whole(Spread::halves(question, Turned::Over))],
        Way::CutAndTurned => vec![whole(Spread::halves(question, Turned::EndForEnd))],
        Way::PartFolded => part_folded(question),
        Way::Open | Way::CentreFold => vec![whole(Spread::of(question))],
    }
}

/// All pairs and fold pieces that have room, and where there are both, the fold pieces alone.
fn ways_to_double(question: &Question) -> Vec<Doubled> {
    let orders = question.orders();
    let on_fold = orders.iter().any(|order| order.rule.on_fold);
    if on_fold && orders.iter().any(Copies::come_in_pairs) {
        vec![Doubled::WithRoom, Doubled::OnFold]
    } else {
        vec![Doubled::WithRoom]
    }
}

/// Whether something has room on a fold, or through both layers of it.
fn has_use(question: &Question, at: f64) -> bool {
    question.orders().iter().any(|order| has_room(question, order, at))
}

/// Whether an order is cut double and has room there.
fn has_room(question: &Question, order: &CutOrder, at: f64) -> bool {
    let place = if order.rule.on_fold { Place::OnFold(at) } else { Place::Across(at) };
    let is_double = order.rule.on_fold || Copies::come_in_pairs(order);
    is_double && place.has_room(order, &Room::of(question))
}

/// Where a fold short of `most` may lie, from the left edge: pieces that are cut double, side by side, and the half of one on the fold, just fill what is
/// folded over. On an even design, on the next axis of it.
fn depths(question: &Question, most: f64) -> Vec<f64> {
    let cloth = &question.fabric.cloth;
    let (left, gap) = (question.usable().0, cloth.piece_gap);
    let width = |order: &CutOrder| order.piece.outline.bounds().width();
    let orders = question.orders();
    let pairs: Vec<f64> = orders.iter().filter(|order| Copies::come_in_pairs(order)).map(width).collect();
    let halves: Vec<f64> = orders.iter().filter(|order| order.rule.on_fold).map(|order| width(order) / 2.0).collect();
    let mut beside: Vec<f64> = vec![0.0];
    for (index, one) in pairs.iter().enumerate() {
        beside.push(one + gap);
        beside.extend(pairs[index..].iter().map(|other| one + other + 2.0 * gap));
    }
    let mut depths: Vec<f64> = Vec::new();
    for row in beside {
        depths.extend(halves.iter().map(|half| row + half));
        // Two copies through both layers keep their distance from each other too: half of it to the fold.
        depths.extend((row > 0.0).then_some(row - gap / 2.0));
    }
    let deep = |depth: f64| on_axis(cloth, (left + depth).max(LEAST_DEPTH));
    let mut folds: Vec<f64> = depths.into_iter().map(deep).filter(|&at| at > left && at < most).collect();
    folds.sort_by(f64::total_cmp);
    folds.dedup_by(|next, known| (*next - *known).abs() < SAME_DEPTH);
    let every = folds.len().div_ceil(MOST_DEPTHS).max(1);
    // Deep folds cut more double: of too many the deepest of each few.
    folds.into_iter().rev().step_by(every).collect()
}

/// The nearest place no less deep than `at` in which the cloth may be folded.
fn on_axis(cloth: &Cloth, at: f64) -> f64 {
    let Some((design, repeat)) = cloth.design.as_ref().and_then(|design| Some((design, design.across.as_ref()?)))
    else {
        return at;
    };
    match repeat.mirror_axis_near(at, design.fold_on) {
        Some(axis) if axis < at - ON_AXIS => axis + repeat.every,
        Some(axis) => axis,
        None => at,
    }
}

/// Both folds when the left edge is folded in at `left` and the other edge comes to lie against it, or as near as the design allows.
fn both_folds(question: &Question, left: f64) -> Option<[f64; 2]> {
    let cloth = &question.fabric.cloth;
    let (from, to) = question.usable();
    let left = on_axis(cloth, left);
    let right = on_axis(cloth, left + cloth.width / 2.0);
    (left > from && left < right && right < to).then_some([left, right])
}

/// What is cut from the folded part, the rest being cut from one layer after it.
fn part_folded<'q>(question: &Question<'q>) -> Vec<Parts<'q>> {
    let middle = question.fabric.cloth.centre_fold();
    let orders = question.orders();
    let double: Vec<&CutOrder> = orders.iter().filter(|order| has_room(question, order, middle)).collect();
    let is_double = |order: &&CutOrder| double.iter().any(|known| known.piece.name == order.piece.name);
    let is_single = |order: &&CutOrder| !order.rule.on_fold && !Copies::come_in_pairs(order);
    let mut folded: Vec<Vec<&CutOrder>> = vec![
        double.clone(),
        orders.iter().filter(|order| is_double(order) || is_single(order)).collect(),
        double.iter().copied().filter(|order| order.rule.on_fold).collect(),
    ];
    let singles: Vec<&CutOrder> = orders.iter().filter(is_single).collect();
    for part in some_of(&double) {
        folded.push(part.clone());
        folded.push(part.into_iter().chain(singles.iter().copied()).collect());
    }
    // In the order of the view, so that one part is told once.
    for part in &mut folded {
        part.sort_by_key(|order| order.number);
    }
    let mut all: Vec<Vec<&CutOrder>> = Vec::new();
    for part in folded {
        let cuts_double = part.iter().any(is_double);
        if cuts_double && part.len() < orders.len() && !all.contains(&part) {
            all.push(part);
        }
    }
    let portion = |order: &CutOrder| Portion { piece: order.piece.name.clone(), copies: order.copies.clone() };
    let parts = |part: Vec<&CutOrder>| {
        let rest = orders.iter().filter(|order| !part.contains(order)).map(portion).collect();
        let first = question.of_share(part.iter().map(|order| portion(order)).collect());
        let folded = Spread::folded(vec![middle], Doubled::WithRoom);
        Parts(vec![(first, folded), (question.of_share(rest), Spread::open())])
    };
    all.into_iter().map(parts).collect()
}

/// Some choices among orders: all of them where they are few, else the largest ones and the smallest.
fn some_of<'a, 'q>(orders: &[&'a CutOrder<'q>]) -> Vec<Vec<&'a CutOrder<'q>>> {
    if orders.len() <= FEW {
        let chosen = |set: usize| orders.iter().enumerate().filter(move |(k, _)| set >> k & 1 == 1);
        return (0..1 << orders.len()).map(|set| chosen(set).map(|(_, &order)| order).collect()).collect();
    }
    let mut by_area = orders.to_vec();
    by_area.sort_by(|a, b| b.piece.outline.area().total_cmp(&a.piece.outline.area()));
    let at = (0..=FEW).map(|part| by_area.len() * part / FEW);
    at.flat_map(|at| [by_area[..at].to_vec(), by_area[at..].to_vec()]).collect()
}
