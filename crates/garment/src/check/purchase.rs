//! What is bought is enough for the layout, no step too much, and costs what the price says.
//!
//! Nothing is worked out again in the way it was made: what is bought is shrunk and trimmed to see what is left of it, the text is read
//! back, and the money is tried from both sides with whole numbers.

use rust_decimal::{Decimal, prelude::FromPrimitive};

use super::{Case, Fault};
use crate::{AllowanceReason, CutEnd, DesignAxis, INCH_MM, MatchRule, Money, OnHand, Price, YARD_MM};

/// Rounding of a length that went through a division, as a share of it.
const NOISE: f64 = 1e-6;

/// What no tape tells, mm: by so much what is bought or at home may be short of what is needed.
const UNFELT: f64 = 0.05;

pub(super) fn check(case: &Case) -> Vec<Fault> {
    let mut faults = Vec::new();
    let mut wrong = |is_wrong: bool, what: &'static str| {
        if is_wrong {
            faults.push(Fault::WrongPurchase { what });
        }
    };
    let (purchase, fabric) = (&case.layout.purchase, &case.question.fabric);
    let near = |a: f64, b: f64| (a - b).abs() <= NOISE * (1.0 + a.abs().max(b.abs()));
    let allowed = |reason: AllowanceReason| -> f64 {
        purchase
            .allowances
            .iter()
            .filter(|allowance| allowance.reason == reason)
            .map(|allowance| allowance.length)
            .sum()
    };

    wrong(purchase.length != case.layout.length, "it is reckoned from another length than the layout's");
    wrong(
        !near(allowed(AllowanceReason::StraighteningEnds), fabric.straighten_ends),
        "the allowance for straightening the ends is not the one asked for",
    );
    wrong(
        !near(allowed(AllowanceReason::LineOfDesign), line_before(case)),
        "the allowance for the line of the design it begins at is not a repeat where one is needed",
    );
    let sum: f64 = purchase.allowances.iter().map(|allowance| allowance.length).sum();
    wrong(!near(purchase.length + sum, purchase.needed), "length and allowances do not add up to what is needed");
    // What is left of the cloth after washing and truing the ends.
    let left = purchase.needed * (1.0 - fabric.shrinkage.along) - fabric.straighten_ends - line_before(case);
    wrong(!near(left, case.layout.length), "what is needed does not shrink to the length of the layout");

    let have = fabric.cloth.on_hand;
    let on_hand_is_true = match (have, purchase.on_hand) {
        (None, None) => true,
        (Some(have), Some(OnHand::Enough { spare })) => {
            near((have - purchase.needed).max(0.0), spare) && have - purchase.needed > -UNFELT - NOISE * have
        }
        (Some(have), Some(OnHand::Short { by })) => near(purchase.needed - have, by) && by > UNFELT - NOISE * have,
        _ => false,
    };
    wrong(!on_hand_is_true, "what is told of the cloth on hand is not so");

    let at_home = matches!(purchase.on_hand, Some(OnHand::Enough { .. }));
    let steps = purchase.steps as f64;
    wrong(!near(steps * fabric.sold_by, purchase.buy), "what is bought is no whole number of the shop's steps");
    if at_home {
        wrong(purchase.buy != 0.0, "cloth is bought though there is enough at home");
    } else {
        let noise = NOISE * purchase.needed;
        wrong(purchase.buy < purchase.needed - UNFELT - noise, "what is bought is too short");
        wrong(purchase.buy - fabric.sold_by > purchase.needed - UNFELT + noise, "a step less would do");
    }
    wrong(!says(&purchase.buy_text, purchase.buy, at_home), "the text says another length than what is bought");

    wrong(purchase.price != fabric.price, "the price is not the one asked for");
    let is_right = match (&purchase.cost, fabric.price) {
        (None, None) => true,
        (Some(cost), Some(price)) => {
            cost.currency == fabric.currency && costs(cost, price, fabric.sold_by, purchase.steps)
        }
        // Beyond the range of decimals there is no cost.
        (None, Some(_)) => steps * fabric.sold_by > 1e15,
        (Some(_), None) => false,
    };
    wrong(!is_right, "the cost is not what the price says");
    faults
}

