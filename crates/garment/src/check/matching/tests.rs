//! A plaid, an uneven design and a border on the sample layouts: what meets passes, what misses is told with by how much.

use super::*;
use crate::Way::{CentreFold, Open};
use crate::check::tests::faults_after;
use crate::sample::{cut, panel, pocket};
use crate::{Balance, Layout, Match, Need, Repeat, matched_points};
use ellwand_geometry::Pose;

fn at(piece: &str, point: &str) -> PiecePoint {
    PiecePoint { piece: piece.into(), point: point.into() }
}

fn design(across: f64, along: f64) -> Design {
    let repeat = |every: f64| Repeat::even(every, 0.0);
    Design::repeating(Some(repeat(across)), Some(repeat(along)))
}

/// The panels' low side points lie at (210, 0) and, turned and mirrored, at (410, 300): alike on a plaid of 200 by 100 mm.
fn on_a_plaid(layout: &mut Layout) {
    layout.cloth.design = Some(design(200.0, 100.0));
    let meet = |axis| MatchRule::Meet { a: at("Panel", "side low"), b: at("Panel", "side low"), axis };
    let stand = MatchRule::Stand { at: at("Panel", "side low"), axis: DesignAxis::Across, phase: 10.0 };
    layout.matching = vec![Match {
        name: "side".into(),
        need: Need::Required,
        rules: vec![meet(DesignAxis::Across), meet(DesignAxis::Along), stand],
    }];
    told_anew(layout);
}

fn told_anew(layout: &mut Layout) {
    let design = layout.cloth.design.clone().unwrap();
    layout.matches = matched_points(&layout.matching, &layout.cuts, &design, layout.cloth.width);
}

/// The faults after a change to the matched layout, its matches told as they then are.
fn faults_on_plaid(change: impl FnOnce(&mut Layout)) -> Vec<Fault> {
    faults_after(Open, |layout| {
        on_a_plaid(layout);
        change(layout);
        told_anew(layout);
    })
}

fn missed(faults: &[Fault]) -> Vec<(DesignAxis, f64)> {
    let missed = |fault: &Fault| match fault {
        Fault::Mismatched { axis, by, .. } => Some((*axis, *by)),
        _ => None,
    };
    faults.iter().filter_map(missed).collect()
}

#[test]
fn panels_that_meet_pass() {
    assert_eq!(faults_on_plaid(|_| {}), vec![]);
}

#[test]
fn a_cut_shifted_by_a_millimetre_is_refused_and_by_a_hair_is_not() {
    let shifted = |x: f64, y: f64| {
        faults_on_plaid(|layout| {
            layout.cuts[1] = cut(&panel(), 1, 2, Pose::turned(180.0).mirrored(), (210.0 + x, 300.0 + y));
            layout.length = 300.0 + y;
        })
    };
    assert_eq!(shifted(0.0, 0.04), vec![]);
    // The README promises a twentieth of a millimetre.
    assert_eq!(missed(&shifted(0.0, 0.06)).len(), 1);
    assert_eq!(missed(&shifted(0.06, 0.0)).len(), 2);
    assert_eq!(missed(&shifted(0.0, 1.0)), [(DesignAxis::Along, 1.0)]);
    // Across it misses the other panel and its own place on the design.
    assert_eq!(missed(&shifted(1.0, 0.0)), [(DesignAxis::Across, 1.0); 2]);
    assert_eq!(missed(&shifted(1.0, 1.0)).len(), 3);
    // A whole repeat off is on it again.
    assert_eq!(missed(&shifted(200.0, 100.0)), []);
}

