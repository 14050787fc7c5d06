use super::*;

use crate::{Cloth, MatchRule, Nap, PriceUnit, RightSide, Shrinkage, Way, WayChoice};

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
            remnant: None,
        },
        ways: WayChoice::Only(Way::Open),
        price: None,
        currency: None,
        sold_by: YARD / 8.0,
        shrinkage: Shrinkage::default(),
        straighten_ends: 0.0,
        matching: Default::default(),
        remnants: Vec::new(),
    }
}

fn priced(amount: &str, per: PriceUnit) -> Option<Price> {
    Some(Price { amount: amount.parse().unwrap(), per })
}

fn buy(fabric: &Fabric, length: f64) -> f64 {
    purchase(fabric, Units::Inches, length).buy
}

#[test]
fn an_exact_multiple_is_not_bumped_by_what_no_tape_tells() {
    // 288 in = 8 yd exactly: the worked window of a drapery how-to page (track 65 in, fullness 2.25, cloth 54 in).
    assert_eq!(buy(&plain(), 288.0 * INCH), 8.0 * YARD);
    assert_eq!(buy(&plain(), 288.0 * INCH + 1e-9), 8.0 * YARD);
    // A curve drawn by straight lines is as much longer; a real tenth of a millimetre is not.
    assert_eq!(buy(&plain(), 288.0 * INCH + 0.04), 8.0 * YARD);
    assert_eq!(buy(&plain(), 288.0 * INCH + 0.06), 8.125 * YARD);
}

