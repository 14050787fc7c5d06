//! Alterations, corner by corner and mark by mark.

use super::*;

#[test]
fn lengthening_leaves_a_fold_one_edge_and_cuts_curves_that_begin_on_the_line() {
    let mut pattern = pattern();
    for draft in &mut pattern.pieces[0].drafts {
        draft.edges[4].allowance = EdgeAllowance::Fold;
        draft.start.x = 0.01;
        draft.edges[4].to.x = 0.01;
        // Down from the line and up again across it.
        draft.lines.insert("seat".into(), 500.0);
    }
    for line in ["skirt", "seat"] {
        let alteration =
            Alteration::Lengthen { line: line.into(), pieces: vec!["Front".into(), "Front".into()], by: 40.0 };
        let request = FitRequest { alterations: vec![alteration], ..asked(SizeWish::Named("38".into())) };
        let fitted = fit(&pattern, &request).unwrap();
        let (after, before) = (&fitted.drafts[0], &fitted.before[0]);
        let folds = after.edges.iter().filter(|edge| edge.allowance == EdgeAllowance::Fold).count();
        assert_eq!(folds, 1);
        let grown = 40.0 * before.width_at(before.lines[line], None);
        assert!((after.area() - before.area() - grown).abs() <= 0.001 * grown, "{line}, and once only");
    }
}

#[test]
fn a_seam_across_the_body_is_not_let_out() {
    let mut pattern = pattern();
    pattern.seams.push(Seam {
        name: "waist".into(),
        kind: SeamKind::Other,
        a: side("Front", &["waist"], &["side high"]),
        b: Some(side("Back", &["waist"], &["side high"])),
    });
    let alterations = vec![Alteration::Widen { seam: "waist".into(), by: 80.0 }];
    let faults = fit(&pattern, &FitRequest { alterations, ..asked(SizeWish::Named("38".into())) }).unwrap_err();
    assert!(matches!(&faults[..], [FitFault::LevelSeam { seam }] if seam == "waist"));
}

#[test]
fn a_notch_on_an_edge_that_is_stretched_stays_on_it() {
    let mut pattern = pattern();
    for draft in pattern.pieces.iter_mut().take(2).flat_map(|piece| &mut piece.drafts) {
        // A slanted waist with a notch in its middle.
        draft.edges[3].shape = EdgeShape::Straight;
        draft.edges[3].to.y = 660.0;
        let middle = (draft.edges[2].to + draft.edges[3].to) * 0.5;
        draft.notches.push(("dart".into(), middle));
    }
    let alterations = vec![Alteration::Widen { seam: "side".into(), by: 80.0 }];
    let fitted = fit(&pattern, &FitRequest { alterations, ..asked(SizeWish::Named("38".into())) }).unwrap();
    let draft = &fitted.drafts[0];
    let middle = (draft.edges[2].to + draft.edges[3].to) * 0.5;
    let notch = draft.notches[1].1;
    assert!((notch.x - middle.x).hypot(notch.y - middle.y) < 1e-9, "{notch:?}, not {middle:?}");
}

/// Size 38 of the pattern after `change` to every front and back, altered.
fn altered_after(change: impl Fn(&mut Draft), alteration: Alteration) -> Fitted {
    let mut pattern = pattern();
    pattern.pieces.iter_mut().take(2).flat_map(|piece| &mut piece.drafts).for_each(change);
    let request = FitRequest { alterations: vec![alteration], ..asked(SizeWish::Named("38".into())) };
    fit(&pattern, &request).unwrap()
}

fn near(p: Point, q: Point) -> bool {
    (p.x - q.x).abs() < 1e-9 && (p.y - q.y).abs() < 1e-9
}

