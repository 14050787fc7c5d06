//! Matched cloth: what is always true of it, what each kind of design allows, and which questions have no answer.

mod common;

use common::{
    INCH, YARD,
    designs::{NOISE, at, design, even, fault, layout, layout_with, matched, meet, required, stand, tiny, with_side},
    folded_rectangle, job, judge, little, main_cloth, pattern, piece, rectangle,
};
use ellwand_garment::{
    Balance, CentreOn, CutEnd, DesignAxis, GrainRule, Hands, Job, Layout, Match, MatchFault, MatchLimit, MatchRule,
    Nap, Need, Pattern, RightSide, Way, WayChoice,
};
use ellwand_geometry::{Outline, point};
use ellwand_planner::{PlanError, Unheard, plan_cloth, plan_job};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

fn config(cases: u32) -> ProptestConfig {
    ProptestConfig { cases, rng_seed: RngSeed::Fixed(20_261), failure_persistence: None, ..ProptestConfig::default() }
}

/// A leaning front cut as a pair, a back that is its own mirror image, a pocket.
fn garment(width: f64, height: f64, lean: f64) -> Pattern {
    let front = [(0.0, 0.0), (width, 0.0), (width * 0.8, height), (lean, height * 0.9)];
    let front = piece("Front", Outline::from_pairs(&front).unwrap(), 2, Hands::Pair);
    let back = folded_rectangle("Back", 1.7 * width, height * 0.95, 1);
    let pocket = rectangle("Pocket", 0.4 * width, 0.25 * height, 2);
    pattern(vec![with_side(front, width, 40.0), with_side(back, 0.85 * width, 25.0), with_side(pocket, 0.0, 10.0)])
}

/// Sides meet along, the pocket meets the front both ways, the back is centred on a bar.
fn all_matches() -> Vec<Match> {
    vec![
        required("side", vec![meet("Front", "Back", DesignAxis::Along), meet("Front", "Front", DesignAxis::Along)]),
        required(
            "pocket",
            vec![meet("Front", "Pocket", DesignAxis::Along), meet("Front", "Pocket", DesignAxis::Across)],
        ),
    ]
}

fn any_repeat() -> impl Strategy<Value = (f64, f64)> {
    // From under an inch to two feet, with offsets that need not be less than the repeat.
    (prop_oneof![8.0..25.0, 25.0..200.0, 500.0..610.0], 0.0..300.0)
}

proptest! {
    #![proptest_config(config(12))]

    #[test]
    fn matched_is_never_shorter_than_unmatched(
        (rx, ox) in any_repeat(), (ry, oy) in any_repeat(), width in 150.0..300.0, height in 200.0..500.0, lean in -30.0..60.0,
        napped in any::<bool>(),
    ) {
        let garment = garment(width, height, lean);
        let mut job = matched(1300.0, WayChoice::Either, design(even(rx, ox), even(ry, oy)), all_matches());
        main_cloth(&mut job).nap = if napped { Nap::With } else { Nap::Without };
        let plan = plan_job(&job, &garment, &["main".into()], &tiny(), &Unheard).unwrap();
        let cost = plan.cloths[0].matching.as_ref().expect("something is matched");
        judge(plan.cloths[0].layout(), &job, &garment);
        prop_assert!(cost.unmatched.length <= plan.cloths[0].layout().length + NOISE);
        prop_assert_eq!(cost.prices.len(), 2);
        prop_assert!(cost.prices.iter().all(|price| price.length >= -NOISE && price.buy >= -NOISE));
        let all = plan.cloths[0].layout().length - cost.unmatched.length;
        prop_assert!(cost.prices.iter().all(|price| price.length <= all + NOISE), "one costs no more than all");
    }

    #[test]
    fn halving_both_repeats_never_needs_more(
        (rx, ox) in any_repeat(), (ry, oy) in any_repeat(), width in 150.0..300.0, height in 200.0..500.0, fold in any::<bool>(),
    ) {
        let garment = garment(width, height, 10.0);
        let mut matches = all_matches();
        matches.push(required("hem", vec![stand("Front", DesignAxis::Along, 0.0), stand("Front", DesignAxis::Across, 0.0)]));
        let layer = if fold { WayChoice::Either } else { WayChoice::Only(Way::Open) };
        let whole = matched(1300.0, layer, design(even(rx, ox), even(ry, oy)), matches.clone());
        let halved = matched(1300.0, layer, design(even(rx / 2.0, ox), even(ry / 2.0, oy)), matches);
        let Ok(plan) = plan_cloth(&whole, &garment, "main", &[], &tiny(), &Unheard) else { return Ok(()) };
        let known: Vec<Layout> = plan.layouts().cloned().collect();
        prop_assert!(layout(&halved, &garment, &known).length <= plan.layout().length + NOISE);
    }
}

