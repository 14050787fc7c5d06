//! The rules for a cloth and how it is sold.

use rust_decimal::Decimal;

use super::{InputFault, Quantity, design::design_faults};
use crate::{Fabric, MatchLimit};

/// No cloth costs more a yard or metre, in any currency. What is bought then costs a number that is exact to the hundredth.
const MOST_MONEY: Decimal = Decimal::from_parts(1_000_000, 0, 0, false, 0);

/// Everything wrong with a fabric by itself; what is matched on it aside.
pub(super) fn fabric_faults(fabric: &Fabric) -> Vec<InputFault> {
    let (cloth, role) = (&fabric.cloth, fabric.role.as_str());
    let numbers = [
        (Quantity::Width, Some(cloth.width)),
        (Quantity::Selvage, Some(cloth.selvage)),
        (Quantity::OffGrain, Some(cloth.off_grain_deg)),
        (Quantity::PieceGap, Some(cloth.piece_gap)),
        (Quantity::OnHand, cloth.on_hand),
        (Quantity::SoldBy, Some(fabric.sold_by)),
        (Quantity::ShrinkageAlong, Some(fabric.shrinkage.along)),
        (Quantity::ShrinkageAcross, Some(fabric.shrinkage.across)),
        (Quantity::StraightenEnds, Some(fabric.straighten_ends)),
    ];
    let mut faults: Vec<InputFault> =
        numbers.into_iter().filter_map(|(quantity, value)| quantity.fault(role, value?)).collect();
    let may_be = Quantity::Width.allows(cloth.width) && Quantity::Selvage.allows(cloth.selvage);
    if may_be && 2.0 * cloth.selvage >= cloth.width {
        let (selvage, width) = (cloth.selvage, cloth.width);
        faults.push(InputFault::SelvagesTooWide { role: role.to_owned(), selvage, width });
    }
    faults.extend(money_faults(fabric));
    if let Some(design) = &cloth.design {
        faults.extend(design_faults(role, design, cloth.width));
    }
    faults
}

fn money_faults(fabric: &Fabric) -> Vec<InputFault> {
    let role = || fabric.role.clone();
    let mut faults = Vec::new();
    let is_money = |amount: Decimal| (Decimal::ZERO..=MOST_MONEY).contains(&amount);
    if let Some(amount) = fabric.price.map(|price| price.amount).filter(|amount| !is_money(*amount)) {
        faults.push(InputFault::PriceOutOfRange { role: role(), amount });
    }
    match fabric.matching.limit {
        Some(MatchLimit::Money(amount)) => {
            if !is_money(amount) {
                faults.push(InputFault::LimitOutOfRange { role: role(), amount });
            }
            if fabric.price.is_none() {
                faults.push(InputFault::LimitWithoutPrice { role: role() });
            }
        }
        Some(MatchLimit::Length(length)) => faults.extend(Quantity::MatchLimit.fault(&fabric.role, length)),
        None => {}
    }
    faults
}
