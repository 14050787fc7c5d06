//! A proven bound in words about the cloth.

use ellwand_garment::{LowerBound, Rounding, Units, format_length, write_length};
use ellwand_nest::{Bound, BoundReason};

use crate::prepare::{Prepared, slot::Slot};

/// The bound of the strip in words about the cloth.
pub(crate) fn bound_in_words(bound: &Bound, prepared: &Prepared) -> LowerBound {
    LowerBound {
        length: bound.length,
        reason: reason_in_words(&bound.reason, &prepared.slots, prepared.question.job.units),
    }
}

fn reason_in_words(reason: &BoundReason, slots: &[Slot], units: Units) -> String {
    match reason {
        BoundReason::Area => "the pieces together have this much area for the usable width".to_owned(),
        BoundReason::LongestItem { item } => {
            format!("\"{}\" alone is this long", slots[*item].order.piece.name)
        }
        BoundReason::Line { at } => {
            let at = format_length(*at, units);
            format!("the pieces that must cross the line {at} from the left edge take this much of it together")
        }
        BoundReason::Stack { items } => {
            format!("{} cannot lie side by side, and one after the other they take this much", named(items, slots))
        }
        BoundReason::Row { items } => format!(
            "on less, {} could not lie one after the other, and there is no room for them side by side",
            named(items, slots)
        ),
        BoundReason::Widths => {
            "wide pieces leave room beside them that is too narrow for others, and with it they take this much"
                .to_owned()
        }
        BoundReason::Lengths => {
            "on less, long pieces would leave room before or after them that is too short for others".to_owned()
        }
        BoundReason::NextEnd { proven, by } => format!(
            "where its design lets them stand, no piece ends between {} and this, and up to there: {}",
            write_length(*proven, units, Rounding::Down),
            reason_in_words(by, slots, units)
        ),
    }
}

/// The pieces of some slots by name, each once, with how often it is among them: `"Front" twice, "Band" and "Yoke"`.
fn named(items: &[usize], slots: &[Slot]) -> String {
    let mut names: Vec<(&str, usize)> = Vec::new();
    for &item in items {
        let name = slots[item].order.piece.name.as_str();
        match names.iter_mut().find(|known| known.0 == name) {
            Some(known) => known.1 += 1,
            None => names.push((name, 1)),
        }
    }
    let mut said = String::new();
    for (k, (name, count)) in names.iter().enumerate() {
        said += match k {
            0 => "",
            k if k + 1 == names.len() => " and ",
            _ => ", ",
        };
        said += &match count {
            1 => format!("\"{name}\""),
            2 => format!("\"{name}\" twice"),
            count => format!("\"{name}\" {count} times"),
        };
    }
    said
}