#[test]
fn a_repeat_finer_than_a_thread_costs_a_hair() {
    // Rectangles that fill three rows: both searches find the shortest there is, and each row may begin a hundredth late.
    let sizes = [
        ("Front", 300.0, 420.0),
        ("Back", 350.0, 420.0),
        ("Sleeve", 450.0, 310.0),
        ("Yoke", 200.0, 310.0),
        ("Band", 640.0, 90.0),
    ];
    let pieces = sizes.map(|(name, width, height)| with_side(rectangle(name, width, height, 1), width, 0.0));
    let garment = pattern(pieces.to_vec());
    let rules = |axis| sizes.map(|(name, ..)| meet("Front", name, axis)).to_vec();
    let all = [rules(DesignAxis::Along), rules(DesignAxis::Across)].concat();
    let fine = matched(
        650.0,
        WayChoice::Only(Way::Open),
        design(even(0.01, 0.0), even(0.01, 0.0)),
        vec![required("all", all)],
    );
    let length = |job: &Job| layout_with(&little(), job, &garment, &[]).length;
    let (fine, plain) = (length(&fine), length(&job(650.0, WayChoice::Only(Way::Open))));
    assert!((plain - 820.0).abs() < 1e-6, "{plain}");
    assert!((plain - 1e-6..=plain + 0.03).contains(&fine), "{fine} on a repeat of a hundredth, {plain} without");
}

#[test]
fn small_huge_and_uneasy_repeats_are_all_matched() {
    let garment = garment(220.0, 430.0, 15.0);
    for (rx, ry) in
        [(0.5 * INCH, 0.75 * INCH), (24.0 * INCH, 24.0 * INCH), (7.3 * INCH, 11.7 * INCH), (3.0, 24.0 * INCH)]
    {
        let job = matched(1500.0, WayChoice::Either, design(even(rx, 11.0), even(ry, 7.0)), all_matches());
        let plan = plan_cloth(&job, &garment, "main", &[], &little(), &Unheard).expect("there is an answer");
        judge(plan.layout(), &job, &garment);
        // Two fronts meet the back, each other and a pocket each in two directions.
        assert_eq!(plan.layout().matches.len(), 2 + 1 + 4);
    }
}

#[test]
fn a_rectangle_waits_for_its_line() {
    // Two of 700 mm on a 600 mm repeat, too wide to lie side by side: the second begins at the third line, worked by hand.
    let panel = with_side(rectangle("Panel", 600.0, 700.0, 2), 600.0, 0.0);
    let job = |repeat| {
        let rules = vec![meet("Panel", "Panel", DesignAxis::Along)];
        matched(1000.0, WayChoice::Only(Way::Open), design(None, even(repeat, 0.0)), vec![required("side", rules)])
    };
    let mut one_way = job(600.0);
    main_cloth(&mut one_way).nap = Nap::With;
    let garment = pattern(vec![panel]);
    assert!((layout(&one_way, &garment, &[]).length - 1900.0).abs() < 1e-3);
    // Turned end for end the second shows the design the other way round, so the sum of the places of both points counts: t and
    // t + 1400 when they touch, 600 k together, so t = 200. A layout that begins at 0 would be 1800 long.
    let turned = layout(&job(600.0), &garment, &[]).length;
    assert!((turned - 1600.0).abs() < 0.5, "{turned}");
}

#[test]
fn a_chosen_line_at_the_hem_waits_too() {
    // The low edge 100 mm past a line; lines at 50 mm and every 400 mm: the lowest place is 150 mm.
    let panel = with_side(rectangle("Panel", 600.0, 700.0, 1), 600.0, 0.0);
    let rules = vec![stand("Panel", DesignAxis::Along, 100.0)];
    let mut job =
        matched(1000.0, WayChoice::Only(Way::Open), design(None, even(400.0, 50.0)), vec![required("hem", rules)]);
    main_cloth(&mut job).nap = Nap::With;
    let garment = pattern(vec![panel]);
    assert!((layout(&job, &garment, &[]).length - 850.0).abs() < 1e-3);
    // Cloth on the roll may be cut anywhere: a repeat more is bought to begin at the line.
    let buy = |cut_end| {
        let mut job = job.clone();
        main_cloth(&mut job).design.as_mut().unwrap().cut_end = cut_end;
        layout(&job, &garment, &[]).purchase
    };
    assert!(buy(CutEnd::Measured).allowances.is_empty());
    let on_the_roll = buy(CutEnd::OnTheRoll);
    assert_eq!(on_the_roll.allowances[0].length, 400.0);
    assert_eq!(on_the_roll.buy, 11.0 * YARD / 8.0, "1250 mm are not quite eleven eighths");
}

