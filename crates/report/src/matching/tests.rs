//! What is told of a matched cloth, in round figures: 150 cm with its matches and 120 cm without.

use super::*;

use ellwand_garment::{
    Border, BorderSides, CutEnd, DesignAxis, LeftEdge, Match, MatchRule, PiecePoint, Way, WayChoice, purchase,
};

use crate::sample::{lengthen, plaid, planned};

const CM: Units = Units::Centimetres;

fn price(name: &str, need: Need, length: f64, steps: i64) -> MatchPrice {
    let cost = Some(Money::new(format!("{}.00", steps).parse().unwrap(), Some("EUR".into())));
    MatchPrice { name: name.into(), need, length, steps, buy: steps as f64 * 100.0, cost }
}

fn stand(axis: DesignAxis) -> Match {
    let at = PiecePoint { piece: "Side".into(), point: "top".into() };
    Match { name: "side".into(), need: Need::Required, rules: vec![MatchRule::Stand { at, axis, phase: 0.0 }] }
}

/// The cloth with its plaid, as long as said with its matches and without them.
fn matched(with: f64, without: f64) -> ClothPlan {
    let mut cloth = planned(WayChoice::Only(Way::Open));
    cloth.fabric.cloth.design = Some(plaid());
    cloth.plan.layout.cloth.design = Some(plaid());
    lengthen(&mut cloth, with);
    let mut unmatched = cloth.plan.layout.clone();
    unmatched.length = without;
    unmatched.purchase = purchase(&cloth.fabric, CM, without);
    cloth.matching = Some(MatchingCost { unmatched, prices: Vec::new(), given_up: Vec::new(), cheaper: Vec::new() });
    cloth
}

fn cost(cloth: &mut ClothPlan) -> &mut MatchingCost {
    cloth.matching.as_mut().unwrap()
}

/// What stands behind a label, the lines that go on from it included.
fn said(cloth: &ClothPlan, label: &str) -> Vec<String> {
    let row = rows(cloth, CM, Detail::Reasons).into_iter().find(|row| row.label == label);
    row.map(|row| row.lines).unwrap_or_default()
}

#[test]
fn a_design_is_told_with_its_repeats_as_bought_and_as_washed() {
    let told = |change: &dyn Fn(&mut Design, &mut Fabric)| {
        let mut cloth = planned(WayChoice::Only(Way::Open));
        let mut design = plaid();
        change(&mut design, &mut cloth.fabric);
        cloth.fabric.cloth.design = Some(design);
        said(&cloth, "design").remove(0)
    };
    assert_eq!(told(&|_, _| {}), "even plaid or check, repeat 12 cm across and 15 cm along");
    assert_eq!(
        told(&|_, fabric| fabric.shrinkage.along = 0.0625),
        "even plaid or check, repeat 12 cm across and 16 cm along as bought, 12 cm and 15 cm after washing"
    );
    assert_eq!(
        told(&|_, fabric| fabric.shrinkage.across = 0.2),
        "even plaid or check, repeat 15 cm across and 15 cm along as bought, 12 cm and 15 cm after washing"
    );
    let uneven = |repeat: &mut Option<Repeat>| repeat.as_mut().unwrap().balance = Balance::Uneven;
    assert!(told(&|design, _| uneven(&mut design.across)).starts_with("uneven across, even along, plaid or check"));
    assert!(told(&|design, _| uneven(&mut design.along)).starts_with("even across, uneven along, plaid or check"));
    assert_eq!(told(&|design, _| design.along = None), "even stripe along the warp, repeat 12 cm");
    let weft = |design: &mut Design, _: &mut Fabric| {
        design.across = None;
        uneven(&mut design.along);
    };
    assert_eq!(told(&weft), "uneven stripe from selvage to selvage, repeat 15 cm");
    let bordered = |design: &mut Design, _: &mut Fabric| {
        (design.across, design.along) = (None, None);
        design.border = Some(Border { sides: BorderSides::Left, width: 60.0, colour: String::new() });
    };
    assert_eq!(told(&bordered), "no repeat, a border of 6 cm");
    assert!(
        rows(&planned(WayChoice::Only(Way::Open)), CM, Detail::Figures).is_empty(),
        "plain cloth has nothing to tell"
    );
}

#[test]
fn what_an_uneven_design_makes_impossible_is_told() {
    let told = |across: Balance, along: Balance, right_side: RightSide| {
        let mut cloth = matched(1500.0, 1200.0);
        let mut design = plaid();
        design.across.as_mut().unwrap().balance = across;
        design.along.as_mut().unwrap().balance = along;
        (cloth.fabric.cloth.design, cloth.fabric.cloth.right_side) = (Some(design), right_side);
        said(&cloth, "uneven").iter().map(|said| said.chars().take(24).collect::<String>()).collect::<Vec<_>>()
    };
    let (left_and_right, both_hands) = ("the design is uneven acr", "both hands of a pair are");
    let upside_down = "no piece may lie upside ";
    assert!(told(Balance::Even, Balance::Even, RightSide::One).is_empty());
    assert_eq!(told(Balance::Uneven, Balance::Even, RightSide::One)[0], left_and_right);
    assert_eq!(told(Balance::Uneven, Balance::Even, RightSide::Both)[0], both_hands);
    assert_eq!(told(Balance::Even, Balance::Uneven, RightSide::One), [upside_down]);
    assert_eq!(told(Balance::Uneven, Balance::Uneven, RightSide::One), [left_and_right, upside_down]);
}

