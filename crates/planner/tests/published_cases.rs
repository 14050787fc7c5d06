//! Yardages printed in sewing books and pages, planned as real layouts of the rectangles they describe. The source is named
//! beside each case; "worked" means the rule and the givens are printed there and the sum is ours.

mod common;

use common::{INCH, YARD, folded_rectangle, job, main_cloth, pattern, plan, plan_with, rectangle};
use ellwand_garment::{
    Design, DesignAxis, Job, Match, MatchRule, Matching, Nap, Need, Pattern, Piece, PiecePoint, Repeat, Way, WayChoice,
    WayRefusal,
};
use ellwand_geometry::point;
use ellwand_planner::{Budget, Options, PlanError};

/// What rounding may add to or take from a length, in: the checker's own tolerance.
const ROUNDING: f64 = 1e-3 / INCH;

/// Plans, and returns the length used in inches and what to buy in words.
fn answer(job: &Job, pattern: &Pattern) -> (f64, String) {
    let plan = plan(job, pattern).expect("a layout");
    (plan.layout().length / INCH, plan.layout().purchase.buy_text.clone())
}

/// `count` breadths, each as wide as the cloth and `cut` inches long.
fn breadths(cloth: f64, cut: f64, count: u32) -> (f64, String) {
    let pattern = pattern(vec![rectangle("Breadth", cloth * INCH, cut * INCH, count)]);
    answer(&job(cloth * INCH, WayChoice::Only(Way::Open)), &pattern)
}

#[track_caller]
fn expect((length, buy): (f64, String), inches: f64, yards: &str) {
    assert!((length - inches).abs() < ROUNDING, "{length} in, not {inches} in");
    assert_eq!(buy, yards);
}

#[test]
fn school_needlework_apron() {
    // School Needlework, Hapgood: an apron of two breadths, finished 1 yd long with a 4 in hem: 2 x (36 + 4) = 80 in; buy
    // 2 1/4 yd.
    expect(breadths(36.0, 36.0 + 4.0, 2), 80.0, "2 1/4 yd");
}

#[test]
fn clothing_and_health_nightdress() {
    // Clothing and Health, Kinne and Cooley, 1916: a one-piece nightdress 55 in long with a 3 in hem, cut twice; worked.
    expect(breadths(36.0, 55.0 + 3.0, 2), 116.0, "3 1/4 yd");
}

#[test]
fn gathered_skirt_of_two_and_three_breadths() {
    // A costume-reenactment hand-out: cut length 49 in, cloth about 45 in. Two breadths: 2 3/4 yd printed. Three: worked; the
    // page says "roughly four", which would be too little.
    expect(breadths(45.0, 49.0, 2), 98.0, "2 3/4 yd");
    expect(breadths(45.0, 49.0, 3), 147.0, "4 1/8 yd");
}

#[test]
fn tiered_skirt() {
    // A sewing weblog: tiers cut 36/3 + 1 = 13 in, 2 + 4 + 8 of them across the width, and a 5 in waistband: 187 in, 5 1/4 yd;
    // with 1/2 yd for shrinkage 5 3/4 yd.
    let cloth = 45.0 * INCH;
    let pattern =
        pattern(vec![rectangle("Tier", cloth, 13.0 * INCH, 14), rectangle("Waistband", cloth, 5.0 * INCH, 1)]);
    let mut job = job(cloth, WayChoice::Only(Way::Open));
    expect(answer(&job, &pattern), 187.0, "5 1/4 yd");
    job.fabrics[0].straighten_ends = YARD / 2.0;
    expect(answer(&job, &pattern), 187.0, "5 3/4 yd");
}

#[test]
fn curtains_of_whole_widths() {
    // A drapery measuring page: window 63 in, fullness 3, cloth 54 in: 189 / 54 makes 4 widths of 114 in: 456 in; worked to
    // buy. The same with an 11 in repeat: cuts of 121 in, 484 in; worked.
    expect(breadths(54.0, 114.0, 4), 456.0, "12 3/4 yd");
    expect(breadths(54.0, 121.0, 4), 484.0, "13 1/2 yd");
    // A how-to page: track 65 in, fullness 2.25, drop 80 + 16 in: 3 widths, 288 in, exactly 8 yd.
    expect(breadths(54.0, 80.0 + 16.0, 3), 288.0, "8 yd");
    // A how-to page: 5 widths of 88 in: 440 in; worked to buy.
    expect(breadths(54.0, 78.0 + 10.0, 5), 440.0, "12 1/4 yd");
    // A retailer's measuring guide: 5 widths, finished 92 in + 16 in: 540 in, 15 yd.
    expect(breadths(54.0, 92.0 + 16.0, 5), 540.0, "15 yd");
    // A drapery page: 12 cuts of 98 in unmatched, of 104 in matched: 1176 and 1248 in; worked to buy.
    expect(breadths(54.0, 98.0, 12), 1176.0, "32 3/4 yd");
    expect(breadths(54.0, 104.0, 12), 1248.0, "34 3/4 yd");
}

