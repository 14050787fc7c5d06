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
        BoundReason::Area => "the area of all pieces, spread over the usable width, is this long".to_owned(),
        BoundReason::LongestItem { item } => {
            format!("\"{}\" alone is this long", slots[*item].order.piece.name)
        }
        BoundReason::Line { at } => {
            let at = format_length(*at, units);
            format!("the pieces that must cross the line {at} from the left edge together take up this much of it")
        }
        BoundReason::Stack { items } => {
            format!("{} cannot lie side by side, and one after the other they take up this much", named(items, slots))
        }
        BoundReason::Stacks { number, items } => format!(
            "of {} no more than {number} can lie side by side; however they are shared among {number} columns, those of one column take \
             up this much",
            named(items, slots)
        ),
        BoundReason::Row { items } => format!(
            "on a shorter length there is no room for {}, whichever of them lie side by side and whichever one after the other",
            named(items, slots)
        ),
        BoundReason::Rows { number, items } => format!(
            "on a shorter length no more than {number} of {} would fit one after the other; however they are shared among {number} rows, \
             there is no room for those of one row side by side",
            named(items, slots)
        ),
        BoundReason::Widths => {
            "the room beside wide pieces is too narrow for the others, and with it they take up this much".to_owned()
        }
        BoundReason::Lengths => {
            "on a shorter length the room before or after long pieces would be too short for the others".to_owned()
        }
        BoundReason::NextEnd { proven, by } => format!(
            "the design sets where pieces can stand, and none can end between {proven} and this; less than {proven} is not enough: {}",
            reason_in_words(by, slots, units),
            proven = write_length(*proven, units, Rounding::Down),
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::prepare::copies::Copies;
    use ellwand_garment::{CutOrder, CutRule, Hands, Piece};

    /// What a bound says of two fronts, a band and a yoke, in this order.
    fn said(reason: &BoundReason) -> String {
        let piece = |name: &str| {
            let corners = [(0.0, 0.0), (100.0, 0.0), (100.0, 200.0), (0.0, 200.0)];
            let piece = Piece::named(name).corners_mm(&corners).grainline_mm(50.0, 50.0, 150.0);
            piece.cut(CutRule::count("main", 3, Hands::Any)).build().unwrap()
        };
        let pieces = ["Front", "Front", "Front", "Band", "Yoke"].map(piece);
        let slot = |piece| Slot {
            order: CutOrder::whole(piece, &piece.cuts[0], 1),
            copies: Copies::Single(1),
            poses: Vec::new(),
            places: Vec::new(),
            off_grain_deg: 0.0,
        };
        let slots: Vec<Slot> = pieces.iter().map(slot).collect();
        reason_in_words(reason, &slots, Units::Centimetres)
    }

    #[test]
    fn the_pieces_that_prove_a_bound_are_named_each_once_with_their_number() {
        let stack = |items: &[usize]| said(&BoundReason::Stack { items: items.to_vec() });
        let side_by_side = "cannot lie side by side, and one after the other they take up this much";
        assert_eq!(stack(&[3, 4]), format!("\"Band\" and \"Yoke\" {side_by_side}"));
        assert_eq!(stack(&[0, 1]), format!("\"Front\" twice {side_by_side}"));
        assert_eq!(stack(&[0, 3, 1, 2]), format!("\"Front\" 3 times and \"Band\" {side_by_side}"));
        assert_eq!(stack(&[4, 3, 0, 1]), format!("\"Yoke\", \"Band\" and \"Front\" twice {side_by_side}"));
        assert!(
            said(&BoundReason::Row { items: vec![4, 0] })
                .starts_with("on a shorter length there is no room for \"Yoke\" and \"Front\", whichever")
        );
    }

    #[test]
    fn every_bound_says_what_it_rests_on() {
        assert_eq!(said(&BoundReason::Area), "the area of all pieces, spread over the usable width, is this long");
        assert_eq!(said(&BoundReason::LongestItem { item: 3 }), "\"Band\" alone is this long");
        assert!(said(&BoundReason::Line { at: 425.0 }).contains("must cross the line 42.5 cm from the left edge"));
        let stacks = said(&BoundReason::Stacks { number: 2, items: vec![0, 1, 4] });
        assert!(stacks.starts_with("of \"Front\" twice and \"Yoke\" no more than 2 can lie side by side"), "{stacks}");
        let rows = said(&BoundReason::Rows { number: 3, items: vec![3, 4] });
        assert!(rows.starts_with("on a shorter length no more than 3 of \"Band\" and \"Yoke\" would fit"), "{rows}");
        assert!(said(&BoundReason::Widths).starts_with("the room beside wide pieces is too narrow"));
        assert!(said(&BoundReason::Lengths).starts_with("on a shorter length the room before or after long pieces"));
        let by = Box::new(BoundReason::LongestItem { item: 4 });
        // A bound is never given too long.
        assert_eq!(
            said(&BoundReason::NextEnd { proven: 1209.9, by }),
            "the design sets where pieces can stand, and none can end between 120.9 cm and this; less than 120.9 cm is not \
             enough: \"Yoke\" alone is this long"
        );
    }
}
