//! Where and how cuts may lie: off the selvages, on grain, with the nap, and on the fold as folded cloth is cut.

use super::{Answer, Lying, PLACE, matches::is_at_border, name};
use crate::{
    motion::{apart, same_ring},
    question::{Axis, ClothAsked, Grain, Hands, Laying, Rule, Way},
    record::{Cut, Fold, FoldAxis, Place},
};

/// Between the selvages and above the cut end; half a repeat farther in where the layout has to be moved to where the bars are.
pub(super) fn edges(answer: &Answer<'_>, say: &mut dyn FnMut(&'static str, String)) {
    let free = kept_free(answer);
    let [left, right] = answer.asked.sides.map(|selvage| selvage + free);
    let right = answer.asked.width - right;
    for cut in &answer.layout.cuts {
        for [x, y] in &cut.outline {
            let over = (left - x).max(x - right);
            if over > PLACE {
                say("selvage", format!("{} lies {over:.4} mm over a selvage", name(cut)));
                break;
            }
            if *y < -PLACE {
                say("selvage", format!("{} lies {:.4} mm over the cut end", name(cut), -y));
                break;
            }
        }
    }
}

/// What a layout may have to be moved by on cloth whose bars nobody measured across, mm: half a repeat, where something stands on the
/// design across or matched cloth is folded on an axis of it.
fn kept_free(answer: &Answer<'_>) -> f64 {
    let across = answer.asked.design.as_ref().and_then(|design| design.across.as_ref());
    let Some(repeat) = across.filter(|repeat| repeat.offset.is_none()) else { return 0.0 };
    let kept = || answer.asked.matches.iter().filter(|wanted| !answer.gave_up(&wanted.name));
    let stands = |rule: &Rule| matches!(rule, Rule::Stand(_, Axis::Across, _));
    let moved = !answer.layout.folds.is_empty() && kept().next().is_some()
        || kept().flat_map(|wanted| &wanted.rules).any(stands);
    if moved { repeat.every / 2.0 } else { 0.0 }
}

/// Each grainline as its piece and the cloth allow.
pub(super) fn grain(answer: &Answer<'_>, lying: &[Lying<'_>], say: &mut dyn FnMut(&'static str, String)) {
    let one_way = answer.asked.is_one_way();
    let slack = answer.asked.off_grain_deg + 1e-3;
    for lies in lying {
        let [low, high] = lies.cut.grainline;
        // From straight up the cloth, counter-clockwise.
        let angle = (low[0] - high[0]).atan2(high[1] - low[1]).to_degrees();
        let off = |wanted: f64| {
            let by = (angle - wanted).rem_euclid(360.0);
            by.min(360.0 - by)
        };
        let over = lies.cut.mirrored && lies.over.is_some();
        let allowed: &[f64] = match (lies.order.grain, one_way) {
            _ if is_at_border(answer, &lies.cut.piece) => &[90.0, 270.0],
            (Grain::Straight, true) => &[0.0],
            (Grain::Straight, false) => &[0.0, 180.0],
            (Grain::CrossAllowed, true) => &[0.0],
            (Grain::CrossAllowed, false) => &[0.0, 180.0, 90.0, 270.0],
            (Grain::Bias, false) => &[45.0, 135.0, 225.0, 315.0],
            // Left and right of the body shade alike.
            (Grain::Bias, true) if over => &[315.0],
            (Grain::Bias, true) => &[45.0],
        };
        let best = allowed.iter().map(|&wanted| off(wanted)).fold(f64::INFINITY, f64::min);
        if best > slack {
            say("grain", format!("the grainline of {} points {angle:.4} degrees off straight up", name(lies.cut)));
        }
    }
}

/// Laid as asked, and never as the cloth does not allow.
pub(super) fn laid(answer: &Answer<'_>, say: &mut dyn FnMut(&'static str, String)) {
    let (asked, folds) = (answer.asked, &answer.layout.folds);
    let ways = ways_of(answer);
    let is_so = match asked.laying {
        // Where nothing is cut double the cloth lies open; folded down the middle it is folded all the same.
        Laying::Only(way) => ways.contains(&way) || way != Way::CentreFold && ways.contains(&Way::Open),
        Laying::Either => ways.contains(&Way::Open) || ways.contains(&Way::CentreFold),
        Laying::Any => !ways.is_empty(),
    };
    if !is_so {
        say("fold", format!("{folds:?} on cloth that lies {:?}", asked.laying));
    }
    let crosswise = folds.iter().any(|fold| fold.axis == FoldAxis::Crosswise);
    if crosswise && asked.is_one_way() {
        say("fold", "cloth whose tops point one way is folded crosswise".to_owned());
    }
    let has = |way: Way| ways.contains(&way);
    let is_flat = has(Way::Open) || has(Way::CentreFold) || has(Way::OffCentre);
    if !is_flat && !has(Way::ToTheMiddle) && (!asked.flaws.is_empty() || asked.outline.is_some()) {
        say("fold", format!("{folds:?} on a remnant or on cloth with flaws"));
    }
    if !is_flat && asked.matches.iter().any(|wanted| !answer.gave_up(&wanted.name)) {
        say("fold", format!("{folds:?} on matched cloth"));
    }
    axes(answer, say);
    if let [left, right] = lengthwise(answer)[..] {
        // An edge that is folded in comes to lie twice as far in as its fold.
        let by = 2.0 * left.at - (2.0 * right.at - asked.width);
        if by > PLACE || left.at >= right.at {
            say("fold", format!("the two edges that are folded in lie on each other by {by:.4} mm"));
        }
    }
    borders(answer, say);
}

