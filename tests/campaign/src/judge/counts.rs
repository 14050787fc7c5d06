//! Every piece is there as often as asked, in the hands asked for, and each cut is the piece and nothing but it.

use super::{Answer, Lying, name};
use crate::question::Hands;

/// Each copy of each order once, and nothing else.
pub(super) fn counts(answer: &Answer<'_>, say: &mut dyn FnMut(&'static str, String)) {
    for order in &answer.asked.orders {
        for &copy in &order.copies {
            let times = answer.layout.cuts.iter().filter(|cut| cut.piece == order.piece && cut.copy == copy).count();
            if times != 1 {
                say("counts", format!("\"{}\" copy {copy} is cut {times} times", order.piece));
            }
        }
    }
    for cut in &answer.layout.cuts {
        let asked =
            answer.asked.orders.iter().any(|order| order.piece == cut.piece && order.copies.contains(&cut.copy));
        if !asked {
            say("counts", format!("{} is not asked for", name(cut)));
        }
    }
    for order in &answer.asked.orders {
        let Some(piece) = answer.pieces.iter().find(|piece| piece.piece == order.piece) else {
            say("piece record", format!("\"{}\" is not in the piece record", order.piece));
            continue;
        };
        let told = piece.cut.iter().any(|(cloth, count, on_fold)| {
            *cloth == answer.asked.role && *count == order.count && *on_fold == order.on_fold
        });
        if !told {
            say("piece record", format!("the piece record does not say what is cut of \"{}\"", order.piece));
        }
    }
}

/// Each cut is its piece moved, and turned over where the record says so.
pub(super) fn outlines(answer: &Answer<'_>, lying: &[Lying<'_>], say: &mut dyn FnMut(&'static str, String)) {
    for lies in lying {
        let Some(motion) = lies.as_recorded() else {
            let how =
                if lies.up.is_some() || lies.over.is_some() { "lies the other side up" } else { "is not its piece" };
            say("outline", format!("{} {how}", name(lies.cut)));
            continue;
        };
        let off = (motion.turn_deg() - lies.cut.turned_deg).rem_euclid(360.0);
        if off.min(360.0 - off) > 1e-3 {
            say(
                "turn",
                format!("{} is turned by {:.4} and not by {}", name(lies.cut), motion.turn_deg(), lies.cut.turned_deg),
            );
        }
    }
    let known = lying.len();
    if known != answer.layout.cuts.len() {
        say("outline", format!("{} cuts are of no piece", answer.layout.cuts.len() - known));
    }
}

/// Left and right in equal number, or all alike, unless both faces of the cloth serve.
pub(super) fn hands(answer: &Answer<'_>, lying: &[Lying<'_>], say: &mut dyn FnMut(&'static str, String)) {
    if answer.asked.both_sides {
        return;
    }
    for order in answer.asked.orders.iter().filter(|order| !order.on_fold) {
        let of_order = || lying.iter().filter(|lies| lies.order == order);
        let only_up = of_order().filter(|lies| lies.up.is_some() && lies.over.is_none()).count() as u64;
        let only_over = of_order().filter(|lies| lies.over.is_some() && lies.up.is_none()).count() as u64;
        match order.hands {
            Hands::Any => {}
            Hands::Same => {
                if only_over > 0 {
                    say("hands", format!("{only_over} of \"{}\" lie turned over", order.piece));
                }
            }
            Hands::Pair => {
                // Where some copies are cut elsewhere, an odd one is for the hand as drawn.
                let over = order.copies.iter().filter(|copy| *copy % 2 == 0).count() as u64;
                if only_up > order.copies.len() as u64 - over || only_over > over {
                    say("hands", format!("\"{}\" is cut {only_up} as drawn and {only_over} turned over", order.piece));
                }
            }
        }
    }
}