#[test]
fn what_is_done_is_told() {
    let told = |alteration| altered(alteration).unwrap().report.alterations.remove(0);
    let lengthen = |by| told(Alteration::Lengthen { line: "skirt".into(), pieces: Vec::new(), by });
    assert_eq!(lengthen(40.0), "lengthened by 4 cm at \"skirt\": Front, Back");
    assert_eq!(lengthen(-40.0), "shortened by 4 cm at \"skirt\": Front, Back");
    let widen = |by| told(Alteration::Widen { seam: "side".into(), by });
    assert_eq!(widen(80.0), "let out by 8 cm in all at the seam \"side\", 2 cm an edge");
    assert_eq!(widen(-80.0), "taken in by 8 cm in all at the seam \"side\", 2 cm an edge");
    let allow = |piece: Option<&str>| {
        let piece = piece.map(str::to_owned);
        told(Alteration::Allowance { piece, edge: "hem".into(), depth: 50.0, corner: None })
    };
    assert_eq!(allow(None), "allowance of 5 cm on \"hem\": Front, Back");
    assert_eq!(allow(Some("Back")), "allowance of 5 cm on \"hem\": Back");
}

#[test]
fn what_lies_below_the_line_goes_down_with_its_marks() {
    let below = |draft: &mut Draft| {
        draft.lines.insert("knee".into(), 100.0);
        draft.levels.insert("thigh".into(), 180.0);
        draft.notches.push(("hem notch".into(), point(0.0, 30.0)));
        draft.points.insert("on the line".into(), point(10.0, 250.0));
    };
    let fitted = altered_after(below, Alteration::Lengthen { line: "skirt".into(), pieces: Vec::new(), by: 40.0 });
    let draft = &fitted.drafts[0];
    assert_eq!(draft.start, point(0.0, -40.0));
    assert_eq!(draft.grainline, [point(60.0, 40.0), point(60.0, 600.0)]);
    assert_eq!(draft.lines, [("knee", 60.0), ("skirt", 250.0), ("yoke", 420.0)].map(|(n, y)| (n.to_owned(), y)).into());
    assert_eq!(
        draft.levels,
        [("thigh", 140.0), ("hip", 500.0), ("waist", 690.0)].map(|(n, y)| (n.to_owned(), y)).into()
    );
    assert_eq!(draft.notches[1].1, point(0.0, -10.0));
    assert_eq!(draft.points["on the line"], point(10.0, 250.0));
    assert_eq!(draft.points["side low"], point(297.0, -40.0));
    assert_eq!(draft.points["side high"], point(195.0, 700.0));
}

/// An outline that begins on the very line at which it is lengthened, drawn downwards from it or upwards.
#[test]
fn an_outline_may_begin_on_the_line_itself() {
    let outline = |corners: &[(f64, f64)]| {
        let corners: Vec<(f64, f64)> = corners.to_vec();
        move |draft: &mut Draft| {
            draft.start = point(corners[0].0, corners[0].1);
            let ends = corners[1..].iter().chain(&corners[..1]);
            draft.edges = (ends.enumerate())
                .map(|(k, &(x, y))| edge(&format!("edge {k}"), point(x, y), EdgeShape::Straight, k))
                .collect();
            draft.lines.insert("skirt".into(), 200.0);
        }
    };
    let downwards = [(0.0, 200.0), (-40.0, 0.0), (300.0, 0.0), (260.0, 700.0), (20.0, 700.0)];
    let upwards = [(0.0, 200.0), (20.0, 700.0), (260.0, 700.0), (300.0, 0.0), (-40.0, 0.0)];
    for corners in [&downwards, &upwards] {
        let change = outline(corners);
        let mut pattern = pattern();
        pattern.seams.clear();
        pattern.pieces.iter_mut().take(2).flat_map(|piece| &mut piece.drafts).for_each(&change);
        let alteration = Alteration::Lengthen { line: "skirt".into(), pieces: Vec::new(), by: 40.0 };
        let request = FitRequest { alterations: vec![alteration], ..asked(SizeWish::Named("38".into())) };
        let fitted = fit(&pattern, &request).unwrap();
        let (after, before) = (&fitted.drafts[0], &fitted.before[0]);
        let grown = 40.0 * before.width_at(200.0, None);
        assert!((after.area() - before.area() - grown).abs() < 1e-3, "{:?}", after.edges);
        let lowest = after.seam_line().iter().map(|p| p.y).fold(f64::MAX, f64::min);
        assert_eq!(lowest, -40.0);
        // Straight down between the halves, at both sides.
        let joins =
            after.edges.iter().filter(|edge| near(edge.to, point(0.0, 200.0)) || near(edge.to, point(0.0, 160.0)));
        assert!(joins.count() + usize::from(near(after.start, point(0.0, 200.0))) >= 2, "{:?}", after.edges);
    }
}

