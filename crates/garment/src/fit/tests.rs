//! A skirt of two halves and a sleeve in four sizes and two figure types, fitted in every way.

use std::collections::BTreeMap;

use ellwand_geometry::{EdgeAllowance, EdgeShape, Point, point};

use super::*;
use crate::{Seam, SeamKind, SeamSide, Units};

const SIZES: [&str; 4] = ["36", "38", "40", "42"];

/// Body of a size, mm: 40 mm a size at every girth.
fn body(step: f64) -> Body {
    let girth = |at: f64| at + 40.0 * step;
    [("bust", girth(880.0)), ("waist", girth(720.0)), ("hip", girth(960.0)), ("height", 1680.0)]
        .map(|(name, mm)| (name.to_owned(), mm))
        .into()
}

fn edge(name: &str, to: Point, shape: EdgeShape, drawn: usize) -> DraftEdge {
    DraftEdge { name: name.into(), to, shape, allowance: EdgeAllowance::Depth(15.0), drawn }
}

/// A half panel, centre edge upright at 0, with a curved hip: a quarter of waist and hip and some ease each.
fn panel(name: &str, step: f64, sway: f64) -> Draft {
    let size = body(step);
    let (waist, hip) = ((size["waist"] + 20.0) / 4.0, (size["hip"] + 60.0) / 4.0);
    let hem = hip + 30.0 + 2.0 * step;
    let side = EdgeShape::Cubic { first: point(hip, 560.0), second: point(waist + 12.0 + sway, 660.0) };
    Draft {
        name: name.into(),
        start: point(0.0, 0.0),
        edges: vec![
            edge("hem", point(hem, 0.0), EdgeShape::Straight, 0),
            edge("side low", point(hip, 500.0), EdgeShape::Straight, 1),
            edge("side high", point(waist, 700.0), side, 2),
            edge("waist", point(0.0, 695.0), EdgeShape::Arc { through: point(waist / 2.0, 696.0) }, 3),
            edge("centre", point(0.0, 0.0), EdgeShape::Straight, 4),
        ],
        grainline: [point(60.0, 80.0), point(60.0, 600.0)],
        notches: vec![("hip".into(), point(hip, 500.0))],
        darts: Vec::new(),
        points: [("side low".to_owned(), point(hem, 0.0)), ("side high".to_owned(), point(waist, 700.0))].into(),
        levels: [("waist".to_owned(), 690.0), ("hip".to_owned(), 500.0)].into(),
        lines: [("skirt".to_owned(), 250.0), ("yoke".to_owned(), 420.0)].into(),
        as_drawn: None,
    }
}

fn sleeve(step: f64) -> Draft {
    let width = 300.0 + 8.0 * step;
    Draft {
        name: "Sleeve".into(),
        start: point(0.0, 0.0),
        edges: vec![
            edge("wrist", point(width, 0.0), EdgeShape::Straight, 0),
            edge("front", point(width, 400.0), EdgeShape::Straight, 1),
            edge("cap", point(0.0, 400.0), EdgeShape::Arc { through: point(width / 2.0, 520.0) }, 2),
            edge("back", point(0.0, 0.0), EdgeShape::Straight, 3),
        ],
        grainline: [point(150.0, 50.0), point(150.0, 450.0)],
        notches: Vec::new(),
        points: BTreeMap::new(),
        darts: Vec::new(),
        levels: BTreeMap::new(),
        lines: [("sleeve".to_owned(), 200.0)].into(),
        as_drawn: None,
    }
}

fn side(piece: &str, edges: &[&str], meets: &[&str]) -> SeamSide {
    let owned = |names: &[&str]| names.iter().map(|name| (*name).to_owned()).collect();
    SeamSide {
        piece: piece.into(),
        edges: owned(edges),
        meets: owned(meets),
        taken_up: Vec::new(),
        centre: None,
        roll: None,
    }
}

