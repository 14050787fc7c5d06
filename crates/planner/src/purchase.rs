//! From the length of a layout to what the shop sells and what it costs: straightening the ends, shrinkage along the
//! cloth, rounding up to the shop's step, and decimal money.

use ellwand_garment::{
    Allowance, CutEnd, Design, DesignAxis, Fabric, MatchRule, Price, Purchase, Units, format_yardage,
};
use rust_decimal::{Decimal, RoundingStrategy, prelude::FromPrimitive};

/// How far above a whole number of steps a length may be and still count as that number: a millionth of a step, far
/// below a thread, so that rounding noise never sells another eighth of a yard.
const STEP_TOLERANCE: f64 = 1e-6;

/// Decimals of a millimetre kept when a length enters decimal arithmetic; enough for eighths of an inch (3.175 mm).
const MONEY_LENGTH_DECIMALS: u32 = 6;

/// What an allowance is for that lets a layout begin at a line of a design.
pub const DESIGN_ALLOWANCE: &str = "the line of the design it begins at";

/// What to buy so that a layout of `length` mm can be cut after washing and truing the ends.
///
/// `(length + straighten_ends + line it begins at) / (1 - shrinkage along)`, rounded up to a whole number of the shop's steps. Cloth is washed
/// with its crooked ends still on, so they shrink too. The shrinkage must be below 1 and the step above 0, as in every
/// [`Fabric`] that was read from a file.
pub fn purchase(fabric: &Fabric, units: Units, length: f64) -> Purchase {
    let mut allowances = Vec::new();
    if fabric.straighten_ends > 0.0 {
        allowances.push(Allowance { reason: "straightening the ends".into(), length: fabric.straighten_ends });
    }
    let to_begin_at = to_the_line_it_begins_at(fabric);
    if to_begin_at > 0.0 {
        allowances.push(Allowance { reason: DESIGN_ALLOWANCE.into(), length: to_begin_at });
    }
    let needed = before_washing(fabric, length);
    if fabric.shrinkage.along > 0.0 {
        let washed_away = needed - length - fabric.straighten_ends - to_begin_at;
        allowances.push(Allowance { reason: "shrinkage".into(), length: washed_away });
    }
    let steps = (needed / fabric.sold_by - STEP_TOLERANCE).ceil().max(0.0);
    let buy = steps * fabric.sold_by;
    Purchase {
        length,
        allowances,
        buy,
        buy_text: format_yardage(buy, units),
        price: fabric.price.map(|price| price.amount),
        cost: fabric.price.and_then(|price| cost(price, fabric.sold_by, steps)),
    }
}

/// The length of unwashed cloth, crooked ends included, that a layout of `length` mm is cut from.
pub(crate) fn before_washing(fabric: &Fabric, length: f64) -> f64 {
    (length + fabric.straighten_ends + to_the_line_it_begins_at(fabric)) / (1.0 - fabric.shrinkage.along)
}

/// What may lie before the line of the design at which the layout begins, mm: a repeat, when some match names a place of the
/// design along cloth that is still on the roll.
fn to_the_line_it_begins_at(fabric: &Fabric) -> f64 {
    let Some(Design { along: Some(repeat), cut_end: CutEnd::OnTheRoll, .. }) = &fabric.cloth.design else { return 0.0 };
    let stands_along = |rule: &MatchRule| matches!(rule, MatchRule::Stand { axis: DesignAxis::Along, .. });
    let any = fabric.matching.matches.iter().flat_map(|wanted| &wanted.rules).any(stands_along);
    if any { repeat.every } else { 0.0 }
}