#[test]
fn a_cut_turned_or_mirrored_in_its_place_is_refused() {
    // Its low side point then lies at (210, 310) or at (10, 310): 10 mm off along, and on the wrong side of the bar across.
    let turned = faults_on_plaid(|layout| {
        layout.cuts[1] = cut(&panel(), 1, 2, Pose::AS_DRAWN.mirrored(), (410.0, 310.0));
        layout.length = 610.0;
    });
    assert_eq!(missed(&turned), [(DesignAxis::Across, 20.0), (DesignAxis::Along, 10.0), (DesignAxis::Across, 20.0)]);
    let mirrored = faults_on_plaid(|layout| {
        layout.cuts[0] = cut(&panel(), 1, 1, Pose::AS_DRAWN.mirrored(), (210.0, 0.0));
    });
    assert_eq!(missed(&mirrored).first(), Some(&(DesignAxis::Across, 20.0)));
}

/// What a panel is sewn to is moved with it, so that every recorded match is kept, and left and right differ all the same.
#[test]
fn copies_that_meet_others_and_not_each_other_are_compared() {
    let faults = faults_after(Open, |layout| {
        layout.cloth.design = Some(design(200.0, 100.0));
        layout.cuts[1] = cut(&panel(), 1, 2, Pose::turned(180.0).mirrored(), (210.0, 301.0));
        layout.length = 301.0;
        let meet = MatchRule::Meet { a: at("Panel", "side low"), b: at("Yoke", "left"), axis: DesignAxis::Along };
        layout.matching = vec![Match { name: "side".into(), need: Need::Required, rules: vec![meet] }];
        told_anew(layout);
    });
    let unlike = |fault: &&Fault| matches!(fault, Fault::CopiesUnlike { other, by, .. } if other.copy == 2 && (by - 1.0).abs() < 1e-9);
    assert_eq!(faults.iter().filter(unlike).count(), 1, "{faults:?}");
}

/// The panels' low side points lie 10 mm to the right of a bar as they hang, and the mark of the pocket 10 mm to the left of one.
#[test]
fn points_are_mirror_images_about_a_bar_and_nothing_else() {
    let faults = |moved: f64, shown: Shown| {
        faults_after(Open, |layout| {
            layout.cloth.design = Some(design(200.0, 100.0));
            layout.cuts[3].points.insert("mark".into(), ellwand_geometry::point(590.0 + moved, 160.0));
            let rule = MatchRule::Chevron { a: at("Panel", "side low"), b: at("Pocket", "mark") };
            layout.matching = vec![Match { name: "side".into(), need: Need::Required, rules: vec![rule] }];
            told_anew(layout);
            layout.matches.iter_mut().for_each(|matched| matched.shown = shown);
        })
    };
    let of_matches = |moved, shown| -> Vec<Fault> {
        let about = |fault: &Fault| {
            matches!(fault, Fault::Mismatched { .. } | Fault::MatchUntold { .. } | Fault::MatchUnasked { .. })
        };
        faults(moved, shown).into_iter().filter(about).collect()
    };
    assert_eq!(of_matches(0.0, Shown::Mirrored), vec![]);
    assert_eq!(missed(&of_matches(1.0, Shown::Mirrored)), [(DesignAxis::Across, 1.0); 2]);
    let alike = of_matches(0.0, Shown::Alike);
    assert!(alike.iter().any(|fault| matches!(fault, Fault::MatchUnasked { .. })), "{alike:?}");
}

#[test]
fn another_repeat_is_refused() {
    let faults = faults_on_plaid(|layout| layout.cloth.design = Some(design(200.0, 101.0)));
    assert_eq!(missed(&faults), [(DesignAxis::Along, 3.0)]);
}

#[test]
fn a_residual_that_is_not_true_is_refused() {
    let faults = faults_after(Open, |layout| {
        on_a_plaid(layout);
        layout.matches[1].residual = 0.02;
    });
    assert!(matches!(faults[..], [Fault::Mismatched { by: 0.0, recorded: 0.02, .. }]), "{faults:?}");
}