#[test]
fn shrinkage_divides_and_then_rounds_up() {
    // 3 yd usable at 4 per cent: 3 / 0.96 = 3.125 yd; worked here from the rule.
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

#[test]
fn the_price_is_exact_and_rounded_once() {
    // 1 5/6 yd at 16.47 is 30.195, half up 30.20; a sixth of a yard divided first comes to 30.19.
    let fabric = Fabric { sold_by: YARD / 6.0, price: priced("16.47", PriceUnit::Yard), ..plain() };
    let found = purchase(&fabric, Units::Inches, 1.8 * YARD);
    assert_eq!((found.steps, found.buy_text.as_str()), (11, "1 5/6 yd"));
    assert_eq!(found.cost.unwrap().amount.to_string(), "30.20");
    // A seventh of a yard is no decimal of a millimetre: 7 of them at 0.345 are 0.345, half up 0.35.
    let fabric = Fabric { sold_by: YARD / 7.0, price: priced("0.345", PriceUnit::Yard), ..plain() };
    assert_eq!(purchase(&fabric, Units::Inches, YARD).cost.unwrap().amount.to_string(), "0.35");
    // 25 cm steps priced by the yard: 2.5 m at 9.144 a yard are 25.
    let fabric = Fabric { sold_by: 250.0, price: priced("9.144", PriceUnit::Yard), ..plain() };
    assert_eq!(purchase(&fabric, Units::Inches, 2300.0).cost.unwrap().amount.to_string(), "25.00");
}

#[test]
fn what_is_at_home_is_not_bought_and_costs_nothing() {
    let cloth = Cloth { on_hand: Some(2.0 * YARD), ..plain().cloth };
    let fabric = Fabric { cloth, price: priced("10", PriceUnit::Yard), currency: Some("GBP".into()), ..plain() };
    let enough = purchase(&fabric, Units::Inches, 2.0 * YARD);
    assert_eq!((enough.on_hand, enough.is_at_home()), (Some(OnHand::Enough { spare: 0.0 }), true));
    assert_eq!((enough.steps, enough.buy, enough.buy_text.as_str()), (0, 0.0, "nothing"));
    assert_eq!(enough.cost.unwrap().to_string(), "0.00 GBP");
    let short = purchase(&fabric, Units::Inches, 2.0 * YARD + 10.0);
    assert!(matches!(short.on_hand, Some(OnHand::Short { by }) if (by - 10.0).abs() < 1e-9));
    assert_eq!((short.buy_text.as_str(), short.cost.unwrap().to_string().as_str()), ("2 1/8 yd", "21.25 GBP"));
    assert_eq!(short_of_on_hand(&fabric, YARD), None);
}

#[test]
fn what_is_at_home_is_measured_before_washing_and_with_crooked_ends() {
    // 900 mm of layout and 45 mm for the ends, of cloth that loses a tenth: 1050 mm.
    let shrinkage = Shrinkage { along: 0.1, across: 0.0 };
    let with = |on_hand| {
        let cloth = Cloth { on_hand: Some(on_hand), ..plain().cloth };
        purchase(&Fabric { cloth, shrinkage, straighten_ends: 45.0, ..plain() }, Units::Inches, 900.0)
    };
    assert_eq!(with(1050.0).needed, 1050.0);
    assert!(with(1050.0).is_at_home() && !with(1049.0).is_at_home());
}

#[test]
fn a_repeat_is_added_only_for_a_place_along_a_design_that_is_on_the_roll() {
    use crate::{Match, Need, PiecePoint, Repeat};
    let of = |rules: Vec<MatchRule>, cut_end| {
        let repeat = || Some(Repeat::even(90.0, 0.0));
        let design = Design { cut_end, ..Design::repeating(repeat(), repeat()) };
        let mut fabric = Fabric { sold_by: 100.0, straighten_ends: 10.0, ..plain() };
        fabric.shrinkage.along = 0.1;
        fabric.cloth.design = Some(design);
        fabric.matching.matches = vec![Match { name: "hem".into(), need: Need::Required, rules }];
        let found = purchase(&fabric, Units::Centimetres, 800.0);
        let sum: f64 = found.allowances.iter().map(|allowance| allowance.length).sum();
        assert!((found.needed - 800.0 - sum).abs() < 1e-9, "{found:?}");
        (found.needed, found.buy)
    };
    let at = || PiecePoint { piece: "Panel".into(), point: "hem".into() };
    let stand = |axis| MatchRule::Stand { at: at(), axis, phase: 0.0 };
    let meet = |axis| MatchRule::Meet { a: at(), b: at(), axis };
    // 800 and 10 mm, and 90 where a repeat may lie before the first line, of cloth that loses a tenth.
    assert_eq!(of(vec![stand(DesignAxis::Across), stand(DesignAxis::Along)], CutEnd::OnTheRoll), (1000.0, 1000.0));
    for (rules, cut_end) in [
        (vec![stand(DesignAxis::Across)], CutEnd::OnTheRoll),
        (vec![meet(DesignAxis::Along)], CutEnd::OnTheRoll),
        (vec![stand(DesignAxis::Along)], CutEnd::Measured),
    ] {
        assert_eq!(of(rules, cut_end), (900.0, 900.0));
    }
}

#[test]
fn money_goes_half_up_after_an_even_cent_too() {
    // 1/8 yd at 1.00 is 0.125, 5/8 yd at 1.00 is 0.625; half-even would say 0.12 and 0.62.
    let fabric = Fabric { price: priced("1.00", PriceUnit::Yard), ..plain() };
    for (eighths, cost) in [(1.0, "0.13"), (5.0, "0.63"), (3.0, "0.38")] {
        assert_eq!(purchase(&fabric, Units::Inches, eighths * YARD / 8.0).cost.unwrap().to_string(), cost);
    }
    // The same money for the same cloth, whichever unit the price is for.
    let by_metre = Fabric { price: priced("10.00", PriceUnit::Metre), sold_by: 500.0, ..plain() };
    assert_eq!(purchase(&by_metre, Units::Inches, 1400.0).cost.unwrap().to_string(), "15.00");
}

#[test]
fn a_step_is_a_plain_fraction_of_the_priced_length_or_none() {
    let cases = [
        (1.0 / 8.0, Some((1, 8))),
        (1.0 / 6.0, Some((1, 6))),
        (1.0 / 7.0, Some((1, 7))),
        (2.5, Some((5, 2))),
        (3.0, Some((3, 1))),
        (250.0 / 914.4, Some((625, 2286))),
        (0.1, Some((1, 10))),
        // The longest denominator there may be, and one that a rougher one nearly is.
        (1e-6, Some((1, 1_000_000))),
        (9.0 / 900_001.0, Some((9, 900_001))),
        (std::f64::consts::FRAC_1_SQRT_2, None),
        (1.0 / 1_000_001.5, None),
        (0.0, None),
        (-0.5, None),
        (f64::NAN, None),
        (f64::INFINITY, None),
    ];
    for (value, fraction) in cases {
        assert_eq!(plain_fraction(value), fraction, "{value}");
    }
}

#[test]
fn where_nothing_shrinks_no_shrinkage_is_told() {
    for tenths in 1..400_u32 {
        let length = f64::from(tenths) * 10.1;
        for straighten_ends in [0.0, 50.8, 0.3] {
            let fabric = Fabric { straighten_ends, ..plain() };
            let told = purchase(&fabric, Units::Inches, length).allowances;
            assert!(told.iter().all(|added| added.reason == AllowanceReason::StraighteningEnds), "{length}: {told:?}");
            assert_eq!(told.len(), usize::from(straighten_ends > 0.0));
        }
    }
}

#[test]
fn cloth_at_home_is_not_short_by_what_no_tape_tells() {
    let on_hand = |have: f64| {
        let mut fabric = plain();
        fabric.cloth.on_hand = Some(have);
        (purchase(&fabric, Units::Inches, 1000.0).on_hand.unwrap(), short_of_on_hand(&fabric, 1000.0))
    };
    assert_eq!(on_hand(1000.0 - 0.04), (OnHand::Enough { spare: 0.0 }, None));
    assert!(
        matches!(on_hand(999.94), (OnHand::Short { by }, Some(missing)) if (by - 0.06).abs() < 1e-9 && by == missing)
    );
    assert_eq!(on_hand(1250.0), (OnHand::Enough { spare: 250.0 }, None));
    assert_eq!(short_of_on_hand(&plain(), 1000.0), None, "there is none at home");
}

#[test]
fn cloth_at_home_is_told_in_words() {
    assert_eq!(
        OnHand::Enough { spare: 4.5 * INCH }.words(3.0 * YARD, Units::Inches),
        "the 3 yd on hand is enough, with 4 1/2 in to spare"
    );
    // What is missing is never told too short.
    assert_eq!(
        OnHand::Short { by: 100.1 }.words(2500.0, Units::Centimetres),
        "the 250 cm on hand is 10.1 cm too short, and a layout is cut from one piece"
    );
}

#[test]
fn each_allowance_says_what_it_is_for() {
    let said = [AllowanceReason::StraighteningEnds, AllowanceReason::LineOfDesign, AllowanceReason::Shrinkage];
    assert_eq!(
        said.map(|reason| reason.to_string()),
        ["straightening the ends", "the line of the design it begins at", "shrinkage"]
    );
}

#[test]
fn so_much_shorter_a_step_less_is_bought_and_a_little_less_short_it_is_not() {
    let mut cloth = plain();
    cloth.shrinkage.along = 0.04;
    cloth.straighten_ends = 50.0;
    for length in [300.0, 512.3, 1000.0, 2345.6] {
        let shorter = next_step_down(&cloth, length).unwrap();
        let steps = |length: f64| purchase(&cloth, Units::Inches, length).steps;
        assert_eq!(steps(length - shorter) + 1, steps(length), "{length}");
        assert_eq!(steps(length - shorter + 0.01), steps(length), "{length}");
    }
    assert_eq!(next_step_down(&plain(), 80.0), None, "one step is the least");
    cloth.cloth.on_hand = Some(9000.0);
    assert_eq!(next_step_down(&cloth, 1000.0), None, "nothing is bought");
}