fn pattern() -> Sized {
    let mut sizes = Vec::new();
    for (figure, height) in [("regular", 1680.0), ("short", 1600.0)] {
        for (step, name) in SIZES.iter().enumerate() {
            let mut body = body(step as f64);
            body.insert("height".into(), height);
            sizes.push(Size {
                name: format!("{name}{}", if figure == "short" { "S" } else { "" }),
                figure: figure.into(),
                body,
            });
        }
    }
    let graded = |draft: &dyn Fn(f64) -> Draft, halves: u32, sized_by: Option<&str>| GradedPiece {
        drafts: (0..8).map(|k| draft((k % 4) as f64)).collect(),
        sized_by: sized_by.map(str::to_owned),
        halves,
    };
    let girth = |name: &str| Girth {
        name: name.into(),
        level: name.into(),
        parts: ["Front", "Back"].map(|piece| GirthPart { piece: piece.into(), times: 2.0, from: None }).to_vec(),
        less: 0.0,
    };
    Sized {
        chart: SizeChart { sizes, by: ChooseBy::HipOrWaist },
        kind: GarmentKind::Skirt,
        pieces: vec![
            graded(&|step| panel("Front", step, 0.0), 2, None),
            graded(&|step| panel("Back", step, 0.0), 2, None),
            graded(&sleeve, 2, Some("waist")),
        ],
        seams: vec![Seam {
            name: "side".into(),
            kind: SeamKind::Side,
            a: side("Front", &["side low", "side high"], &["hip"]),
            b: Some(side("Back", &["side low", "side high"], &["hip"])),
        }],
        girths: vec![girth("waist"), girth("hip")],
        lengths: vec![DeclaredLength {
            name: "hem sweep".into(),
            along: ["Front", "Back"].map(|piece| (piece.to_owned(), "hem".to_owned(), 2.0)).to_vec(),
        }],
    }
}

fn asked(size: SizeWish) -> FitRequest {
    FitRequest {
        figure: None,
        size,
        body: Body::new(),
        ease: BTreeMap::new(),
        alterations: Vec::new(),
        pieces: None,
        units: Units::Centimetres,
    }
}

fn measures(list: &[(&str, f64)]) -> Body {
    list.iter().map(|&(name, mm)| (name.to_owned(), mm)).collect()
}

fn altered(alteration: Alteration) -> Result<Fitted, Vec<FitFault>> {
    fit(&pattern(), &FitRequest { alterations: vec![alteration], ..asked(SizeWish::Named("38".into())) })
}

fn by_level(waist: &str, hip: &str) -> SizeWish {
    SizeWish::ByLevel([("waist", waist), ("hip", hip)].map(|(level, size)| (level.to_owned(), size.to_owned())).into())
}

fn row<'r>(fitted: &'r Fitted, name: &str) -> &'r LevelRow {
    fitted.report.levels.iter().find(|row| row.name == name).unwrap()
}

#[test]
fn a_named_size_is_that_size_to_the_bit() {
    let pattern = pattern();
    for (k, size) in SIZES.iter().enumerate() {
        let fitted = fit(&pattern, &asked(SizeWish::Named((*size).into()))).unwrap();
        assert!(fitted.drafts.iter().zip(&pattern.pieces).all(|(draft, piece)| *draft == piece.drafts[k]));
        // One size at every level is that size too.
        assert_eq!(fit(&pattern, &asked(by_level(size, size))).unwrap().drafts, fitted.drafts);
    }
}

#[test]
fn the_blend_of_a_size_with_itself_is_that_size() {
    let mut same = pattern();
    for piece in &mut same.pieces {
        let mut other = piece.drafts[0].clone();
        // Told apart, so that it is blended and not copied: a notch of another place far off the level.
        other.grainline[0].x += 1.0;
        piece.drafts[1] = other;
    }
    let drafts: Vec<&Draft> = same.pieces[0].drafts[..2].iter().collect();
    let mixed =
        blend::blend(&drafts, &["36", "38"], &blend::Positions::uniform(0.37), None, blend::Lay::ByGrainline).unwrap();
    let near = |p: Point, q: Point| (p.x - q.x).abs() < 1e-9 && (p.y - q.y).abs() < 1e-9;
    assert!(mixed.edges.iter().zip(&drafts[0].edges).all(|(a, b)| near(a.to, b.to)));
    assert!(mixed.points.iter().all(|(name, p)| near(*p, drafts[0].points[name])));
}