#[test]
fn a_match_that_is_not_told_is_missed() {
    let faults = faults_after(Open, |layout| {
        on_a_plaid(layout);
        layout.matches.remove(1);
    });
    assert!(matches!(faults[..], [Fault::MatchUntold { .. }, Fault::MatchUntold { .. }]), "{faults:?}");
    let faults = faults_after(Open, |layout| {
        on_a_plaid(layout);
        layout.matches[2].phase = Some(110.0);
    });
    assert!(faults.iter().any(|fault| matches!(fault, Fault::MatchUntold { .. })), "{faults:?}");
}

#[test]
fn an_uneven_design_keeps_every_top_up() {
    let uneven = |layout: &mut Layout| {
        let mut design = design(200.0, 100.0);
        design.along.as_mut().unwrap().balance = Balance::Uneven;
        layout.cloth.design = Some(design);
    };
    let faults = faults_after(Open, uneven);
    assert!(
        matches!(&faults[..], [Fault::AgainstDesign { cut }] if cut.piece == "Panel" && cut.copy == 2),
        "{faults:?}"
    );
}

#[test]
fn a_fold_off_the_axis_shows_both_layers_differently() {
    // The fold lies on the bar nearest to the middle; the sample is folded at 500 mm and its panels mirror each other there.
    let with_offset = |offset: f64| {
        faults_after(CentreFold, |layout| {
            let mut design = design(200.0, 100.0);
            design.across.as_mut().unwrap().offset = offset;
            layout.cloth.design = Some(design);
            let rule =
                MatchRule::Meet { a: at("Panel", "side low"), b: at("Panel", "side low"), axis: DesignAxis::Across };
            layout.matching = vec![Match { name: "side".into(), need: Need::Required, rules: vec![rule] }];
            told_anew(layout);
        })
    };
    assert_eq!(with_offset(100.0), vec![]);
    let faults = with_offset(105.0);
    assert_eq!(missed(&faults), [(DesignAxis::Across, 10.0)]);
}

#[test]
fn a_border_is_measured_from_the_edge() {
    let bordered = |x: f64| {
        faults_after(Open, |layout| {
            let mut design = design(200.0, 100.0);
            design.border = Some(crate::Border { sides: BorderSides::Left, width: 60.0, colour: String::new() });
            layout.cloth.design = Some(design);
            // Upright in the sample; the rule is about where a point stands.
            layout.cuts[3] = cut(&pocket(), 3, 1, Pose::turned(270.0), (x, 500.0));
            layout.cuts[3].points.insert("corner".into(), ellwand_geometry::point(x, 500.0));
            layout.length = 500.0;
            let rule = MatchRule::Border { at: at("Pocket", "corner"), from_edge: 10.0 };
            layout.matching = vec![Match { name: "border".into(), need: Need::Required, rules: vec![rule] }];
            told_anew(layout);
        })
    };
    let off = |faults: &[Fault]| missed(faults);
    assert_eq!(off(&bordered(10.0)), []);
    assert_eq!(off(&bordered(11.0)), [(DesignAxis::Across, 1.0)]);
}

/// The pocket with a corner that matches speak of, to the right of everything.
fn cornered(pose: Pose) -> crate::Cut {
    let mut piece = pocket();
    piece.points.insert("corner".into(), ellwand_geometry::point(80.0, 0.0));
    cut(&piece, 3, 1, pose, (830.0, 150.0))
}

/// Every way the pocket may lie, with the place of the design at its corner, across and along, on a repeat of 70 by 110 mm whose bars stand
/// 30 and 20 mm in. Worked by hand: the corner lies 80 mm from (830, 150), and a piece that hangs down or shows its other hand counts the
/// other way.
fn lies() -> [(Pose, f64, f64); 8] {
    [
        (Pose::AS_DRAWN, 40.0, 20.0),
        (Pose::turned(180.0), 50.0, 90.0),
        (Pose::AS_DRAWN.mirrored(), 50.0, 20.0),
        (Pose::turned(180.0).mirrored(), 40.0, 90.0),
        (Pose::turned(90.0), 30.0, 10.0),
        (Pose::turned(270.0), 30.0, 50.0),
        (Pose::turned(90.0).mirrored(), 30.0, 50.0),
        (Pose::turned(270.0).mirrored(), 30.0, 10.0),
    ]
}

