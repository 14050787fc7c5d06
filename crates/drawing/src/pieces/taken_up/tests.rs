use ellwand_garment::{Notch, PieceEdge, Seam, SeamKind, Units};
use ellwand_geometry::Outline;

use super::*;
use crate::frame::Run;
use crate::pieces::pieces_sheets;
use crate::samples;

/// A panel `width` by 200 mm between seams of 10 mm, its upper edge, "top", drawn from right to left, with points along it.
fn panel(name: &str, width: f64, points: &[(&str, f64)]) -> Piece {
    let corners = [(0.0, 0.0), (width, 0.0), (width, 200.0), (0.0, 200.0)].map(|(x, y)| point(x, y));
    let edge = |name: &str, i: usize| PieceEdge {
        name: name.into(),
        line: vec![corners[i], corners[(i + 1) % 4]],
        allowance: Some(10.0),
        corner: None,
    };
    let cut = [(-10.0, -10.0), (width + 10.0, -10.0), (width + 10.0, 210.0), (-10.0, 210.0)];
    Piece {
        name: name.into(),
        outline: Outline::from_pairs(&cut).unwrap(),
        edges: vec![edge("bottom", 0), edge("right", 1), edge("top", 2), edge("left", 3)],
        grainline: [point(width / 2.0, 40.0), point(width / 2.0, 150.0)],
        points: points.iter().map(|&(name, x)| (name.to_owned(), point(x, 200.0))).collect(),
        notches: Vec::new(),
        ..samples::jacket_pieces().remove(0)
    }
}

fn side(piece: &str, meets: &[&str], taken_up: &[(TakenUp, f64)]) -> SeamSide {
    SeamSide {
        piece: piece.into(),
        edges: vec!["top".into()],
        meets: meets.iter().map(|&name| name.to_owned()).collect(),
        taken_up: taken_up.to_vec(),
        centre: None,
        roll: None,
    }
}

fn sewn(skirt: Piece, band: Piece, a: SeamSide, b: SeamSide) -> (Pattern, View) {
    let seam = Seam { name: "waist".into(), kind: SeamKind::Other, a, b: Some(b) };
    let names = [&skirt, &band].map(|piece| piece.name.clone()).to_vec();
    let view = View { name: "A".into(), title: String::new(), pieces: names };
    let pieces = vec![skirt, band];
    (Pattern { pieces, views: vec![view.clone()], seams: vec![seam], ..samples::jacket() }, view)
}

fn taken(pattern: &Pattern, view: &View) -> Vec<Taken> {
    of_piece(pattern, view, &pattern.pieces[0])
}

/// Ends of a stretch, across the piece, to a thousandth of a millimetre.
fn ends(stretch: &[Spot]) -> [f64; 2] {
    let (from, to) = (stretch.first().unwrap().0.x, stretch.last().unwrap().0.x);
    [from.min(to), from.max(to)].map(|x| (x * 1000.0).round() / 1000.0)
}

/// 60 mm gathered in the middle of a skirt: its sides are as long as those of the band.
#[test]
fn only_the_stretch_that_is_longer_is_marked() {
    let skirt = panel("Skirt", 360.0, &[("left", 0.0), ("first", 100.0), ("second", 260.0), ("right", 360.0)]);
    let band = panel("Band", 300.0, &[("left", 0.0), ("first", 100.0), ("second", 200.0), ("right", 300.0)]);
    let meets = ["first", "left", "second", "right"];
    let (pattern, view) =
        sewn(skirt, band, side("Skirt", &meets, &[(TakenUp::Gathers, 60.0)]), side("Band", &meets, &[]));
    let found = taken(&pattern, &view);
    let [Taken { how: TakenUp::Gathers, place: Some(Place::Along(stretches)), .. }] = &found[..] else {
        panic!("{found:?}")
    };
    let [stretch] = &stretches[..] else { panic!("one stretch: {stretches:?}") };
    assert_eq!(ends(stretch), [100.0, 260.0]);
    assert!(stretch.iter().all(|(at, inward)| at.y == 200.0 && *inward == point(0.0, -1.0)), "into the piece");
}

#[test]
fn a_pleat_lies_between_two_notches_as_far_apart_as_it_is_deep() {
    let mut skirt = panel("Skirt", 330.0, &[("left", 0.0), ("right", 330.0)]);
    let notch = |x: f64| Notch { name: String::new(), at: point(x, 210.0), inward: point(0.0, -1.0) };
    let band = panel("Band", 300.0, &[("left", 0.0), ("right", 300.0)]);
    let meets = ["left", "right"];
    let pleated = || side("Skirt", &meets, &[(TakenUp::Pleats, 30.0)]);
    // Somewhere along the edge, as long as no notch says where.
    skirt.notches = vec![notch(100.0), notch(170.0)];
    let (pattern, view) = sewn(skirt.clone(), band.clone(), pleated(), side("Band", &meets, &[]));
    assert!(matches!(taken(&pattern, &view)[0].place, Some(Place::Along(_))));
    skirt.notches.push(notch(130.0));
    let (pattern, view) = sewn(skirt, band, pleated(), side("Band", &meets, &[]));
    let found = taken(&pattern, &view);
    let Some(Place::Fold(spots)) = &found[0].place else { panic!("{found:?}") };
    assert_eq!(ends(spots), [100.0, 130.0]);
}