#[test]
fn quilting_chart_of_whole_squares() {
    // A quilting cutting chart, 44 in cloth, re-computed: whole squares of side s from each length. As many squares as the
    // chart says must come out of that length, and no layout of one more can.
    let options = Options { budget: Budget::Work(300_000), ..Options::default() };
    let lengths = [1.0 / 8.0, 0.25, 1.0 / 3.0, 3.0 / 8.0, 0.5, 5.0 / 8.0, 2.0 / 3.0, 0.75, 7.0 / 8.0, 1.0];
    let chart: [(f64, [u32; 10]); 3] = [
        (5.0, [0, 8, 16, 16, 24, 32, 32, 40, 48, 56]),
        (6.0, [0, 7, 14, 14, 21, 21, 28, 28, 35, 42]),
        (6.5, [0, 6, 6, 12, 12, 18, 18, 24, 24, 30]),
    ];
    for (side, counts) in chart {
        for (yards, count) in lengths.into_iter().zip(counts) {
            let length = |count: u32| {
                let pattern = pattern(vec![rectangle("Square", side * INCH, side * INCH, count)]);
                let plan =
                    plan_with(&options, &job(44.0 * INCH, WayChoice::Only(Way::Open)), &pattern).expect("a layout");
                plan.layout().length / YARD
            };
            if count > 0 {
                assert!(length(count) <= yards + ROUNDING, "{count} squares of {side} in from {yards} yd");
            }
            assert!(length(count + 1) > yards + ROUNDING, "{} squares of {side} in from {yards} yd", count + 1);
        }
    }
}

#[test]
fn quilting_squares_from_strips() {
    // A quilting page: 56 squares of 6 1/2 in from 42 in of usable width: 10 strips, 65 in, 1.8 yd; 1 7/8 yd suffices.
    let pattern = pattern(vec![rectangle("Square", 6.5 * INCH, 6.5 * INCH, 56)]);
    let mut job = job(44.0 * INCH, WayChoice::Only(Way::Open));
    job.fabrics[0].cloth.selvage = INCH;
    expect(answer(&job, &pattern), 65.0, "1 7/8 yd");
}

#[test]
fn twelve_ten_inch_squares_from_a_yard_of_45_inch_cloth() {
    // A quilting page: a 45 x 36 in rectangle yields 12 squares of 10 in.
    let length = |count| {
        let pattern = pattern(vec![rectangle("Square", 10.0 * INCH, 10.0 * INCH, count)]);
        answer(&job(45.0 * INCH, WayChoice::Only(Way::Open)), &pattern).0
    };
    assert!(length(12) <= 36.0);
    assert!(length(13) > 36.0);
}

#[test]
fn shirt_area_is_a_lower_bound() {
    // A textile-engineering teaching page: shirt pieces with allowances of 9760, 8280, 720, 280, 208 and 1508 cm2, 20 756 cm2
    // in all, on 56 in cloth: 57.45 in before any waste. The shapes are not given; rectangles of those areas stand in.
    let areas = [9760.0, 8280.0, 720.0, 280.0, 208.0, 1508.0];
    let pieces = (areas.iter().enumerate())
        .map(|(i, cm2)| {
            rectangle(&format!("Piece {i}"), 200.0 + 10.0 * i as f64, cm2 * 100.0 / (200.0 + 10.0 * i as f64), 1)
        })
        .collect();
    let plan = plan(&job(56.0 * INCH, WayChoice::Only(Way::Open)), &pattern(pieces)).expect("a layout");
    let layout = plan.layout();
    assert!(layout.lower_bound.length / INCH > 57.45 - 0.005, "{}", layout.lower_bound.length / INCH);
    assert!(layout.length >= layout.lower_bound.length);
}

