//! What a person takes to the shop: which cloth, how much of it, and whether what is at home is enough.

use std::fmt::Write as _;

use ellwand_garment::{Money, OnHand, Rounding, Units, format_length, format_length_up, format_yardage, write_length};
use ellwand_planner::ClothPlan;

use crate::{Row, remnants};

/// Less than a mark of the tape is nothing to speak of, mm.
const A_MARK: f64 = 3.2;

/// Full width as the shop sells it, mm.
pub fn bought_width(cloth: &ClothPlan) -> f64 {
    cloth.fabric.cloth.width / (1.0 - cloth.fabric.shrinkage.across)
}

/// "main: canvas, 50 cm wide".
pub(crate) fn which_cloth(cloth: &ClothPlan, units: Units) -> String {
    let layout = cloth.layout();
    if let Some(remnant) = &layout.cloth.remnant {
        return format!("{}: {}, remnant {}", layout.role, layout.cloth.name, remnants::size(remnant, units));
    }
    format!("{}: {}, {} wide", layout.role, layout.cloth.name, format_length(bought_width(cloth), units))
}

/// How much to buy and what it costs, or that nothing need be bought.
pub(crate) fn buy(cloth: &ClothPlan, units: Units) -> Row {
    Row::new("buy", buy_words(cloth, units))
}

fn buy_words(cloth: &ClothPlan, units: Units) -> String {
    if let Some(remnant) = &cloth.fabric.cloth.remnant {
        let spare = remnant.length() - cloth.layout().length;
        let spare = if spare < A_MARK {
            String::new()
        } else {
            format!(", with {} to spare at its far end", write_length(spare, units, Rounding::Down))
        };
        return format!("nothing: it is cut from the remnant \"{}\"{spare}", remnant.name);
    }
    if let (Some(on_hand @ OnHand::Enough { .. }), Some(have)) = (cloth.on_hand(), cloth.fabric.cloth.on_hand) {
        return format!("nothing: {}", on_hand.words(have, units));
    }
    let purchase = &cloth.layout().purchase;
    let mut said = format!("{} of {}", purchase.buy_text, cloth.layout().cloth.name);
    if let (Some(cost), Some(price)) = (&purchase.cost, purchase.price) {
        let price_of_one = Money::new(price.amount, cost.currency.clone());
        let _ = write!(said, ", {cost} at {price_of_one} a {}", price.per.sign());
    }
    said
}

/// What is at home and is not enough.
pub(crate) fn on_hand_is_short(cloth: &ClothPlan, units: Units) -> Option<Row> {
    if cloth.fabric.cloth.remnant.is_some() {
        return None;
    }
    let have = format_yardage(cloth.fabric.cloth.on_hand?, units);
    match cloth.on_hand()? {
        OnHand::Enough { .. } => None,
        OnHand::Short { by } => {
            let short = format_length_up(by, units);
            let mut said = format!("{have} is {short} too short, and a layout is cut from one piece");
            if !cloth.fabric.cloth.flaws.is_empty() {
                said += "; what is to buy still keeps clear of its flaws and creases, though new cloth has none";
            }
            Some(Row::new("on hand", said))
        }
    }
}
