//! The figures of an answer: the cloth as told, length used, bound, what to buy and what it costs, the last two in exact arithmetic.

use num_traits::Zero;

use super::{Answer, PLACE};
use crate::{
    plane::Polygon,
    quantity::{Exact, ceiling, cents, exactly, float, length as length_of, money, ratio},
    question::{Axis, Limit, Rule},
};

/// The cloth of the record is that of the job.
pub(super) fn cloth(answer: &Answer<'_>, say: &mut dyn FnMut(&'static str, String)) {
    let (asked, told) = (answer.asked, answer.layout);
    for (what, asked, told) in [
        ("width", asked.width, told.width),
        ("selvage", asked.selvage, told.selvage),
        ("gap", asked.gap, told.piece_gap),
        ("number of flaws", asked.flaws.len() as f64, told.flaws as f64),
    ] {
        if (asked - told).abs() > 1e-6 {
            say("cloth told", format!("the {what} is {asked} and not {told}"));
        }
    }
    if (told.nap == "with") != asked.napped {
        say("cloth told", format!("the record says nap {}", told.nap));
    }
}

/// The length is where the highest cut ends, and what the pieces cover is a share of it.
pub(super) fn length(answer: &Answer<'_>, say: &mut dyn FnMut(&'static str, String)) {
    let highest = answer.layout.cuts.iter().flat_map(|cut| &cut.outline).map(|[_, y]| *y).fold(0.0, f64::max);
    if (highest - answer.layout.length).abs() > PLACE {
        say("length", format!("the highest cut ends at {highest:.4} and not at {:.4}", answer.layout.length));
    }
    let covered = area(answer) / (answer.asked.width * answer.layout.length);
    if (covered - answer.layout.utilisation).abs() > 1e-6 {
        say("length", format!("the pieces cover {covered:.6} of the cloth and not {:.6}", answer.layout.utilisation));
    }
}

/// The area of all cuts, mm².
fn area(answer: &Answer<'_>) -> f64 {
    answer.layout.cuts.iter().filter_map(|cut| Polygon::new(&cut.outline).ok()).map(|polygon| polygon.area()).sum()
}

/// No layout is shorter than its bound, or than its area allows; and the shortest possible is where both meet.
pub(super) fn bound(answer: &Answer<'_>, say: &mut dyn FnMut(&'static str, String)) {
    let (length, bound) = (answer.layout.length, answer.layout.lower_bound);
    if bound.is_nan() || bound > length + PLACE {
        say("bound", format!("the layout is {length:.4} long and its bound {bound:.4}"));
    }
    let of_area = area(answer) / (answer.asked.width - answer.asked.sides.iter().sum::<f64>());
    if bound < of_area - 0.01 * of_area - 1.0 {
        say("bound", format!("the bound is {bound:.4}, below the {of_area:.4} that the area needs"));
    }
    let meets = length - bound <= 0.1;
    if answer.layout.shortest_possible && !meets {
        say("bound", format!("told to be the shortest possible, {:.4} above the bound", length - bound));
    }
    if answer.layout.reason.trim().is_empty() {
        say("bound", "the bound has no reason".to_owned());
    }
}