fn set_in(design: &mut Design) {
    design.across.as_mut().unwrap().offset = 30.0;
    design.along.as_mut().unwrap().offset = 20.0;
}

#[test]
fn a_place_on_the_design_is_counted_as_the_garment_is_worn() {
    for (pose, across, along) in lies() {
        let stands_at = |across: f64, along: f64| {
            let faults = faults_after(Open, |layout| {
                let mut design = design(70.0, 110.0);
                set_in(&mut design);
                layout.cloth.design = Some(design);
                layout.cuts[3] = cornered(pose);
                let stand = |axis, phase| MatchRule::Stand { at: at("Pocket", "corner"), axis, phase };
                let rules = vec![stand(DesignAxis::Across, across), stand(DesignAxis::Along, along)];
                layout.matching = vec![Match { name: "corner".into(), need: Need::Required, rules }];
                told_anew(layout);
            });
            missed(&faults)
        };
        assert_eq!(stands_at(across, along), [], "{pose:?}");
        assert_eq!(stands_at(across + 3.0, along), [(DesignAxis::Across, 3.0)], "{pose:?}");
        assert_eq!(stands_at(across, along - 2.0), [(DesignAxis::Along, 2.0)], "{pose:?}");
        let cut = cornered(pose);
        let mut design = design(70.0, 110.0);
        set_in(&mut design);
        for (axis, phase) in [(DesignAxis::Across, across), (DesignAxis::Along, along)] {
            let found = cut.phase(cut.points["corner"], axis, design.repeat(axis).unwrap());
            assert!((found - phase).abs() < 1e-9, "{pose:?}: {found}");
        }
    }
}

/// The faults with a border on `sides` and the corner of the pocket in a match that keeps it 10 mm from the edge; `change` comes last.
fn faults_at_border(sides: BorderSides, pose: Pose, x: f64, change: impl FnOnce(&mut Layout)) -> Vec<Fault> {
    let mut pattern = crate::sample::pattern();
    pattern.pieces[2].points.insert("corner".into(), ellwand_geometry::point(0.0, 0.0));
    let mut layout = crate::sample::open_layout();
    let mut design = design(200.0, 100.0);
    (design.across, design.along) = (None, None);
    design.border = Some(crate::Border { sides, width: 60.0, colour: String::new() });
    layout.cloth.design = Some(design);
    layout.cuts[3] = cut(&pattern.pieces[2], 3, 1, pose, (x, 500.0));
    layout.length = layout.cuts[3].outline.bounds().max.y;
    let rule = MatchRule::Border { at: at("Pocket", "corner"), from_edge: 10.0 };
    layout.matching = vec![Match { name: "border".into(), need: Need::Required, rules: vec![rule] }];
    told_anew(&mut layout);
    change(&mut layout);
    layout.purchase = crate::purchase(&crate::sample::fabric(&layout), crate::Units::Centimetres, layout.length);
    crate::check::tests::judged_with(&layout, &pattern)
}

/// Its low end at the left edge, and at the right.
const AT_THE_LEFT: (Pose, f64) = (Pose { mirrored: false, turn_deg: 270.0 }, 10.0);
const AT_THE_RIGHT: (Pose, f64) = (Pose { mirrored: false, turn_deg: 90.0 }, 990.0);