#[test]
fn half_way_between_two_sizes_is_half_way_at_every_point() {
    let pattern = pattern();
    let drafts: Vec<&Draft> = pattern.pieces[0].drafts[..4].iter().collect();
    let half = blend::blend(&drafts, &SIZES, &blend::Positions::uniform(1.5), None, blend::Lay::ByGrainline).unwrap();
    let middle = |p: Point, q: Point| (p + q) * 0.5;
    for (name, p) in &half.points {
        let wanted = middle(drafts[1].points[name], drafts[2].points[name]);
        assert!((p.x - wanted.x).abs() < 1e-9 && (p.y - wanted.y).abs() < 1e-9);
    }
    assert_eq!(half.notches[0].1, middle(drafts[1].notches[0].1, drafts[2].notches[0].1));
}

#[test]
fn a_garment_to_measure_has_the_ease_of_the_pattern_at_every_level() {
    let pattern = pattern();
    // Ease is 20 mm at the waist and 60 mm at the hip in every size.
    for (waist, hip) in
        [(730.0, 1045.0), (800.0, 960.0), (742.5, 1017.0), (850.0, 1100.0), (720.0, 1140.0), (690.0, 935.0)]
    {
        let body = measures(&[("waist", waist), ("hip", hip)]);
        let fitted = fit(&pattern, &FitRequest { body, ..asked(SizeWish::ToBody) }).unwrap();
        for (name, is) in [("waist", waist), ("hip", hip)] {
            let row = row(&fitted, name);
            // The level of the waist lies a little below the seam, where the panel is wider.
            let own = row.finished - is;
            let exact = fit(&pattern, &asked(SizeWish::Named("38".into()))).unwrap();
            let of_38 = super::tests::row(&exact, name).finished - pattern.chart.sizes[1].body[name];
            assert!((own - of_38).abs() < 0.5, "{name} {is}: {own} against {of_38}");
        }
        assert_eq!(fitted.report.size, "made to measure");
        assert!(fitted.report.walked.iter().all(|seam| seam.off.abs() < 0.5), "{:?}", fitted.report.walked);
    }
}

#[test]
fn beyond_the_sizes_the_grade_is_carried_on_two_steps_and_no_more() {
    let pattern = pattern();
    let to_hip = |hip: f64| {
        let body = measures(&[("hip", hip)]);
        fit(&pattern, &FitRequest { body, ..asked(SizeWish::ToBody) })
    };
    let larger = to_hip(1080.0 + 60.0).unwrap();
    let told = |said: &str| larger.report.warnings.iter().any(|warning| warning.contains(said));
    assert!(told("1.5 sizes beyond the largest") && told("the body tells no waist"), "{:?}", larger.report.warnings);
    assert!((row(&larger, "hip").ease.unwrap() - 60.0).abs() < 0.5);
    assert!(
        matches!(&to_hip(1080.0 + 81.0).unwrap_err()[..], [FitFault::TooFar { level, end: "largest", .. }] if level == "hip")
    );
    assert!(to_hip(960.0 - 79.0).is_ok());
    assert!(matches!(to_hip(960.0 - 81.0).unwrap_err()[..], [FitFault::TooFar { end: "smallest", .. }]));
}

#[test]
fn a_size_for_each_level_passes_smoothly_from_one_to_the_other() {
    let pattern = pattern();
    let fitted = fit(&pattern, &asked(by_level("36", "42"))).unwrap();
    let whole =
        |size: &str, name: &str| row(&fit(&pattern, &asked(SizeWish::Named(size.into()))).unwrap(), name).finished;
    assert!((row(&fitted, "waist").finished - whole("36", "waist")).abs() < 0.5);
    assert!((row(&fitted, "hip").finished - whole("42", "hip")).abs() < 0.5);
    // The sleeve goes by the waist, as it says.
    assert_eq!(fitted.drafts[2], pattern.pieces[2].drafts[0]);
    // Both halves alike, so the seam still fits; and its curve has no step.
    assert!(fitted.report.walked[0].off.abs() < 0.5);
    let widths: Vec<f64> = (0..=20).map(|k| fitted.drafts[0].width_at(500.0 + 9.5 * f64::from(k), None)).collect();
    assert!(widths.windows(3).all(|w| (w[2] - 2.0 * w[1] + w[0]).abs() < 3.0), "{widths:?}");
}