/// `steps` steps of `step` mm at `price`, rounded half up to the hundredth. `None` only beyond the range of decimals.
fn cost(price: Price, step: f64, steps: f64) -> Option<Decimal> {
    let exact = |mm: f64| Decimal::from_f64(mm).map(|d| d.round_dp(MONEY_LENGTH_DECIMALS));
    let units = exact(step)?.checked_mul(Decimal::from_f64(steps)?)?.checked_div(exact(price.per.length())?)?;
    let mut cost = units.checked_mul(price.amount)?.round_dp_with_strategy(2, RoundingStrategy::MidpointAwayFromZero);
    cost.rescale(2);
    Some(cost)
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;

    use ellwand_garment::{Cloth, LayerChoice, Nap, PriceUnit, RightSide, Shrinkage};

    const YARD: f64 = 914.4;
    const INCH: f64 = 25.4;

    /// Plain cloth sold by the eighth of a yard.
    pub(crate) fn plain() -> Fabric {
        Fabric {
            role: "main".into(),
            cloth: Cloth {
                name: "plain".into(),
                width: 45.0 * INCH,
                selvage: 0.0,
                nap: Nap::Without,
                right_side: RightSide::One,
                off_grain_deg: 0.0,
                piece_gap: 0.0,
                flaws: Vec::new(),
                on_hand: None,
                design: None,
            },
            layer: LayerChoice::Open,
            price: None,
            currency: None,
            sold_by: YARD / 8.0,
            shrinkage: Shrinkage::default(),
            straighten_ends: 0.0,
            matching: Default::default(),
        }
    }

    fn priced(amount: &str, per: PriceUnit) -> Option<Price> {
        Some(Price { amount: amount.parse().unwrap(), per })
    }

    fn buy(fabric: &Fabric, length: f64) -> f64 {
        purchase(fabric, Units::Inches, length).buy
    }

    #[test]
    fn an_exact_multiple_is_not_bumped_by_rounding_noise() {
        // 288 in = 8 yd exactly: the worked window of a drapery how-to page (track 65 in, fullness 2.25, cloth 54 in).
        assert_eq!(buy(&plain(), 288.0 * INCH), 8.0 * YARD);
        assert_eq!(buy(&plain(), 288.0 * INCH + 1e-9), 8.0 * YARD);
        assert_eq!(buy(&plain(), 288.0 * INCH + 0.01), 8.125 * YARD);
    }

    #[test]
    fn shrinkage_divides_and_then_rounds_up() {
        // 3 yd usable at 4 per cent: 3 / 0.96 = 3.125 yd; worked here from the rule. Multiplying by 1.04 would give 3.12.
        let fabric = Fabric { shrinkage: Shrinkage { along: 0.04, across: 0.0 }, ..plain() };
        let purchase = purchase(&fabric, Units::Inches, 3.0 * YARD);
        assert_eq!(purchase.buy, 3.125 * YARD);
        assert_eq!(purchase.buy_text, "3 1/8 yd");
        assert_eq!(purchase.allowances.len(), 1);
        assert!((purchase.allowances[0].length - 0.125 * YARD).abs() < 1e-9);
    }

    #[test]
    fn the_gauge_line_of_the_shrinkage_test_gives_whole_per_cents() {
        // "A line of 12 1/2 in measures 12 1/4 in after washing: 2 per cent; 12 1/8 in: 3 per cent" (two sewing pages).
        for (after, along) in [(12.25, 0.02), (12.125, 0.03)] {
            let shrinkage = Shrinkage { along, across: 0.0 };
            let fabric = Fabric { shrinkage, sold_by: INCH / 8.0, ..plain() };
            assert!((buy(&fabric, after * INCH) - 12.5 * INCH).abs() < 1e-9);
        }
    }

    #[test]
    fn the_ends_are_trued_before_washing_is_undone() {
        let shrinkage = Shrinkage { along: 0.1, across: 0.0 };
        let fabric = Fabric { shrinkage, straighten_ends: 90.0, sold_by: 100.0, ..plain() };
        assert_eq!(buy(&fabric, 810.0), 1000.0);
    }

    #[test]
    fn metric_shops_sell_by_ten_centimetres() {
        let fabric = Fabric { sold_by: 100.0, price: priced("9.95", PriceUnit::Metre), ..plain() };
        let purchase = purchase(&fabric, Units::Centimetres, 1234.0);
        assert_eq!(purchase.buy, 1300.0);
        // 1.3 m at 9.95 is 12.935, rounded half up.
        assert_eq!(purchase.cost.unwrap().to_string(), "12.94");
    }

    #[test]
    fn money_is_decimal_and_rounds_half_up() {
        // 2 3/4 yd at 12.50 is 34.375.
        let fabric = Fabric { price: priced("12.50", PriceUnit::Yard), ..plain() };
        let cost = |length| purchase(&fabric, Units::Inches, length).cost.unwrap().to_string();
        assert_eq!(cost(2.7 * YARD), "34.38");
        assert_eq!(cost(2.0 * YARD), "25.00");
    }

    #[test]
    fn eighths_of_a_yard_are_the_published_inches() {
        // Yard fractions of a general sewing reference: 1/8 = 4 1/2 in, 3/8 = 13 1/2, 5/8 = 22 1/2, 7/8 = 31 1/2.
        for (inches, eighths) in [(4.5, 1.0), (13.5, 3.0), (22.5, 5.0), (31.5, 7.0)] {
            assert_eq!(buy(&plain(), inches * INCH), eighths * YARD / 8.0);
        }
    }
}