#[test]
fn a_millimetre_is_left_above_the_next_line() {
    // From the yoke down to the skirt line there are 170 mm.
    let by = |by: f64| altered(Alteration::Lengthen { line: "yoke".into(), pieces: vec!["Front".into()], by: -by });
    assert!(by(169.0).is_ok());
    assert!(matches!(&by(169.5).unwrap_err()[..], [FitFault::PastNextLine { by, .. }] if *by == 169.5));
}

/// Four half panels meet at the two side seams: a quarter of what is let out goes to each edge.
#[test]
fn letting_out_moves_the_side_and_its_half_of_what_it_ends_at() {
    let (out, halfway) = (20.0, 10.0);
    let whole = |mirrored: bool, change: &dyn Fn(&mut Draft)| {
        let mut pattern = pattern();
        let x = |p: Point| if mirrored { point(-p.x, p.y) } else { p };
        for draft in pattern.pieces.iter_mut().take(2).flat_map(|piece| &mut piece.drafts) {
            change(draft);
            *draft = draft.moved(x, |y| y);
        }
        let alterations = vec![Alteration::Widen { seam: "side".into(), by: 80.0 }];
        let mut fitted = fit(&pattern, &FitRequest { alterations, ..asked(SizeWish::Named("38".into())) }).unwrap();
        fitted.drafts.remove(0).moved(x, |y| y)
    };
    for mirrored in [false, true] {
        let draft = whole(mirrored, &|_| {});
        assert_eq!(draft.start, point(0.0, 0.0));
        let ends = [(297.0 + out, 0.0), (265.0 + out, 500.0), (195.0 + out, 700.0), (0.0, 695.0), (0.0, 0.0)];
        assert!(draft.edges.iter().zip(ends).all(|(edge, (x, y))| near(edge.to, point(x, y))), "{:?}", draft.edges);
        let EdgeShape::Cubic { first, second } = draft.edges[2].shape else { panic!("{:?}", draft.edges[2]) };
        assert!(near(first, point(265.0 + out, 560.0)) && near(second, point(207.0 + out, 660.0)));
        // The waist is let out at one end only.
        let EdgeShape::Arc { through } = draft.edges[3].shape else { panic!("{:?}", draft.edges[3]) };
        assert!(near(through, point(97.5 + halfway, 696.0)), "{through:?}");
        assert!(near(draft.notches[0].1, point(265.0 + out, 500.0)));

        // Arcs of the side itself go with it, others stay; so do curves.
        let curved = whole(mirrored, &|draft| {
            draft.edges[1].shape = EdgeShape::Arc { through: point(290.0, 250.0) };
            draft.edges[4].shape = EdgeShape::Arc { through: point(-6.0, 350.0) };
        });
        let through = |k: usize| match curved.edges[k].shape {
            EdgeShape::Arc { through } => through,
            other => panic!("{other:?}"),
        };
        assert!(near(through(1), point(290.0 + out, 250.0)) && near(through(4), point(-6.0, 350.0)));
        let curved = whole(mirrored, &|draft| {
            draft.edges[0].shape = EdgeShape::Cubic { first: point(90.0, -8.0), second: point(200.0, -8.0) };
            draft.edges[3].shape = EdgeShape::Cubic { first: point(120.0, 699.0), second: point(60.0, 694.0) };
        });
        let controls = |k: usize| match curved.edges[k].shape {
            EdgeShape::Cubic { first, second } => [first, second],
            other => panic!("{other:?}"),
        };
        assert!(near(controls(0)[0], point(90.0, -8.0)) && near(controls(0)[1], point(200.0 + out, -8.0)));
        assert!(near(controls(3)[0], point(120.0 + out, 699.0)) && near(controls(3)[1], point(60.0, 694.0)));
    }
}