#[test]
fn lengthening_adds_its_depth_times_the_width_at_the_line() {
    for (line, at) in [("skirt", 250.0), ("yoke", 420.0), ("sleeve", 200.0)] {
        for by in [10.0, 63.5] {
            let alteration = Alteration::Lengthen { line: line.into(), pieces: Vec::new(), by };
            let fitted = altered(alteration).unwrap();
            for (after, before) in fitted.drafts.iter().zip(&fitted.before) {
                let grown = if before.lines.contains_key(line) { by * before.width_at(at, None) } else { 0.0 };
                assert!(
                    (after.area() - before.area() - grown).abs() <= 0.001 * grown + 1e-6,
                    "{} at {line}",
                    after.name
                );
            }
            assert!(fitted.report.walked[0].off.abs() < 0.5, "both sides of the seam grow");
        }
    }
}

#[test]
fn edges_keep_their_names_and_a_straight_centre_stays_one_edge() {
    let fitted =
        altered(Alteration::Lengthen { line: "skirt".into(), pieces: vec!["Front".into()], by: 40.0 }).unwrap();
    let names: Vec<&str> = fitted.drafts[0].edges.iter().map(|edge| edge.name.as_str()).collect();
    assert_eq!(names, ["hem", "side low", "side low", "side low", "side high", "waist", "centre"]);
    assert!((fitted.drafts[0].length_of("centre") - 735.0).abs() < 1e-9);
    assert_eq!(fitted.drafts[1], fitted.before[1], "only the piece named");
    assert!(fitted.report.walked[0].is_off, "one side of the seam is longer now");
    assert!((fitted.report.walked[0].off + 40.0).abs() < 1.0);
}

#[test]
fn a_line_across_a_curve_is_cut_where_the_curve_crosses() {
    let mut pattern = pattern();
    for draft in &mut pattern.pieces[0].drafts {
        draft.lines.insert("hip curve".into(), 610.0);
    }
    let alteration = Alteration::Lengthen { line: "hip curve".into(), pieces: Vec::new(), by: 30.0 };
    let request = FitRequest { alterations: vec![alteration], ..asked(SizeWish::Named("40".into())) };
    let fitted = fit(&pattern, &request).unwrap();
    let (after, before) = (&fitted.drafts[0], &fitted.before[0]);
    let grown = 30.0 * before.width_at(610.0, None);
    assert!((after.area() - before.area() - grown).abs() <= 0.001 * grown);
    assert!((after.length_of("side high") - before.length_of("side high") - 30.0).abs() < 0.1);
}

#[test]
fn shortening_goes_down_to_the_next_line_and_not_past_it() {
    let by = |by: f64| altered(Alteration::Lengthen { line: "yoke".into(), pieces: vec!["Front".into()], by: -by });
    let fitted = by(100.0).unwrap();
    assert!((fitted.drafts[0].length_of("centre") - 595.0).abs() < 1e-9);
    assert_eq!(fitted.drafts[0].lines["skirt"], 350.0);
    let faults = by(175.0).unwrap_err();
    assert!(
        matches!(&faults[..], [FitFault::PastNextLine { room, next, .. }] if *room == 170.0 && next.contains("skirt")),
        "{faults:?}"
    );
}

#[test]
fn what_is_let_out_at_a_seam_is_shared_by_its_edges() {
    for by in [24.0, -16.0] {
        let fitted = altered(Alteration::Widen { seam: "side".into(), by }).unwrap();
        for name in ["waist", "hip"] {
            let was = row(&fit(&pattern(), &asked(SizeWish::Named("38".into()))).unwrap(), name).finished;
            assert!((row(&fitted, name).finished - was - by).abs() < 0.01, "{name}");
        }
        let moved = fitted.drafts[0].points["side high"].x - fitted.before[0].points["side high"].x;
        assert!((moved - by / 4.0).abs() < 1e-9, "marks on the edge go with it");
        assert!(fitted.report.walked[0].off.abs() < 0.5);
    }
}

