//! Width that each fold offers, pairs and whole pieces on the fold, and the choice between fold and open layer.

mod common;

use common::{INCH, folded_rectangle, job, judge, little, main_cloth, pattern, piece, plan, rectangle};
use ellwand_garment::{GrainRule, Hands, Nap, Way, WayChoice};
use ellwand_geometry::Outline;
use ellwand_planner::{CutThrough, PlanError, Remedy, Unheard, plan_cloth};

/// What rounding may add to or take from a length, mm: the checker's own tolerance.
const ROUNDING: f64 = 1e-3;

/// A right-angled front: no symmetry, so its hands differ.
fn front(count: u32, hands: Hands) -> ellwand_garment::Piece {
    let outline = Outline::from_pairs(&[(0.0, 0.0), (300.0, 0.0), (200.0, 500.0), (0.0, 600.0)]).unwrap();
    piece("Front", outline, count, hands)
}

#[test]
fn a_lengthwise_fold_offers_a_pair_half_the_usable_width() {
    // Widths under each fold, worked from the textbook descriptions of the four school folds: lengthwise W/2 on two layers,
    // open W single.
    let usable = 1000.0;
    let fits = |layer, width| {
        let mut job = job(usable + 20.0, layer);
        main_cloth(&mut job).selvage = 10.0;
        plan(&job, &pattern(vec![rectangle("Panel", width, 300.0, 2)])).map(|plan| plan.layout().length)
    };
    assert!(fits(WayChoice::Only(Way::CentreFold), 500.0).is_ok_and(|length| (length - 300.0).abs() < ROUNDING));
    assert!(matches!(fits(WayChoice::Only(Way::CentreFold), 501.0), Err(PlanError::TooNarrow(_))));
    assert!(fits(WayChoice::Only(Way::Open), 1000.0).is_ok_and(|length| (length - 600.0).abs() < ROUNDING));
    assert!(matches!(fits(WayChoice::Only(Way::Open), 1001.0), Err(PlanError::TooNarrow(_))));
}

#[test]
fn a_piece_on_the_fold_may_take_the_whole_usable_width_and_no_more() {
    let fits = |width| {
        plan(&job(1000.0, WayChoice::Only(Way::CentreFold)), &pattern(vec![folded_rectangle("Back", width, 300.0, 1)]))
    };
    let plan = fits(1000.0).expect("exactly as wide as the cloth");
    assert!(plan.layout().cuts[0].on_fold);
    let Err(PlanError::TooNarrow(misfits)) = fits(1012.0) else { panic!("wider than the cloth") };
    assert!((misfits[0].short_by() - 12.0).abs() < 1e-9);
    assert!((misfits[0].width_that_would_do - 1012.0).abs() < 1e-9);
}

#[test]
fn a_pair_through_both_layers_is_one_of_each_hand_at_the_same_height() {
    let job = job(1000.0, WayChoice::Only(Way::CentreFold));
    let plan = plan(&job, &pattern(vec![front(4, Hands::Pair)])).expect("a layout");
    let cuts = &plan.layout().cuts;
    assert_eq!(cuts.len(), 4);
    for pair in cuts.chunks(2) {
        assert_ne!(pair[0].mirrored, pair[1].mirrored);
        assert_eq!(pair[0].outline.bounds().min.y, pair[1].outline.bounds().min.y);
        assert_eq!(pair[0].outline.bounds().min.x, 1000.0 - pair[1].outline.bounds().max.x);
    }
}

#[test]
fn single_pieces_of_the_same_hand_lie_anywhere_on_folded_cloth_and_are_never_mirrored() {
    let job = job(1000.0, WayChoice::Only(Way::CentreFold));
    let plan = plan(&job, &pattern(vec![front(3, Hands::Same)])).expect("a layout");
    assert!(plan.layout().cuts.iter().all(|cut| !cut.mirrored));
}

#[test]
fn either_takes_the_shorter_way_and_says_what_the_other_would_need() {
    // 700 across: a pair does not fit through both layers of 1000, so only the open layer answers.
    let wide = pattern(vec![rectangle("Panel", 700.0, 300.0, 2)]);
    let open_only = plan(&job(1000.0, WayChoice::Either), &wide).expect("a layout");
    assert_eq!(open_only.layout().way, Way::Open);
    let other = open_only.others.first().expect("the fold was tried");
    assert_eq!(other.way, Way::CentreFold);
    let Err(PlanError::TooNarrow(misfits)) = &other.answer else { panic!("the fold is too narrow") };
    assert_eq!(misfits[0].cut_through, CutThrough::BothLayers);
    assert!(misfits[0].remedies.contains(&Remedy::OpenLayer));

    // 450 across: both ways take one row; of equals the fold, which is half the cutting.
    let both = plan(&job(1000.0, WayChoice::Either), &pattern(vec![rectangle("Panel", 450.0, 300.0, 2)])).unwrap();
    assert_eq!(both.layout().way, Way::CentreFold);
    assert!(both.others.first().is_some_and(|other| other.answer.is_ok()));

    // Three pieces of 330: one row on an open layer, two on the fold, where the pair keeps clear of the fold line.
    let open_wins = plan(&job(1000.0, WayChoice::Either), &pattern(vec![rectangle("Panel", 330.0, 300.0, 3)])).unwrap();
    assert!((open_wins.layout().length - 300.0).abs() < ROUNDING);
}

