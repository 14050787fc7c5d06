//! Cloth with a border along its edges: where what lies at a border may lie, along and across, open and on the fold.

mod common;

use common::{
    designs::{at, design, even, fault, layout, matched, meet, required, stand, tiny, with_side},
    main_cloth, pattern, piece, rectangle,
};
use ellwand_garment::{
    Balance, Border, BorderSides, Design, DesignAxis, GrainRule, Hands, Job, MatchFault, MatchRule, Pattern, Way,
    WayChoice,
};
use ellwand_geometry::Outline;
use ellwand_planner::{PlanError, Unheard, compare_widths};

/// A skirt panel that lies crosswise at a border, cut as a pair, its point in the middle of its hem.
fn at_border(sides: BorderSides, layer: WayChoice, more: Vec<MatchRule>) -> (Job, Pattern) {
    let shape = [(0.0, 0.0), (300.0, 0.0), (260.0, 480.0), (0.0, 500.0)];
    let mut panel = with_side(piece("Panel", Outline::from_pairs(&shape).unwrap(), 2, Hands::Pair), 120.0, 0.0);
    panel.grain = GrainRule::CrossAllowed;
    let mut cloth = design(None, even(120.0, 40.0));
    cloth.border = Some(Border { sides, width: 150.0, colour: String::new() });
    let mut rules = vec![MatchRule::Border { at: at("Panel", "side"), from_edge: 15.0 }];
    rules.extend(more);
    (matched(1100.0, layer, cloth, vec![required("border", rules)]), pattern(vec![panel]))
}

#[test]
fn a_border_may_run_one_way() {
    let (mut job, garment) =
        at_border(BorderSides::Left, WayChoice::Only(Way::Open), vec![stand("Panel", DesignAxis::Along, 0.0)]);
    main_cloth(&mut job).design.as_mut().unwrap().along.as_mut().unwrap().balance = Balance::Uneven;
    assert!(layout(&job, &garment, &[]).cuts.iter().all(|cut| cut.turned_deg == 270.0));
}

#[test]
fn hems_lie_on_the_border_of_either_selvage() {
    // Panels 500 mm long and 300 mm wide, hems 15 mm inside the edge of a border cloth 1100 mm wide: two rows, hems outward.
    let mut panel = with_side(rectangle("Panel", 300.0, 500.0, 4), 150.0, 0.0);
    panel.grain = GrainRule::CrossAllowed;
    let mut cloth = design(None, even(120.0, 40.0));
    let rules = vec![
        MatchRule::Border { at: at("Panel", "side"), from_edge: 15.0 },
        MatchRule::Stand { at: at("Panel", "side"), axis: DesignAxis::Along, phase: 0.0 },
    ];
    let laid = |sides, design: &mut Design| {
        design.border = Some(Border { sides, width: 150.0, colour: String::new() });
        let job = matched(1100.0, WayChoice::Only(Way::Open), design.clone(), vec![required("border", rules.clone())]);
        layout(&job, &pattern(vec![panel.clone()]), &[])
    };
    let both = laid(BorderSides::Both, &mut cloth);
    for cut in &both.cuts {
        let x = if cut.turned_deg == 270.0 { 15.0 } else { 1085.0 };
        assert!((cut.points["side"].x - x).abs() < 1e-6);
    }
    assert_eq!(both.cuts.iter().filter(|cut| cut.turned_deg == 90.0).count(), 2);
    // Centres on motifs at 40 + 120 k, 300 apart at least: at 160 and 520 in each row.
    assert!((both.length - 670.0).abs() < 1e-3, "{}", both.length);
    let left = laid(BorderSides::Left, &mut cloth);
    assert!((left.length - (160.0 + 3.0 * 360.0 + 150.0)).abs() < 1e-3, "{}", left.length);
}

#[test]
fn a_border_piece_shows_any_place_of_the_design_along_in_every_pose() {
    for sides in [BorderSides::Left, BorderSides::Right, BorderSides::Both] {
        for more in [vec![stand("Panel", DesignAxis::Along, 25.4)], vec![meet("Panel", "Panel", DesignAxis::Along)]] {
            let (job, garment) = at_border(sides, WayChoice::Only(Way::Open), more);
            assert_eq!(layout(&job, &garment, &[]).cuts.len(), 2, "{sides:?}");
        }
    }
}

#[test]
fn a_pair_at_one_border_is_not_folded_to_the_other_selvage() {
    let (job, garment) = at_border(BorderSides::Left, WayChoice::Only(Way::CentreFold), Vec::new());
    assert!(matches!(fault(&job, &garment), PlanError::BorderOnFold { piece, .. } if piece == "Panel"));
    let (job, garment) = at_border(BorderSides::Both, WayChoice::Only(Way::CentreFold), Vec::new());
    assert!(layout(&job, &garment, &[]).uses_fold());
}

#[test]
fn nothing_else_says_where_a_border_piece_lies_across() {
    let another = MatchRule::Border { at: at("Panel", "side"), from_edge: 40.0 };
    let (job, garment) = at_border(BorderSides::Left, WayChoice::Only(Way::Open), vec![another]);
    let PlanError::Unmatchable { faults, .. } = fault(&job, &garment) else { panic!("two borders") };
    assert!(matches!(faults[..], [MatchFault::Contradiction { by: 25.0, .. }]), "{faults:?}");
}

/// A fold lies on an axis of a design across, and the borders as far from the edges: off the middle the other copy would miss its border.
#[test]
fn a_pair_at_two_borders_is_not_cut_on_a_fold_off_the_middle() {
    for (offset, folds) in [(50.0, true), (70.0, false)] {
        let (mut job, garment) = at_border(BorderSides::Both, WayChoice::Only(Way::CentreFold), Vec::new());
        let design = job.fabrics[0].cloth.design.as_mut().unwrap();
        (design.along, design.across) = (None, even(100.0, offset));
        if folds {
            assert!(layout(&job, &garment, &[]).uses_fold());
        } else {
            let by_forty = |fault: &PlanError| matches!(fault, PlanError::BorderOffFold { piece, by, .. } if piece == "Panel" && (by - 40.0).abs() < 1e-9);
            assert!(by_forty(&fault(&job, &garment)), "{:?}", fault(&job, &garment));
        }
        job.fabrics[0].ways = WayChoice::Either;
        assert_eq!(layout(&job, &garment, &[]).uses_fold(), folds);
    }
}

/// Whatever a job on one width alone is told, the others are compared.
#[test]
fn a_width_that_the_fold_cannot_serve_is_told_beside_the_others() {
    let (mut job, garment) = at_border(BorderSides::Both, WayChoice::Only(Way::CentreFold), Vec::new());
    let design = job.fabrics[0].cloth.design.as_mut().unwrap();
    (design.along, design.across) = (None, even(100.0, 50.0));
    let roles = ["main".to_owned()];
    let compared = compare_widths(&job, &garment, &roles, &[1100.0, 1140.0], &tiny(), &Unheard).unwrap();
    let answers: Vec<bool> = compared[0].iter().map(|plan| plan.answer.is_ok()).collect();
    assert_eq!(answers, [true, false]);
    assert!(matches!(compared[0][1].answer, Err(PlanError::BorderOffFold { .. })));
}