#[test]
fn allowances_are_changed_edge_by_edge() {
    let fitted = altered(Alteration::Allowance { piece: None, edge: "hem".into(), depth: 50.0, corner: None }).unwrap();
    assert_eq!(fitted.drafts[1].edges[0].allowance, EdgeAllowance::Depth(50.0));
    let faults =
        altered(Alteration::Allowance { piece: Some("Front".into()), edge: "hme".into(), depth: 50.0, corner: None })
            .unwrap_err();
    assert!(faults[0].to_string().contains("\"Front\" has no edge \"hme\""), "{}", faults[0]);
}

#[test]
fn drafts_with_other_numbers_of_edges_are_matched_by_name_and_arc_length() {
    let mut pattern = pattern();
    // In the larger size the low side is drawn in two parts.
    let draft = &mut pattern.pieces[0].drafts[1];
    let (hem, hip) = (draft.edges[0].to, draft.edges[1].to);
    draft.edges.insert(1, edge("side low", hem + (hip - hem) * 0.3, EdgeShape::Straight, 1));
    let drafts: Vec<&Draft> = pattern.pieces[0].drafts[..2].iter().collect();
    let half =
        blend::blend(&drafts, &["36", "38"], &blend::Positions::uniform(0.5), None, blend::Lay::ByGrainline).unwrap();
    let plain: Vec<&Draft> = self::pattern().pieces[0].drafts[..2].to_vec().leak().iter().collect();
    let wanted =
        blend::blend(&plain, &["36", "38"], &blend::Positions::uniform(0.5), None, blend::Lay::ByGrainline).unwrap();
    assert!((half.area() - wanted.area()).abs() < 1e-3 * wanted.area());
    assert!((half.length_of("side high") - wanted.length_of("side high")).abs() < 0.2);
    // Without names there is no telling.
    for draft in &mut pattern.pieces[0].drafts {
        draft.edges.iter_mut().for_each(|edge| edge.name.clear());
    }
    let body = measures(&[("hip", 985.0)]);
    let faults = fit(&pattern, &FitRequest { body, ..asked(SizeWish::ToBody) }).unwrap_err();
    assert!(
        matches!(&faults[..], [FitFault::NoCorrespondence { piece, first_count: 5, second_count: 6, .. }] if piece == "Front"),
        "{faults:?}"
    );
}

#[test]
fn figure_types_are_not_blended_and_go_by_height() {
    let pattern = pattern();
    let request = FitRequest { figure: Some("regular".into()), ..asked(SizeWish::Named("38S".into())) };
    assert!(matches!(&fit(&pattern, &request).unwrap_err()[..], [FitFault::OtherFigure { of, .. }] if of == "short"));
    assert_eq!(fit(&pattern, &asked(SizeWish::Named("38S".into()))).unwrap().report.figure, "short");
    let of_height = |height: f64| {
        let body = measures(&[("hip", 1000.0), ("height", height)]);
        fit(&pattern, &FitRequest { body, ..asked(SizeWish::Recommended) }).unwrap().report
    };
    assert_eq!((of_height(1600.0).figure, of_height(1600.0).size), ("short".to_owned(), "38S".to_owned()));
    assert_eq!(of_height(1700.0).figure, "regular");
    let request = FitRequest { figure: Some("tall".into()), ..asked(SizeWish::Recommended) };
    assert!(matches!(fit(&pattern, &request).unwrap_err()[..], [FitFault::UnknownFigure { .. }]));
}

#[test]
fn ease_below_the_usual_is_told() {
    // 20 mm at the waist lie within 1/2 to 3/4 in of a skirt; the usual hip ease of 2 in is met by 60 mm. A body two centimetres fuller in the hip is
    // not left enough by the same size.
    let body = measures(&[("hip", 1020.0), ("waist", 760.0)]);
    let fitted = fit(&pattern(), &FitRequest { body, ..asked(SizeWish::Named("38".into())) }).unwrap();
    assert!((row(&fitted, "hip").ease.unwrap() - 40.0).abs() < 1e-6);
    assert_eq!(fitted.report.warnings.len(), 1);
    assert!(fitted.report.warnings[0].starts_with("hip: 4 cm of ease, less than the usual 5.1 cm"));
}