#[test]
fn a_border_is_met_at_the_side_that_has_one() {
    let faults = |sides, (pose, x): (Pose, f64)| faults_at_border(sides, pose, x, |_| {});
    assert_eq!(faults(BorderSides::Left, AT_THE_LEFT), vec![]);
    assert_eq!(faults(BorderSides::Right, AT_THE_RIGHT), vec![]);
    assert_eq!(faults(BorderSides::Both, AT_THE_LEFT), vec![]);
    assert_eq!(faults(BorderSides::Both, AT_THE_RIGHT), vec![]);
    for (sides, lies) in [(BorderSides::Left, AT_THE_RIGHT), (BorderSides::Right, AT_THE_LEFT)] {
        let faults = faults(sides, lies);
        assert!(
            matches!(faults[..], [Fault::MatchUntold { .. }, Fault::MatchUnasked { .. }, Fault::OffBorder { .. }]),
            "{faults:?}"
        );
    }
    let missing = faults_at_border(BorderSides::Right, AT_THE_RIGHT.0, 988.0, |_| {});
    assert_eq!(missed(&missing), [(DesignAxis::Across, 2.0)]);
}

#[test]
fn a_border_told_otherwise_than_asked_for_is_refused() {
    let (pose, x) = AT_THE_LEFT;
    let told = |change: fn(&mut crate::MatchedPoints)| {
        faults_at_border(BorderSides::Both, pose, x, |layout| change(&mut layout.matches[0])).len()
    };
    assert_eq!(told(|_| {}), 0);
    assert_eq!(told(|matched| matched.phase = Some(10.000_5)), 0, "rounding");
    for change in [
        (|matched| matched.phase = Some(10.01)) as fn(&mut crate::MatchedPoints),
        |matched| matched.phase = Some(500.0),
        |matched| matched.phase = None,
        |matched| matched.axis = DesignAxis::Along,
        |matched| matched.name = "edge".into(),
        |matched| matched.a.point = "side low".into(),
        |matched| matched.a.piece = "Yoke".into(),
        |matched| matched.a.copy = 2,
        |matched| matched.b = Some(matched.a.clone()),
    ] {
        assert!(told(change) > 0);
    }
    let untold = faults_at_border(BorderSides::Both, pose, x, |layout| layout.matches.clear());
    assert!(matches!(untold[..], [Fault::MatchUntold { axis: DesignAxis::Across, .. }]), "{untold:?}");
}

#[test]
fn an_uneven_design_may_lie_crosswise_at_a_border_only() {
    let lies = |bordered: bool, pose: Pose, (x, y): (f64, f64)| {
        let faults = faults_after(Open, |layout| {
            let mut design = design(200.0, 100.0);
            design.along.as_mut().unwrap().balance = Balance::Uneven;
            let border = || crate::Border { sides: BorderSides::Both, width: 60.0, colour: String::new() };
            design.border = bordered.then(border);
            layout.cloth.design = Some(design);
            layout.cuts[1] = cut(&panel(), 1, 2, Pose::AS_DRAWN.mirrored(), (410.0, 0.0));
            layout.cuts[3] = cut(&pocket(), 3, 1, pose, (x, y));
        });
        faults.iter().filter(|fault| matches!(fault, Fault::AgainstDesign { .. })).count()
    };
    let at = (830.0, 150.0);
    assert_eq!(lies(true, Pose::AS_DRAWN, at), 0);
    for turn in [90.0, 270.0] {
        assert_eq!((lies(true, Pose::turned(turn), at), lies(false, Pose::turned(turn), at)), (0, 1), "{turn}");
    }
    // Neither upside down nor nearly crosswise.
    for turn in [100.0, 180.0, 260.0] {
        assert_eq!((lies(true, Pose::turned(turn), at), lies(false, Pose::turned(turn), at)), (1, 1), "{turn}");
    }
}

#[test]
fn a_panel_may_not_lie_crosswise_on_an_uneven_design_even_at_a_border() {
    let faults = faults_after(Open, |layout| {
        let mut design = design(200.0, 100.0);
        design.along.as_mut().unwrap().balance = Balance::Uneven;
        design.border = Some(crate::Border { sides: BorderSides::Both, width: 60.0, colour: String::new() });
        layout.cloth.design = Some(design);
        layout.cuts[0] = cut(&panel(), 1, 1, Pose::turned(90.0), (985.0, 100.0));
        layout.cuts[1] = cut(&panel(), 1, 2, Pose::AS_DRAWN.mirrored(), (410.0, 0.0));
    });
    let against =
        |fault: &&Fault| matches!(fault, Fault::AgainstDesign { cut } if cut.copy == 1 && cut.piece == "Panel");
    assert_eq!(faults.iter().filter(against).count(), 1, "{faults:?}");
}

