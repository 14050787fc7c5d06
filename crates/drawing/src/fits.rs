//! Fits for tests, and checks of their sheets: a dress front and a sleeve with seam lines, let out, lengthened and given other hems.

use ellwand_garment::{Landmarks, Lengthened, LevelDepth, Pattern, Piece, PieceEdge, Units, View};
use ellwand_geometry::{Bounds, Outline, Point, point};

use crate::fitted::fit_sheets;
use crate::marks::{Ink, Mark, Sheet};
use crate::samples;

/// A piece between seams: a body `half` mm wide at the hem and 60 mm less at the waist, its hip and waist 400 and 600 mm up, with its
/// allowances, the deeper one at the hem.
fn body(name: &str, half: f64, length: f64, allowances: [f64; 2]) -> Piece {
    let [seam, hem] = allowances;
    let corners = [
        (0.0, 0.0),
        (half, 0.0),
        (half, length - 400.0),
        (half - 60.0, length - 200.0),
        (half, length - 40.0),
        (80.0, length),
        (0.0, length - 60.0),
    ];
    let names = ["hem", "side", "side", "side", "shoulder", "neck", "front"];
    let at = |i: usize| point(corners[i % 7].0, corners[i % 7].1);
    let edges: Vec<PieceEdge> = (0..7)
        .map(|i| PieceEdge {
            name: names[i].into(),
            line: vec![at(i), at(i + 1)],
            allowance: Some(if i == 0 { hem } else { seam }),
            corner: None,
        })
        .collect();
    // Near enough to a cutting line: each corner moved out on both axes.
    let out = |&(x, y): &(f64, f64)| {
        let x = if x > 100.0 {
            x + seam
        } else if x == 0.0 {
            -seam
        } else {
            x
        };
        point(x, if y > 100.0 { y + seam } else { y - hem })
    };
    let outline = Outline::new(corners.iter().map(out).collect()).unwrap();
    Piece {
        name: name.into(),
        outline,
        edges,
        grainline: [point(half / 2.0, length - 500.0), point(half / 2.0, length - 100.0)],
        ..samples::jacket_pieces().remove(0)
    }
}

fn pattern(size: &str, pieces: Vec<Piece>) -> Pattern {
    let names = pieces.iter().map(|piece| piece.name.clone()).collect();
    let view = View { name: "A".into(), title: "Pier dress".into(), pieces: names };
    Pattern { name: "Pier dress".into(), size: size.into(), pieces, views: vec![view], ..samples::jacket() }
}

fn landmarks(piece: &str, lengthened: f64) -> Landmarks {
    let level = |name: &str, depth: f64| LevelDepth { name: name.into(), before: depth, after: depth };
    let line = Lengthened { line: "skirt".into(), depth: 440.0, by: lengthened };
    Landmarks {
        piece: piece.into(),
        levels: vec![level("waist", 100.0), level("hip", 300.0)],
        lengthened: if lengthened == 0.0 { Vec::new() } else { vec![line] },
        grainline_moved: point(0.0, 0.0),
    }
}

fn before() -> Pattern {
    let pieces = vec![body("Front", 300.0, 900.0, [15.0, 30.0]), body("Back", 320.0, 900.0, [15.0, 30.0])];
    pattern("38", pieces)
}

fn fitted(front: Piece, lengthened: f64, units: Units) -> Vec<Sheet> {
    let before = before();
    let after = pattern("38", vec![front, before.pieces[1].clone()]);
    let marks = [landmarks("Front", lengthened), landmarks("Back", 0.0)];
    fit_sheets(&after, &before, &marks, &after.views[0], units)
}

/// The sheets that the general checks look at.
pub(crate) fn sheets() -> Vec<(String, Sheet)> {
    let mut sheets = Vec::new();
    for units in [Units::Inches, Units::Centimetres] {
        let let_out = fitted(body("Front", 325.0, 900.0, [15.0, 30.0]), 0.0, units);
        let long = fitted(body("Front", 300.0, 960.0, [15.0, 60.0]), 60.0, units);
        let both = fitted(body("Front", 281.0, 850.0, [12.0, 20.0]), -50.0, units);
        for (name, set) in [("let out", let_out), ("lengthened", long), ("taken in and shortened", both)] {
            sheets.extend(set.into_iter().map(|sheet| (format!("fit, {name}, {units:?}"), sheet)));
        }
    }
    // Many pieces, every one changed.
    let jacket = samples::jacket();
    let larger = |piece: &Piece| {
        let grown = piece.outline.points().iter().map(|&p| p * 1.04).collect();
        Piece { outline: Outline::new(grown).unwrap(), ..piece.clone() }
    };
    let after = Pattern { pieces: jacket.pieces.iter().map(larger).collect(), ..jacket.clone() };
    let graded = fit_sheets(&after, &jacket, &[], &after.views[0], Units::Centimetres);
    sheets.extend(graded.into_iter().map(|sheet| ("fit, graded".into(), sheet)));
    sheets
}