#[test]
fn a_quarter_turn_is_offered_when_it_would_help_and_taken_when_it_is_allowed() {
    let mut pattern = pattern(vec![rectangle("Band", 1200.0, 80.0, 1)]);
    let narrow = job(1000.0, WayChoice::Only(Way::Open));
    let Err(PlanError::TooNarrow(misfits)) = plan(&narrow, &pattern) else { panic!("too wide upright") };
    assert_eq!(misfits[0].remedies, [Remedy::AllowCrossGrain]);
    pattern.pieces[0].grain = GrainRule::CrossAllowed;
    let turned = plan(&narrow, &pattern).expect("turned a quarter");
    assert!((turned.layout().length - 1200.0).abs() < ROUNDING);
}

#[test]
fn every_piece_too_wide_is_named_at_once() {
    let pattern = pattern(vec![
        rectangle("Front", 1100.0, 300.0, 1),
        rectangle("Pocket", 100.0, 100.0, 2),
        rectangle("Back", 1200.0, 300.0, 1),
    ]);
    let Err(PlanError::TooNarrow(misfits)) = plan(&job(1000.0, WayChoice::Only(Way::Open)), &pattern) else {
        panic!("too wide")
    };
    let names: Vec<&str> = misfits.iter().map(|misfit| misfit.piece.as_str()).collect();
    assert_eq!(names, ["Front", "Back"]);
}

#[test]
fn the_width_that_would_do_counts_selvages_and_washing() {
    let mut job = job(1000.0, WayChoice::Only(Way::Open));
    main_cloth(&mut job).selvage = 10.0;
    job.fabrics[0].shrinkage.across = 0.02;
    let Err(PlanError::TooNarrow(misfits)) = plan(&job, &pattern(vec![rectangle("Panel", 1100.0, 300.0, 1)])) else {
        panic!("too wide")
    };
    assert!((misfits[0].width_that_would_do * 0.98 - 20.0 - 1100.0).abs() < 1e-9);
}

#[test]
fn pieces_keep_off_flaws_and_apart_by_the_gap() {
    let mut job = job(1000.0, WayChoice::Only(Way::Open));
    let flaw = Outline::from_pairs(&[(0.0, 100.0), (1000.0, 100.0), (1000.0, 110.0), (0.0, 110.0)]).unwrap();
    main_cloth(&mut job).flaws.push(flaw);
    main_cloth(&mut job).piece_gap = 5.0;
    let plan = plan(&job, &pattern(vec![rectangle("Panel", 400.0, 300.0, 4)])).expect("a layout");
    // Two rows above a flaw across the whole width: 110 + 5 + 300 + 5 + 300.
    assert!(plan.layout().length >= 720.0 - 1e-6, "{}", plan.layout().length);
    assert!(plan.layout().length < 722.0, "{}", plan.layout().length);
}

#[test]
fn with_nap_every_top_points_the_same_way() {
    let mut job = job(700.0, WayChoice::Only(Way::Open));
    main_cloth(&mut job).nap = Nap::With;
    let plan = plan_cloth(&job, &pattern(vec![front(4, Hands::Pair)]), "main", &[], &little(), &Unheard).unwrap();
    judge(plan.layout(), &job, &pattern(vec![front(4, Hands::Pair)]));
    assert!(plan.layout().cuts.iter().all(|cut| cut.turned_deg == 0.0));
    assert!(plan.layout().length > 18.0 * INCH);
}

#[test]
fn cloth_of_which_no_cut_uses_the_fold_lies_open() {
    // Three of one hand: nothing goes through both layers, so the fold would only be in the way.
    let singles = pattern(vec![front(3, Hands::Same)]);
    let plan = plan(&job(1000.0, WayChoice::Either), &singles).expect("a layout");
    assert_eq!(plan.layout().way, Way::Open);
    let folded = plan.others.first().expect("the other way").answer.as_ref().expect("a layout");
    assert!(!folded.layout.uses_fold());
}

#[test]
fn a_piece_that_is_its_own_mirror_image_lies_printed_side_up() {
    let kite = Outline::from_pairs(&[(0.0, 0.0), (130.0, 310.0), (0.0, 420.0), (-130.0, 310.0)]).unwrap();
    let lopsided = Outline::from_pairs(&[(0.0, 0.0), (140.0, 310.0), (0.0, 420.0), (-130.0, 310.0)]).unwrap();
    let garment = pattern(vec![piece("Kite", kite, 6, Hands::Any), piece("Gusset", lopsided, 6, Hands::Any)]);
    let plan = plan(&job(700.0, WayChoice::Only(Way::Open)), &garment).expect("a layout");
    assert!(plan.layout().cuts.iter().filter(|cut| cut.piece == "Kite").all(|cut| !cut.mirrored));
}