#[test]
fn a_match_told_otherwise_than_asked_for_is_refused() {
    let told = |which: usize, change: fn(&mut crate::MatchedPoints)| {
        faults_after(Open, |layout| {
            on_a_plaid(layout);
            change(&mut layout.matches[which]);
        })
        .len()
    };
    // Which of the two is named first makes no difference.
    let swapped = |matched: &mut crate::MatchedPoints| {
        let other = matched.b.replace(matched.a.clone()).unwrap();
        matched.a = other;
    };
    assert_eq!((told(0, swapped), told(1, swapped)), (0, 0));
    for change in [
        (|matched| matched.name = "seam".into()) as fn(&mut crate::MatchedPoints),
        |matched| matched.axis = DesignAxis::Across,
        |matched| matched.a.point = "hip".into(),
        |matched| matched.b.as_mut().unwrap().point = "hip".into(),
        |matched| matched.b.as_mut().unwrap().piece = "Yoke".into(),
        |matched| matched.b = None,
    ] {
        assert!(told(1, change) > 0);
    }
    // A place on the design, of copy 1.
    for change in [
        (|matched| matched.phase = Some(210.0)) as fn(&mut crate::MatchedPoints),
        |matched| matched.phase = None,
        |matched| matched.b = Some(matched.a.clone()),
        |matched| matched.a.point = "hip".into(),
    ] {
        assert!(told(2, change) > 0);
    }
}

#[test]
fn what_is_cut_once_or_not_at_all_has_nothing_to_meet() {
    let untold = |a: PiecePoint, b: PiecePoint, axis| {
        let faults = faults_after(Open, |layout| {
            layout.cloth.design = Some(design(200.0, 100.0));
            layout.cloth.design.as_mut().unwrap().along = None;
            let rules = vec![MatchRule::Meet { a: a.clone(), b: b.clone(), axis }];
            layout.matching = vec![Match { name: "side".into(), need: Need::Required, rules }];
        });
        faults.iter().filter(|fault| matches!(fault, Fault::MatchUntold { .. })).count()
    };
    let across = DesignAxis::Across;
    assert_eq!(untold(at("Yoke", "left"), at("Yoke", "left"), across), 0, "one copy with itself");
    assert_eq!(untold(at("Yoke", "left"), at("Yoke", "right"), across), 2, "both sides of it");
    assert_eq!(untold(at("Panel", "side low"), at("Panel", "side low"), across), 2, "both copies");
    assert_eq!(untold(at("Panel", "side low"), at("Yoke", "left"), across), 3);
    assert_eq!(untold(at("Sleeve", "cap"), at("Yoke", "left"), across), 0, "cut from another cloth");
    assert_eq!(untold(at("Yoke", "left"), at("Sleeve", "cap"), across), 0);
    assert_eq!(untold(at("Panel", "side low"), at("Yoke", "left"), DesignAxis::Along), 0, "no repeat that way");
}

#[test]
fn a_point_that_misses_by_a_tenth_of_a_millimetre_is_not_a_match() {
    let shifted = |by: f64| {
        let faults = faults_on_plaid(|layout| {
            layout.cuts[1] = cut(&panel(), 1, 2, Pose::turned(180.0).mirrored(), (210.0, 300.0 + by));
            layout.length = 300.0 + by;
        });
        missed(&faults).len()
    };
    assert_eq!([shifted(0.05 - 1e-9), shifted(0.1), shifted(0.9)], [0, 1, 1]);
}