/// What to buy, rounded up to the shop's step, and what it costs, rounded once.
pub(super) fn purchase(answer: &Answer<'_>, say: &mut dyn FnMut(&'static str, String)) {
    let (asked, told) = (answer.asked, &answer.layout.purchase);
    let stretch = &asked.stretch;
    let washed = exactly(answer.layout.length) + &stretch.straighten + begins_at(answer);
    let needed = washed / &stretch.kept;
    let enough = stretch.on_hand.as_ref().map(|on_hand| *on_hand >= needed);
    // A hair on either side of a whole step is a matter of rounding, and of a tape.
    let hair = ratio(1, 100_000) * &stretch.step + ratio(1, 20);
    let close = stretch.on_hand.as_ref().is_some_and(|on_hand| {
        let by = on_hand - &needed;
        by.clone() * by <= hair.clone() * &hair
    });
    if told.on_hand_is_enough != enough && !close {
        say("on hand", format!("{:.2} mm is needed, and told is {:?}", float(&needed), told.on_hand_is_enough));
    }
    if (float(&needed) - told.needed).abs() > 1e-6 {
        say("purchase", format!("{:.6} mm is needed, and told is {:.6}", float(&needed), told.needed));
    }
    if (told.length - answer.layout.length).abs() > 1e-9 {
        say("purchase", format!("the purchase is for {} and the layout {}", told.length, answer.layout.length));
    }
    let most = ceiling(&(&needed / &stretch.step));
    let least = ceiling(&((&needed - hair) / &stretch.step));
    // What is at home need not be bought.
    let right: Vec<Exact> = match told.on_hand_is_enough {
        Some(true) => vec![Exact::zero()],
        _ => vec![&most * &stretch.step, &least * &stretch.step],
    };
    let Some(buy) = right.iter().find(|buy| (float(buy) - told.buy).abs() < 1e-6) else {
        say("purchase", format!("{:.6} mm is to be bought and told is {:.6}", float(&right[0]), told.buy));
        return;
    };
    // In words a length is rounded to what a tape shows, and never down.
    let in_words = length_of(&told.buy_text).map(|mm| float(&mm) - told.buy);
    if in_words.is_none_or(|more| !(-0.06..=3.2).contains(&more)) && told.buy > 0.0 {
        say("purchase", format!("{:.3} mm is told as {}", told.buy, told.buy_text));
    }
    let price = asked.price.as_ref();
    match (price, &told.cost) {
        (None, None) => {}
        (None, Some(cost)) => say("cost", format!("{cost} for cloth without a price")),
        (Some(_), None) if buy.is_zero() => {}
        (Some(_), None) => say("cost", "the cloth has a price and no cost".to_owned()),
        (Some(price), Some(cost)) => {
            let right = cents(&(buy * &price.amount / &price.per));
            if right != *cost {
                say("cost", format!("{:.4} mm costs {right} and told is {cost}", float(buy)));
            }
            if told.price.as_deref().and_then(money).as_ref() != Some(&price.amount) {
                say("cost", format!("the price is told as {:?}", told.price));
            }
            if told.currency != price.currency {
                say("cost", format!("the money is {:?} and told as {:?}", price.currency, told.currency));
            }
        }
    }
    let added: f64 = told.allowances.iter().sum();
    if (float(&needed) - answer.layout.length - added).abs() > 1e-6 {
        say("purchase", format!("{:.6} mm is needed, and told is the length and {added:.6}", float(&needed)));
    }
}

/// A wish is given up only when it costs more than the job would pay, counted in whole steps of the shop and in cents.
pub(super) fn given_up(answer: &Answer<'_>, say: &mut dyn FnMut(&'static str, String)) {
    for wish in answer.prices {
        let dear = match &answer.asked.limit {
            Some(Limit::Length(most)) => wish.buy.map(|buy| {
                let steps = (buy / float(&answer.asked.stretch.step)).round();
                exactly(steps) * &answer.asked.stretch.step > *most
            }),
            Some(Limit::Money(most)) => wish.cost.as_deref().and_then(money).map(|cost| cost > *most),
            None => Some(false),
        };
        if dear == Some(false) {
            say("given up", format!("\"{}\" is given up for {:?} mm, {:?}", wish.name, wish.buy, wish.cost));
        }
    }
}

/// What may lie before the line of the design at which the layout begins: a repeat, where something stands on a line of cloth on the
/// roll.
fn begins_at(answer: &Answer<'_>) -> Exact {
    let along = answer.asked.design.as_ref().and_then(|design| design.along.as_ref());
    let Some(repeat) = along.filter(|repeat| repeat.offset.is_none()) else { return Exact::zero() };
    let stands = |rule: &Rule| matches!(rule, Rule::Stand(_, Axis::Along, _));
    let kept = answer.asked.matches.iter().filter(|wanted| !answer.gave_up(&wanted.name));
    if kept.flat_map(|wanted| &wanted.rules).any(stands) { repeat.every_exact.clone() } else { Exact::zero() }
}