fn texts(sheets: &[Sheet]) -> Vec<String> {
    let marks = sheets.iter().flat_map(|sheet| &sheet.marks);
    marks.filter_map(|mark| if let Mark::Text { line, .. } = mark { Some(line.text.clone()) } else { None }).collect()
}

fn outlines(sheets: &[Sheet], of: Ink) -> Vec<&Vec<Point>> {
    let marks = sheets.iter().flat_map(|sheet| &sheet.marks);
    marks
        .filter_map(|mark| match mark {
            Mark::Shape { points, ink, .. } if *ink == of => Some(points),
            _ => None,
        })
        .collect()
}

/// 25 mm let out on one side: the whole piece is that much wider at both levels, and the hem as much longer.
#[test]
fn a_piece_let_out_is_drawn_over_what_it_was_with_signed_figures() {
    let sheets = fitted(body("Front", 325.0, 900.0, [15.0, 30.0]), 0.0, Units::Centimetres);
    let ([was], [now]) = (&outlines(&sheets, Ink::BEFORE)[..], &outlines(&sheets, Ink::AFTER)[..]) else {
        panic!("one piece is drawn, over what it was")
    };
    let width = |points: &[Point]| Bounds::of(points.iter().copied()).width() * sheets[0].scale;
    assert!((width(was) - 330.0).abs() < 1e-6 && (width(now) - 355.0).abs() < 1e-6, "to the scale of the sheet");
    let said = texts(&sheets);
    for figure in ["waist +2.5 cm", "hip +2.5 cm", "+2.5 cm"] {
        assert!(said.contains(&figure.to_owned()), "{figure}: {said:?}");
    }
    assert!(said.iter().any(|text| text == "Unchanged: 2 Back."), "{said:?}");
    assert!(!said.iter().any(|text| text == "2  Back"), "it is not drawn");
    assert!(said.iter().any(|text| text.ends_with("changes to size 38")), "{said:?}");
}

#[test]
fn a_lengthened_piece_shows_the_line_and_by_how_much() {
    let sheets = fitted(body("Front", 300.0, 960.0, [15.0, 60.0]), 60.0, Units::Inches);
    let said = texts(&sheets);
    for figure in ["lengthened", "+2 3/8 in", "allowance +1 1/8 in"] {
        assert!(said.contains(&figure.to_owned()), "{figure}: {said:?}");
    }
    let lines = outlines(&sheets, Ink::LENGTHENED);
    let [cut, spread] = &lines[..] else { panic!("both sides of the cut: {lines:?}") };
    assert!(((spread[0].y - cut[0].y) * sheets[0].scale - 60.0).abs() < 1e-6);
    let shortened = fitted(body("Front", 300.0, 850.0, [15.0, 30.0]), -50.0, Units::Inches);
    assert_eq!(outlines(&shortened, Ink::LENGTHENED).len(), 1);
    assert!(texts(&shortened).contains(&"shortened".to_owned()));
}

#[test]
fn where_nothing_changed_no_piece_is_drawn() {
    let same = fitted(before().pieces.remove(0), 0.0, Units::Inches);
    let [sheet] = &same[..] else { panic!("one sheet") };
    assert!(sheet.labels.is_empty() && sheet.height < 40.0);
    assert!(texts(&same).contains(&"Nothing changed: every piece is cut as in size 38.".to_owned()));
    let by_a_hair = fitted(body("Front", 300.3, 900.0, [15.0, 30.0]), 0.0, Units::Centimetres);
    assert!(texts(&by_a_hair).contains(&"Changed by less than 0.1 cm: 1 Front.".to_owned()));
}

/// Each figure stands on the sheet; none is left to the caption where there is room around the piece.
#[test]
fn figures_stand_at_their_edges() {
    let sheets = fitted(body("Front", 281.0, 850.0, [12.0, 20.0]), -50.0, Units::Centimetres);
    let said = texts(&sheets);
    assert!(!said.iter().any(|text| text.starts_with("hem ") || text.starts_with("side ")), "{said:?}");
}

/// What a pattern draws apart from each other is laid together by the grainlines, as the high ends were drawn otherwise.
#[test]
fn pieces_lie_as_they_are_drawn_or_by_their_grainlines() {
    let moved = |by: Point| {
        let before = before();
        let after = pattern("38", vec![body("Front", 325.0, 900.0, [15.0, 30.0]), before.pieces[1].clone()]);
        let marks = Landmarks { grainline_moved: by, ..landmarks("Front", 0.0) };
        let sheets = fit_sheets(&after, &before, &[marks], &after.views[0], Units::Centimetres);
        let [was, now] = [Ink::BEFORE, Ink::AFTER].map(|ink| {
            let low = Bounds::of(outlines(&sheets, ink)[0].iter().copied()).min.x;
            low * sheets[0].scale
        });
        was - now
    };
    // The grainline stands half of 25 mm farther out.
    assert!((moved(point(0.0, 0.0)) - 12.5).abs() < 1e-6);
    assert!(moved(point(12.5, 0.0)).abs() < 1e-6);
    assert!((moved(point(900.0, 0.0)) - 12.5).abs() < 1e-6, "drawn far apart");
}