/// The ways in which cloth that is folded so may be said to be laid.
fn ways_of(answer: &Answer<'_>) -> Vec<Way> {
    let middle = fold_of(answer.asked, answer.layout.offset_across);
    let in_the_middle = |fold: &Fold| middle.iter().any(|at| (at - fold.at).abs() <= PLACE);
    let is_whole = |fold: &Fold| fold.from <= 0.0 && fold.to == f64::INFINITY;
    let axes: Vec<FoldAxis> = answer.layout.folds.iter().map(|fold| fold.axis).collect();
    match (&answer.layout.folds[..], &axes[..]) {
        // Folded no deeper than not at all, and no part of it.
        ([], _) => vec![Way::Open, Way::OffCentre, Way::PartFolded],
        ([fold], [FoldAxis::Lengthwise]) if !is_whole(fold) => {
            if in_the_middle(fold) {
                vec![Way::PartFolded]
            } else {
                Vec::new()
            }
        }
        ([fold], [FoldAxis::Lengthwise]) if in_the_middle(fold) => {
            vec![Way::CentreFold, Way::OffCentre, Way::PartFolded]
        }
        ([_], [FoldAxis::Lengthwise]) => vec![Way::OffCentre],
        ([one, other], [FoldAxis::Lengthwise, FoldAxis::Lengthwise]) if is_whole(one) && is_whole(other) => {
            vec![Way::ToTheMiddle]
        }
        ([fold], [FoldAxis::Crosswise]) if is_whole(fold) => vec![Way::Crosswise],
        ([fold], [FoldAxis::CutAndTurned]) if is_whole(fold) => vec![Way::CutAndTurned],
        _ => Vec::new(),
    }
}

fn lengthwise<'a>(answer: &'a Answer<'_>) -> Vec<&'a Fold> {
    answer.layout.folds.iter().filter(|fold| fold.axis == FoldAxis::Lengthwise).collect()
}

/// A fold lies on the cloth: along it on an axis of an even design, which has one on each bar and one midway between two.
fn axes(answer: &Answer<'_>, say: &mut dyn FnMut(&'static str, String)) {
    let (asked, layout) = (answer.asked, answer.layout);
    let across = asked.design.as_ref().and_then(|design| design.across.as_ref()).filter(|repeat| repeat.even);
    for fold in &layout.folds {
        let most = if fold.axis == FoldAxis::Lengthwise { asked.width } else { layout.length + PLACE };
        if !(fold.at > 0.0 && fold.at < most) {
            say("fold", format!("{fold:?} does not lie on the cloth"));
        }
    }
    if let Some(repeat) = across {
        let half = repeat.every / 2.0;
        for fold in lengthwise(answer) {
            let off = (fold.at - repeat.offset.or(layout.offset_across).unwrap_or(0.0)).rem_euclid(half);
            if off.min(half - off) > PLACE {
                say("fold", format!("the fold at {:.4} lies off every axis of the design", fold.at));
            }
        }
    }
}

/// From where to where a cut reaches along one axis.
fn reach(cut: &Cut, axis: usize) -> [f64; 2] {
    let along = || cut.outline.iter().map(|place| place[axis]);
    [along().fold(f64::INFINITY, f64::min), along().fold(f64::NEG_INFINITY, f64::max)]
}

/// No cut lies in two parts of the cloth that are laid differently, or is parted where the cloth is cut across.
fn borders(answer: &Answer<'_>, say: &mut dyn FnMut(&'static str, String)) {
    let folds = || answer.layout.folds.iter();
    let ends = folds().flat_map(|fold| [fold.from, fold.to]).filter(|end| *end > 0.0 && end.is_finite());
    let cut_there = folds().filter(|fold| fold.axis == FoldAxis::CutAndTurned).map(|fold| fold.at);
    for border in ends.chain(cut_there) {
        for cut in &answer.layout.cuts {
            let [low, high] = reach(cut, 1);
            if low < border - PLACE && high > border + PLACE {
                say("fold", format!("{} lies across {border:.4}, where the cloth is laid otherwise", name(cut)));
            }
        }
    }
}

/// The outline of a cut as it lies in the other layer: a mirror image, but where cloth is cut across and turned end for end, a shifted one with the
/// edges of the cloth in each other's place.
fn in_the_other_layer(cut: &Cut, fold: &Fold, width: f64) -> Vec<Place> {
    let [low, high] = reach(cut, 1);
    let is_near = (low + high) / 2.0 < fold.at;
    let image = |&[x, y]: &Place| match fold.axis {
        FoldAxis::Lengthwise => [2.0 * fold.at - x, y],
        FoldAxis::Crosswise => [x, 2.0 * fold.at - y],
        FoldAxis::CutAndTurned => [width - x, if is_near { y + fold.at } else { y - fold.at }],
    };
    cut.outline.iter().rev().map(image).collect()
}