#[test]
fn pairs_lie_on_a_fold_that_is_an_axis_of_the_design() {
    let garment = garment(220.0, 430.0, 15.0);
    let mut matches = all_matches();
    matches.push(required(
        "back",
        vec![MatchRule::Stand { at: at("Back", "middle"), axis: DesignAxis::Across, phase: 0.0 }],
    ));
    let mut pieces = garment.pieces.clone();
    pieces[1].points.insert("middle".into(), point(0.0, 30.0));
    let garment = pattern(pieces);
    for (offset, fold) in [(0.0, 700.0), (35.0, 735.0), (99.0, 659.0)] {
        let job = matched(
            1400.0,
            WayChoice::Only(Way::CentreFold),
            design(even(140.0, offset), even(90.0, 0.0)),
            matches.clone(),
        );
        let layout = layout(&job, &garment, &[]);
        assert_eq!(layout.cloth.centre_fold(), fold);
        assert!(layout.uses_fold());
    }
    // Midway between bars the same back cannot be on a bar.
    let mut midway =
        matched(1400.0, WayChoice::Only(Way::CentreFold), design(even(140.0, 0.0), even(90.0, 0.0)), matches);
    main_cloth(&mut midway).design.as_mut().unwrap().fold_on = CentreOn::Midway;
    let PlanError::FoldOffPhase { piece, by, .. } = fault(&midway, &garment) else { panic!("no place on the fold") };
    assert_eq!((piece.as_str(), by), ("Back", 70.0));
}

#[test]
fn an_uneven_design_is_cut_one_way_from_one_layer() {
    let garment = garment(220.0, 430.0, 15.0);
    let mut uneven = design(even(140.0, 0.0), even(90.0, 0.0));
    uneven.across.as_mut().unwrap().balance = Balance::Uneven;
    let mut job = matched(1400.0, WayChoice::Either, uneven, all_matches());
    let plan = plan_cloth(&job, &garment, "main", &[], &little(), &Unheard).unwrap();
    assert!(plan.layout().cuts.iter().all(|cut| cut.turned_deg == 0.0));
    assert!(!plan.layout().uses_fold());
    assert!(matches!(plan.others[0].answer, Err(PlanError::UnevenFold { .. })));
    job.fabrics[0].ways = WayChoice::Only(Way::CentreFold);
    assert!(matches!(fault(&job, &garment), PlanError::UnevenFold { .. }));
    // Cloth alike on both faces is turned over for the other hand, so every front is cut as drawn.
    job.fabrics[0].ways = WayChoice::Only(Way::Open);
    main_cloth(&mut job).right_side = RightSide::Both;
    let layout = layout(&job, &garment, &[]);
    assert!(layout.cuts.iter().all(|cut| !cut.mirrored));
}

#[test]
fn halves_on_the_bias_meet_in_chevrons() {
    let yoke = piece("Yoke", Outline::rectangle(160.0, 120.0).unwrap(), 2, Hands::Pair);
    let mut yoke = with_side(yoke, 160.0, 60.0);
    yoke.grain = GrainRule::Bias;
    let rules = [DesignAxis::Across, DesignAxis::Along].map(|axis| meet("Yoke", "Yoke", axis)).to_vec();
    let plaid = design(even(90.0, 20.0), even(70.0, 0.0));
    let mut job = matched(900.0, WayChoice::Only(Way::Open), plaid, vec![required("chevron", rules)]);
    let garment = pattern(vec![yoke]);
    let chevron = layout(&job, &garment, &[]);
    let [one, other] = &chevron.cuts[..] else { panic!("two halves") };
    assert_eq!((one.turned_deg, one.mirrored, other.turned_deg, other.mirrored), (45.0, false, 315.0, true));
    // Mirror images about an axis of the design: half the sum of their places across is a whole number of half repeats from it.
    let middle = (one.points["side"].x + other.points["side"].x) / 2.0;
    let off = (middle - 20.0).rem_euclid(45.0);
    assert!(off.min(45.0 - off) < 1e-6);
    main_cloth(&mut job).design.as_mut().unwrap().across.as_mut().unwrap().balance = Balance::Uneven;
    let PlanError::Unmatchable { faults, .. } = fault(&job, &garment) else { panic!("bars lean one way") };
    assert!(matches!(&faults[..], [MatchFault::UnevenChevron { .. }, ..]), "{faults:?}");
}

