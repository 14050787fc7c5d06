//! Where and how cuts may lie: off the selvages, on grain, with the nap, and on the fold as folded cloth is cut.

use super::{Answer, Lying, PLACE, matches::is_at_border, name};
use crate::{
    motion::{apart, same_ring},
    question::{Axis, ClothAsked, Grain, Hands, Layer, Rule},
    record::{Cut, Place},
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

/// Folded only where asked, on the middle or the axis of the design beside it; and then cut as folded cloth is.
pub(super) fn fold(answer: &Answer<'_>, lying: &[Lying<'_>], say: &mut dyn FnMut(&'static str, String)) {
    let folds = &answer.layout.folds;
    match (answer.asked.layer, folds.len()) {
        (Layer::Open, 0) | (Layer::Fold, 1) | (Layer::Either, 0 | 1) => {}
        (layer, found) => say("fold", format!("{found} folds on cloth that lies {layer:?}")),
    }
    let Some(&fold) = folds.first() else { return };
    let wanted = fold_of(answer.asked, answer.layout.offset_across);
    if wanted.iter().all(|at| (at - fold).abs() > PLACE) {
        say("fold", format!("the fold lies at {fold:.3} and not at {wanted:?}"));
    }
    let mirrored = |cut: &Cut| -> Vec<Place> { cut.outline.iter().rev().map(|&[x, y]| [2.0 * fold - x, y]).collect() };
    for order in &answer.asked.orders {
        let cuts: Vec<&Lying<'_>> = lying.iter().filter(|lies| lies.order == order).collect();
        if order.on_fold {
            for lies in cuts {
                if same_ring(&mirrored(lies.cut), &lies.cut.outline) > 2.0 * PLACE {
                    say("fold", format!("{} does not lie evenly on the fold", name(lies.cut)));
                }
            }
        } else if order.hands == Hands::Pair {
            let mut single: Vec<&Cut> = Vec::new();
            for lies in &cuts {
                let image = mirrored(lies.cut);
                let twin = single.iter().position(|other| {
                    apart(image[0], other.outline[0]).is_finite() && same_ring(&image, &other.outline) <= 2.0 * PLACE
                });
                match twin {
                    Some(twin) => drop(single.remove(twin)),
                    None => single.push(lies.cut),
                }
                let xs = || lies.cut.outline.iter().map(|[x, _]| *x);
                let (least, most) = (xs().fold(f64::INFINITY, f64::min), xs().fold(f64::NEG_INFINITY, f64::max));
                if least < fold - PLACE && most > fold + PLACE {
                    say("fold", format!("{} of a pair lies across the fold", name(lies.cut)));
                }
            }
            for cut in single {
                say("fold", format!("{} of a pair has no twin across the fold", name(cut)));
            }
        }
    }
}

/// Where the fold may lie: on the mirror axis of an even design that is nearest to the middle, and else in the middle.
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