/// A repeat along where a match names a place of a design that is still on the roll, else nothing.
fn line_before(case: &Case) -> f64 {
    let Some(design) = case.cloth().design.as_ref().filter(|design| design.cut_end == CutEnd::OnTheRoll) else {
        return 0.0;
    };
    let rules = case.question.fabric.matching.matches.iter().flat_map(|wanted| &wanted.rules);
    let stands = |rule: &&MatchRule| matches!(rule, MatchRule::Stand { axis: DesignAxis::Along, .. });
    if rules.filter(stands).count() == 0 { 0.0 } else { design.along.as_ref().map_or(0.0, |repeat| repeat.every) }
}

/// Whether `text` names `length` mm, or up to a mark of the tape more.
fn says(text: &str, length: f64, at_home: bool) -> bool {
    if at_home {
        return text == "nothing";
    }
    let mut words: Vec<&str> = text.split(' ').collect();
    let (unit, mark) = match words.pop() {
        Some("yd") => (YARD_MM, 0.0),
        Some("in") => (INCH_MM, INCH_MM / 8.0),
        Some("cm") => (10.0, 1.0),
        _ => return false,
    };
    let number = |word: &&str| match word.split_once('/') {
        Some((top, bottom)) => Some(top.parse::<f64>().ok()? / bottom.parse::<f64>().ok()?),
        None => word.parse::<f64>().ok(),
    };
    let Some(numbers) = words.iter().map(number).collect::<Option<Vec<f64>>>() else { return false };
    let said = numbers.iter().sum::<f64>() * unit;
    let over = said - length;
    !numbers.is_empty() && over >= -UNFELT - NOISE * (1.0 + length) && over < mark + NOISE * (1.0 + length)
}