#[test]
fn a_level_along_an_edge_is_as_wide_as_the_piece_beside_it() {
    let mut skirt = sleeve(0.0);
    skirt.edges[2].shape = EdgeShape::Straight;
    assert!((skirt.width_at(400.0, None) - 300.0).abs() < 1e-3);
    assert!((skirt.width_at(0.0, None) - 300.0).abs() < 1e-3);
    assert!((skirt.width_at(200.0, Some(100.0)) - 200.0).abs() < 1e-9, "the broader side");
}

#[test]
fn a_fold_takes_no_allowance() {
    let mut pattern = pattern();
    for draft in &mut pattern.pieces[0].drafts {
        draft.edges[4].allowance = EdgeAllowance::Fold;
    }
    let depth = Alteration::Allowance { piece: Some("Front".into()), edge: "centre".into(), depth: 20.0, corner: None };
    let request = FitRequest { alterations: vec![depth], ..asked(SizeWish::Named("38".into())) };
    assert!(
        matches!(&fit(&pattern, &request).unwrap_err()[..], [FitFault::FoldAllowance { piece, .. }] if piece == "Front")
    );
}

#[test]
fn sizes_that_do_not_grow_cannot_be_measured_between() {
    let mut pattern = pattern();
    let waist = pattern.chart.sizes[2].body["waist"];
    pattern.chart.sizes[3].body.insert("waist".into(), waist);
    let body = measures(&[("waist", waist)]);
    let faults = fit(&pattern, &FitRequest { body, ..asked(SizeWish::ToBody) }).unwrap_err();
    assert!(matches!(&faults[..], [FitFault::DoesNotGrow { measure }] if measure == "waist"), "{faults:?}");
}

#[test]
fn one_size_alone_is_not_made_to_measure() {
    let mut pattern = pattern();
    pattern.chart.sizes.truncate(1);
    for piece in &mut pattern.pieces {
        piece.drafts.truncate(1);
    }
    let body = measures(&[("hip", 1100.0)]);
    let faults = fit(&pattern, &FitRequest { body, ..asked(SizeWish::ToBody) }).unwrap_err();
    assert!(matches!(&faults[..], [FitFault::NoSuchGirth { girth, .. }] if girth == "hip"), "{faults:?}");
}

/// What is missing is the girth, whatever the body tells.
#[test]
fn without_a_girth_nothing_is_made_to_measure() {
    let mut pattern = pattern();
    pattern.girths.clear();
    for body in [measures(&[("hip", 1100.0), ("bust", 900.0)]), Body::new()] {
        let faults = fit(&pattern, &FitRequest { body, ..asked(SizeWish::ToBody) }).unwrap_err();
        assert!(matches!(&faults[..], [FitFault::NoGirths]), "{faults:?}");
    }
}

#[test]
fn a_girth_may_count_from_a_notch() {
    let mut pattern = pattern();
    let finished = |pattern: &Sized| row(&fit(pattern, &asked(SizeWish::Named("38".into()))).unwrap(), "hip").finished;
    let whole = finished(&pattern);
    pattern.girths[1].parts[0].from = Some("hip".into());
    assert!((finished(&pattern) - whole).abs() < 1e-3, "the notch lies on the side, so all of the width is beside it");
}

#[test]
fn a_level_that_none_told_lies_beside_goes_by_what_its_piece_is_sized_by() {
    let mut pattern = pattern();
    for draft in &mut pattern.pieces[2].drafts {
        draft.levels.insert("biceps".into(), 300.0);
    }
    let fitted = fit(&pattern, &asked(by_level("36", "42"))).unwrap();
    assert_eq!(fitted.drafts[2], pattern.pieces[2].drafts[0], "by the waist");
}

mod altered;
mod blended;
mod eased;
mod told;