#[test]
fn what_matching_takes_is_told_in_length_and_money() {
    let told = |with: f64, without: f64| said(&matched(with, without), "matching").remove(0);
    assert_eq!(
        told(1500.0, 1200.0),
        "takes 30 cm more than the 120 cm needed with nothing matched; 30 cm, 3.00 EUR more to buy"
    );
    assert_eq!(
        told(1180.0, 1150.0),
        "takes 3 cm more than the 115 cm needed with nothing matched; nothing more to buy"
    );
    assert_eq!(told(1200.4, 1200.0), "takes no more than the 120 cm needed with nothing matched");
    assert_eq!(
        told(1200.5, 1200.0),
        "takes 0.1 cm more than the 120 cm needed with nothing matched; 10 cm, 1.00 EUR more to buy"
    );
    let mut unpriced = matched(1500.0, 1200.0);
    cost(&mut unpriced).unmatched.purchase.cost = None;
    assert!(said(&unpriced, "matching")[0].ends_with("; 30 cm more to buy"));
}

#[test]
fn each_match_is_told_with_what_dropping_it_saves() {
    let mut cloth = matched(1500.0, 1200.0);
    cost(&mut cloth).prices = vec![
        price("side", Need::Required, 180.0, 2),
        price("pocket", Need::Wished, 35.0, 0),
        price("cuff", Need::Wished, 0.4, 0),
        price("collar", Need::Required, 0.5, 0),
    ];
    cost(&mut cloth).given_up = vec![price("yoke", Need::Wished, 390.0, 4)];
    assert_eq!(
        said(&cloth, "matches"),
        [
            "side: dropping it saves 20 cm, 2.00 EUR",
            "pocket (wished): dropping it saves 3.5 cm of layout but nothing to buy",
            "cuff (wished): no saving was found by dropping it",
            "collar: no saving was found by dropping it",
            "yoke: given up, it would cost 40 cm, 4.00 EUR",
        ]
    );
}

#[test]
fn bars_that_nobody_measured_are_told_with_the_width_kept_free() {
    let mut cloth = matched(1500.0, 1200.0);
    assert!(said(&cloth, "bars").is_empty());
    cloth.plan.layout.cloth.design.as_mut().unwrap().left_edge = LeftEdge::OnTheRoll;
    assert!(said(&cloth, "bars").is_empty(), "nothing stands on the design across");
    cloth.plan.layout.matching = vec![stand(DesignAxis::Across)];
    assert!(
        said(&cloth, "bars")[0].starts_with("their place was not measured, so 6 cm along each selvage is kept free")
    );
}

#[test]
fn what_would_make_the_cloth_at_home_enough_is_told() {
    let told = |on_hand: f64, unmatched: f64| {
        let mut cloth = matched(1500.0, unmatched);
        cloth.fabric.cloth.on_hand = Some(on_hand);
        cost(&mut cloth).prices = vec![
            price("side", Need::Required, 150.0, 2),
            price("pocket", Need::Wished, 180.0, 2),
            price("cuff", Need::Wished, 20.0, 0),
        ];
        said(&cloth, "making do").pop()
    };
    assert_eq!(told(1500.0, 1200.0), None, "it is enough");
    assert_eq!(told(1340.0, 1200.0).unwrap(), "the cloth on hand would be enough without the match \"pocket\"");
    assert_eq!(
        told(1350.0, 1200.0).unwrap(),
        "the cloth on hand would be enough without the match \"side\" or \"pocket\""
    );
    assert_eq!(
        told(1250.0, 1200.0).unwrap(),
        "the cloth on hand would be enough with nothing matched; dropping one match alone is not enough"
    );
    assert_eq!(
        told(1150.0, 1200.0).unwrap(),
        "the cloth on hand would not be enough even with nothing matched; this layout is 35 cm short"
    );
    assert_eq!(said(&matched(1500.0, 1200.0), "making do"), Vec::<String>::new());
}

#[test]
fn rules_of_thumb_are_told_beside_what_this_layout_takes() {
    let mut cloth = matched(1500.0, 1200.0);
    let lines = said(&cloth, "rules of thumb");
    // A large repeat of 15 cm; no piece is matched, so two of the rules add nothing.
    assert_eq!(lines[0], "between 120 cm and 211.5 cm; this layout takes 150 cm");
    assert_eq!(lines[1], "120 cm: a repeat for each piece stacked along the length (a retailer's tutorial)");
    assert_eq!(
        lines[3],
        "165.8 cm to 211.5 cm: at least 1/4 yd, 1/2 to 1 yd if large or uneven (a sewing periodical, 2010)"
    );
    assert_eq!(lines[5], "150 cm: at least a quarter more (An A-to-Z sewing-technique handbook, 2014)");
    assert_eq!(lines.len(), 9);
    let brief = rows(&cloth, CM, Detail::Figures);
    let one = Row::new("rules of thumb", lines[0].clone());
    assert_eq!(brief.last().unwrap(), &one, "one line, unless reasons are asked for");
    // With a piece matched, a repeat for it; and what lies before the first line counts as taken.
    cloth.plan.layout.matching = vec![stand(DesignAxis::Along)];
    cloth.fabric.matching.matches = cloth.plan.layout.matching.clone();
    cloth.fabric.cloth.design.as_mut().unwrap().cut_end = CutEnd::OnTheRoll;
    lengthen(&mut cloth, 1500.0);
    let lines = said(&cloth, "rules of thumb");
    assert_eq!(
        lines[0],
        "between 135 cm and 211.5 cm; this layout takes 165 cm, with the 15 cm to the line it begins at"
    );
    assert!(lines[2].starts_with("135 cm: a repeat for each piece that must be free to slide"), "{lines:?}");
    // A design without a repeat has no rules.
    let design = cloth.fabric.cloth.design.as_mut().unwrap();
    (design.across, design.along) = (None, None);
    assert_eq!(said(&cloth, "rules of thumb"), Vec::<String>::new());
}