/// The seam point of the one lies as far to the left of a bar as that of the other to the right, as both hang; open and on the fold, left
/// and right alike.
#[test]
fn panels_that_meet_in_points_lie_on_either_side_of_a_bar() {
    let panel = |name: &str, width: f64| with_side(rectangle(name, width, 500.0, 2), width, 40.0);
    let mut garment = pattern(vec![panel("Front", 170.0), panel("Back", 190.0)]);
    garment.pieces.iter_mut().for_each(|piece| piece.cuts[0].hands = Hands::Pair);
    let rules = vec![MatchRule::Chevron { a: at("Front", "side"), b: at("Back", "side") }];
    let stripes = design(even(64.0, 20.0), None);
    for layer in [WayChoice::Only(Way::Open), WayChoice::Only(Way::CentreFold)] {
        let mut asked = matched(1100.0, layer, stripes.clone(), vec![required("side", rules.clone())]);
        if layer == WayChoice::Only(Way::CentreFold) {
            main_cloth(&mut asked).design.as_mut().unwrap().across = even(64.0, 550.0 - 3.0 * 64.0);
        }
        let offset = main_cloth(&mut asked).design.as_ref().unwrap().across.as_ref().unwrap().offset;
        let found = layout(&asked, &garment, &[]);
        assert_eq!(found.matches.len(), 2, "left with left and right with right");
        let shown = |piece: &str, copy: u32| {
            let cut = found.cuts.iter().find(|cut| cut.piece == piece && cut.copy == copy).unwrap();
            let turned = (cut.turned_deg - 180.0).abs() < 1e-9;
            let sign = if cut.mirrored != turned { -1.0 } else { 1.0 };
            sign * (cut.points["side"].x - offset)
        };
        for copies in [(1, 1), (1, 2), (2, 1), (2, 2)] {
            let sum = (shown("Front", copies.0) + shown("Back", copies.1)).rem_euclid(64.0);
            assert!(sum.min(64.0 - sum) < NOISE, "{layer:?} {copies:?}: {sum}");
        }
    }
}

#[test]
fn a_wish_is_kept_while_it_is_cheap_and_given_up_when_it_is_dear() {
    // One panel of 700 mm after another on a repeat of 600 mm, one way up: matching costs 500 mm, worked by hand.
    let panel = with_side(rectangle("Panel", 600.0, 700.0, 2), 600.0, 0.0);
    let garment = pattern(vec![panel]);
    let planned = |limit: Option<MatchLimit>, need| {
        let rules = vec![meet("Panel", "Panel", DesignAxis::Along)];
        let side = Match { name: "side".into(), need, rules };
        let mut job = matched(1000.0, WayChoice::Only(Way::Open), design(None, even(600.0, 0.0)), vec![side]);
        main_cloth(&mut job).nap = Nap::With;
        job.fabrics[0].matching.limit = limit;
        job.fabrics[0].price =
            Some(ellwand_garment::Price { amount: "9.00".parse().unwrap(), per: ellwand_garment::PriceUnit::Yard });
        let plan = plan_job(&job, &garment, &["main".into()], &little(), &Unheard).unwrap();
        let cloth = plan.cloths.into_iter().next().unwrap();
        (cloth.layout().length.round(), cloth.matching)
    };
    let length = |mm| Some(MatchLimit::Length(mm));
    let (kept, cost) = planned(length(600.0), Need::Wished);
    let cost = cost.unwrap();
    assert_eq!((kept, cost.unmatched.length.round(), cost.prices.len()), (1900.0, 1400.0, 1));
    // 2 1/8 yd against 1 5/8 yd at 9.00 a yard.
    assert_eq!(
        (cost.prices[0].length.round(), cost.prices[0].cost.as_ref().unwrap().amount.to_string()),
        (500.0, "4.50".to_owned())
    );
    assert!((cost.prices[0].buy - YARD / 2.0).abs() < NOISE);
    let (given_up, cost) = planned(length(400.0), Need::Wished);
    assert_eq!(given_up, 1400.0);
    assert_eq!(cost.unwrap().given_up[0].name, "side");
    assert_eq!(planned(Some(MatchLimit::Money("4.49".parse().unwrap())), Need::Wished).0, 1400.0);
    assert_eq!(planned(Some(MatchLimit::Money("4.50".parse().unwrap())), Need::Wished).0, 1900.0);
    assert_eq!(planned(length(400.0), Need::Required).0, 1900.0, "what is required is kept at any price");
}