/// Whether `cost` is `steps` steps of `step` mm at `price`, to the hundredth, halves up: so much that half a hundredth less would be
/// too little and half a hundredth more too much.
fn costs(cost: &Money, price: Price, step: f64, steps: u64) -> bool {
    let millionths = |mm: f64| Decimal::from_f64((mm * 1e6).round());
    let half = Decimal::new(5, 3);
    let tried = || {
        let (step_exact, unit) = (millionths(step)?, millionths(price.per.length())?);
        let paid_for = Decimal::from(steps).checked_mul(step_exact)?.checked_mul(price.amount)?;
        // A step that is no whole number of millionths of a millimetre, a seventh of a yard, is rounded above.
        let is_exact = (step * 1e6 - (step * 1e6).round()).abs() < 1e-4;
        let slack = if is_exact { Decimal::ZERO } else { Decimal::from(steps).checked_mul(price.amount)? };
        let least = (cost.amount - half).checked_mul(unit)?.checked_sub(slack)?;
        let most = (cost.amount + half).checked_mul(unit)?.checked_add(slack)?;
        Some(least <= paid_for && (paid_for < most || (!is_exact && paid_for <= most)))
    };
    cost.amount.scale() == 2 && tried().unwrap_or(true)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::tests::judged_as_answer;
    use crate::{Fabric, Layout, PriceUnit, Purchase, Shrinkage, Units, purchase, sample};

    /// The faults of a sound layout of cloth sold as `fabric` says, after one thing in what is bought is changed.
    fn faults(fabric: impl Fn(&mut Fabric), change: impl FnOnce(&mut Purchase)) -> Vec<&'static str> {
        let mut layout: Layout = sample::open_layout();
        let mut bought = sample::fabric(&layout);
        fabric(&mut bought);
        layout.cloth.on_hand = bought.cloth.on_hand;
        layout.purchase = purchase(&bought, Units::Centimetres, layout.length);
        change(&mut layout.purchase);
        let faults = judged_as_answer(&layout, &sample::pattern(), |question| fabric(&mut question.fabric));
        let what = |fault: Fault| match fault {
            Fault::WrongPurchase { what } => what,
            other => panic!("{other}"),
        };
        faults.into_iter().map(what).collect()
    }

    fn priced(fabric: &mut Fabric) {
        fabric.price = Some(Price { amount: "16.47".parse().unwrap(), per: PriceUnit::Yard });
        fabric.currency = Some("GBP".into());
        fabric.sold_by = YARD_MM / 6.0;
    }

    #[test]
    fn what_is_reckoned_right_passes() {
        assert!(faults(|_| {}, |_| {}).is_empty());
        assert!(faults(priced, |_| {}).is_empty());
        assert!(faults(|fabric| fabric.cloth.on_hand = Some(300.0), |_| {}).is_empty());
        assert!(faults(|fabric| fabric.cloth.on_hand = Some(299.0), |_| {}).is_empty());
        let washed = |fabric: &mut Fabric| {
            fabric.shrinkage = Shrinkage { along: 0.1, across: 0.0 };
            fabric.straighten_ends = 50.0;
        };
        assert!(faults(washed, |_| {}).is_empty());
        assert_eq!(
            faults(washed, |bought| bought.needed *= 1.001),
            [
                "length and allowances do not add up to what is needed",
                "what is needed does not shrink to the length of the layout"
            ]
        );
    }

    #[test]
    fn a_step_too_many_or_too_few_is_found_out() {
        let buy = |steps: u64| {
            move |bought: &mut Purchase| {
                bought.steps = steps;
                bought.buy = steps as f64 * 100.0;
                bought.buy_text = format!("{} cm", steps * 10);
            }
        };
        assert!(faults(|_| {}, buy(3)).is_empty());
        assert_eq!(faults(|_| {}, buy(4)), ["a step less would do"]);
        assert_eq!(faults(|_| {}, buy(2)), ["what is bought is too short"]);
        assert_eq!(
            faults(|fabric| fabric.cloth.on_hand = Some(300.0), buy(3)),
            ["cloth is bought though there is enough at home", "the text says another length than what is bought"]
        );
    }

    #[test]
    fn a_cent_too_little_or_too_much_is_found_out() {
        let cost = |amount: &'static str| {
            faults(priced, move |bought| bought.cost.as_mut().unwrap().amount = amount.parse().unwrap())
        };
        // Two sixths of a yard at 16.47 are 5.49.
        assert!(cost("5.49").is_empty());
        for wrong in ["5.48", "5.50", "5.4"] {
            assert_eq!(cost(wrong), ["the cost is not what the price says"], "{wrong}");
        }
        let foreign = |bought: &mut Purchase| bought.cost.as_mut().unwrap().currency = Some("EUR".into());
        assert_eq!(faults(priced, foreign), ["the cost is not what the price says"]);
        // 11 sixths of a yard are a tie, and ties go up.
        let tie = |amount: &str| {
            let money = Money::new(amount.parse().unwrap(), None);
            costs(&money, Price { amount: "16.47".parse().unwrap(), per: PriceUnit::Yard }, YARD_MM / 6.0, 11)
        };
        assert!(tie("30.20") && !tie("30.19"));
    }

    #[test]
    fn the_text_is_read_back() {
        assert!(says("1 5/6 yd", 11.0 * YARD_MM / 6.0, false));
        assert!(!says("1 2/3 yd", 11.0 * YARD_MM / 6.0, false));
        assert!(says("60 in", 60.0 * INCH_MM, false) && says("114.3 cm", 1142.5, false));
        assert!(!says("114.3 cm", 1144.0, false) && !says("nothing", 300.0, false) && !says("", 0.0, false));
    }

    #[test]
    fn what_is_on_hand_is_told_as_it_is() {
        let on_hand = |fabric: &mut Fabric| fabric.cloth.on_hand = Some(350.0);
        let told = |to: Option<OnHand>| faults(on_hand, move |bought| bought.on_hand = to);
        assert!(told(Some(OnHand::Enough { spare: 50.0 })).is_empty());
        let untrue = "what is told of the cloth on hand is not so";
        assert_eq!(told(Some(OnHand::Enough { spare: 40.0 })), [untrue]);
        assert!(told(None).contains(&untrue));
    }

    #[test]
    fn a_mark_of_the_tape_too_much_is_found_out() {
        let sixty = 60.0 * INCH_MM;
        assert!(says("60 1/8 in", sixty + 1.3, false) && says("60 1/8 in", sixty + 0.1, false));
        assert!(
            !says("60 1/8 in", sixty - 0.1, false)
                && !says("61 in", sixty, false)
                && !says("60 in", sixty + 0.1, false)
        );
        assert!(says("30 cm", 300.0, false) && says("30 cm", 299.1, false));
        assert!(!says("30 cm", 298.9, false) && !says("30 cm", 300.1, false) && !says("31 cm", 300.0, false));
        assert!(!says("2 1/4 yd", 2.0 * YARD_MM, false) && !says("2 yd", 2.25 * YARD_MM, false));
        assert!(says("nothing", 0.0, true) && !says("30 cm", 300.0, true));
    }

    #[test]
    fn a_cost_that_is_left_out_or_made_up_is_found_out() {
        let untrue = ["the cost is not what the price says"];
        assert_eq!(faults(priced, |bought| bought.cost = None), untrue);
        let free = |bought: &mut Purchase| bought.cost = Some(Money::new("1.00".parse().unwrap(), None));
        assert_eq!(faults(|_| {}, free), untrue);
        let other = |bought: &mut Purchase| bought.price = None;
        assert_eq!(faults(priced, other), ["the price is not the one asked for"]);
    }

    #[test]
    fn cloth_at_home_that_is_just_enough_is_not_short_and_none_is_left_below_nothing() {
        let told = |have: f64, to: OnHand| {
            let on_hand = move |fabric: &mut Fabric| fabric.cloth.on_hand = Some(have);
            faults(on_hand, move |bought| bought.on_hand = Some(to))
        };
        let untrue = "what is told of the cloth on hand is not so";
        assert!(told(300.0, OnHand::Short { by: 0.0 }).contains(&untrue));
        assert!(told(250.0, OnHand::Enough { spare: -50.0 }).contains(&untrue));
        assert!(told(350.0, OnHand::Short { by: -50.0 }).contains(&untrue));
        assert!(told(250.0, OnHand::Short { by: 40.0 }).contains(&untrue));
        assert!(told(250.0, OnHand::Short { by: 50.0 }).is_empty());
    }

    /// On a roll on which nobody knows how much lies before the first line, a repeat along is needed for what stands along, and for
    /// nothing else.
    #[test]
    fn a_repeat_is_added_where_a_match_names_a_place_along_and_nowhere_else() {
        use crate::{Design, Match, Need, PiecePoint, Repeat};
        let faults = |axis: DesignAxis, cut_end: CutEnd, change: fn(&mut Purchase)| {
            let at = PiecePoint { piece: "Yoke".into(), point: "left".into() };
            let repeat = |every| Some(Repeat::even(every, 0.0));
            let design = Design { cut_end, ..Design::repeating(repeat(200.0), repeat(120.0)) };
            let mut layout: Layout = sample::open_layout();
            layout.cloth.design = Some(design);
            let phase = if axis == DesignAxis::Along { 50.0 } else { 40.0 };
            let rules = vec![MatchRule::Stand { at, axis, phase }];
            layout.matching = vec![Match { name: "yoke".into(), need: Need::Required, rules }];
            let mut pattern = sample::pattern();
            pattern.pieces[1].points.insert("left".into(), ellwand_geometry::point(-100.0, 50.0));
            layout.cuts[2] = sample::cut(&pattern.pieces[1], 2, 1, ellwand_geometry::Pose::AS_DRAWN, (540.0, 0.0));
            layout.matches = crate::matched_points(
                &layout.matching,
                &layout.cuts,
                layout.cloth.design.as_ref().unwrap(),
                layout.cloth.width,
            );
            layout.purchase = purchase(&sample::fabric(&layout), Units::Centimetres, layout.length);
            change(&mut layout.purchase);
            judged_as_answer(&layout, &pattern, |_| {})
        };
        let needed = |axis, cut_end| {
            assert_eq!(faults(axis, cut_end, |_| {}), vec![], "{axis:?}, {cut_end:?}");
            let added = |bought: &mut Purchase| {
                bought.allowances.push(crate::Allowance { reason: AllowanceReason::LineOfDesign, length: 120.0 });
                bought.needed += 120.0;
                (bought.steps, bought.buy) = (5, 500.0);
                bought.buy_text = "50 cm".into();
            };
            let dropped = |bought: &mut Purchase| {
                bought.allowances.clear();
                bought.needed = 300.0;
                (bought.steps, bought.buy) = (3, 300.0);
                bought.buy_text = "30 cm".into();
            };
            assert!(!faults(axis, cut_end, added).is_empty());
            faults(axis, cut_end, dropped).len()
        };
        assert_eq!(needed(DesignAxis::Along, CutEnd::OnTheRoll), 2, "the allowance and what it shrinks to");
        assert_eq!(needed(DesignAxis::Across, CutEnd::OnTheRoll), 0);
        assert_eq!(needed(DesignAxis::Along, CutEnd::Measured), 0);
    }
}