#[test]
fn a_side_that_the_outline_begins_in_the_middle_of_is_let_out_whole() {
    // Drawn from the hip: the outline begins where both parts of the side meet.
    let turned = |draft: &mut Draft| {
        draft.edges.rotate_left(2);
        draft.start = draft.edges.last().unwrap().to;
    };
    let fitted = altered_after(turned, Alteration::Widen { seam: "side".into(), by: 80.0 });
    assert!(near(fitted.drafts[0].start, point(285.0, 500.0)));
    assert!((fitted.report.walked[0].off).abs() < 1e-9);
    assert!((row(&fitted, "hip").finished - 1060.0 - 80.0).abs() < 0.01);
}

#[test]
fn a_notch_on_a_curved_waist_keeps_its_share_of_it() {
    let notched = |draft: &mut Draft| {
        let waist = draft.line_of("waist");
        draft.notches.push(("dart".into(), blend::along(&waist, 0.3)));
    };
    let fitted = altered_after(notched, Alteration::Widen { seam: "side".into(), by: 80.0 });
    let draft = &fitted.drafts[0];
    let wanted = blend::along(&draft.line_of("waist"), 0.3);
    let notch = draft.notches[1].1;
    assert!((notch.x - wanted.x).hypot(notch.y - wanted.y) < 0.05, "{notch:?}, not {wanted:?}");
    // One inside the piece stays.
    let inside = |draft: &mut Draft| draft.notches.push(("pocket".into(), point(100.0, 400.0)));
    let fitted = altered_after(inside, Alteration::Widen { seam: "side".into(), by: 80.0 });
    assert_eq!(fitted.drafts[0].notches[1].1, point(100.0, 400.0));
}

#[test]
fn one_level_side_is_enough_to_refuse_a_seam() {
    let mut pattern = pattern();
    let seam = |name: &str, a: SeamSide, b: SeamSide| Seam { name: name.into(), kind: SeamKind::Other, a, b: Some(b) };
    pattern.seams = vec![
        seam("armhole", side("Sleeve", &["cap"], &[]), side("Front", &["side low"], &[])),
        seam("other armhole", side("Back", &["side low"], &[]), side("Sleeve", &["cap"], &[])),
        seam("sleeve", side("Sleeve", &["front"], &[]), side("Sleeve", &["back"], &[])),
    ];
    let widened = |seam: &str| {
        let alterations = vec![Alteration::Widen { seam: seam.into(), by: 20.0 }];
        fit(&pattern, &FitRequest { alterations, ..asked(SizeWish::Named("38".into())) })
    };
    for name in ["armhole", "other armhole"] {
        assert!(matches!(&widened(name).unwrap_err()[..], [FitFault::LevelSeam { seam }] if seam == name));
    }
    assert!(widened("sleeve").is_ok());
}

#[test]
fn an_allowance_is_changed_on_the_edges_named_and_on_no_fold() {
    let folded = |draft: &mut Draft| {
        draft.edges[4].allowance = EdgeAllowance::Fold;
        draft.edges[4].name = "side low".into();
        draft.edges[3].name.clear();
    };
    let edge = || "side low".to_owned();
    let fitted = altered_after(folded, Alteration::Allowance { piece: None, edge: edge(), depth: 25.0, corner: None });
    let allowances: Vec<EdgeAllowance> = fitted.drafts[0].edges.iter().map(|edge| edge.allowance).collect();
    let depth = EdgeAllowance::Depth;
    assert_eq!(allowances, [depth(15.0), depth(25.0), depth(15.0), depth(15.0), EdgeAllowance::Fold]);
    let mut pattern = pattern();
    pattern.pieces[0].drafts.iter_mut().for_each(folded);
    let alterations =
        vec![Alteration::Allowance { piece: Some("Front".into()), edge: "hme".into(), depth: 25.0, corner: None }];
    let faults = fit(&pattern, &FitRequest { alterations, ..asked(SizeWish::Named("38".into())) }).unwrap_err();
    assert!(
        matches!(&faults[..], [FitFault::UnknownEdge { known, .. }] if *known == ["hem", "side high", "side low"]),
        "an edge without a name is not offered: {faults:?}"
    );
}
