//! The rules for a cloth and how it is sold.

use rust_decimal::Decimal;

use super::{InputFault, Quantity, design::design_faults};
use crate::{Fabric, MatchLimit, Remnant};

/// No cloth costs more a yard or metre, in any currency. What is bought then costs a number that is exact to the hundredth.
pub(super) const MOST_MONEY: Decimal = Decimal::from_parts(1_000_000, 0, 0, false, 0);

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
    faults.extend(fabric.remnants.iter().flat_map(|remnant| remnant_faults(fabric, remnant)));
    if let Some(design) = &cloth.design {
        faults.extend(design_faults(role, design, cloth.width));
    }
    faults
}

fn remnant_faults(fabric: &Fabric, remnant: &Remnant) -> Vec<InputFault> {
    let cloth = &fabric.cloth;
    let (left, right) = remnant.selvages.sides(cloth.selvage);
    let design = cloth.design.as_ref();
    let low = remnant.bounds().min;
    let unmeasured = |repeats: bool, offset: Option<f64>| repeats && offset.is_none_or(|offset| !offset.is_finite());
    let is_named_twice = fabric.remnants.iter().filter(|other| other.name == remnant.name).count() > 1;
    let all = [
        (remnant.name.trim().is_empty(), "it has no name"),
        (is_named_twice, "another one has its name"),
        (low.x != 0.0 || low.y != 0.0, "its outline does not begin at the origin"),
        (left + right >= remnant.width(), "its selvages use up its whole width"),
        (design.is_some_and(|design| design.border.is_some()), "its cloth has a border"),
        (
            design.is_some_and(|design| unmeasured(design.across.is_some(), remnant.offset_across)),
            "nothing says where its design lies across",
        ),
        (
            design.is_some_and(|design| unmeasured(design.along.is_some(), remnant.offset_along)),
            "nothing says where its design lies along",
        ),
    ];
    let fault = |why| InputFault::UnusableRemnant { role: fabric.role.clone(), remnant: remnant.name.clone(), why };
    all.into_iter().filter(|(is_so, _)| *is_so).map(|(_, why)| fault(why)).collect()
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