/// A job on cloth with a repeat along, every piece matched to the others at its low edge.
fn matched_along(width: f64, repeat: f64, pieces: &[&str]) -> Job {
    let mut job = job(width, WayChoice::Only(Way::Open));
    main_cloth(&mut job).nap = Nap::With;
    main_cloth(&mut job).design = Some(Design::repeating(None, Some(Repeat::even(repeat, 0.0))));
    let at = |piece: &str| PiecePoint { piece: piece.into(), point: "low".into() };
    let meet = |piece: &&str| MatchRule::Meet { a: at(pieces[0]), b: at(piece), axis: DesignAxis::Along };
    let rules = pieces.iter().map(meet).collect();
    job.fabrics[0].matching =
        Matching { matches: vec![Match { name: "side".into(), need: Need::Required, rules }], ..Matching::default() };
    job
}

fn with_low(mut piece: Piece) -> Piece {
    piece.points.insert("low".into(), point(0.0, 0.0));
    piece
}

#[test]
fn curtain_widths_with_a_repeat_begin_a_whole_number_of_repeats_apart() {
    // A drapery measuring page: 4 widths, cut length 114 in, repeat 11 in: 11 repeats = 121 in a cut, 4 x 121 = 484 in, buy 13 1/2 yd.
    // A drapery trade newsletter, Aug. 2011: 116 in on a repeat of 25 in is cut as 125 in, 9 in of waste a cut.
    for (count, plain, repeat, cut) in [(4, 114.0, 11.0, 121.0), (3, 116.0, 25.0, 125.0)] {
        let width = with_low(rectangle("Width", 54.0 * INCH, plain * INCH, count));
        let job = matched_along(54.0 * INCH, repeat * INCH, &["Width"]);
        let layout = plan(&job, &pattern(vec![width])).unwrap().layout().clone();
        let mut lows: Vec<f64> = layout.cuts.iter().map(|cut| cut.outline.bounds().min.y / INCH).collect();
        lows.sort_by(f64::total_cmp);
        assert!(lows.windows(2).all(|w| (w[1] - w[0] - cut).abs() < 1e-6), "{lows:?}");
        // The rule lets the waste of the last cut lie too; the layout ends where that cut does.
        let by_the_rule = f64::from(count) * cut;
        assert!((layout.length / INCH + (cut - plain) - by_the_rule).abs() < 1e-6, "{}", layout.length / INCH);
    }
    // Bought by the rule, waste of the last cut included: 484 in are 13.44 yd, so 13 1/2.
    let cut = with_low(rectangle("Width", 54.0 * INCH, 121.0 * INCH, 4));
    let job = matched_along(54.0 * INCH, 11.0 * INCH, &["Width"]);
    let plan = plan(&job, &pattern(vec![cut])).unwrap();
    assert!((plan.layout().length / INCH - 484.0).abs() < 1e-6);
    assert_eq!(plan.layout().purchase.buy_text, "13 1/2 yd");
}

#[test]
fn the_rules_for_extra_plaid_are_an_upper_band() {
    // A retailer's tutorial: two pieces stacked along the length need two repeats more: 2 1/2 in for 1 1/4 in, 8 1/2 in for 4 1/4 in.
    let stacked = |repeat: f64, tall: f64| {
        let pieces = || {
            pattern(vec![
                with_low(rectangle("Front", 30.0 * INCH, tall * INCH, 1)),
                with_low(rectangle("Back", 30.0 * INCH, (tall - 2.0) * INCH, 1)),
            ])
        };
        let matched = plan(&matched_along(44.0 * INCH, repeat * INCH, &["Front", "Back"]), &pieces()).unwrap();
        (matched.layout().length / INCH) - (2.0 * tall - 2.0)
    };
    for (repeat, rule) in [(1.25, 2.5), (4.25, 8.5)] {
        for tall in [22.0, 25.3, 27.9] {
            let extra = stacked(repeat, tall);
            assert!((0.0..=rule + 1e-6).contains(&extra), "{extra} in for a repeat of {repeat} in");
            // One of the two lies at the cut end, so one repeat is enough.
            assert!(extra < repeat);
        }
    }
    // A sewing weblog: front, back and sleeve each free to slide, repeat 6 in: 18 in more. Pieces that lie side by side across the width
    // need none (the tutorial again): with their low edges matched they lie as they would.
    let beside = [("Front", 40.0), ("Back", 38.0), ("Sleeve", 24.0)];
    let pieces = |width: f64| {
        pattern(beside.iter().map(|&(name, tall)| with_low(rectangle(name, width * INCH, tall * INCH, 1))).collect())
    };
    let extra = |width: f64, plain: f64| {
        let job = matched_along(44.0 * INCH, 6.0 * INCH, &["Front", "Back", "Sleeve"]);
        plan(&job, &pieces(width)).unwrap().layout().length / INCH - plain
    };
    assert!(extra(14.0, 40.0).abs() < 1e-6);
    let one_above_the_other = extra(30.0, 102.0);
    assert!((0.0..=18.0).contains(&one_above_the_other), "{one_above_the_other}");
}