/// Notches of the edge across the piece stand straight below the seam too, 200 mm away.
#[test]
fn notches_of_another_edge_are_no_marks_of_a_pleat() {
    let mut skirt = panel("Skirt", 330.0, &[("left", 0.0), ("right", 330.0)]);
    let notch = |x: f64| Notch { name: String::new(), at: point(x, -10.0), inward: point(0.0, 1.0) };
    skirt.notches = vec![notch(150.0), notch(180.0)];
    let band = panel("Band", 300.0, &[("left", 0.0), ("right", 300.0)]);
    let meets = ["left", "right"];
    let (pattern, view) =
        sewn(skirt, band, side("Skirt", &meets, &[(TakenUp::Pleats, 30.0)]), side("Band", &meets, &[]));
    let found = taken(&pattern, &view);
    assert!(!matches!(found[..], [Taken { place: Some(Place::Fold(_)), .. }]), "{found:?}");
}

#[test]
fn what_laps_over_lies_beyond_the_point_that_meets() {
    let cuff = panel("Cuff", 225.0, &[("lap", 200.0)]);
    let sleeve = panel("Sleeve", 200.0, &[("placket", 0.0)]);
    let a = side("Cuff", &["lap"], &[(TakenUp::Overlap, 25.0)]);
    let (pattern, view) = sewn(cuff.clone(), sleeve.clone(), a, side("Sleeve", &["placket"], &[]));
    let found = taken(&pattern, &view);
    let Some(Place::Lap(spots)) = &found[0].place else { panic!("{found:?}") };
    assert_eq!(ends(spots), [200.0, 225.0]);
    // An amount that nothing on the piece shows is told and not drawn.
    let a = side("Cuff", &["lap"], &[(TakenUp::Overlap, 40.0), (TakenUp::Pleats, 20.0)]);
    let (pattern, view) = sewn(cuff, sleeve, a, side("Sleeve", &["placket"], &[]));
    let found = taken(&pattern, &view);
    assert!(found.len() == 2 && found.iter().all(|taken| taken.place.is_none()), "{found:?}");
}

#[test]
fn amounts_stand_on_the_sheet_with_their_mark() {
    let meets = ["left", "right"];
    for (how, ink, words) in
        [(TakenUp::Ease, Ink::EASED, "waist: eased in, 2 cm"), (TakenUp::Gathers, Ink::TICK, "waist: gathered, 2 cm")]
    {
        let skirt = panel("Skirt", 320.0, &[("left", 0.0), ("right", 320.0)]);
        let band = panel("Band", 300.0, &[("left", 0.0), ("right", 300.0)]);
        let (pattern, view) = sewn(skirt, band, side("Skirt", &meets, &[(how, 20.0)]), side("Band", &meets, &[]));
        let sheets = pieces_sheets(&pattern, &view, Units::Centimetres);
        let text = |mark: &Mark| if let Mark::Text { line, .. } = mark { Some(line.text.clone()) } else { None };
        let said: Vec<String> = sheets.iter().flat_map(|sheet| sheet.marks.iter().filter_map(text)).collect();
        assert!(said.contains(&words.to_owned()) && said.contains(&"2 cm".to_owned()), "{said:?}");
        let drawn = sheets.iter().flat_map(|sheet| &sheet.marks);
        let along =
            drawn.filter(|m| matches!(m, Mark::Shape { points, ink: of, .. } if *of == ink && points.len() > 2));
        assert_eq!(along.count(), 1);
    }
}

#[test]
fn of_an_unfolded_piece_both_halves_are_marked() {
    let spot = (point(20.0, 200.0), point(0.0, -1.0));
    let other = (point(50.0, 200.0), point(0.0, -1.0));
    let place = Some(Place::Fold([spot, other]));
    let pleat = Taken { seam: "yoke".into(), how: TakenUp::Pleats, amount: 30.0, place };
    let frame = Frame { run: Run::Up, origin: point(100.0, 100.0), scale: 5.0 };
    let whole = Piece { fold: true, ..panel("Back", 300.0, &[]) };
    let single = panel("Front", 300.0, &[]);
    let count = |piece: &Piece| pleat.marks(piece, &frame).len();
    assert_eq!(count(&whole), 2 * count(&single));
}

#[test]
fn a_wave_begins_and_ends_on_its_line() {
    let line = [point(0.0, 0.0), point(7.0, 0.0), point(10.0, 0.0)];
    let wave = wave(&line);
    assert!(wave[0].y.abs() < 1e-9 && *wave.last().unwrap() == line[2]);
    assert!(wave.iter().any(|p| p.y > 0.4) && wave.iter().any(|p| p.y < -0.4));
}