#[test]
fn matches_that_contradict_each_other_are_named() {
    let mut matches = all_matches();
    matches.push(required("hem of the front", vec![stand("Front", DesignAxis::Along, 0.0)]));
    matches.push(required("hem of the back", vec![stand("Back", DesignAxis::Along, 30.0)]));
    let job = matched(1400.0, WayChoice::Only(Way::Open), design(even(140.0, 0.0), even(90.0, 0.0)), matches);
    let PlanError::Unmatchable { faults, .. } = fault(&job, &garment(220.0, 430.0, 15.0)) else {
        panic!("no layout does")
    };
    let [MatchFault::Contradiction { names, axis: DesignAxis::Along, by }] = &faults[..] else { panic!("{faults:?}") };
    assert!((by - 30.0).abs() < NOISE);
    assert!(["side", "hem of the front", "hem of the back"].iter().all(|name| names.iter().any(|n| n == name)));
    assert_eq!(names.len(), 3, "the pocket has no part in it");
}

#[test]
fn a_piece_without_room_on_its_bar_is_named() {
    // 950 mm of cloth 1000 mm wide, its middle on a bar: bars stand at 100 and 700, the middle may lie from 475 to 525.
    let panel = with_side(rectangle("Panel", 950.0, 300.0, 1), 475.0, 0.0);
    let rules = vec![stand("Panel", DesignAxis::Across, 0.0)];
    let job =
        matched(1000.0, WayChoice::Only(Way::Open), design(even(600.0, 100.0), None), vec![required("centre", rules)]);
    assert!(matches!(fault(&job, &pattern(vec![panel])), PlanError::NoPlaceOnDesign { piece, .. } if piece == "Panel"));
}

#[test]
fn the_edges_of_one_piece_may_meet_each_other() {
    // A sleeve seam: the low end of one side meets that of the other, 7 mm higher; on a repeat of 7 mm it does.
    let mut sleeve = with_side(rectangle("Sleeve", 200.0, 300.0, 2), 200.0, 7.0);
    sleeve.points.insert("other".into(), point(0.0, 0.0));
    let rule = MatchRule::Meet { a: at("Sleeve", "side"), b: at("Sleeve", "other"), axis: DesignAxis::Along };
    let planned = |every: f64| {
        let job = matched(
            900.0,
            WayChoice::Only(Way::Open),
            design(None, even(every, 0.0)),
            vec![required("seam", vec![rule.clone()])],
        );
        plan_cloth(&job, &pattern(vec![sleeve.clone()]), "main", &[], &tiny(), &Unheard)
    };
    assert_eq!(planned(7.0).unwrap().layout().matches.len(), 2);
    assert!(matches!(planned(9.0), Err(PlanError::Unmatchable { .. })));
}

/// Right of the middle the half left of the fold is the wider one, and what is cut through both layers needs the narrower one.
#[test]
fn a_pair_has_no_place_where_its_mirror_image_has_none() {
    // The fold lies at 650 of 1000: the mirror image of 300 to 650 lies on the cloth. A panel of 280 may stand with its middle at 440 to 510,
    // and its design asks for 320, 380 and 920.
    let panel = with_side(piece("Panel", Outline::rectangle(280.0, 400.0).unwrap(), 2, Hands::Pair), 140.0, 200.0);
    let job = |layer| {
        let mut cloth = design(even(600.0, 650.0), None);
        cloth.fold_on = CentreOn::Bar;
        matched(1000.0, layer, cloth, vec![required("side", vec![stand("Panel", DesignAxis::Across, 270.0)])])
    };
    let garment = pattern(vec![panel]);
    let fault = fault(&job(WayChoice::Only(Way::CentreFold)), &garment);
    assert!(matches!(&fault, PlanError::NoPlaceOnDesign { piece, .. } if piece == "Panel"), "{fault:?}");
    assert!(!layout(&job(WayChoice::Either), &garment, &[]).uses_fold());
}