/// The width that pieces have under each fold, of cloth 60 in wide between its selvages. The folds are those that schools teach, and their description is
/// printed (a sewing textbook; a trade association's guide on cutting layouts); worked: folded down the middle half the width on two layers, both selvages
/// to the middle two strips of a quarter, off centre the depth of the fold on two layers and the rest single, open all of it.
#[test]
fn the_width_that_each_fold_leaves() {
    let (width, height) = (60.0 * INCH, 20.0 * INCH);
    let laid = |way: Way, pieces: Vec<Piece>| plan(&job(width, WayChoice::Only(way)), &pattern(pieces));
    let one_row = |way: Way, pieces: Vec<Piece>| {
        let layout = laid(way, pieces).expect("a layout").plan.layout;
        assert!((layout.length - height).abs() < ROUNDING * INCH, "{way:?}: {} mm", layout.length);
        layout
    };
    let pair = |inches: f64| vec![rectangle("Pair", inches * INCH, height, 2)];
    assert_eq!(one_row(Way::CentreFold, pair(30.0)).ease().things, 1);
    assert!(matches!(laid(Way::CentreFold, pair(30.1)), Err(PlanError::TooNarrow(_))));
    one_row(Way::Open, vec![rectangle("Whole", 60.0 * INCH, height, 1)]);

    let fronts = |inches: f64| {
        vec![folded_rectangle("Front", inches * INCH, height, 1), folded_rectangle("Back", inches * INCH, height, 1)]
    };
    let double = one_row(Way::ToTheMiddle, fronts(30.0));
    assert!(double.cuts.iter().all(|cut| cut.on_fold), "one on each fold");
    let folds: Vec<f64> = double.lay.folds().map(|(_, fold)| fold.at() / INCH).collect();
    assert!((folds[0] - 15.0).abs() < ROUNDING && (folds[1] - 45.0).abs() < ROUNDING, "{folds:?}");
    // Wider than a quarter on either side of the fold: one after the other then.
    assert!(laid(Way::ToTheMiddle, fronts(30.1)).map_or(true, |plan| plan.layout().length > 1.5 * height));

    let with_rest =
        |rest: f64| vec![folded_rectangle("Front", 20.0 * INCH, height, 1), rectangle("Panel", rest * INCH, height, 1)];
    let partial = one_row(Way::OffCentre, with_rest(40.0));
    let folds: Vec<f64> = partial.lay.folds().map(|(_, fold)| fold.at() / INCH).collect();
    assert!(partial.cuts[0].on_fold && folds.len() == 1 && (folds[0] - 10.0).abs() < ROUNDING, "{folds:?}");
    assert!(laid(Way::OffCentre, with_rest(40.1)).unwrap().layout().length > 1.5 * height);
}

/// Two pieces as wide as the cloth have no room on a lengthwise fold, and lie on two layers when it is folded across: for what is too wide for a
/// lengthwise fold (a sewing textbook). Cloth with nap is cut and turned instead (a sewing tutorial). Twice the length of one, worked.
#[test]
fn pieces_too_wide_for_a_lengthwise_fold_are_cut_double_across() {
    let cape = pattern(vec![rectangle("Cape half", 50.0 * INCH, 40.0 * INCH, 2)]);
    for way in [Way::Crosswise, Way::CutAndTurned] {
        let plan = plan(&job(60.0 * INCH, WayChoice::Only(way)), &cape).expect("a layout");
        assert!((plan.layout().length / INCH - 80.0).abs() < ROUNDING);
        assert!((plan.layout().lower_bound.length / INCH - 80.0).abs() < ROUNDING, "nothing is shorter");
        assert_eq!(plan.layout().ease().things, 1);
    }
    let mut napped = job(60.0 * INCH, WayChoice::Only(Way::Crosswise));
    napped.fabrics[0].cloth.nap = Nap::With;
    assert!(matches!(plan(&napped, &cape), Err(PlanError::WayRefused { why: WayRefusal::Nap, .. })));
    napped.fabrics[0].ways = WayChoice::Any;
    let plan = plan(&napped, &cape).expect("a layout");
    assert_eq!(plan.layout().way, Way::CutAndTurned, "one thing to cut in place of two");
}