/// What is told of a piece too wide for folded or open cloth 1000 mm wide with selvages of 10 mm, bought before it shrinks by a tenth.
#[test]
fn a_piece_too_wide_is_told_with_what_there_is_and_what_would_do() {
    let told = |panel: ellwand_garment::Piece, layer: WayChoice, change: &dyn Fn(&mut ellwand_garment::Job)| {
        let mut job = job(1000.0, layer);
        (main_cloth(&mut job).selvage, main_cloth(&mut job).piece_gap) = (10.0, 6.0);
        job.fabrics[0].shrinkage.across = 0.1;
        change(&mut job);
        match plan(&job, &pattern(vec![panel])) {
            Err(PlanError::TooNarrow(misfits)) => misfits.into_iter().next().expect("one"),
            other => panic!("{other:?}"),
        }
    };
    let near = |a: f64, b: f64| (a - b).abs() < 1e-6;
    let as_is = |_: &mut ellwand_garment::Job| {};
    let napped = |job: &mut ellwand_garment::Job| main_cloth(job).nap = Nap::With;
    // Half of 980 mm, and half the gap to the fold: 487 for each of a pair.
    let pair = || rectangle("Panel", 500.0, 300.0, 2);
    let misfit = told(pair(), WayChoice::Only(Way::CentreFold), &as_is);
    assert_eq!(misfit.cut_through, CutThrough::BothLayers);
    assert!(near(misfit.needs, 500.0) && near(misfit.offers, 487.0), "{misfit:?}");
    assert!(near(misfit.width_that_would_do, (1000.0 + 6.0 + 20.0) / 0.9), "{misfit:?}");
    assert_eq!(misfit.remedies, [Remedy::OpenLayer, Remedy::AllowCrossGrain]);
    assert_eq!(told(pair(), WayChoice::Only(Way::CentreFold), &napped).remedies, [Remedy::OpenLayer]);
    // As wide turned as upright.
    assert_eq!(
        told(rectangle("Panel", 500.0, 490.0, 2), WayChoice::Only(Way::CentreFold), &as_is).remedies,
        [Remedy::OpenLayer]
    );
    // On the fold all of 980 mm, and no other grain.
    let misfit = told(folded_rectangle("Panel", 990.0, 300.0, 1), WayChoice::Only(Way::CentreFold), &as_is);
    assert_eq!((misfit.cut_through, misfit.remedies.len()), (CutThrough::OneLayer, 0));
    assert!(near(misfit.offers, 980.0) && near(misfit.width_that_would_do, (990.0 + 20.0) / 0.9), "{misfit:?}");
    // One layer.
    let misfit = told(rectangle("Panel", 990.0, 300.0, 1), WayChoice::Only(Way::Open), &as_is);
    assert!(near(misfit.offers, 980.0) && near(misfit.width_that_would_do, (990.0 + 20.0) / 0.9), "{misfit:?}");
    assert_eq!(misfit.remedies, [Remedy::AllowCrossGrain]);
    assert_eq!(told(rectangle("Panel", 990.0, 300.0, 1), WayChoice::Only(Way::Open), &napped).remedies, []);
    assert_eq!(told(rectangle("Panel", 990.0, 985.0, 1), WayChoice::Only(Way::Open), &as_is).remedies, []);
    let mut crosswise = rectangle("Panel", 990.0, 985.0, 1);
    crosswise.grain = GrainRule::CrossAllowed;
    assert!(near(told(crosswise, WayChoice::Only(Way::Open), &as_is).needs, 985.0));
}

/// The fold lies on a bar 430 mm from the left edge, so that the narrower side has 420 mm.
#[test]
fn a_fold_on_a_bar_beside_the_middle_offers_its_narrower_side() {
    use ellwand_garment::{Design, Repeat};
    let told = |panel: ellwand_garment::Piece| {
        let mut job = job(1000.0, WayChoice::Only(Way::CentreFold));
        let repeat = Repeat::even(200.0, 30.0);
        main_cloth(&mut job).selvage = 10.0;
        main_cloth(&mut job).design = Some(Design::repeating(Some(repeat), None));
        match plan(&job, &pattern(vec![panel])) {
            Err(PlanError::TooNarrow(misfits)) => misfits.into_iter().next(),
            other => other.map(|_| None).expect("a layout"),
        }
    };
    assert_eq!(told(folded_rectangle("Back", 840.0, 300.0, 1)), None);
    let misfit = told(folded_rectangle("Back", 850.0, 300.0, 1)).expect("too wide");
    // 140 mm lie idle beside it, and the selvages.
    assert!((misfit.offers - 840.0).abs() < 1e-6 && (misfit.width_that_would_do - 1010.0).abs() < 1e-6, "{misfit:?}");
    assert_eq!(misfit.remedies, [Remedy::OpenLayer]);
    let misfit = told(rectangle("Panel", 430.0, 600.0, 2)).expect("too wide");
    assert!((misfit.offers - 420.0).abs() < 1e-6 && (misfit.width_that_would_do - 1020.0).abs() < 1e-6, "{misfit:?}");
}