/// Whether one cut is the other in the other layer.
fn are_twins(one: &Cut, other: &Cut, fold: &Fold, width: f64) -> bool {
    let image = in_the_other_layer(one, fold, width);
    apart(image[0], other.outline[0]).is_finite() && same_ring(&image, &other.outline) <= 2.0 * PLACE
}

/// Whether a cut lies in the stretch that is folded there.
fn lies_there(cut: &Cut, fold: &Fold) -> bool {
    let [low, high] = reach(cut, 1);
    low >= fold.from - PLACE && high <= fold.to + PLACE
}

/// Whether a cut lies to both sides of a fold.
fn reaches_over(cut: &Cut, fold: &Fold) -> bool {
    let [least, most] = reach(cut, if fold.axis == FoldAxis::Lengthwise { 0 } else { 1 });
    least < fold.at - PLACE && most > fold.at + PLACE
}

/// What is told to be cut on a fold lies evenly on it, what is told to be cut double does so in two layers, and cloth that lies on one fold down
/// the middle has all of it cut as folded cloth is.
pub(super) fn fold(answer: &Answer<'_>, lying: &[Lying<'_>], say: &mut dyn FnMut(&'static str, String)) {
    let (folds, width) = (&answer.layout.folds, answer.asked.width);
    for lies in lying.iter().filter(|lies| lies.cut.on_fold) {
        let is_even = |fold: &&Fold| lies_there(lies.cut, fold) && are_twins(lies.cut, lies.cut, fold, width);
        if !lies.order.on_fold {
            say("fold", format!("{} is told to be cut on the fold, and is not asked so", name(lies.cut)));
        }
        if !lengthwise(answer).iter().any(is_even) {
            say("fold", format!("{} does not lie evenly on the fold", name(lies.cut)));
        }
    }
    for [one, other] in &answer.layout.cut_double {
        let of = |told: &(String, u64)| answer.layout.cuts.iter().find(|cut| cut.piece == told.0 && cut.copy == told.1);
        let (Some(one), Some(other)) = (of(one), of(other)) else { continue };
        let is_through = |fold: &Fold| {
            let apart = |cut: &Cut| lies_there(cut, fold) && !reaches_over(cut, fold);
            apart(one) && apart(other) && one.piece == other.piece && are_twins(one, other, fold, width)
        };
        if !folds.iter().any(is_through) {
            say("fold", format!("{} and {} are not cut through two layers", name(one), name(other)));
        }
    }
    let is_folded_whole = matches!(answer.asked.laying, Laying::Only(Way::CentreFold) | Laying::Either);
    if let ([fold], true) = (&folds[..], is_folded_whole) {
        all_cut_folded(answer, lying, fold, say);
    }
}

/// Every piece for the fold lies on it, and each of a pair has its twin beyond it.
fn all_cut_folded(answer: &Answer<'_>, lying: &[Lying<'_>], fold: &Fold, say: &mut dyn FnMut(&'static str, String)) {
    for order in &answer.asked.orders {
        let cuts: Vec<&Lying<'_>> = lying.iter().filter(|lies| lies.order == order).collect();
        if order.on_fold {
            for lies in cuts.iter().filter(|lies| !lies.cut.on_fold) {
                say("fold", format!("{} is not cut on the fold", name(lies.cut)));
            }
        } else if order.hands == Hands::Pair {
            let mut single: Vec<&Cut> = Vec::new();
            for lies in &cuts {
                match single.iter().position(|other| are_twins(lies.cut, other, fold, answer.asked.width)) {
                    Some(twin) => drop(single.remove(twin)),
                    None => single.push(lies.cut),
                }
                if reaches_over(lies.cut, fold) {
                    say("fold", format!("{} of a pair lies across the fold", name(lies.cut)));
                }
            }
            for cut in single {
                say("fold", format!("{} of a pair has no twin across the fold", name(cut)));
            }
        }
    }
}

/// Where a fold down the middle may lie: on the mirror axis of an even design that is nearest to the middle, and else in the middle.
fn fold_of(asked: &ClothAsked, drawn: Option<f64>) -> Vec<f64> {
    let middle = asked.width / 2.0;
    let Some(design) = &asked.design else { return vec![middle] };
    let Some(repeat) = design.across.as_ref().filter(|repeat| repeat.even) else { return vec![middle] };
    let start = repeat.offset.or(drawn).unwrap_or(0.0) + if design.midway { repeat.every / 2.0 } else { 0.0 };
    let steps = ((middle - start) / repeat.every).floor();
    let around = [start + steps * repeat.every, start + (steps + 1.0) * repeat.every];
    let nearest = around.iter().map(|at| (at - middle).abs()).fold(f64::INFINITY, f64::min);
    around.into_iter().filter(|at| (at - middle).abs() <= nearest + PLACE).collect()
}
